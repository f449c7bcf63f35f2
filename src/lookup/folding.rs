//! What can be folded away: blocks over several lines, and comments over several lines.

use crate::source::{LineIndex, Span};
use crate::syntax::{Block, Node, Tree};

/// A stretch that can be folded, by its first and last line, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fold {
    /// The line that stays.
    pub first: usize,
    /// The last line that goes.
    pub last: usize,
    /// Whether it is a comment.
    pub is_comment: bool,
}

/// All stretches of a file, in order.
#[must_use]
pub fn of(tree: &Tree, lines: &LineIndex) -> Vec<Fold> {
    let mut folds = Vec::new();
    blocks(&tree.nodes, lines, &mut folds);
    comments(&tree.comments, lines, &mut folds);
    folds.sort_unstable();
    folds
}

fn blocks(nodes: &[Node], lines: &LineIndex, folds: &mut Vec<Fold>) {
    for node in nodes {
        let Node::Statement(statement) = node else { continue };
        let Some(block) = &statement.block else { continue };
        fold(block, lines, folds);
        blocks(&block.nodes, lines, folds);
    }
}

/// The closing brace stays in sight.
fn fold(block: &Block, lines: &LineIndex, folds: &mut Vec<Fold>) {
    let first = lines.line(block.open.start);
    let last = match block.close {
        Some(close) => lines.line(close.start).saturating_sub(1),
        None => lines.line(block.span.end),
    };
    if last > first {
        folds.push(Fold { first, last, is_comment: false });
    }
}

/// Comments on lines that follow each other.
fn comments(comments: &[Span], lines: &LineIndex, folds: &mut Vec<Fold>) {
    let at: Vec<usize> = comments.iter().map(|comment| lines.line(comment.start)).collect();
    for run in at.chunk_by(|a, b| a + 1 == *b) {
        if let [first, .., last] = run {
            folds.push(Fold { first: *first, last: *last, is_comment: true });
        }
    }
}
