//! Text to syntax tree. Knows characters and the shape of statements; no word but `let` has a meaning here.
//!
//! `grammar/vessel.pest` is the language, read by pest one statement at a time ([`parse`](parse())).
//! A stretch that pest refuses costs one finding and one [`Broken`] node; `slips` knows the usual
//! reasons, `rule_names` words the unusual ones.

mod again;
mod arithmetic;
mod comments;
mod convert;
mod depth;
mod expression;
mod findings;
mod grammar;
mod look_alike;
mod parse;
mod rule_names;
mod scan;
mod slips;
#[cfg(test)]
mod tests;
mod tree;

pub use again::Trees;
pub use comments::{comments, removal};
pub use expression::{BinaryOperator, Expression, ExpressionKind};
pub use parse::parse;
pub use slips::{stray_division, stray_equals};
pub use tree::{Block, Broken, Comparator, Element, Item, ItemKind, Literal, Node, Statement, Times, Tree};
