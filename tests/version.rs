//! What the program says it was built from. A debug build names no commit, so the build script is asked itself.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, reason = "what a test reads and writes is its own")]

#[allow(dead_code, reason = "only Cargo runs it as a whole")]
#[path = "../build.rs"]
mod build;

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::cli_support::Bench;

/// A checkout with one commit of the given day.
fn checkout(folder: &Path) {
    fs::create_dir_all(folder.join("src")).unwrap();
    fs::write(folder.join("Cargo.toml"), "[package]\n").unwrap();
    fs::write(folder.join("src/main.rs"), "fn main() {}\n").unwrap();
    fs::write(folder.join("README.md"), "").unwrap();
    git(folder, &["init", "--quiet"]);
    git(folder, &["add", "."]);
    git(folder, &["commit", "--quiet", "--message", "first"]);
}

fn git(folder: &Path, args: &[&str]) -> String {
    let mut git = Command::new("git");
    git.args(["-c", "user.name=A", "-c", "user.email=a@example.org"]).args(args).current_dir(folder);
    git.env("GIT_COMMITTER_DATE", "2027-03-01T23:30:00+0100").env("GIT_CONFIG_GLOBAL", "/dev/null");
    let output = git.output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap().trim().to_owned()
}

#[test]
fn a_line_is_enough_and_a_report_tells_all() {
    let bench = Bench::new();
    let short = bench.run(&["-V"]).says(0, &[]).out;
    assert_eq!(short.lines().count(), 1);
    assert!(short.starts_with(concat!("ringwright ", env!("CARGO_PKG_VERSION"))), "{short}");
    let long = bench.run(&["--version"]).says(0, &[]).out;
    assert!(long.starts_with(short.trim_end()), "a script that reads the first line reads the same");
    for sign in ["\ncommit: ", "\ntarget: ", "\nrustc:  rustc 1."] {
        assert!(long.contains(sign), "{long}");
    }
}

#[test]
fn a_checkout_is_known_by_its_commit() {
    let temp = tempfile::tempdir().unwrap();
    checkout(temp.path());
    let id = git(temp.path(), &["rev-parse", "HEAD"]);
    let clean = build::Commit { id: id.clone(), date: "2027-03-01".to_owned(), is_dirty: false };
    assert_eq!(build::Commit::of(temp.path()), Some(clean.clone()));
    assert_eq!(build::short("1.2.3", Some(&clean)), format!("1.2.3 ({} 2027-03-01)", &id[..10]));

    fs::write(temp.path().join("README.md"), "other words").unwrap();
    fs::write(temp.path().join("notes"), "").unwrap();
    assert_eq!(build::Commit::of(temp.path()), Some(clean.clone()), "the program is not made of these");

    fs::write(temp.path().join("src/main.rs"), "fn main() { }\n").unwrap();
    let dirty = build::Commit::of(temp.path()).unwrap();
    assert!(build::short("1.2.3", Some(&dirty)).contains(&format!("({}-dirty ", &id[..10])), "{dirty:?}");
    git(temp.path(), &["checkout", "--", "src"]);
    fs::write(temp.path().join("src/new.rs"), "").unwrap();
    assert!(build::Commit::of(temp.path()).unwrap().is_dirty, "a new source is one too");
}

#[test]
fn an_archive_has_the_plain_version_wherever_it_lies() {
    let temp = tempfile::tempdir().unwrap();
    assert_eq!(build::Commit::of(temp.path()), None, "no repository");
    checkout(temp.path());
    let inside = temp.path().join("vendor/ringwright");
    fs::create_dir_all(&inside).unwrap();
    fs::write(inside.join("Cargo.toml"), "").unwrap();
    assert_eq!(build::Commit::of(&inside), None, "the repository of others");
    assert_eq!(build::short("1.2.3", None), "1.2.3");
    fs::create_dir(temp.path().join("other")).unwrap();
    git(&temp.path().join("other"), &["init", "--quiet"]);
    assert_eq!(build::Commit::of(&temp.path().join("other")), None, "no commit yet");
}

#[test]
fn a_commit_is_noticed_and_nothing_is_watched_that_is_not_there() {
    let temp = tempfile::tempdir().unwrap();
    checkout(temp.path());
    let watched = build::watched(temp.path());
    let is_watched = |name: &str| watched.iter().any(|path| path.ends_with(name));
    assert!(is_watched(".git/HEAD") && is_watched(".git/logs/HEAD") && is_watched("src"), "{watched:?}");
    assert!(!is_watched("packed-refs") && !is_watched("grammar"), "{watched:?}");

    let worktree = temp.path().join("tree");
    git(temp.path(), &["worktree", "add", "--quiet", "tree"]);
    let watched = build::watched(&worktree);
    assert!(watched.iter().any(|path| path.ends_with(".git/worktrees/tree/HEAD")), "{watched:?}");
    assert!(watched.iter().any(|path| path.ends_with(".git/refs/heads/tree")), "{watched:?}");
}
