//! What editors know without the server keeps in step with the language: the `TextMate` grammar is made from vocabulary
//! and units, and colors every recipe as the compiler reads it; the snippets compile.
//!
//! `RINGWRIGHT_DOCS=write cargo test --test all editors::` writes the grammar of today.

#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]
#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]
#![allow(clippy::print_stdout, reason = "what is skipped is said")]
#![allow(clippy::wildcard_enum_match_arm, reason = "what is left has no color of its own")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::rc::Rc;
use std::{env, fs};

use crate::support::{compile_text, said};
use fancy_regex::Regex;
use ringwright::lookup::{Reading, Role};
use ringwright::quantity::UNITS;
use ringwright::source::{MapWorld, World};
use ringwright::syntax::parse;
use ringwright::vocabulary::{BlockKind, CONTEXTS, Head, PATTERN_WORDS, Param, ROWS, Shape};
use serde_json::{Value, json};

const GRAMMAR: &str = "grammar/vessel.tmLanguage.json";

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

/// Every head there is, those of lines without a word too.
fn heads() -> Vec<&'static Head> {
    let of_contexts = CONTEXTS.iter().flat_map(|context| context.heads.iter().copied());
    let all: Vec<&Head> = of_contexts.collect();
    let lines = all.iter().filter_map(|head| match head.block {
        BlockKind::Lines(line) => Some(line),
        _ => None,
    });
    lines.chain(all.iter().copied()).collect()
}

/// `a|b|c`, the longest first, since the first that fits is taken.
fn either<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let words: BTreeSet<String> = words.into_iter().map(escaped).collect();
    let mut words: Vec<String> = words.into_iter().collect();
    words.sort_by_key(|word| (std::cmp::Reverse(word.len()), word.clone()));
    words.join("|")
}

fn escaped(word: &str) -> String {
    fancy_regex::escape(word).into_owned().replace("\\-", "-")
}

fn choices() -> String {
    let params = heads().into_iter().flat_map(|head| {
        let own = head.params.iter();
        own.chain(head.clauses.iter().flat_map(|clause| clause.params.iter())).collect::<Vec<&Param>>()
    });
    let words: Vec<&str> =
        params.filter(|param| param.shape != Shape::Pattern).flat_map(|param| param.shape.choices()).collect();
    either(words)
}

/// The grammar as editors read it that color by patterns.
fn grammar() -> Value {
    let behind = "(?![a-z0-9-])";
    let words = |words: String| format!("(?<![a-z0-9-])(?:{words}){behind}");
    let statements =
        either(heads().iter().filter(|head| head.word.starts_with(char::is_alphabetic)).map(|head| head.word));
    let clauses = either(heads().iter().flat_map(|head| head.clauses.iter().map(|clause| clause.word)));
    let units = either(
        UNITS
            .iter()
            .flat_map(|unit| unit.spellings.iter().copied())
            .filter(|unit| unit.starts_with(|c: char| c.is_ascii_alphabetic())),
    );
    let signs = either(
        UNITS
            .iter()
            .flat_map(|unit| unit.spellings.iter().copied())
            .filter(|unit| !unit.starts_with(|c: char| c.is_ascii_alphabetic())),
    );
    let vulgar = "[¼-¾⅐-⅞]";
    let number = format!("(?:\\d+[ -]\\d+/\\d+|\\d+ ?{vulgar}|{vulgar}|\\d*\\.\\d+|\\d+/\\d+|\\d+)");
    json!({
        "$schema": "https://raw.githubusercontent.com/martinring/tmlanguage/master/tmlanguage.json",
        "name": "Vessel",
        "scopeName": "source.vessel",
        "fileTypes": ["vessel"],
        "patterns": [
            { "name": "comment.line.number-sign.vessel", "match": "#.*$" },
            { "name": "constant.numeric.vessel", "match": format!("(?<![a-z0-9-])-?{number}(?:(?:{signs})|[ \\t]*(?:{units})(?![A-Za-z0-9_-]))?") },
            { "name": "string.quoted.double.vessel", "match": "\"(?:[^\"\\\\]|\\\\.)*\"" },
            { "name": "constant.other.code.vessel", "match": "(?<![a-z0-9-])[a-z][a-z0-9-]*/[a-z][a-z0-9-]*" },
            { "match": format!("(?:^|[{{}}])[ \\t]*({statements}){behind}"), "captures": { "1": { "name": "keyword.control.vessel" } } },
            { "name": "support.type.property-name.vessel", "match": words(clauses) },
            { "name": "keyword.control.vessel", "match": words(statements) },
            { "name": "keyword.other.pattern.vessel", "match": words(either(PATTERN_WORDS.iter().copied().chain([ROWS]))) },
            { "name": "constant.language.vessel", "match": words(choices()) },
            { "name": "keyword.operator.vessel", "match": "\\.\\.|>=|<=|==|[<>=*+/-]" },
            { "name": "variable.other.vessel", "match": "[a-z][a-z0-9]*(?:-[a-z0-9]+)*" },
        ],
    })
}

/// What the patterns make of a line, as editors read it: the earliest match, of those the first pattern's.
fn colored(patterns: &[(Regex, String)], line: &str) -> Vec<(std::ops::Range<usize>, String)> {
    let (mut at, mut found) = (0, Vec::new());
    while at <= line.len() {
        let next = patterns
            .iter()
            .filter_map(|(regex, name)| {
                let captures = regex.captures_from_pos(line, at).unwrap()?;
                let whole = captures.get(0).unwrap();
                let own = captures.get(1).unwrap_or(whole);
                Some((whole.start(), own.range(), whole.end(), name))
            })
            .min_by_key(|(start, ..)| *start);
        let Some((_, range, end, name)) = next else { break };
        found.push((range, name.clone()));
        at = end.max(at + 1);
        while !line.is_char_boundary(at.min(line.len())) {
            at += 1;
        }
    }
    found
}

#[test]
fn the_textmate_grammar_is_made_from_vocabulary_and_units() {
    let now = serde_json::to_string_pretty(&grammar()).unwrap() + "\n";
    let path = root().join(GRAMMAR);
    if env::var("RINGWRIGHT_DOCS").is_ok_and(|what| what == "write") {
        fs::write(&path, &now).unwrap();
    }
    assert_eq!(fs::read_to_string(path).unwrap_or_default(), now, "RINGWRIGHT_DOCS=write brings it in step");
}

#[test]
fn it_colors_recipes_as_the_compiler_reads_them() {
    let grammar = grammar();
    let patterns: Vec<(Regex, String)> = grammar["patterns"]
        .as_array()
        .unwrap()
        .iter()
        .map(|pattern| {
            let name = pattern["name"].as_str().or(pattern["captures"]["1"]["name"].as_str()).unwrap();
            (Regex::new(pattern["match"].as_str().unwrap()).unwrap(), name.to_owned())
        })
        .collect();
    let (mut words, mut wrong) = (0, Vec::new());
    for entry in fs::read_dir(root().join("recipes")).unwrap() {
        let path = entry.unwrap().path();
        let text = fs::read_to_string(&path).unwrap();
        let (world, id) = MapWorld::of("a.vessel", &text);
        let reading = Reading::of(Rc::new(parse(&world.file(id)).value));
        let mut start = 0;
        for line in text.split_inclusive('\n') {
            let colors = colored(&patterns, line.trim_end());
            for mark in &reading.marks {
                let range = mark.span.range();
                if range.start < start || range.start >= start + line.len() {
                    continue;
                }
                let wanted: &[&str] = match mark.role {
                    Role::Head(_) if text[start..range.start].trim_end_matches([' ', '{']).is_empty() => {
                        &["keyword.control"]
                    }
                    // The same word is a clause elsewhere, and the other way round; patterns cannot tell.
                    Role::Head(_) | Role::Clause(..) => &["support.type", "keyword.control"],
                    Role::Number => &["constant.numeric"],
                    Role::Text | Role::Path => &["string"],
                    Role::Code => &["constant.other", "variable", "keyword"],
                    Role::Glue | Role::Finish => &["variable"],
                    _ => continue,
                };
                words += 1;
                // The star of `*3` is a sign of its own.
                let number = range.start + usize::from(text[range.clone()].starts_with('*'));
                let color = colors.iter().find(|(at, _)| at.start == number - start);
                if !color.is_some_and(|(_, name)| wanted.iter().any(|wanted| name.starts_with(wanted))) {
                    wrong.push(format!("{}: `{}` is {color:?}", path.display(), &text[range]));
                }
            }
            start += line.len();
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(words > 1000, "{words}");
}

/// The calls that every version of it knows, old ones too.
const NEOVIM: &str = r#"
local client = vim.lsp.start_client({ name = "ringwright", cmd = { vim.env.RINGWRIGHT, "lsp" }, root_dir = vim.fn.getcwd() })
vim.lsp.buf_attach_client(0, client)
vim.wait(30000, function() return #vim.diagnostic.get(0) > 0 end, 50)
for _, it in ipairs(vim.diagnostic.get(0)) do
  io.stdout:write(string.format("%d:%d %s\n", it.lnum + 1, it.col + 1, it.code or it.user_data.lsp.code))
end
local place = { textDocument = vim.lsp.util.make_text_document_params(0), position = { line = 1, character = 2 } }
local answers = vim.lsp.buf_request_sync(0, "textDocument/hover", place, 30000) or {}
for _, answer in pairs(answers) do
  io.stdout:write((answer.result.contents.value:gsub("\n", " ")) .. "\n")
end
vim.cmd("qall!")
"#;

#[test]
fn neovim_shows_findings_and_help() {
    if Command::new("nvim").arg("--version").output().is_err() {
        println!("skipped: no nvim, which would be asked to show a finding");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.vessel"), "units mm\nvessel \"A\" {\n  wal 3\n}\n").unwrap();
    fs::write(folder.path().join("try.lua"), NEOVIM).unwrap();
    let output = Command::new("nvim")
        .args(["--headless", "--clean", "a.vessel", "-c", "luafile try.lua"])
        .env("RINGWRIGHT", env!("CARGO_BIN_EXE_ringwright"))
        .env("HOME", folder.path())
        .current_dir(folder.path())
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("3:3 word/unknown"), "{said}");
    assert!(said.contains("The vessel, with its name."), "{said}");
}

/// What the manual has for Emacs, then a recipe, its findings and the help at its second line.
const EMACS: &str = r#"
(require 'eglot)
(require 'flymake)
(load-file "settings.el")
(setq eglot-sync-connect 30)
(find-file "a.vessel")
(call-interactively #'eglot)
(let ((end (+ (float-time) 30)))
  (while (and (< (float-time) end) (null (flymake-diagnostics)))
    (accept-process-output nil 0.1)))
(defun told (it) (format "%d: %s" (line-number-at-pos (flymake-diagnostic-beg it)) (flymake-diagnostic-text it)))
(dolist (it (sort (mapcar #'told (flymake-diagnostics)) #'string<))
  (message "%s" it))
(goto-char (point-min))
(forward-line 1)
(forward-char 2)
(let ((answer (jsonrpc-request (eglot--current-server-or-lose) :textDocument/hover (eglot--TextDocumentPositionParams))))
  (message "%s" (plist-get (plist-get answer :contents) :value)))
"#;

#[test]
fn emacs_shows_findings_and_help() {
    let has_eglot =
        Command::new("emacs").args(["--batch", "-f", "package-initialize", "--eval", "(require 'eglot)"]).output();
    if !has_eglot.is_ok_and(|ran| ran.status.success()) {
        println!("skipped: no emacs with eglot, which would be asked to show a finding");
        return;
    }
    let manual = fs::read_to_string(root().join("grammar/editors.md")).unwrap();
    let settings = manual.split("```elisp\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.vessel"), "units mm\nvessel \"A\" {\n  wal 3\n}\n").unwrap();
    fs::write(folder.path().join("settings.el"), settings).unwrap();
    fs::write(folder.path().join("try.el"), EMACS).unwrap();
    let bin = Path::new(env!("CARGO_BIN_EXE_ringwright")).parent().unwrap();
    let paths = env::join_paths(
        std::iter::once(bin.to_owned()).chain(env::split_paths(&env::var_os("PATH").unwrap_or_default())),
    );
    let output = Command::new("emacs")
        .args(["--batch", "-f", "package-initialize", "-l", "try.el"])
        .env("PATH", paths.unwrap())
        .env("HOME", folder.path())
        .current_dir(folder.path())
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    // As the manual shows it.
    let shown =
        manual.split("What Emacs printed:\n\n```text\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    assert!(said.contains(shown), "{said}");
    assert!(said.contains("The vessel, with its name."), "{said}");
}

#[test]
fn the_snippets_compile() {
    let text = fs::read_to_string(root().join("grammar/snippets/vessel.json")).unwrap();
    let snippets: Value = serde_json::from_str(&text).unwrap();
    let holes = Regex::new(r"\$\{\d+:([^}]*)\}|\$\d+").unwrap();
    let filled = |name: &str| {
        let lines: Vec<&str> =
            snippets[name]["body"].as_array().unwrap().iter().map(|line| line.as_str().unwrap()).collect();
        holes.replace_all(&lines.join("\n"), "$1").replace('\t', "  ")
    };
    let vessel = filled("vessel");
    let (world, compiled) = compile_text(&vessel);
    assert_eq!(said(&world, &compiled), [], "{vessel}");
    let names: Vec<&String> = snippets.as_object().unwrap().keys().collect();
    assert!(names.len() >= 6, "{names:?}");
    for name in names {
        let text = filled(name);
        let (world, id) = MapWorld::of("a.vessel", &text);
        assert_eq!(parse(&world.file(id)).findings, [], "{name}:\n{text}");
        let head = text.split_whitespace().next().unwrap();
        assert!(heads().iter().any(|known| known.word == head), "{name}: `{head}` is no word of the language");
    }
}
