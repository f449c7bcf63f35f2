//! What a recipe costs by its size.
//!
//! `cargo bench --bench cost` prints, for 10 to 8,000 layers of segments, and 10,000 and 100,000 of solid wood: time and
//! memory of the whole processes `check` and `build`, over the layers too, what `build` writes, and each phase's share of
//! the work.
//!
//! `cargo bench --bench cost -- --instructions` counts what the program executes for a few commands, with valgrind's
//! callgrind, and holds it against `benches/instructions.txt`: counts belong to a program and not to the machine's mood.
//! With `--write` it writes that file. The counts are those of the profile that CI builds with, so run it as CI does:
//! `CARGO_INCREMENTAL=0 CARGO_PROFILE_DEV_DEBUG=0 cargo bench --profile dev --bench cost -- --instructions`. Another
//! compiler, C library or processor has counts of its own: there the budget is shown and not held.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

mod support;

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, ExitCode, Stdio};
use std::time::Duration;

use ringwright::source::{MapWorld, World as _};
use ringwright::workings::Ledger;
use ringwright::{checks, geometry, plan, resolve, syntax};
use support::{Took, median, mib, ms, recipe_of, timed, took};

/// The last is near the most segments that a vessel may have.
const SIZES: [u32; 4] = [10, 100, 1_000, 8_000];

/// Layers of solid wood are not bound by that.
const DISCS: [u32; 2] = [10_000, 100_000];
const PROGRAM: &str = env!("CARGO_BIN_EXE_ringwright");
const BUDGET: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/instructions.txt");

/// A count that moves by more than this is to be explained.
const TOLERANCE: f64 = 0.02;

fn main() -> ExitCode {
    let asked = |flag: &str| std::env::args().any(|argument| argument == flag);
    if asked("--instructions") {
        return instructions(asked("--write"));
    }
    by_size();
    built_by_size();
    shares();
    ExitCode::SUCCESS
}

fn by_size() {
    println!("check, whole process");
    println!("  layers                   text        time      memory   time a layer");
    for layers in SIZES {
        checked(layers, "", &recipe_of(layers));
    }
    for layers in DISCS {
        checked(layers, "of discs", &discs(layers));
    }
}

fn checked(layers: u32, what: &str, text: &str) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("bench.vessel");
    std::fs::write(&path, text).expect("written");
    let runs = if layers <= 1_000 { 9 } else { 1 };
    let Took { time, memory } =
        median((0..runs).map(|_| took(Command::new(PROGRAM).arg("check").arg(&path))).collect());
    println!(
        "  {layers:>6} {what:<9} {:>9} KiB {} {}  {:9.2} µs",
        text.len().div_ceil(1024),
        ms(time),
        mib(memory),
        time.as_secs_f64() * 1e6 / f64::from(layers)
    );
}

fn built_by_size() {
    println!("build, whole process");
    println!("  layers                   writes        time      memory   time a layer");
    for layers in SIZES {
        built(layers, "", &recipe_of(layers));
    }
    built(DISCS[0], "of discs", &discs(DISCS[0]));
}

fn built(layers: u32, what: &str, text: &str) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (path, out) = (folder.path().join("bench.vessel"), folder.path().join("out"));
    std::fs::write(&path, text).expect("written");
    let runs = if layers <= 100 { 9 } else { 1 };
    let once = || {
        // Into a folder that holds nothing yet.
        let _ = std::fs::remove_dir_all(&out);
        took(Command::new(PROGRAM).arg("build").arg(&path).arg("-o").arg(&out))
    };
    let Took { time, memory } = median((0..runs).map(|_| once()).collect());
    let documents = std::fs::read_dir(&out).expect("documents").flatten();
    let bytes: u64 = documents.filter_map(|document| document.metadata().ok()).map(|about| about.len()).sum();
    println!(
        "  {layers:>6} {what:<9} {:>9} KiB {} {}  {:9.2} µs",
        bytes.div_ceil(1024),
        ms(time),
        mib(memory),
        time.as_secs_f64() * 1e6 / f64::from(layers)
    );
}

/// A column of discs.
fn discs(layers: u32) -> String {
    let height = 10 * layers;
    let head = format!(
        "units mm\nvessel \"Bench\" {{\n  outside {{ at 0 diameter 90   at {height} diameter 90 }}\n  wall 9\n  floor 10\n  body {{\n"
    );
    head + &"    disc maple thick 10\n".repeat(layers as usize) + "  }\n}\n"
}

/// Of a thousand layers, and of ten.
fn shares() {
    println!("phase by phase, in one process");
    println!("  layers      parse    resolve   geometry       plan     checks  documents");
    for layers in [10, 100, 1_000] {
        let text = recipe_of(layers);
        let once = || {
            let (world, root) = MapWorld::of("bench.vessel", &text);
            let (parsed, _) = timed(|| syntax::parse(&world.file(root)));
            let (resolved, value) = timed(|| resolve::resolve(&world, root));
            let recipe = value.recipe.expect("the bench recipe resolves");
            let mut ledger = Ledger::new();
            let (built, value) = timed(|| geometry::build(&recipe, &mut ledger));
            let vessel = value.value.expect("the bench recipe has a shape");
            let (planned, value) = timed(|| plan::plan(&recipe, &vessel, plan::Asked::default(), &mut ledger));
            let (checked, _) = timed(|| checks::check(&recipe, &vessel, &value.value));
            let compiled = ringwright::compile::compile(&world, root);
            let design = compiled.complete().expect("the bench recipe compiles");
            let (written, _) = timed(|| ringwright::output::documents(&design, &world));
            [parsed, resolved.saturating_sub(parsed), built, planned, checked, written]
        };
        let all: Vec<[Duration; 6]> = (0..if layers < 1_000 { 9 } else { 3 }).map(|_| once()).collect();
        let medians: Vec<Duration> = (0..6).map(|phase| median(all.iter().map(|run| run[phase]).collect())).collect();
        print!("  {layers:>6}");
        for time in medians {
            print!(" {:>7.2} ms", time.as_secs_f64() * 1e3);
        }
        println!();
    }
}

/// What is counted: a name, and what the program is given.
fn commands(folder: &Path) -> Vec<(&'static str, Vec<String>)> {
    let path = |name: &str| folder.join(name).to_string_lossy().into_owned();
    for layers in [12, 60] {
        std::fs::write(folder.join(format!("{layers}.vessel")), recipe_of(layers)).expect("written");
    }
    let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
    vec![
        ("version", words(&["--version"])),
        ("check-12-layers", words(&["check", &path("12.vessel")])),
        ("check-60-layers", words(&["check", &path("60.vessel")])),
        ("fmt-60-layers", words(&["fmt", "--check", &path("60.vessel")])),
        ("build-12-layers", words(&["build", &path("12.vessel"), "-o", &path("out")])),
    ]
}

fn instructions(writes: bool) -> ExitCode {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut counts = BTreeMap::new();
    for (name, arguments) in commands(folder.path()) {
        let Some(count) = counted(folder.path(), &arguments) else {
            println!("skipped: no valgrind, which would count instructions");
            return ExitCode::SUCCESS;
        };
        counts.insert(name, count);
    }
    if writes {
        let counted = counts.iter().map(|(name, count)| format!("{name} {count}"));
        let lines: Vec<String> = std::iter::once(format!("# {}", surroundings())).chain(counted).collect();
        std::fs::write(BUDGET, lines.join("\n") + "\n").expect("the budget can be written");
    }
    let text = std::fs::read_to_string(BUDGET).unwrap_or_default();
    let is_held = text.lines().next() == Some(format!("# {}", surroundings()).as_str());
    let budget = text;
    let budget: BTreeMap<&str, u64> = budget
        .lines()
        .filter_map(|line| line.split_once(' '))
        .filter_map(|(name, count)| Some((name, count.parse().ok()?)))
        .collect();
    println!("instructions");
    let mut is_within = true;
    for (name, count) in counts {
        let Some(budgeted) = budget.get(name) else {
            println!("  {name:<18} {:10.2} M   no budget", millions(count));
            is_within = false;
            continue;
        };
        let moved = millions(count) / millions(*budgeted) - 1.0;
        let verdict =
            if moved.abs() <= TOLERANCE { "" } else { "   BEYOND 2 %: explain it, and write the budget anew" };
        is_within &= moved.abs() <= TOLERANCE;
        println!(
            "  {name:<18} {:10.2} M   budget {:10.2} M   {:+.2} %{verdict}",
            millions(count),
            millions(*budgeted),
            moved * 100.0
        );
    }
    if !is_held {
        println!("  the budget was taken elsewhere, and is shown but not held; here is {}", surroundings());
    }
    if is_within || !is_held { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// What counts depend on beside the program: compiler, C library, what the processor can do.
fn surroundings() -> String {
    let first_line = |program: &str| {
        let output = Command::new(program).arg("--version").stderr(Stdio::null()).output().ok()?;
        String::from_utf8_lossy(&output.stdout).lines().next().map(str::to_owned)
    };
    let processor = std::fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let processor = processor.lines().find_map(|line| line.strip_prefix("model name")).unwrap_or("unknown");
    let rustc = std::env::var("RUSTC").unwrap_or_else(|_| "rustc".to_owned());
    [first_line(&rustc), first_line("ldd"), Some(processor.trim_start_matches([' ', '\t', ':']).to_owned())]
        .map(|part| part.unwrap_or_else(|| "unknown".to_owned()))
        .join("; ")
}

#[allow(clippy::cast_precision_loss, reason = "only compared and shown")]
fn millions(count: u64) -> f64 {
    count as f64 / 1e6
}

/// Instructions of one run, on one thread.
fn counted(folder: &Path, arguments: &[String]) -> Option<u64> {
    let file = folder.join("callgrind.out");
    let mut valgrind = Command::new("valgrind");
    valgrind.args(["--tool=callgrind", &format!("--callgrind-out-file={}", file.display()), PROGRAM]).args(arguments);
    // What surrounds a process has its own costs.
    valgrind.env_clear().env("RAYON_NUM_THREADS", "1").envs(std::env::var_os("PATH").map(|path| ("PATH", path)));
    let status = valgrind.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).status().ok()?;
    assert!(status.code().is_some_and(|code| code < 2), "{arguments:?}: {status}");
    let text = std::fs::read_to_string(file).ok()?;
    let line = text.lines().find_map(|line| line.strip_prefix("summary: ").or(line.strip_prefix("totals: ")))?;
    line.split_whitespace().next()?.parse().ok()
}
