//! Recipe to vessel: curves, layers, radii, pieces. Knows no saw and no clamp.

mod vessel;

use crate::finding::WithFindings;
use crate::quantity::Length;
use crate::resolve::Recipe;
use crate::workings::Ledger;

pub use vessel::{BuiltLayer, Contact, LayerShape, RingShape, Vessel};

/// A curve in the half plane of radius and height, each a function of the other's run. (stub)
#[derive(Debug, Clone)]
pub struct Profile {}

impl Profile {
    /// The radius at a height. (stub)
    #[must_use]
    pub fn radius(&self, _height: Length) -> Length {
        Length::ZERO
    }
}

/// The geometry of a recipe; `None` when its shape has no inside at all.
#[must_use]
pub fn build(_recipe: &Recipe, _ledger: &mut Ledger) -> WithFindings<Option<Vessel>> {
    WithFindings { value: None, findings: Vec::new() }
}
