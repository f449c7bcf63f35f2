//! What an expression is worth. Every operation checks dimensions; none can give not-a-number unseen.

use crate::finding::Finding;
use crate::quantity::{Dimension, trig};
use crate::source::Span;
use crate::syntax::{BinaryOperator, Expression, ExpressionKind, Literal};

use super::findings;
use super::value::{Bare, Value};

/// What the names of an expression are worth.
pub(super) trait Names {
    /// The value of the name written at `span`.
    fn value(&self, span: Span) -> Result<Value, Finding>;

    /// What stands at `span`.
    fn text(&self, span: Span) -> &str;

    /// What a bare number means there.
    fn bare(&self) -> Bare;
}

/// Calls: name, how many arguments, what they must be.
pub(crate) const FUNCTIONS: [(&str, usize); 8] =
    [("min", 2), ("max", 2), ("abs", 1), ("sqrt", 1), ("sin", 1), ("cos", 1), ("tan", 1), ("round-to", 2)];

pub(super) fn literal(literal: &Literal, bare: Bare) -> Value {
    let number = literal.number.value();
    match literal.unit {
        Some(unit) => Value::Of(unit.to_base(number), unit.dimension),
        None => Value::Bare(number, bare),
    }
}

pub(super) fn evaluate(expression: &Expression, names: &dyn Names) -> Result<Value, Finding> {
    let value = match &expression.kind {
        ExpressionKind::Quantity(number) => Ok(literal(number, names.bare())),
        ExpressionKind::Name => names.value(expression.span),
        ExpressionKind::Parenthesized(inner) => evaluate(inner, names),
        ExpressionKind::Negate(inner) => evaluate(inner, names).map(|value| value.with(-value.number())),
        ExpressionKind::Binary(operator, at, left, right) => {
            let (left_value, right_value) = (evaluate(left, names)?, evaluate(right, names)?);
            binary(*operator, (left.span, left_value), (right.span, right_value), *at)
        }
        ExpressionKind::Compare(comparator, at, ..) => Err(findings::comparison_is_no_value(*at, comparator.sign())),
        ExpressionKind::Call(name, arguments) => call(*name, arguments, expression.span, names),
    }?;
    if value.number().is_finite() {
        Ok(value)
    } else {
        Err(findings::no_number(expression.span, "its value is beyond all numbers"))
    }
}

type Placed = (Span, Value);

fn binary(operator: BinaryOperator, left: Placed, right: Placed, at: Span) -> Result<Value, Finding> {
    match operator {
        BinaryOperator::Add => same_kind(left, right, at, "added", |a, b| a + b),
        BinaryOperator::Subtract => same_kind(left, right, at, "subtracted", |a, b| a - b),
        BinaryOperator::Multiply => product(left, right, at),
        BinaryOperator::Divide => quotient(left, right, at),
    }
}

/// Sums, differences and the like: both sides of one kind; a bare number beside a length is a length.
fn same_kind(
    left: Placed,
    right: Placed,
    at: Span,
    verb: &'static str,
    compute: fn(f64, f64) -> f64,
) -> Result<Value, Finding> {
    let as_length = |a: f64, b: f64| Value::Of(compute(a, b), Dimension::LENGTH);
    match (left.1, right.1) {
        (Value::Bare(a, of_a), Value::Bare(b, of_b)) if of_a == of_b => Ok(Value::Bare(compute(a, b), of_a)),
        (Value::Of(a, of_a), Value::Of(b, of_b)) if of_a == of_b => Ok(Value::Of(compute(a, b), of_a)),
        // A share beside a bare number: both are pure.
        (Value::Of(a, Dimension::NONE), Value::Bare(b, _)) | (Value::Bare(a, _), Value::Of(b, Dimension::NONE)) => {
            Ok(Value::Of(compute(a, b), Dimension::NONE))
        }
        (a, b) => match (a.length_mm(), b.length_mm()) {
            (Ok(a), Ok(b)) => Ok(as_length(a, b)),
            _ => Err(findings::unlike_kinds(at, verb, (left.0, a.words()), (right.0, b.words()))),
        },
    }
}

fn product(left: Placed, right: Placed, at: Span) -> Result<Value, Finding> {
    match (left.1, right.1) {
        (Value::Bare(a, of_a), Value::Bare(b, of_b)) => Ok(Value::Bare(a * b, of_a.join(of_b))),
        // A share of something stays that thing.
        (Value::Of(a, Dimension::NONE), other) | (other, Value::Of(a, Dimension::NONE)) => {
            Ok(other.with(a * other.number()))
        }
        (Value::Of(a, dimension), Value::Bare(b, _)) | (Value::Bare(b, _), Value::Of(a, dimension)) => {
            Ok(Value::Of(a * b, dimension))
        }
        (Value::Of(a, of_a), Value::Of(b, of_b)) => match of_a.times(of_b) {
            Some(dimension) => Ok(Value::Of(a * b, dimension)),
            None => Err(findings::no_number(at, "no such kind of quantity exists")),
        },
    }
}

fn quotient(left: Placed, right: Placed, at: Span) -> Result<Value, Finding> {
    let (a, b) = (left.1.number(), right.1.number());
    if b == 0.0 {
        return Err(findings::no_number(right.0, "nothing can be divided by zero"));
    }
    match (left.1, right.1) {
        (Value::Bare(_, of_a), Value::Bare(_, of_b)) => Ok(Value::Bare(a / b, of_a.join(of_b))),
        (value, Value::Of(_, Dimension::NONE) | Value::Bare(..)) => Ok(value.with(a / b)),
        (Value::Bare(..), Value::Of(_, of_b)) => ratio(a / b, Dimension::NONE.per(of_b), at),
        (Value::Of(_, of_a), Value::Of(_, of_b)) => ratio(a / b, of_a.per(of_b), at),
    }
}

fn ratio(number: f64, dimension: Option<Dimension>, at: Span) -> Result<Value, Finding> {
    dimension
        .map(|dimension| Value::Of(number, dimension))
        .ok_or_else(|| findings::no_number(at, "no such kind of quantity exists"))
}

fn call(name: Span, arguments: &[Expression], whole: Span, names: &dyn Names) -> Result<Value, Finding> {
    let word = names.text(name);
    let Some((_, wanted)) = FUNCTIONS.iter().find(|(function, _)| *function == word) else {
        return Err(findings::unknown_function(name, word, FUNCTIONS.iter().map(|(function, _)| *function)));
    };
    if arguments.len() != *wanted {
        return Err(findings::argument_count(whole, word, *wanted, arguments.len()));
    }
    let mut values = Vec::with_capacity(2);
    for argument in arguments {
        values.push((argument.span, evaluate(argument, names)?));
    }
    match (word, values.as_slice()) {
        ("min", [a, b]) => same_kind(*a, *b, whole, "compared", f64::min),
        ("max", [a, b]) => same_kind(*a, *b, whole, "compared", f64::max),
        ("abs", [(_, a)]) => Ok(a.with(a.number().abs())),
        ("sqrt", [(at, a)]) => root(*a, *at),
        ("sin", [(at, a)]) => of_angle(*a, *at, word, trig::sin),
        ("cos", [(at, a)]) => of_angle(*a, *at, word, trig::cos),
        ("tan", [(at, a)]) => of_angle(*a, *at, word, tangent),
        ("round-to", [(_, value), (at, step)]) if step.number() <= 0.0 => {
            Err(findings::no_number(*at, &format!("{} cannot be rounded to a step of zero or less", value.words())))
        }
        ("round-to", [a, b]) => same_kind(*a, *b, whole, "compared", |value, step| (value / step).round() * step),
        _ => Err(findings::argument_count(whole, word, *wanted, arguments.len())),
    }
}

fn root(value: Value, at: Span) -> Result<Value, Finding> {
    if value.number() < 0.0 {
        return Err(findings::no_number(at, "a negative number has no square root"));
    }
    let number = trig::sqrt(value.number());
    match value {
        Value::Bare(_, bare) => Ok(Value::Bare(number, bare)),
        Value::Of(_, dimension) => match dimension.root() {
            Some(dimension) => Ok(Value::Of(number, dimension)),
            None => Err(findings::no_root(at, dimension.words())),
        },
    }
}

fn of_angle(value: Value, at: Span, function: &str, compute: fn(f64) -> f64) -> Result<Value, Finding> {
    match value {
        Value::Of(degrees, Dimension::ANGLE) => Ok(Value::Of(compute(degrees.to_radians()), Dimension::NONE)),
        Value::Of(..) | Value::Bare(..) => Err(findings::wants_angle(at, function, value.words())),
    }
}

/// The tangent of a right angle is beyond all numbers; rounding must not hide that.
fn tangent(radians: f64) -> f64 {
    if trig::cos(radians).abs() < 1e-12 { f64::INFINITY } else { trig::tan(radians) }
}
