//! Recipe to vessel: curves, layers, radii, pieces. Knows no saw and no clamp.
//!
//! The outside becomes a [`Profile`], the inside its true offset; each layer takes the exact
//! extremes of both over its height, and from those the closed forms of [`ring`] give what is sawn.

mod assemble;
mod contacts;
mod findings;
pub mod fit;
pub mod insert;
mod fitted;
pub mod joints;
mod layers;
pub mod lid_joint;
pub mod mount;
mod offset;
mod pattern;
mod piece;
mod profile;
pub mod ring;
#[cfg(test)]
mod sample;
mod sawn;
pub mod season;
mod shape;
mod slanted;
mod smooth;
mod stack;
#[cfg(test)]
mod tests;
pub mod thread;
mod totals;
mod vessel;

use crate::finding::WithFindings;
use crate::resolve::Recipe;
use crate::workings::Ledger;

pub use fitted::{BuiltInsert, JamChuck, LidJoint, ThreadShape};
pub use offset::inside_of;
pub use profile::{Extremes, Profile, ProfilePoint};
pub use vessel::{
    BuiltLayer, Cone, Contact, LayerShape, PlugShape, RingSet, RingShape, SegmentCut, SlantShape, SpacerShape,
    StaveShape, TurnedPart, Vessel,
};

/// The geometry of a recipe; `None` only when its outside is no shape at all, which is then an error
/// among the findings.
#[must_use]
pub fn build(recipe: &Recipe, ledger: &mut Ledger) -> WithFindings<Option<Vessel>> {
    let mut findings = Vec::new();
    let value = shape::shape(recipe, ledger, &mut findings).map(|shape| {
        let layers = layers::layers(recipe, &shape, ledger, &mut findings);
        stack::check(recipe, &layers, shape.height.value, &mut findings);
        let contacts = contacts::contacts(recipe, &layers, &mut findings);
        let totals = totals::totals(recipe, &shape, ledger);
        Vessel {
            outside: shape.outside,
            inside: shape.inside,
            cavity_bottom: shape.cavity_bottom,
            cavity_top: shape.cavity_top,
            bodies: Vec::new(),
            layers,
            contacts,
            cones: Vec::new(),
            joint: None,
            inserts: Vec::new(),
            height: shape.height,
            max_diameter: totals.max_diameter,
            capacity: totals.capacity,
            finish_area: totals.finish_area,
        }
    });
    WithFindings { value, findings }
}
