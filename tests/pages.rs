//! Every code's page: its sections, and its two examples compiled. The first must give the finding,
//! the second must not; what is said of the first is kept as a snapshot.

use crate::support::{compile_files, example};
use ringwright::finding::Severity;
use ringwright::finding::catalog::CODES;
use ringwright::finding::render::{Format, render};

const SECTIONS: [&str; 5] =
    ["## In the shop", "## How it is found", "## Way out", "## Example that fires", "## Example that does not"];

#[test]
fn every_page_has_its_sections_in_order() {
    for code in CODES {
        let mut from = 0;
        for section in SECTIONS {
            let at = code.page[from..].find(section).unwrap_or_else(|| panic!("{}: no `{section}`", code.name));
            from += at;
        }
        let opening = code.page.split("## ").next().unwrap_or("");
        assert!(opening.trim().len() > 40, "{}: says nothing", code.name);
        assert!(code.page.ends_with('\n') && !code.page.ends_with("\n\n"), "{}: final line end", code.name);
    }
}

#[test]
fn names_are_words_of_a_family() {
    for code in CODES {
        let (family, name) = code.name.split_once('/').expect("family/name");
        for word in [family, name] {
            assert!(word.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{}", code.name);
        }
        assert!(!code.summary.ends_with('.'), "{}", code.name);
    }
}

#[test]
fn the_first_example_gives_the_finding() {
    for code in CODES {
        let Some(files) = example(code, "## Example that fires") else { continue };
        let parts: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        let (world, compiled) = compile_files(&parts);
        let found: Vec<&str> = compiled.findings.iter().map(|finding| finding.code.name).collect();
        assert!(found.contains(&code.name), "{}: {found:?}", code.name);
        let mut printed = Vec::new();
        render(Format::Human, &compiled.findings, &world, false, &mut printed).expect("rendered");
        let name = code.name.replace('/', "__");
        insta::with_settings!({ prepend_module_to_snapshot => false, omit_expression => true }, {
            insta::assert_snapshot!(name, String::from_utf8(printed).expect("UTF-8"));
        });
    }
}

#[test]
fn the_second_example_is_clean() {
    for code in CODES {
        let Some(files) = example(code, "## Example that does not") else { continue };
        let parts: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        let (_, compiled) = compile_files(&parts);
        let bad = compiled
            .findings
            .iter()
            .find(|finding| finding.severity() == Severity::Error || finding.code.name == code.name);
        assert!(bad.is_none(), "{}: {bad:#?}", code.name);
    }
}

#[test]
fn only_what_no_text_can_show_has_no_example() {
    let without: Vec<&str> =
        CODES.iter().filter(|code| example(code, "## Example that fires").is_none()).map(|code| code.name).collect();
    assert_eq!(without, ["use/unreadable"]);
}
