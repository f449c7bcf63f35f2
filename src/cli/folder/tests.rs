#![allow(clippy::disallowed_methods)]

use std::fs;
use std::path::{Path, PathBuf};

use super::{MANIFEST, Manifest, Writing, Written, within};
use crate::cli::Failure;
use crate::output::Document;

fn documents(of: &[(&'static str, &str)]) -> Vec<Document> {
    of.iter().map(|(name, text)| Document { name: (*name).into(), bytes: text.as_bytes().to_vec() }).collect()
}

fn build(folder: &Path, of: &[(&'static str, &str)], force: bool) -> Result<Written, Failure> {
    Writing::prepare(folder, documents(of), force)?.write()
}

/// A folder that is not there yet, in one that goes away with the test.
fn folder() -> (tempfile::TempDir, PathBuf) {
    let temp = tempfile::tempdir().unwrap();
    let folder = temp.path().join("a/out");
    (temp, folder)
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

fn text(folder: &Path, name: &str) -> String {
    fs::read_to_string(folder.join(name)).unwrap()
}

#[test]
fn a_build_replaces_what_a_build_wrote() {
    let (_temp, folder) = folder();
    let first = build(&folder, &[("a.md", "one"), ("b.md", "same")], false).unwrap();
    assert_eq!((first.new, first.unchanged), (2, 0));
    let second = build(&folder, &[("a.md", "two"), ("b.md", "same")], false).unwrap();
    assert_eq!((second.new, second.unchanged), (1, 1));
    assert_eq!(names(&folder), [MANIFEST, "a.md", "b.md"], "nothing temporary is left");
    assert_eq!(text(&folder, "a.md"), "two");
    // sha256sum of "two" and of "same", by coreutils.
    assert_eq!(
        text(&folder, MANIFEST),
        "3fc4ccfe745870e2c0d99f71f30ff0656c8dedd41cc1d7d3d376b0dbe685e2f3  a.md\n\
         0967115f2813a3541eaef77de9d9d5773f1c0c04314b0bbfe4ff3b3b1c55b5d5  b.md\n"
    );
}

#[test]
fn foreign_and_edited_files_are_kept_unless_forced() {
    let (_temp, folder) = folder();
    build(&folder, &[("a.md", "one"), ("b.md", "one")], false).unwrap();
    fs::write(folder.join("a.md"), "my notes").unwrap();
    fs::write(folder.join("c.md"), "mine too").unwrap();
    let wanted = [("a.md", "two"), ("b.md", "two"), ("c.md", "two")];
    match build(&folder, &wanted, false) {
        Err(Failure::WouldOverwrite { paths }) => {
            let [a, c] = ["a.md", "c.md"].map(|name| folder.join(name).to_string_lossy().into_owned());
            assert_eq!(paths, [a, c]);
        }
        other => panic!("{other:?}"),
    }
    assert_eq!(text(&folder, "a.md"), "my notes");
    assert_eq!(text(&folder, "b.md"), "one", "all or nothing");
    assert_eq!(build(&folder, &wanted, true).unwrap().new, 3);
    assert_eq!(text(&folder, "a.md"), "two");
    assert!(build(&folder, &[("a.md", "three"), ("b.md", "two"), ("c.md", "two")], false).is_ok());
}

#[test]
fn a_file_that_is_already_as_it_shall_be_is_nobodys_loss() {
    let (_temp, folder) = folder();
    fs::create_dir_all(&folder).unwrap();
    fs::write(folder.join("a.md"), "one").unwrap();
    assert_eq!(build(&folder, &[("a.md", "one")], false).unwrap().unchanged, 1);
    assert!(build(&folder, &[("a.md", "two")], false).is_ok(), "it is a build's from then on");
}

#[test]
fn documents_of_earlier_builds_go_when_nobody_touched_them() {
    let (_temp, folder) = folder();
    build(&folder, &[("a.md", "one"), ("old.md", "old"), ("kept.md", "old")], false).unwrap();
    fs::write(folder.join("kept.md"), "with my notes").unwrap();
    let written = build(&folder, &[("a.md", "one")], false).unwrap();
    assert_eq!(written.removed, ["old.md"]);
    assert!(written.strange.is_empty(), "it is called as no document is");
    assert_eq!(names(&folder), [MANIFEST, "a.md", "kept.md"]);
    assert!(!text(&folder, MANIFEST).contains("kept.md"));
}

#[test]
fn a_manifest_that_is_none_is_somebodys_file() {
    let (_temp, folder) = folder();
    fs::create_dir_all(&folder).unwrap();
    for foreign in ["my list\n", "\u{0}", &format!("{}  ../a.md\n", "0".repeat(64))] {
        fs::write(folder.join(MANIFEST), foreign).unwrap();
        assert!(matches!(build(&folder, &[("a.md", "one")], false), Err(Failure::WouldOverwrite { .. })));
        assert_eq!(names(&folder), [MANIFEST]);
    }
    assert!(build(&folder, &[("a.md", "one")], true).is_ok());
    let hash = "0".repeat(64);
    for out in ["../a", "a/b", "/a", ".", "..", "a/", ""] {
        assert_eq!(Manifest::parse(&format!("{hash}  {out}\n")), None, "{out}");
    }
}

#[test]
fn more_than_a_build_may_write_is_refused_with_the_numbers() {
    let folder = Path::new("a/out");
    assert!(within((2 << 20) + 13, folder, (2 << 20) + 13).is_ok());
    let refused = within((2 << 20) + 12, folder, (2 << 20) + 13).unwrap_err();
    let said = "the documents for `a/out` come to about 3 MiB, more than the 2 MiB that those of one vessel may be";
    assert_eq!(refused.to_string(), said);
}

/// A vessel may have tens of thousands of layers, each with its drawing.
#[test]
fn a_manifest_of_very_many_documents_is_read_to_its_end() {
    let (_temp, folder) = folder();
    fs::create_dir_all(&folder).unwrap();
    let entry = |at: u32| (format!("{at:064x}"), format!("layer-{at:06}.svg"));
    let manifest = Manifest((0..100_000).map(entry).collect(), None);
    let path = folder.join(MANIFEST);
    fs::write(&path, manifest.text()).unwrap();
    assert_eq!(Manifest::read(&path).unwrap(), Some(manifest));
}

#[test]
fn a_build_that_was_broken_off_can_be_taken_up() {
    let (_temp, folder) = folder();
    build(&folder, &[("a.md", "one"), ("b.md", "one")], false).unwrap();
    let next = Writing::prepare(&folder, documents(&[("a.md", "two"), ("b.md", "two")]), false).unwrap();
    // As if the power had failed after the first rename.
    let both = Manifest(next.seen.before.0.union(&next.seen.after.0).cloned().collect(), None);
    fs::write(folder.join(MANIFEST), both.text()).unwrap();
    fs::write(folder.join("a.md"), "two").unwrap();
    assert!(build(&folder, &[("a.md", "three"), ("b.md", "three")], false).is_ok());
    assert_eq!(text(&folder, MANIFEST).lines().count(), 2);
}

#[test]
fn folders_in_the_place_of_documents_stay() {
    let (_temp, folder) = folder();
    fs::create_dir_all(folder.join("a.md")).unwrap();
    for force in [false, true] {
        let refused = build(&folder, &[("b.md", "one"), ("a.md", "one")], force);
        assert!(matches!(refused, Err(Failure::NotReplaceable { what: "a folder", .. })), "{refused:?}");
    }
    assert_eq!(names(&folder), ["a.md"]);
}

#[test]
fn what_is_protected_against_writing_stays() {
    let (_temp, folder) = folder();
    build(&folder, &[("a.md", "one"), ("old.md", "old")], false).unwrap();
    let protect = |name: &str, is_protected: bool| {
        let mut permissions = fs::metadata(folder.join(name)).unwrap().permissions();
        permissions.set_readonly(is_protected);
        fs::set_permissions(folder.join(name), permissions).unwrap();
    };
    protect("a.md", true);
    protect("old.md", true);
    assert!(build(&folder, &[("a.md", "one")], false).unwrap().removed.is_empty());
    let refused = build(&folder, &[("a.md", "two")], false);
    assert!(matches!(refused, Err(Failure::WouldOverwrite { .. })), "{refused:?}");
    assert_eq!((text(&folder, "a.md"), text(&folder, "old.md")), ("one".to_owned(), "old".to_owned()));
    build(&folder, &[("a.md", "two")], true).unwrap();
    assert_eq!(text(&folder, "a.md"), "two");
}

#[cfg(unix)]
#[test]
fn links_in_the_place_of_documents_are_not_followed() {
    let (temp, folder) = folder();
    fs::create_dir_all(&folder).unwrap();
    let victim = temp.path().join("victim");
    fs::write(&victim, "precious").unwrap();
    for name in ["a.md", MANIFEST] {
        std::os::unix::fs::symlink(&victim, folder.join(name)).unwrap();
        for force in [false, true] {
            let refused = build(&folder, &[("a.md", "one")], force);
            assert!(matches!(refused, Err(Failure::NotReplaceable { what: "a link", .. })), "{refused:?}");
        }
        fs::remove_file(folder.join(name)).unwrap();
    }
    assert_eq!(fs::read_to_string(&victim).unwrap(), "precious");
}

#[test]
fn a_file_in_the_place_of_the_folder_or_above_it_is_told() {
    let (temp, _) = folder();
    let file = temp.path().join("file");
    fs::write(&file, "x").unwrap();
    assert!(matches!(build(&file, &[("a.md", "one")], true), Err(Failure::NotAFolder { .. })));
    assert!(matches!(build(&file.join("out"), &[("a.md", "one")], true), Err(Failure::CannotWrite { .. })));
}
