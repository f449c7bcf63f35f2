//! `check --fix` and `check --diff` from outside: what is written, what is told, what is refused.

#![cfg(unix)]
#![allow(clippy::unwrap_used, clippy::print_stderr, clippy::disallowed_methods)]

use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::process::Command;

use crate::cli_support::{Bench, close};

const GOOD: &str = "units mm\n# for the kitchen\nvessel \"Cup\" {\n  outside { at 0 diameter 90   at 60 diameter 90 }\n  \
    wall 9\n  floor 10\n  body {\n    disc walnut thick 10 # the bottom\n    repeat 5 { ring maple thick 10 }\n  }\n}\n";

/// Two slips: one that changes the design when it is mended, one that does not.
fn bad() -> String {
    GOOD.replace("walnut", "wallnut").replace("floor 10", "floor: 10")
}

#[test]
fn fix_writes_and_tells_what_it_changed() {
    let bench = Bench::new();
    bench.file("cup.vessel", bad());
    close(&bench.path("cup.vessel"), 0o640);
    let ran = bench.run(&["check", "--fix", "cup.vessel"]);
    let ran = ran.says(
        0,
        &[
            "2 fixes in 1 file\n",
            "  cup.vessel: write `walnut` [wood/unknown]\n",
            "  1 that leaves the design as it was\n",
        ],
    );
    assert_eq!(ran.out, "");
    assert_eq!(bench.text("cup.vessel"), GOOD);
    assert_eq!(fs::metadata(bench.path("cup.vessel")).unwrap().permissions().mode() & 0o777, 0o640);
    assert_eq!(bench.names("."), ["cup.vessel"], "nothing is left beside it");
    bench.run(&["check", "--fix", "cup.vessel"]).says(0, &["no fix was made"]);
    assert_eq!(bench.text("cup.vessel"), GOOD);
}

#[test]
fn what_is_left_is_told_as_by_a_plain_check() {
    let bench = Bench::new();
    bench.file("cup.vessel", bad());
    let ran = bench.run(&["check", "--fix=safe", "cup.vessel"]).says(1, &["wood/unknown", "1 fix in 1 file"]);
    assert!(!ran.err.contains("cup.vessel: write"), "{}", ran.err);
    assert_eq!(bench.text("cup.vessel"), GOOD.replace("walnut", "wallnut"));
    let ran = bench.run(&["check", "--fix=safe", "--format", "short", "cup.vessel"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(1), ""));
    assert!(ran.out.contains("error[wood/unknown]"), "{}", ran.out);
    bench.run(&["check", "--fix", "--format", "json", "cup.vessel"]).says(0, &[]);
    assert_eq!(bench.text("cup.vessel"), GOOD);
}

#[test]
fn diff_writes_nothing_and_is_a_patch() {
    for (name, text) in [
        ("cup.vessel", bad()),
        ("with blank/my cup.vessel", bad()),
        ("crlf.vessel", format!("\u{FEFF}{}", bad()).replace('\n', "\r\n")),
        ("open.vessel", bad().trim_end_matches(['\n', '}']).to_owned()),
    ] {
        let bench = Bench::new();
        bench.file(name, &text);
        let ran = bench.run(&["check", "--diff", name]).says(1, &[]);
        assert_eq!(ran.err, "", "{name}");
        assert!(ran.out.contains("\n-    disc wallnut thick 10 # the bottom"), "{}", ran.out);
        assert_eq!(bench.text(name), text, "{name}");
        bench.file("the.patch", &ran.out);
        let tools: [(&str, &[&str]); 2] =
            [("git", &["apply", "the.patch"]), ("patch", &["-p1", "--binary", "-i", "the.patch"])];
        for (tool, args) in tools {
            bench.file(name, &text);
            let Ok(output) = Command::new(tool).args(args).current_dir(bench.path(".")).output() else {
                eprintln!("SKIPPED, as there is no `{tool}`: the patch of {name} is not applied");
                continue;
            };
            assert!(output.status.success(), "{tool}: {}\n{}", String::from_utf8_lossy(&output.stderr), ran.out);
            let patched = bench.text(name);
            bench.file(name, &text);
            bench.run(&["check", "--fix", name]).says(0, &[]);
            assert_eq!(bench.text(name), patched, "{tool} {name}");
        }
        bench.file(name, GOOD);
        assert_eq!(bench.run(&["check", "--diff", name]).says(0, &[]).out, "");
    }
}

#[test]
fn a_patch_has_color_on_demand() {
    let bench = Bench::new();
    bench.file("cup.vessel", bad());
    let ran = bench.run(&["check", "--diff=safe", "--color", "always", "cup.vessel"]).says(1, &[]);
    assert!(ran.out.contains("\u{1b}[31m-  floor: 10\u{1b}[0m\n\u{1b}[32m+  floor 10\u{1b}[0m\n"), "{}", ran.out);
    assert!(!ran.out.contains("+    disc"), "{}", ran.out);
}

#[test]
fn line_ends_and_the_mark_at_the_start_stay() {
    let bench = Bench::new();
    let with = |text: &str| format!("\u{FEFF}{}", text.replace('\n', "\r\n"));
    bench.file("cup.vessel", with(&bad()));
    bench.run(&["check", "--fix", "cup.vessel"]).says(0, &["2 fixes in 1 file"]);
    assert_eq!(bench.text("cup.vessel"), with(GOOD));
}

#[test]
fn standard_input_is_refused() {
    let bench = Bench::new();
    for option in ["--fix", "--diff"] {
        let ran = bench.run_on(bad(), &["check", option, "-"]).says(2, &["fix/standard-input", "not supported"]);
        assert_eq!(ran.out, "");
    }
    bench.run(&["check", "--fix", "--diff", "cup.vessel"]).says(2, &["--diff"]);
}

#[test]
fn what_cannot_be_written_is_told_and_nothing_is_lost() {
    let bench = Bench::new();
    bench.file("a.vessel", bad()).file("b.vessel", bad());
    close(&bench.path("b.vessel"), 0o444);
    bench.run(&["check", "--fix", "a.vessel", "b.vessel"]).says(2, &["output/cannot-write", "`b.vessel`"]);
    assert_eq!((bench.text("a.vessel"), bench.text("b.vessel")), (bad(), bad()), "all or none");
    assert_eq!(bench.names("."), ["a.vessel", "b.vessel"]);
    bench.run(&["check", "--diff", "b.vessel"]).says(1, &[]);
    bench.file("c.vessel", [0xff]);
    bench.run(&["check", "--fix", "a.vessel", "c.vessel"]).says(2, &["file/not-utf-8"]);
    assert_eq!(bench.text("a.vessel"), bad(), "a file that cannot be read may use it");
}

#[test]
fn a_closed_folder_is_told() {
    let bench = Bench::new();
    if bench.is_root_skipping("a closed folder is told") {
        return;
    }
    bench.file("closed/a.vessel", bad());
    close(&bench.path("closed"), 0o555);
    bench.run(&["check", "--fix", "closed/a.vessel"]).says(2, &["output/cannot-write", "closed/a.vessel"]);
    assert_eq!(bench.text("closed/a.vessel"), bad());
    close(&bench.path("closed"), 0o755);
}

#[test]
fn links_are_followed_within_the_project_only() {
    let bench = Bench::new();
    bench.file("outside.vessel", bad()).file("project/shelf/cup.vessel", bad());
    fs::create_dir(bench.path("project/.git")).unwrap();
    symlink("shelf/cup.vessel", bench.path("project/near.vessel")).unwrap();
    symlink("../outside.vessel", bench.path("project/far.vessel")).unwrap();
    bench.run(&["check", "--fix", "project/far.vessel"]).says(2, &["file/link-outside", "project/far.vessel"]);
    assert_eq!(bench.text("outside.vessel"), bad());
    bench.run(&["check", "--fix", "project/near.vessel"]).says(0, &["2 fixes in 1 file"]);
    assert_eq!(bench.text("project/shelf/cup.vessel"), GOOD);
    assert!(fs::symlink_metadata(bench.path("project/near.vessel")).unwrap().is_symlink(), "the link stays");
}

#[test]
fn only_files_that_are_named_are_written() {
    let bench = Bench::new();
    let using = GOOD.replace("units mm\n", "units mm\nuse \"shop.vessel\"\n");
    bench.file("cup.vessel", &using).file("shop.vessel", "units mm\nshop { kerf: 3 }\n");
    let ran = bench.run(&["check", "--fix", "cup.vessel"]);
    ran.says(1, &["no fix was made", "1 fix in shop.vessel was left: name that file too to have it mended"]);
    assert_eq!(bench.text("shop.vessel"), "units mm\nshop { kerf: 3 }\n");
    bench.run(&["check", "--fix", "."]).says(0, &["2 recipes checked", "1 fix in 1 file"]);
    assert_eq!(bench.text("shop.vessel"), "units mm\nshop { kerf 3 }\n");
    assert_eq!(bench.text("cup.vessel"), using);
}
