//! Lines that keep their bytes, since something on them cannot be read.

use std::ops::Range;

use crate::syntax::{Block, Node, Statement, Tree};

/// Stretches of whole lines, without the last one's line end; in order, none touching another.
#[derive(Debug, Default)]
pub(super) struct Kept(Vec<Range<usize>>);

impl Kept {
    /// Of a tree: all lines that hold a part of a broken stretch, and those between a head and a brace that does not
    /// stand behind it.
    pub(super) fn of(tree: &Tree) -> Self {
        let mut kept = Self::default();
        kept.nodes(tree, &tree.nodes);
        kept
    }

    /// The stretch that holds byte `at` or ends there.
    pub(super) fn around(&self, at: usize) -> Option<usize> {
        let next = self.0.partition_point(|range| range.end < at);
        self.0.get(next).is_some_and(|range| range.start <= at).then_some(next)
    }

    /// All of them.
    #[cfg(test)]
    pub(super) fn stretches(&self) -> impl Iterator<Item = Range<usize>> {
        self.0.iter().cloned()
    }

    fn nodes(&mut self, tree: &Tree, nodes: &[Node]) {
        for node in nodes {
            match node {
                Node::Broken(broken) => self.keep(tree, broken.span.range()),
                Node::Statement(statement) => {
                    let Some(block) = &statement.block else { continue };
                    if !is_readable(tree, statement, block) {
                        self.keep(tree, head_end(statement, block)..block.open.range().end);
                    }
                    self.nodes(tree, &block.nodes);
                }
            }
        }
    }

    fn keep(&mut self, tree: &Tree, range: Range<usize>) {
        let bytes = tree.source.text.as_bytes();
        let before = bytes.get(..range.start).unwrap_or(&[]);
        let start = before.iter().rposition(|byte| *byte == b'\n').map_or(0, |at| at + 1);
        let behind = bytes.get(range.end..).unwrap_or(&[]);
        let end = behind.iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |at| range.end + at);
        match self.0.last_mut() {
            Some(last) if start <= last.end => last.end = last.end.max(end),
            _ => self.0.push(start..end),
        }
    }
}

/// Whether a statement's line can be read up to its brace, which stands on the same line.
pub(super) fn is_readable(tree: &Tree, statement: &Statement, block: &Block) -> bool {
    let between = head_end(statement, block)..block.open.range().start;
    block.broken_head().is_none() && !tree.source.text.get(between).unwrap_or("").contains('\n')
}

fn head_end(statement: &Statement, block: &Block) -> usize {
    statement.items.last().map_or(block.open, |item| item.span).range().end
}
