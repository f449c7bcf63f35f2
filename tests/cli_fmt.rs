//! `fmt` from outside: what is written, named and shown, what is told, what is left alone.

#![allow(clippy::unwrap_used, clippy::print_stderr, clippy::disallowed_methods)]

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::cli_support::Bench;

const UGLY: &str = "units   mm\n# a cup\nvessel \"Cup\"   {\n\n      wall 9\n floor   10 # thin\n}";
const TIDY: &str = "units mm\n# a cup\nvessel \"Cup\" {\n  wall  9\n  floor 10  # thin\n}\n";

#[test]
fn files_and_folders_are_written_in_the_one_layout() {
    let bench = Bench::new();
    bench.file("a.vessel", UGLY).file("more/b.vessel", UGLY.replace('\n', "\r\n")).file("more/c.vessel", TIDY);
    bench.file("more/notes.txt", UGLY);
    let before = fs::metadata(bench.path("more/c.vessel")).unwrap().modified().unwrap();
    let ran = bench.run(&["fmt", "a.vessel", "more"]).says(0, &["2 recipes formatted, 1 as before\n"]);
    assert_eq!(ran.out, "");
    assert_eq!(bench.text("a.vessel"), TIDY);
    assert_eq!(bench.text("more/b.vessel"), TIDY.replace('\n', "\r\n"));
    assert_eq!(bench.text("more/notes.txt"), UGLY);
    assert_eq!(fs::metadata(bench.path("more/c.vessel")).unwrap().modified().unwrap(), before, "it was not written");
    assert_eq!(bench.names("."), ["a.vessel", "more"], "nothing is left beside it");
    bench.run(&["fmt"]).says(0, &["0 recipes formatted, 3 as before\n"]);
}

#[test]
fn check_names_what_would_change_and_writes_nothing() {
    let bench = Bench::new();
    bench.file("a.vessel", UGLY).file("b.vessel", TIDY);
    let ran = bench.run(&["fmt", "--check", "."]).says(1, &["2 recipes checked: 1 to be formatted"]);
    assert_eq!(ran.out, "a.vessel\n");
    assert_eq!(bench.text("a.vessel"), UGLY);
    let ran = bench.run(&["fmt", "--check", "b.vessel"]).says(0, &["1 recipe checked: formatted\n"]);
    assert_eq!(ran.out, "");
    let ran = bench.run_on(UGLY, &["fmt", "--check", "-"]);
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (Some(1), "<stdin>\n", ""));
    assert_eq!(bench.run(&["fmt", "--check", "--diff", "."]).code, Some(2));
}

#[test]
fn diff_is_a_patch_that_gives_what_fmt_writes() {
    let bench = Bench::new();
    bench.file("a.vessel", UGLY).file("b.vessel", TIDY);
    let ran = bench.run(&["fmt", "--diff", "."]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(1), ""));
    assert!(ran.out.starts_with("--- a/a.vessel\n+++ b/a.vessel\n@@ "), "{}", ran.out);
    assert!(!ran.out.contains("b.vessel\n@@ -1,6"), "{}", ran.out);
    assert_eq!(bench.text("a.vessel"), UGLY, "nothing is written");
    bench.file("a.patch", &ran.out);
    let patched = Command::new("git").args(["apply", "a.patch"]).current_dir(bench.path(".")).status();
    match patched {
        Ok(status) => {
            assert!(status.success());
            assert_eq!(bench.text("a.vessel"), TIDY);
        }
        Err(error) => eprintln!("skipped: no git to apply the patch: {error}"),
    }
    bench.file("a.vessel", TIDY);
    let ran = bench.run(&["fmt", "--diff", "."]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(0), ""));
}

#[test]
fn standard_input_goes_to_standard_output() {
    let bench = Bench::new();
    let ran = bench.run_on(UGLY, &["fmt", "-"]);
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (Some(0), TIDY, ""));
    let ran = bench.run_on(TIDY, &["fmt", "-"]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(0), TIDY));
    let ran = bench.run_on("", &["fmt", "-"]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(0), ""));
    let ran = bench.run_on("a  ;\nb   1", &["fmt", "--format", "short", "-"]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(1), "a  ;\nb 1\n"));
    assert!(ran.err.contains("error[syntax/unreadable]"), "{}", ran.err);
}

#[test]
fn a_line_that_cannot_be_read_is_told_and_keeps_its_bytes() {
    let bench = Bench::new();
    bench.file("a.vessel", UGLY.replace("wall 9", "wall:   9"));
    bench.run(&["fmt", "a.vessel"]).says(1, &["error[syntax/unreadable]", "a.vessel:5:11", "1 recipe formatted"]);
    let kept = TIDY.replace("  wall  9\n", "      wall:   9\n");
    assert_eq!(bench.text("a.vessel"), kept);
    bench.run(&["fmt", "a.vessel"]).says(1, &["error[syntax/unreadable]", "0 recipes formatted, 1 as before"]);
    assert_eq!(bench.text("a.vessel"), kept);
    let ran = bench.run(&["fmt", "--format", "short", "a.vessel"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.out.starts_with("a.vessel:4:11: error[syntax/unreadable]"), "{}", ran.out);
}

#[test]
fn what_cannot_be_read_keeps_no_other_from_being_formatted() {
    let bench = Bench::new();
    bench.file("a.vessel", [0xff, 0xfe]).file("b.vessel", UGLY);
    bench.run(&["fmt", "a.vessel", "b.vessel", "missing.vessel"]).says(2, &["file/not-utf-8", "file/not-found"]);
    assert_eq!(bench.text("b.vessel"), TIDY);
    bench.run(&["fmt", "--check", "empty"]).says(2, &["file/not-found"]);
}

#[cfg(unix)]
#[test]
fn files_keep_their_permissions_and_links_their_targets() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let bench = Bench::new();
    bench.file("project/.git/HEAD", "").file("project/a.vessel", UGLY).file("far.vessel", UGLY);
    crate::cli_support::close(&bench.path("project/a.vessel"), 0o640);
    symlink("a.vessel", bench.path("project/link.vessel")).unwrap();
    bench.run(&["fmt", "project"]).says(0, &["1 recipe formatted, 0 as before"]);
    assert_eq!(bench.text("project/a.vessel"), TIDY);
    assert_eq!(fs::metadata(bench.path("project/a.vessel")).unwrap().permissions().mode() & 0o777, 0o640);
    assert!(bench.path("project/link.vessel").is_symlink());
    symlink("../far.vessel", bench.path("project/far.vessel")).unwrap();
    bench.run(&["fmt", "project/far.vessel"]).says(2, &["file/link-outside"]);
    assert_eq!(bench.text("far.vessel"), UGLY);
    bench.file("closed.vessel", UGLY);
    crate::cli_support::close(&bench.path("closed.vessel"), 0o440);
    bench.run(&["fmt", "closed.vessel"]).says(2, &["output/cannot-write", "0 recipes formatted, 0 as before"]);
    assert_eq!(bench.text("closed.vessel"), UGLY);
}

#[test]
fn the_bundled_recipes_are_formatted() {
    let recipes = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let output = Command::new(env!("CARGO_BIN_EXE_ringwright")).args(["fmt", "--check"]).arg(recipes).output().unwrap();
    assert_eq!(String::from_utf8_lossy(&output.stdout), "");
    assert_eq!(output.status.code(), Some(0));
}

#[test]
fn the_starter_is_formatted() {
    let bench = Bench::new();
    bench.run(&["new", "cup"]).says(0, &[]);
    bench.run(&["fmt", "--check", "cup.vessel"]).says(0, &["formatted"]);
}
