//! When each job is done by one pair of hands with so many clamps, in the hours of work. Times are whole seconds
//! from midnight before the first day.

mod bound;
mod branch;
mod hours;
mod network;
mod serial;
#[cfg(test)]
mod tests;

use super::Effort;
use branch::Steps;
use network::Network;
use serial::Timed;

/// Jobs placed at effort 1: a few milliseconds.
const STEPS: u64 = 150_000;

/// All that is to be done, and what with.
#[derive(Debug, Clone, Default)]
pub struct Problem {
    /// Each stands behind those it waits for.
    pub jobs: Vec<Job>,
    /// How many clamps of each kind there are.
    pub clamps: Vec<u32>,
    /// When work is done.
    pub calendar: Calendar,
}

/// One job: hands prepare, spread and clamp it, then it stands in clamps alone.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Job {
    /// How long the hands are busy, in one go within a day's hours.
    pub hands: u64,
    /// Then so long in a clamp, by day and night.
    pub clamp: u64,
    /// Kinds of clamps that fit, each a number into [`Problem::clamps`]; one of one of them is taken, from the
    /// moment the hands begin (it lies ready) until the job is out.
    pub fits: Vec<usize>,
    /// Jobs that must be out of clamps before the hands begin.
    pub after: Vec<usize>,
}

/// Hours of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Calendar {
    /// Seconds after midnight.
    pub opens: u64,
    /// Seconds after midnight, later than `opens`, at most 86,400.
    pub closes: u64,
    /// Days of the week without work, Monday first; never all seven.
    pub days_off: [bool; 7],
    /// The weekday of the first day, 0 for Monday.
    pub first_day: usize,
}

impl Default for Calendar {
    /// Round the clock.
    fn default() -> Self {
        Self { opens: 0, closes: 86_400, days_off: [false; 7], first_day: 0 }
    }
}

/// The best schedule found, and what can be proved of it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Solved {
    /// When the hands begin each job.
    pub starts: Vec<u64>,
    /// Which kind of clamp each takes.
    pub takes: Vec<usize>,
    /// When the first job begins: the opening of the first day of work.
    pub begin: u64,
    /// When the last job is out of clamps.
    pub end: u64,
    /// The longest chain alone, with all the clamps and hands one could wish for, in the hours of work.
    pub critical_end: u64,
    /// No schedule ends sooner.
    pub bound: u64,
    /// Steps the search took.
    pub steps: u64,
}

/// Plans the work. A job whose hands are busy longer than a day's hours begins at an opening and runs over; one that
/// no clamp fits needs none. A calendar without hours counts as round the clock, and no job takes more than 90 days.
#[must_use]
pub fn solve(problem: &Problem, effort: &Effort<'_>) -> Solved {
    let network = Network::of(problem);
    let begin = network.hours.begin();
    let (starts, critical_end) = network.earliest();
    let mut steps = Steps::of(effort, STEPS);
    let Some(first) = first(&network, &starts, critical_end) else {
        return Solved { begin, end: begin, critical_end: begin, bound: begin, ..Solved::default() };
    };
    let mut bound = bound::bound(&network, &starts, critical_end, first.end);
    let moved = branch::moved(&network, first, bound, &mut steps);
    let (best, is_proved) = branch::tried(&network, moved, bound, &mut steps);
    if is_proved {
        bound = best.end;
    }
    let Timed { starts, takes, end, .. } = best;
    Solved { starts, takes, begin, end, critical_end, bound, steps: steps.done }
}

/// The best of a few simple rules; `None` without jobs.
fn first(network: &Network, starts: &[u64], critical_end: u64) -> Option<Timed> {
    let latest = network.latest(critical_end).unwrap_or_else(|| starts.to_vec());
    let rules: [&dyn Fn(usize) -> u64; 3] = [
        // Least time to spare; the longest chain behind it; that chain, and then as the recipe goes.
        &|job| latest[job],
        &|job| u64::MAX - network.tail[job],
        &|job| starts[job],
    ];
    let rules = if network.len() > bound::MANY { &rules[..1] } else { &rules[..] };
    let timed = rules.iter().filter_map(|rule| serial::timed(network, &serial::listed(network, *rule), u64::MAX));
    timed.min_by_key(|timed| timed.end).filter(|timed| !timed.order.is_empty())
}
