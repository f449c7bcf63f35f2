//! The program from outside: exit codes, what is printed where, what is written and what is left alone.

#![allow(clippy::print_stdout, reason = "a skipped check says so")]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]

use std::ffi::OsStr;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::{env, fs};

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

const WRITTEN: [&str; 6] =
    [".ringwright-build", "cut-list.csv", "cut-list.md", "design.json", "glue-schedule.md", "turning.md"];

#[test]
fn a_build_writes_its_documents_and_only_those() {
    let folder = bench();
    let built = run(folder.path(), &["build", "cup.vessel", "-o", "out"]);
    assert_eq!(code(&built), 0, "{}", err(&built));
    assert!(out(&built).contains("Cup"), "{}", out(&built));
    assert_eq!(names(&folder.path().join("out")), WRITTEN);
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
fn a_denied_design_writes_nothing() {
    let folder = bench();
    fs::write(folder.path().join("bad.vessel"), CUP.replace("maple", "mapel")).expect("written");
    let built = run(folder.path(), &["build", "bad.vessel", "-o", "out"]);
    assert_eq!(code(&built), 1);
    assert!(err(&built).contains("error[wood/unknown]"), "{}", err(&built));
    assert!(out(&built).is_empty());
    let both = run(folder.path(), &["build", "cup.vessel", "bad.vessel", "-o", "out"]);
    assert_eq!(code(&both), 1);
    assert_eq!(names(folder.path()), ["bad.vessel", "cup.vessel"]);
}

#[test]
fn files_that_a_build_did_not_write_are_left_alone() {
    let folder = bench();
    let target = folder.path().join("out");
    fs::create_dir(&target).expect("made");
    fs::write(target.join("turning.md"), "my own notes").expect("written");
    let built = run(folder.path(), &["build", "cup.vessel", "-o", "out"]);
    assert_eq!(code(&built), 2);
    assert!(err(&built).contains("turning.md") && err(&built).contains("--force"), "{}", err(&built));
    assert_eq!(names(&target), ["turning.md"]);
    assert_eq!(fs::read_to_string(target.join("turning.md")).expect("read"), "my own notes");
    assert_eq!(code(&run(folder.path(), &["build", "cup.vessel", "-o", "out", "--force"])), 0);
    assert_eq!(names(&target), WRITTEN);
    // A document edited by hand is somebody's work as well.
    fs::write(target.join("cut-list.md"), "edited").expect("written");
    assert_eq!(code(&run(folder.path(), &["build", "cup.vessel", "-o", "out"])), 2);
    assert_eq!(fs::read_to_string(target.join("cut-list.md")).expect("read"), "edited");
}

#[test]
fn what_stands_in_the_way_is_named() {
    let folder = bench();
    fs::write(folder.path().join("file"), "").expect("written");
    let built = run(folder.path(), &["build", "cup.vessel", "-o", "file"]);
    assert_eq!(code(&built), 2);
    assert!(err(&built).contains("not a folder"), "{}", err(&built));
    let under = run(folder.path(), &["build", "cup.vessel", "-o", "file/out"]);
    assert_eq!(code(&under), 2);
    assert!(err(&under).contains("cannot be written"), "{}", err(&under));
    fs::create_dir_all(folder.path().join("dirs/design.json")).expect("made");
    let folder_in_the_way = run(folder.path(), &["build", "cup.vessel", "-o", "dirs", "--force"]);
    assert_eq!(code(&folder_in_the_way), 2);
    assert_eq!(names(&folder.path().join("dirs")), ["design.json"]);
}

#[cfg(unix)]
#[test]
fn a_link_is_never_written_through() {
    let folder = bench();
    let target = folder.path().join("out");
    fs::create_dir(&target).expect("made");
    fs::write(folder.path().join("precious"), "mine").expect("written");
    std::os::unix::fs::symlink(folder.path().join("precious"), target.join("design.json")).expect("linked");
    for force in [&["build", "cup.vessel", "-o", "out"][..], &["build", "cup.vessel", "-o", "out", "--force"]] {
        let built = run(folder.path(), force);
        assert_eq!(code(&built), 2);
        assert!(err(&built).contains("a link"), "{}", err(&built));
    }
    assert_eq!(fs::read_to_string(folder.path().join("precious")).expect("read"), "mine");
    assert_eq!(names(&target), ["design.json"]);
}

#[cfg(unix)]
#[test]
fn folders_and_files_without_permission() {
    use std::os::unix::fs::PermissionsExt;
    let folder = bench();
    let closed = folder.path().join("closed");
    fs::create_dir(&closed).expect("made");
    fs::set_permissions(&closed, fs::Permissions::from_mode(0o555)).expect("set");
    fs::write(folder.path().join("secret.vessel"), CUP).expect("written");
    fs::set_permissions(folder.path().join("secret.vessel"), fs::Permissions::from_mode(0o000)).expect("set");
    if fs::write(closed.join("probe"), "").is_ok() {
        println!("skipped: permissions do not bind this user");
        return;
    }
    let built = run(folder.path(), &["build", "cup.vessel", "-o", "closed"]);
    assert_eq!((code(&built), names(&closed).len()), (2, 0), "{}", err(&built));
    assert_eq!(code(&run(folder.path(), &["check", "secret.vessel"])), 2);
    fs::set_permissions(&closed, fs::Permissions::from_mode(0o755)).expect("set back");
}

#[test]
fn files_that_cannot_be_recipes() {
    let folder = bench();
    fs::write(folder.path().join("latin.vessel"), b"caf\xe9").expect("written");
    fs::write(folder.path().join("large.vessel"), vec![b'#'; 100 * 1024 * 1024]).expect("written");
    fs::create_dir(folder.path().join("dir.vessel")).expect("made");
    for (name, sign) in
        [("missing.vessel", "file/not-found"), ("latin.vessel", "file/not-utf-8"), ("large.vessel", "file/too-large")]
    {
        let checked = run(folder.path(), &["check", name]);
        assert_eq!(code(&checked), 2, "{name}");
        assert!(err(&checked).contains(sign), "{}", err(&checked));
    }
    let built = run(folder.path(), &["build", "dir.vessel"]);
    assert!(code(&built) == 2 && err(&built).contains("folder"), "{}", err(&built));
    let empty = run(folder.path(), &["check", "dir.vessel"]);
    assert!(code(&empty) == 2 && err(&empty).contains("no recipe"), "{}", err(&empty));
    let json = run(folder.path(), &["check", "missing.vessel", "--format", "json"]);
    let error: serde_json::Value = serde_json::from_slice(&json.stderr).expect("JSON");
    assert_eq!(error["error"]["code"], "file/not-found");
}

#[test]
fn several_recipes_get_a_folder_each() {
    let folder = bench();
    fs::create_dir(folder.path().join("other")).expect("made");
    fs::write(folder.path().join("other/cup.vessel"), CUP).expect("written");
    fs::write(folder.path().join("mug.vessel"), CUP).expect("written");
    assert_eq!(code(&run(folder.path(), &["build", "cup.vessel", "mug.vessel", "-o", "out"])), 0);
    assert_eq!(names(&folder.path().join("out")), ["cup", "mug"]);
    let same = run(folder.path(), &["build", "cup.vessel", "other/cup.vessel", "-o", "twice"]);
    assert!(code(&same) == 2 && err(&same).contains("same-folder"), "{}", err(&same));
    assert!(!folder.path().join("twice").exists());
}

#[test]
fn a_recipe_may_come_from_standard_input() {
    let folder = bench();
    let mut child = Command::new(env!("CARGO_BIN_EXE_ringwright"))
        .args(["check", "-", "--format", "short"])
        .current_dir(folder.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("started");
    let text = CUP.replace("walnut", "wallnut");
    child.stdin.take().expect("stdin").write_all(text.as_bytes()).expect("fed");
    let checked = child.wait_with_output().expect("ended");
    assert_eq!(code(&checked), 1);
    assert_eq!(out(&checked), "<stdin>:7:15: error[wood/unknown]: no wood is known as `wallnut`\n");
}

#[test]
fn every_form_of_findings_and_where_it_goes() {
    let folder = bench();
    fs::write(folder.path().join("bad.vessel"), CUP.replace("maple", "mapel")).expect("written");
    let human = run(folder.path(), &["check", "."]);
    assert_eq!(code(&human), 1);
    assert!(out(&human).is_empty() && err(&human).contains("2 recipes checked: 1 error"), "{}", err(&human));
    let narrated = run(folder.path(), &["check", "bad.vessel", "--format", "narrated"]);
    assert!(err(&narrated).contains("Diagnostic severity: error"), "{}", err(&narrated));
    let json = run(folder.path(), &["check", ".", "--format", "json"]);
    let rows: serde_json::Value = serde_json::from_slice(&json.stdout).expect("JSON");
    assert_eq!(rows[0]["code"], "wood/unknown");
    assert_eq!(rows[0]["spans"][0]["line"], 7);
    let clean = run(folder.path(), &["check", "cup.vessel", "--format", "json"]);
    assert_eq!((code(&clean), out(&clean).as_str()), (0, "[]\n"));
}

#[test]
fn color_only_when_it_is_wanted() {
    let folder = bench();
    fs::write(folder.path().join("bad.vessel"), CUP.replace("maple", "mapel")).expect("written");
    let has_color = |arguments: &[&str]| err(&run(folder.path(), arguments)).contains('\u{1b}');
    assert!(!has_color(&["check", "bad.vessel"]), "a pipe is no terminal");
    assert!(has_color(&["check", "bad.vessel", "--color", "always"]));
    assert!(!has_color(&["check", "bad.vessel", "--color", "never"]));
}

#[test]
fn warnings_deny_when_asked_to() {
    let folder = bench();
    let text = CUP
        .replace("repeat 5 { ring maple }", "ring [maple*5 walnut]   repeat 4 { ring maple }")
        .replace("segments 12", "segments 14");
    fs::write(folder.path().join("seam.vessel"), text).expect("written");
    let lenient = run(folder.path(), &["check", "seam.vessel"]);
    assert_eq!(code(&lenient), 0, "{}", err(&lenient));
    assert!(err(&lenient).contains("warning[pattern/does-not-close]"), "{}", err(&lenient));
    assert_eq!(code(&run(folder.path(), &["check", "seam.vessel", "--deny-warnings"])), 1);
}

#[test]
fn a_new_recipe_compiles_clean_and_is_never_written_over() {
    let folder = bench();
    assert_eq!(code(&run(folder.path(), &["new", "salad-bowl"])), 0);
    let text = fs::read_to_string(folder.path().join("salad-bowl.vessel")).expect("written");
    assert!(text.contains("vessel \"Salad bowl\""));
    let checked = run(folder.path(), &["check", "salad-bowl.vessel", "--deny-warnings", "--format", "short"]);
    assert_eq!((code(&checked), out(&checked).as_str()), (0, ""));
    let again = run(folder.path(), &["new", "salad-bowl"]);
    assert!(code(&again) == 2 && err(&again).contains("is there already"), "{}", err(&again));
    assert_eq!(code(&run(folder.path(), &["new", "no/such/folder"])), 2);
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

#[test]
fn a_file_for_others_to_use_is_checked_but_not_built() {
    let folder = bench();
    fs::write(folder.path().join("shop.vessel"), "units mm\nshop { kerf 2 }\n").expect("written");
    assert_eq!(code(&run(folder.path(), &["check", "shop.vessel"])), 0);
    let built = run(folder.path(), &["build", "shop.vessel"]);
    assert!(code(&built) == 2 && err(&built).contains("no vessel"), "{}", err(&built));
}

#[test]
fn usage_errors_are_code_two_and_help_is_help() {
    let folder = bench();
    assert_eq!(code(&run(folder.path(), &["frobnicate"])), 2);
    assert_eq!(code(&run(folder.path(), &["build"])), 2);
    assert_eq!(code(&run(folder.path(), &["check", "cup.vessel", "--format", "xml"])), 2);
    let help = run(folder.path(), &["--help"]);
    assert_eq!(code(&help), 0);
    for word in ["check", "build", "explain", "schema", "new", "Exit codes", "NO_COLOR"] {
        assert!(out(&help).contains(word), "{word}");
    }
    let schema: serde_json::Value =
        serde_json::from_slice(&run(folder.path(), &["schema"]).stdout).expect("the schema is JSON");
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
}
