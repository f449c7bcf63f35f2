//! What goes wrong around the program, really done: a disk that is full, a kill in the midst of writing, a closed folder,
//! a reader who leaves, two builds at once. Nothing is lost, nothing is half written, and it is told.

#![cfg(unix)]
#![allow(clippy::unwrap_used)]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::collections::BTreeMap;
use std::fs;
use std::os::unix::fs::PermissionsExt as _;
use std::os::unix::process::CommandExt as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use crate::cli_support::{Bench, skipped};

const PROGRAM: &str = env!("CARGO_BIN_EXE_ringwright");

/// Two recipes of different bytes for the same documents, and what each becomes.
fn bench() -> (Bench, [Files; 2]) {
    let bench = Bench::new();
    bench.run(&["new", "bowl"]).says(0, &[]);
    let text = bench.text("bowl.vessel");
    // A comment in front moves every place in the design, and another name stands on every page.
    bench.file("a.vessel", text.replacen("vessel \"", "vessel \"A ", 1));
    bench.file("b.vessel", format!("# again\n{}", text.replacen("vessel \"", "vessel \"B ", 1)));
    let whole = ["a", "b"].map(|name| {
        bench.run(&["build", &format!("{name}.vessel"), "-o", name]).says(0, &[]);
        files(&bench.path(name))
    });
    assert!(whole[0].keys().eq(whole[1].keys()) && whole[0]["design.json"] != whole[1]["design.json"]);
    (bench, whole)
}

type Files = BTreeMap<String, Vec<u8>>;

/// All documents of a folder; what is written beside its place is none yet.
fn files(folder: &Path) -> Files {
    let Ok(entries) = fs::read_dir(folder) else { return Files::new() };
    let named = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    named
        .filter(|name| !name.starts_with('.'))
        .map(|name| (name.clone(), fs::read(folder.join(name)).unwrap()))
        .collect()
}

/// Names of what was written beside its place and never got there.
fn left_over(folder: &Path) -> Vec<String> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let named = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let is_left = |name: &String| name.as_str() != ".ringwright-build" && name.starts_with('.');
    named.filter(is_left).collect()
}

#[test]
fn a_kill_in_the_midst_of_writing_leaves_whole_files() {
    let (bench, whole) = bench();
    let out = bench.path("out");
    let start = Instant::now();
    bench.run(&["build", "a.vessel", "-o", "out"]).says(0, &[]);
    let takes = start.elapsed();
    let mut cut_short = 0;
    for turn in 0..40_u32 {
        let recipe = if turn % 2 == 0 { "b.vessel" } else { "a.vessel" };
        let mut build = bench.command(&["build", recipe, "-o", "out"]);
        let mut build = build.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        // Most of the time goes by before the writing begins.
        thread::sleep(takes / 2 + takes * turn / 60);
        let _ = build.kill();
        cut_short += u32::from(build.wait().unwrap().code().is_none());
        for (name, bytes) in files(&out) {
            let is_whole = whole.iter().any(|files| files.get(&name) == Some(&bytes));
            assert!(is_whole, "turn {turn}: {name} is neither of the one nor of the other");
        }
    }
    assert!(cut_short > 0, "none of the builds was cut short");
    // What was broken off is nobody's work: the next build needs no leave to go over it, and cleans up.
    bench.run(&["build", "b.vessel", "-o", "out"]).says(0, &[]);
    assert!(files(&out) == whole[1]);
    assert_eq!(left_over(&out), [""; 0]);
}

#[test]
fn what_a_killed_build_left_beside_is_taken_away_and_other_files_are_not() {
    let (bench, whole) = bench();
    for name in [
        "out/.design.json.4711-0.tmp",
        "out/.ringwright-build.12-3.tmp",
        // Of another design, which has as many layers.
        "out/.layer-0999.svg.12-40.tmp",
        "out/.notes.txt.4711-0.tmp",
        "out/.design.json.tmp",
    ] {
        bench.file(name, "half");
    }
    bench.run(&["build", "a.vessel", "-o", "out"]).says(0, &[]);
    assert!(files(&bench.path("out")) == whole[0]);
    let mut left = left_over(&bench.path("out"));
    left.sort();
    assert_eq!(left, [".design.json.tmp", ".notes.txt.4711-0.tmp"]);
}

#[test]
fn builds_into_one_folder_at_once_come_one_after_the_other() {
    let (bench, whole) = bench();
    let out = bench.path("out");
    for _ in 0..4 {
        let builds: Vec<_> = (0..6)
            .map(|at| {
                let recipe = if at % 2 == 0 { "a.vessel" } else { "b.vessel" };
                let mut build = bench.command(&["build", recipe, "-o", "out"]);
                build.stdout(Stdio::null()).stderr(Stdio::piped()).spawn().unwrap()
            })
            .collect();
        for build in builds {
            let output = build.wait_with_output().unwrap();
            assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        }
        // All of one, whichever was last: no page of the other among them.
        let now = files(&out);
        assert!(whole.contains(&now), "a mixture of two builds");
        assert_eq!(left_over(&out), [""; 0]);
    }
}

/// A limit on the size of files stands for the disk: every system has it, and no leave is needed.
#[test]
fn where_a_document_has_no_room_nothing_is_written() {
    let (bench, whole) = bench();
    let limited = |args: &str| {
        // Blocks of 512 bytes, in some shells of 1,024; the signal would end the program before it could say anything.
        let line = format!("trap '' XFSZ; ulimit -f 40; exec '{PROGRAM}' {args}");
        let output = Command::new("sh").args(["-c", &line]).current_dir(bench.path("")).output().unwrap();
        (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
    };
    let (code, told) = limited("build b.vessel -o a");
    assert_eq!(code, Some(2), "{told}");
    assert!(told.contains("output/cannot-write") && told.contains("File too large"), "{told}");
    assert!(files(&bench.path("a")) == whole[0], "as it was");
    let (code, _) = limited("build b.vessel -o new");
    assert_eq!(code, Some(2));
    assert!(!bench.path("new").exists(), "no folder either");
    // A recipe that is laid out anew is the old one until the new one is whole.
    let long = format!("{}{}", bench.text("bowl.vessel"), "#   a long comment of the maker\n".repeat(2000))
        .replace("wall ", "wall    ");
    bench.file("long.vessel", &long);
    let (code, told) = limited("fmt long.vessel");
    assert_eq!(code, Some(2), "{told}");
    assert!(bench.text("long.vessel") == long);
    assert_eq!(left_over(&bench.path("")), [""; 0]);
}

/// A real one, where the test may mount it.
#[test]
fn a_full_disk_is_told_and_leaves_the_folder_as_it_was() {
    let (bench, whole) = bench();
    fs::create_dir(bench.path("disk")).unwrap();
    let size: usize = whole[0].values().map(|bytes| bytes.len().div_ceil(4096) * 4096).sum();
    // Room for one build and a little more, not for the second beside the first.
    let options = format!("size={}", size + size / 3);
    let mount = Command::new("mount")
        .args(["-t", "tmpfs", "-o", &options, "tmpfs", "disk"])
        .current_dir(bench.path(""))
        .output();
    if !mount.is_ok_and(|mounted| mounted.status.success()) {
        skipped("nothing can be mounted: a disk that is full");
        return;
    }
    let first = bench.run(&["build", "a.vessel", "-o", "disk/out"]);
    let second = bench.run(&["build", "b.vessel", "-o", "disk/out"]);
    let (now, left) = (files(&bench.path("disk/out")), left_over(&bench.path("disk/out")));
    let unmounted = Command::new("umount").arg(bench.path("disk")).status();
    first.says(0, &[]);
    second.says(2, &["output/cannot-write", "No space left on device"]);
    assert!(now == whole[0], "as it was");
    assert_eq!(left, [""; 0]);
    assert!(unmounted.unwrap().success());
}

fn close(bench: &Bench, name: &str, mode: u32) {
    fs::set_permissions(bench.path(name), fs::Permissions::from_mode(mode)).unwrap();
}

/// The program, run by somebody to whom permissions say something: to root they do not.
fn bounded(bench: &Bench, args: &[&str]) -> Command {
    close(bench, "", 0o755);
    fs::create_dir(bench.path("probe")).unwrap();
    close(bench, "probe", 0o555);
    let is_root = fs::File::create(bench.path("probe/file")).is_ok();
    fs::remove_dir_all(bench.path("probe")).unwrap();
    if !is_root {
        return bench.command(args);
    }
    fs::copy(PROGRAM, bench.path("program")).unwrap();
    close(bench, "program", 0o755);
    let mut command = Command::new(bench.path("program"));
    command.args(args).current_dir(bench.path("")).uid(65_534).gid(65_534);
    command
}

/// What lies beside a folder that cannot be searched is worked on, and the run says that it is not all.
#[test]
fn a_folder_that_cannot_be_searched_keeps_nothing_else_from_being_done() {
    let (bench, _) = bench();
    bench.file("tree/bowl.vessel", bench.text("bowl.vessel")).file("tree/closed/cup.vessel", "");
    close(&bench, "tree", 0o777);
    close(&bench, "tree/closed", 0);
    let run = |args: &[&str]| {
        let output = bounded(&bench, args).output().unwrap();
        let told = [output.stdout, output.stderr].map(|text| String::from_utf8(text).unwrap());
        assert_eq!(output.status.code(), Some(2), "{args:?}: {told:?}");
        told
    };
    let [_, err] = run(&["build", "tree", "-o", "tree/out"]);
    assert!(err.contains("tree/closed") && err.contains("1 built, "), "{err}");
    assert!(bench.path("tree/out/bowl/cut-list.md").is_file());
    let [_, err] = run(&["fmt", "--check", "tree"]);
    assert!(err.contains("tree/closed") && err.contains("1 recipe checked"), "{err}");
    let [_, err] = run(&["check", "tree"]);
    assert!(err.contains("file/cannot-read") && err.contains("tree/closed"), "{err}");
    let [log, _] = run(&["check", "tree", "--format", "sarif"]);
    let log: serde_json::Value = serde_json::from_str(&log).unwrap();
    let invocation = &log["runs"][0]["invocations"][0];
    assert_eq!(invocation["executionSuccessful"], false, "{log:#}");
    assert_eq!(invocation["toolExecutionNotifications"][0]["descriptor"]["id"], "file/cannot-read", "{log:#}");
    close(&bench, "tree/closed", 0o755);
}

#[test]
fn a_folder_that_is_closed_stays_as_it_was() {
    let (bench, whole) = bench();
    close(&bench, "a", 0o555);
    let output = bounded(&bench, &["build", "b.vessel", "-o", "a"]).output().unwrap();
    close(&bench, "a", 0o755);
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(told.contains("output/cannot-write") && told.contains("Permission denied"), "{told}");
    assert!(files(&bench.path("a")) == whole[0]);
    assert_eq!(left_over(&bench.path("a")), [""; 0]);
}

/// Help that nobody got is no success.
#[cfg(target_os = "linux")]
#[test]
fn help_to_a_full_disk_fails() {
    let (bench, _) = bench();
    for args in [&["--help"][..], &["--version"], &["build", "--help"]] {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let output = bench.command(args).stdout(full).output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{args:?}");
    }
}

/// `ringwright … | head -1`, for all that prints.
#[test]
fn a_reader_who_leaves_is_no_failure() {
    let (bench, _) = bench();
    bench.file("many.vessel", format!("units mm\n{}", "no-such-word 3\n".repeat(20_000)));
    for args in [
        &["build", "bowl.vessel"][..],
        &["check", "many.vessel", "--format", "short"],
        &["check", "many.vessel", "--format", "json"],
        &["check", "many.vessel", "--format", "sarif"],
        &["fmt", "--diff", "many.vessel"],
        &["why", "bowl.vessel"],
        &["diff", "a.vessel", "b.vessel"],
        &["explain", "--list"],
        &["schema"],
    ] {
        let mut child = bench.command(args).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        // Gone before, or in the midst of it.
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        let told = String::from_utf8_lossy(&output.stderr);
        assert!(matches!(output.status.code(), Some(0 | 1)), "{args:?}: {:?} {told}", output.status);
        assert!(!told.contains("panicked") && !told.contains("cannot-print"), "{args:?}: {told}");
    }
}

/// A build that never comes to an end would keep the folder for ever; after a while the other one says so.
#[test]
fn a_build_that_is_held_up_does_not_hold_up_others_for_ever() {
    let (bench, whole) = bench();
    let folder = fs::File::open(bench.path("a")).unwrap();
    folder.lock().unwrap();
    let start = Instant::now();
    bench.run(&["build", "b.vessel", "-o", "a"]).says(2, &["output/busy", "another build", "give another folder"]);
    assert!(start.elapsed() >= Duration::from_secs(9), "it waits for its turn first");
    assert!(files(&bench.path("a")) == whole[0]);
    drop(folder);
    bench.run(&["build", "b.vessel", "-o", "a"]).says(0, &[]);
}
