//! One order of the hands' work to one schedule: each job as early as it can be once those before it in the order
//! have left the hands. Some order gives a best schedule: that of the starts in it.

use std::collections::BTreeSet;

use super::network::Network;

/// A schedule under construction.
#[derive(Debug, Clone)]
pub(super) struct Bench {
    /// When the hands are free.
    pub hands_free: u64,
    /// When each clamp of each kind is free.
    free: Vec<Vec<u64>>,
}

/// Where a job would go.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub start: u64,
    pub out: u64,
    /// Kind and number of its clamp.
    pub clamp: Option<(usize, usize)>,
}

impl Bench {
    pub fn new(network: &Network) -> Self {
        // More clamps than jobs are never in use at once.
        let most = network.len();
        let free = network.clamps.iter().map(|count| vec![0; (*count as usize).min(most)]);
        Self { hands_free: network.hours.begin(), free: free.collect() }
    }

    /// The earliest place of a job whose needs are out of clamps at `ready`; of kinds of clamps that are free in time
    /// the one that fewest jobs want.
    pub fn place(&self, network: &Network, job: usize, ready: u64) -> Place {
        let places = network.fits[job].iter().map(|kind| self.place_in(network, job, ready, *kind));
        let wanted = |place: &Place| place.clamp.map_or(0, |(kind, _)| network.wanted[kind]);
        places.min_by_key(|place| (place.start, wanted(place))).unwrap_or_else(|| {
            let start = network.hours.earliest(self.hands_free.max(ready), network.hands[job]);
            Place { start, out: network.out(job, start), clamp: None }
        })
    }

    /// The same in a clamp of one kind: of those free in time that which was freed last, so that no early one is
    /// wasted; else the first to be free.
    pub fn place_in(&self, network: &Network, job: usize, ready: u64, kind: usize) -> Place {
        let at = self.hands_free.max(ready);
        let free = self.free[kind].iter().copied().enumerate();
        let best = free.min_by_key(|(_, free)| if *free > at { (true, *free) } else { (false, at - *free) });
        let (number, free) = best.unwrap_or_default();
        let start = network.hours.earliest(at.max(free), network.hands[job]);
        Place { start, out: network.out(job, start), clamp: Some((kind, number)) }
    }

    /// When the hands could begin whatever comes next, clamps or none.
    fn soonest(&self, network: &Network) -> u64 {
        let clamp = if network.all_clamped { self.free.iter().flatten().min().copied().unwrap_or(0) } else { 0 };
        network.hours.earliest(self.hands_free.max(clamp), 0)
    }

    pub fn put(&mut self, network: &Network, job: usize, place: Place) {
        self.hands_free = place.start + network.hands[job];
        if let Some((kind, number)) = place.clamp {
            self.free[kind][number] = place.out;
        }
    }

    /// Takes back what [`put`](Self::put) did; both values as they were before.
    pub fn take_back(&mut self, place: Place, hands_free: u64, clamp_free: u64) {
        self.hands_free = hands_free;
        if let Some((kind, number)) = place.clamp {
            self.free[kind][number] = clamp_free;
        }
    }

    /// When each clamp of a kind is free.
    pub fn frees(&self, kind: usize) -> &[u64] {
        &self.free[kind]
    }

    /// When the clamp of a place is free.
    pub fn free(&self, place: Place) -> u64 {
        place.clamp.map_or(0, |(kind, number)| self.free[kind][number])
    }
}

/// Starts and clamps of all jobs, and when the last is out.
#[derive(Debug, Clone)]
pub(super) struct Timed {
    pub order: Vec<usize>,
    pub starts: Vec<u64>,
    pub takes: Vec<usize>,
    pub end: u64,
}

/// The schedule of an order in which every job stands behind those it waits for; stops, with none, once a job is out
/// at `beat` or later.
pub(super) fn timed(network: &Network, order: &[usize], beat: u64) -> Option<Timed> {
    let mut bench = Bench::new(network);
    let mut starts = vec![0; network.len()];
    let mut takes = vec![0; network.len()];
    let mut end = network.hours.begin();
    for job in order.iter().copied() {
        let ready = network.after[job].iter().map(|other| network.out(*other, starts[*other])).max().unwrap_or(0);
        let place = bench.place(network, job, ready);
        bench.put(network, job, place);
        starts[job] = place.start;
        takes[job] = place.clamp.map_or(0, |(kind, _)| kind);
        end = end.max(place.out);
        // Nothing behind it can be out sooner than its chain.
        if place.start + network.tail[job] >= beat {
            return None;
        }
    }
    Some(Timed { order: order.to_vec(), starts, takes, end })
}

/// Of many jobs that could begin only so many are weighed, those of the least rank.
const WEIGHED: usize = 48;

/// A first order: whenever the hands are free, of the jobs that can begin soonest the one of the least `rank`.
pub(super) fn listed(network: &Network, rank: &dyn Fn(usize) -> u64) -> Vec<usize> {
    let mut bench = Bench::new(network);
    let mut waits: Vec<usize> = network.after.iter().map(Vec::len).collect();
    let mut ready_at = vec![0_u64; network.len()];
    let mut eligible: BTreeSet<(u64, usize)> =
        (0..network.len()).filter(|job| waits[*job] == 0).map(|job| (rank(job), job)).collect();
    let mut order = Vec::with_capacity(network.len());
    loop {
        // Nothing can begin sooner, whatever it is: the first that does so is the best.
        let soonest = bench.soonest(network);
        let mut best: Option<(u64, usize, Place)> = None;
        for (rank, job) in eligible.iter().take(WEIGHED) {
            let place = bench.place(network, *job, ready_at[*job]);
            if best.as_ref().is_none_or(|(.., before)| place.start < before.start) {
                best = Some((*rank, *job, place));
            }
            if place.start <= soonest {
                break;
            }
        }
        let Some((rank_of, job, place)) = best else { break };
        bench.put(network, job, place);
        order.push(job);
        eligible.remove(&(rank_of, job));
        for next in &network.before[job] {
            ready_at[*next] = ready_at[*next].max(place.out);
            waits[*next] -= 1;
            if waits[*next] == 0 {
                eligible.insert((rank(*next), *next));
            }
        }
    }
    order
}
