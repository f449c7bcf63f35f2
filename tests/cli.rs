//! The program from outside: exit codes, streams, and all that can be wrong with files and folders.
//! Nothing here depends on what a recipe means.

#![cfg(unix)]
#![allow(clippy::unwrap_used, clippy::print_stderr)]

use std::fs;
use std::os::unix::fs::symlink;
use std::process::{Command, Stdio};

use crate::cli_support::{Bench, close};

/// A file that only others use, as far as any phase can tell.
const LIBRARY: &str = "units in\nshop { kerf 1/8 }\n";

fn mkfifo(bench: &Bench, name: &str) {
    assert!(Command::new("mkfifo").arg(bench.path(name)).status().unwrap().success());
}

#[test]
fn wrong_usage_is_2_and_help_is_0() {
    let bench = Bench::new();
    for args in
        [&[][..], &["chekc"], &["check"], &["build"], &["check", "a", "--format", "xml"], &["build", "a", "--force"]]
    {
        assert_eq!(bench.run(args).code, Some(2), "{args:?}");
    }
    for args in
        [&["--help"][..], &["check", "--help"], &["build", "--help"], &["new", "--help"], &["explain", "--help"]]
    {
        let ran = bench.run(args);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{args:?}");
        assert!(ran.out.contains("Exit codes:"), "{args:?}");
    }
}

#[test]
fn what_is_no_recipe_is_2_with_a_code_and_advice() {
    let bench = Bench::new();
    bench.file("binary.vessel", [0x7f, b'E', b'L', b'F', 0xff, 0, 1]).file("utf16.vessel", b"\xff\xfeu\0n\0");
    bench.file("folder/x.txt", "");
    fs::File::create(bench.path("large.vessel")).unwrap().set_len(100 << 20).unwrap();
    mkfifo(&bench, "pipe.vessel");
    let cases = [
        ("missing.vessel", "file/not-found", "check the spelling"),
        ("binary.vessel", "file/not-utf-8", "byte 4"),
        ("utf16.vessel", "file/not-utf-8", "save it as UTF-8"),
        ("large.vessel", "file/too-large", "4 MiB"),
        ("pipe.vessel", "file/not-a-file", "standard input"),
        ("/dev/zero", "file/not-a-file", "not a plain file"),
        ("binary.vessel/x", "file/not-found", "there is no `binary.vessel/x`"),
    ];
    for (name, code, words) in cases {
        for command in ["check", "build"] {
            let ran = bench.run(&[command, name]).says(2, &[code, words, name]);
            assert_eq!(ran.out, "");
        }
    }
    bench.run(&["build", "folder"]).says(2, &["build/no-folder", "`folder` is a folder"]);
    bench.run(&["check", "folder"]).says(2, &["file/no-recipes", "`folder`"]);
}

#[test]
fn a_closed_file_and_a_closed_folder_are_told() {
    let bench = Bench::new();
    if bench.is_root_skipping("a closed file and a closed folder are told") {
        return;
    }
    bench.file("closed.vessel", "").file("closed/x.vessel", "");
    close(&bench.path("closed.vessel"), 0o000);
    close(&bench.path("closed"), 0o000);
    bench.run(&["check", "closed.vessel"]).says(2, &["file/cannot-read", "Permission denied"]);
    bench.run(&["check", "closed"]).says(2, &["file/cannot-read", "Permission denied"]);
    close(&bench.path("closed"), 0o700);
}

#[test]
fn one_bad_file_does_not_keep_the_others_from_being_checked() {
    let bench = Bench::new();
    bench.file("a.vessel", [0xff]).file("b.vessel", LIBRARY).file("c.vessel", [0xfe]);
    let ran = bench.run(&["check", "--format", "json", "."]).says(2, &["a.vessel", "c.vessel"]);
    assert!(ran.out.starts_with('['), "the findings of the others: {}", ran.out);
}

#[test]
fn failures_come_in_every_format() {
    let bench = Bench::new();
    let run = |format| bench.run(&["check", "no.vessel", "--format", format]).says(2, &[]);
    assert_eq!(run("short").err, "error[file/not-found]: there is no `no.vessel`\n");
    let json: serde_json::Value = serde_json::from_str(&run("json").err).unwrap();
    assert_eq!(json["error"]["code"], "file/not-found");
    assert_eq!(json["error"]["message"], "there is no `no.vessel`");
    assert!(json["error"]["help"].is_string());
    insta::assert_snapshot!(run("human").err, @r#"
    file/not-found

      × there is no `no.vessel`
      help: check the spelling, and in which folder you are
    "#);
    insta::assert_snapshot!(run("narrated").err, @r#"
    there is no `no.vessel`
        Diagnostic severity: error
    diagnostic help: check the spelling, and in which folder you are
    diagnostic code: file/not-found
    "#);
}

#[test]
fn folders_are_searched_in_order_but_not_everywhere() {
    let bench = Bench::new();
    for name in
        ["b.vessel", "a/x.vessel", "c.txt", ".git/y.vessel", "target/z.vessel", "a/target/z.vessel", ".w.vessel"]
    {
        bench.file(name, LIBRARY);
    }
    symlink("a", bench.path("linked")).unwrap();
    symlink("..", bench.path("a/up")).unwrap();
    symlink("nowhere", bench.path("dangling.vessel")).unwrap();
    mkfifo(&bench, "pipe.vessel");
    bench.run(&["check", "."]).says(0, &["3 recipes checked"]);
    bench.run(&["check", "linked", ".git", "b.vessel", "b.vessel"]).says(0, &["3 recipes checked"]);
}

#[test]
fn standard_input_is_a_recipe_too() {
    let bench = Bench::new();
    bench.run_on(LIBRARY, &["check", "-"]).says(0, &["1 recipe checked"]);
    bench.run_on([0xff], &["check", "-"]).says(2, &["file/not-utf-8", "<stdin>"]);
    bench.run_on(vec![b'#'; 5 << 20], &["check", "-"]).says(2, &["file/too-large", "<stdin>"]);
}

#[test]
fn color_is_for_terminals_or_on_demand() {
    let bench = Bench::new();
    let has_color = |args: &[&str], no_color: Option<&str>| {
        let mut command = bench.command(args);
        if let Some(value) = no_color {
            command.env("NO_COLOR", value);
        }
        command.output().unwrap().stderr.contains(&0x1b)
    };
    assert!(!has_color(&["check", "no.vessel"], None), "a pipe is no terminal");
    assert!(!has_color(&["check", "no.vessel", "--color", "never"], None));
    assert!(has_color(&["check", "no.vessel", "--color", "always"], None));
    assert!(has_color(&["--color", "always", "check", "no.vessel"], Some("1")), "who asks for it gets it");
}

/// `script` gives the program a terminal; where it is not there, this is not tested.
#[test]
fn on_a_terminal_there_is_color_unless_no_color_is_set() {
    let bench = Bench::new();
    let program = env!("CARGO_BIN_EXE_ringwright");
    let on_terminal = |no_color: &str| {
        let line = format!("'{program}' check no.vessel");
        let mut script = Command::new("script");
        script.args(["-qec", &line, "/dev/null"]).current_dir(bench.path("")).env("TERM", "xterm");
        script.env("NO_COLOR", no_color).stdin(Stdio::null());
        script.output().ok().filter(|output| !output.stdout.is_empty()).map(|output| output.stdout)
    };
    let (Some(plain), Some(colored)) = (on_terminal("1"), on_terminal("")) else {
        eprintln!("SKIPPED, as there is no `script` here: color on a terminal");
        return;
    };
    assert!(!plain.contains(&0x1b));
    assert!(colored.contains(&0x1b), "an empty NO_COLOR says nothing");
}

#[test]
fn a_reader_who_has_gone_is_no_failure_but_a_full_disk_is() {
    let bench = Bench::new();
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let mut child = bench.command(&["explain"]).stdout(writer).stderr(Stdio::piped()).spawn().unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(0));
    if let Ok(full) = fs::OpenOptions::new().write(true).open("/dev/full") {
        let output = bench.command(&["explain"]).stdout(full).output().unwrap();
        assert_eq!(output.status.code(), Some(2));
        assert!(String::from_utf8(output.stderr).unwrap().contains("output/cannot-print"));
    }
}

#[test]
fn explain_tells_of_every_code() {
    let bench = Bench::new();
    let all = bench.run(&["explain"]).says(0, &[]);
    for code in ringwright::finding::catalog::CODES {
        assert!(all.out.contains(code.name));
        let page = bench.run(&["explain", code.name]).says(0, &[]).out;
        assert!(page.starts_with(&format!("{} ({}): {}\n", code.name, code.severity.word(), code.summary)), "{page}");
    }
    let slip = bench.run(&["explain", "ring/does-not-covr"]).says(2, &["usage/unknown-code", "`ring/does-not-cover`"]);
    assert_eq!(slip.out, "");
}

#[test]
fn schema_is_the_product() {
    let ran = Bench::new().run(&["schema"]).says(0, &[]);
    assert_eq!((ran.out, ran.err), (ringwright::output::schema(), String::new()));
}

#[test]
fn new_writes_a_recipe_and_overwrites_none() {
    let bench = Bench::new();
    bench.run(&["new", "rye-crock"]).says(0, &["rye-crock.vessel"]);
    let text = bench.text("rye-crock.vessel");
    assert!(text.contains("vessel \"Rye crock\" {"), "{text}");
    assert!(text.starts_with("# Rye crock") && text.ends_with("}\n"));
    bench.file("rye-crock.vessel", "mine");
    bench.run(&["new", "rye-crock"]).says(2, &["new/exists", "`rye-crock.vessel`"]);
    bench.run(&["new", "rye-crock.vessel"]).says(2, &["new/exists"]);
    assert_eq!(bench.text("rye-crock.vessel"), "mine");

    symlink("victim", bench.path("link.vessel")).unwrap();
    bench.run(&["new", "link"]).says(2, &["new/exists"]);
    assert!(!bench.path("victim").exists(), "a dangling link is not followed");

    bench.run(&["new", "no/such/folder"]).says(2, &["output/cannot-write", "see that the folder is there"]);
    bench.run(&["new", "rye-crock.vessel/x"]).says(2, &["output/cannot-write"]);
    bench.run(&["new", "a/.."]).says(2, &["new/no-name"]);
    let before = bench.names("");
    bench.run(&["new", ""]).says(2, &[]);
    assert_eq!(bench.names(""), before);
}

#[test]
fn two_recipes_for_one_folder_are_refused_before_anything_is_read() {
    let bench = Bench::new();
    bench
        .run(&["build", "a/bowl.vessel", "b/Bowl.vessel", "-o", "out"])
        .says(2, &["output/same-folder", "`a/bowl.vessel`", "`b/Bowl.vessel`"]);
    assert!(!bench.path("out").exists());
}

#[test]
fn a_library_has_nothing_to_build() {
    let bench = Bench::new();
    bench.file("workshop.vessel", LIBRARY);
    bench.run(&["build", "workshop.vessel", "-o", "out"]).says(2, &["build/no-vessel"]);
    assert!(!bench.path("out").exists());
}
