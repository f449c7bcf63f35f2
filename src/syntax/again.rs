//! A text that was read before and has changed a little: what stands on lines that are as they were is taken from the
//! tree of then.
//!
//! Whether a step can be read, and as what, is decided by its own characters up to the end of its line, so whole lines
//! can be taken over wherever the reader stands between two steps. What depends on the text around it (which block a brace
//! closes, what is broken and why) is decided anew every time.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;

use crate::finding::WithFindings;
use crate::source::{FileId, SourceFile, Span};

use super::parse::{parse, parse_after};
use super::{Element, Expression, ExpressionKind, Item, ItemKind, Node, Statement, Tree};

/// The trees of texts as they were last read, by name. Reading a text again costs what has changed in it.
#[derive(Debug, Default)]
pub struct Trees(RefCell<BTreeMap<String, Rc<Tree>>>);

impl Trees {
    /// The same as [`parse`](parse()).
    pub fn read(&self, source: &Arc<SourceFile>) -> WithFindings<Rc<Tree>> {
        let before = self.0.borrow().get(&source.name).cloned();
        let read = before.map_or_else(|| parse(source), |before| parse_after(source, &before));
        let tree = Rc::new(read.value);
        self.0.borrow_mut().insert(source.name.clone(), Rc::clone(&tree));
        WithFindings { value: tree, findings: read.findings }
    }
}

/// What the reader took in one go.
#[derive(Debug, Clone, Copy)]
enum Step<'t> {
    /// A statement's line; with its brace, if that stands behind it.
    Line(&'t [Item], Option<Span>),
    Close(Span),
    /// What can be read only together with its surroundings.
    Broken(Span),
}

impl Step<'_> {
    fn span(&self) -> Option<Span> {
        match self {
            Step::Line([first, .., last], None) => Some(first.span.to(last.span)),
            Step::Line([only], None) => Some(only.span),
            Step::Line([first, ..], Some(brace)) => Some(first.span.to(*brace)),
            Step::Line([], _) => None,
            Step::Close(span) | Step::Broken(span) => Some(*span),
        }
    }
}

/// What is taken over, in the order of the text, with its places in the new text.
#[derive(Debug)]
pub(super) enum Taken {
    Line(Vec<Item>, Option<Span>),
    Close(Span),
    Comment(Span),
}

/// An earlier tree, beside a text that is to be read.
#[derive(Debug)]
pub(super) struct Earlier<'t> {
    tree: &'t Tree,
    file: FileId,
    new: &'t str,
    /// How many bytes are the same at the start of both texts, and at their ends.
    same: (usize, usize),
    /// By place.
    steps: Vec<Step<'t>>,
    /// The first step, and the first comment, that was not passed yet.
    next: (usize, usize),
}

impl<'t> Earlier<'t> {
    pub(super) fn new(tree: &'t Tree, source: &'t SourceFile) -> Self {
        let (old, new) = (tree.source.text.as_str(), source.text.as_str());
        let head = old.bytes().zip(new.bytes()).take_while(|(a, b)| a == b).count();
        let rest = old.len().min(new.len()) - head;
        let tail = old.bytes().rev().zip(new.bytes().rev()).take(rest).take_while(|(a, b)| a == b).count();
        let mut steps = Vec::with_capacity(tree.nodes.len());
        steps_of(&tree.nodes, old, &mut steps);
        Self { tree, file: source.id, new, same: (head, tail), steps, next: (0, 0) }
    }

    /// Takes over all lines from the one at `at` on that are as they were, and says where the first other one begins;
    /// none when the line at `at` is not, or when more than blanks stand before it.
    pub(super) fn take(&mut self, at: usize, mut take: impl FnMut(Taken)) -> Option<usize> {
        let before = self.new.get(..at)?.trim_end_matches([' ', '\t']);
        let start = before.len();
        if !(before.is_empty() || before.ends_with('\n')) {
            return None;
        }
        // From here to there the texts are the same.
        let (head, tail) = self.same;
        let (by, end) = if start < head { (0, head) } else { (self.grown(), self.old().len()) };
        let from = usize::try_from(signed(start) - by).ok()?;
        if start >= head && from < self.old().len() - tail {
            return None;
        }
        let shift = Shift { file: self.file, by };
        let mut reached = from;
        while let Some(line_end) = self.line(reached, end) {
            for step in &self.steps[self.next.0..line_end.next.0] {
                match step {
                    Step::Line(items, brace) => {
                        take(Taken::Line(shift.items(items), brace.map(|brace| shift.span(brace))));
                    }
                    Step::Close(brace) => take(Taken::Close(shift.span(*brace))),
                    Step::Broken(_) => {}
                }
            }
            for comment in &self.tree.comments[self.next.1..line_end.next.1] {
                take(Taken::Comment(shift.span(*comment)));
            }
            (reached, self.next) = (line_end.at, line_end.next);
        }
        (reached > from).then(|| usize::try_from(signed(reached) + by).ok()).flatten()
    }

    /// By how much the text is longer now.
    fn grown(&self) -> i64 {
        signed(self.new.len()) - signed(self.old().len())
    }

    fn old(&self) -> &'t str {
        &self.tree.source.text
    }

    /// Goes over the old line that begins at `start`, and over further ones where a step reaches into them; none when
    /// something in it cannot be taken over, or when it does not end before `end`.
    fn line(&mut self, start: usize, end: usize) -> Option<LineEnd> {
        let starts_before = |span: Option<Span>| span.is_some_and(|span| (span.start as usize) < start);
        while self.steps.get(self.next.0).is_some_and(|step| starts_before(step.span())) {
            self.next.0 += 1;
        }
        while starts_before(self.tree.comments.get(self.next.1).copied()) {
            self.next.1 += 1;
        }
        let bytes = self.old().as_bytes();
        let (mut at, mut next) = (start, self.next);
        let is_at = |span: Span, at: usize| span.start as usize == at;
        loop {
            if let Some(step) = self.steps.get(next.0)
                && let Some(span) = step.span().filter(|span| is_at(*span, at))
            {
                if matches!(step, Step::Broken(_)) {
                    return None;
                }
                at = span.end as usize;
                next.0 += 1;
                // Those within it are its own.
                next.1 +=
                    self.tree.comments[next.1..].iter().take_while(|comment| (comment.start as usize) < at).count();
                continue;
            }
            if let Some(comment) = self.tree.comments.get(next.1).filter(|comment| is_at(**comment, at)) {
                at = comment.end as usize;
                next.1 += 1;
                continue;
            }
            at += match (bytes.get(at), bytes.get(at + 1)) {
                (Some(b' ' | b'\t' | b'\n'), _) => 1,
                (Some(b'\r'), Some(b'\n')) => 2,
                // The end of both texts; where only one of them ends, the same text is read on.
                (None, _) if end == bytes.len() && self.same.1 > 0 && at > start => return Some(LineEnd { at, next }),
                _ => return None,
            };
            if at > end {
                return None;
            }
            if bytes.get(at - 1) == Some(&b'\n') {
                return Some(LineEnd { at, next });
            }
        }
    }
}

/// Texts are shorter than 4 GiB.
fn signed(length: usize) -> i64 {
    i64::try_from(length).unwrap_or(i64::MAX)
}

/// Where a line ends, and which step and which comment come behind it.
struct LineEnd {
    at: usize,
    next: (usize, usize),
}

/// The steps in which `nodes` were read, by place.
fn steps_of<'t>(nodes: &'t [Node], text: &str, steps: &mut Vec<Step<'t>>) {
    for node in nodes {
        let Statement { items, block, .. } = match node {
            Node::Broken(broken) => {
                steps.push(Step::Broken(broken.span));
                continue;
            }
            Node::Statement(statement) => statement,
        };
        let Some(block) = block else {
            steps.push(Step::Line(items, None));
            continue;
        };
        let behind = items.last().map_or(block.open.start, |item| item.span.end);
        let is_on_its_own =
            text.get(behind as usize..block.open.start as usize).is_none_or(|between| between.contains('\n'));
        match (block.broken_head(), items.first()) {
            (Some(broken), first) => {
                let head = first.map_or(broken.span, |first| first.span);
                steps.push(Step::Broken(head.to(block.open)));
            }
            (None, _) if is_on_its_own => {
                steps.push(Step::Line(items, None));
                steps.push(Step::Broken(block.open));
            }
            (None, _) => steps.push(Step::Line(items, Some(block.open))),
        }
        let is_head = |node: &&Node| matches!(node, Node::Broken(broken) if broken.span.end <= block.open.start);
        let n_heads = block.nodes.iter().take_while(is_head).count();
        steps_of(&block.nodes[n_heads..], text, steps);
        steps.extend(block.close.map(Step::Close));
    }
}

/// From places in the old text to those in the new one.
struct Shift {
    file: FileId,
    by: i64,
}

impl Shift {
    fn span(&self, span: Span) -> Span {
        let moved = |at: u32| u32::try_from(i64::from(at) + self.by).unwrap_or(u32::MAX);
        Span::new(self.file, moved(span.start), moved(span.end))
    }

    fn items(&self, items: &[Item]) -> Vec<Item> {
        items.iter().map(|item| self.item(item)).collect()
    }

    fn item(&self, item: &Item) -> Item {
        let kind = match &item.kind {
            ItemKind::Word => ItemKind::Word,
            ItemKind::Code => ItemKind::Code,
            ItemKind::Text(text) => ItemKind::Text(text.clone()),
            ItemKind::Quantity(literal) => ItemKind::Quantity(*literal),
            ItemKind::List(elements) => ItemKind::List(self.elements(elements)),
            ItemKind::Group(elements) => ItemKind::Group(self.elements(elements)),
            ItemKind::Range(from, to) => ItemKind::Range(Box::new(self.item(from)), Box::new(self.item(to))),
            ItemKind::Comparison(sign, item) => ItemKind::Comparison(*sign, Box::new(self.item(item))),
            ItemKind::Expression(expression) => ItemKind::Expression(self.expression(expression)),
            ItemKind::Assign(expression) => ItemKind::Assign(self.expression(expression)),
        };
        Item { span: self.span(item.span), kind }
    }

    fn elements(&self, elements: &[Element]) -> Vec<Element> {
        let times = |times: super::Times| super::Times { span: self.span(times.span), ..times };
        elements
            .iter()
            .map(|element| Element { item: self.item(&element.item), times: element.times.map(times) })
            .collect()
    }

    fn expression(&self, expression: &Expression) -> Expression {
        let boxed = |inner: &Expression| Box::new(self.expression(inner));
        let kind = match &expression.kind {
            ExpressionKind::Quantity(literal) => ExpressionKind::Quantity(*literal),
            ExpressionKind::Name => ExpressionKind::Name,
            ExpressionKind::Negate(inner) => ExpressionKind::Negate(boxed(inner)),
            ExpressionKind::Parenthesized(inner) => ExpressionKind::Parenthesized(boxed(inner)),
            ExpressionKind::Binary(operator, span, left, right) => {
                ExpressionKind::Binary(*operator, self.span(*span), boxed(left), boxed(right))
            }
            ExpressionKind::Compare(sign, span, left, right) => {
                ExpressionKind::Compare(*sign, self.span(*span), boxed(left), boxed(right))
            }
            ExpressionKind::Call(name, arguments) => ExpressionKind::Call(
                self.span(*name),
                arguments.iter().map(|argument| self.expression(argument)).collect(),
            ),
        };
        Expression { span: self.span(expression.span), kind }
    }
}
