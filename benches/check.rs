//! How much faster many recipes are checked on all cores than on one.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::fmt::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const RECIPES: u32 = 1000;
const ROUNDS: usize = 7;

fn main() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    for number in 0..RECIPES {
        std::fs::write(folder.path().join(format!("{number:04}.vessel")), recipe(number)).expect("written");
    }
    let all = std::thread::available_parallelism().map_or(1, usize::from);
    let (mut ones, mut alls) = (Vec::new(), Vec::new());
    // Turn about, so that a slow spell of the machine hits both alike.
    for _ in 0..ROUNDS {
        ones.push(check(folder.path(), 1));
        alls.push(check(folder.path(), all));
    }
    let (one, all_of_them) = (median(ones), median(alls));
    println!("check, {RECIPES} recipes of 12 to 40 layers");
    println!("  1 thread    {:9.3} ms", one.as_secs_f64() * 1e3);
    println!(
        "  {all} threads   {:9.3} ms   {:.2} times as fast",
        all_of_them.as_secs_f64() * 1e3,
        one.as_secs_f64() / all_of_them.as_secs_f64()
    );
}

fn check(folder: &Path, threads: usize) -> Duration {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ringwright"));
    command.args(["check", "--format", "short"]).arg(folder).env("RAYON_NUM_THREADS", threads.to_string());
    let start = Instant::now();
    let status = command.stdout(Stdio::null()).stderr(Stdio::null()).status();
    let time = start.elapsed();
    assert!(status.is_ok_and(|status| status.success()));
    time
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

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}
