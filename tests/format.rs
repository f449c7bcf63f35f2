//! The bundled recipes: spaced in any way, formatting makes the bundled text of them again, and neither the one nor
//! the other changes their design.

#![allow(clippy::disallowed_methods, reason = "what a test reads is its own")]
#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use crate::support::{compile_files, said};
use ringwright::format::format;
use ringwright::output;
use ringwright::source::{FileId, SourceFile};
use ringwright::syntax::parse;
use serde_json::Value;

fn recipes() -> BTreeMap<String, String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let mut recipes = BTreeMap::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|extension| extension == "vessel") {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            recipes.insert(name, fs::read_to_string(&path).unwrap());
        }
    }
    assert!(recipes.len() > 20);
    recipes
}

fn formatted(text: &str) -> String {
    let file = SourceFile { id: FileId(0), name: "test.vessel".to_owned(), text: text.to_owned() };
    format(&parse(&Arc::new(file)).value)
}

/// The text with other blanks in each place that has some, and other indents; its lines, texts and comments stay.
fn spaced(text: &str, seed: usize) -> String {
    const BLANKS: [&str; 5] = [" ", "   ", "\t", "  \t", "      "];
    let (mut spaced, mut turn) = (String::new(), seed);
    let mut next = || {
        turn = turn.wrapping_mul(31).wrapping_add(7);
        BLANKS[turn / 3 % BLANKS.len()]
    };
    for line in text.lines() {
        let line = line.trim_start();
        spaced += if line.is_empty() { "" } else { next() };
        let (mut in_text, mut in_blanks) = (false, false);
        for (at, found) in line.char_indices() {
            if found == '#' && !in_text {
                spaced += &line[at..];
                break;
            }
            in_text ^= found == '"' && !line[..at].ends_with(|before: char| before.is_ascii_digit());
            let is_blank = found == ' ' && !in_text;
            if !is_blank {
                spaced.push(found);
            } else if !in_blanks {
                spaced += next();
            }
            in_blanks = is_blank;
        }
        spaced += if line.is_empty() { "\n\n" } else { "\n" };
    }
    spaced
}

/// All figures of a recipe, and no place in a file.
fn design(name: &str, text: &str, workshop: &str) -> Option<Value> {
    let (world, compiled) = compile_files(&[(name, text), ("workshop.vessel", workshop)]);
    assert!(compiled.findings.is_empty(), "{name}: {:?}", said(&world, &compiled));
    let design = compiled.complete()?;
    let documents = output::documents(&design, &world);
    let json = documents.iter().find(|document| document.name == "design.json").unwrap();
    let mut design = serde_json::from_slice(&json.bytes).unwrap();
    forget_places(&mut design);
    Some(design)
}

fn forget_places(value: &mut Value) {
    match value {
        Value::Array(values) => values.iter_mut().for_each(forget_places),
        Value::Object(fields) => {
            if fields.contains_key("file") {
                for key in ["line", "column", "start", "end"] {
                    fields.remove(key);
                }
            }
            fields.values_mut().for_each(forget_places);
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

#[test]
fn a_recipe_spaced_in_any_way_becomes_the_bundled_one() {
    for (name, text) in recipes() {
        assert_eq!(formatted(&text), text, "{name} is not formatted");
        for seed in 0..8 {
            let spaced = spaced(&text, seed);
            assert_eq!(formatted(&spaced), text, "{name}, spaced as\n{spaced}");
            let returned = spaced.replace('\n', "\r\n");
            assert_eq!(formatted(&returned), text.replace('\n', "\r\n"), "{name}");
        }
    }
}

#[test]
fn a_design_does_not_depend_on_the_layout() {
    let recipes = recipes();
    let workshop = &recipes["workshop.vessel"];
    let mut compared = 0;
    for (name, text) in recipes.iter().filter(|(name, _)| *name != "workshop.vessel") {
        let (before, after) = (spaced(text, 3), formatted(&spaced(text, 3)));
        assert_ne!(before, after);
        let figures = design(name, &before, workshop).unwrap();
        assert!(figures["schema_version"].is_number());
        assert_eq!(design(name, &after, &formatted(workshop)).unwrap(), figures, "{name}");
        compared += 1;
    }
    assert!(compared > 20);
}
