//! How time and memory of `check` and `build` grow with the number of recipes and with the cores, and what a build costs of
//! which nothing has changed: `cargo bench --bench check`.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

mod support;

use std::fmt::Write as _;
use std::path::Path;
use std::process::Command;

use support::{Took, median, mib, ms, took};

const COUNTS: [u32; 3] = [100, 1_000, 10_000];

/// Each writes some megabytes.
const BUILT: [u32; 3] = [30, 100, 300];

fn main() {
    checked();
    built();
}

fn built() {
    let all = std::thread::available_parallelism().map_or(1, usize::from);
    println!("build, the same recipes");
    println!("  recipes  threads         time   time a recipe       memory   nothing changed   one changed");
    for count in BUILT {
        let mut threads = 1;
        while threads <= all {
            let folder = tempfile::tempdir().expect("a temporary folder");
            let recipes = folder.path().join("recipes");
            std::fs::create_dir(&recipes).expect("a folder");
            for number in 0..count {
                std::fs::write(recipes.join(format!("{number:05}.vessel")), recipe(number)).expect("written");
            }
            let build = || {
                let mut command = Command::new(env!("CARGO_BIN_EXE_ringwright"));
                command.args(["build", "--format", "short"]).arg(&recipes).arg("-o").arg(folder.path().join("out"));
                took(command.env("RAYON_NUM_THREADS", threads.to_string()))
            };
            let (first, second) = (build(), build());
            std::fs::write(recipes.join("00000.vessel"), recipe(count)).expect("written");
            let third = build();
            println!(
                "  {count:>7}  {threads:>7}  {}  {:>11.3} ms  {}      {}  {}",
                ms(first.time),
                first.time.as_secs_f64() * 1e3 / f64::from(count),
                mib(first.memory),
                ms(second.time),
                ms(third.time)
            );
            threads *= 2;
        }
    }
}

fn checked() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let all = std::thread::available_parallelism().map_or(1, usize::from);
    println!("check, recipes of 12 to 40 layers");
    println!("  recipes  threads         time   time a recipe       memory   as fast as 1 thread");
    let mut written = 0;
    for count in COUNTS {
        for number in written..count {
            std::fs::write(folder.path().join(format!("{number:05}.vessel")), recipe(number)).expect("written");
        }
        written = count;
        let rounds = if count < 10_000 { 5 } else { 1 };
        let (mut threads, mut one) = (1, None);
        while threads <= all {
            let Took { time, memory } = median((0..rounds).map(|_| check(folder.path(), threads)).collect());
            let first = *one.get_or_insert(time);
            println!(
                "  {count:>7}  {threads:>7}  {}  {:>11.3} ms  {}   {:.2}",
                ms(time),
                time.as_secs_f64() * 1e3 / f64::from(count),
                mib(memory),
                first.as_secs_f64() / time.as_secs_f64()
            );
            threads *= 2;
        }
    }
}

fn check(folder: &Path, threads: usize) -> Took {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ringwright"));
    command.args(["check", "--format", "short"]).arg(folder).env("RAYON_NUM_THREADS", threads.to_string());
    took(&mut command)
}

/// Some with a finding, most without.
fn recipe(number: u32) -> String {
    let layers = 12 + number % 29;
    let (height, diameter) = (10 + 18 * layers, 90 + number % 60);
    let mut text = format!("units mm\nvessel \"Bench {number}\" {{\n");
    let _ = writeln!(text, "  outside {{ at 0 diameter {diameter}   at {height} diameter {diameter} }}");
    text.push_str("  wall 9\n  floor 10\n  every ring { segments 12  thick 18 }\n  body {\n    disc walnut thick 10\n");
    for layer in 0..layers {
        let pattern = if (number + layer).is_multiple_of(97) { "[maple*4 walnut]" } else { "[maple walnut]" };
        let _ = writeln!(text, "    ring {}", if layer.is_multiple_of(3) { pattern } else { "maple" });
    }
    text.push_str("  }\n}\n");
    text
}
