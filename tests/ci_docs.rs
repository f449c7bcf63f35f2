//! What the README says of CI is true: each command line in it runs, each flag and hook is there.

#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]
#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use std::fs;
use std::path::Path;
use std::process::Command;

fn read(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).unwrap()
}

fn section() -> String {
    let readme = read("README.md");
    let (_, rest) = readme.split_once("\n## In CI\n").expect("the section");
    rest.split("\n## ").next().unwrap().to_owned()
}

/// The command lines of the program in a text: in a `run:` of a workflow, a line of a shell, or between backticks.
fn commands(text: &str) -> Vec<Vec<String>> {
    let mut found = Vec::new();
    for line in text.lines() {
        let line = line.trim();
        let code = line.strip_prefix("- run: ").unwrap_or(line);
        let inline = line.split('`').skip(1).step_by(2);
        for command in std::iter::once(code).chain(inline) {
            if let Some(arguments) = command.strip_prefix("ringwright ") {
                // What the shell does with what comes out is not ours.
                let own = arguments.split(['>', '|']).next().unwrap();
                found.push(own.split_whitespace().map(str::to_owned).collect());
            }
        }
    }
    found
}

/// A folder with the bundled recipes, as a project would have them.
fn project() -> tempfile::TempDir {
    let project = tempfile::tempdir().unwrap();
    let recipes = project.path().join("recipes");
    fs::create_dir(&recipes).unwrap();
    for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes")).unwrap() {
        let entry = entry.unwrap();
        if entry.file_type().unwrap().is_file() {
            fs::copy(entry.path(), recipes.join(entry.file_name())).unwrap();
        }
    }
    project
}

fn run(project: &Path, arguments: &[String]) {
    let output = Command::new(env!("CARGO_BIN_EXE_ringwright")).args(arguments).current_dir(project).output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(0), "ringwright {}: {said}", arguments.join(" "));
}

#[test]
fn every_command_of_the_section_runs() {
    let project = project();
    let found = commands(&section());
    assert!(found.len() >= 3, "{found:?}");
    for arguments in &found {
        run(project.path(), arguments);
    }
    assert!(project.path().join("known.json").is_file(), "the first of them writes what is known");
}

#[test]
fn every_flag_of_the_section_is_one() {
    let help_of = |command: &str| {
        let run = Command::new(env!("CARGO_BIN_EXE_ringwright")).args([command, "--help"]).output();
        String::from_utf8(run.unwrap().stdout).unwrap()
    };
    let help = help_of("check") + &help_of("fmt");
    let mut flags = 0;
    let text = section();
    for line in text.lines().filter(|line| line.contains("ringwright ") || line.contains("args:") || line.contains('`'))
    {
        for word in line.split(|c: char| !(c.is_ascii_alphanumeric() || c == '-')) {
            if word.starts_with("--") && !line.contains("cargo install") && word.len() > 2 {
                assert!(help.contains(&format!("{word} ")), "{word} in {line}");
                flags += 1;
            }
        }
    }
    assert!(flags >= 6, "{flags}");
}

#[test]
fn the_hooks_are_there_and_take_the_files_that_they_are_given() {
    let hooks = read(".pre-commit-hooks.yaml");
    let hooks: Vec<&str> = hooks.split("- id: ").skip(1).collect();
    assert_eq!(hooks.len(), 2);
    for hook in hooks {
        let id = hook.lines().next().unwrap();
        let value = |key: &str| {
            let line = hook.lines().find_map(|line| line.trim_start().strip_prefix(key)).expect(key);
            line.trim().to_owned()
        };
        assert_eq!(value("files:"), r"\.vessel$");
        assert_eq!(value("language:"), "rust");
        // As pre-commit calls it: the entry, the arguments of the configuration, the names of files.
        let text = section();
        let (_, configured) = text.split_once(&format!("- id: {id}\n")).expect(id);
        let arguments = configured.lines().next().unwrap().trim().strip_prefix("args: [").unwrap_or("]");
        let arguments = arguments.trim_end_matches(']').split(',').map(|word| word.trim().trim_matches('"'));
        let entry = value("entry:");
        let entry = entry.strip_prefix("ringwright ").expect("the program of this package");
        let project = project();
        let files = ["recipes/button-box.vessel"];
        let words = entry.split_whitespace().chain(arguments.filter(|word| !word.is_empty())).chain(files);
        run(project.path(), &words.map(str::to_owned).collect::<Vec<_>>());
    }
}
