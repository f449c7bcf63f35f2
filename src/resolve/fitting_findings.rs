//! What resolving has to say of inserts and mounts.

use crate::finding::{Finding, catalog};
use crate::source::Span;

pub(super) fn no_form(insert: Span, name: &str) -> Finding {
    let message = format!("insert `{name}` does not say what is let in");
    Finding::new(&catalog::WORD_MISSING, insert, message)
        .help("add one of `tenon diameter 1/2 long 5/8`, `plug`, `medallion` and `liner`")
}

pub(super) fn two_forms(again: Span, word: &str, first: Span, first_word: &str) -> Finding {
    let message = format!("an insert is one thing: `{first_word}` or `{word}`");
    Finding::new(&catalog::WORD_TWICE, again, message)
        .also(first, "said here first")
        .help("keep one, or write two inserts with names of their own")
}

pub(super) fn no_seat_said(insert: Span, name: &str) -> Finding {
    let message = format!("insert `{name}` does not say where it sits");
    Finding::new(&catalog::WORD_MISSING, insert, message).help("add `into lid top`, `into body base` or another place")
}

pub(super) fn no_wood(insert: Span, name: &str) -> Finding {
    let message = format!("insert `{name}` lacks `wood`: its blank has to be cut from something");
    Finding::new(&catalog::WORD_MISSING, insert, message).help("add `wood` and its name, for example `wood olive`")
}

pub(super) fn no_such_place(span: Span, part: &str, place: &str) -> Finding {
    let has = if part == "lid" { "`top` and `inside`" } else { "`base`, `inside` and `side`" };
    let message = format!("a {part} has no `{place}` for an insert");
    Finding::new(&catalog::WORD_WRONG_KIND, span, message).help(format!("a {part} has {has}"))
}

pub(super) fn only_of_a_side(span: Span, word: &str) -> Finding {
    let message = format!("`{word}` is of a hole in the side: every other hole is in the middle");
    Finding::new(&catalog::WORD_EXTRA, span, message).help(format!("take `{word}` out, or write `into body side`"))
}

pub(super) fn not_of_a_liner(span: Span, word: &str) -> Finding {
    let message = format!("a liner is bought, not made: it takes no `{word}`");
    Finding::new(&catalog::WORD_EXTRA, span, message).help(format!("take `{word}` out"))
}
