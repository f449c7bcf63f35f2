//! How long plans take, and seeded questions of a turner's size with ringwright's answers, for an outside solver.
//!
//! `cargo bench --bench plans` prints the times of two vessels.
//! `cargo bench --bench plans -- --instances FILE` writes 100 piles of boards and 100 schedules;
//! `benches/reference/README.md` tells how they are solved again.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]
#![allow(clippy::disallowed_methods, reason = "what a bench writes is its own")]

use std::time::Instant;

use ringwright::compile::{Options, compile_with};
use ringwright::plan::Asked;
use ringwright::search::Effort;
use ringwright::search::cutting::{self, Class, Cost, Lane, Piece, Run, Section, Stock, Um};
use ringwright::search::scheduling::{self, Calendar, Job};
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
    let cutting: Vec<Value> = (0..100).map(|seed| cut(&pile_of(seed))).collect();
    let scheduling: Vec<Value> = (0..100).map(|seed| scheduled(&schedule_of(seed))).collect();
    let all = json!({ "cutting": cutting, "scheduling": scheduling });
    std::fs::write(file, all.to_string()).expect("the file can be written");
    println!("wrote {} piles and {} schedules", cutting.len(), scheduling.len());
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

/// The rings of one wood and the boards of it: at hand for even seeds, mostly for sale for odd ones.
fn pile_of(seed: u64) -> cutting::Problem {
    let mut chance = Chance(seed ^ 0xB0A2D);
    let mut tenths = |least: u64, most: u64| Um(i64::try_from(chance.of(least * 10, most * 10)).expect("small") * 100);
    let (kerf, tail) = (Um(3_000), Um(100_000));
    let mut classes: Vec<Class> = (0..tenths(2, 6).0 / 1000)
        .map(|_| {
            let pieces = (0..tenths(2, 5).0 / 2000).map(|setting| {
                let count = [8, 12, 12, 16, 18, 24][usize::try_from(tenths(0, 5).0 / 1000).expect("small")];
                let setting = usize::try_from(setting).expect("small");
                Piece { pitch: tenths(24, 72), setting, first: tenths(6, 14), count, together: None }
            });
            let pieces = pieces.collect();
            Class { thick: tenths(16, 20), wide: tenths(15, 42), tail, is_block: false, pieces }
        })
        .collect();
    if tenths(0, 3).0 < 10_000 {
        let side = tenths(80, 130);
        let pitch = Um(side.0 + kerf.0);
        let piece = Piece { pitch, setting: 0, first: Um(0), count: 1, together: None };
        classes.push(Class { thick: Um(12_000), wide: side, tail: Um(0), is_block: true, pieces: vec![piece] });
    }
    let is_sale = seed % 2 == 1;
    let kinds = if is_sale { tenths(3, 8) } else { tenths(2, 5) }.0 / 1000;
    let stock = (0..kinds).map(|kind| {
        let (thick, wide, long) = (tenths(18, 23), tenths(90, 220), tenths(700, 2400));
        let cm3 = u64::try_from(thick.0 * wide.0 / 1_000_000 * (long.0 / 1000) / 1000).expect("positive");
        let is_bought = is_sale && (kind > 0 || tenths(0, 3).0 > 10_000);
        // In cents; the liter for two to four of a whole coin.
        let money = if is_bought { cm3 * u64::try_from(tenths(2, 4).0).expect("small") / 10_000 } else { 0 };
        let count = (!is_bought).then(|| u32::try_from(tenths(1, 2).0 / 1000).expect("small"));
        Stock { thick, wide, long, avoid: Vec::new(), count, cost: Cost { money, wood: cm3 } }
    });
    let stock = stock.collect();
    cutting::Problem { kerf, least_section: Um(300_000), stock, classes }
}

/// Rings of two halves each, closed and put on the stack in their order; sometimes a lid of its own.
fn schedule_of(seed: u64) -> scheduling::Problem {
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
    scheduling::Problem { jobs, clamps, calendar }
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

fn cut(problem: &cutting::Problem) -> Value {
    let solved = cutting::solve(problem, &Effort::default());
    let piece = |it: &Piece| {
        let Piece { pitch, setting, first, count, together: _ } = *it;
        json!({ "pitch": pitch.0, "setting": setting, "first": first.0, "count": count })
    };
    let class = |it: &Class| {
        let pieces: Vec<Value> = it.pieces.iter().map(piece).collect();
        json!({ "thick": it.thick.0, "wide": it.wide.0, "tail": it.tail.0, "is_block": it.is_block, "pieces": pieces })
    };
    let cost = |it: Cost| json!({ "money": it.money, "wood": it.wood });
    let stock = |it: &Stock| {
        let Stock { thick, wide, long, avoid: _, count, cost: each } = it;
        json!({ "thick": thick.0, "wide": wide.0, "long": long.0, "count": count, "cost": cost(*each) })
    };
    let run = |it: &Run| json!({ "piece": it.piece, "count": it.count, "from": it.from.0 });
    let lane = |it: &Lane| json!({ "class": it.class, "runs": it.runs.iter().map(run).collect::<Vec<_>>() });
    let section = |it: &Section| {
        let lanes: Vec<Value> = it.lanes.iter().map(lane).collect();
        json!({ "from": it.from.0, "to": it.to.0, "lanes": lanes })
    };
    let board = |it: &cutting::Board| {
        let sections: Vec<Value> = it.sections.iter().map(section).collect();
        json!({ "stock": it.stock, "sections": sections })
    };
    json!({
        "problem": {
            "kerf": problem.kerf.0,
            "least_section": problem.least_section.0,
            "stock": problem.stock.iter().map(stock).collect::<Vec<_>>(),
            "classes": problem.classes.iter().map(class).collect::<Vec<_>>(),
        },
        "solved": {
            "boards": solved.boards.iter().map(board).collect::<Vec<_>>(),
            "lacks": solved.lacks,
            "cost": cost(solved.cost),
            "bound": cost(solved.bound),
            "least_boards": solved.least_boards,
            "is_optimal": solved.is_optimal,
        },
    })
}

fn scheduled(problem: &scheduling::Problem) -> Value {
    let solved = scheduling::solve(problem, &Effort::default());
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
