//! The page in a browser: `tests/browser/sheet.py` clicks, measures and prints it.

#![allow(clippy::disallowed_methods, clippy::print_stderr, reason = "what a test reads and writes is its own")]

use std::path::Path;
use std::process::Command;
use std::{env, fs};

use super::sample::{model, sample_page, sheet};

#[test]
fn a_browser_shows_ticks_turns_and_prints_it() {
    let folder = tempfile::tempdir().unwrap();
    let page = folder.path().join("shop-sheet.html");
    fs::write(&page, sample_page(&sheet(), Some(&model()))).unwrap();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/browser/sheet.py");
    let mut command = Command::new("python3");
    command.arg(script).arg(&page);
    // A folder for those who want to look themselves.
    command.args(env::var_os("RINGWRIGHT_PICTURES"));
    let Ok(ran) = command.output() else {
        eprintln!("skipped: no python3 on this machine, so no browser is asked");
        return;
    };
    let said = String::from_utf8_lossy(&ran.stdout);
    if ran.status.code() == Some(77) {
        eprintln!("{said}");
        return;
    }
    assert!(ran.status.success(), "{said}\n{}", String::from_utf8_lossy(&ran.stderr));
    assert!(said.matches("ok: ").count() >= 20, "{said}");
}
