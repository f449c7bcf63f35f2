//! An end that no schedule can beat.
//!
//! An end is refuted by looking at stretches of time: the jobs that can neither begin before a stretch nor end
//! behind it must all be done in it, and hands and clamps can do only so much in it. If an end is refuted so is
//! every earlier one, for each job then has less room; so the least that is not refuted is found by halving.

use super::network::Network;

/// More pairs of beginnings and dues are looked at only in part: some of the refutations are lost then, never gained.
const PAIRS: usize = 40_000;

/// So many jobs are many: less is looked at then.
pub(super) const MANY: usize = 1_000;

/// What must be done with one thing of which there are `count`.
pub(super) struct Load {
    /// Of clamps; `None` for the hands.
    pub kinds: Option<Vec<usize>>,
    pub count: u64,
    pub jobs: Vec<usize>,
    /// How long each holds it.
    pub holds: Vec<u64>,
    /// How long it can go on when the hours are over.
    pub over: u64,
}

impl Load {
    /// When a job that begins at the latest is done with it.
    pub fn due(&self, network: &Network, latest: &[u64], job: usize) -> u64 {
        match self.kinds {
            None => latest[job] + network.hands[job],
            Some(_) => network.out(job, latest[job]),
        }
    }
}

/// The least end that is not refuted, at least the longest chain's and at most `known`.
pub(super) fn bound(network: &Network, starts: &[u64], critical_end: u64, known: u64) -> u64 {
    let loads = loads(network);
    let (mut least, mut most) = (critical_end, known.max(critical_end));
    // Of very many jobs the last minutes of the bound are not worth their reckoning.
    let close = if network.len() > MANY { (most - least) / 64 } else { 0 };
    while least + close < most {
        let end = least + (most - least) / 2;
        if is_refuted(network, &loads, starts, end) {
            least = end + 1;
        } else {
            most = end;
        }
    }
    least
}

/// The hands, and each set of kinds of clamps that some job is bound to.
pub(super) fn loads(network: &Network) -> Vec<Load> {
    let all: Vec<usize> = (0..network.len()).collect();
    let busy = all.iter().map(|job| network.hours.sure(network.hands[*job])).collect();
    let mut loads = vec![Load { kinds: None, count: 1, jobs: all.clone(), holds: busy, over: 0 }];
    let mut sets: Vec<&Vec<usize>> = network.fits.iter().filter(|fits| !fits.is_empty()).collect();
    sets.sort_unstable();
    sets.dedup();
    for set in sets {
        let within = |job: &usize| {
            let fits = &network.fits[*job];
            !fits.is_empty() && fits.iter().all(|kind| set.contains(kind))
        };
        let jobs: Vec<usize> = all.iter().copied().filter(within).collect();
        let count = set.iter().map(|kind| u64::from(network.clamps[*kind])).sum();
        let holds: Vec<u64> = jobs.iter().map(|job| network.hands[*job] + network.clamp[*job]).collect();
        // At closing time a clamp holds a job whose hands are off, or one whose hands run over.
        let runs_over = |job: usize| network.hands[job] - network.hours.sure(network.hands[job]);
        let over = jobs.iter().map(|job| network.clamp[*job] + runs_over(*job)).max();
        loads.push(Load { kinds: Some(set.clone()), count, jobs, holds, over: over.unwrap_or(0) });
    }
    loads
}

fn is_refuted(network: &Network, loads: &[Load], starts: &[u64], end: u64) -> bool {
    let Some(latest) = network.latest(end) else { return true };
    if (0..network.len()).any(|job| latest[job] < starts[job]) {
        return true;
    }
    loads.iter().any(|load| {
        let due = |job: usize| load.due(network, &latest, job);
        is_overloaded(network, load, starts, &due)
    })
}

fn is_overloaded(network: &Network, load: &Load, starts: &[u64], due: &dyn Fn(usize) -> u64) -> bool {
    let capacity = |at: u64| network.hours.held(at, load.over);
    let mut by_due: Vec<(u64, u64, u64)> =
        load.jobs.iter().zip(&load.holds).map(|(job, holds)| (due(*job), starts[*job], *holds)).collect();
    by_due.sort_unstable();
    let until: Vec<u64> = by_due.iter().map(|(due, _, _)| capacity(*due)).collect();
    let mut froms: Vec<u64> = by_due.iter().map(|(_, start, _)| *start).collect();
    froms.sort_unstable();
    froms.dedup();
    let step = (froms.len() * by_due.len()).div_ceil(PAIRS).max(1);
    froms.iter().step_by(step).any(|from| {
        let (before, mut wanted) = (capacity(*from), 0);
        by_due.iter().zip(&until).any(|((_, start, holds), until)| {
            if start >= from {
                wanted += holds;
            }
            wanted > load.count.saturating_mul(until.saturating_sub(before))
        })
    })
}
