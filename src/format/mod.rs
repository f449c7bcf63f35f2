//! One layout for every recipe: a tree to the white space that should stand between its tokens.
//!
//! Only white space is ever changed, and only between tokens that the tree knows: no token and no comment
//! can be lost, moved or merged, and a line with a stretch that cannot be read keeps all of its bytes. `tokens`
//! tells what stands on a statement's line, `words` where its clauses begin, `lines` which lines there are,
//! `wrap` breaks those that are too long, `align` sets columns, `gaps` says what has to change for all that, and
//! `kept` where nothing may.

mod align;
mod gaps;
mod kept;
mod lines;
#[cfg(test)]
mod tests;
mod tokens;
mod words;
mod wrap;

use std::ops::Range;

use crate::finding::Edit;
use crate::syntax::Tree;

/// Columns that a line should not exceed; a text or a comment that is longer is not broken.
const WIDTH: usize = 100;

/// Blanks for each block around a line.
const INDENT: usize = 2;

/// The text of a tree in its one layout. What it says is the same, and formatting it again changes nothing.
#[must_use]
pub fn format(tree: &Tree) -> String {
    let text = tree.source.text.as_str();
    let mut formatted = String::with_capacity(text.len() + text.len() / 8);
    let mut end = 0;
    for edit in edits(tree) {
        let Range { start, end: behind } = edit.span.range();
        formatted.push_str(text.get(end..start).unwrap_or(""));
        formatted.push_str(&edit.text);
        end = behind;
    }
    formatted.push_str(text.get(end..).unwrap_or(""));
    formatted
}

/// What has to change for [`format()`]: replacements of white space, in order, none larger than it need be.
#[must_use]
pub fn edits(tree: &Tree) -> Vec<Edit> {
    let mut lines = lines::lines(tree);
    align::align(&mut lines);
    gaps::edits(tree, &lines)
}

/// Those of [`edits()`] that touch the lines of `range`, in bytes. The lines are laid out as if all of the
/// text were, so that they stay as they are when the rest is formatted too.
#[must_use]
pub fn format_range(tree: &Tree, range: Range<usize>) -> Vec<Edit> {
    let text = tree.source.text.as_str();
    let (first, last) = (range.start.min(text.len()), range.end.clamp(range.start, text.len().max(range.start)));
    let start = text.as_bytes()[..first].iter().rposition(|byte| *byte == b'\n').map_or(0, |at| at + 1);
    // A range that ends at the start of a line holds nothing of that line.
    let last = if last > first { last - 1 } else { last };
    let behind = text.as_bytes().get(last..).unwrap_or(&[]);
    let end = behind.iter().position(|byte| *byte == b'\n').map_or(text.len(), |at| last + at);
    let touches = |edit: &Edit| edit.span.range().start <= end && edit.span.range().end >= start;
    edits(tree).into_iter().filter(touches).collect()
}
