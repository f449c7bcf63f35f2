//! When each job is done by one pair of hands with so many clamps, in the hours of work. Times are whole seconds
//! from midnight before the first day.

use super::Effort;

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

/// Plans the work. A job whose hands are busy longer than a day's hours begins at an opening and runs over.
#[must_use]
pub fn solve(problem: &Problem, effort: &Effort<'_>) -> Solved {
    let _ = effort;
    Solved { starts: vec![0; problem.jobs.len()], takes: vec![0; problem.jobs.len()], ..Solved::default() }
}
