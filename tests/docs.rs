//! The documents tell the truth: commands print what they are said to print, examples compile, the
//! manual's tables are the vocabulary's.
//!
//! `RINGWRIGHT_DOCS=write cargo test --test all docs::` writes what is printed today into the documents.

#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::{env, fs};

use crate::support::{compile_text, said};
use ringwright::finding::manual::limits;
use ringwright::format::format;
use ringwright::source::{FileId, SourceFile};
use ringwright::syntax::parse;
use ringwright::vocabulary::manual;

const DOCUMENTS: [&str; 3] = ["README.md", "DEVELOPERS.md", "grammar/README.md"];
/// What is printed into the manual: where it begins and where it ends.
const VOCABULARY: [&str; 2] =
    ["<!-- vocabulary: printed from src/vocabulary, do not edit -->\n", "<!-- end of vocabulary -->\n"];
const LIMITS: [&str; 2] = ["<!-- limits: printed from src/finding, do not edit -->\n", "<!-- end of limits -->\n"];

#[test]
fn commands_print_what_the_documents_show() {
    let mut commands = 0;
    for name in DOCUMENTS {
        let text = read(name);
        let mut now = String::new();
        let mut rest = text.as_str();
        while let Some(at) = rest.find("```console\n") {
            let (before, block) = rest.split_at(at + "```console\n".len());
            now.push_str(before);
            let (block, after) = block.split_at(block.find("```").expect("a closed block"));
            now.push_str(&replayed(block));
            commands += 1;
            rest = after;
        }
        now.push_str(rest);
        settle(name, &text, &now);
    }
    assert!(commands >= 3, "only {commands} blocks of commands");
}

#[test]
fn the_manuals_tables_are_the_vocabularys_and_its_limits_the_catalogs() {
    let text = read("grammar/README.md");
    let now = printed(&text, VOCABULARY, &manual::tables());
    settle("grammar/README.md", &text, &printed(&now, LIMITS, &limits()));
}

#[test]
fn examples_compile_without_a_finding() {
    let mut examples = 0;
    for name in DOCUMENTS {
        for block in read(name).split("```vessel\n").skip(1) {
            let example = block.split("```").next().unwrap_or("");
            let (world, compiled) = compile_text(example);
            assert_eq!(said(&world, &compiled), [], "{name}:\n{example}");
            examples += 1;
        }
    }
    assert!(examples >= 3, "only {examples} examples");
}

#[test]
fn examples_are_formatted() {
    for name in DOCUMENTS {
        for block in read(name).split("```vessel\n").skip(1) {
            let example = block.split("```").next().unwrap_or("");
            let file = SourceFile { id: FileId(0), name: name.to_owned(), text: example.to_owned() };
            assert_eq!(format(&parse(&Arc::new(file)).value), example, "{name}");
        }
    }
}

#[test]
fn the_picture_in_the_manual_is_what_a_build_draws() {
    let scratch = tempfile::tempdir().expect("a temporary folder");
    let built = Command::new(env!("CARGO_BIN_EXE_ringwright"))
        .args(["build", "recipes/nut-bowl.vessel", "-o"])
        .arg(scratch.path().join("out"))
        .current_dir(root())
        .output()
        .expect("the program runs");
    assert!(built.status.success(), "{}", String::from_utf8_lossy(&built.stderr));
    let now = fs::read_to_string(scratch.path().join("out/cutting-plan.svg")).expect("it was drawn");
    let name = "grammar/nut-bowl-cutting-plan.svg";
    settle(name, &fs::read_to_string(root().join(name)).unwrap_or_default(), &now);
}

#[test]
fn every_path_a_document_names_is_there() {
    for name in DOCUMENTS {
        let text = read(name);
        let folder = root().join(name).parent().expect("a folder").to_path_buf();
        for link in text.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            if !link.contains("://") && !link.starts_with('#') {
                let path = link.split('#').next().unwrap_or(link);
                assert!(folder.join(path).exists(), "{name} names {link}");
            }
        }
    }
}

/// The text with the tables of today between two marks.
fn printed(text: &str, [start, end]: [&str; 2], tables: &str) -> String {
    let (before, rest) = text.split_once(start).expect("the start of the tables");
    let (_, after) = rest.split_once(end).expect("the end of the tables");
    format!("{before}{start}\n{tables}\n{end}{after}")
}

/// A block of commands with what they print today.
fn replayed(block: &str) -> String {
    let mut now = String::new();
    for line in block.lines().filter(|line| line.starts_with("$ ")) {
        now.push_str(line);
        now.push('\n');
        let words: Vec<&str> = line.split_whitespace().skip(1).collect();
        let arguments = match words.as_slice() {
            ["ringwright", arguments @ ..] | ["cargo", "run", "--release", "--", arguments @ ..] => arguments,
            other => panic!("the documents show {other:?}, which no test can run"),
        };
        let scratch = tempfile::tempdir().expect("a temporary folder");
        let output = Command::new(env!("CARGO_BIN_EXE_ringwright"))
            .args(arguments.iter().map(|word| inside(word, scratch.path())))
            .current_dir(root())
            .env_remove("NO_COLOR")
            .output()
            .expect("the program runs");
        let printed = [output.stdout, output.stderr].concat();
        let scratch = format!("{}/", scratch.path().display());
        now.push_str(&String::from_utf8(printed).expect("UTF-8").replace(&scratch, ""));
    }
    now
}

/// An output folder lies in a scratch folder, so that the test leaves nothing behind.
fn inside(word: &str, scratch: &Path) -> PathBuf {
    if word == "out" { scratch.join(word) } else { PathBuf::from(word) }
}

fn settle(name: &str, text: &str, now: &str) {
    if text == now {
        return;
    }
    if env::var_os("RINGWRIGHT_DOCS").is_some_and(|value| value == "write") {
        fs::write(root().join(name), now).expect("the document can be written");
        return;
    }
    let at = text.lines().zip(now.lines()).position(|(a, b)| a != b).unwrap_or(0);
    let (said, is) = (text.lines().nth(at).unwrap_or(""), now.lines().nth(at).unwrap_or(""));
    panic!("{name} line {}: says\n{said}\nbut it is\n{is}\n(RINGWRIGHT_DOCS=write brings it in step)", at + 1);
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}
