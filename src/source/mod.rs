//! Texts and places in them. Knows characters, nothing of recipes.

mod line_index;
mod span;
mod world;

pub use line_index::{Columns, LineIndex};
pub use span::{FileId, Span, Spanned};
pub use world::{MapWorld, SourceFile, UseError, World};
