//! A bench to run the program on: a folder that goes away, the program in it, what came of it.

#![allow(clippy::disallowed_methods, clippy::unwrap_used, clippy::print_stderr, dead_code)]

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// A temporary folder in which the program is run.
pub struct Bench {
    folder: tempfile::TempDir,
}

/// What a run left behind.
#[derive(Debug)]
pub struct Ran {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Bench {
    pub fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Writes a file, and the folders above it.
    pub fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> &Self {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
        self
    }

    pub fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    pub fn bytes(&self, name: &str) -> Vec<u8> {
        fs::read(self.path(name)).unwrap()
    }

    /// The names in a folder, ordered.
    pub fn names(&self, folder: &str) -> Vec<String> {
        names(&self.path(folder))
    }

    /// The program, to be run here, without the surroundings of whoever runs the tests.
    pub fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_ringwright"));
        command.args(args).current_dir(self.folder.path());
        command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE").stdin(Stdio::null());
        command
    }

    pub fn run(&self, args: &[&str]) -> Ran {
        ran(self.command(args).output().unwrap())
    }

    /// With something on standard input.
    pub fn run_on(&self, stdin: impl AsRef<[u8]>, args: &[&str]) -> Ran {
        let mut command = self.command(args);
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        // It may have seen enough before all is written.
        let _ = child.stdin.take().unwrap().write_all(stdin.as_ref());
        ran(child.wait_with_output().unwrap())
    }

    /// Runs as a user to whom permissions apply; loudly does nothing when nobody but root is there.
    pub fn is_root_skipping(&self, what: &str) -> bool {
        let probe = self.path("probe");
        fs::write(&probe, "").unwrap();
        close(&probe, 0o000);
        let is_root = fs::File::open(&probe).is_ok();
        if is_root {
            eprintln!("SKIPPED, as permissions do not bind this user: {what}");
        }
        is_root
    }
}

impl Ran {
    /// Ended so, with these words in what it said.
    #[track_caller]
    pub fn says(self, code: i32, words: &[&str]) -> Self {
        assert_eq!(self.code, Some(code), "{self:?}");
        for words in words {
            assert!(self.err.contains(words), "no {words:?} in {}", self.err);
        }
        self
    }
}

fn ran(output: std::process::Output) -> Ran {
    let [out, err] = [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).unwrap());
    assert!(!err.contains("panicked"), "{err}");
    Ran { code: output.status.code(), out, err }
}

pub fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// Sets the permissions of a path.
#[cfg(unix)]
pub fn close(path: &Path, mode: u32) {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
}

/// Says past the test runner, which keeps what a test that passes prints, what could not be tried here.
pub fn skipped(why: &str) {
    use std::io::Write as _;
    let _ = writeln!(std::io::stderr(), "skipped: {why}");
}
