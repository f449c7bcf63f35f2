//! Every figure that decides a finding has a name, a source and a code that compares with it.

#![allow(clippy::disallowed_methods, reason = "what a test reads is its own")]
#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use ringwright::finding::catalog::CODES;

/// Codes that compare with no figure but those of the recipe itself: words and names, and what meets, closes,
/// covers or goes through.
const WITHOUT_FIGURE: &[&str] = &[
    "syntax/unreadable",
    "syntax/unclosed-block",
    "syntax/stray-brace",
    "syntax/unclosed-text",
    "syntax/look-alike",
    "syntax/decimal-comma",
    "syntax/control-character",
    "vessel/missing",
    "vessel/twice",
    "language/unknown-edition",
    "language/not-first",
    "units/missing",
    "quantity/wrong-dimension",
    "quantity/out-of-range",
    "quantity/not-a-number",
    "word/unknown",
    "word/missing",
    "word/extra",
    "word/twice",
    "word/wrong-kind",
    "name/unknown",
    "name/twice",
    "use/not-found",
    "use/cycle",
    "use/outside-project",
    "use/unreadable",
    "wood/unknown",
    "wood/ambiguous",
    "glue/unknown",
    "finish/unknown",
    "pattern/does-not-close",
    "pattern/share-too-wide",
    "pattern/share",
    "pattern/scatter",
    "pattern/still-together",
    "board/in-board",
    "board/not-here",
    "chart/unknown",
    "chart/empty",
    "chart/uneven-rows",
    "chart/unknown-key",
    "chart/unused-key",
    "fill/no-room",
    "fill/cannot-close",
    "shape/heights-not-rising",
    "shape/base-not-at-zero",
    "shape/too-few-points",
    "shape/path-unreadable",
    "shape/overhang",
    "shape/round-does-not-fit",
    "shape/detail-does-not-fit",
    "shape/inside-ends",
    "shape/inside-crosses",
    "shape/top-without-lid",
    "wall/thicker-than-radius",
    "ring/does-not-cover",
    "ring/gap-and-spacer",
    "ring/gap-too-wide",
    "ring/strip-past-center",
    "ring/must-be-solid",
    "ring/apart",
    "ring/spacers-collide",
    "ring/uneven-gaps",
    "ring/unsupported",
    "ring/points-meet",
    "ring/plug-too-wide",
    "cone/too-thin",
    "cone/past-center",
    "joint/without-lid",
    "joint/inset-overhang",
    "joint/open-ring",
    "parted/with-lid",
    "parted/no-part",
    "parted/pattern-break",
    "made/unknown",
    "made/too-small",
    "insert/no-seat",
    "insert/too-wide",
    "insert/through",
    "insert/overlap",
    "insert/in-open-ring",
    "insert/liner-too-tall",
    "mount/no-part",
    "mount/screws-reach-work",
    "expect/broken",
    "glue/brittle",
    "glue/hot-melt",
    "glue/not-waterproof",
    "glue/oily-wood",
    "health/poisonous-wood",
    "health/sensitizer",
    "health/wood-and-food",
    "health/wood-and-food-care",
    "health/open-pores",
    "health/glue-and-food",
    "health/finish-and-food",
    "health/nut-oil",
    "health/stands-wet",
    "code/unknown",
    "vessel/unnamed",
    "repeat/never",
    "accept/not-acceptable",
    "accept/unused",
    "severity/not-lowered",
];

#[test]
fn every_code_lists_its_limits_or_has_none() {
    for code in CODES {
        let is_without = WITHOUT_FIGURE.contains(&code.name);
        assert!(is_without == code.limits.is_empty(), "{}: limits in the catalog, or a line in this test", code.name);
    }
    for name in WITHOUT_FIGURE {
        assert!(CODES.iter().any(|code| code.name == *name), "{name} is no code");
    }
}

#[test]
fn every_source_says_who() {
    // A handbook, a standard, what turners do, what is remembered, or how it follows.
    let signs = ["common practice", "from memory", "Wood Handbook", "derived:", "a bound of the language"];
    let standards = ["ISO ", "IEC ", "EN ", "ASTM ", "DIN ", "ANSI ", "OSHA", "NFPA ", "BS ", "21 CFR", "29 CFR"];
    for code in CODES {
        for limit in code.limits {
            let (what, source) = (limit.what(), limit.source());
            assert!(signs.iter().chain(&standards).any(|sign| source.contains(sign)), "{what}: {source:?}");
            assert!(what.len() > 8 && !what.ends_with('.'), "{what}");
            assert!(!limit.figure().is_empty(), "{what}");
        }
    }
}

#[test]
fn every_limit_is_used_by_a_code() {
    let text = read(Path::new("src/finding/limits.rs"));
    let named =
        |line: &str| line.strip_prefix("pub static ").and_then(|rest| rest.split(':').next()).map(str::to_owned);
    let defined: BTreeSet<String> = text.lines().filter_map(named).collect();
    assert!(defined.len() > 30, "{defined:?}");
    let catalog = read(Path::new("src/finding/catalog.rs"));
    let words = |line: &str| {
        line.split(|c: char| !(c.is_ascii_uppercase() || c.is_ascii_digit() || c == '_'))
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    let lists = catalog.lines().filter_map(|line| Some(line.rsplit_once('[')?.1));
    let used: BTreeSet<String> = lists.flat_map(words).collect();
    for name in &defined {
        // The sheet on safety warns of a wide round; no finding does.
        assert!(used.contains(name) || name == "WIDE_SOLID", "{name} is in no code's list");
    }
}

#[test]
fn a_limit_is_read_where_it_decides() {
    let sources = all_sources(Path::new("src"));
    let limits = read(Path::new("src/finding/limits.rs"));
    for block in limits.split("pub static ").skip(1) {
        let name = block.split(':').next().unwrap();
        // Words for a setting only tell; the setting itself is compared with.
        if block.starts_with(&format!("{name}: Limit<&'static str>")) {
            continue;
        }
        let read = format!("limits::{name}.get()");
        assert!(sources.iter().any(|(_, text)| text.contains(&read)), "nothing reads {read}");
    }
}

#[test]
fn checks_hold_no_figure_of_their_own() {
    let signs =
        ["Length::from_mm(", "Length::from_inches(", "Angle::from_degrees(", "Ratio::of(", "Duration::from_minutes("];
    let mut wrong = Vec::new();
    for (path, text) in all_sources(Path::new("src/checks")) {
        let code = text.split("\n#[cfg(test)]\nmod tests {").next().unwrap_or("").to_owned();
        for (number, line) in code.lines().enumerate().filter(|(_, line)| !line.trim_start().starts_with("//")) {
            for sign in signs {
                for rest in line.split(sign).skip(1) {
                    let figure: String =
                        rest.chars().take_while(|c| c.is_ascii_digit() || ".-_e".contains(*c)).collect();
                    // What is written as a power of ten is a tolerance of numbers, finer than anything in a shop.
                    if !figure.contains("e-") && figure.chars().any(|c| ('1'..='9').contains(&c)) {
                        wrong.push(format!("{}:{}: {}", path.display(), number + 1, line.trim()));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "a figure belongs in src/finding/limits.rs:\n{}", wrong.join("\n"));
}

fn read(path: &Path) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

fn all_sources(folder: &Path) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ext| ext == "rs") {
                found.push((path.clone(), fs::read_to_string(&path).unwrap()));
            }
        }
    }
    found
}
