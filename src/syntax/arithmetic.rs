//! The flat run of operands and operators that the grammar gives, to the tree of which binds first:
//! a sign, then `*` and `/`, then `+` and `-`, then comparisons; equals from the left.

use pest::iterators::Pairs;

use crate::source::Span;

use super::convert::{Converted, Converter, comparator, literal};
use super::grammar::Rule;
use super::{BinaryOperator, Comparator, Expression, ExpressionKind, findings};

/// Most operators and signs in one expression, so that its tree can be walked by recursion.
pub(super) const MOST_OPERATORS: usize = 256;

/// An operator between two operands.
#[derive(Debug, Clone, Copy)]
enum Operator {
    Binary(BinaryOperator),
    Compare(Comparator),
}

impl Operator {
    fn read(sign: &str) -> Self {
        match sign {
            "+" => Self::Binary(BinaryOperator::Add),
            "-" => Self::Binary(BinaryOperator::Subtract),
            "*" => Self::Binary(BinaryOperator::Multiply),
            "/" => Self::Binary(BinaryOperator::Divide),
            other => Self::Compare(comparator(other).unwrap_or(Comparator::Equal)),
        }
    }

    /// The higher, the sooner it takes its operands.
    fn strength(self) -> u8 {
        match self {
            Self::Compare(_) => 0,
            Self::Binary(BinaryOperator::Add | BinaryOperator::Subtract) => 1,
            Self::Binary(BinaryOperator::Multiply | BinaryOperator::Divide) => 2,
        }
    }
}

/// An expression as far as it has been read.
#[derive(Default)]
struct Reading {
    done: Vec<Expression>,
    waiting: Vec<(Operator, Span)>,
    signs: Vec<Span>,
}

impl Reading {
    /// Takes an operand, with the signs before it.
    fn operand(&mut self, mut operand: Expression) {
        while let Some(sign) = self.signs.pop() {
            operand = Expression { span: sign.to(operand.span), kind: ExpressionKind::Negate(Box::new(operand)) };
        }
        self.done.push(operand);
    }

    /// Lets every waiting operator that binds at least as strongly take its operands.
    fn settle(&mut self, strength: u8) {
        while let Some((operator, place)) = self.waiting.pop_if(|(operator, _)| operator.strength() >= strength) {
            let (Some(right), Some(left)) = (self.done.pop(), self.done.pop()) else { return };
            let span = left.span.to(right.span);
            let (left, right) = (Box::new(left), Box::new(right));
            let kind = match operator {
                Operator::Binary(operator) => ExpressionKind::Binary(operator, place, left, right),
                Operator::Compare(comparator) => ExpressionKind::Compare(comparator, place, left, right),
            };
            self.done.push(Expression { span, kind });
        }
    }
}

impl Converter<'_> {
    /// The expression that `pairs` make; `around` is the place of what holds it.
    ///
    /// # Errors
    /// The finding of a number that cannot be, or of more than [`MOST_OPERATORS`] operators.
    pub(super) fn expression(&mut self, pairs: Pairs<'_, Rule>, around: Span) -> Converted<Expression> {
        let mut reading = Reading::default();
        let mut pairs = pairs.peekable();
        while let Some(pair) = pairs.next() {
            let (rule, span) = (pair.as_rule(), self.span(&pair));
            if rule == Rule::comment {
                self.comments.push(span);
            } else if rule == Rule::minus {
                self.count_operator(around)?;
                reading.signs.push(span);
            } else if rule == Rule::operator {
                self.count_operator(around)?;
                let operator = Operator::read(pair.as_str());
                reading.settle(operator.strength());
                reading.waiting.push((operator, span));
            } else if rule == Rule::word {
                let given = pairs.next_if(|next| next.as_rule() == Rule::arguments);
                reading.operand(match given {
                    None => Expression { span, kind: ExpressionKind::Name },
                    Some(given) => {
                        let place = self.span(&given);
                        let arguments = self.arguments(given.into_inner())?;
                        Expression { span: span.to(place), kind: ExpressionKind::Call(span, arguments) }
                    }
                });
            } else if rule == Rule::quantity {
                let kind = ExpressionKind::Quantity(literal(pair.as_str(), span)?);
                reading.operand(Expression { span, kind });
            } else {
                let inner = self.expression(pair.into_inner(), around)?;
                reading.operand(Expression { span, kind: ExpressionKind::Parenthesized(Box::new(inner)) });
            }
        }
        reading.settle(0);
        // The grammar never gives an expression without an operand.
        reading.done.pop().ok_or_else(|| Box::new(findings::unreadable(around, "nothing to compute stands here")))
    }

    fn arguments(&mut self, pairs: Pairs<'_, Rule>) -> Converted<Vec<Expression>> {
        let mut arguments = Vec::with_capacity(pairs.len());
        for pair in pairs {
            let (rule, span) = (pair.as_rule(), self.span(&pair));
            if rule == Rule::comment {
                self.comments.push(span);
            } else {
                arguments.push(self.expression(pair.into_inner(), span)?);
            }
        }
        Ok(arguments)
    }

    fn count_operator(&mut self, around: Span) -> Converted<()> {
        self.operators += 1;
        if self.operators > MOST_OPERATORS {
            return Err(Box::new(findings::too_many_operators(around, MOST_OPERATORS)));
        }
        Ok(())
    }
}
