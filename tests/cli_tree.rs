//! `build` of a folder: every recipe in it, each for itself, and what is known is not built again.

#![cfg(unix)]
#![allow(clippy::unwrap_used)]

use crate::cli_support::Bench;

/// Three recipes, one of them in a folder, one with a warning; a file that they use; one that is denied.
fn bench() -> Bench {
    let bench = Bench::new();
    bench.run(&["new", "starter"]).says(0, &[]);
    let bowl = bench.text("starter.vessel");
    let cup = "units mm\nuse \"shop.vessel\"\nvessel \"Cup\" {\n  outside { at 0 diameter 90   at 100 diameter 90 }\n  wall 9\n  floor 10\n  \
               every ring { segments 12  thick 18 }\n  body {\n    disc walnut thick 10\n    repeat 5 { ring maple }\n  }\n}\n";
    // A repository, so that files may be used from above.
    bench.file(".git/HEAD", "");
    bench.file("all/bowl.vessel", &bowl).file("all/cups/cup.vessel", cup.replace("shop.vessel", "../shop.vessel"));
    bench.file("all/aligned.vessel", cup.replace("ring maple", "ring maple stagger none"));
    bench.file("all/shop.vessel", "units mm\nshop { kerf 3 }\n");
    bench.file("all/slip.vessel", cup.replace("wall 9", "walll 9"));
    bench
}

#[test]
fn each_is_built_or_denied_by_itself() {
    let bench = bench();
    let ran = bench
        .run(&["build", "all", "-o", "out"])
        .says(1, &["word/unknown", "ring/joints-line-up", "3 built, ", "; 1 denied"]);
    assert_eq!(ran.out, "");
    assert_eq!(bench.names("out"), ["aligned", "bowl", "cups"]);
    assert_eq!(bench.names("out/cups"), ["cup"]);
    // Byte for byte what they give one by one.
    bench.run(&["build", "all/cups/cup.vessel", "-o", "alone"]).says(0, &[]);
    for name in bench.names("alone").iter().filter(|name| !name.starts_with('.')) {
        assert!(bench.bytes(&format!("out/cups/cup/{name}")) == bench.bytes(&format!("alone/{name}")), "{name}");
    }
}

#[test]
fn what_has_not_changed_is_not_built_again() {
    let bench = bench();
    std::fs::remove_file(bench.path("all/slip.vessel")).unwrap();
    let build = |words: &[&str]| bench.run(&["build", "all", "-o", "out"]).says(0, words);
    build(&["3 built, "]);
    // One has a finding, which is to be told each time.
    build(&["0 built, 0 documents written; 3 unchanged", "ring/joints-line-up"]);
    bench.run(&["build", "all", "-o", "out", "--deny", "warnings"]).says(1, &["; 2 unchanged; 1 denied"]);
    // What it uses is part of it.
    bench.file("all/shop.vessel", "units mm\nshop { kerf 2.5 }\n");
    build(&["2 built, ", "; 1 unchanged"]);
    build(&["0 built, 0 documents written; 3 unchanged"]);
    // So is what was asked, and what became of what was written.
    bench.run(&["build", "all", "-o", "out", "--start", "2027-03-01"]).says(0, &["3 built, "]);
    bench.run(&["build", "all", "-o", "out", "--start", "2027-03-01"]).says(0, &["; 3 unchanged"]);
    std::fs::remove_file(bench.path("out/bowl/turning.md")).unwrap();
    bench
        .run(&["build", "all", "-o", "out", "--start", "2027-03-01"])
        .says(0, &["1 built, 1 document written; 2 unchanged"]);
    // Somebody's work is not gone over.
    bench.file("out/bowl/turning.md", "mine");
    bench.run(&["build", "all", "-o", "out", "--start", "2027-03-01"]).says(2, &["output/would-overwrite"]);
    assert_eq!(bench.text("out/bowl/turning.md"), "mine");
}

#[test]
fn what_a_denied_recipe_was_built_to_before_is_told_of() {
    let bench = bench();
    bench.file("all/slip.vessel", bench.text("all/slip.vessel").replace("walll 9", "wall 9"));
    bench.run(&["build", "all", "-o", "out"]).says(0, &["4 built, "]);
    bench.file("all/slip.vessel", bench.text("all/slip.vessel").replace("wall 9", "walll 9"));
    bench
        .run(&["build", "all", "-o", "out"])
        .says(1, &["1 denied", "what lies in out/slip was built from an earlier text"]);
    bench.run(&["build", "all/slip.vessel", "-o", "out/slip"]).says(1, &["out/slip was built from an earlier text"]);
    bench.file("all/latin.vessel", b"vessel \"\xfc\"");
    bench.run(&["build", "all", "-o", "out"]).says(2, &["1 denied; 1 failed", "file/not-utf-8"]);
}

#[test]
fn many_threads_write_what_one_writes() {
    let bench = bench();
    for number in 0..12 {
        bench.file(
            &format!("all/more/{number}.vessel"),
            bench.text("all/bowl.vessel").replace("vessel \"", &format!("vessel \"No. {number} ")),
        );
    }
    for threads in ["1", "8"] {
        let output =
            bench.command(&["build", "all", "-o", threads]).env("RAYON_NUM_THREADS", threads).output().unwrap();
        assert_eq!(output.status.code(), Some(1));
    }
    for folder in ["bowl", "cups/cup", "more/0", "more/11"] {
        for name in bench.names(&format!("1/{folder}")) {
            assert!(
                bench.bytes(&format!("1/{folder}/{name}")) == bench.bytes(&format!("8/{folder}/{name}")),
                "{folder}/{name}"
            );
        }
    }
}

#[test]
fn a_folder_needs_a_place_to_go() {
    let bench = bench();
    bench.run(&["build", "all/bowl.vessel", "all"]).says(2, &["`all` is a folder"]);
    bench.run(&["build", "all"]).says(2, &["build/no-folder", "`-o`"]);
    bench.file("all/Bowl.vessel", bench.text("all/bowl.vessel"));
    bench.run(&["build", "all", "-o", "out"]).says(2, &["output/same-folder"]);
    // One name on macOS, two on Linux: they would go to one folder there.
    std::fs::remove_file(bench.path("all/Bowl.vessel")).unwrap();
    for name in ["all/b\u{fc}chse.vessel", "all/bu\u{308}chse.vessel"] {
        bench.file(name, bench.text("all/bowl.vessel"));
    }
    bench.run(&["build", "all", "-o", "out"]).says(2, &["output/same-folder"]);
}
