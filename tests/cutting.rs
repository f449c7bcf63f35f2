//! The cutting plan as it is taken to the saw: the page, and the drawing of every board.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use ringwright::compile::Compiled;
use ringwright::output;
use ringwright::source::World;

/// A pot of leaning staves on a round, a ring above; the maple has a knot. Invented.
const POT: &str = r#"units mm
shop {
  boards {
    cherry thick 27 wide 170 long 1100 rough
    maple  thick 27 wide 30 long 900 rough avoid 300 .. 340
    walnut thick 27 wide 150 long 700
  }
}
vessel "Pot" {
  outside { at 0 diameter 110  at 120 diameter 140 }
  wall 9
  floor 12
  body {
    disc cherry thick 12
    staves 12 walnut tall 90
    ring 12 maple thick 18
  }
}
"#;

fn document(world: &dyn World, compiled: &Compiled, name: &str) -> String {
    let complete = compiled.complete().unwrap_or_else(|| panic!("{:?}", compiled.findings));
    let found = output::documents(&complete, world).into_iter().find(|document| document.name == name);
    String::from_utf8(found.unwrap().bytes).unwrap()
}

fn of(name: &str) -> String {
    let (world, compiled) = crate::support::compile_text(POT);
    document(&world, &compiled, name)
}

#[test]
fn the_pots_cutting_plan() {
    insta::assert_snapshot!("pot-cutting-plan.md", of("cutting-plan.md"));
}

/// Every setting that the boards ask for is on the sheet: rips, square crosscuts, edges of staves, miters.
#[test]
fn every_setting_is_named_with_what_it_is_for() {
    let page = of("cutting-plan.md");
    let (_, settings) = page.split_once("## Settings of the saw").unwrap();
    let rows: Vec<&str> = settings.lines().filter(|line| line.starts_with("| ")).collect();
    for work in ["1 cut to width", "1 rip ", "3 rips ", "12 square crosscuts ", "24 edges ", "12 crosscuts "] {
        assert!(rows.iter().any(|row| row.contains(&format!("| {work}"))), "{work}in\n{settings}");
    }
    for layer in ["disc-1", "ring-2", "ring-3"] {
        assert!(settings.contains(layer), "{layer} in\n{settings}");
    }
}

/// What lies behind a knot is measured from behind it.
#[test]
fn a_knot_is_told_where_it_is_sawn_round() {
    let page = of("cutting-plan.md");
    assert!(page.contains("Mark what lies from 300.0 mm to 340.0 mm"), "{page}");
    assert!(page.contains("behind 340.0 mm: "), "{page}");
}

/// As many outlines as pieces, none of them outside its board.
#[test]
fn every_piece_is_drawn_once() {
    let svg = of("cutting-plan.svg");
    // A square for the round, 12 staves, 12 segments.
    let titles = svg.split("<title>").skip(1).filter_map(|rest| rest.split_once("</title>")).map(|(title, _)| title);
    let is_letter = |title: &&str| title.len() == 1 && title.starts_with(|sign: char| sign.is_ascii_uppercase());
    assert_eq!(titles.filter(is_letter).count(), 25);
    assert!(svg.contains("S1") && svg.contains("(at hand)"));
}
