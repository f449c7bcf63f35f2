//! How long an editor waits, through the wire.
//!
//! `cargo bench --bench lsp` prints:
//! - from a key stroke to the findings that are published for it, in a recipe of 1,000 lines, against checking the
//!   whole recipe in one process;
//! - the same with all cores kept awake, so that what a machine takes to wake up for a key stroke is told apart;
//! - answers to requests;
//! - the server's memory over 10,000 edits.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]
#![allow(clippy::needless_pass_by_value, reason = "ranges are written where they are sent")]

#[path = "../tests/lsp_support/mod.rs"]
mod lsp_support;
mod support;

use std::time::Duration;

use lsp_support::{Editor, position};
use ringwright::compile::{compile, glance};
use ringwright::source::MapWorld;
use serde_json::{Value, json};
use support::{median, ms, recipe_of, timed};

/// What makes every third layer's line.
const LAYER: &str = "ring [walnut maple] segments 12";

/// A key stroke shall take no longer.
const GOAL: Duration = Duration::from_millis(5);

fn main() {
    let text = lines_of(1000);
    let lines = text.lines().count();
    let in_process = |work: fn(&MapWorld, ringwright::source::FileId) -> usize| {
        median(
            (0..15)
                .map(|_| timed(|| MapWorld::of("bench.vessel", &text)).1)
                .map(|(world, root)| timed(|| work(&world, root)).0)
                .collect(),
        )
    };
    let whole = in_process(|world, root| compile(world, root).findings.len());
    let shape = in_process(|world, root| glance(world, root).findings.len());
    println!("a recipe of {lines} lines, in one process");
    println!("  checked whole            {}", ms(whole));
    println!("  as far as the geometry   {}", ms(shape));
    let mut editor = Editor::with(&[], json!({}), false);
    editor.open("bench.vessel", &text);
    while editor.next_within(Duration::from_secs(2)).is_some() {}
    println!("key stroke to published findings, through the wire");
    all_strokes(&mut editor, &text, shape);
    println!("the same, with all cores kept awake");
    awake(|| all_strokes(&mut editor, &text, shape));
    requests(&mut editor);
    memory();
}

fn all_strokes(editor: &mut Editor, text: &str, shape: Duration) {
    let whole = "thick 10  stagger";
    for (what, at, pause, count) in [
        ("one layer, at rest", LAYER, Duration::from_millis(900), 20),
        ("one layer, 100 ms apart", LAYER, Duration::from_millis(100), 100),
        ("one layer, no pause", LAYER, Duration::ZERO, 300),
        ("every layer, at rest", whole, Duration::from_millis(900), 20),
        ("every layer, no pause", whole, Duration::ZERO, 300),
    ] {
        strokes(what, at, editor, text, shape, (pause, count));
    }
}

/// While `work` goes on, every core has something to do that lets anything else go first.
fn awake(work: impl FnOnce()) {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let busy = || std::process::Command::new("nice").args(["-n", "19", "sh", "-c", "while :; do :; done"]).spawn();
    let spinning: Vec<_> = (0..cores).filter_map(|_| busy().ok()).collect();
    work();
    for mut one in spinning {
        let _ = one.kill();
        let _ = one.wait();
    }
}

/// Types a digit and takes it back, so that findings come and go.
fn strokes(
    what: &str,
    place: &str,
    editor: &mut Editor,
    text: &str,
    shape: Duration,
    (pause, count): (Duration, usize),
) {
    let (start, end) = digit_at(text, place);
    let mut times = Vec::with_capacity(count);
    for stroke in 0..count {
        let (range, new) = if stroke % 2 == 0 {
            (json!({ "start": start, "end": start }), "1")
        } else {
            (json!({ "start": start, "end": end }), "")
        };
        std::thread::sleep(pause);
        while editor.next_within(Duration::ZERO).is_some() {}
        let (time, ()) = timed(|| stroke_once(editor, range, new));
        times.push(time);
    }
    times.sort_unstable();
    let (half, most) = (times[times.len() / 2], times[times.len() * 95 / 100]);
    let verdict = if half <= GOAL { "within" } else { "BEYOND" };
    println!(
        "  {what:<24} {}   95 % within {}   ratio to the geometry {:.2}   {verdict} {}",
        ms(half),
        ms(most),
        half.as_secs_f64() / shape.as_secs_f64(),
        ms(GOAL).trim(),
    );
}

fn stroke_once(editor: &mut Editor, range: Value, new: &str) {
    let version = VERSION.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
    editor.edit("bench.vessel", version, json!([{ "range": range, "text": new }]));
    loop {
        let message = editor.next();
        if message["params"]["version"] == version {
            return;
        }
    }
}

/// Where a digit is typed behind the number in the middle place that reads so, and where it ends then.
fn digit_at(text: &str, place: &str) -> (Value, Value) {
    let all: Vec<usize> = text.match_indices(place).map(|(at, _)| at).collect();
    let number = place.trim_start_matches(|c: char| !c.is_ascii_digit());
    let digits = number.find(|c: char| !c.is_ascii_digit()).unwrap_or(number.len());
    let at = all[all.len() / 2] + (place.len() - number.len()) + digits;
    let typed = format!("{}1{}", &text[..at], &text[at..]);
    (position(text, at), position(&typed, at + 1))
}

static VERSION: std::sync::atomic::AtomicI64 = std::sync::atomic::AtomicI64::new(2);

fn requests(editor: &mut Editor) {
    println!("requests");
    let place = json!({ "line": 500, "character": 6 });
    let all = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 2000, "character": 0 } });
    let uri = editor.uri("bench.vessel");
    for method in
        ["hover", "completion", "definition", "documentSymbol", "semanticTokens/full", "inlayHint", "documentColor"]
    {
        let params = json!({ "textDocument": { "uri": uri }, "position": place, "range": all });
        let ask = |editor: &mut Editor| editor.ask(&format!("textDocument/{method}"), params.clone());
        let time = median((0..21).map(|_| timed(|| ask(editor)).0).collect());
        println!("  {method:<24} {}", ms(time));
    }
}

fn memory() {
    let text = lines_of(60);
    let mut editor = Editor::with(&[], json!({}), false);
    editor.open("bench.vessel", &text);
    while editor.next_within(Duration::from_secs(1)).is_some() {}
    println!("memory over 10,000 edits of a recipe of {} lines", text.lines().count());
    let (start, end) = digit_at(&text, LAYER);
    let mut first = None;
    for edit in 0..=10_000 {
        if edit % 2_000 == 0 {
            while editor.next_within(Duration::from_millis(500)).is_some() {}
            let Some(resident) = resident(editor.id()) else {
                println!("  not known on this machine");
                return;
            };
            // What is allocated once is there after the first thousands.
            if edit == 2_000 {
                first = Some(resident);
            }
            println!("  after {edit:>6} edits       {resident:>6} KiB");
            if let Some(first) = first.filter(|_| edit == 10_000) {
                println!("  10,000 against 2,000: ratio {:.2}", f64::from(resident) / f64::from(first));
            }
        }
        let (range, new) = if edit % 2 == 0 {
            (json!({ "start": start, "end": start }), "1")
        } else {
            (json!({ "start": start, "end": end }), "")
        };
        stroke_once(&mut editor, range, new);
    }
}

/// What the process holds in memory, in KiB.
fn resident(id: u32) -> Option<u32> {
    let status = std::fs::read_to_string(format!("/proc/{id}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmRSS:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

/// A vessel with about so many lines, nearly all of them layers.
fn lines_of(lines: u32) -> String {
    recipe_of(lines.saturating_sub(22))
}
