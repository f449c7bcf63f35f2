//! SARIF logs held against the standard's own schema, and read back by a reader that is not ours.

#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]
#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;
use std::{env, fs};

use crate::support::{compile_files, example};
use jsonschema::Validator;
use ringwright::cli::DiskWorld;
use ringwright::compile::{Compiled, compile};
use ringwright::finding::catalog::CODES;
use ringwright::finding::render::sarif;
use ringwright::finding::{Edit, Finding, Fix, Grade, catalog};
use ringwright::source::{FileId, MapWorld, Span, World};
use serde_json::{Value, json};

/// The schema of OASIS, as the package `serde-sarif` carries it.
fn schema() -> &'static Validator {
    static SCHEMA: OnceLock<Validator> = OnceLock::new();
    SCHEMA.get_or_init(|| {
        let path = package("serde-sarif").join("src/schema.json");
        let mut schema: Value = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
        for definition in ["run", "toolComponent"] {
            // As published the pattern closes a bracket that it never opened, `…-[a-zA-Z]{2}]?$`, which no strict
            // reader of patterns takes; what is meant is an optional country.
            let pattern = &mut schema["definitions"][definition]["properties"]["language"]["pattern"];
            assert!(pattern.as_str().unwrap().ends_with("{2}]?$"), "mended upstream: {pattern}");
            *pattern = json!("^[a-zA-Z]{2}(-[a-zA-Z]{2})?$");
        }
        jsonschema::validator_for(&schema).expect("a schema")
    })
}

/// The folder of a package that this one is tested with; nothing is fetched for it.
fn package(name: &str) -> PathBuf {
    let cargo = env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let version = Command::new(&cargo).arg("-vV").output().expect("cargo runs").stdout;
    let version = String::from_utf8(version).unwrap();
    let host = version.lines().find_map(|line| line.strip_prefix("host: ")).expect("a host");
    // Without what only other platforms need: that was never fetched.
    let output = Command::new(cargo)
        .args(["metadata", "--offline", "--format-version", "1", "--filter-platform", host])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: Value = serde_json::from_slice(&output.stdout).unwrap();
    let packages = metadata["packages"].as_array().unwrap();
    let found = packages.iter().find(|package| package["name"] == name).expect("the package");
    Path::new(found["manifest_path"].as_str().unwrap()).parent().unwrap().to_path_buf()
}

/// The log of some findings: it fits the schema, and another's types read and write it without loss.
#[track_caller]
fn log(findings: &[Finding], world: &dyn World, what: &str) -> Value {
    let bytes = sarif(findings, world, "");
    assert!(bytes.ends_with(b"}\n"));
    assert_eq!(bytes, sarif(findings, world, ""), "same findings, same bytes");
    let log: Value = serde_json::from_slice(&bytes).unwrap();
    let errors: Vec<String> =
        schema().iter_errors(&log).map(|error| format!("{} at {}", error, error.instance_path())).collect();
    assert!(errors.is_empty(), "{what}: {errors:#?}");
    let typed: serde_sarif::sarif::Sarif = serde_json::from_slice(&bytes).unwrap();
    assert_eq!(serde_json::to_value(&typed).unwrap(), log, "{what}");
    assert_eq!(log["runs"][0]["results"].as_array().unwrap().len(), findings.len(), "{what}");
    for result in log["runs"][0]["results"].as_array().unwrap() {
        let index = usize::try_from(result["ruleIndex"].as_u64().unwrap()).unwrap();
        assert_eq!(log["runs"][0]["tool"]["driver"]["rules"][index]["id"], result["ruleId"], "{what}");
    }
    log
}

#[test]
fn the_log_of_every_code_fits_the_standards_schema() {
    let mut logs = 0;
    for code in CODES {
        let Some(files) = example(code, "## Example that fires") else { continue };
        let (world, compiled) = compiled(&files);
        let log = log(&compiled.findings, &world, code.name);
        let rules = log["runs"][0]["tool"]["driver"]["rules"].as_array().unwrap();
        let rule = rules.iter().find(|rule| rule["id"] == code.name).expect("its rule");
        assert_eq!(rule["help"]["markdown"], code.page);
        assert!(code.page.starts_with(rule["fullDescription"]["text"].as_str().unwrap().split(' ').next().unwrap()));
        logs += 1;
    }
    assert!(logs > 100, "only {logs}");
}

#[test]
fn the_log_of_every_recipe_fits_it_too() {
    let mut logs = 0;
    for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|extension| extension == "vessel") {
            let (world, root) = DiskWorld::open_root(&path).unwrap();
            let text = log(&compile(&world, root).findings, &world, &path.display().to_string()).to_string();
            assert!(!text.contains(env!("CARGO_MANIFEST_DIR")), "where on the machine it lies: {text}");
            logs += 1;
        }
    }
    assert!(logs > 5, "only {logs}");
}

#[test]
fn a_log_that_is_wrong_is_refused() {
    let (world, root) = MapWorld::of("a.vessel", "units in\n");
    let finding = Finding::new(&catalog::VESSEL_MISSING, Span::new(root, 0, 5), "no vessel");
    let good = log(&[finding], &world, "planted");
    let mut level = good.clone();
    level["runs"][0]["results"][0]["level"] = json!("fatal");
    assert!(!schema().is_valid(&level), "there is no such level");
    let mut line = good.clone();
    line["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"]["startLine"] = json!(0);
    assert!(!schema().is_valid(&line), "lines are counted from 1");
    let mut message = good;
    message["runs"][0]["results"][0].as_object_mut().unwrap().remove("message");
    assert!(!schema().is_valid(&message), "a result says something");
}

/// Whoever applies the replacements by line and column must get what we get by offset; in the examples of all codes, after
/// a `change` of their texts.
fn fixes_agree(change: fn(&str) -> String) {
    let mut applied = 0;
    for code in CODES {
        let Some(files) = example(code, "## Example that fires") else { continue };
        let changed: Vec<(String, String)> = files.iter().map(|(name, text)| (name.clone(), change(text))).collect();
        let (world, compiled) = compiled(&changed);
        let log = log(&compiled.findings, &world, code.name);
        for (finding, result) in compiled.findings.iter().zip(log["runs"][0]["results"].as_array().unwrap()) {
            if let Some(fix) = &finding.fix {
                same_both_ways(fix, &result["fixes"][0], &world);
                applied += 1;
            }
        }
    }
    assert!(applied >= 10, "only {applied} fixes");
}

#[test]
fn fixes_by_line_and_column_are_the_fixes_by_offset() {
    fixes_agree(str::to_owned);
}

#[test]
fn so_they_are_with_line_ends_of_two_characters() {
    fixes_agree(|text| text.replace('\n', "\r\n"));
}

#[test]
fn so_they_are_behind_a_byte_order_mark() {
    fixes_agree(|text| format!("\u{feff}{text}"));
}

#[test]
fn so_they_are_behind_signs_of_all_widths() {
    fixes_agree(|text| format!("# 𝄞 e\u{301} ½\t″\r\n{}", text.replace("  ", "\t")));
}

#[test]
fn a_fix_of_several_edits_in_several_files_is_the_same_both_ways() {
    let crock = "\u{feff}units in\r\n# 𝄞 e\u{301}\tx\r\nouter ½″ ring\r\n";
    let (mut world, root) = MapWorld::of("my crock.vessel", crock);
    world.add("shop.vessel", "shop { kerf 1/8 }");
    let shop = world.open(root, "shop.vessel").unwrap();
    let at = |file: FileId, piece: &str| {
        let start = world.file(file).text.find(piece).unwrap();
        Span::new(file, u32::try_from(start).unwrap(), u32::try_from(start + piece.len()).unwrap())
    };
    let edits = [
        (at(root, "½″"), "1/2 in"),
        (at(root, "x\r\n"), ""),
        (Span::new(shop, 0, 0), "units in\n"),
        (at(root, "units in"), "units mm"),
        (at(shop, "}").after(), "\n"),
    ];
    let edits = edits.map(|(span, text)| Edit { span, text: text.to_owned() }).to_vec();
    let fix = Fix { title: "several".to_owned(), grade: Grade::Ask, edits };
    let finding = Finding::new(&catalog::UNITS_MISSING, at(root, "ring"), "no unit").fix(fix.clone());
    let log = log(&[finding], &world, "several");
    same_both_ways(&fix, &log["runs"][0]["results"][0]["fixes"][0], &world);
}

#[track_caller]
fn same_both_ways(fix: &Fix, told: &Value, world: &dyn World) {
    let mut files: Vec<FileId> = fix.edits.iter().map(|edit| edit.span.file).collect();
    files.sort_unstable();
    files.dedup();
    let changes = told["artifactChanges"].as_array().unwrap();
    assert_eq!(changes.len(), files.len());
    for (file, change) in files.into_iter().zip(changes) {
        let text = &world.file(file).text;
        let mut by_offset: Vec<(usize, usize, &str)> = fix
            .edits
            .iter()
            .filter(|edit| edit.span.file == file)
            .map(|edit| (edit.span.range().start, edit.span.range().end, edit.text.as_str()))
            .collect();
        let mut by_column = Vec::new();
        for replacement in change["replacements"].as_array().unwrap() {
            let region = &replacement["deletedRegion"];
            let number = |name: &str| usize::try_from(region[name].as_u64().unwrap()).unwrap();
            let [start, end] = [("startLine", "startColumn"), ("endLine", "endColumn")]
                .map(|(line, column)| offset(text, number(line), number(column)));
            assert_eq!((start, end - start), (number("byteOffset"), number("byteLength")));
            by_column.push((start, end, replacement["insertedContent"]["text"].as_str().unwrap_or("")));
        }
        assert_eq!(replaced(text, &mut by_column), replaced(text, &mut by_offset));
    }
}

/// By the letter of the standard: lines end with a line feed, columns are code points, a mark at the start is neither.
fn offset(text: &str, line: usize, column: usize) -> usize {
    let content = text.strip_prefix('\u{feff}').unwrap_or(text);
    let before: usize = content.split_inclusive('\n').take(line - 1).map(str::len).sum();
    let characters: usize = content[before..].chars().take(column - 1).map(char::len_utf8).sum();
    text.len() - content.len() + before + characters
}

fn replaced(text: &str, edits: &mut [(usize, usize, &str)]) -> String {
    edits.sort_unstable();
    edits.iter().rev().fold(text.to_owned(), |mut text, (start, end, new)| {
        text.replace_range(start..end, new);
        text
    })
}

fn compiled(files: &[(String, String)]) -> (MapWorld, Compiled) {
    let parts: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    compile_files(&parts)
}
