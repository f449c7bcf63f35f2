//! What each format makes of findings that were made by hand.

use insta::assert_snapshot;

use super::{Format, SHOWN_LIMIT, json_items, render};
use crate::finding::{Edit, Finding, Fix, Grade, catalog};
use crate::source::{FileId, MapWorld, Span, World};

const CROCK: &str = "units in\nuse \"workshop.vessel\"\nvessel \"Crock\" {\n\touter ½″ ring [maple*4 walnutt]\n}\n";
const SHOP: &str = "every ring { segments 12 }\n";

fn two_files() -> (MapWorld, FileId, FileId) {
    let (mut world, root) = MapWorld::of("crock.vessel", CROCK);
    world.add("workshop.vessel", SHOP);
    let shop = world.open(root, "workshop.vessel").unwrap();
    (world, root, shop)
}

#[track_caller]
fn span(world: &dyn World, file: FileId, piece: &str) -> Span {
    let start = world.file(file).text.find(piece).unwrap();
    Span::new(file, u32::try_from(start).unwrap(), u32::try_from(start + piece.len()).unwrap())
}

fn show(format: Format, findings: &[Finding], world: &dyn World) -> String {
    let mut out = Vec::new();
    render(format, findings, world, false, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

/// One with a fix and a label behind a tab, `½` and `″`; one with a label in a second file.
fn usual() -> (MapWorld, Vec<Finding>) {
    let (world, root, shop) = two_files();
    let wood = span(&world, root, "walnutt");
    let pattern = span(&world, root, "[maple*4 walnutt]");
    let findings = vec![
        Finding::new(
            &catalog::PATTERN_DOES_NOT_CLOSE,
            pattern,
            "a motif of 5 does not close round 12 segments: 2 are left at the seam",
        )
        .also(span(&world, shop, "segments 12"), "the count is set here")
        .help("use 10 or 15 segments, or a motif of 2, 3, 4, 6 or 12"),
        Finding::new(&catalog::WOOD_UNKNOWN, wood, "`walnutt` is in no table")
            .here("not known")
            .also(span(&world, root, "units in"), "")
            .help("write `walnut`")
            .fix(Fix::safe("write `walnut`", wood, "walnut")),
    ];
    (world, findings)
}

#[test]
fn human_shows_lines_of_several_files_with_help_and_fix() {
    let (world, findings) = usual();
    assert_snapshot!(show(Format::Human, &findings, &world), @r#"
    warning[pattern/does-not-close]: a motif of 5 does not close round 12 segments: 2 are left at the seam
      ┌─ crock.vessel:4:16
      │
    4 │     outer ½″ ring [maple*4 walnutt]
      │                   ^^^^^^^^^^^^^^^^^
      │
      ┌─ workshop.vessel:1:14
      │
    1 │ every ring { segments 12 }
      │              ----------- the count is set here
      │
      = help: use 10 or 15 segments, or a motif of 2, 3, 4, 6 or 12

    error[wood/unknown]: `walnutt` is in no table
      ┌─ crock.vessel:4:25
      │
    1 │ units in
      │ --------
      ·
    4 │     outer ½″ ring [maple*4 walnutt]
      │                            ^^^^^^^ not known
      │
      = help: write `walnut`

    1 error, 1 warning in crock.vessel
    "#);
}

#[test]
fn narrated_tells_every_place_in_words() {
    let (world, findings) = usual();
    assert_snapshot!(show(Format::Narrated, &findings, &world), @r#"
    a motif of 5 does not close round 12 segments: 2 are left at the seam
        Diagnostic severity: warning
    Begin snippet for crock.vessel starting at line 3, column 1

    snippet line 3: vessel "Crock" {
    snippet line 4: 	outer ½″ ring [maple*4 walnutt]
        label at line 4, columns 16 to 32
    snippet line 5: }
    diagnostic help: use 10 or 15 segments, or a motif of 2, 3, 4, 6 or 12
    diagnostic code: pattern/does-not-close

    Advice: see also workshop.vessel
        Diagnostic severity: advice

    Begin snippet for workshop.vessel starting at line 1, column 1

    snippet line 1: every ring { segments 12 }
        label at line 1, columns 14 to 24: the count is set here

    `walnutt` is in no table
        Diagnostic severity: error
    Begin snippet for crock.vessel starting at line 1, column 1

    snippet line 1: units in
        label at line 1, columns 1 to 8
    snippet line 2: use "workshop.vessel"
    snippet line 3: vessel "Crock" {
    snippet line 4: 	outer ½″ ring [maple*4 walnutt]
        label at line 4, columns 25 to 31: not known
    snippet line 5: }
    diagnostic help: write `walnut`
    diagnostic code: wood/unknown

    1 error, 1 warning in crock.vessel
    "#);
}

#[test]
fn short_is_a_line_each_and_counts_characters() {
    let (world, findings) = usual();
    assert_snapshot!(show(Format::Short, &findings, &world), @r#"
    crock.vessel:4:16: warning[pattern/does-not-close]: a motif of 5 does not close round 12 segments: 2 are left at the seam
    crock.vessel:4:25: error[wood/unknown]: `walnutt` is in no table
    "#);
}

#[test]
fn json_has_all_of_it() {
    let (world, findings) = usual();
    assert_snapshot!(show(Format::Json, &findings[1..], &world), @r#"
    [
      {
        "code": "wood/unknown",
        "severity": "error",
        "message": "`walnutt` is in no table",
        "spans": [
          {
            "file": "crock.vessel",
            "start": 75,
            "end": 82,
            "line": 4,
            "column": 25,
            "message": "not known"
          },
          {
            "file": "crock.vessel",
            "start": 0,
            "end": 8,
            "line": 1,
            "column": 1,
            "message": ""
          }
        ],
        "help": "write `walnut`",
        "fix": {
          "title": "write `walnut`",
          "safe": true,
          "edits": [
            {
              "file": "crock.vessel",
              "start": 75,
              "end": 82,
              "text": "walnut"
            }
          ]
        }
      }
    ]
    "#);
    assert_eq!(show(Format::Json, &[], &world), "[]\n");
}

#[test]
fn a_label_over_several_lines() {
    let (world, root, _) = two_files();
    let all = world.file(root).text.clone();
    let whole = span(&world, root, &all);
    let block = span(&world, root, &all[all.find('{').unwrap()..]);
    let findings = [Finding::new(&catalog::SYNTAX_UNCLOSED_BLOCK, block, "this block is never closed")
        .also(whole, "in all of this")];
    assert_snapshot!(show(Format::Human, &findings, &world), @r#"
    error[syntax/unclosed-block]: this block is never closed
      ┌─ crock.vessel:3:16
      │    
    1 │   ╭ units in
    2 │   │ use "workshop.vessel"
    3 │   │ vessel "Crock" {
      │ ╭─│────────────────^
    4 │ │ │     outer ½″ ring [maple*4 walnutt]
    5 │ │ │ }
      │ ╰─│─^
      │   ╰─' in all of this

    1 error in crock.vessel
    "#);
    assert_snapshot!(show(Format::Narrated, &findings, &world), @r#"
    this block is never closed
        Diagnostic severity: error
    Begin snippet for crock.vessel starting at line 1, column 1

    snippet line 1: units in
        label starting at line 1, column 1: in all of this
    snippet line 2: use "workshop.vessel"
    snippet line 3: vessel "Crock" {
        label starting at line 3, column 16
    snippet line 4: 	outer ½″ ring [maple*4 walnutt]
    snippet line 5: }
        label ending at line 5, column 1: in all of this
        label ending at line 5, column 1
    diagnostic code: syntax/unclosed-block

    1 error in crock.vessel
    "#);
}

/// A label far below is told where it is, and by no other line.
#[test]
fn narrated_tells_each_label_once() {
    let text = "units mm\nvessel \"X\" {\n  wall 9\n\n\n  floor 10\n\n\n\n\n  body {\n  }\n";
    let (world, root) = MapWorld::of("x.vessel", text);
    let end = u32::try_from(text.len()).unwrap();
    let findings = [Finding::new(&catalog::SYNTAX_UNCLOSED_BLOCK, span(&world, root, "\"X\""), "not closed")
        .here("opened here")
        .also(span(&world, root, "floor"), "not this")
        .also(Span::new(root, end, end), "the file ends here")];
    let told = show(Format::Narrated, &findings, &world);
    for label in [
        "line 2, columns 8 to 10: opened here",
        "line 6, columns 3 to 7: not this",
        "line 13, column 1: the file ends here",
    ] {
        assert!(told.contains(label), "{label} in {told}");
    }
    assert_eq!(told.matches("    label ").count(), 3, "{told}");
}

#[test]
fn fixes_that_insert_delete_and_reach_into_other_files() {
    let (world, root, shop) = two_files();
    let place = span(&world, root, "vessel \"Crock\"");
    let start = Span::new(shop, 0, 0);
    let edits = vec![
        Edit { span: start, text: "units in\n".to_owned() },
        Edit { span: span(&world, root, "use \"workshop.vessel\"\n"), text: String::new() },
        Edit { span: span(&world, root, "½″"), text: "1/2 in".to_owned() },
    ];
    let fix = Fix { title: "say the units once".to_owned(), grade: Grade::Ask, edits };
    let finding = Finding::new(&catalog::UNITS_MISSING, place, "`3` has no unit").fix(fix);
    assert_snapshot!(show(Format::Human, &[finding], &world), @r#"
    error[units/missing]: `3` has no unit
      ┌─ crock.vessel:3:1
      │
    3 │ vessel "Crock" {
      │ ^^^^^^^^^^^^^^
      │
      = fix: say the units once
          line 1 of workshop.vessel: insert `units in`
          line 2: delete `use "workshop.vessel"`
          line 4: `½″` becomes `1/2 in`

    1 error in crock.vessel
    "#);
}

#[test]
fn an_empty_file_and_an_empty_message_have_a_place_too() {
    let (world, root) = MapWorld::of("empty.vessel", "");
    let findings = [Finding::new(&catalog::VESSEL_MISSING, Span::new(root, 0, 0), "").here("here")];
    assert_snapshot!(show(Format::Human, &findings, &world), @r#"
    error[vessel/missing]: 
      ┌─ empty.vessel:1:1
      │
    1 │ 
      │ ^ here

    1 error in empty.vessel
    "#);
    assert_snapshot!(show(Format::Narrated, &findings, &world), @r#"

        Diagnostic severity: error
    Begin snippet for empty.vessel starting at line 1, column 1

    snippet line 1: 
        label at line 1, column 1: here
    diagnostic code: vessel/missing

    1 error in empty.vessel
    "#);
    assert_eq!(show(Format::Short, &findings, &world), "empty.vessel:1:1: error[vessel/missing]: \n");
    assert_eq!(json_items(&findings, &world)[0].spans[0].line, 1);
}

#[test]
fn the_end_of_a_file_with_and_without_a_last_line_end() {
    for (text, place) in [("a\r\nb", "2:2"), ("a\r\nb\r\n", "3:1"), ("½\t″", "1:4"), ("\n", "2:1")] {
        let (world, root) = MapWorld::of("x.vessel", text);
        let end = u32::try_from(text.len()).unwrap();
        let findings = [Finding::new(&catalog::VESSEL_MISSING, Span::new(root, end, end), "no vessel").here("to here")];
        for format in [Format::Human, Format::Short] {
            let shown = show(format, &findings, &world);
            assert!(shown.contains(&format!("x.vessel:{place}")), "{text:?} {place} in {shown}");
        }
        let narrated = show(Format::Narrated, &findings, &world);
        let (line, column) = place.split_once(':').unwrap();
        if !text.contains('\t') {
            let told = format!("line {line}, column {column}: to here");
            assert!(narrated.contains(&told), "{text:?} {told} in {narrated}");
        }
    }
}

#[test]
fn rough_places_and_rough_texts_are_survived_in_every_format() {
    let long = "½ ring ".repeat(40_000);
    let texts =
        ["", "\u{feff}", "\0\0\0", "a\u{1b}[2J\r\n\r\rb", "\r", "\n\n\n", "𝄞\t½″\r\n", "a\n\u{202e}b\n", long.as_str()];
    for text in texts {
        let (world, root) = MapWorld::of("x\n.vessel", text);
        let length = u32::try_from(text.len()).unwrap();
        let mut findings = Vec::new();
        for start in [0, 1, 2, 5, length / 2, length.saturating_sub(1), length, length + 7, u32::MAX] {
            for end in [start, start.saturating_add(1), start.saturating_add(3), length, u32::MAX] {
                let place = Span::new(root, start, end.max(start));
                let finding = Finding::new(&catalog::SYNTAX_UNREADABLE, place, "a\u{1b}b\nc").here("");
                let finding = finding.also(Span::new(FileId(99), 3, 5), "elsewhere").also(place, "twice");
                findings.push(finding.fix(Fix::ask("do\tit", place, "\n\n")).help("x\ny"));
            }
        }
        for format in [Format::Human, Format::Narrated, Format::Short, Format::Json, Format::Sarif] {
            let shown = show(format, &findings, &world);
            assert!(shown.len() < 1 << 20, "{format:?} floods: {}", shown.len());
            assert!(!shown.contains(['\u{1b}', '\0', '\u{202e}']), "{format:?} of {text:?}");
        }
        assert_eq!(show(Format::Short, &findings, &world).lines().count(), findings.len());
    }
}

#[test]
fn a_person_sees_the_errors_first_when_there_are_too_many() {
    let (world, root) = MapWorld::of("x.vessel", "a");
    let place = Span::new(root, 0, 1);
    let mut findings = vec![Finding::new(&catalog::WALL_THIN, place, "thin"); SHOWN_LIMIT + 50];
    findings.push(Finding::new(&catalog::WOOD_UNKNOWN, place, "the error"));
    for format in [Format::Human, Format::Narrated] {
        let shown = show(format, &findings, &world);
        assert_eq!(shown.matches("wall/thin").count(), SHOWN_LIMIT - 1);
        assert!(shown.contains("the error"));
        assert!(
            shown
                .ends_with("… and 51 more, not shown; `--format short` shows all\n1 error, 250 warnings in x.vessel\n")
        );
    }
    assert_eq!(show(Format::Short, &findings, &world).lines().count(), findings.len());
    assert_eq!(json_items(&findings, &world).len(), findings.len());
}

#[test]
fn color_is_only_where_it_is_wanted() {
    let (world, findings) = usual();
    let mut out = Vec::new();
    render(Format::Human, &findings, &world, true, &mut out).unwrap();
    assert!(String::from_utf8(out).unwrap().contains("\u{1b}["));
    assert!(!show(Format::Human, &findings, &world).contains('\u{1b}'));
}
