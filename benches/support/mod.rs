//! What several benches need: recipes of any size, times, what a process takes.

#![allow(dead_code, reason = "not every bench needs all of it")]

use std::fmt::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// A vessel of that many layers whose diameter swells and shrinks, each layer on its own line.
pub fn recipe_of(layers: u32) -> String {
    let mut text = String::from("units mm\nvessel \"Bench\" {\n  outside smooth {\n");
    let height = 10.0 * f64::from(layers);
    for point in 0..=12 {
        let share = f64::from(point) / 12.0;
        let swell = if point % 2 == 0 { 0.0 } else { 4.0 };
        let _ = writeln!(text, "    at {:.1} diameter {:.1}", height * share, 180.0 + swell);
    }
    text.push_str("  }\n  wall 9\n  floor 10\n  every ring { segments 12  thick 10  stagger half }\n");
    text.push_str("  body {\n    disc walnut thick 10\n");
    for layer in 1..layers {
        let line = match layer % 3 {
            0 => "ring [maple*2 walnut]",
            1 => "ring maple",
            _ => "ring [walnut maple] segments 12",
        };
        let _ = writeln!(text, "    {line}");
    }
    text.push_str("  }\n}\n");
    text
}

/// What a run of a program took.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Took {
    pub time: Duration,
    /// The most memory it held at once, in KiB; none where the system does not tell.
    pub memory: Option<u64>,
}

/// Runs a program to its end and looks at its memory all the while.
pub fn took(command: &mut Command) -> Took {
    let start = Instant::now();
    let child = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
    let mut child = child.unwrap_or_else(|error| panic!("{}: {error}", Path::new(command.get_program()).display()));
    let mut memory = None;
    loop {
        memory = peak(child.id()).max(memory);
        if let Ok(Some(status)) = child.try_wait() {
            let time = start.elapsed();
            assert!(status.code().is_some_and(|code| code < 2), "{command:?}: {status}");
            return Took { time, memory };
        }
        std::thread::sleep(Duration::from_millis(1));
    }
}

fn peak(process: u32) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

pub fn timed<T>(work: impl FnOnce() -> T) -> (Duration, T) {
    let start = Instant::now();
    let result = std::hint::black_box(work());
    (start.elapsed(), result)
}

pub fn median<T: Ord + Copy>(mut all: Vec<T>) -> T {
    all.sort_unstable();
    all[all.len() / 2]
}

pub fn ms(time: Duration) -> String {
    format!("{:8.3} ms", time.as_secs_f64() * 1e3)
}

pub fn mib(memory: Option<u64>) -> String {
    #[allow(clippy::cast_precision_loss, reason = "only shown")]
    memory.map_or_else(|| "unknown".to_owned(), |kib| format!("{:7.1} MiB", kib as f64 / 1024.0))
}
