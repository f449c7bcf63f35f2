//! `language`: the edition of the language that a file is written in.

use crate::support::{codes, compile_files, compile_text, cup, said};

fn of(first: &str) -> Vec<(String, String, String)> {
    let (world, compiled) = compile_text(&format!("{first}{}", cup("")));
    said(&world, &compiled)
}

#[test]
fn edition_one_is_known_and_taken_when_nothing_is_said() {
    for first in ["", "language 1\n", "# a cup\n\nlanguage 1 # the first\n", "language 1  "] {
        assert_eq!(of(first), [], "{first}");
    }
}

#[test]
fn any_other_edition_is_an_error_of_its_own() {
    for edition in ["0", "2", "99999999999"] {
        let said = of(&format!("language {edition}\n"));
        assert_eq!((said.len(), said[0].0.as_str(), said[0].1.as_str()), (1, "language/unknown-edition", edition));
    }
    assert!(of("language 2\n")[0].2.contains("no edition 2"));
}

#[test]
fn only_a_whole_number_is_an_edition() {
    for (first, code, words) in [
        ("language 1.5\n", "quantity/out-of-range", "whole number"),
        ("language -1\n", "quantity/out-of-range", "language"),
        ("language 1 mm\n", "quantity/wrong-dimension", "language"),
        ("language one\n", "name/unknown", "one"),
        ("language \"1\"\n", "word/wrong-kind", "language"),
        ("language\n", "word/missing", "a count"),
        ("language 1 2\n", "word/extra", "language"),
    ] {
        let said = of(first);
        assert_eq!(said.len(), 1, "{first}{said:?}");
        assert!(said[0].0 == code && said[0].2.contains(words), "{first}{said:?}");
    }
}

#[test]
fn it_stands_first_and_once() {
    assert_eq!(codes(&cup("").replace("units mm", "units mm\nlanguage 1")), ["language/not-first"]);
    assert_eq!(codes(&cup("").replace("units mm", "units mm  language 1")), ["language/not-first"]);
    assert_eq!(codes(&format!("language 1\nlanguage 1\n{}", cup(""))), ["word/twice"]);
    assert_eq!(codes(&cup("language 1")), ["word/unknown"]);
}

#[test]
fn each_file_says_for_itself() {
    let cup = format!("language 1\nuse \"shop.vessel\"\n{}", cup(""));
    let (world, compiled) = compile_files(&[("cup.vessel", &cup), ("shop.vessel", "language 3\nshop { kerf 2 mm }\n")]);
    let said = said(&world, &compiled);
    assert_eq!((said.len(), said[0].0.as_str(), said[0].1.as_str()), (1, "language/unknown-edition", "3"));
}
