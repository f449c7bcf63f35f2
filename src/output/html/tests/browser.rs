//! The page in a browser: `tests/browser/sheet.py` clicks, measures and prints it.

#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::collections::BTreeSet;
use std::io::Write as _;
use std::path::Path;
use std::process::Command;
use std::{env, fs};

use crate::cli::DiskWorld;
use crate::compile::compile;
use crate::output::documents;

use super::sample::{model, sample_page, sheet};

#[test]
fn a_browser_shows_ticks_turns_and_prints_it() {
    asked("sample", &sample_page(&sheet(), Some(&model())));
}

/// A real one, with a lid that is parted off: each half of the sawn ring has its row.
#[test]
fn a_browser_shows_the_sheet_of_a_recipe() {
    let recipe = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes/spice-jar.vessel");
    let (world, root) = DiskWorld::open_root(&recipe).unwrap();
    let compiled = compile(&world, root);
    let all = documents(&compiled.complete().unwrap(), &world);
    let page = all.iter().find(|document| document.name == "shop-sheet.html").unwrap();
    let page = std::str::from_utf8(&page.bytes).unwrap();
    let names = page.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next());
    let mut known = BTreeSet::new();
    let twice: Vec<&str> = names.filter(|name| !known.insert(*name)).collect();
    assert!(twice.is_empty() && known.len() > 100, "{twice:?}");
    let ticks: Vec<&str> = page.split(" data-tick=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    assert_eq!(ticks.iter().collect::<BTreeSet<_>>().len(), ticks.len(), "no box ticks another");
    let said = asked("spice-jar", page);
    assert!(said.is_empty() || said.contains("ok: the lid can be hidden"), "{said}");
}

/// What the clicks found; empty where there is no browser.
fn asked(name: &str, text: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let page = folder.path().join("shop-sheet.html");
    fs::write(&page, text).unwrap();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/browser/sheet.py");
    let mut command = Command::new("python3");
    command.arg(script).arg(&page);
    // A folder for those who want to look themselves.
    if let Some(pictures) = env::var_os("RINGWRIGHT_PICTURES") {
        let pictures = Path::new(&pictures).join(name);
        fs::create_dir_all(&pictures).unwrap();
        command.arg(pictures);
    }
    let Ok(ran) = command.output() else {
        told("skipped: no python3 on this machine, so no browser is asked");
        return String::new();
    };
    let said = String::from_utf8_lossy(&ran.stdout);
    if ran.status.code() == Some(77) {
        told(said.trim_end());
        return String::new();
    }
    assert!(ran.status.success(), "{said}\n{}", String::from_utf8_lossy(&ran.stderr));
    assert!(said.matches("ok: ").count() >= 20, "{said}");
    said.into_owned()
}

/// Past the test runner, which keeps what a test that passes prints.
fn told(skipped: &str) {
    let _ = writeln!(std::io::stderr(), "{skipped}");
}
