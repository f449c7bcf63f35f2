//! What must hold of the code itself: which way its arrows point, and what may not be where.

#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]
#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Each module and the modules it may import; all arrows point this way.
const ARROWS: &[(&str, &[&str])] = &[
    ("source", &[]),
    ("quantity", &[]),
    ("search", &[]),
    ("workings", &["source", "quantity"]),
    ("finding", &["source", "quantity"]),
    ("syntax", &["source", "quantity", "finding"]),
    ("tables", &["quantity", "workings"]),
    ("vocabulary", &["quantity", "tables"]),
    ("resolve", &["source", "quantity", "workings", "finding", "syntax", "tables", "vocabulary"]),
    ("geometry", &["source", "quantity", "workings", "finding", "resolve", "tables"]),
    ("plan", &["source", "quantity", "search", "workings", "finding", "syntax", "resolve", "tables", "geometry"]),
    ("format", &["source", "quantity", "finding", "syntax", "vocabulary"]),
    ("checks", &["source", "quantity", "workings", "finding", "resolve", "tables", "geometry", "plan"]),
    ("compile", &["source", "syntax", "checks", "workings", "finding", "resolve", "geometry", "plan"]),
    ("compare", &["quantity", "finding", "geometry", "plan", "compile"]),
    ("mend", &["source", "finding", "syntax", "compile"]),
    ("lookup", &["source", "quantity", "finding", "syntax", "tables", "vocabulary", "resolve", "geometry"]),
    ("view", &["source", "quantity", "resolve", "geometry"]),
    (
        "output",
        &[
            "view", "compare", "source", "quantity", "workings", "finding", "resolve", "tables", "geometry", "plan",
            "compile",
        ],
    ),
    (
        "cli",
        &[
            "source",
            "quantity",
            "search",
            "finding",
            "syntax",
            "vocabulary",
            "plan",
            "compile",
            "mend",
            "format",
            "output",
            "server",
        ],
    ),
    (
        "server",
        &["source", "finding", "syntax", "resolve", "geometry", "compile", "mend", "format", "lookup", "output"],
    ),
];

#[test]
fn arrows_point_one_way() {
    let mut wrong = Vec::new();
    for (path, text) in sources() {
        let module = module_of(&path);
        let Some((_, allowed)) = ARROWS.iter().find(|(name, _)| *name == module) else { continue };
        for other in imports(&text) {
            if other != module && !allowed.contains(&other.as_str()) {
                wrong.push(format!("{}: crate::{other}", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "imports against the arrows:\n{}", wrong.join("\n"));
}

#[test]
fn every_module_has_its_row() {
    let mut modules: Vec<String> = sources().keys().map(|path| module_of(path)).collect();
    modules.retain(|module| !["lib", "main"].contains(&module.as_str()));
    modules.sort();
    modules.dedup();
    let mut rows: Vec<&str> = ARROWS.iter().map(|(name, _)| *name).collect();
    rows.sort_unstable();
    assert_eq!(modules, rows);
}

/// Cargo would pass over a file that no program names, and its tests with it.
#[test]
fn every_file_of_tests_is_run() {
    let named = fs::read_to_string(root().join("tests/all.rs")).unwrap();
    let programs = fs::read_to_string(root().join("Cargo.toml")).unwrap();
    for entry in fs::read_dir(root().join("tests")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        let is_source = path.extension().is_some_and(|ext| ext == "rs") || path.join("mod.rs").exists();
        let is_named =
            named.contains(&format!("\nmod {name};\n")) || programs.contains(&format!("[[test]]\nname = \"{name}\"\n"));
        assert!(!is_source || is_named, "tests/all.rs has no `mod {name};`");
    }
}

#[test]
fn each_thing_is_in_its_room() {
    // What may stand only where, and how it is recognized.
    let rooms: &[(&str, &[&str])] = &[
        ("codespan_reporting", &["finding/render", "cli"]),
        ("miette", &["finding/render", "cli"]),
        ("clap", &["cli"]),
        ("clap_complete", &["cli/args.rs", "cli/completions.rs"]),
        ("clap_mangen", &["cli/man_pages.rs"]),
        ("anstyle_query", &["cli/terminal.rs"]),
        ("cfg!(windows)", &["source/platform.rs", "cli/preview/browser.rs"]),
        ("pest::", &["syntax"]),
        ("pest_", &["syntax"]),
        ("gen_lsp_types", &["server"]),
        ("lsp_server", &["server"]),
        ("kurbo", &["geometry", "view", "output"]),
        ("chrono", &["quantity/date.rs"]),
        ("microlp", &["search"]),
        ("svg::", &["output"]),
        ("krilla", &["output/pdf"]),
        ("ics::", &["output"]),
        ("rand_chacha", &["resolve/scatter.rs"]),
        ("rayon::", &["cli/many.rs", "output/mod.rs"]),
        ("indicatif", &["cli/progress.rs"]),
        ("sha2::", &["cli/folder.rs", "cli/tree.rs", "finding/fingerprint.rs", "output/html"]),
        ("schemars", &["output"]),
        ("unicode_normalization", &["cli/portable.rs"]),
        ("libm::", &["quantity"]),
        ("similar::", &["cli", "compare"]),
        ("25.4", &["quantity/length.rs"]),
        ("notify::", &["cli/preview"]),
        ("std::net", &["cli/preview"]),
        ("std::fs", &["cli"]),
        ("println!", &["cli"]),
        ("std::env", &["cli"]),
        ("SystemTime", &[]),
        ("Instant", &[]),
        ("parse::<f64>", &["quantity"]),
    ];
    let mut wrong = Vec::new();
    for (path, text) in sources() {
        let place = path.strip_prefix(root().join("src")).unwrap().to_string_lossy().replace('\\', "/");
        let code = without_tests_and_comments(&text);
        for (sign, allowed) in rooms {
            if code.contains(sign) && !allowed.iter().any(|room| place.starts_with(room)) {
                wrong.push(format!("{place}: {sign}"));
            }
        }
    }
    assert!(wrong.is_empty(), "out of place:\n{}", wrong.join("\n"));
}

#[test]
fn nothing_that_a_recipe_can_reach_panics_by_design() {
    let mut wrong = Vec::new();
    for (path, text) in sources() {
        for (number, line) in without_tests_and_comments(&text).lines().enumerate() {
            for sign in [".unwrap()", ".expect(", "panic!(", "unreachable!(", "todo!(", "unimplemented!("] {
                if line.contains(sign) {
                    wrong.push(format!("{}:{}: {}", path.display(), number + 1, line.trim()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "may panic:\n{}", wrong.join("\n"));
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn sources() -> BTreeMap<PathBuf, String> {
    let mut found = BTreeMap::new();
    let mut folders = vec![root().join("src")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ext| ext == "rs") && !is_test(&path) {
                let text = fs::read_to_string(&path).unwrap();
                found.insert(path, text);
            }
        }
    }
    assert!(found.len() > 30, "the sources are not where this test looks");
    found
}

/// Test code may look anywhere and stop where it stands.
fn is_test(path: &Path) -> bool {
    path.ends_with("tests.rs")
        || path.ends_with("fixture.rs")
        || path.ends_with("sample.rs")
        || path.iter().any(|step| step == "tests") && path.iter().any(|step| step == "src")
}

fn module_of(path: &Path) -> String {
    let inner = path.strip_prefix(root().join("src")).unwrap();
    let first = inner.components().next().unwrap().as_os_str().to_string_lossy();
    first.trim_end_matches(".rs").to_owned()
}

/// The modules named as `crate::name`; test code may look anywhere.
fn imports(text: &str) -> Vec<String> {
    let code = without_tests_and_comments(text);
    let mut found = Vec::new();
    let mut rest = code.as_str();
    while let Some(at) = rest.find("crate::") {
        rest = &rest[at + "crate::".len()..];
        let name: String = rest.chars().take_while(|c| c.is_ascii_lowercase() || *c == '_').collect();
        found.push(name);
    }
    found
}

fn without_tests_and_comments(text: &str) -> String {
    let code = text.split("\n#[cfg(test)]\nmod tests {").next().unwrap_or("");
    let lines = code.lines().map(|line| if line.trim_start().starts_with("//") { "" } else { line });
    lines.collect::<Vec<_>>().join("\n")
}
