//! Whatever is fed to the compiler, it answers with findings: no panic, no hang, no flood of memory.

use crate::support::{codes, compile_files, compile_text, cup, cup_of, said};
use proptest::prelude::*;
use ringwright::compile::compile;
use ringwright::finding::render::{Format, render};
use ringwright::source::MapWorld;

#[test]
fn the_cup_that_the_cases_are_made_of_is_clean() {
    let (world, compiled) = compile_text(&cup(""));
    assert_eq!(said(&world, &compiled), []);
    assert!(compiled.complete().is_some());
}

#[test]
fn texts_that_are_no_recipe() {
    assert_eq!(codes(""), ["vessel/missing"]);
    assert_eq!(codes("\n\n  \n# only a comment"), ["vessel/missing"]);
    assert_eq!(codes("\u{feff}"), ["vessel/missing"]);
    assert!(codes("\0\0\0").contains(&"syntax/control-character"));
    assert!(!codes("\u{7f}ELF\u{1}\u{2}\u{3} \u{fffd}").is_empty());
    assert!(!codes("}").is_empty() && !codes("{").is_empty() && !codes("\"").is_empty());
}

#[test]
fn line_ends_of_very_old_macs_are_told() {
    let (_, compiled) = compile_text(&format!("# A cup\n{}", cup("")).replace('\n', "\r"));
    let help = compiled.findings[0].help.as_deref();
    assert!(help.is_some_and(|help| help.contains("carriage return")), "{:?}", compiled.findings);
}

#[test]
fn a_path_that_only_windows_understands_is_told_on_every_system() {
    let (world, compiled) = compile_text(&format!("use \"lib\\\\shop.vessel\"\n{}", cup("")));
    assert!(said(&world, &compiled)[0].0 == "use/not-found", "{:?}", compiled.findings);
    assert!(compiled.findings[0].help.as_deref().is_some_and(|help| help.contains("write `/`")));
}

#[test]
fn line_ends_tabs_and_marks_change_nothing() {
    let plain = cup("");
    let plain_design = format!("{:?}", compile_text(&plain).1.vessel.map(|vessel| vessel.capacity.value));
    for other in [
        plain.replace('\n', "\r\n"),
        plain.replace("  ", "\t"),
        format!("\u{feff}{plain}"),
        plain.trim_end().to_owned(),
        plain.replace("disc walnut thick 10\n    repeat", "disc walnut thick 10   repeat"),
    ] {
        let (world, compiled) = compile_text(&other);
        assert_eq!(said(&world, &compiled), [], "{other:?}");
        assert_eq!(format!("{:?}", compiled.vessel.map(|vessel| vessel.capacity.value)), plain_design);
    }
}

#[test]
fn signs_that_mean_what_they_are_taken_for() {
    let text = cup("")
        .replace("units mm", "units in")
        .replace("at 0 diameter 90   at 100 diameter 90", "at 0 diameter 3½   at 4″ diameter 3 1/2 in");
    let text = text
        .replace("wall 9", "wall 3/8\"")
        .replace("floor 10", "floor ½")
        .replace("thick 18", "thick 0.7")
        .replace("thick 10", "thick 1/2");
    let (world, compiled) = compile_text(&text);
    assert_eq!(said(&world, &compiled), []);
    let turned = compile_text(&cup("").replace("thick 18", "thick 18 stagger 15°"));
    assert_eq!(said(&turned.0, &turned.1), []);
}

#[test]
fn brackets_beyond_all_reason() {
    for (open, before) in [("{", "a "), ("(", "let x = "), ("[", "ring ")] {
        let text = format!("{before}{}", open.repeat(100_000));
        assert_eq!(codes(&text), ["syntax/too-deep"], "{open}");
    }
    let closed = format!("let x = {}1{}", "(".repeat(100_000), ")".repeat(100_000));
    assert_eq!(codes(&closed), ["syntax/too-deep"]);
}

#[test]
fn chains_beyond_all_reason() {
    let sum = format!("let x = 1{}\n{}", " + 1".repeat(100_000), cup(""));
    assert!(!codes(&sum).is_empty());
    let signs = format!("let x = {}1\n{}", "- ".repeat(100_000), cup(""));
    assert!(!codes(&signs).is_empty());
}

#[test]
fn repeats_beyond_all_reason() {
    assert!(codes(&cup_of("disc walnut thick 10   repeat 1000000000 { ring maple }", "")).contains(&"repeat/too-many"));
    let nested = format!("{}ring maple{}", "repeat 100 { ".repeat(20), " }".repeat(20));
    assert!(codes(&cup_of(&nested, "")).contains(&"repeat/too-many"));
    let empty = "repeat 4000000000 { }";
    assert!(codes(&cup_of(empty, "")).contains(&"repeat/too-many"));
    let lists = format!("ring {}maple{}", "[(".to_owned() + &"(".repeat(8), ")*1000".repeat(8) + ")*1000]");
    assert!(codes(&cup_of(&lists, "")).contains(&"pattern/too-long"));
}

/// A vessel so high that each layer of it lies in the shape.
fn tower(high: u32, layers: &str) -> String {
    cup_of(layers, "").replace("at 100 diameter 90", &format!("at {high} diameter 90"))
}

#[test]
fn segments_beyond_all_reason() {
    let many = tower(20_000, "disc walnut thick 10   repeat 1001 { ring maple segments 1000 }");
    assert_eq!(codes(&many), ["ring/too-many-segments"]);
    let fill = tower(900_000, "disc walnut thick 10   fill to 900000 { ring maple segments 999 thick 12 }");
    assert_eq!(codes(&fill), ["ring/too-many-segments"]);
}

#[test]
fn a_line_without_end_takes_no_more_than_its_length() {
    // Where each finding counts the columns before it, this takes minutes.
    let text = cup_of(&format!("ring maple{}", " segments 12".repeat(100_000)), "");
    let (world, compiled) = compile_text(&text);
    let mut said = Vec::new();
    render(Format::Short, &compiled.findings, &world, false, &mut said).unwrap();
    assert!(String::from_utf8_lossy(&said).lines().count() >= 99_999);
}

#[test]
fn as_many_accepts_as_layers_take_no_more_than_their_number() {
    // Where each finding asks each of them, this takes minutes.
    let lines = "ring [maple walnut] stagger none accept ring/joints-line-up because \"so\"\n".repeat(8_000);
    let (_, compiled) = compile_text(&tower(144_010, &format!("disc walnut thick 10\n{lines}")));
    assert!(compiled.accepted.len() > 7_990, "{}", compiled.accepted.len());
}

#[test]
fn sizes_beyond_all_reason() {
    for (from, to, code) in [
        ("wall 9", "wall 0", "quantity/out-of-range"),
        ("wall 9", "wall -3", "quantity/out-of-range"),
        ("wall 9", "wall 45", "wall/thicker-than-radius"),
        ("wall 9", "wall 2000 m", "quantity/out-of-range"),
        ("thick 18", "thick 0", "quantity/out-of-range"),
        ("thick 18", "thick (0 / 0)", "quantity/not-a-number"),
        ("thick 18", "thick (1 / 0)", "quantity/not-a-number"),
        ("thick 18", "thick sqrt(-1)", "word/"),
        ("thick 18", "thick (sqrt(0 - 4))", "quantity/not-a-number"),
        ("thick 18", "thick (tan(90°) * 1 mm)", "quantity/not-a-number"),
        ("thick 18", "thick 1/0", "quantity/not-a-number"),
        ("segments 12", "segments 0", "ring/too-few-segments"),
        ("segments 12", "segments 1", "ring/too-few-segments"),
        ("segments 12", "segments 2", "ring/too-few-segments"),
        ("segments 12", "segments 10000", "ring/too-many-segments"),
        ("segments 12", "segments 4000000000", "ring/too-many-segments"),
        ("segments 12", "segments 12.5", "quantity/out-of-range"),
        ("segments 12", "segments -12", "quantity/out-of-range"),
        ("at 100 diameter 90", "at 100 diameter 0", "wall/thicker-than-radius"),
        ("at 100 diameter 90", "at 100 diameter -90", "quantity/out-of-range"),
        ("at 0 diameter 90   at 100 diameter 90", "at 0 diameter 0   at 100 diameter 0", "quantity/out-of-range"),
        ("at 0 diameter 90", "at 5 diameter 90", "shape/base-not-at-zero"),
        ("at 0 diameter 90   at 100", "at 0 diameter 90   at 0", "shape/too-few-points"),
    ] {
        let text = cup("").replace(from, to);
        let found = codes(&text);
        assert!(found.iter().any(|name| name.starts_with(code)), "{to}: {found:?}");
    }
}

#[test]
fn a_broken_line_hides_nothing_else() {
    let text = cup_of(
        "disc walnutt thick 10\n    ring maple segmants 12\n    ring @@@\n    repeat 5 { ring mapel }",
        "expect mas <= 3 kg",
    );
    let found = codes(&text);
    for code in ["wood/unknown", "word/unknown", "syntax/unreadable"] {
        assert!(found.contains(&code), "{code}: {found:?}");
    }
    assert_eq!(found.iter().filter(|code| **code == "wood/unknown").count(), 2, "{found:?}");
    assert_eq!(found.iter().filter(|code| **code == "word/unknown").count(), 2, "{found:?}");
}

#[test]
fn circles_of_files_are_told_with_every_step() {
    let (world, compiled) = compile_files(&[
        ("a.vessel", "use \"b.vessel\"\n"),
        ("b.vessel", "use \"c.vessel\"\n"),
        ("c.vessel", "use \"a.vessel\"\n"),
    ]);
    let found = said(&world, &compiled);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].0, "use/cycle");
    assert_eq!(compiled.findings[0].related.len(), 2, "the two steps before it");
    let (world, compiled) = compile_files(&[("a.vessel", "use \"a.vessel\"\n")]);
    assert_eq!(said(&world, &compiled)[0].0, "use/cycle");
}

#[test]
fn a_long_chain_of_files_ends() {
    let names: Vec<String> = (0..300).map(|at| format!("f{at}.vessel")).collect();
    let texts: Vec<String> = (0..300).map(|at| format!("use \"f{}.vessel\"\n", at + 1)).collect();
    let files: Vec<(&str, &str)> = names.iter().map(String::as_str).zip(texts.iter().map(String::as_str)).collect();
    let (world, compiled) = compile_files(&files);
    assert_eq!(said(&world, &compiled)[0].0, "use/unreadable");
}

#[test]
fn ten_thousand_findings_are_no_trouble() {
    let text = format!("units mm\n{}", "vessle \"x\"\n".repeat(10_000));
    assert_eq!(codes(&text).len(), 10_000);
}

#[test]
fn every_beginning_of_a_recipe_is_answered() {
    let text = cup_of(
        "disc walnut thick 1/2\"   # a comment\n ring rotate 1 [(maple walnut)*2 cherry] segments (6 * 2) stagger 1/4 name band",
        "let x = min(1, 2 mm)\nexpect capacity >= 100 ml",
    );
    for (end, _) in text.char_indices() {
        let (_, compiled) = compile_text(&text[..end]);
        assert!(!compiled.findings.is_empty() || compiled.is_library, "{:?}", &text[..end]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn any_text_is_answered(text in "\\PC{0,200}") {
        let (world, root) = MapWorld::of("x.vessel", &text);
        let compiled = compile(&world, root);
        prop_assert!(compiled.complete().is_none());
        prop_assert!(!compiled.findings.is_empty() || compiled.is_library);
    }

    #[test]
    fn a_recipe_with_bites_taken_out_is_answered(cuts in proptest::collection::vec((0usize..600, 0usize..12, "[ -~\n]{0,4}"), 1..6)) {
        let mut text = cup_of("disc walnut thick 10\n ring [maple*2 (walnut cherry)] segments 12 thick 3/4\" strip 30\n repeat 4 as i { ring maple thick (18 + i * 0) }", "expect mass <= 2 kg");
        for (at, length, insert) in cuts {
            let mut start = at.min(text.len());
            while !text.is_char_boundary(start) { start -= 1; }
            let mut end = (start + length).min(text.len());
            while !text.is_char_boundary(end) { end -= 1; }
            text.replace_range(start..end.max(start), &insert);
        }
        let (world, compiled) = compile_text(&text);
        for (_, marked, message) in said(&world, &compiled) {
            prop_assert!(!message.is_empty(), "{marked}");
        }
    }
}
