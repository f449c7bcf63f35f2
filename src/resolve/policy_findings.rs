//! What is to be said of `severity` and `accept`.

use crate::finding::catalog::{self, CODES, near};
use crate::finding::policy::{Codes, families};
use crate::finding::{Finding, nearest};
use crate::source::Span;
use crate::syntax::{Item, ItemKind};

use super::findings::meant;

/// Whether it is written as a code or a family is.
pub(super) fn may_be_code(item: &Item) -> bool {
    matches!(item.kind, ItemKind::Word | ItemKind::Code)
}

pub(super) fn unknown_code(span: Span, name: &str) -> Finding {
    let known = families().chain(CODES.iter().map(|code| code.name));
    let mut like = nearest(name, known);
    if like.is_empty() {
        like = near(name);
    }
    let finding = Finding::new(&catalog::CODE_UNKNOWN, span, format!("no finding and no family is called `{name}`"));
    if like.is_empty() {
        return finding.help("a code stands in the brackets of its finding; `ringwright explain` lists all of them");
    }
    meant(finding, span, &like)
}

pub(super) fn no_reason(span: Span) -> Finding {
    Finding::new(&catalog::WORD_MISSING, span, "`because` wants a reason; this text is empty")
        .help("say why it is right here, for example `because \"a spiral is wanted\"`: who reads the recipe later has no other way to know")
}

pub(super) fn not_lowered(span: Span, codes: Codes, level: &str) -> Finding {
    let name = codes.name();
    let (message, all) = match codes {
        Codes::One(_) => (format!("`{name}` is an error and cannot be lowered to `{level}`"), "it says"),
        Codes::Family(_) => (format!("all of `{name}` are errors and cannot be lowered to `{level}`"), "they say"),
    };
    Finding::new(&catalog::SEVERITY_NOT_LOWERED, span, message)
        .help(format!("{all} that the piece cannot be made or the text is wrong: mend that, and take this line out"))
}

pub(super) fn not_acceptable(span: Span, codes: Codes) -> Finding {
    let name = codes.name();
    let (message, all) = match codes {
        Codes::One(_) => (format!("`{name}` is an error and cannot be accepted"), "it says"),
        Codes::Family(_) => (format!("all of `{name}` are errors and cannot be accepted"), "they say"),
    };
    Finding::new(&catalog::ACCEPT_NOT_ACCEPTABLE, span, message)
        .help(format!("{all} that the piece cannot be made or the text is wrong: mend that, and take this out"))
}
