//! `diff` from outside: two files, a file and a revision, and as git calls it.

#![cfg(unix)]
#![allow(clippy::unwrap_used)]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::process::Command;

use crate::cli_support::{Bench, Ran};

const CUP: &str = "units mm\nuse \"shop.vessel\"\nvessel \"Cup\" {\n  outside { at 0 diameter 90   at 100 diameter 90 }\n  wall 9\n  \
                   floor 10\n  every ring { segments 12  thick 18 }\n  body {\n    disc walnut thick 10\n    \
                   repeat 5 { ring maple }\n  }\n}\n";
const SHOP: &str = "units mm\nshop {\n  kerf 3\n}\n";

fn bench() -> Bench {
    let bench = Bench::new();
    bench.file("cup.vessel", CUP).file("shop.vessel", SHOP);
    bench
}

fn told(ran: &Ran, words: &[&str]) {
    for word in words {
        assert!(ran.out.contains(word), "no {word:?} in {}", ran.out);
    }
}

/// One more ring at the foot: one layer is new, those above are not other ones.
#[test]
fn a_layer_more_is_one_layer_more() {
    let bench = bench();
    let taller = CUP.replace("at 100", "at 118").replace("thick 10\n", "thick 10\n    ring cherry\n");
    bench.file("taller.vessel", taller);
    let ran = bench.run(&["diff", "cup.vessel", "taller.vessel"]).says(0, &[]);
    told(&ran, &["height", "100.0 mm → 118.0 mm (+18.0 mm)", "layers        6 → 7", "pieces        61 → 73"]);
    told(&ran, &["  layers\n  + body.ring-2: ring of [cherry*12], 18.0 mm thick\n"]);
    // The one above it lay on the disc, and now its joints are to keep clear of those below.
    told(&ran, &["  ~ body.ring-3 (was body.ring-2): turned by 0° → 15°\n"]);
    assert_eq!(ran.out.matches("  ~ ").count(), 1, "{}", ran.out);
    let back = bench.run(&["diff", "taller.vessel", "cup.vessel"]).says(0, &[]);
    told(&back, &["  - body.ring-2: ring of [cherry*12]", "(−18.0 mm)"]);
}

#[test]
fn what_is_cut_otherwise_is_told_with_both_figures() {
    let bench = bench();
    bench.file(
        "other.vessel",
        CUP.replace("wall 9", "wall 12")
            .replace("repeat 5 { ring maple }", "repeat 4 { ring maple }\n    ring [maple walnut]"),
    );
    let ran = bench.run(&["diff", "cup.vessel", "other.vessel", "--exit-code"]).says(1, &[]);
    // The strip reaches from 45 + 3 mm to (36 - 3) × cos 15° and (33 - 3) × cos 15°: formulas of a polygon's apothem.
    told(&ran, &["~ body.ring-2: strip 16.2 mm → 19.1 mm (+2.90 mm)", "[maple*12] → [maple walnut] 6 times"]);
    let json = bench.run(&["diff", "cup.vessel", "other.vessel", "--format", "json"]).says(0, &[]).out;
    let all: serde_json::Value = serde_json::from_str(&json).unwrap();
    let strip = &all["layers"][0]["figures"][0];
    assert_eq!(strip["what"], "strip", "{all:#}");
    let mm = |side: &str| strip[side]["mm"].as_f64().unwrap();
    let cos = 15.0_f64.to_radians().cos();
    assert!((mm("before") - (48.0 - 33.0 * cos)).abs() < 1e-9 && (mm("after") - (48.0 - 30.0 * cos)).abs() < 1e-9);
}

#[test]
fn layout_is_no_difference_and_findings_are() {
    let bench = bench();
    bench.file("same.vessel", CUP.replace("  wall 9\n", "\n\n  # thick enough\n  wall   9.00\n"));
    let ran = bench.run(&["diff", "cup.vessel", "same.vessel", "--exit-code"]).says(0, &[]);
    assert_eq!(ran.out, "Cup: nothing changes for the maker\n");
    bench.file("aligned.vessel", CUP.replace("repeat 5 { ring maple }", "repeat 5 { ring maple stagger none }"));
    let ran = bench.run(&["diff", "cup.vessel", "aligned.vessel"]).says(0, &[]);
    told(&ran, &["  findings\n", "+ warning[ring/joints-line-up]"]);
    let back = bench.run(&["diff", "aligned.vessel", "cup.vessel"]).says(0, &[]);
    told(&back, &["- warning[ring/joints-line-up]"]);
}

#[test]
fn what_cannot_be_compared_is_told() {
    let bench = bench();
    bench.file("bad.vessel", CUP.replace("wall 9", "walll 9"));
    bench.run(&["diff", "cup.vessel", "bad.vessel"]).says(1, &["word/unknown"]);
    bench.run(&["diff", "cup.vessel", "shop.vessel"]).says(2, &["build/no-vessel"]);
    bench.run(&["diff", "cup.vessel"]).says(2, &["diff/how-many", "2 wanted, not 1"]);
    bench.run(&["diff", "cup.vessel", "nowhere.vessel"]).says(2, &["file/not-found"]);
}

/// Git in the bench's folder, deaf to whoever runs the tests; none where there is no git.
fn git(bench: &Bench, args: &[&str]) -> Option<String> {
    let ran = Command::new("git")
        .args(["-c", "user.name=n", "-c", "user.email=n@example.org", "-c", "commit.gpgsign=false"])
        .args(args)
        .current_dir(bench.path(""))
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("GIT_CONFIG_SYSTEM", "/dev/null")
        .output()
        .ok()?;
    assert!(ran.status.success(), "{args:?}: {}", String::from_utf8_lossy(&ran.stderr));
    Some(String::from_utf8(ran.stdout).unwrap())
}

#[test]
fn a_revision_has_its_own_shop_and_git_can_ask() {
    let bench = bench();
    if git(&bench, &["init", "-q"]).is_none() {
        crate::cli_support::skipped("there is no git");
        return;
    }
    git(&bench, &["add", "."]);
    git(&bench, &["commit", "-q", "-m", "one"]);
    bench.run(&["diff", "--git", "HEAD", "cup.vessel", "--exit-code"]).says(0, &[]);
    // Another allowance in the file that it uses: the recipe's own text is the same.
    bench.file("shop.vessel", SHOP.replace("kerf 3", "kerf 3\n  allowance 5"));
    let ran = bench.run(&["diff", "--git", "HEAD", "cup.vessel", "--exit-code"]).says(1, &[]);
    told(&ran, &["~ body.ring-2: strip 16.2 mm → "]);
    bench.run(&["diff", "--git", "no-such", "cup.vessel"]).says(2, &["diff/git", "no revision `no-such`"]);
    bench.run(&["diff", "--git=--help", "cup.vessel"]).says(2, &["diff/git", "no revision `--help`"]);
    bench.file("new.vessel", CUP);
    bench.run(&["diff", "--git", "HEAD", "new.vessel"]).says(2, &["new.vessel was not there at `HEAD`"]);

    bench.file("shop.vessel", SHOP);
    bench.file("cup.vessel", CUP.replace("wall 9", "wall 12")).file(".gitattributes", "*.vessel diff=vessel\n");
    git(&bench, &["config", "diff.vessel.command", &format!("'{}' diff", env!("CARGO_BIN_EXE_ringwright"))]);
    git(&bench, &["add", "-N", "new.vessel"]);
    let said = git(&bench, &["--no-pager", "diff"]).unwrap();
    assert!(said.contains("~ body.ring-2: strip 16.2 mm → 19.1 mm (+2.90 mm)"), "{said}");
    assert!(said.contains("new.vessel is new"), "{said}");
    bench.file("cup.vessel", CUP.replace("wall 9", "walll 9"));
    let said = git(&bench, &["--no-pager", "diff", "--", "cup.vessel"]).unwrap();
    assert!(said.contains("word/unknown"), "{said}");
}

#[test]
fn git_compares_the_figures_line_by_line() {
    let bench = bench();
    if git(&bench, &["init", "-q"]).is_none() {
        crate::cli_support::skipped("there is no git");
        return;
    }
    // In a folder of its own, so that what it uses is found only by its place.
    bench.file("cups/cup.vessel", CUP).file("cups/shop.vessel", SHOP).file(".gitattributes", "*.vessel diff=vessel\n");
    git(
        &bench,
        &["config", "diff.vessel.textconv", &format!("'{}' diff --textconv", env!("CARGO_BIN_EXE_ringwright"))],
    );
    git(&bench, &["add", "cups"]);
    git(&bench, &["commit", "-q", "-m", "one"]);
    bench.file("cups/cup.vessel", CUP.replace("wall 9", "wall 12"));
    git(&bench, &["commit", "-q", "-a", "-m", "two"]);
    let said = git(&bench, &["--no-pager", "log", "-1", "-p"]).unwrap();
    // The same figures as `what_is_cut_otherwise_is_told_with_both_figures`.
    let [old, new] =
        ["-body.ring-2: ", "+body.ring-2: "].map(|start| said.lines().find(|line| line.starts_with(start)));
    assert!(old.unwrap().contains("; strip 16.2 mm;"), "{said}");
    assert!(new.unwrap().contains("; strip 19.1 mm;"), "{said}");
    assert!(!said.contains("-height"), "{said}");
    bench.file("cups/cup.vessel", CUP.replace("wall 9", "walll 9"));
    let said = git(&bench, &["--no-pager", "diff"]).unwrap();
    assert!(said.contains("+error[word/unknown]") && said.contains("+  walll 9"), "{said}");
    bench.run(&["diff", "--textconv", "cup.vessel", "shop.vessel"]).says(2, &["diff/how-many", "1 wanted, not 2"]);
    bench.run(&["diff", "--textconv", "shop.vessel"]).says(0, &[]);
}
