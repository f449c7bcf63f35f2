//! A tree to the lines that its text should have: one statement on each, blocks indented, comments in their places.

use std::ops::Range;

use crate::source::Span;
use crate::syntax::{Block, Node, Statement, Tree};
use crate::vocabulary::FILE;

use super::kept::{Kept, is_readable};
use super::tokens::{Collector, Comments, Token, comment, token};
use super::words::{Kin, Place, read};
use super::wrap::{has_forced_break, width, wrap};
use super::{INDENT, WIDTH};

/// One line of the formatted text.
#[derive(Debug)]
pub(super) struct Line {
    /// How many blocks and brackets are around it.
    pub(super) depth: usize,
    pub(super) has_blank_before: bool,
    /// Empty when a comment has the line to itself.
    pub(super) tokens: Vec<Token>,
    pub(super) comment: Option<Token>,
    pub(super) kin: Kin,
    /// Whether something on it cannot be read, so that it keeps its bytes.
    pub(super) is_kept: bool,
}

/// The lines of a tree in order.
pub(super) fn lines(tree: &Tree) -> Vec<Line> {
    let start = if tree.source.text.starts_with('\u{FEFF}') { '\u{FEFF}'.len_utf8() } else { 0 };
    let comments = Comments::of(tree);
    let mut builder = Builder { tree, comments, lines: Vec::new(), end: start, is_at_start: true };
    builder.nodes(&tree.nodes, Place::Context(&FILE), 0);
    builder.comments_before(tree.source.text.len(), 0);
    let kept = Kept::of(tree);
    for line in &mut builder.lines {
        line.is_kept = line.tokens.iter().any(|token| kept.around(token.range.start).is_some());
    }
    builder.lines
}

/// Lines as far as they are made.
struct Builder<'t> {
    tree: &'t Tree,
    comments: Comments<'t>,
    lines: Vec<Line>,
    /// One past the last byte of the last token.
    end: usize,
    /// Whether nothing has come yet in the block at hand.
    is_at_start: bool,
}

impl Builder<'_> {
    fn nodes(&mut self, nodes: &[Node], place: Place, depth: usize) {
        for node in nodes {
            match node {
                Node::Broken(broken) => {
                    self.comments_before(broken.span.range().start, depth);
                    self.put_whole(vec![token(self.tree, broken.span.range(), 0)], depth);
                }
                Node::Statement(statement) => {
                    self.comments_before(statement.span.range().start, depth);
                    self.statement(statement, place, depth);
                }
            }
        }
    }

    fn statement(&mut self, statement: &Statement, place: Place, depth: usize) {
        let (mut head, kin, inside) = head(self.tree, &mut self.comments, statement, place);
        let Some(block) = &statement.block else {
            self.put(head, depth, kin);
            return;
        };
        if !is_readable(self.tree, statement, block) {
            self.put_whole(head, depth);
        } else if let Some(inner) = self.on_one_line(block, inside, width(&head) + depth * INDENT, &head) {
            head.extend(inner);
            let is_empty = block.nodes.is_empty();
            self.put(head, depth, if is_empty { kin } else { Kin::Aside });
            return;
        } else {
            head.push(token(self.tree, block.open.range(), 1));
            self.put(head, depth, kin);
        }
        self.is_at_start = true;
        let nodes = block.nodes.get(usize::from(block.broken_head().is_some())..).unwrap_or(&[]);
        self.nodes(nodes, inside, depth + 1);
        let end = block.close.map_or(self.tree.source.text.len(), |close| close.range().start);
        self.comments_before(end, depth + 1);
        if let Some(close) = block.close {
            self.is_at_start = true;
            self.put(vec![token(self.tree, close.range(), 0)], depth, Kin::Alone);
        }
    }

    /// The tokens of a block that is written on one line and may stay there.
    fn on_one_line(&self, block: &Block, inside: Place, column: usize, head: &[Token]) -> Option<Vec<Token>> {
        let close = block.close?;
        if block.nodes.is_empty() && !self.comments.has_before(close.range().start) {
            let mut tokens = vec![token(self.tree, block.open.range(), 1)];
            self.inline(block, Some(close), inside, &mut tokens);
            return Some(tokens);
        }
        if self.text(block.open.range().end..close.range().start).contains('\n') {
            return None;
        }
        let mut tokens = vec![token(self.tree, block.open.range(), 1)];
        self.inline(block, Some(close), inside, &mut tokens);
        let fits = !has_forced_break(head) && column + width(&tokens) <= WIDTH;
        (fits || has_broken(&block.nodes)).then_some(tokens)
    }

    /// Appends what stands behind the opening brace of a block on one line.
    fn inline(&self, block: &Block, close: Option<Span>, place: Place, tokens: &mut Vec<Token>) {
        let nodes = block.nodes.get(usize::from(block.broken_head().is_some())..).unwrap_or(&[]);
        for (at, node) in nodes.iter().enumerate() {
            let before = if at == 0 { 1 } else { 2 };
            match node {
                Node::Broken(broken) => tokens.push(token(self.tree, broken.span.range(), before)),
                Node::Statement(statement) => {
                    // On one line there are no comments.
                    let mut comments = self.comments;
                    let first = tokens.len();
                    let (own, _, inside) = head(self.tree, &mut comments, statement, place);
                    tokens.extend(own.into_iter().map(|token| Token { begins_cell: false, ..token }));
                    if let Some(first) = tokens.get_mut(first) {
                        first.before = before;
                    }
                    if let Some(inner) = &statement.block {
                        if is_readable(self.tree, statement, inner) {
                            tokens.push(token(self.tree, inner.open.range(), 1));
                        }
                        self.inline(inner, inner.close, inside, tokens);
                    }
                }
            }
        }
        tokens.extend(close.map(|close| token(self.tree, close.range(), usize::from(!nodes.is_empty()))));
    }

    /// Puts comments that begin before byte `end`: behind what stands on their line, or on lines of their own.
    fn comments_before(&mut self, end: usize, depth: usize) {
        while let Some(span) = self.comments.next_before(end) {
            let comment = comment(self.tree, span, 2);
            let is_behind = !self.text(self.end..comment.range.start).contains('\n');
            let behind = comment.range.end;
            match self.lines.last_mut() {
                Some(line) if is_behind && line.comment.is_none() => line.comment = Some(comment),
                _ => {
                    let has_blank_before = self.has_blank_before(comment.range.start);
                    let comment = Some(comment);
                    let line = Line { has_blank_before, comment, ..plain(Vec::new(), depth, Kin::Alone) };
                    self.lines.push(line);
                    self.is_at_start = false;
                }
            }
            self.end = behind;
        }
    }

    /// Puts a statement's line, on several lines when it is too long for one.
    fn put(&mut self, tokens: Vec<Token>, depth: usize, kin: Kin) {
        let (Some(first), Some(last)) = (tokens.first(), tokens.last()) else { return };
        let has_blank_before = self.has_blank_before(first.range.start);
        self.end = last.range.end;
        self.is_at_start = false;
        let first = self.lines.len();
        wrap(tokens, depth, kin, &mut self.lines);
        if let Some(line) = self.lines.get_mut(first) {
            line.has_blank_before = has_blank_before;
        }
    }

    /// Puts a line of which something cannot be read: it is never broken.
    fn put_whole(&mut self, tokens: Vec<Token>, depth: usize) {
        let (Some(first), Some(last)) = (tokens.first(), tokens.last()) else { return };
        let has_blank_before = self.has_blank_before(first.range.start);
        self.end = last.range.end;
        self.is_at_start = false;
        self.lines.push(Line { has_blank_before, ..plain(tokens, depth, Kin::Alone) });
    }

    /// Whether an empty line stands before byte `start`, and is worth keeping.
    fn has_blank_before(&self, start: usize) -> bool {
        !self.is_at_start && self.text(self.end..start).bytes().filter(|byte| *byte == b'\n').count() > 1
    }

    fn text(&self, range: Range<usize>) -> &str {
        self.tree.source.text.get(range).unwrap_or("")
    }
}

/// The tokens of a statement's line before its block; with the brace, when something before that is amiss.
fn head<'t>(
    tree: &'t Tree,
    comments: &mut Comments<'t>,
    statement: &Statement,
    place: Place,
) -> (Vec<Token>, Kin, Place) {
    let reading = read(tree, statement, place);
    let mut collector = Collector::new(tree, comments);
    for (item, (before, begins_cell)) in statement.items.iter().zip(reading.gaps) {
        collector.item(item, before, begins_cell);
    }
    if let Some(block) = &statement.block
        && !is_readable(tree, statement, block)
    {
        block.broken_head().into_iter().for_each(|broken| collector.other(broken.span, 1));
        collector.other(block.open, 1);
    }
    (collector.tokens, reading.kin, reading.inside)
}

fn has_broken(nodes: &[Node]) -> bool {
    nodes.iter().any(|node| match node {
        Node::Broken(_) => true,
        Node::Statement(statement) => statement.block.as_ref().is_some_and(|block| has_broken(&block.nodes)),
    })
}

/// A line without a comment, and nothing said of what stands before it.
pub(super) fn plain(tokens: Vec<Token>, depth: usize, kin: Kin) -> Line {
    Line { depth, has_blank_before: false, tokens, comment: None, kin, is_kept: false }
}
