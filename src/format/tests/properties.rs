//! What holds of any text: all that `formatted` asserts, and that broken lines keep their bytes.

use proptest::prelude::{ProptestConfig, Strategy, any, prop_oneof, proptest};
use proptest::sample::{Index, select};

use super::{formatted, tree};
use crate::format::kept::Kept;

const SAMPLE: &str = include_str!("../../syntax/tests/sample.vessel");

/// A recipe with nearly every word, to be laid out in any way.
const RECIPES: [&str; 6] = [
    SAMPLE,
    include_str!("../../../recipes/workshop.vessel"),
    include_str!("../../../recipes/offcut-dish.vessel"),
    include_str!("../../../recipes/yarn-pot.vessel"),
    include_str!("../../../recipes/zigzag-vase.vessel"),
    include_str!("../../../recipes/stove-pot.vessel"),
];

const PIECES: [&str; 52] = [
    "ring ", "let x = ", "maple", " thick ", "at", " ", "   ", "\n", "\n\n\n", "\r\n", "\t", "# note", "#", " { ", "{",
    "}", " }\n", "[", "]", "(", ")", "\"text\"", "\"", "\\", "12", "1", "3/4", "1 1/2", ".5", "½", "°", "%rh", " mm",
    "in", " .. ", "..", ">=", "=", "=m ", "+", "-", " - ", "*", "*3", "/", ",", ";", "min(", "Maple", "\u{A0}", "\r",
    "\u{FEFF}",
];

/// Values and lists in brackets, with line ends and comments between their parts.
const PARTS: [&str; 25] = [
    "maple",
    "m",
    "in",
    "ash*2",
    "(a b)*3",
    "(a",
    ")",
    "12",
    "1",
    "1/2",
    "½",
    "70%",
    "3 mm",
    "-2",
    "- ",
    "-",
    "+",
    " * ",
    "\"t\"",
    ",",
    "max(",
    "share",
    "# c\n",
    "\n",
    "\n\n # d\n",
];

fn pieces() -> impl Strategy<Value = String> {
    proptest::collection::vec(select(&PIECES[..]), 0..40).prop_map(|pieces| pieces.concat())
}

fn brackets() -> impl Strategy<Value = String> {
    let inner = proptest::collection::vec((select(&PARTS[..]), select(&["", " ", "\n", "  "][..])), 0..30);
    (inner, select(&["ring [", "at (", "let a = (", "ring scatter ["][..])).prop_map(|(parts, open)| {
        let close = if open.ends_with('[') { "]" } else { ")" };
        let inner: String = parts.into_iter().map(|(part, space)| part.to_owned() + space).collect();
        format!("{open}{inner}{close} thick 3\n")
    })
}

/// A recipe of which the white space at some places is another, or a stretch is replaced by a few pieces.
fn altered(new: &'static [&'static str], longest: usize) -> impl Strategy<Value = String> {
    let change = (any::<Index>(), 0..=longest, select(new));
    (select(&RECIPES[..]), proptest::collection::vec(change, 1..12)).prop_map(|(text, changes)| {
        let mut text = text.to_owned();
        for (at, length, new) in changes {
            let places: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
            let at = at.index(places.len());
            let (from, to) = (places[at], places[(at + length).min(places.len() - 1)]);
            text.replace_range(from..to, new);
        }
        text
    })
}

/// A recipe in which every stretch of blanks, and some line ends, are others.
fn ugly() -> impl Strategy<Value = String> {
    (select(&RECIPES[..]), proptest::collection::vec(any::<u8>(), 64)).prop_map(|(text, dice)| {
        let mut dice = dice.iter().cycle();
        let mut in_text = false;
        let mut ugly = String::new();
        for line in text.lines() {
            let (code, comment) =
                if line.contains('"') { (line, "") } else { line.split_at(line.find('#').unwrap_or(line.len())) };
            for found in code.chars() {
                in_text ^= found == '"';
                let die = dice.next().unwrap() % 8;
                match found {
                    ' ' if !in_text => ugly += [" ", "  ", "\t", "   ", " \t ", "      ", " ", " "][usize::from(die)],
                    _ => ugly.push(found),
                }
            }
            in_text = false;
            ugly += comment;
            ugly += ["\n", "\n", "\n", "\r\n", "\n\n", " \n", "\n\n\n \n", "\n"][usize::from(dice.next().unwrap() % 8)];
        }
        ugly
    })
}

fn check(text: &str) {
    let now = formatted(text);
    let (before, after) = (tree(text), tree(&now));
    let lines = |tree: &crate::syntax::Tree| -> Vec<String> {
        Kept::of(tree).stretches().map(|range| tree.source.text[range].trim_end_matches('\r').to_owned()).collect()
    };
    assert_eq!(lines(&after).join("\n"), lines(&before).join("\n"), "{text:?}\n{now:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn any_text_keeps_what_it_says(text in prop_oneof![any::<String>(), pieces(), altered(&PIECES, 9)]) {
        check(&text);
    }

    #[test]
    fn brackets_keep_what_they_hold(text in brackets()) {
        check(&text);
    }

    #[test]
    fn a_recipe_has_one_layout_however_it_is_spaced(text in ugly()) {
        check(&text);
    }
}

#[test]
fn every_prefix_and_every_tail_of_the_sample_is_formatted() {
    for (at, _) in SAMPLE.char_indices() {
        check(&SAMPLE[..at]);
        check(&SAMPLE[at..]);
    }
}
