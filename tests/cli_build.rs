//! The program from outside, on recipes: what is written where, and what is left alone.

#![cfg(unix)]
#![allow(clippy::unwrap_used)]

use std::fs;
use std::os::unix::fs::symlink;

use crate::cli_support::{Bench, Ran, close};

const DOCUMENTS: [&str; 22] = [
    "cut-list.csv",
    "cut-list.md",
    "cutting-plan.md",
    "cutting-plan.svg",
    "design.json",
    "elevation.svg",
    "findings.sarif",
    "glue-schedule.md",
    "glue-schedule.svg",
    "layer-01.svg",
    "layer-02.svg",
    "layer-03.svg",
    "layer-04.svg",
    "layer-05.svg",
    "layer-06.svg",
    "model.glb",
    "model.stl",
    "section.svg",
    "shop-sheet.html",
    "shop-sheet.pdf",
    "turning.md",
    "unrolled.svg",
];

/// A bench with a recipe on it that is clean.
fn bench() -> Bench {
    let bench = Bench::new();
    bench.run(&["new", "bowl"]).says(0, &[]);
    bench
}

/// A recipe with one error in its own file and one in a file that it uses.
fn broken() -> Bench {
    let bench = bench();
    let text = bench.text("bowl.vessel").replace("disc walnut ", "disc walnutt ");
    bench.file("bowl.vessel", text.replace("units in ", "use \"shop.vessel\"\nunits in "));
    bench.file("shop.vessel", "units in\nshop { kerff 1/8 }\n");
    bench
}

#[track_caller]
fn built(bench: &Bench) -> Ran {
    bench.run(&["build", "bowl.vessel", "-o", "out"]).says(0, &["in out"])
}

#[test]
fn the_starter_recipe_is_clean() {
    let bench = bench();
    let ran = bench.run(&["check", "--deny", "warnings", "bowl.vessel"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), "1 recipe checked: no findings\n"));
}

#[test]
fn a_build_prints_its_summary_and_writes_its_documents() {
    let bench = bench();
    let summary = bench.run(&["build", "bowl.vessel"]).says(0, &[]);
    assert!(summary.out.contains("Bowl") && summary.err.is_empty(), "{summary:?}");
    assert_eq!(bench.names(""), ["bowl.vessel"]);
    let ran = built(&bench);
    // The same but for the last step, which is to do just that.
    let step = summary.out.strip_prefix(&ran.out).unwrap();
    assert!(
        step.lines().count() == 1 && step.ends_with("build with -o FOLDER for the sheets of saw, bench and lathe\n")
    );
    let names = bench.names("out");
    assert_eq!(names[0], ".ringwright-build");
    assert_eq!(names[1..], DOCUMENTS);
    let first: Vec<Vec<u8>> = DOCUMENTS.iter().map(|name| bench.bytes(&format!("out/{name}"))).collect();
    let mut texts =
        DOCUMENTS.iter().zip(&first).filter(|(name, _)| !name.starts_with("model.") && **name != "shop-sheet.pdf");
    assert!(texts.all(|(_, text)| text.ends_with(b"\n")));
    built(&bench).says(0, &["22 documents in out (all unchanged)"]);
    fs::remove_dir_all(bench.path("out")).unwrap();
    built(&bench);
    let second: Vec<Vec<u8>> = DOCUMENTS.iter().map(|name| bench.bytes(&format!("out/{name}"))).collect();
    assert_eq!(first, second, "same recipe, same bytes");
}

#[test]
fn a_recipe_from_standard_input_is_built_the_same() {
    let bench = bench();
    let text = bench.text("bowl.vessel");
    bench.run_on(&text, &["build", "-", "-o", "piped"]).says(0, &["in piped"]);
    built(&bench);
    assert_eq!(bench.text("piped/cut-list.csv"), bench.text("out/cut-list.csv"));
}

#[test]
fn an_edited_document_is_kept_and_a_changed_recipe_replaces_the_others() {
    let bench = bench();
    built(&bench);
    bench.file("out/turning.md", "my own notes\n");
    let wider = bench.text("bowl.vessel").replace("diameter 6", "diameter 6 1/4");
    bench.file("bowl.vessel", wider);
    let before = bench.text("out/design.json");
    let args = ["build", "bowl.vessel", "-o", "out"];
    bench.run(&args).says(2, &["output/would-overwrite", "out/turning.md", "--force"]);
    assert_eq!(bench.text("out/design.json"), before, "nothing was written");
    assert_eq!(bench.text("out/turning.md"), "my own notes\n");
    bench.run(&["build", "bowl.vessel", "-o", "out", "--force"]).says(0, &[]);
    assert_ne!(bench.text("out/design.json"), before);
    assert_ne!(bench.text("out/turning.md"), "my own notes\n");
    built(&bench);
}

/// It looks as if it belonged to what is beside it.
#[test]
fn an_edited_document_that_the_design_no_longer_has_is_told_of() {
    let bench = bench();
    bench.run(&["build", "bowl.vessel", "-o", "out"]).says(0, &[]);
    bench.file("out/layer-06.svg", "<svg><!-- mine --></svg>");
    bench.file(
        "bowl.vessel",
        bench.text("bowl.vessel").replace("    repeat 2 { ring maple }\n  }", "    ring maple  thick 1 1/2\n  }"),
    );
    for _ in 0..2 {
        bench
            .run(&["build", "bowl.vessel", "-o", "out"])
            .says(0, &["out/layer-06.svg stays, but is not of this design"]);
    }
    assert!(bench.text("out/layer-06.svg").contains("mine"));
}

#[test]
fn a_foreign_file_stops_the_build_and_a_bystander_does_not() {
    let bench = bench();
    bench.file("out/photo.jpg", "x").file("out/cut-list.md", "by hand");
    bench.run(&["build", "bowl.vessel", "-o", "out"]).says(2, &["output/would-overwrite", "`out/cut-list.md`"]);
    assert_eq!(bench.names("out"), ["cut-list.md", "photo.jpg"]);
    fs::remove_file(bench.path("out/cut-list.md")).unwrap();
    built(&bench);
    assert_eq!(bench.text("out/photo.jpg"), "x");
}

#[test]
fn a_link_or_a_folder_in_the_place_of_a_document_is_refused_even_with_force() {
    let bench = bench();
    bench.file("victim", "precious").file("out/x", "");
    symlink("../victim", bench.path("out/design.json")).unwrap();
    for force in [&[][..], &["--force"]] {
        let args = [&["build", "bowl.vessel", "-o", "out"], force].concat();
        bench.run(&args).says(2, &["output/not-replaceable", "out/design.json", "a link"]);
    }
    fs::remove_file(bench.path("out/design.json")).unwrap();
    fs::create_dir(bench.path("out/design.json")).unwrap();
    bench.run(&["build", "bowl.vessel", "-o", "out", "--force"]).says(2, &["a folder"]);
    assert_eq!(bench.names("out"), ["design.json", "x"]);
    assert_eq!(bench.text("victim"), "precious");
}

#[test]
fn a_folder_that_cannot_be_is_told() {
    let bench = bench();
    bench.file("file", "x");
    bench.run(&["build", "bowl.vessel", "-o", "file"]).says(2, &["output/not-a-folder"]);
    bench.run(&["build", "bowl.vessel", "-o", "file/out"]).says(2, &["output/cannot-write"]);
    bench.run(&["build", "bowl.vessel", "-o", "/proc/out"]).says(2, &["output/cannot-write"]);
    symlink("nowhere", bench.path("link")).unwrap();
    bench.run(&["build", "bowl.vessel", "-o", "link"]).says(2, &["`link` is a link that leads nowhere"]);
    assert!(!bench.path("nowhere").exists());
}

#[test]
fn a_folder_that_is_closed_for_writing_stays_as_it_was() {
    let bench = bench();
    if bench.is_root_skipping("a folder that is closed for writing stays as it was") {
        return;
    }
    fs::create_dir(bench.path("out")).unwrap();
    close(&bench.path("out"), 0o500);
    bench.run(&["build", "bowl.vessel", "-o", "out"]).says(2, &["output/cannot-write", "Permission denied"]);
    assert!(bench.names("out").is_empty());
}

#[test]
fn several_recipes_get_a_folder_each_or_none_at_all() {
    let bench = bench();
    bench.run(&["new", "cup"]).says(0, &[]);
    bench.run(&["build", "bowl.vessel", "cup.vessel", "-o", "all"]).says(0, &["in all/bowl", "in all/cup"]);
    assert_eq!(bench.names("all"), ["bowl", "cup"]);
    assert_eq!(bench.names("all/cup")[1..], DOCUMENTS);

    bench.file("mug.vessel", bench.text("cup.vessel").replace("maple", "mapel"));
    bench.run(&["build", "bowl.vessel", "mug.vessel", "-o", "more"]).says(1, &["mapel"]);
    assert!(!bench.path("more").exists());

    bench.file("all/cup/cut-list.csv", "by hand");
    let wider = bench.text("bowl.vessel").replace("diameter 6", "diameter 6 1/4");
    bench.file("bowl.vessel", wider);
    let before = bench.text("all/bowl/design.json");
    bench.run(&["build", "bowl.vessel", "cup.vessel", "-o", "all"]).says(2, &["all/cup/cut-list.csv"]);
    assert_eq!(bench.text("all/bowl/design.json"), before, "all places are looked at before anything is written");
}

#[test]
fn errors_are_1_and_nothing_is_written() {
    let bench = broken();
    let ran = bench
        .run(&["build", "bowl.vessel", "-o", "out"])
        .says(1, &["error[wood/unknown]", "shop.vessel:2:8", "errors"]);
    assert_eq!(ran.out, "");
    assert!(!bench.path("out").exists());
}

#[test]
fn findings_for_people_go_to_stderr_and_for_scripts_to_stdout() {
    let bench = broken();
    let human = bench.run(&["check", "bowl.vessel"]).says(1, &["error[wood/unknown]", "errors in 2 files"]);
    assert_eq!(human.out, "");
    let short = bench.run(&["check", "--format", "short", "bowl.vessel"]).says(1, &[]);
    assert_eq!(short.err, "");
    assert!(short.out.lines().any(|line| line.starts_with("shop.vessel:2:8: error[")), "{}", short.out);
    let json = bench.run(&["check", "--format", "json", "bowl.vessel"]).says(1, &[]);
    assert_eq!(json.err, "");
    let findings: Vec<serde_json::Value> = serde_json::from_str(&json.out).unwrap();
    assert_eq!(findings.len(), short.out.lines().count());
    assert!(findings.iter().any(|finding| finding["spans"][0]["file"] == "shop.vessel"));
    // A file that several use is told of once.
    let folder = bench.run(&["check", "--format", "short", "."]).says(1, &[]);
    assert_eq!(folder.out.matches("shop.vessel:2:8").count(), 1, "{}", folder.out);
}

#[test]
fn warnings_deny_only_on_demand() {
    let bench = bench();
    let text = bench.text("bowl.vessel").replace("ring [maple walnut]", "ring [maple*4 walnut]");
    bench.file("bowl.vessel", text);
    bench.run(&["check", "bowl.vessel"]).says(0, &["warning[pattern/does-not-close]"]);
    bench.run(&["check", "--deny", "warnings", "bowl.vessel"]).says(1, &["1 warning"]);
    bench.run(&["build", "bowl.vessel", "-o", "out"]).says(0, &["warning[pattern/does-not-close]"]);
}

#[test]
fn what_denies_and_what_weighs_is_set_on_the_command_line() {
    let bench = bench();
    let text = bench.text("bowl.vessel").replace("ring [maple walnut]", "ring [maple*4 walnut]");
    bench.file("bowl.vessel", text);
    let run = |args: &[&str]| bench.run(args);
    for (deny, code) in [("warnings", 1), ("notes", 0), ("pattern", 1), ("pattern/does-not-close", 1), ("wall", 0)] {
        run(&["check", "--deny", deny, "bowl.vessel"]).says(code, &[]);
        run(&["check", "--deny", deny, "--deny", "wall/thin", "bowl.vessel"]).says(code, &[]);
    }
    run(&["check", "--level", "pattern=error", "bowl.vessel"]).says(1, &["error[pattern/does-not-close]"]);
    run(&["check", "--level", "pattern=note", "--deny", "warnings", "bowl.vessel"]).says(0, &["note[pattern"]);
    run(&["check", "--level", "pattern/does-not-close=off", "bowl.vessel"]).says(0, &["no findings"]);
    let denied = run(&["build", "--deny", "pattern", "bowl.vessel", "-o", "out"]);
    denied.says(1, &["nothing is built, denied by `--deny`: `pattern/does-not-close`"]);
    assert!(!bench.path("out").exists());
    run(&["build", "--level", "pattern=off", "--deny", "warnings", "bowl.vessel", "-o", "out"]).says(0, &["in out"]);
    for command in ["check", "build"] {
        let slip = run(&[command, "--deny", "pattern/does-not-clos", "bowl.vessel"]);
        slip.says(2, &["usage/unknown-code", "`pattern/does-not-close`"]);
        run(&[command, "--level", "patern=off", "bowl.vessel"]).says(2, &["did you mean `pattern`"]);
        run(&[command, "--level", "pattern", "bowl.vessel"]).says(2, &["usage/no-level", "--level ring"]);
        run(&[command, "--level", "ring/does-not-cover=note", "bowl.vessel"]).says(2, &["usage/not-lowered"]);
    }
    let accepted = bench.text("bowl.vessel").replace(
        "ring [maple*4 walnut]",
        "ring [maple*4 walnut] accept pattern/does-not-close because \"a seam at the back\"",
    );
    bench.file("bowl.vessel", accepted);
    run(&["check", "--deny", "warnings", "bowl.vessel"]).says(0, &["no findings"]);
}

#[test]
fn a_first_day_gives_a_calendar_and_none_takes_it_away() {
    let bench = bench();
    built(&bench);
    let args = ["build", "bowl.vessel", "-o", "out", "--start", "2027-03-01"];
    bench.run(&args).says(0, &["23 documents in out"]);
    let calendar = bench.text("out/glue-schedule.ics");
    assert!(calendar.contains("DTSTART:20270301T"), "{calendar}");
    bench.run(&args).says(0, &["23 documents in out (all unchanged)"]);
    built(&bench).says(0, &["glue-schedule.ics is gone"]);
    assert_eq!(bench.names("out")[1..], DOCUMENTS);
}

#[test]
fn what_is_no_day_or_no_effort_is_wrong_usage() {
    let bench = bench();
    let cases = [
        ("--start", "2027-02-29", "for example 2027-03-01"),
        ("--start", "1.3.2027", "for example 2027-03-01"),
        ("--effort", "0", "1..=100"),
        ("--effort", "101", "1..=100"),
        ("--effort", "much", "invalid digit"),
    ];
    for (option, value, words) in cases {
        let ran = bench.run(&["build", "bowl.vessel", option, value]).says(2, &[option, value, words]);
        assert_eq!(ran.out, "");
    }
    for option in ["--start=2027-03-01", "--effort=2"] {
        assert_eq!(bench.run(&["check", "bowl.vessel", option]).code, Some(2), "{option} is of a build alone");
    }
}

#[test]
fn the_same_effort_gives_the_same_bytes_and_no_bar_where_nobody_watches() {
    let bench = bench();
    for folder in ["first", "second"] {
        let ran = bench.run(&["build", "bowl.vessel", "-o", folder, "--effort", "3"]).says(0, &[folder]);
        assert!(!ran.err.contains('%') && !ran.err.contains('\u{1b}'), "{}", ran.err);
    }
    for name in DOCUMENTS {
        assert_eq!(bench.bytes(&format!("first/{name}")), bench.bytes(&format!("second/{name}")), "{name}");
    }
}

#[test]
fn help_tells_of_day_and_effort() {
    let help = Bench::new().run(&["build", "--help"]).says(0, &[]).out;
    for words in ["--start <DATE>", "--effort <N>", "--start 2027-03-01", "glue-schedule.ics", "[default: 1]"] {
        assert!(help.contains(words), "{words} in {help}");
    }
}

#[test]
fn a_pipe_gets_the_summary_without_the_picture() {
    let bench = bench();
    for color in ["always", "auto", "never"] {
        let ran = bench.run(&["build", "bowl.vessel", "--color", color]).says(0, &[]);
        assert!(ran.out.starts_with("Bowl") && !ran.out.contains(['▀', '▄', '\u{1b}']), "{color}: {}", ran.out);
    }
}
