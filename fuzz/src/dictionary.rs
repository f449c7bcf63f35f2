//! The words that mutation puts in whole, in the format of libFuzzer: all of the vocabulary, some of the tables, the signs
//! of the syntax, what SVG paths and messages are made of.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use ringwright::vocabulary::{BlockKind, CONTEXTS, Head, PATTERN_WORDS, Param};

/// What stands between words, and a few words of tables.
const MORE: &[&str] = &[
    "{\n",
    "}\n",
    "[",
    "]",
    "(",
    ")",
    "\"",
    " .. ",
    ">=",
    "<=",
    "==",
    " = ",
    " + ",
    " - ",
    " * ",
    " / ",
    "# ",
    "\r\n",
    "*3",
    "°",
    "%",
    "%rh",
    "%mc",
    " mm",
    " in",
    " ml",
    "′",
    "″",
    "½",
    "1 1/2",
    "3/4",
    "0",
    "-1",
    "1e9",
    "99999999999",
    "0.001",
    "1000",
    "100000",
    "min(",
    "max(",
    "sqrt(",
    "round-to(",
    "tan(",
    "maple",
    "walnut",
    "black-walnut",
    "cherry",
    "ash",
    "olive",
    "teak",
    "pva-d2",
    "epoxy-slow",
    "# file: a.vessel\n",
    "use \"a.vessel\"\n",
    "\u{feff}",
    "\u{202e}",
    "\u{a0}",
    "ring/joints-line-up",
    "M 40 0 ",
    "C 46 20 66 30 66 52 ",
    "A 60 60 0 0 1 ",
    "\0",
];

/// The file `fuzz/vessel.dict`.
pub fn dictionary() -> String {
    let mut words = BTreeSet::new();
    for head in CONTEXTS.iter().flat_map(|context| context.heads) {
        of_head(head, &mut words);
    }
    words.extend(PATTERN_WORDS.map(str::to_owned));
    words.extend(MORE.iter().map(|word| (*word).to_owned()));
    let mut text = "# Printed from src/vocabulary: RINGWRIGHT_FUZZ=write cargo test --test fuzz_smoke\n".to_owned();
    for word in words {
        text.push('"');
        for byte in word.bytes() {
            let _ = match byte {
                b'"' | b'\\' => write!(text, "\\{}", char::from(byte)),
                b' '..=b'~' => write!(text, "{}", char::from(byte)),
                _ => write!(text, "\\x{byte:02X}"),
            };
        }
        text.push_str("\"\n");
    }
    text
}

fn of_head(head: &Head, words: &mut BTreeSet<String>) {
    words.insert(head.word.to_owned());
    of_params(head.params, words);
    for clause in head.clauses {
        words.insert(format!(" {} ", clause.word));
        of_params(clause.params, words);
    }
    if let BlockKind::Lines(line) = &head.block {
        of_head(line, words);
    }
}

fn of_params(params: &[Param], words: &mut BTreeSet<String>) {
    for param in params {
        words.extend(param.shape.choices().into_iter().map(str::to_owned));
    }
}
