//! What holds for any text: nothing panics, places are where they should be, nothing is lost, and the
//! reader takes just the language that the grammar's `file` is. The checks of places are in `read`.

use std::rc::Rc;
use std::sync::Arc;

use pest::Parser as _;
use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop_assert, prop_assert_eq, prop_oneof, proptest};
use proptest::sample::{Index, select};

use super::{SAMPLE, messages, read};
use crate::source::{FileId, SourceFile};
use crate::syntax::again::Earlier;
use crate::syntax::grammar::{Grammar, Rule};
use crate::syntax::{Trees, parse};

const PIECES: [&str; 66] = [
    "a",
    "ring ",
    "let ",
    "let x = ",
    "maple",
    "hard-maple",
    " ",
    "  ",
    "\n",
    "\r\n",
    "\t",
    "# note",
    "{",
    "}",
    " { ",
    " }\n",
    "[",
    "]",
    "(",
    ")",
    "\"",
    "\"text\"",
    "\\",
    "12",
    "3/4",
    "1 1/2",
    ".5",
    "½",
    "\"",
    "'",
    "″",
    "°",
    "%rh",
    " mm",
    "in",
    "..",
    " .. ",
    ">=",
    "<",
    "==",
    "=",
    "+",
    "-",
    " - ",
    "*",
    "*3",
    "/",
    "//",
    ",",
    ";",
    ":",
    "min(",
    "Maple",
    "_",
    "é",
    "×",
    "“",
    "”",
    "\u{A0}",
    "\0",
    "\r",
    "\u{FEFF}",
    "/0",
    "½(",
    "🔧",
    "99999999999",
];

fn pieces() -> impl Strategy<Value = String> {
    proptest::collection::vec(select(&PIECES[..]), 0..40).prop_map(|pieces| pieces.concat())
}

/// The sample with a stretch replaced by a few pieces.
fn mutated() -> impl Strategy<Value = String> {
    (any::<Index>(), 0..12_usize, proptest::collection::vec(select(&PIECES[..]), 0..3)).prop_map(|(at, length, new)| {
        let ends: Vec<usize> = SAMPLE.char_indices().map(|(at, _)| at).collect();
        let from = at.index(ends.len());
        let to = (from + length).min(ends.len() - 1);
        format!("{}{}{}", &SAMPLE[..ends[from]], new.concat(), &SAMPLE[ends[to]..])
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    /// A text that is typed in, state after state: what is taken over from the state before changes nothing.
    #[test]
    fn reading_again_is_reading(
        first in prop_oneof![Just(SAMPLE.to_owned()), Just(SAMPLE.replace('\n', "\r\n")), pieces()],
        edits in proptest::collection::vec(
            (any::<Index>(), 0..9_usize, proptest::collection::vec(select(&PIECES[..]), 0..4)),
            1..12,
        ),
    ) {
        let trees = Trees::default();
        let mut text = first;
        let read = |text: &str, id: u32| {
            let source = Arc::new(SourceFile { id: FileId(id), name: "a".to_owned(), text: text.to_owned() });
            (trees.read(&source), parse(&source))
        };
        read(&text, 0);
        for (turn, (at, length, new)) in (1..).zip(edits) {
            let ends: Vec<usize> = text.char_indices().map(|(at, _)| at).chain([text.len()]).collect();
            let from = at.index(ends.len());
            let to = (from + length).min(ends.len() - 1);
            text.replace_range(ends[from]..ends[to], &new.concat());
            // What a file is called by can change when others are used before it.
            let (again, anew) = read(&text, turn % 3);
            // Compared beforehand, since what differs would fill pages.
            let is_same = format!("{:?}", again.value) == format!("{:?}", Rc::new(anew.value));
            prop_assert!(is_same, "{:?}", text);
            prop_assert_eq!(again.findings, anew.findings, "{:?}", text);
        }
    }

    #[test]
    fn any_text_is_read(text in prop_oneof![any::<String>(), pieces(), mutated()]) {
        let read = read(&text);
        let is_faultless = Grammar::parse(Rule::file, &text).is_ok();
        let messages = messages(&read.findings);
        // What the grammar cannot count, divide or pair is refused by the reader alone, and so is a `/word` that
        // has no word before it, since the grammar does not look back; any other slash the grammar refuses too.
        let of_the_reader = |message: &&&str| {
            message.contains("divides by zero") || message.contains("more digits") || message.contains("`..` does not")
        };
        let is_of_either = |message: &&&str| message.contains("`/` stands outside of parentheses");
        let n_of_the_grammar = messages.iter().filter(|message| !of_the_reader(message)).count();
        let n_of_either = messages.iter().filter(is_of_either).count();
        if is_faultless {
            prop_assert_eq!(n_of_the_grammar, n_of_either, "{:?}", messages);
        } else {
            prop_assert!(n_of_the_grammar > 0, "{:?}", messages);
        }
    }
}

#[test]
fn every_prefix_and_every_tail_of_the_sample_is_read() {
    for (at, _) in SAMPLE.char_indices() {
        read(&SAMPLE[..at]);
        read(&SAMPLE[at..]);
    }
}

#[test]
fn the_sample_survives_the_loss_of_any_one_line() {
    for lost in 0..SAMPLE.lines().count() {
        let kept: Vec<&str> = SAMPLE.lines().enumerate().filter(|(at, _)| *at != lost).map(|(_, line)| line).collect();
        read(&kept.join("\n"));
    }
}

#[test]
fn a_broken_line_in_the_sample_costs_one_finding() {
    for (at, line) in SAMPLE.lines().enumerate() {
        let opens = line.trim_end().ends_with('{') || line.contains("[\n") || line.ends_with('[');
        let is_within_list = (31..34).contains(&at);
        if opens || is_within_list || line.contains('#') || line.trim().is_empty() || line.trim() == "}" {
            continue;
        }
        let lines = SAMPLE.lines().enumerate().map(|(other, line)| {
            if other == at { format!("@@ {}", line.replace(['{', '}'], " ")) } else { line.to_owned() }
        });
        let text = lines.collect::<Vec<_>>().join("\n");
        assert_eq!(read(&text).findings.len(), 1, "{line}");
    }
}

/// That it is not all read anew: a change in the middle of a long text leaves nearly all of it as it was.
#[test]
fn what_has_not_changed_is_taken_over() {
    let text = SAMPLE.repeat(20);
    let source = |text: &str| Arc::new(SourceFile { id: FileId(0), name: "a".to_owned(), text: text.to_owned() });
    let tree = parse(&source(&text)).value;
    let middle = text.len() / 2;
    let middle = middle + text[middle..].find('\n').unwrap();
    let changed = source(&format!("{}\nring maple{}", &text[..middle], &text[middle..]));
    let mut earlier = Earlier::new(&tree, &changed);
    let (mut at, mut taken) = (0, 0);
    while at < changed.text.len() {
        at = match earlier.take(at, |_| {}) {
            Some(end) => {
                taken += end - at;
                end
            }
            None => changed.text[at..].find('\n').map_or(changed.text.len(), |line| at + line + 1),
        };
    }
    assert!(taken * 10 > changed.text.len() * 9, "{taken} of {}", changed.text.len());
}
