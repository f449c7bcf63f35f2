//! What comes of texts, and what holds of all of them.

mod layout;
mod properties;
mod ranges;

use std::sync::Arc;

use super::format;
use crate::source::{FileId, SourceFile};
use crate::syntax::{Tree, parse};

fn tree(text: &str) -> Tree {
    let file = SourceFile { id: FileId(0), name: "test.vessel".to_owned(), text: text.to_owned() };
    parse(&Arc::new(file)).value
}

/// The formatted text, of which all that must hold of any has been asserted.
#[track_caller]
fn formatted(text: &str) -> String {
    let before = tree(text);
    let now = format(&before);
    let after = tree(&now);
    assert_eq!(solid(&now), solid(text), "a character came, went or moved\n{text:?}\n{now:?}");
    assert_eq!(comments(&after), comments(&before), "{text:?}\n{now:?}");
    assert_eq!(shape(&after), shape(&before), "{text:?}\n{now:?}");
    assert_eq!(format(&after), now, "not settled\n{text:?}");
    now
}

/// All characters but white space.
fn solid(text: &str) -> String {
    text.chars().filter(|found| !matches!(found, ' ' | '\t' | '\n' | '\r')).collect()
}

fn comments(tree: &Tree) -> Vec<&str> {
    tree.comments.iter().map(|span| tree.text(*span).trim_end_matches([' ', '\t'])).collect()
}

/// The tree with what stands at each place instead of the place.
fn shape(tree: &Tree) -> String {
    let shown = format!("{:?}", tree.nodes);
    let mut shape = String::new();
    let mut rest = shown.as_str();
    while let Some((before, behind)) = rest.split_once("Span { file: FileId(0), start: ") {
        let (start, behind) = behind.split_once(", end: ").unwrap();
        let (end, behind) = behind.split_once(" }").unwrap();
        shape += before;
        shape += &solid(&tree.source.text[start.parse().unwrap()..end.parse().unwrap()]);
        rest = behind;
    }
    shape + rest
}
