//! The fuzz targets of `fuzz/` on a few inputs, the same ones each time: every seed, and seeds with slips in them. A run that
//! is worth its name is cargo-fuzz's; `fuzz/README.md` tells how.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a test tells which input failed")]
#![allow(clippy::missing_panics_doc, reason = "a target panics where something does not hold")]

#[path = "../fuzz/src/lib.rs"]
mod targets;

use std::fs;
use std::path::Path;

use targets::dictionary::dictionary;
use targets::mutate::{Dice, mutated};
use targets::seeds::seeds;

/// Inputs of each target with slips in them; `RINGWRIGHT_FUZZ_RUNS` multiplies them.
const RUNS: [(&str, usize); 8] = [
    ("parse", 1500),
    ("resolve", 600),
    ("compile", 80),
    ("format", 400),
    ("lsp", 40),
    ("svg_path", 60),
    ("csv", 12),
    ("generated", 4),
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn run(name: &str) {
    let target = targets::TARGETS.iter().find(|(known, _)| *known == name).unwrap().1;
    let times: usize = std::env::var("RINGWRIGHT_FUZZ_RUNS").map_or(1, |times| times.parse().unwrap());
    let count = RUNS.iter().find(|(known, _)| *known == name).unwrap().1 * times;
    let seeds = seeds(name, root());
    let dictionary = dictionary();
    let words: Vec<String> = dictionary.lines().filter_map(|line| line.strip_prefix('"')).map(plain).collect();
    let mut dice = Dice(0);
    let kept = Kept { name, bytes: std::cell::RefCell::default() };
    for (at, (_, seed)) in seeds.iter().enumerate() {
        // Those that take long are tried in the fuzzer, which has the time.
        if count >= seeds.len() || at.is_multiple_of(seeds.len() / count + 1) {
            kept.hold(seed);
            target(seed);
        }
    }
    for _ in 0..count {
        let bytes = mutated(&seeds, &words, &mut dice);
        kept.hold(&bytes);
        target(&bytes);
    }
}

/// A word of the dictionary as it stands in a text; the few that are no plain text are left to the fuzzer.
fn plain(line: &str) -> String {
    line.trim_end_matches('"').replace("\\x0A", "\n").replace("\\\"", "\"").replace("\\\\", "\\")
}

/// The input that is being tried, told when it fails.
struct Kept<'a> {
    name: &'a str,
    bytes: std::cell::RefCell<Vec<u8>>,
}

impl Kept<'_> {
    fn hold(&self, bytes: &[u8]) {
        bytes.clone_into(&mut self.bytes.borrow_mut());
    }
}

impl Drop for Kept<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            let bytes = self.bytes.borrow();
            let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{}-failed", self.name));
            let _ = fs::write(&path, &*bytes);
            println!("{} of\n{}\nkept as {}", self.name, String::from_utf8_lossy(&bytes), path.display());
        }
    }
}

macro_rules! targets {
    ($($name:ident)*) => { $(
        #[test]
        fn $name() {
            run(stringify!($name));
        }
    )* };
}

targets! { parse resolve compile format lsp svg_path csv generated }

#[test]
fn the_dictionary_is_that_of_the_vocabulary() {
    let path = root().join("fuzz/vessel.dict");
    if std::env::var_os("RINGWRIGHT_FUZZ").is_some_and(|value| value == "write") {
        fs::write(&path, dictionary()).unwrap();
        for (name, _) in targets::TARGETS {
            let folder = root().join("fuzz/corpus").join(name);
            fs::create_dir_all(&folder).unwrap();
            for (seed, bytes) in seeds(name, root()) {
                fs::write(folder.join(seed), bytes).unwrap();
            }
        }
    }
    let known = fs::read_to_string(path).unwrap_or_default();
    assert!(known == dictionary(), "RINGWRIGHT_FUZZ=write cargo test --test fuzz_smoke brings it in step");
}

#[test]
fn every_target_has_its_program_and_its_runs() {
    let manifest = fs::read_to_string(root().join("fuzz/Cargo.toml")).unwrap();
    for (name, _) in targets::TARGETS {
        assert!(manifest.contains(&format!("path = \"fuzz_targets/{name}.rs\"")), "{name}");
        assert!(RUNS.iter().any(|(known, _)| *known == name), "{name}");
    }
}
