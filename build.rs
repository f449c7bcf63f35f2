//! Tells the program what it was built from: the compiler and, in a release from a checkout, the commit.
//!
//! Nothing here reads a clock. A debug build names no commit, so that a commit does not compile every test anew.

#![allow(clippy::print_stdout, reason = "this is how a build script speaks to Cargo")]

use std::env;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What the program is made of: other files of the checkout may be changed without it being another program.
const MADE_OF: [&str; 5] = ["src", "grammar", "Cargo.toml", "Cargo.lock", "build.rs"];

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    let variable = |name| env::var(name).unwrap_or_default();
    let root = PathBuf::from(variable("CARGO_MANIFEST_DIR"));
    let commit = if variable("PROFILE") == "release" {
        for path in watched(&root) {
            println!("cargo::rerun-if-changed={}", path.display());
        }
        Commit::of(&root)
    } else {
        None
    };
    let version = variable("CARGO_PKG_VERSION");
    let rustc = said(Command::new(variable("RUSTC")).arg("--version")).unwrap_or_else(|| "unknown".to_owned());
    println!("cargo::rustc-env=RINGWRIGHT_VERSION={}", short(&version, commit.as_ref()));
    println!("cargo::rustc-env=RINGWRIGHT_COMMIT={}", long(commit.as_ref()));
    println!("cargo::rustc-env=RINGWRIGHT_DATE={}", commit.map(|commit| commit.date).unwrap_or_default());
    println!("cargo::rustc-env=RINGWRIGHT_TARGET={}", variable("TARGET"));
    println!("cargo::rustc-env=RINGWRIGHT_RUSTC={rustc}");
}

/// A state of the checkout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Commit {
    pub(crate) id: String,
    /// Of the commit, as `2027-03-01`.
    pub(crate) date: String,
    /// Whether the program is made of something else than what was committed.
    pub(crate) is_dirty: bool,
}

impl Commit {
    /// What `root` was checked out from; none for a crate out of an archive, also when it lies in a repository of others.
    pub(crate) fn of(root: &Path) -> Option<Self> {
        let top = PathBuf::from(said(git(root).args(["rev-parse", "--show-toplevel"]))?);
        if top.canonicalize().ok()? != root.canonicalize().ok()? {
            return None;
        }
        said(git(root).args(["ls-files", "--error-unmatch", "Cargo.toml"]))?;
        let head = said(git(root).args(["show", "--no-patch", "--date=format:%Y-%m-%d", "--format=%H %cd", "HEAD"]))?;
        let (id, date) = head.split_once(' ')?;
        let changes = said(git(root).args(["status", "--porcelain", "--"]).args(MADE_OF))?;
        Some(Self { id: id.to_owned(), date: date.to_owned(), is_dirty: !changes.is_empty() })
    }

    fn dirty(&self) -> &str {
        if self.is_dirty { "-dirty" } else { "" }
    }
}

/// `0.1.0 (1a2b3c4d5e 2027-03-01)`.
pub(crate) fn short(version: &str, commit: Option<&Commit>) -> String {
    commit.map_or_else(
        || version.to_owned(),
        |commit| format!("{version} ({:.10}{} {})", commit.id, commit.dirty(), commit.date),
    )
}

fn long(commit: Option<&Commit>) -> String {
    commit.map_or_else(
        || "not known, as this is no release build from a git checkout".to_owned(),
        |commit| format!("{}{} of {}", commit.id, commit.dirty(), commit.date),
    )
}

/// What makes the answer another one: a commit, a checkout, a change of what is compiled anyway.
pub(crate) fn watched(root: &Path) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = MADE_OF.iter().map(|name| root.join(name)).collect();
    let mut names = vec!["HEAD".to_owned(), "logs/HEAD".to_owned(), "packed-refs".to_owned()];
    names.extend(said(git(root).args(["rev-parse", "--symbolic-full-name", "HEAD"])));
    for name in names {
        paths.extend(said(git(root).args(["rev-parse", "--git-path", &name])).map(|path| root.join(path)));
    }
    // A path that is not there would run this at every build.
    paths.retain(|path| path.exists());
    paths
}

/// Git in `root`, whatever repository a hook is at work in.
fn git(root: &Path) -> Command {
    let mut git = Command::new("git");
    git.arg("--no-optional-locks").current_dir(root);
    for name in ["GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX"] {
        git.env_remove(name);
    }
    git
}

/// What a command prints; none when it fails or is not there.
fn said(command: &mut Command) -> Option<String> {
    let output = command.output().ok().filter(|output| output.status.success())?;
    String::from_utf8(output.stdout).ok().map(|text| text.trim().to_owned())
}
