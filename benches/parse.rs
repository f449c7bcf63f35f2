//! How fast texts become trees, and what memory that takes: `cargo bench --bench parse`.
//!
//! Each case prints its throughput; of the allocation figures, `max alloc` over the source's size is
//! the memory factor (the tree is part of it). Beside parsing stands formatting what was parsed, in all and of a
//! thousand lines: it should take no longer.

use std::sync::Arc;

use divan::counter::BytesCount;
use divan::{AllocProfiler, Bencher};
use ringwright::format::format;
use ringwright::source::{FileId, SourceFile};
use ringwright::syntax::parse;

#[global_allocator]
static ALLOC: AllocProfiler = AllocProfiler::system();

const SIZES: [usize; 3] = [8 << 10, 1 << 20, 10 << 20];

/// About as many bytes as a thousand of the lines below have.
const THOUSAND_LINES: usize = 42_500;

const LINES: [&str; 8] = [
    "    ring [maple*2 walnut] stagger half        # a band",
    "    ring maple   segments 12  thick 3/4",
    "    disc walnut  thick 1 1/2 in",
    "    ring [(maple walnut)*2 cherry]  segments 24  thick 19 mm",
    "    repeat 2 as i { ring maple { strip (1/8 + i * 2 mm) } }",
    "    ring mirror [maple cherry]  stagger 7.5deg  allow 3 mm",
    "",
    "    # the next band begins here",
];

/// A vessel of about `bytes` bytes, in which every line is as it should be.
fn recipe(bytes: usize) -> Arc<SourceFile> {
    let mut text = String::from("units in\nlet rim = 4 1/2 in\nvessel \"Bench\" {\n  body {\n");
    for line in LINES.iter().cycle() {
        if text.len() + 8 >= bytes {
            break;
        }
        text += line;
        text.push('\n');
    }
    text += "  }\n}\n";
    source(text)
}

/// About `bytes` bytes of which every other line has a slip in it.
fn wreck(bytes: usize) -> Arc<SourceFile> {
    let bad = "    ring [maple, walnut]  thick: 3/4 ;\n    ring maple {\n    thick 3mmm }\n    ring maple  thick 3/4\n";
    source(bad.repeat(bytes / bad.len()))
}

fn source(text: String) -> Arc<SourceFile> {
    Arc::new(SourceFile { id: FileId(0), name: "bench.vessel".to_owned(), text })
}

#[divan::bench(args = SIZES, max_time = 5)]
fn good(bencher: Bencher<'_, '_>, bytes: usize) {
    let source = recipe(bytes);
    assert!(parse(&source).findings.is_empty());
    bencher.counter(BytesCount::new(source.text.len())).bench(|| parse(&source));
}

#[divan::bench(args = SIZES, max_time = 5)]
fn broken(bencher: Bencher<'_, '_>, bytes: usize) {
    let source = wreck(bytes);
    bencher.counter(BytesCount::new(source.text.len())).bench(|| parse(&source));
}

#[divan::bench(args = SIZES, max_time = 5)]
fn formatted(bencher: Bencher<'_, '_>, bytes: usize) {
    let source = recipe(bytes);
    let tree = parse(&source).value;
    bencher.counter(BytesCount::new(source.text.len())).bench(|| format(&tree));
}

#[divan::bench(max_time = 5)]
fn thousand_lines_parsed(bencher: Bencher<'_, '_>) {
    let source = recipe(THOUSAND_LINES);
    bencher.bench(|| parse(&source));
}

#[divan::bench(max_time = 5)]
fn thousand_lines_formatted(bencher: Bencher<'_, '_>) {
    let source = recipe(THOUSAND_LINES);
    assert!((950..1050).contains(&source.text.lines().count()), "{}", source.text.lines().count());
    let tree = parse(&source).value;
    bencher.bench(|| format(&tree));
}

fn main() {
    divan::main();
}
