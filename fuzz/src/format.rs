//! The one layout: formatting touches white space alone, keeps every comment, and a second run changes nothing.

use std::sync::Arc;

use ringwright::finding::Edit;
use ringwright::format::{edits, format, format_range};
use ringwright::source::{FileId, SourceFile};
use ringwright::syntax::{Tree, parse};

/// Formats the text, and stretches of it.
pub fn target(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes).into_owned();
    let before = tree(&text);
    let now = format(&before);
    says_the_same(&before, &now);
    assert_eq!(format(&tree(&now)), now, "a second run changes something");

    let all = edits(&before);
    assert_eq!(format_range(&before, 0..text.len()), all, "all lines are the whole text");
    for range in ranges(&text) {
        let some = format_range(&before, range.clone());
        assert!(some.iter().all(|edit| all.contains(edit)), "{range:?} is laid out otherwise than the whole");
        says_the_same(&before, &edited(&text, &some));
    }
}

/// A few stretches, other ones of another text; also such as no editor would ask for.
fn ranges(text: &str) -> [std::ops::Range<usize>; 4] {
    let mut turn = text.bytes().fold(text.len(), |turn, byte| turn.wrapping_mul(31).wrapping_add(usize::from(byte)));
    [(); 4].map(|()| {
        turn = turn.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let start = (turn >> 20) % (text.len() + 3);
        start..start + (turn >> 8) % (text.len() + 3)
    })
}

fn tree(text: &str) -> Tree {
    let file = SourceFile { id: FileId(0), name: "test.vessel".to_owned(), text: text.to_owned() };
    parse(&Arc::new(file)).value
}

fn edited(text: &str, edits: &[Edit]) -> String {
    let (mut edited, mut end) = (String::new(), 0);
    for edit in edits {
        let range = edit.span.range();
        edited += &text[end..range.start];
        edited += &edit.text;
        end = range.end;
    }
    edited + &text[end..]
}

fn says_the_same(before: &Tree, now: &str) {
    let text = before.source.text.as_str();
    assert_eq!(solid(now), solid(text), "a character came, went or moved\n{text:?}\n{now:?}");
    let after = tree(now);
    assert_eq!(comments(&after), comments(before), "{text:?}\n{now:?}");
    assert_eq!(shape(&after), shape(before), "{text:?}\n{now:?}");
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
    let (mut shape, mut rest) = (String::new(), shown.as_str());
    while let Some((before, behind)) = rest.split_once("Span { file: FileId(0), start: ") {
        let Some((span, behind)) = behind.split_once(" }") else { break };
        let (start, end) = span.split_once(", end: ").unwrap_or_default();
        shape += before;
        if let (Ok(start), Ok(end)) = (start.parse::<usize>(), end.parse::<usize>()) {
            shape += &solid(&tree.source.text[start..end]);
        }
        rest = behind;
    }
    shape + rest
}
