//! The models of recipes, read by a mesh library of others: closed, wound one way, as much wood as design.json says, and no
//! piece within another. `tests/mesh/requirements.txt` names what has to be there.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Of every kind of layer, with a lid, with inserts, with open joints, with strips.
const RECIPES: [&str; 8] =
    ["bread-bowl", "cachepot", "lantern", "zigzag-vase", "spice-jar", "fruit-platter", "offcut-dish", "sugar-bowl"];

/// A Python with the libraries; `None` says that it was told.
fn python() -> Option<PathBuf> {
    let named = std::env::var_os("RINGWRIGHT_PYTHON").map(PathBuf::from);
    let python = named.unwrap_or_else(|| PathBuf::from("python3"));
    let asked = Command::new(&python).args(["-c", "import manifold3d, numpy, trimesh"]).output();
    if asked.is_ok_and(|asked| asked.status.success()) {
        return Some(python);
    }
    let lacks = format!("{} lacks what tests/mesh/requirements.txt names", python.display());
    // Past the test runner, which keeps what a test that passes prints.
    let _ = writeln!(std::io::stderr(), "skipped: models are not checked, {lacks}");
    None
}

#[test]
fn a_mesh_library_finds_closed_solids_that_do_not_overlap() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = tempfile::tempdir().unwrap();
    let mut built = Vec::new();
    for name in RECIPES {
        let out = folder.path().join(name);
        let ran = Command::new(env!("CARGO_BIN_EXE_ringwright"))
            .arg("build")
            .arg(root.join("recipes").join(name).with_extension("vessel"))
            .arg("-o")
            .arg(&out)
            .output()
            .unwrap();
        assert!(ran.status.success(), "{name}: {}", String::from_utf8_lossy(&ran.stderr));
        assert!(out.join("model.glb").is_file() && out.join("model.stl").is_file(), "{name}");
        built.push(out);
    }
    let Some(python) = python() else { return };
    let checked = Command::new(python).arg(root.join("tests/mesh/check.py")).args(&built).output().unwrap();
    let said = String::from_utf8_lossy(&checked.stdout);
    assert!(checked.status.success(), "{said}{}", String::from_utf8_lossy(&checked.stderr));
    assert_eq!(said.lines().count(), RECIPES.len(), "{said}");
}
