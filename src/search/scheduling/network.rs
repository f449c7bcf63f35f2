//! The jobs as a network: who waits for whom, how early each can begin and how late it must.

use super::Problem;
use super::hours::{Hours, NEVER};

/// Nothing is glued for longer than a quarter of a year; keeps every sum far from overflow.
const LONGEST: u64 = 90 * 86_400;

/// The jobs, made safe to reckon with.
#[derive(Debug)]
pub(super) struct Network {
    pub hours: Hours,
    /// How long the hands are busy.
    pub hands: Vec<u64>,
    /// Then so long in clamps.
    pub clamp: Vec<u64>,
    /// Kinds of clamps that fit, those that there are; empty: it needs none.
    pub fits: Vec<Vec<usize>>,
    /// How many of each kind.
    pub clamps: Vec<u32>,
    /// Whether no job does without a clamp.
    pub all_clamped: bool,
    /// How many jobs each kind fits.
    pub wanted: Vec<usize>,
    pub after: Vec<Vec<usize>>,
    pub before: Vec<Vec<usize>>,
    /// Of hands and clamps, from the beginning of a job to the end of the longest chain behind it.
    pub tail: Vec<u64>,
}

impl Network {
    /// A wait for a job that does not stand before the one that waits counts as none.
    pub fn of(problem: &Problem) -> Self {
        let jobs = &problem.jobs;
        let mut after: Vec<Vec<usize>> = Vec::with_capacity(jobs.len());
        let mut before = vec![Vec::new(); jobs.len()];
        for (at, job) in jobs.iter().enumerate() {
            let mut waits: Vec<usize> = job.after.iter().copied().filter(|other| *other < at).collect();
            waits.sort_unstable();
            waits.dedup();
            for other in &waits {
                before[*other].push(at);
            }
            after.push(waits);
        }
        let there = |kind: &usize| problem.clamps.get(*kind).is_some_and(|count| *count > 0);
        let fits = jobs.iter().map(|job| {
            let mut fits: Vec<usize> = job.fits.iter().copied().filter(there).collect();
            fits.sort_unstable();
            fits.dedup();
            fits
        });
        let hands: Vec<u64> = jobs.iter().map(|job| job.hands.min(LONGEST)).collect();
        let clamp: Vec<u64> = jobs.iter().map(|job| job.clamp.min(LONGEST)).collect();
        let mut tail = vec![0; jobs.len()];
        for at in (0..jobs.len()).rev() {
            let behind = before[at].iter().map(|next: &usize| tail[*next]).max().unwrap_or(0);
            tail[at] = hands[at] + clamp[at] + behind;
        }
        let fits: Vec<Vec<usize>> = fits.collect();
        let wanted = |kind: usize| fits.iter().filter(|fits| fits.contains(&kind)).count();
        Self {
            all_clamped: fits.iter().all(|fits| !fits.is_empty()),
            wanted: (0..problem.clamps.len()).map(wanted).collect(),
            hours: Hours::of(problem.calendar),
            fits,
            hands,
            clamp,
            clamps: problem.clamps.clone(),
            after,
            before,
            tail,
        }
    }

    pub fn len(&self) -> usize {
        self.hands.len()
    }

    /// When a job that begins at `start` is out of clamps.
    pub fn out(&self, job: usize, start: u64) -> u64 {
        start + self.hands[job] + self.clamp[job]
    }

    /// How early each job can begin, with all the hands and clamps one could wish for; and when the last is out.
    pub fn earliest(&self) -> (Vec<u64>, u64) {
        let begin = self.hours.begin();
        let (mut starts, mut end) = (Vec::with_capacity(self.len()), begin);
        for job in 0..self.len() {
            let waits = &self.after[job];
            let ready = waits.iter().map(|other| self.out(*other, starts[*other])).fold(begin, u64::max);
            starts.push(self.hours.earliest(ready, self.hands[job]));
            end = end.max(self.out(job, starts[job]));
        }
        (starts, end)
    }

    /// How late each job can begin for all to be out by `end`; `None` when that cannot be.
    pub fn latest(&self, end: u64) -> Option<Vec<u64>> {
        let mut starts = vec![NEVER; self.len()];
        for job in (0..self.len()).rev() {
            let due = self.before[job].iter().map(|next| starts[*next]).fold(end, u64::min);
            starts[job] = self.hours.latest(due.checked_sub(self.clamp[job])?, self.hands[job])?;
        }
        Some(starts)
    }
}
