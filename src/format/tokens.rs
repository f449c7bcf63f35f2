//! The tokens of one statement's line, in order, each with the blanks that should stand before it.

use std::ops::Range;

use crate::quantity::Unit;
use crate::source::Span;
use crate::syntax::{Element, Expression, ExpressionKind, Item, ItemKind, Tree};

/// One token of the text.
#[derive(Debug, Clone)]
pub(super) struct Token {
    /// Its place, in bytes.
    pub(super) range: Range<usize>,
    /// Its length in characters.
    pub(super) width: usize,
    /// Blanks before it, unless it begins a line.
    pub(super) before: usize,
    /// Whether it begins a column that may be aligned with those of neighboring lines.
    pub(super) begins_cell: bool,
    pub(super) kind: TokenKind,
    pub(super) breaks: Breaks,
}

/// What matters of a token when lines are broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum TokenKind {
    Plain,
    /// `[` or `(`
    Open,
    /// `]` or `)`
    Close,
    /// To the end of its line.
    Comment,
}

/// Whether a line may end before a token. Only white space within brackets may hold line ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Breaks {
    Never,
    May,
    Must,
}

/// The comments of a tree, taken one after another.
#[derive(Debug, Clone, Copy)]
pub(super) struct Comments<'t> {
    rest: &'t [Span],
}

impl<'t> Comments<'t> {
    pub(super) fn of(tree: &'t Tree) -> Self {
        Self { rest: &tree.comments }
    }

    /// The next one, if it begins before byte `end`.
    pub(super) fn next_before(&mut self, end: usize) -> Option<Span> {
        let (first, rest) = self.rest.split_first()?;
        if first.range().start >= end {
            return None;
        }
        self.rest = rest;
        Some(*first)
    }

    /// Whether there is one before byte `end`.
    pub(super) fn has_before(&self, end: usize) -> bool {
        self.rest.first().is_some_and(|first| first.range().start < end)
    }
}

/// A token at `range`, `before` blanks behind the one before it.
pub(super) fn token(tree: &Tree, range: Range<usize>, before: usize) -> Token {
    let width = tree.source.text.get(range.clone()).unwrap_or("").chars().count();
    Token { range, width, before, begins_cell: false, kind: TokenKind::Plain, breaks: Breaks::Never }
}

/// A comment, without the blanks that end its line.
pub(super) fn comment(tree: &Tree, span: Span, before: usize) -> Token {
    let start = span.range().start;
    let end = start + tree.text(span).trim_end_matches([' ', '\t', '\r']).len();
    Token { kind: TokenKind::Comment, ..token(tree, start..end, before) }
}

/// Collects the tokens of a line, with the comments that stand within its brackets.
#[derive(Debug)]
pub(super) struct Collector<'t, 'c> {
    tree: &'t Tree,
    comments: &'c mut Comments<'t>,
    pub(super) tokens: Vec<Token>,
}

impl<'t, 'c> Collector<'t, 'c> {
    pub(super) fn new(tree: &'t Tree, comments: &'c mut Comments<'t>) -> Self {
        Self { tree, comments, tokens: Vec::new() }
    }

    /// Takes one item; `before` and `begins_cell` are of its first token.
    pub(super) fn item(&mut self, item: &Item, before: usize, begins_cell: bool) {
        let first = self.tokens.len();
        self.item_in(item, before, Breaks::Never);
        if let Some(token) = self.tokens.get_mut(first) {
            token.begins_cell = begins_cell;
        }
    }

    /// Takes what is no item: a brace, a stretch that cannot be read.
    pub(super) fn other(&mut self, span: Span, before: usize) {
        self.push(span.range(), before, Breaks::Never, TokenKind::Plain);
    }

    fn item_in(&mut self, item: &Item, before: usize, breaks: Breaks) {
        let range = item.span.range();
        match &item.kind {
            ItemKind::Word | ItemKind::Code | ItemKind::Text(_) => self.push(range, before, breaks, TokenKind::Plain),
            ItemKind::Quantity(_) => self.quantity(range, before, breaks),
            ItemKind::List(elements) | ItemKind::Group(elements) => {
                self.bracketed(range, before, breaks, |own| own.elements(elements));
            }
            ItemKind::Range(from, to) => {
                self.item_in(from, before, breaks);
                let between = from.span.range().end..to.span.range().start;
                let at = self.find(between, "..");
                self.push(at..at + "..".len(), 1, Breaks::Never, TokenKind::Plain);
                self.item_in(to, 1, Breaks::Never);
            }
            ItemKind::Comparison(sign, item) => {
                let end = range.start + sign.sign().len();
                self.push(range.start..end, before, breaks, TokenKind::Plain);
                self.item_in(item, 1, Breaks::Never);
            }
            ItemKind::Expression(expression) => {
                self.bracketed(range, before, breaks, |own| own.expression(expression, 0, Breaks::May));
            }
            ItemKind::Assign(expression) => {
                self.push(range.start..range.start + 1, before, breaks, TokenKind::Plain);
                self.expression(expression, 1, Breaks::Never);
            }
        }
    }

    /// Brackets at both ends of `range`, and between them what `inside` takes.
    fn bracketed(&mut self, range: Range<usize>, before: usize, breaks: Breaks, inside: impl FnOnce(&mut Self)) {
        let close = range.end.saturating_sub(1).max(range.start + 1);
        self.push(range.start..range.start + 1, before, breaks, TokenKind::Open);
        inside(self);
        self.push(close..range.end, 0, Breaks::May, TokenKind::Close);
    }

    fn elements(&mut self, elements: &[Element]) {
        let mut earlier: Option<&Element> = None;
        for element in elements {
            let (before, breaks) = match earlier {
                None => (0, Breaks::May),
                Some(earlier) => self.between(earlier, element),
            };
            self.item_in(&element.item, before, breaks);
            if let Some(times) = element.times {
                let Range { start, end } = times.span.range();
                self.push(start..start + 1, 0, Breaks::Never, TokenKind::Plain);
                let blanks = self.text(start + 1..end).bytes().take_while(|byte| matches!(byte, b' ' | b'\t')).count();
                self.push(start + 1 + blanks..end, 0, Breaks::Never, TokenKind::Plain);
            }
            earlier = Some(element);
        }
    }

    /// What stands between two elements. A share or a weight belongs to the wood before it, so the next wood stands
    /// a little apart.
    fn between(&self, earlier: &Element, element: &Element) -> (usize, Breaks) {
        let ItemKind::Quantity(literal) = &earlier.item.kind else { return (1, Breaks::May) };
        if earlier.times.is_some() {
            return (1, Breaks::May);
        }
        let is_word = matches!(element.item.kind, ItemKind::Word);
        // On one line `1` and `1/2` would be one number, and `12` and `m` would be twelve meters.
        let (number, next) = (self.text(earlier.item.span.range()), self.text(element.item.span.range()));
        let would_join = literal.unit.is_none()
            && if is_word {
                Unit::find(next).is_some()
            } else {
                number.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-') && is_fraction(next)
            };
        let is_broken = self.text(earlier.item.span.range().end..element.item.span.range().start).contains('\n');
        (1 + usize::from(is_word), if would_join && is_broken { Breaks::Must } else { Breaks::May })
    }

    fn expression(&mut self, expression: &Expression, before: usize, breaks: Breaks) {
        let range = expression.span.range();
        match &expression.kind {
            ExpressionKind::Quantity(_) => self.quantity(range, before, breaks),
            ExpressionKind::Name => self.push(range, before, breaks, TokenKind::Plain),
            ExpressionKind::Negate(inner) => {
                self.push(range.start..range.start + 1, before, breaks, TokenKind::Plain);
                // Close to a number the sign would be part of it.
                let begins = self.text(inner.span.range()).chars().next();
                let is_number = begins.is_some_and(|first| !first.is_ascii_lowercase() && !matches!(first, '(' | '-'));
                self.expression(inner, usize::from(is_number), Breaks::Never);
            }
            ExpressionKind::Binary(_, sign, left, right) | ExpressionKind::Compare(_, sign, left, right) => {
                self.expression(left, before, breaks);
                self.push(sign.range(), 1, Breaks::May, TokenKind::Plain);
                self.expression(right, 1, Breaks::Never);
            }
            ExpressionKind::Call(name, arguments) => {
                self.push(name.range(), before, breaks, TokenKind::Plain);
                let given = name.range().end..range.end;
                self.bracketed(given, 0, Breaks::Never, |own| own.arguments(arguments));
            }
            ExpressionKind::Parenthesized(inner) => {
                self.bracketed(range, before, breaks, |own| own.expression(inner, 0, Breaks::May));
            }
        }
    }

    fn arguments(&mut self, arguments: &[Expression]) {
        for (at, argument) in arguments.iter().enumerate() {
            if at > 0 {
                let from = self.tokens.last().map_or(0, |token| token.range.end);
                let comma = self.find(from..argument.span.range().start, ",");
                self.push(comma..comma + 1, 0, Breaks::Never, TokenKind::Plain);
            }
            self.expression(argument, usize::from(at > 0), Breaks::May);
        }
    }

    /// A number and its unit: as they are written, with one blank where there are several.
    fn quantity(&mut self, range: Range<usize>, before: usize, breaks: Breaks) {
        let text = self.text(range.clone());
        if !text.contains([' ', '\t']) {
            self.push(range, before, breaks, TokenKind::Plain);
            return;
        }
        let (mut before, mut breaks, mut at) = (before, breaks, range.start);
        for part in text.split([' ', '\t']) {
            if !part.is_empty() {
                self.push(at..at + part.len(), before, breaks, TokenKind::Plain);
                (before, breaks) = (1, Breaks::Never);
            }
            at += part.len() + 1;
        }
    }

    fn push(&mut self, range: Range<usize>, before: usize, breaks: Breaks, kind: TokenKind) {
        let mut breaks = breaks;
        while let Some(span) = self.comments.next_before(range.start) {
            let end = self.tokens.last().map_or(0, |token| token.range.end);
            let is_own_line = self.text(end..span.range().start).contains('\n');
            let ends_line = if is_own_line { Breaks::Must } else { Breaks::Never };
            self.tokens.push(Token { breaks: ends_line, ..comment(self.tree, span, 2) });
            breaks = Breaks::Must;
        }
        self.tokens.push(Token { kind, breaks, ..token(self.tree, range, before) });
    }

    /// Where `sign` stands in `range`, outside of comments; its end when it is not there.
    fn find(&self, range: Range<usize>, sign: &str) -> usize {
        let mut from = range.start;
        for comment in self.comments.rest.iter().map(|span| span.range()).take_while(|span| span.start < range.end) {
            if let Some(at) = self.text(from..comment.start).find(sign) {
                return from + at;
            }
            from = comment.end;
        }
        self.text(from..range.end).find(sign).map_or(range.end, |at| from + at)
    }

    fn text(&self, range: Range<usize>) -> &'t str {
        self.tree.source.text.get(range).unwrap_or("")
    }
}

/// Whether a number begins with a fraction: `1/2`, `½`.
fn is_fraction(number: &str) -> bool {
    let rest = number.trim_start_matches(|digit: char| digit.is_ascii_digit());
    rest.starts_with(|next: char| next == '/' || !next.is_ascii()) && !rest.starts_with(['°', '″', '′'])
}
