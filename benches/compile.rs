//! How long the compiler takes, as ratios that mean the same on every machine.
//!
//! `cargo bench --bench compile` prints:
//! - the whole process `build` of a 12-layer recipe against a bare clap program that prints its help;
//! - the same against parsing the emitted design.json with `serde_json`;
//! - checking a 2,000-layer recipe, and whether time grows in step with the layers.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

mod support;

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use ringwright::compile::compile;
use ringwright::output;
use ringwright::source::MapWorld;
use support::{median, ms, recipe_of};

/// Set for the child process that plays the bare program.
const BARE: &str = "RINGWRIGHT_BENCH_BARE";

fn main() {
    if std::env::var_os(BARE).is_some() {
        bare();
        return;
    }
    whole_process();
    against_json();
    many_layers();
}

/// A clap program with nothing behind it.
fn bare() {
    let mut command = clap::Command::new("bare")
        .about("does nothing")
        .subcommand(clap::Command::new("build").arg(clap::Arg::new("recipe")))
        .subcommand(clap::Command::new("check").arg(clap::Arg::new("path")));
    let _ = command.print_help();
}

fn whole_process() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let recipe = folder.path().join("bench.vessel");
    std::fs::write(&recipe, recipe_of(12)).expect("the recipe can be written");
    let program = env!("CARGO_BIN_EXE_ringwright");
    let own = std::env::current_exe().expect("the bench knows itself");
    let build = || run(Command::new(program).arg("build").arg(&recipe).arg("-o").arg(folder.path().join("out")));
    let summary = || run(Command::new(program).arg("build").arg(&recipe));
    let bare = || run(Command::new(&own).env(BARE, "1"));
    // Turn about, so that a slow spell of the machine hits all alike.
    let (mut builds, mut summaries, mut bares) = (Vec::new(), Vec::new(), Vec::new());
    for _ in 0..200 {
        builds.push(build());
        summaries.push(summary());
        bares.push(bare());
    }
    let (build, summary, bare) = (median(builds), median(summaries), median(bares));
    println!("whole process, 12 layers");
    println!("  bare clap program        {}", ms(bare));
    println!(
        "  build, summary only      {}   +{}   ratio {:.2}",
        ms(summary),
        ms(summary.saturating_sub(bare)),
        ratio(summary, bare)
    );
    println!(
        "  build -o, all documents  {}   +{}   ratio {:.2}",
        ms(build),
        ms(build.saturating_sub(bare)),
        ratio(build, bare)
    );
}

fn against_json() {
    let text = recipe_of(12);
    let design = design_of(&text);
    let parse =
        median((0..200).map(|_| elapsed(|| serde_json::from_slice::<serde_json::Value>(&design).is_ok())).collect());
    let build = median((0..200).map(|_| elapsed(|| design_of(&text).len())).collect());
    println!("in one process, 12 layers, design.json of {} bytes", design.len());
    println!("  serde_json parses it     {}", ms(parse));
    println!("  compile, all documents   {}   ratio {:.2}", ms(build), ratio(build, parse));
}

fn many_layers() {
    println!("check, one core");
    let mut per_layer = Vec::new();
    for layers in [500, 1000, 2000, 4000, 8000] {
        let text = recipe_of(layers);
        let time = median((0..15).map(|_| elapsed(|| check(&text))).collect());
        per_layer.push(time.as_secs_f64() / f64::from(layers));
        println!("  {layers:>5} layers  {}   {:.2} µs a layer", ms(time), time.as_secs_f64() * 1e6 / f64::from(layers));
    }
    let (first, last) = (per_layer[0], per_layer[per_layer.len() - 1]);
    println!("  time a layer, 8000 against 500: ratio {:.2}", last / first);
}

fn check(text: &str) -> usize {
    let (world, root) = MapWorld::of("bench.vessel", text);
    let compiled = compile(&world, root);
    assert!(!compiled.has_errors(), "the bench recipe compiles: {:?}", compiled.findings.first());
    compiled.findings.len()
}

fn design_of(text: &str) -> Vec<u8> {
    let (world, root) = MapWorld::of("bench.vessel", text);
    let compiled = compile(&world, root);
    let design = compiled.complete().expect("the bench recipe compiles");
    let documents = output::documents(&design, &world);
    documents
        .into_iter()
        .find(|document| document.name == "design.json")
        .map(|document| document.bytes)
        .expect("a design")
}

fn elapsed<T>(work: impl FnOnce() -> T) -> Duration {
    support::timed(work).0
}

fn run(command: &mut Command) -> Duration {
    let start = Instant::now();
    let status = command.stdout(Stdio::null()).stderr(Stdio::null()).status();
    let time = start.elapsed();
    assert!(status.is_ok_and(|status| status.success()), "{}", Path::new(command.get_program()).display());
    time
}

fn ratio(time: Duration, over: Duration) -> f64 {
    time.as_secs_f64() / over.as_secs_f64()
}
