//! Files that are wrong in every way we have met: what the program says of each, kept as a snapshot.

#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::fs;
use std::path::Path;
use std::process::Command;

#[test]
fn what_is_said_of_each_bad_file() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus");
    let mut names: Vec<String> = fs::read_dir(&folder)
        .expect("the corpus")
        .map(|entry| entry.expect("an entry").file_name().into_string().expect("UTF-8"))
        .filter(|name| name.ends_with(".vessel"))
        .collect();
    names.sort();
    assert!(names.len() > 30, "{names:?}");
    // In a project of their own, so that what lies around the checkout does not matter.
    let project = tempfile::tempdir().expect("a temporary folder");
    fs::create_dir(project.path().join(".git")).expect("made");
    let bench = project.path().join("bad");
    fs::create_dir(&bench).expect("made");
    for name in &names {
        fs::copy(folder.join(name), bench.join(name)).expect("copied");
    }
    for name in names {
        let output = Command::new(env!("CARGO_BIN_EXE_ringwright"))
            .args(["check", &name])
            .current_dir(&bench)
            .output()
            .expect("the program runs");
        let code = output.status.code().expect("an exit code, not a signal");
        assert!(code == 1 || code == 2, "{name}: exit {code}");
        let said = String::from_utf8([output.stdout, output.stderr].concat()).expect("UTF-8");
        assert!(!said.contains("panicked"), "{name}: {said}");
        insta::with_settings!({ prepend_module_to_snapshot => false, omit_expression => true, snapshot_path => "corpus/said" }, {
            insta::assert_snapshot!(name.trim_end_matches(".vessel"), format!("exit {code}\n{said}"));
        });
    }
}
