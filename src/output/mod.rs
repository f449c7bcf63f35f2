//! Plan to documents: words, tables, JSON. Computes nothing; rounding is printing alone.

use crate::compile::Complete;
use crate::source::World;

/// One file of a build.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// Its name in the output folder.
    pub name: &'static str,
    /// All of it.
    pub bytes: Vec<u8>,
}

/// Every document of a design, in the order of their names. (stub)
#[must_use]
pub fn documents(_design: &Complete<'_>, _world: &dyn World) -> Vec<Document> {
    Vec::new()
}

/// What the terminal shows of a build. (stub)
#[must_use]
pub fn summary(_design: &Complete<'_>) -> String {
    String::new()
}

/// The JSON Schema (draft 2020-12) of `design.json`, with a final line end. (stub)
#[must_use]
pub fn schema() -> String {
    String::new()
}
