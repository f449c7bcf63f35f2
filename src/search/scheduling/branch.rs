//! Better schedules: first by moving single jobs in the order of the hands' work, then by trying all orders, as far
//! as the steps reach.

use crate::search::{Effort, Progress};

use super::bound::{Load, loads};
use super::network::Network;
use super::serial::{Bench, Timed, timed};

/// Beyond this many jobs all orders are never tried: the steps would not reach far enough to matter.
const MOST_TRIED: usize = 200;

/// Beyond this many jobs none is moved.
const MOST_MOVED: usize = 2_000;

/// How often who watches is told.
const TOLD_EVERY: u64 = 1 << 14;

/// Steps left; a step is one job placed.
pub(super) struct Steps<'a> {
    pub done: u64,
    pub budget: u64,
    effort: &'a Effort<'a>,
}

impl<'a> Steps<'a> {
    pub fn of(effort: &'a Effort<'a>, budget: u64) -> Self {
        Self { done: 0, budget: effort.budget(budget), effort }
    }

    /// Takes so many; false when none are left.
    fn take(&mut self, steps: u64) -> bool {
        let told = self.done / TOLD_EVERY;
        self.done += steps;
        if self.done / TOLD_EVERY != told {
            self.effort.tell(Progress { done: self.done.min(self.budget), budget: self.budget });
        }
        self.done <= self.budget
    }
}

/// Moves one job after the other to wherever the whole ends sooner, until none helps.
pub(super) fn moved(network: &Network, best: Timed, bound: u64, steps: &mut Steps<'_>) -> Timed {
    let mut best = best;
    // One move of very many jobs costs more than it could gain.
    if network.len() > MOST_MOVED {
        return best;
    }
    // What is out last is held up by what stands before it: begin there.
    let mut at = network.len();
    let mut idle = 0;
    while best.end > bound && idle < network.len() && network.len() > 1 {
        at = if at == 0 { network.len() - 1 } else { at - 1 };
        idle += 1;
        let (first, last) = room(network, &best.order, at);
        for to in first..=last {
            if to == at {
                continue;
            }
            if !steps.take(network.len() as u64) {
                return best;
            }
            let mut order = best.order.clone();
            let job = order.remove(at);
            order.insert(to, job);
            if let Some(better) = timed(network, &order, best.end) {
                best = better;
                idle = 0;
                break;
            }
        }
    }
    best
}

/// Between which places of the order the job at `at` may stand.
fn room(network: &Network, order: &[usize], at: usize) -> (usize, usize) {
    let job = order[at];
    let first = (0..at).rev().find(|place| network.after[job].contains(&order[*place])).map_or(0, |place| place + 1);
    let last = (at + 1..order.len()).find(|place| network.before[job].contains(&order[*place]));
    (first, last.map_or(order.len() - 1, |place| place - 1))
}

/// Tries every order that could end sooner than `best`. The second value is whether the steps reached: then nothing
/// ends sooner than what is given back.
pub(super) fn tried(network: &Network, best: Timed, bound: u64, steps: &mut Steps<'_>) -> (Timed, bool) {
    let mut best = best;
    if network.len() > MOST_TRIED {
        return (best, false);
    }
    let twins = twins(network);
    // A set of no fewer clamps than jobs is never short.
    let mut loads = loads(network);
    loads.retain(|load| load.count < load.jobs.len() as u64);
    while best.end > bound {
        // Whatever ends sooner keeps these.
        let Some(latest) = network.latest(best.end - 1) else { return (best, true) };
        let mut by_latest: Vec<usize> = (0..network.len()).collect();
        by_latest.sort_unstable_by_key(|job| (latest[*job], *job));
        let mut tree = Tree {
            network,
            twins: &twins,
            latest: &latest,
            by_latest: &by_latest,
            lines: loads.iter().map(|load| Line::of(network, load, &latest)).collect(),
            bench: Bench::new(network),
            waits: network.after.iter().map(Vec::len).collect(),
            outs: vec![0; network.len()],
            is_done: vec![false; network.len()],
            starts: vec![0; network.len()],
            takes: vec![0; network.len()],
            order: Vec::with_capacity(network.len()),
        };
        match tree.grow(steps) {
            Grown::Found => {
                let end = tree.outs.iter().copied().max().unwrap_or(best.end);
                best = Timed { order: tree.order, starts: tree.starts, takes: tree.takes, end };
            }
            Grown::Exhausted => return (best, true),
            Grown::OutOfSteps => return (best, false),
        }
    }
    (best, true)
}

/// For each job the one before it that is alike in all: it goes first then.
fn twins(network: &Network) -> Vec<Option<usize>> {
    let is_alike = |a: usize, b: usize| {
        network.hands[a] == network.hands[b]
            && network.clamp[a] == network.clamp[b]
            && network.fits[a] == network.fits[b]
            && network.after[a] == network.after[b]
            && network.before[a] == network.before[b]
    };
    (0..network.len()).map(|job| (0..job).rev().find(|other| is_alike(*other, job))).collect()
}

enum Grown {
    /// The order is whole.
    Found,
    /// There is none.
    Exhausted,
    OutOfSteps,
}

struct Tree<'a> {
    network: &'a Network,
    twins: &'a [Option<usize>],
    latest: &'a [u64],
    /// The jobs by how late they can begin.
    by_latest: &'a [usize],
    lines: Vec<Line<'a>>,
    bench: Bench,
    waits: Vec<usize>,
    outs: Vec<u64>,
    is_done: Vec<bool>,
    starts: Vec<u64>,
    takes: Vec<usize>,
    order: Vec<usize>,
}

impl Tree<'_> {
    fn grow(&mut self, steps: &mut Steps<'_>) -> Grown {
        let network = self.network;
        if self.order.len() == network.len() {
            return Grown::Found;
        }
        // Looking at what is left takes about as long as placing an eighth of it.
        let looked = self.lines.len() * (network.len() - self.order.len()) / 8;
        if !steps.take(looked as u64) {
            return Grown::OutOfSteps;
        }
        if self.is_too_late() {
            return Grown::Exhausted;
        }
        let mut next = Vec::new();
        for job in self.by_latest.iter().copied() {
            if self.is_done[job] || self.waits[job] > 0 || self.twins[job].is_some_and(|twin| !self.is_done[twin]) {
                continue;
            }
            if !steps.take(1) {
                return Grown::OutOfSteps;
            }
            let ready = network.after[job].iter().map(|other| self.outs[*other]).max().unwrap_or(0);
            let place = self.bench.place(network, job, ready);
            // The hands and clamps will not be free sooner: what is too late now stays so.
            if place.start > self.latest[job] {
                return Grown::Exhausted;
            }
            next.push((place.start, self.latest[job], job, place));
            for kind in network.fits[job].iter().filter(|kind| place.clamp.is_some_and(|(best, _)| best != **kind)) {
                let other = self.bench.place_in(network, job, ready, *kind);
                if other.start <= self.latest[job] {
                    next.push((other.start, self.latest[job], job, other));
                }
            }
        }
        // First what can begin now and has least time; an order is found sooner so.
        next.sort_unstable_by_key(|(start, latest, job, _)| (*start, *latest, *job));
        for (_, _, job, place) in next {
            let (hands_free, clamp_free) = (self.bench.hands_free, self.bench.free(place));
            self.bench.put(network, job, place);
            self.is_done[job] = true;
            self.starts[job] = place.start;
            self.takes[job] = place.clamp.map_or(0, |(kind, _)| kind);
            self.outs[job] = place.out;
            self.order.push(job);
            for behind in &network.before[job] {
                self.waits[*behind] -= 1;
            }
            match self.grow(steps) {
                Grown::Exhausted => {}
                found @ (Grown::Found | Grown::OutOfSteps) => return found,
            }
            for behind in &network.before[job] {
                self.waits[*behind] += 1;
            }
            self.order.pop();
            self.is_done[job] = false;
            self.bench.take_back(place, hands_free, clamp_free);
        }
        Grown::Exhausted
    }

    /// Whether the hands or some set of clamps cannot hold in time what is left: all that is due by some moment must
    /// lie between now, or when each clamp is free, and that moment.
    fn is_too_late(&self) -> bool {
        let now = self.bench.hands_free;
        self.lines.iter().any(|line| {
            let held = |at: u64| self.network.hours.held(at.max(now), line.over);
            let froms: Vec<u64> = match &line.kinds {
                Some(kinds) => kinds.iter().flat_map(|kind| self.bench.frees(*kind)).map(|at| held(*at)).collect(),
                None => vec![held(now)],
            };
            let mut wanted = 0;
            line.by_due.iter().filter(|(_, job, _)| !self.is_done[*job]).any(|(until, _, holds)| {
                wanted += holds;
                wanted > froms.iter().map(|from| until.saturating_sub(*from)).sum()
            })
        })
    }
}

/// What must be done with the hands or a set of clamps, by when it is due.
struct Line<'a> {
    /// Of clamps; `None` for the hands.
    kinds: Option<&'a [usize]>,
    over: u64,
    /// How much a clamp can hold until the job is due, the job, and how long it holds the clamp.
    by_due: Vec<(u64, usize, u64)>,
}

impl<'a> Line<'a> {
    fn of(network: &Network, load: &'a Load, latest: &[u64]) -> Self {
        let due = |job: usize| load.due(network, latest, job);
        let mut by_due: Vec<(u64, usize, u64)> =
            load.jobs.iter().zip(&load.holds).map(|(job, holds)| (due(*job), *job, *holds)).collect();
        by_due.sort_unstable();
        for (due, _, _) in &mut by_due {
            *due = network.hours.held(*due, load.over);
        }
        Self { kinds: load.kinds.as_deref(), over: load.over, by_due }
    }
}
