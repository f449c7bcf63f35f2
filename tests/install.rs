//! What comes with the program: help that is true, completion that completes, pages that `man` reads without a warning.

#![cfg(unix)]
#![allow(clippy::disallowed_methods, clippy::unwrap_used, reason = "what a test reads and writes is its own")]

use std::fs;
use std::io::{BufRead, BufReader};
use std::process::{Command, Output, Stdio};

use crate::cli_support::{Bench, skipped};

/// The commands that the help of the whole shows, in its order.
fn shown_commands(bench: &Bench) -> Vec<String> {
    let help = bench.run(&["--help"]).says(0, &[]).out;
    let lines = help.lines().filter_map(|line| line.strip_prefix("  ringwright "));
    lines.map(|line| line.split("  ").next().unwrap().to_owned()).collect()
}

#[test]
fn every_command_that_the_help_shows_can_be_typed() {
    let bench = Bench::new();
    let git = |words: &str| {
        let git = Command::new("git").args(words.split(' ')).current_dir(bench.path("")).output().unwrap();
        assert!(git.status.success(), "{words}: {}", String::from_utf8_lossy(&git.stderr));
    };
    let mut known = Vec::new();
    for line in shown_commands(&bench) {
        let words: Vec<&str> = line.split(' ').collect();
        match words[0] {
            "preview" => preview(&bench, &words),
            "diff" => {
                git("init --quiet");
                git("add bowl.vessel");
                git("-c user.name=A -c user.email=a@example.org commit --quiet --message bowl");
                bench.run(&words).says(0, &[]);
            }
            _ => drop(bench.run(&words).says(0, &[])),
        }
        known.push(words[0].to_owned());
    }
    assert_eq!(known[..4], ["new", "check", "build", "preview"], "the first minute comes first");
    assert!(bench.path("bowl/shop-sheet.pdf").exists());
}

/// Until it has told the address.
fn preview(bench: &Bench, words: &[&str]) {
    let mut command = bench.command(words);
    command.args(["--no-open", "--port", "0"]).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    let mut line = String::new();
    BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
    child.kill().unwrap();
    child.wait().unwrap();
    assert!(line.contains("http://"), "{line}");
}

#[test]
fn help_leads_on() {
    let bench = Bench::new();
    let (long, short) = (bench.run(&["--help"]).says(0, &[]).out, bench.run(&["-h"]).says(0, &[]).out);
    for words in ["The first minute:", "Exit codes:", "NO_COLOR", "ringwright manual"] {
        assert!(long.contains(words), "no {words} in {long}");
    }
    for words in ["The first minute:", "ringwright --help", "ringwright manual"] {
        assert!(short.contains(words), "no {words} in {short}");
    }
    assert!(short.lines().count() < 50, "more than a screen");
    let none = bench.run(&[]).says(2, &["The first minute:"]);
    assert_eq!(none.out, "", "nothing was asked for, so that nothing is a product");
    assert!(bench.run(&["explain", "--help"]).out.len() < 2000, "no list of all codes");
}

#[test]
fn the_manual_is_in_the_program() {
    assert_eq!(Bench::new().run(&["manual"]).says(0, &[]).out, include_str!("../grammar/README.md"));
}

#[test]
fn bash_completes() {
    let (bench, script) = script("bash");
    let Some(checked) = shell("bash", &["-n", &script]) else { return };
    assert_eq!(String::from_utf8_lossy(&checked.stderr), "");
    // As bash calls the function, with what it sets for it.
    let driver = r#"
        source "$1"; shift
        [[ $(complete -p ringwright) =~ -F\ ([a-z_]+) ]]
        COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1))
        "${BASH_REMATCH[1]}" ringwright "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
        printf '%s\n' "${COMPREPLY[@]}"
    "#;
    bench.file("driver", driver);
    let completed = |words: &[&str]| {
        let mut bash = Command::new("bash");
        bash.arg("--norc").arg(bench.path("driver")).arg(&script).args(words);
        lines(&bash.output().unwrap())
    };
    assert_eq!(completed(&["ringwright", "ex"]), ["explain"]);
    assert_eq!(completed(&["ringwright", "explain", "ring/does"]), ["ring/does-not-cover"]);
    assert_eq!(completed(&["ringwright", "check", "--format", "s"]), ["short", "sarif"]);
    assert_eq!(completed(&["ringwright", "check", "--deny", "warn"]), ["warnings"]);
    assert_eq!(completed(&["ringwright", "build", "--eff"]), ["--effort"]);
    assert_eq!(completed(&["ringwright", "build", ""]), [""], "so that bash itself completes names of files");
    assert!(completed(&["ringwright", ""]).contains(&"new".to_owned()));
}

#[test]
fn zsh_can_read_its_script() {
    let (_bench, script) = script("zsh");
    let Some(checked) = shell("zsh", &["-n", &script]) else { return };
    assert_eq!((checked.status.code(), String::from_utf8_lossy(&checked.stderr).as_ref()), (Some(0), ""));
}

/// What reads them cannot be asked without a terminal.
#[test]
fn elvish_and_powershell_have_every_command() {
    for name in ["elvish", "powershell"] {
        let (bench, _) = script(name);
        for command in ["check", "build", "preview", "completions"] {
            assert!(
                bench.text(name).contains(&format!("'{command}'")) || bench.text(name).contains(&format!("{command} "))
            );
        }
    }
}

#[test]
fn fish_completes() {
    let (bench, script) = script("fish");
    let Some(checked) = shell("fish", &["--no-execute", &script]) else { return };
    assert!(checked.status.success(), "{}", String::from_utf8_lossy(&checked.stderr));
    let completed = |line: &str| {
        let mut fish = Command::new("fish");
        fish.args(["--no-config", "--command", &format!("source '{script}'; complete --do-complete '{line}'")]);
        fish.env("HOME", bench.path("")).current_dir(bench.path(""));
        let words = lines(&fish.output().unwrap());
        words.iter().map(|line| line.split('\t').next().unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(completed("ringwright ex"), ["explain"]);
    assert_eq!(completed("ringwright explain ring/does"), ["ring/does-not-cover"]);
    assert_eq!(completed("ringwright check --format s"), ["sarif", "short"]);
}

#[test]
fn man_reads_every_page_without_a_warning() {
    let bench = Bench::new();
    bench.run(&["man-pages", "-o", "man1"]).says(0, &["documents in man1"]);
    let pages: Vec<String> = bench.names("man1").into_iter().filter(|name| name.ends_with(".1")).collect();
    assert!(pages.contains(&"ringwright.1".to_owned()) && pages.len() > 10, "{pages:?}");
    for page in &pages {
        let path = bench.path(&format!("man1/{page}")).to_string_lossy().into_owned();
        if let Some(read) = shell("groff", &["-ww", "-man", "-Tutf8", "-k", &path]) {
            assert_eq!(String::from_utf8_lossy(&read.stderr), "", "{page}");
        }
        // A debug build knows no date, see build.rs.
        if let Some(read) = shell("mandoc", &["-Tlint", "-Wwarning", &path]) {
            let said = lines(&read).into_iter().filter(|line| !line.contains("missing date") && !line.is_empty());
            assert_eq!(said.collect::<Vec<_>>(), [""; 0]);
        }
    }
    let Some(read) = shell("man", &["--warnings", "-l", &bench.path("man1/ringwright.1").to_string_lossy()]) else {
        return;
    };
    assert_eq!(String::from_utf8_lossy(&read.stderr), "");
    let text = String::from_utf8_lossy(&read.stdout);
    for words in ["THE FIRST MINUTE", "ringwright new bowl     ", "EXIT STATUS", "ENVIRONMENT"] {
        assert!(text.contains(words), "no {words} in {text}");
    }

    let before = fs::read(bench.path("man1/ringwright.1")).unwrap();
    bench.run(&["man-pages", "-o", "man1"]).says(0, &["all unchanged"]);
    bench.file("man1/ringwright.1", "mine");
    bench.run(&["man-pages", "-o", "man1"]).says(2, &["output/would-overwrite"]);
    bench.run(&["man-pages", "-o", "man1", "--force"]).says(0, &[]);
    assert_eq!(fs::read(bench.path("man1/ringwright.1")).unwrap(), before);
}

/// The script for a shell, in a file.
fn script(shell: &str) -> (Bench, String) {
    let bench = Bench::new();
    let script = bench.run(&["completions", shell]).says(0, &[]).out;
    bench.file(shell, script);
    let path = bench.path(shell).to_string_lossy().into_owned();
    (bench, path)
}

/// Runs a program of others, where there is one.
fn shell(name: &str, args: &[&str]) -> Option<Output> {
    let mut command = Command::new(name);
    command.args(args).env("LC_ALL", "C.UTF-8").env("MANWIDTH", "100").env("MAN_KEEP_STDERR", "1").stdin(Stdio::null());
    let output = command.output().ok();
    if output.is_none() {
        skipped(&format!("there is no {name} here to try what is made for it"));
    }
    output
}

fn lines(output: &Output) -> Vec<String> {
    String::from_utf8_lossy(&output.stdout).lines().map(str::to_owned).collect()
}
