//! Recipes that nobody wrote: whatever the generator of `fuzz/` makes up, the design is sound and its plans can be worked.
//! `PROPTEST_CASES` raises how many are tried.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]
#![allow(clippy::disallowed_methods, reason = "what a target reads is its own")]
#![allow(clippy::missing_panics_doc, reason = "a target panics where something does not hold")]
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a test tells what it made")]
#![allow(dead_code, reason = "of the targets only one is needed")]

mod support;
#[path = "../fuzz/src/lib.rs"]
mod targets;

use std::collections::BTreeSet;

use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::{RngSeed, TestRunner};
use support::replay::{cut, glue};
use targets::generated::{check, files, shown, world};

/// Cases that a debug build checks in a few seconds.
const CASES: u32 = 24;

/// As many choices as the largest recipe takes; fewer of them make a plainer one.
const CHOICES: usize = 220;

/// Recipes that are made up to see what sorts there are.
const MADE: usize = 400;

fn cases() -> u32 {
    std::env::var("PROPTEST_CASES").map_or(CASES, |cases| cases.parse().unwrap())
}

/// Recipes as the choices that they are made by.
fn a_recipe() -> impl Strategy<Value = Vec<u8>> {
    proptest::collection::vec(any::<u8>(), 0..CHOICES)
}

/// The same recipes at every run, so that a change is held against what it changes; others where more are asked for.
fn config() -> ProptestConfig {
    let is_usual = std::env::var_os("PROPTEST_CASES").is_none();
    let rng_seed = if is_usual { RngSeed::Fixed(1) } else { RngSeed::Random };
    ProptestConfig { rng_seed, ..ProptestConfig::with_cases(cases()) }
}

/// Found by a made-up recipe: a ply kept more wood when turned than its blank had, as the blank was shared out by the board's
/// thickness and not by its own. A board of 30 mm, planed to a blank of 16 + 2 × 0.4 mm, leaves of its plies 8, 3 and 19 mm what
/// lies between 6.6 and 23.4 mm of it: 1.4, 3 and 12.4 mm.
#[test]
fn a_board_that_is_planed_to_half_its_thickness_gives_each_ply_its_part() {
    let text = "units mm\nboard stripe { walnut 8 mm  maple 3 mm  walnut 19 mm }\nvessel \"Drum\" {\n  \
                outside { at 0 diameter 110   at 26.5 diameter 110 }\n  wall 18\n  floor 10.5\n  \
                every ring { segments 18  thick 16 }\n  body {\n    disc cherry thick 10.5\n    ring stripe\n  }\n}\n";
    let design = check(&[("drum.vessel".to_owned(), text.to_owned())]).unwrap();
    let blank = |wood: &str| {
        let woods = design["woods"].as_array().unwrap();
        woods.iter().find(|row| row["wood"] == wood).unwrap()["blank_cm3"].as_f64().unwrap()
    };
    let share = blank("maple") / (blank("maple") + blank("walnut"));
    assert!((share - 3.0 / 16.8).abs() < 1e-9, "{share}");
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn any_recipe_is_a_sound_design(choices in a_recipe()) {
        let files = files(&choices);
        if let Some(design) = check(&files) {
            prop_assert_eq!(cut(&design), Ok(()), "{}", shown(&files));
            prop_assert_eq!(glue(&design), Ok(()), "{}", shown(&files));
        }
    }
}

/// A generator of recipes that are mostly refused would test little, and one that never makes a lid would too.
#[test]
fn most_recipes_are_complete_and_all_sorts_occur() {
    let mut runner = TestRunner::deterministic();
    let (mut complete, mut denied, mut words) = (0, Vec::new(), BTreeSet::new());
    for _ in 0..MADE {
        let files = files(&a_recipe().new_tree(&mut runner).unwrap().current());
        let (world, root) = world(&files);
        let glanced = ringwright::compile::glance(&world, root);
        let errors = glanced.findings.iter().filter(|it| it.severity() == ringwright::finding::Severity::Error);
        let errors: Vec<&str> = errors.map(|it| it.code.name).collect();
        if errors.is_empty() {
            complete += 1;
            let text = shown(&files);
            words.extend(text.split(|found: char| !found.is_ascii_lowercase() && found != '-').map(str::to_owned));
        } else {
            denied.push(errors);
        }
    }
    println!("{complete} of {MADE} are complete");
    assert!(complete * 10 > MADE * 8, "{complete} of {MADE}; denied: {denied:?}");
    for word in [
        "smooth",
        "path",
        "bead",
        "cove",
        "foot",
        "round",
        "inside",
        "rim",
        "repeat",
        "as",
        "spacer",
        "gap",
        "staves",
        "wedges",
        "plug",
        "sheet",
        "stripe",
        "waves",
        "turn",
        "scatter",
        "apart",
        "fill",
        "mirror",
        "rotate",
        "share",
        "match",
        "lid",
        "tenon",
        "inset",
        "over",
        "thread",
        "parted",
        "fit",
        "insert",
        "medallion",
        "liner",
        "side",
        "mount",
        "boards",
        "for-sale",
        "price",
        "avoid",
        "rough",
        "band-clamp",
        "hours",
        "days-off",
        "cauls",
        "glue",
        "currency",
        "accept",
        "severity",
        "expect",
        "lives",
        "holds",
        "finish",
        "use",
    ] {
        assert!(words.contains(word), "no complete recipe has `{word}`");
    }
}
