//! The syntax tree: uniform, lossless, with a place for every leaf.
//!
//! A statement is a line: its first item is the head, the rest are arguments. Which words on the
//! line begin a clause is not known here; the vocabulary splits them later. White space is what
//! lies between the leaves; comments are kept in [`Tree::comments`] in the order they stand.

use std::sync::Arc;

use crate::quantity::{Number, Unit};
use crate::source::{SourceFile, Span};

use super::Expression;

/// One parsed file.
#[derive(Debug, Clone)]
pub struct Tree {
    /// The text it was read from.
    pub source: Arc<SourceFile>,
    /// What stands at file level.
    pub nodes: Vec<Node>,
    /// Every comment, from its `#` to before the line end, in order.
    pub comments: Vec<Span>,
}

/// What stands in a block or at file level.
#[derive(Debug, Clone)]
pub enum Node {
    /// A readable statement.
    Statement(Statement),
    /// A stretch that could not be read; its finding has been made.
    Broken(Broken),
}

/// An unreadable stretch.
#[derive(Debug, Clone, Copy)]
pub struct Broken {
    /// All of it, without its line end.
    pub span: Span,
}

/// One statement with its block.
#[derive(Debug, Clone)]
pub struct Statement {
    /// From the head to the last argument or the closing brace.
    pub span: Span,
    /// The head and its arguments; the first is always a [`ItemKind::Word`].
    pub items: Vec<Item>,
    /// The block behind it.
    pub block: Option<Block>,
}

/// Statements between braces.
#[derive(Debug, Clone)]
pub struct Block {
    /// With both braces.
    pub span: Span,
    /// The opening brace.
    pub open: Span,
    /// The closing brace; `None` when the file ends before it (its finding has been made).
    pub close: Option<Span>,
    /// What stands between.
    pub nodes: Vec<Node>,
}

/// One argument.
#[derive(Debug, Clone)]
pub struct Item {
    /// All of it.
    pub span: Span,
    /// What it is.
    pub kind: ItemKind,
}

/// The kinds of argument.
#[derive(Debug, Clone)]
pub enum ItemKind {
    /// A lower-case word; the text is the span's.
    Word,
    /// The code of a finding, `ring/joints-line-up`; the text is the span's.
    Code,
    /// A string; the value without quotes, with `\"` and `\\` resolved.
    Text(String),
    /// A number with or without unit.
    Quantity(Literal),
    /// `[ … ]`
    List(Vec<Element>),
    /// `( … )` inside a list: a group of elements.
    Group(Vec<Element>),
    /// `a .. b`
    Range(Box<Item>, Box<Item>),
    /// `>= a`
    Comparison(Comparator, Box<Item>),
    /// `( … )` outside a list.
    Expression(Expression),
    /// `= …` to the end of the line; of a key (`m = maple`) just the word.
    Assign(Expression),
}

/// A number as written, decoded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Literal {
    /// The number.
    pub number: Number,
    /// Its unit, if one is written.
    pub unit: Option<&'static Unit>,
}

/// One element of a list, perhaps several times over.
#[derive(Debug, Clone)]
pub struct Element {
    /// The element.
    pub item: Item,
    /// `*3` behind it.
    pub times: Option<Times>,
}

/// How many times an element stands.
#[derive(Debug, Clone, Copy)]
pub struct Times {
    /// The star and the number.
    pub span: Span,
    /// The number; saturates at `u32::MAX`.
    pub count: u32,
}

/// Comparisons.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Comparator {
    /// `>=`
    AtLeast,
    /// `<=`
    AtMost,
    /// `>`
    Above,
    /// `<`
    Below,
    /// `==`
    Equal,
}

impl Comparator {
    /// As written.
    #[must_use]
    pub fn sign(self) -> &'static str {
        match self {
            Self::AtLeast => ">=",
            Self::AtMost => "<=",
            Self::Above => ">",
            Self::Below => "<",
            Self::Equal => "==",
        }
    }

    /// Whether `left` and `right` stand so; equality within a billionth.
    #[must_use]
    pub fn holds(self, left: f64, right: f64) -> bool {
        let equal = (left - right).abs() <= 1e-9 * left.abs().max(right.abs()).max(1.0);
        match self {
            Self::AtLeast => left > right || equal,
            Self::AtMost => left < right || equal,
            Self::Above => left > right && !equal,
            Self::Below => left < right && !equal,
            Self::Equal => equal,
        }
    }
}

impl Tree {
    /// The text of a place in this file.
    #[must_use]
    pub fn text(&self, span: Span) -> &str {
        self.source.text.get(span.range()).unwrap_or("")
    }
}

impl Statement {
    /// The head's place.
    #[must_use]
    pub fn head(&self) -> Span {
        self.items.first().map_or(self.span, |item| item.span)
    }

    /// Everything behind the head.
    #[must_use]
    pub fn arguments(&self) -> &[Item] {
        self.items.get(1..).unwrap_or(&[])
    }
}

impl Block {
    /// The stretch of its statement's line that could not be read, when there is one: it is the first
    /// node, and stands before the opening brace. The arguments before it are in the statement; one
    /// that is missing need not be missed, and a head that is unknown has been reported.
    #[must_use]
    pub fn broken_head(&self) -> Option<Broken> {
        match self.nodes.first() {
            Some(Node::Broken(broken)) if broken.span.end <= self.open.start => Some(*broken),
            Some(Node::Broken(_) | Node::Statement(_)) | None => None,
        }
    }
}
