//! Syntax tree to resolved recipe: names bound, `use` followed, every value with a dimension, a
//! place and an origin. Knows no geometry.

mod recipe;

use crate::finding::Finding;
use crate::source::{FileId, World};

pub use recipe::{
    Expectation, Layer, LayerKind, Outside, OutsideKind, OutsidePoint, Part, PartKind, Pattern, Recipe, RecipeGlue,
    RecipeWood, Ring, Shop, Stagger, Subject,
};

/// Most woods that a motif may name, counts and groups written out.
pub const MOTIF_LIMIT: usize = 10_000;

/// What resolving a file gave.
#[derive(Debug)]
pub struct Resolved {
    /// The recipe; `None` when something it cannot do without is missing or wrong.
    pub recipe: Option<Recipe>,
    /// Whether the file has no vessel but only what other files use; such a file is complete.
    pub is_library: bool,
    /// All that is to be said.
    pub findings: Vec<Finding>,
}

/// Resolves the file `root` and all it uses.
#[must_use]
pub fn resolve(_world: &dyn World, _root: FileId) -> Resolved {
    Resolved { recipe: None, is_library: false, findings: Vec::new() }
}
