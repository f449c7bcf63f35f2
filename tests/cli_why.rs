//! `why` from outside.

#![cfg(unix)]
#![allow(clippy::unwrap_used)]

use crate::cli_support::Bench;

fn bench() -> Bench {
    let bench = Bench::new();
    bench.run(&["new", "bowl"]).says(0, &[]);
    bench
}

#[test]
fn a_figure_is_told_down_to_the_line_it_was_written_in() {
    let bench = bench();
    let told = bench.run(&["why", "bowl.vessel", "ring-2.miter"]).says(0, &[]).out;
    let (_, line) = told.split_once("by `every` in bowl.vessel, line ").unwrap_or_else(|| panic!("{told}"));
    let line: usize = line.lines().next().unwrap().parse().unwrap();
    assert!(bench.text("bowl.vessel").lines().nth(line - 1).unwrap().contains("segments"), "{told}");
    for (asked, words) in [
        (&["why", "bowl.vessel", "ring-2.miter"][..], &["180° / segments"][..]),
        (&["why", "bowl.vessel"], &["vessel: ", "body.ring-2: ", "cut.A: "]),
        (&["why", "bowl.vessel", "cut.A"], &["cut.A.long-edge = "]),
    ] {
        let told = bench.run(asked).says(0, &[]).out;
        for word in words {
            assert!(told.contains(word), "{word} in {told}");
        }
    }
}

#[test]
fn the_tree_as_json_has_the_value_of_the_design() {
    let bench = bench();
    bench.run(&["build", "bowl.vessel", "-o", "out"]).says(0, &[]);
    let design: serde_json::Value = serde_json::from_str(&bench.text("out/design.json")).unwrap();
    let told = bench.run(&["why", "bowl.vessel", "vessel.capacity", "--format", "json"]);
    let trees: serde_json::Value = serde_json::from_str(&told.out).unwrap();
    assert_eq!(trees[0]["subject"], "vessel.capacity");
    let (told, built) = (trees[0]["value"].as_f64().unwrap(), design["totals"]["capacity_ml"].as_f64().unwrap());
    assert!((told / 1000.0 - built).abs() < 1e-9 * built, "{told} mm3, {built} ml");
}

#[test]
fn what_is_not_there_is_told_with_what_is() {
    let bench = bench();
    bench.run(&["why", "bowl.vessel", "ring-2.miterr"]).says(2, &["why/no-subject", "body.ring-2.miter"]);
    bench.run(&["why", "nowhere.vessel"]).says(2, &["file/not-found"]);
    bench.file("bowl.vessel", bench.text("bowl.vessel").replace("wall ", "walll "));
    bench.run(&["why", "bowl.vessel", "cut.A"]).says(1, &["word/unknown"]);
}
