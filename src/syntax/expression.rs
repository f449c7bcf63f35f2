//! Arithmetic as written.

use crate::source::Span;

use super::{Comparator, Literal};

/// One expression and its place.
#[derive(Debug, Clone)]
pub struct Expression {
    /// All of it.
    pub span: Span,
    /// What it is.
    pub kind: ExpressionKind,
}

/// The kinds of expression. Nesting is bounded by the parser, so recursion over it is safe.
#[derive(Debug, Clone)]
pub enum ExpressionKind {
    /// A number.
    Quantity(Literal),
    /// A name; the text is the span's.
    Name,
    /// `- a`
    Negate(Box<Expression>),
    /// `a + b`; the operator's place is given.
    Binary(BinaryOperator, Span, Box<Expression>, Box<Expression>),
    /// `a >= b`
    Compare(Comparator, Span, Box<Expression>, Box<Expression>),
    /// `min(a, b)`; the name's place is given.
    Call(Span, Vec<Expression>),
    /// `( a )` within an expression.
    Parenthesized(Box<Expression>),
}

/// Arithmetic between two.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BinaryOperator {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
}
