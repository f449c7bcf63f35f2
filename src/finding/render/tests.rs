//! Each dress on findings made by hand.

use crate::finding::{Finding, Fix, catalog};
use crate::source::{FileId, MapWorld, Span, World};

use super::{Format, render, tally};

fn world() -> MapWorld {
    let mut world = MapWorld::default();
    world.add("cup.vessel", "units in\nwall ½\n\tfloor 3/8″ strip 1\r\n");
    world.add("shop.vessel", "shop {\n  kerf 1/8\n}\n");
    world.add("empty.vessel", "");
    for name in ["cup.vessel", "shop.vessel", "empty.vessel"] {
        assert!(world.root(name).is_some());
    }
    world
}

fn at(file: u32, world: &MapWorld, text: &str) -> Span {
    let source = world.file(FileId(file));
    let start = source.text.find(text).unwrap();
    Span::new(FileId(file), u32::try_from(start).unwrap(), u32::try_from(start + text.len()).unwrap())
}

fn shown(format: Format, findings: &[Finding], world: &MapWorld) -> String {
    let mut out = Vec::new();
    render(format, findings, world, false, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

fn strip(world: &MapWorld) -> Finding {
    Finding::new(&catalog::RING_DOES_NOT_COVER, at(0, world, "strip 1"), "a strip of 1\" does not cover the wall")
        .here("0.06\" short")
        .also(at(1, world, "kerf 1/8"), "the kerf is set here")
        .help("rip it 1 1/16\" wide")
        .fix(Fix::ask("write `strip 1 1/16`", at(0, world, "1\r"), "1 1/16"))
}

#[test]
fn places_in_two_files_stand_in_one_report() {
    let world = world();
    insta::assert_snapshot!("human", shown(Format::Human, &[strip(&world)], &world));
    insta::assert_snapshot!("narrated", shown(Format::Narrated, &[strip(&world)], &world));
    insta::assert_snapshot!("json", shown(Format::Json, &[strip(&world)], &world));
}

#[test]
fn the_short_form_is_one_line_with_columns_in_characters() {
    let world = world();
    let wall = Finding::new(&catalog::WALL_THIN, at(0, &world, "½"), "thin");
    assert_eq!(
        shown(Format::Short, &[strip(&world), wall], &world),
        "cup.vessel:3:13: error[ring/does-not-cover]: a strip of 1\" does not cover the wall\n\
         cup.vessel:2:6: warning[wall/thin]: thin\n"
    );
}

#[test]
fn an_empty_text_and_a_place_at_the_very_end_can_be_pointed_at() {
    let world = world();
    let empty = Finding::new(&catalog::VESSEL_MISSING, Span::new(FileId(2), 0, 0), "the file is empty");
    let end = world.file(FileId(0)).text.len();
    let end = u32::try_from(end).unwrap();
    let last = Finding::new(&catalog::SYNTAX_UNCLOSED_BLOCK, Span::new(FileId(0), end, end), "");
    let lost = Finding::new(&catalog::SYNTAX_UNCLOSED_BLOCK, Span::new(FileId(0), end + 7, end + 9), "beyond");
    for format in [Format::Human, Format::Narrated, Format::Short, Format::Json] {
        let text = shown(format, &[empty.clone(), last.clone(), lost.clone()], &world);
        assert!(text.contains("vessel/missing") && text.contains("beyond"), "{text}");
    }
}

#[test]
fn color_is_there_only_when_asked_for() {
    let world = world();
    let mut out = Vec::new();
    render(Format::Human, &[strip(&world)], &world, true, &mut out).unwrap();
    assert!(String::from_utf8(out).unwrap().contains('\u{1b}'));
    assert!(!shown(Format::Human, &[strip(&world)], &world).contains('\u{1b}'));
}

#[test]
fn beyond_what_anybody_reads_the_rest_is_counted() {
    let world = world();
    let many = vec![strip(&world); super::SHOWN + 3];
    assert!(shown(Format::Human, &many, &world).ends_with("3 more findings are not shown\n"));
    assert_eq!(shown(Format::Short, &many, &world).lines().count(), super::SHOWN + 3);
}

#[test]
fn findings_are_counted_by_weight() {
    let world = world();
    let thin = Finding::new(&catalog::WALL_THIN, at(0, &world, "½"), "thin");
    assert_eq!(tally(&[]), "no findings");
    assert_eq!(tally(&[thin.clone(), strip(&world), thin]), "1 error, 2 warnings");
}
