//! A text to its tree, a few statements at a time; open blocks wait on a stack of their own.

use std::sync::Arc;

use pest::Parser;
use pest::iterators::Pair;

use crate::finding::{Finding, WithFindings};
use crate::source::{SourceFile, Span};

use super::again::{Earlier, Taken};
use super::convert::{Converter, Tail, span_of};
use super::depth::{Brackets, DEEPEST, brackets};
use super::findings;
use super::grammar::{Grammar, Rule};
use super::scan::{broken_end, without_blanks};
use super::slips::{self, Stretch};
use super::{Block, Broken, Item, ItemKind, Node, Statement, Tree};

/// Reads one file. Cannot fail: an unreadable stretch becomes a [`Broken`] node with one finding.
///
/// A broken line that opens a block still opens it, so that what stands in the block keeps its place:
/// the statement has the arguments up to the broken stretch, and the [`Broken`] node is the first of
/// its block ([`Block::broken_head`]). Time and memory are linear in the length of the text.
#[must_use]
pub fn parse(source: &Arc<SourceFile>) -> WithFindings<Tree> {
    read(source, None)
}

/// The same, with the tree of an earlier state of the text at hand: costs little more than what has changed.
#[must_use]
pub(super) fn parse_after(source: &Arc<SourceFile>, before: &Tree) -> WithFindings<Tree> {
    read(source, Some(before))
}

fn read(source: &Arc<SourceFile>, before: Option<&Tree>) -> WithFindings<Tree> {
    let brackets = brackets(&source.text);
    let limit = usize::try_from(u32::MAX).unwrap_or(usize::MAX);
    if source.text.len() >= limit {
        return refused(source, findings::too_long(span_of(source.id, 0, 0)));
    }
    if let Some(at) = brackets.too_deep {
        return refused(source, findings::too_deep(span_of(source.id, at, at + 1), DEEPEST));
    }
    let earlier = before.map(|before| Earlier::new(before, source));
    Reader::new(source, &brackets).read(earlier)
}

/// A file of which nothing is read.
fn refused(source: &Arc<SourceFile>, finding: Finding) -> WithFindings<Tree> {
    let broken = Broken { span: span_of(source.id, 0, source.text.len()) };
    let tree = Tree { source: Arc::clone(source), nodes: vec![Node::Broken(broken)], comments: Vec::new() };
    WithFindings { value: tree, findings: vec![finding] }
}

/// How many steps the grammar's `stride` has: when fewer come, something stands in their way.
const STEPS_OF_A_STRIDE: usize = 8;

/// A block whose closing brace has not come yet.
struct Open {
    /// The head and its arguments; `None` for a brace without a head, whose nodes join those around it.
    items: Option<Vec<Item>>,
    /// Where the block's span starts: at the brace, or at the broken stretch before it.
    start: Span,
    brace: Span,
    /// How many nodes were finished before its own.
    nodes_before: usize,
    /// By how much the head's line is indented, when the head comes first on it.
    indent: Option<usize>,
}

/// A closing brace that does not stand in line with the head of its block.
#[derive(Clone, Copy)]
struct Askew {
    head: Span,
    close: Span,
}

struct Reader<'a> {
    source: &'a Arc<SourceFile>,
    text: &'a str,
    brackets: &'a Brackets,
    at: usize,
    /// Finished nodes of all open blocks, those of inner blocks last.
    nodes: Vec<Node>,
    open: Vec<Open>,
    comments: Vec<Span>,
    findings: Vec<Finding>,
    /// The items of the line at hand; kept so that every statement's own list is made to measure.
    items: Vec<Item>,
    askew: Option<Askew>,
}

impl<'a> Reader<'a> {
    fn new(source: &'a Arc<SourceFile>, brackets: &'a Brackets) -> Self {
        let text = source.text.as_str();
        Self {
            source,
            text,
            brackets,
            at: if text.starts_with('\u{FEFF}') { '\u{FEFF}'.len_utf8() } else { 0 },
            nodes: Vec::new(),
            open: Vec::new(),
            comments: Vec::new(),
            findings: Vec::new(),
            items: Vec::new(),
            askew: None,
        }
    }

    fn read(mut self, mut earlier: Option<Earlier<'_>>) -> WithFindings<Tree> {
        while self.at < self.text.len() {
            if let Some(earlier) = &mut earlier
                && let Some(at) = earlier.take(self.at, |taken| self.take_over(taken))
            {
                self.at = at;
            } else if !self.stride() {
                let place = self.span(self.at, self.at);
                return refused(self.source, findings::too_deep(place, DEEPEST));
            }
        }
        self.close_at_end();
        self.nodes.shrink_to_fit();
        let tree = Tree { source: Arc::clone(self.source), nodes: self.nodes, comments: self.comments };
        WithFindings { value: tree, findings: self.findings }
    }

    /// Reads the next few steps and moves on; false when something nests too deep to be read at all,
    /// which the pass over the brackets has excluded unless the thread's stack is very small.
    fn stride(&mut self) -> bool {
        let base = self.at;
        let Some(stride) = self.text.get(base..).and_then(|rest| Grammar::parse(Rule::stride, rest).ok()) else {
            return false;
        };
        let Some(stride) = stride.into_iter().next() else { return false };
        let end = base + stride.as_span().end();
        let mut n_steps = 0;
        for pair in stride.into_inner() {
            if pair.as_rule() == Rule::step {
                self.step(pair, base);
                n_steps += 1;
            } else {
                // A comment behind the last step.
                self.comments.push(self.span(base + pair.as_span().start(), base + pair.as_span().end()));
            }
        }
        self.at = end;
        if n_steps < STEPS_OF_A_STRIDE {
            self.recover();
        }
        self.open.len() <= DEEPEST
    }

    /// Takes what was read of an unchanged line before.
    fn take_over(&mut self, taken: Taken) {
        match taken {
            Taken::Line(items, None) => {
                self.nodes.push(Node::Statement(Statement { span: span_of_items(&items), items, block: None }));
            }
            Taken::Line(items, Some(brace)) => {
                self.items = items;
                self.open_block(brace, brace, None);
            }
            Taken::Close(brace) => self.close_block(brace),
            Taken::Comment(comment) => self.comments.push(comment),
        }
    }

    /// Takes one statement with its opening brace, or one closing brace.
    fn step(&mut self, step: Pair<'_, Rule>, base: usize) {
        self.at = base + step.as_span().end();
        self.items.clear();
        let n_comments = self.comments.len();
        let mut converter = Converter { file: self.source.id, base, comments: &mut self.comments, operators: 0 };
        match converter.line(step.into_inner(), &mut self.items) {
            Ok(Tail::Open(brace)) => self.open_block(brace, brace, None),
            Ok(Tail::Close(brace)) => self.close_block(brace),
            Ok(Tail::Nothing) => {
                let items = self.take_items();
                self.nodes.push(Node::Statement(Statement { span: span_of_items(&items), items, block: None }));
            }
            Err(finding) => self.refuse_line(*finding, n_comments),
        }
    }

    /// A line that is well formed but holds a number or an expression that cannot be; the step ends
    /// behind it, or behind its opening brace.
    fn refuse_line(&mut self, finding: Finding, n_comments: usize) {
        let brace = self.text[..self.at].ends_with('{').then(|| self.span(self.at - 1, self.at));
        let end = brace.map_or(self.at, |brace| brace.start as usize);
        let start = self.items.first().map_or(finding.place.span.start as usize, |head| head.span.start as usize);
        // Comments within what is broken are part of it.
        let kept = if brace.is_some() { self.items.last().map_or(start, |item| item.span.end as usize) } else { start };
        let before = self.comments[n_comments..].iter().take_while(|comment| (comment.start as usize) < kept).count();
        self.comments.truncate(n_comments + before);
        self.break_off(start, without_blanks(self.text, start, end), brace, finding);
    }

    /// Where the grammar found no statement and no closing brace: a broken stretch, or the end.
    fn recover(&mut self) {
        let start = self.at;
        if start >= self.text.len() {
            return;
        }
        let end = broken_end(self.text, start, &self.brackets.unclosed);
        let next = self.text.as_bytes()[end..].iter().position(|byte| !matches!(byte, b' ' | b'\t'));
        let next = next.map_or(self.text.len(), |blanks| end + blanks);
        let brace = (self.text.as_bytes().get(next) == Some(&b'{')).then(|| self.span(next, next + 1));
        self.at = brace.map_or(end, |brace| brace.end as usize);
        match brace {
            Some(brace) if start == next => self.open_without_head(brace),
            _ => {
                let stretch =
                    Stretch { source: self.source, brackets: self.brackets, start, end, depth: self.open.len() };
                let finding = slips::diagnose(&stretch);
                self.items.clear();
                if brace.is_some() {
                    self.read_head(start, end);
                }
                self.break_off(start, end, brace, finding);
            }
        }
    }

    /// Reads the items at the start of a broken line, as far as they go.
    fn read_head(&mut self, start: usize, end: usize) {
        let readable = self.text.get(start..end).and_then(|line| Grammar::parse(Rule::readable, line).ok());
        let Some(readable) = readable.and_then(|mut pairs| pairs.next()) else { return };
        let mut comments = Vec::new();
        let mut converter = Converter { file: self.source.id, base: start, comments: &mut comments, operators: 0 };
        // Its finding, if any, is not the first one of the line.
        let _ = converter.line(readable.into_inner(), &mut self.items);
        let kept = self.items.last().map_or(0, |item| item.span.end);
        self.comments.extend(comments.into_iter().filter(|comment| comment.start < kept));
    }

    /// Notes a broken stretch `start..end`. With a brace behind it, the statement is kept as far as
    /// `items` go and its block is opened.
    fn break_off(&mut self, start: usize, end: usize, brace: Option<Span>, finding: Finding) {
        self.findings.push(finding);
        let Some(brace) = brace else {
            self.nodes.push(Node::Broken(Broken { span: self.span(start, end) }));
            return;
        };
        if self.items.is_empty() {
            let line = &self.text[start..end];
            let head = line.find([' ', '\t', '"', '(', '[']).filter(|length| *length > 0).unwrap_or(line.len());
            self.items.push(Item { span: self.span(start, start + head), kind: ItemKind::Word });
        }
        let behind = self.items.last().map_or(start, |item| item.span.end as usize).min(end);
        let rest = &self.text[behind..end];
        let broken = self.span(end - rest.trim_start_matches([' ', '\t']).len(), end);
        self.open_block(broken, brace, Some(Broken { span: broken }));
    }

    fn open_block(&mut self, start: Span, brace: Span, broken: Option<Broken>) {
        let items = self.take_items();
        let indent = items.first().and_then(|head| self.indent(head.span));
        self.open.push(Open { items: Some(items), start, brace, nodes_before: self.nodes.len(), indent });
        self.nodes.extend(broken.map(Node::Broken));
    }

    /// A brace with nothing before it on its line. It belongs to the statement above it, if that has
    /// no block yet.
    fn open_without_head(&mut self, brace: Span) {
        let first = self.open.last().map_or(0, |open| open.nodes_before);
        let above = if self.nodes.len() > first { self.nodes.pop() } else { None };
        match above {
            Some(Node::Statement(Statement { span, items, block: None })) => {
                let between = &self.text[span.end as usize..brace.start as usize];
                self.findings.push(findings::brace_on_its_own(brace, span, between));
                self.items = items;
                self.open_block(brace, brace, None);
            }
            other => {
                self.nodes.extend(other);
                self.findings.push(findings::brace_without_head(brace));
                self.nodes.push(Node::Broken(Broken { span: brace }));
                let nodes_before = self.nodes.len();
                self.open.push(Open { items: None, start: brace, brace, nodes_before, indent: None });
            }
        }
    }

    fn close_block(&mut self, brace: Span) {
        let Some(open) = self.open.pop() else {
            self.findings.push(findings::stray_brace(brace));
            self.nodes.push(Node::Broken(Broken { span: brace }));
            return;
        };
        let head = open.items.as_ref().and_then(|items| items.first()).map(|item| item.span);
        if self.askew.is_none()
            && let (Some(head), Some(wanted), Some(indent)) = (head, open.indent, self.indent(brace))
            && wanted != indent
        {
            self.askew = Some(Askew { head, close: brace });
        }
        self.finish(open, brace.end, Some(brace));
    }

    /// Makes the statement of a block that has come to its end.
    fn finish(&mut self, open: Open, end: u32, close: Option<Span>) {
        let Some(items) = open.items else { return };
        let nodes: Vec<Node> = self.nodes.drain(open.nodes_before..).collect();
        let block = Block { span: Span { end, ..open.start }, open: open.brace, close, nodes };
        let span = span_of_items(&items).to(block.span);
        self.nodes.push(Node::Statement(Statement { span, items, block: Some(block) }));
    }

    /// Closes what the file left open, with one finding for all.
    fn close_at_end(&mut self) {
        let place = self.span(self.text.len(), self.text.len());
        let unclosed: Vec<(Span, Span)> =
            self.open.iter().filter_map(|open| Some((open.items.as_ref()?.first()?.span, open.brace))).collect();
        if let Some(((head, brace), inner)) = unclosed.split_first() {
            let name = |span: Span| self.text.get(span.range()).unwrap_or("");
            let mut finding =
                findings::unclosed_block(name(*head), *brace, inner.len(), place, self.text.ends_with('\n'));
            for (head, brace) in inner.iter().take(3) {
                finding = finding.also(*brace, format!("nor is this block of `{}`", name(*head)));
            }
            if let Some(Askew { head, close }) = self.askew {
                let message = format!("this closes the block of `{}`, but is not in line with it", name(head));
                finding = finding.also(close, message);
            }
            self.findings.push(finding);
        }
        while let Some(open) = self.open.pop() {
            self.finish(open, place.end, None);
        }
    }

    /// How many blanks stand before `span` on its line, if nothing else does.
    fn indent(&self, span: Span) -> Option<usize> {
        let before = self.text.get(..span.start as usize)?;
        let line = before.trim_end_matches([' ', '\t']);
        (line.is_empty() || line.ends_with('\n')).then_some(before.len() - line.len())
    }

    /// The items of the line, in a list of just their number.
    fn take_items(&mut self) -> Vec<Item> {
        self.items.drain(..).collect()
    }

    fn span(&self, start: usize, end: usize) -> Span {
        span_of(self.source.id, start, end)
    }
}

fn span_of_items(items: &[Item]) -> Span {
    match items {
        [first, .., last] => first.span.to(last.span),
        [only] => only.span,
        [] => Span::new(crate::source::FileId(0), 0, 0),
    }
}
