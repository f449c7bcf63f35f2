//! Texts and places in them. Knows characters, nothing of recipes.

mod line_index;
mod platform;
mod span;
mod world;

pub use line_index::{Columns, LineIndex};
pub use platform::Platform;
pub use span::{FileId, Span, Spanned};
pub use world::{MapWorld, SourceFile, UseError, World};
