//! `severity` and `accept` through the whole compiler: where they reach, what wins, and what nothing silences.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use std::collections::BTreeMap;

use crate::support::{codes, compile_files, compile_text};
use proptest::prelude::*;
use ringwright::compile::{Compiled, compile_with};
use ringwright::finding::policy::{Codes, Level, Levels};
use ringwright::finding::{Finding, Severity};
use ringwright::output;
use ringwright::source::MapWorld;

/// A cup whose joints line up in a ring of its own and in three of a repeat; each of the two lines gives a finding.
fn striped(vessel: &str, body: &str, ring: &str, repeat: &str, file: &str) -> String {
    format!(
        "units mm\n{file}\nvessel \"Stripes\" {{\n  {vessel}\n  outside {{ at 0 diameter 80   at 90 diameter 80 }}\n  wall 7\n  floor 10\n  \
         every ring {{ segments 12  thick 16 }}\n  body {{\n    {body}\n    disc walnut thick 10\n    ring maple\n    \
         ring cherry stagger none {ring}\n    repeat 3 {{ {repeat}\n ring [maple walnut] stagger none }}\n  }}\n}}\n"
    )
}

const UP: &str = "ring/joints-line-up";

fn counted(text: &str) -> (usize, usize) {
    let compiled = compile_text(text).1;
    let told = compiled.findings.iter().filter(|finding| finding.code.name == UP).count();
    assert!(!compiled.has_errors(), "{:#?}", compiled.findings);
    (told, compiled.accepted.len())
}

#[test]
fn an_accept_reaches_as_far_as_what_it_stands_in() {
    let accept = format!("accept {UP} because \"stripes\"");
    assert_eq!(codes(&striped("", "", "", "", "")), [UP, UP], "of one ring, and of those that the repeat makes");
    assert_eq!(counted(&striped(&accept, "", "", "", "")), (0, 2));
    assert_eq!(counted(&striped("", &accept, "", "", "")), (0, 2));
    assert_eq!(counted(&striped("", "", "", &accept, "")), (1, 1));
    // The rings of the repeat point to the ring below them, which the first of them shares with this line.
    let (told, accepted) = counted(&striped("", "", &accept, "", ""));
    assert_eq!((told, accepted), (1, 2), "told are those that only the repeat is concerned with");
    assert_eq!(counted(&striped("", "", &format!("{{ {accept} }}"), "", "")), (told, accepted));
    assert_eq!(counted(&striped("accept ring because \"stripes\"", "", "", "", "")), (0, 2));
}

#[test]
fn one_line_may_accept_several_codes() {
    let text = striped("", "", &format!("accept {UP} because \"a\" accept ring because \"b\" name band"), "", "");
    let compiled = compile_text(&text).1;
    assert!(compiled.accepted.iter().all(|accepted| accepted.reason == "a" || accepted.reason == "b"));
    assert!(compiled.recipe.unwrap().layers().any(|(_, _, layer)| layer.name.as_ref().is_some()));
}

#[test]
fn joints_inserts_walls_and_measures_accept_what_is_told_of_them() {
    let accepts = |text: &str, with: &str| {
        let plain = compile_text(&text.replace('%', "")).1;
        let accepted = compile_text(&text.replace('%', with)).1;
        assert_eq!(accepted.findings, [], "{with}");
        assert_eq!(accepted.accepted.len(), plain.findings.len(), "{with}");
        assert!(!accepted.accepted.is_empty(), "{with}");
    };
    let vessel = |more: &str| {
        format!(
            "units mm\nvessel \"Box\" {{\n outside {{ at 0 diameter 90  at 84 diameter 90 }}\n wall 12\n floor 10\n top 10\n \
             every ring {{ segments 12 thick 18 }}\n body {{ disc walnut thick 10  repeat 3 {{ ring maple }} }}\n \
             lid {{ ring maple  disc walnut thick 10 }}\n {more}\n}}\n"
        )
    };
    let thread = vessel("joint thread { long 8  turns 0.3 % }");
    let found: Vec<&str> = codes(&thread.replace('%', ""));
    let with: Vec<String> = found.iter().map(|code| format!("accept {code} because \"it is so\"")).collect();
    accepts(&thread, &with.join(" "));
    accepts(&vessel("joint thread long 8 turns 0.3 %"), "accept joint because \"it is so\"");
    let insert = vessel(
        "joint tenon { long 8 }\n insert knob { wood olive  into lid top  tenon diameter 10 long 8\n % \n shows diameter 10 tall 30 }",
    );
    accepts(&insert, "accept insert because \"it is so\"");
    let thin = "units mm\nvessel \"Thin\" { outside { at 0 diameter 90  at 82 diameter 90 }\n wall 2.5 %\n floor 10\n \
                every ring { segments 12 thick 18 }\n body { disc walnut thick 10  repeat 4 { ring maple } } }";
    accepts(thin, "accept wall/thin because \"a lamp\"");
}

#[test]
fn errors_are_neither_accepted_nor_lowered() {
    let short = |vessel: &str, file: &str| striped(vessel, "", "strip 3", "", file);
    let errors = |text: &str| -> Vec<&'static str> {
        let compiled = compile_text(text).1;
        let errors = compiled.findings.iter().filter(|finding| finding.severity() == Severity::Error);
        errors.map(|finding| finding.code.name).collect()
    };
    let plain = errors(&short("", ""));
    assert!(!plain.is_empty());
    for (vessel, file) in [
        ("accept ring because \"x\"", ""),
        ("accept ring/allowance-short because \"x\"", ""),
        ("severity ring off", ""),
        ("", "severity ring off"),
    ] {
        assert_eq!(errors(&short(vessel, file)), plain, "{vessel} {file}");
    }
    let more = errors(&short("accept ring/does-not-cover because \"x\"", "severity ring/does-not-cover off"));
    assert_eq!(more.len(), plain.len() + 2);
    assert!(more.contains(&"accept/not-acceptable") && more.contains(&"severity/not-lowered"));
    let mut levels = Levels::default();
    levels.set(Codes::find("ring").unwrap(), Level::Off).unwrap();
    let (world, root) = MapWorld::of("test.vessel", &short("", ""));
    assert!(compile_with(&world, root, &levels.clone().into()).has_errors());
}

fn severities(compiled: &Compiled) -> Vec<Severity> {
    compiled.findings.iter().filter(|finding| finding.code.name == UP).map(Finding::severity).collect()
}

#[test]
fn the_vessel_wins_over_its_file_and_the_file_over_what_it_uses() {
    use Severity::{Error, Note, Warning};
    let of = |vessel: &str, file: &str| severities(&compile_text(&striped(vessel, "", "", "", file)).1);
    let (error, note) = (format!("severity {UP} error"), format!("severity {UP} note"));
    assert_eq!(of("", ""), [Warning; 2]);
    assert_eq!(of("", &note), [Note; 2]);
    assert_eq!(of(&error, &note), [Error; 2]);
    assert_eq!(of("severity ring error", &note), [Error; 2], "what is nearer wins over what is more exact");
    assert_eq!(of(&note, "severity ring off"), [Note; 2]);
    assert_eq!(of("", "severity ring off"), []);

    let used = |file: &str, a: &str, b: &str, c: &str| {
        let recipe = striped("", "", "", "", &format!("use \"a.vessel\"\nuse \"b.vessel\"\n{file}"));
        let files = [("r.vessel", recipe.as_str()), ("a.vessel", a), ("b.vessel", b), ("c.vessel", c)];
        severities(&compile_files(&files).1)
    };
    let kerf = "units mm\nshop { kerf 3 }\n";
    assert_eq!(used("", &note, kerf, ""), [Note; 2]);
    assert_eq!(used("", &note, &error, ""), [Error; 2], "the later `use` wins");
    assert_eq!(used(&note, &error, &error, ""), [Note; 2], "the recipe's own wins");
    assert_eq!(used("", kerf, "use \"c.vessel\"", &note), [Note; 2], "through a file between");
    assert_eq!(used("", kerf, &format!("use \"c.vessel\"\n{error}"), &note), [Error; 2]);
}

#[test]
fn the_command_line_wins_over_the_recipe() {
    let (world, root) = MapWorld::of("test.vessel", &striped("severity ring off", "", "", "", ""));
    let mut levels = Levels::default();
    levels.set(Codes::find(UP).unwrap(), Level::As(Severity::Error)).unwrap();
    assert_eq!(severities(&compile_with(&world, root, &levels.clone().into())), [Severity::Error; 2]);
}

#[test]
fn one_place_sets_a_level_once() {
    let twice = format!("severity {UP} note\nseverity {UP} off");
    assert_eq!(codes(&striped("", "", "", "", &twice)), ["word/twice", UP, UP]);
    assert!(!codes(&striped("severity ring note", "", "", "", &format!("severity {UP} off"))).contains(&"word/twice"));
}

#[test]
fn what_is_wrong_with_the_words_is_told_where_it_stands() {
    let said = |vessel: &str| {
        let (world, compiled) = compile_text(&striped(vessel, "", "", "", ""));
        let said = crate::support::said(&world, &compiled);
        let finding = compiled.findings.iter().find(|finding| finding.code.name != UP).unwrap();
        let (code, place, message) = said.into_iter().find(|(code, ..)| code != UP).unwrap();
        let fix = finding.fix.as_ref().map(|fix| fix.edits[0].text.clone());
        (code, place, format!("{message} | {}", finding.help.clone().unwrap_or_default()), fix)
    };
    let (code, place, words, _) = said(&format!("accept {UP}"));
    assert_eq!((code.as_str(), place.as_str()), ("word/missing", &*format!("accept {UP}")));
    assert!(words.starts_with("`accept` wants `because` | say why") && words.ends_with("because \"…\"`"), "{words}");
    assert_eq!(said(&format!("accept {UP} \"stripes\"")).2, words);
    assert_eq!(said(&format!("accept {UP} because")).0, "word/missing");
    assert!(said(&format!("accept {UP} because \"  \"")).2.contains("this text is empty"));
    assert_eq!(said(&format!("accept {UP} becuase \"x\"")).3.as_deref(), Some("because"));
    assert_eq!(said("accept ring/joint-line-up because \"x\"").3.as_deref(), Some(UP));
    assert_eq!(said("accept rign because \"x\"").3.as_deref(), Some("ring"));
    assert_eq!(said("accept joints-line-up because \"x\"").3.as_deref(), Some(UP));
    assert_eq!(said("accept nothing-known because \"x\"").0, "code/unknown");
    assert_eq!(said("severity zzz/yyy note").0, "code/unknown");
    assert_eq!(said("severity ring loud").0, "word/unknown");
    assert_eq!(said("severity ring waring").3.as_deref(), Some("warning"));
    assert_eq!(said("acept ring because \"x\"").3.as_deref(), Some("accept"));
    assert_eq!(said("accept word because \"x\"").0, "accept/not-acceptable");
    assert_eq!(said("severity ring").0, "word/missing");
}

#[test]
fn a_slash_elsewhere_is_still_a_division_out_of_place() {
    for wrong in ["wall rim/base", "floor 3/rim", "ring/cherry", "expect mass <= a/b", "top a/b/c"] {
        let found = codes(&striped(wrong, "", "", "", ""));
        assert!(found.contains(&"syntax/unreadable"), "{wrong}: {found:?}");
    }
    // A line that breaks so still opens its block.
    let text = striped("", "", "", "", "").replace("vessel \"Stripes\" {", "vessel \"Stripes\" a/b {");
    let found = codes(&text.replace("cherry", "chery"));
    assert_eq!(found, ["syntax/unreadable", "wood/unknown", UP, UP]);
}

#[test]
fn an_idle_accept_is_told_with_its_removal_once_all_could_be_found() {
    let idle = "accept wall/thin because \"a lamp\"";
    let text = striped(idle, "", "", "", "");
    let (_, compiled) = compile_text(&text);
    let unused = compiled.findings.iter().find(|finding| finding.code.name == "accept/unused").unwrap();
    let edit = &unused.fix.as_ref().unwrap().edits[0];
    let mut mended = text.clone();
    mended.replace_range(edit.span.range(), &edit.text);
    assert_eq!(mended, text.replace(&format!("  {idle}\n"), ""));
    assert_eq!(codes(&mended), [UP, UP]);
    assert!(!codes(&text.replace("cherry", "chery")).contains(&"accept/unused"), "errors hide what may be there");
    assert!(!codes(&striped(idle, "", "", "", "severity accept/unused off")).contains(&"accept/unused"));
}

#[test]
fn the_documents_tell_what_is_accepted() {
    let (world, compiled) = compile_text(&striped("accept ring because \"stripes\"", "", "", "", ""));
    let design = compiled.complete().unwrap();
    assert!(output::summary(&design).contains("2 findings accepted: ring/joints-line-up\n"));
    let documents = output::documents(&design, &world);
    let json = documents.iter().find(|document| document.name == "design.json").unwrap();
    let json: serde_json::Value = serde_json::from_slice(&json.bytes).unwrap();
    assert_eq!(json["accepted"].as_array().unwrap().len(), 2);
    assert_eq!((&json["accepted"][0]["code"], &json["accepted"][0]["reason"]), (&UP.into(), &"stripes".into()));
    assert_eq!(json["accepted"][0]["spans"][0]["file"], "test.vessel");
    assert_eq!(json["findings"], serde_json::json!([]));
    let plain = compile_text(&striped("severity ring off", "", "", "", "")).1;
    assert!(!output::summary(&plain.complete().unwrap()).contains("accepted"));
}

/// How many layers each code is told of at each place: a line that makes several layers tells them as one finding,
/// and an `accept` may be of some of them.
fn counts<'a>(findings: impl Iterator<Item = &'a Finding>) -> BTreeMap<(&'static str, u32), usize> {
    let mut counts = BTreeMap::new();
    for finding in findings.filter(|finding| finding.code.name != "accept/unused") {
        let more = finding.message.rsplit_once("; ").and_then(|(_, more)| more.strip_suffix(" more like it"));
        let layers = 1 + more.map_or(0, |more| more.parse::<usize>().unwrap());
        *counts.entry((finding.code.name, finding.place.span.start)).or_default() += layers;
    }
    counts
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn without_its_accepts_a_recipe_tells_what_they_accepted(
        what in proptest::collection::vec((0_usize..6, 0_usize..8), 0..6),
        wall in 2_u32..9,
        diameter in 60_u32..100,
        thick in 15_u32..19,
        stagger in 0_usize..3,
        allow in 0_u32..4,
    ) {
        let names = ["ring", UP, "wall/thin", "wall", "ring/narrow-overlap", "saw", "stack", "pattern"];
        let mut places = vec![String::new(); 6];
        for (place, code) in what {
            places[place] += &[" accept ", names[code], " because \"r\""].concat();
        }
        let text = |places: &[String]| format!(
            "units mm\nvessel \"V\" {{\n  {}\n outside {{ at 0 diameter 80   at 90 diameter {diameter} }}\n wall {wall} {}\n floor 10\n \
             every ring {{ thick {thick}  stagger {}  allow {allow} }}\n body {{\n {}\n disc walnut thick 10 {}\n ring cherry {}\n \
             repeat 4 {{ {}\n ring [maple*2 walnut] }}\n}}\n}}\n",
            places[0], places[1], ["none", "half", "1/3"][stagger], places[2], places[3], places[4], places[5],
        );
        let with = compile_text(&text(&places)).1;
        // Blanks in their place keep every other thing where it was.
        let blank: Vec<String> = places.iter().map(|accepts| " ".repeat(accepts.len())).collect();
        let without = compile_text(&text(&blank)).1;
        let accepted = with.accepted.iter().map(|accepted| &accepted.finding);
        prop_assert!(accepted.clone().all(|finding| finding.severity() != Severity::Error));
        prop_assert_eq!(with.has_errors(), without.has_errors());
        prop_assert_eq!(counts(with.findings.iter().chain(accepted)), counts(without.findings.iter()));
    }
}
