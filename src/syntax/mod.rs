//! Text to syntax tree. Knows characters and the shape of statements; no word has a meaning here.

mod expression;
mod parse;
mod tree;

pub use expression::{BinaryOperator, Expression, ExpressionKind};
pub use parse::parse;
pub use tree::{Block, Broken, Comparator, Element, Item, ItemKind, Literal, Node, Statement, Times, Tree};
