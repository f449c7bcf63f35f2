//! Recipe to vessel: curves, layers, radii, pieces. Knows no saw and no clamp.

pub mod joints;
mod offset;
mod piece;
mod profile;
pub mod ring;
mod smooth;
mod vessel;

use crate::finding::WithFindings;
use crate::resolve::Recipe;
use crate::workings::Ledger;

pub use offset::inside_of;
pub use profile::{Extremes, Profile, ProfilePoint};
pub use vessel::{BuiltLayer, Contact, LayerShape, RingShape, Vessel};

/// The geometry of a recipe; `None` when its shape has no inside at all.
#[must_use]
pub fn build(_recipe: &Recipe, _ledger: &mut Ledger) -> WithFindings<Option<Vessel>> {
    WithFindings { value: None, findings: Vec::new() }
}
