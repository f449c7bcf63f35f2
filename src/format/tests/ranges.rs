//! Formatting a part of a text.

use super::{format, tree};
use crate::format::{edits, format_range};

const TEXT: &str = "units   in\nlet a   = 1\nlet bc =   2\nvessel  \"C\" {\nwall   3\n}\n";

fn within(from: &str, to: &str) -> String {
    let tree = tree(TEXT);
    let (start, end) = (TEXT.find(from).unwrap(), TEXT.find(to).unwrap() + to.len());
    let mut text = TEXT.to_owned();
    for edit in format_range(&tree, start..end).into_iter().rev() {
        text.replace_range(edit.span.range(), &edit.text);
    }
    text
}

#[test]
fn only_the_lines_of_the_range_change() {
    assert_eq!(within("bc", "bc"), TEXT.replace("let bc =   2", "let bc = 2"));
    assert_eq!(within("a   =", "bc"), TEXT.replace("let a   = 1\nlet bc =   2", "let a  = 1\nlet bc = 2"));
    assert_eq!(within("wall", "}\n"), TEXT.replace("wall   3", "  wall 3"));
    assert_eq!(within("units", "}\n"), format(&tree(TEXT)));
}

#[test]
fn edits_are_as_small_as_can_be() {
    let tree = tree(TEXT);
    for edit in edits(&tree) {
        let old = &TEXT[edit.span.range()];
        assert!(old.is_empty() || edit.text.is_empty(), "{edit:?} of {old:?}");
    }
    assert_eq!(format_range(&tree, TEXT.len() + 5..TEXT.len() + 9), []);
    assert_eq!(edits(&super::tree(&format(&tree))), []);
}
