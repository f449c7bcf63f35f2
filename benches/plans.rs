//! Seeded questions of a turner's size with ringwright's answers, for an outside solver.
//!
//! `cargo bench --bench plans -- --instances FILE` writes 100 schedules; `benches/reference/README.md` tells how they
//! are solved again.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]
#![allow(clippy::disallowed_methods, reason = "what a bench writes is its own")]

use ringwright::search::Effort;
use ringwright::search::scheduling::{Calendar, Job, Problem, solve};
use serde_json::{Value, json};

const MINUTE: u64 = 60;
const HOUR: u64 = 3600;

fn main() {
    let words: Vec<String> = std::env::args().collect();
    let Some(at) = words.iter().position(|word| word == "--instances") else {
        println!("plans: --instances FILE writes the questions and answers");
        return;
    };
    let file = words.get(at + 1).expect("--instances names a file");
    let scheduling: Vec<Value> = (0..100).map(|seed| answered(&schedule_of(seed))).collect();
    std::fs::write(file, json!({ "scheduling": scheduling }).to_string()).expect("the file can be written");
    println!("wrote {} schedules", scheduling.len());
}

/// Rings of two halves each, closed and put on the stack in their order; sometimes a lid of its own.
fn schedule_of(seed: u64) -> Problem {
    let mut chance = Chance(seed);
    let bands = chance.of(0, 2) == 0;
    let clamps = if bands {
        (0..3).map(|_| u32::try_from(chance.of(1, 3)).expect("small")).collect()
    } else {
        vec![u32::try_from(chance.of(1, 4)).expect("small")]
    };
    let opens = 9 * HOUR;
    let mut days_off = [false; 7];
    if chance.of(0, 2) == 0 {
        (days_off[5], days_off[6]) = (true, true);
    }
    let calendar = Calendar { opens, closes: 18 * HOUR, days_off, first_day: 0 };
    let clamp = chance.of(2, 48) * 15 * MINUTE;
    let mut jobs = Vec::new();
    let rings = chance.of(3, 10);
    let lid = if chance.of(0, 2) == 0 { chance.of(1, 2) } else { 0 };
    chain(&mut chance, &mut jobs, rings, clamp, bands);
    chain(&mut chance, &mut jobs, lid, clamp, bands);
    Problem { jobs, clamps, calendar }
}

fn chain(chance: &mut Chance, jobs: &mut Vec<Job>, rings: u64, clamp: u64, bands: bool) {
    let mut stack = None;
    for _ in 0..rings {
        // A round of middling size fits the small band and the large one.
        let round = match (bands, chance.of(0, 2)) {
            (false, _) | (true, 0) => vec![0],
            (true, 1) => vec![1],
            (true, _) => vec![0, 1],
        };
        let flat = if bands { vec![2] } else { vec![0] };
        let mut glue = |fits: &[usize], after: Vec<usize>| {
            jobs.push(Job { hands: chance.of(4, 20) * MINUTE, clamp, fits: fits.to_vec(), after });
            jobs.len() - 1
        };
        let halves = vec![glue(&round, Vec::new()), glue(&round, Vec::new())];
        let closed = glue(&round, halves);
        stack = match stack {
            None => Some(closed),
            Some(below) => Some(glue(&flat, vec![below, closed])),
        };
    }
}

fn answered(problem: &Problem) -> Value {
    let solved = solve(problem, &Effort::default());
    let jobs: Vec<Value> = problem
        .jobs
        .iter()
        .map(|job| json!({ "hands": job.hands, "clamp": job.clamp, "fits": job.fits, "after": job.after }))
        .collect();
    let Calendar { opens, closes, days_off, first_day } = problem.calendar;
    json!({
        "problem": {
            "jobs": jobs,
            "clamps": problem.clamps,
            "calendar": { "opens": opens, "closes": closes, "days_off": days_off, "first_day": first_day },
        },
        "solved": {
            "starts": solved.starts,
            "takes": solved.takes,
            "begin": solved.begin,
            "end": solved.end,
            "bound": solved.bound,
        },
    })
}

/// `SplitMix64`, so that the same seed asks the same question everywhere.
struct Chance(u64);

impl Chance {
    /// One of `least..=most`.
    fn of(&mut self, least: u64, most: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        least + (mixed ^ (mixed >> 31)) % (most - least + 1)
    }
}
