//! `check` as CI uses it: logs, baselines, limits, many files at once.

#![cfg(unix)]
#![allow(clippy::unwrap_used, clippy::print_stderr)]

use std::fs;
use std::os::unix::fs::symlink;
use std::process::{Command, Stdio};

use crate::cli_support::{Bench, Ran};
use serde_json::Value;

const FORMATS: [&str; 5] = ["human", "narrated", "short", "json", "sarif"];

/// A cup with one warning, on the line of its second ring.
const CUP: &str = "units mm
vessel \"Cup\" {
  outside { at 0 diameter 90   at 64 diameter 90 }
  wall 9
  floor 10
  every ring { segments 12  thick 18 }
  body {
    disc walnut thick 10
    ring [maple*4 walnut]
    ring maple
    ring cherry
  }
}
";

fn bench() -> Bench {
    let bench = Bench::new();
    bench.file("cup.vessel", CUP);
    bench
}

fn warned(bench: &Bench, args: &[&str]) -> usize {
    let args = [&["check", "--format", "short"], args].concat();
    bench.run(&args).out.lines().count()
}

fn sarif(ran: &Ran) -> Value {
    serde_json::from_str(&ran.out).unwrap()
}

#[test]
fn sarif_is_the_product_and_names_no_folder_of_the_machine() {
    let bench = bench();
    bench.file("boxes/my böx 100%.vessel", CUP);
    let ran = bench.run(&["check", ".", "--format", "sarif"]).says(0, &[]);
    assert_eq!(ran.err, "");
    let log = sarif(&ran);
    let uris: Vec<&str> = log["runs"][0]["results"]
        .as_array()
        .unwrap()
        .iter()
        .map(|result| result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"].as_str().unwrap())
        .collect();
    assert!(uris.contains(&"boxes/my%20b%C3%B6x%20100%25.vessel") && uris.contains(&"cup.vessel"), "{uris:?}");
    let folder = fs::canonicalize(bench.path("")).unwrap();
    let absolute = bench.run(&["check", &folder.to_string_lossy(), "--format", "sarif"]);
    assert_eq!(absolute.out, ran.out, "named absolutely it is the same log");
    let piped = bench.run_on(CUP, &["check", "-", "--format", "sarif"]).says(0, &[]);
    assert!(piped.out.contains("\"uri\": \"stdin\""), "{}", piped.out);
    bench.file("clean.vessel", "units in\nshop { kerf 1/8 }\n");
    let clean = bench.run(&["check", "clean.vessel", "--format", "sarif"]).says(0, &[]);
    assert_eq!(sarif(&clean)["runs"][0]["results"], serde_json::json!([]));
}

/// A log without results must not be taken for one of recipes without findings.
#[test]
fn a_log_says_what_could_not_be_looked_at() {
    let bench = bench();
    bench.file("latin.vessel", b"vessel \"\xfc\"");
    let log =
        sarif(&bench.run(&["check", "cup.vessel", "latin.vessel", "none.vessel", "--format", "sarif"]).says(2, &[]));
    let invocation = &log["runs"][0]["invocations"][0];
    assert_eq!(invocation["executionSuccessful"], false);
    let told = invocation["toolExecutionNotifications"].as_array().unwrap();
    let ids: Vec<&str> = told.iter().map(|one| one["descriptor"]["id"].as_str().unwrap()).collect();
    assert_eq!(ids, ["file/not-utf-8", "file/not-found"]);
    assert!(told[1]["message"]["text"].as_str().unwrap().contains("none.vessel"), "{told:?}");
    let well = sarif(&bench.run(&["check", "cup.vessel", "--format", "sarif"]));
    assert!(well["runs"][0].get("invocations").is_none(), "{well:#}");
}

#[test]
fn one_file_is_checked_once_however_it_is_named() {
    let bench = bench();
    let ran = bench.run(&["check", "cup.vessel", "./cup.vessel", ".//cup.vessel", "."]);
    let once = bench.run(&["check", "cup.vessel"]);
    assert_eq!(ran.err, once.err);
}

#[test]
fn a_build_writes_the_same_log() {
    let bench = bench();
    bench.run(&["build", "cup.vessel", "-o", "out"]).says(0, &[]);
    let checked = bench.run(&["check", "cup.vessel", "--format", "sarif"]);
    assert_eq!(bench.text("out/findings.sarif"), checked.out);
    bench.run(&["new", "bowl"]).says(0, &[]);
    bench.run(&["build", "bowl.vessel", "-o", "clean"]).says(0, &[]);
    let log: Value = serde_json::from_str(&bench.text("clean/findings.sarif")).unwrap();
    assert_eq!(log["runs"][0]["results"], serde_json::json!([]), "also when there is nothing to tell");
    let path = bench.path("cup.vessel");
    bench.run(&["build", &path.to_string_lossy(), "-o", "absolute"]).says(0, &[]);
    assert_eq!(bench.text("absolute/findings.sarif"), checked.out);
}

#[test]
fn what_is_in_the_baseline_is_not_told() {
    let bench = bench();
    let before = warned(&bench, &["cup.vessel"]);
    assert!(before >= 1);
    let written = bench.run(&["check", ".", "--write-baseline", "known.json"]);
    let written = written.says(0, &["written to known.json", "1 recipe checked: no findings"]);
    assert!(!written.err.contains("warning["), "{}", written.err);
    let file: Value = serde_json::from_str(&bench.text("known.json")).unwrap();
    assert_eq!(file["version"], 1);
    assert_eq!(file["entries"].as_array().unwrap().len(), before);
    assert_eq!(file["entries"][0]["file"], "cup.vessel");
    assert!(bench.text("known.json").ends_with("}\n"));
    let args = ["check", ".", "--baseline", "known.json"];
    bench.run(&args).says(0, &["of known.json left out\n", "no findings"]);

    // Lines above, another order of what has nothing to do with it: still known.
    let moved = CUP.replace("vessel \"Cup\"", "# mine\n\nvessel \"Cup\"");
    let moved = moved.replace("    ring maple\n    ring cherry\n", "    ring cherry\n    ring maple\n");
    bench.file("cup.vessel", moved);
    assert_eq!(warned(&bench, &[".", "--baseline", "known.json"]), 0);

    // The same once more is new.
    bench.file("other.vessel", CUP);
    let ran = bench.run(&["check", ".", "--baseline", "known.json", "--format", "short"]).says(0, &["left out"]);
    assert_eq!(ran.out.lines().count(), before);
    assert!(ran.out.starts_with("other.vessel:"), "{}", ran.out);
    let json = bench.run(&["check", ".", "--baseline", "known.json", "--format", "json"]);
    assert_eq!(serde_json::from_str::<Vec<Value>>(&json.out).unwrap().len(), before);
    let log = bench.run(&["check", ".", "--baseline", "known.json", "--format", "sarif"]);
    assert_eq!(sarif(&log)["runs"][0]["results"].as_array().unwrap().len(), before);
}

#[test]
fn two_equal_findings_are_two_and_errors_can_be_known_too() {
    let bench = Bench::new();
    let bad = CUP.replace("ring maple", "ring mapel").replace("ring cherry", "ring mapel");
    bench.file("cup.vessel", &bad);
    bench.run(&["check", "cup.vessel"]).says(1, &["wood/unknown"]);
    bench.run(&["check", "cup.vessel", "--write-baseline", "known.json"]).says(0, &[]);
    bench.run(&["check", "cup.vessel", "--baseline", "known.json"]).says(0, &["left out"]);
    bench.run(&["build", "cup.vessel", "-o", "out"]).says(1, &["wood/unknown"]);
    bench.file("cup.vessel", bad.replace("    ring mapel\n", "    ring mapel\n    ring mapel\n"));
    bench.run(&["check", "cup.vessel", "--baseline", "known.json"]).says(1, &["error[wood/unknown]"]);
}

#[test]
fn entries_that_no_longer_occur_are_counted_and_taken_out() {
    let bench = bench();
    bench.file("old/gone.vessel", CUP).file("old/kept.vessel", CUP);
    bench.run(&["check", ".", "--write-baseline", "known.json"]).says(0, &[]);
    let all = bench.text("known.json");
    bench.file("cup.vessel", CUP.replace("[maple*4 walnut]", "[maple walnut]"));
    fs::remove_file(bench.path("old/gone.vessel")).unwrap();
    // One file alone: what is known of the others is not held to be gone, unless they are.
    let args = ["check", "cup.vessel", "--baseline", "known.json"];
    bench.run(&args).says(0, &["no longer occur", "--write-baseline to shrink it"]);
    assert_eq!(bench.text("known.json"), all, "only asked for it is written");
    bench.file("new.vessel", CUP);
    let shrink = ["check", ".", "--baseline", "known.json", "--write-baseline", "known.json"];
    bench.run(&shrink).says(0, &["new.vessel", "taken out of known.json"]);
    let text = bench.text("known.json");
    assert!(text.contains("old/kept.vessel"), "{text}");
    assert!(!text.contains("gone.vessel") && !text.contains("new.vessel"), "{text}");
    assert!(text.len() < all.len());
    let again = bench.run(&["check", "old", "--baseline", "known.json"]);
    assert!(!again.err.contains("no longer"), "{}", again.err);
}

#[test]
fn what_is_no_baseline_is_neither_read_nor_overwritten() {
    let bench = bench();
    let versions = "{\"version\": 2, \"entries\": [], \"more\": 1}";
    let cases = [
        ("text.txt", "hello", "expected"),
        ("other.json", "{\"entries\": []}", "`version`"),
        ("cut.json", "{\"version\": 1, \"entries\": [{\"finger", "EOF"),
        ("later.json", versions, "of version 2"),
        ("odd.json", "{\"version\": 1, \"entries\": [], \"x\": 1}", "unknown field `x`"),
        ("empty.json", "", "EOF"),
    ];
    for (name, text, words) in cases {
        bench.file(name, text);
        for flag in ["--baseline", "--write-baseline"] {
            let ran = bench.run(&["check", "cup.vessel", flag, name]);
            ran.says(2, &["check/not-a-baseline", name, words]);
        }
        assert_eq!(bench.text(name), text);
    }
    bench.run(&["check", "cup.vessel", "--baseline", "no.json"]).says(2, &["file/not-found", "`no.json`"]);
    bench.run(&["check", "cup.vessel", "--baseline", "."]).says(2, &["file/not-a-file"]);
    bench.file("victim", "precious");
    symlink("victim", bench.path("link.json")).unwrap();
    bench.run(&["check", "cup.vessel", "--write-baseline", "link.json"]).says(2, &["output/not-replaceable"]);
    assert_eq!(bench.text("victim"), "precious");
    bench.run(&["check", "cup.vessel", "--write-baseline", "no/such/x.json"]).says(2, &["output/cannot-write"]);
    // A recipe that could not be read: what was found is not all, and is not written down as such.
    bench.run(&["check", "cup.vessel", "no.vessel", "--write-baseline", "half.json"]).says(2, &["file/not-found"]);
    assert!(!bench.path("half.json").exists());
    assert!(bench.names("").iter().all(|name| !name.contains(".tmp")));
}

#[test]
fn too_many_findings_deny() {
    let bench = bench();
    let count = warned(&bench, &["cup.vessel"]);
    let limit = |most: usize, more: &[&str]| {
        let most = most.to_string();
        bench.run(&[&["check", "cup.vessel", "--max-findings", &most], more].concat())
    };
    let told = limit(count, &[]).says(0, &[]);
    assert!(!told.err.contains("--max-findings"));
    let words = format!("more than the {} that --max-findings allows\n", count - 1);
    for format in FORMATS {
        limit(count - 1, &["--format", format]).says(1, &[&format!("{count} finding"), &words]);
    }
    limit(0, &["--write-baseline", "known.json"]).says(0, &[]);
    limit(0, &["--baseline", "known.json"]).says(0, &[]);
    bench.run(&["check", "cup.vessel", "--max-findings", "few"]).says(2, &["--max-findings"]);
}

/// Enough recipes of all kinds, some with findings in their own and in a common file, some that cannot be read.
fn many() -> Bench {
    let bench = Bench::new();
    let recipes = concat!(env!("CARGO_MANIFEST_DIR"), "/recipes");
    for name in crate::cli_support::names(recipes.as_ref()) {
        if fs::metadata(format!("{recipes}/{name}")).unwrap().is_file() {
            fs::copy(format!("{recipes}/{name}"), bench.path(&name)).unwrap();
        }
    }
    bench.file("common.vessel", "units mm\nshop { kerff 3 }\n");
    for number in 0..60 {
        let text = match number % 4 {
            0 => CUP.to_owned(),
            1 => CUP.replace("[maple*4 walnut]", "[maple walnut]"),
            2 => CUP.replace("units mm", "use \"common.vessel\"\nunits mm"),
            _ => CUP.replace("ring cherry", "repeat 40 { ring chery }"),
        };
        bench.file(&format!("many/{number:02}.vessel"), text.replace("common", "../common"));
    }
    bench.file(".git/x", "").file("many/30b.vessel", [0xff]).file("many/50b.vessel", [0xfe]);
    bench
}

#[test]
fn many_threads_say_what_one_says() {
    let bench = many();
    for format in FORMATS {
        let run = |threads: &str| {
            let mut command = bench.command(&["check", ".", "--format", format]);
            command.env("RAYON_NUM_THREADS", threads).output().unwrap()
        };
        let one = run("1");
        assert_eq!(one.status.code(), Some(2), "two files cannot be read");
        assert!(one.stdout.len() + one.stderr.len() > 1000);
        assert!(run("8") == one, "{format}");
    }
    fs::remove_file(bench.path("many/30b.vessel")).unwrap();
    fs::remove_file(bench.path("many/50b.vessel")).unwrap();
    let baseline = |threads: &str, name: &str| {
        let mut command = bench.command(&["check", ".", "--write-baseline", name]);
        assert!(command.env("RAYON_NUM_THREADS", threads).status().unwrap().success());
        bench.text(name)
    };
    assert_eq!(baseline("1", "one.json"), baseline("8", "eight.json"));
}

/// `script` gives the program a terminal; where it is not there, this is not tested.
#[test]
fn a_bar_is_for_a_long_run_on_a_terminal_alone() {
    let bench = Bench::new();
    let layers = "    ring maple\n".repeat(800);
    let slow = CUP.replace("    ring maple\n", &layers);
    for number in 0..40 {
        bench.file(&format!("{number:02}.vessel"), &slow);
    }
    let program = env!("CARGO_BIN_EXE_ringwright");
    let on_terminal = |ci: &str, files: &str| {
        let line = format!("'{program}' check {files} > /dev/null");
        let mut script = Command::new("script");
        script.args(["-qec", &line, "/dev/null"]).current_dir(bench.path("")).env("TERM", "xterm").env("CI", ci);
        script.env("RAYON_NUM_THREADS", "2").stdin(Stdio::null());
        let output = script.output().ok().filter(|output| !output.stdout.is_empty())?;
        Some(String::from_utf8_lossy(&output.stdout).into_owned())
    };
    let bar = "of 40 recipes";
    let Some(shown) = on_terminal("", ".") else {
        eprintln!("SKIPPED, as there is no `script` here: a bar on a terminal");
        return;
    };
    assert!(shown.contains(bar), "{shown}");
    // The last bar is wiped before the run says what it came to.
    let (_, after) = shown.rsplit_once(bar).unwrap();
    assert!(after.contains("\u{1b}[2K") && after.contains("40 recipes checked"), "{after:?}");
    assert!(!on_terminal("true", ".").unwrap().contains(bar), "a log that CI keeps has none");
    assert!(!on_terminal("", "00.vessel").unwrap().contains("of 1 recipes"), "a short run has none");
    let piped = bench.run(&["check", "."]);
    assert!(!piped.err.contains(bar) && !piped.out.contains(bar));
}

#[test]
fn codes_are_listed_for_scripts_and_by_family() {
    let bench = Bench::new();
    let list = bench.run(&["explain", "--list"]).says(0, &[]);
    assert_eq!(list.err, "");
    let lines: Vec<&str> = list.out.lines().collect();
    assert_eq!(lines.len(), ringwright::finding::catalog::CODES.len());
    for (line, code) in lines.iter().zip(ringwright::finding::catalog::CODES) {
        let mut words = line.split_whitespace();
        assert_eq!((words.next(), words.next()), (Some(code.name), Some(code.severity.word())));
        assert!(line.ends_with(&format!("  {}", code.summary)));
    }
    let family = bench.run(&["explain", "ring"]).says(0, &[]).out;
    assert!(family.starts_with("ring\n  ring/does-not-cover ") && !family.contains("wall/"), "{family}");
    bench.run(&["explain", "rign"]).says(2, &["usage/unknown-code", "`ring`"]);
    bench.run(&["explain", "ring", "--list"]).says(2, &["--list"]);
}
