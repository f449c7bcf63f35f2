//! What an editor asks of a recipe: what a word means, what may stand at a place, where a name is defined, what a layer
//! comes to. Pure functions over texts, trees and designs; knows no protocol and changes nothing.
//!
//! All words come from the vocabulary and the tables, and lines are split by the resolver's own code: a new word is
//! explained, completed and colored without a line here.

pub mod colors;
pub mod completion;
mod cursor;
pub mod folding;
pub mod hover;
pub mod names;
pub mod numbers;
pub mod reading;
pub mod signature;
pub mod symbols;
pub mod tokens;
mod words;

pub use reading::{Definition, Kind, Mark, Reading, Role};
