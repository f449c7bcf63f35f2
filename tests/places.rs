//! Where things lie: documents that tell no place of a machine, files that a `use` may and may not reach,
//! pages that a terminal can show.

#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::ffi::OsStr;
use std::path::Path;
use std::process::{Command, Output};
use std::{env, fs};

use ringwright::compile::compile;
use ringwright::output::documents;
use ringwright::source::MapWorld;

const CUP: &str = "units mm\nvessel \"Cup\" {\n  outside { at 0 diameter 90   at 100 diameter 90 }\n  wall 9\n  floor 10\n  \
                   every ring { segments 12  thick 18 }\n  body { disc walnut thick 10   repeat 5 { ring maple } }\n}\n";

fn run<I: AsRef<OsStr>>(folder: &Path, arguments: &[I]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_ringwright"))
        .args(arguments)
        .current_dir(folder)
        .env_remove("NO_COLOR")
        .output()
        .expect("the program runs")
}

fn code(output: &Output) -> i32 {
    output.status.code().expect("an exit code, not a signal")
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("UTF-8")
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("UTF-8")
}

/// A folder that holds a clean recipe.
fn bench() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a temporary folder");
    fs::write(folder.path().join("cup.vessel"), CUP).expect("written");
    folder
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name().into_string().expect("UTF-8"))
        .collect();
    names.sort();
    names
}

/// What the library makes of the recipe, and the list of it.
fn written() -> Vec<String> {
    let (world, root) = MapWorld::of("cup.vessel", CUP);
    let compiled = compile(&world, root);
    let documents = documents(&compiled.complete().expect("a clean recipe"), &world);
    let names = documents.into_iter().map(|document| document.name.into_owned());
    [".ringwright-build".to_owned()].into_iter().chain(names).collect()
}

#[test]
fn a_build_writes_its_documents_and_only_those() {
    let folder = bench();
    let built = run(folder.path(), &["build", "cup.vessel", "-o", "out"]);
    assert_eq!(code(&built), 0, "{}", err(&built));
    assert!(out(&built).contains("Cup"), "{}", out(&built));
    assert_eq!(names(&folder.path().join("out")), written());
    assert_eq!(names(folder.path()), ["cup.vessel", "out"]);
    // Twice the same bytes, and a second build may replace what the first one wrote.
    let design = fs::read(folder.path().join("out/design.json")).expect("a design");
    assert_eq!(code(&run(folder.path(), &["build", "cup.vessel", "-o", "out"])), 0);
    assert_eq!(fs::read(folder.path().join("out/design.json")).expect("a design"), design);
    // Built from elsewhere by its full path, the design is the same and tells no place on this machine.
    let full = folder.path().join("cup.vessel");
    let elsewhere = tempfile::tempdir().expect("a temporary folder");
    let arguments = [OsStr::new("build"), full.as_os_str(), OsStr::new("-o"), OsStr::new("out")];
    assert_eq!(code(&run(elsewhere.path(), &arguments)), 0);
    assert_eq!(fs::read(elsewhere.path().join("out/design.json")).expect("a design"), design);
}

#[test]
fn pages_and_the_list_of_codes() {
    let folder = bench();
    let page = run(folder.path(), &["explain", "ring/does-not-cover"]);
    assert_eq!(code(&page), 0);
    assert!(out(&page).starts_with("ring/does-not-cover (error): "), "{}", out(&page));
    let list = out(&run(folder.path(), &["explain"]));
    assert!(list.contains("expect/broken") && list.contains("syntax/unreadable"), "{list}");
    let unknown = run(folder.path(), &["explain", "ring/does-not-cove"]);
    assert!(code(&unknown) == 2 && err(&unknown).contains("ring/does-not-cover"), "{}", err(&unknown));
    for line in list.lines().filter(|line| line.contains('/')) {
        let name = line.split_whitespace().next().expect("a code");
        let page = run(folder.path(), &["explain", name]);
        assert_eq!(code(&page), 0, "{name}");
        let is_plain = out(&page).chars().all(|c| !c.is_control() || c == '\n');
        assert!(is_plain, "{name} sends a control character to the terminal");
    }
}

#[test]
fn files_are_used_only_below_the_project() {
    let folder = bench();
    let project = folder.path().join("project");
    fs::create_dir_all(project.join("boxes")).expect("made");
    fs::create_dir(project.join(".git")).expect("made");
    fs::write(project.join("shop.vessel"), "units mm\nshop { kerf 2 }\n").expect("written");
    fs::write(folder.path().join("outside.vessel"), "units mm\nshop { kerf 2 }\n").expect("written");
    let checked = |used: &str| {
        fs::write(project.join("boxes/cup.vessel"), format!("use \"{used}\"\n{CUP}")).expect("written");
        out(&run(folder.path(), &["check", "project/boxes/cup.vessel", "--format", "short"]))
    };
    assert_eq!(checked("../shop.vessel"), "");
    assert!(checked("../../outside.vessel").contains("error[use/outside-project]"));
    assert!(checked("../../not-even-there.vessel").contains("error[use/outside-project]"));
    assert!(checked("/etc/hostname").contains("error[use/outside-project]"));
    assert!(checked("nowhere.vessel").contains("error[use/not-found]"));
    assert!(checked("../boxes").contains("error[use/unreadable]"));
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(folder.path().join("outside.vessel"), project.join("way-out.vessel"))
            .expect("linked");
        assert!(checked("../way-out.vessel").contains("error[use/outside-project]"));
    }
    // In two files, both are shown by names that say where they are from here.
    fs::write(project.join("shop.vessel"), "units mm\nlet a = 1\nlet a = 2\n").expect("written");
    assert!(checked("../shop.vessel").starts_with("project/shop.vessel:3:5: error[name/twice]"));
}
