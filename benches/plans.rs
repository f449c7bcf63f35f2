//! How long plans take, and seeded questions of a turner's size with ringwright's answers, for an outside solver.
//!
//! `cargo bench --bench plans` prints the times of two vessels.
//! `cargo bench --bench plans -- --instances FILE` writes 100 schedules; `benches/reference/README.md` tells how they
//! are solved again.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]
#![allow(clippy::disallowed_methods, reason = "what a bench writes is its own")]

use std::time::Instant;

use ringwright::compile::{Options, compile_with};
use ringwright::plan::Asked;
use ringwright::search::Effort;
use ringwright::search::scheduling::{Calendar, Job, Problem, solve};
use ringwright::source::MapWorld;
use serde_json::{Value, json};

const MINUTE: u64 = 60;
const HOUR: u64 = 3600;

fn main() {
    let words: Vec<String> = std::env::args().collect();
    let Some(at) = words.iter().position(|word| word == "--instances") else {
        for (name, layers, boards) in
            [("20 layers, 5 woods, 12 boards", 20, true), ("200 layers, each of its own width", 200, false)]
        {
            timed(name, &vessel(layers, boards));
        }
        return;
    };
    let file = words.get(at + 1).expect("--instances names a file");
    let scheduling: Vec<Value> = (0..100).map(|seed| answered(&schedule_of(seed))).collect();
    std::fs::write(file, json!({ "scheduling": scheduling }).to_string()).expect("the file can be written");
    println!("wrote {} schedules", scheduling.len());
}

/// How long compiling takes as it is, and with the searches' budgets four times as large: what is over the first is
/// the searches' share.
fn timed(name: &str, text: &str) {
    let (world, root) = MapWorld::of("bench.vessel", text);
    let run = |factor: u32| {
        let effort = Effort { factor, watch: None };
        let options = Options { asked: Asked { effort, ..Asked::default() }, ..Options::default() };
        let mut times: Vec<f64> = (0..9)
            .map(|_| {
                let start = Instant::now();
                let compiled = compile_with(&world, root, &options);
                assert!(compiled.plan.is_some(), "{:?}", compiled.findings);
                start.elapsed().as_secs_f64() * 1e3
            })
            .collect();
        times.sort_by(f64::total_cmp);
        (times[0], times[4])
    };
    let (plain, longer) = (run(1), run(4));
    println!(
        "{name}: least {:.1} ms, median {:.1} ms; with --effort 4 {:.2} times as long",
        plain.0,
        plain.1,
        longer.1 / plain.1
    );
}

/// A vessel that widens upward, so that no two rings are of one width; of woods in turn.
fn vessel(layers: usize, has_boards: bool) -> String {
    let woods = ["maple", "walnut", "cherry", "white-ash", "black-locust"];
    let boards: Vec<String> = (0..12)
        .map(|at| format!("{} thick 27 wide {} long {} rough\n", woods[at % 5], 130 + at * 5, 900 + at * 120))
        .collect();
    let shop =
        if has_boards { format!("shop {{ clamps 4 boards {{\n{}}} }}\n", boards.concat()) } else { String::new() };
    let rings: Vec<String> = (0..layers - 1).map(|at| format!("ring {} thick 16\n", woods[at % woods.len()])).collect();
    let tall = 10 + 16 * (layers - 1);
    format!(
        "units mm\n{shop}vessel \"Bench\" {{\n outside {{ at 0 diameter 90  at {tall} diameter {} }}\n wall 9\n floor 10\n every ring {{ segments 12 }}\n \
         body {{\n disc walnut thick 10\n{} }}\n}}\n",
        90 + layers,
        rings.concat()
    )
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
