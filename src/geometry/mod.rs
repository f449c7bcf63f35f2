//! Recipe to vessel: curves, layers, radii, pieces. Knows no saw and no clamp.
//!
//! The outside becomes a [`Profile`], the inside its true offset; each layer takes the exact
//! extremes of both over its height, and from those the closed forms of [`ring`] give what is sawn.

mod arc;
mod assemble;
pub mod board;
mod contacts;
mod cutting;
mod detail;
mod findings;
pub mod fit;
mod fitted;
pub mod insert;
mod insert_checks;
mod insert_findings;
mod inserts;
mod inside;
pub mod joints;
mod layers;
mod leaning;
mod lid;
mod lid_check;
mod lid_findings;
pub mod lid_joint;
pub mod mount;
mod offset;
pub mod open;
mod outline;
mod outline_findings;
mod parts;
mod path;
mod pattern;
mod piece;
mod profile;
pub mod ring;
mod ring_findings;
#[cfg(test)]
mod sample;
mod sawn;
pub mod season;
mod season_check;
mod shape;
pub mod shares;
pub mod slant;
mod slanted;
mod smooth;
pub mod spacer;
mod stack;
pub mod stave;
mod stuff;
mod taper;
#[cfg(test)]
mod tests;
pub mod thread;
mod totals;
mod upright;
mod vessel;
pub mod wedge;

use crate::finding::WithFindings;
use crate::resolve::Recipe;
use crate::workings::Ledger;

pub use fitted::{BuiltInsert, JamChuck, LidJoint, Seasons, ThreadShape};
pub use offset::{inside_of, inside_tapered};
pub use profile::{Extremes, Profile, ProfilePoint};
pub use vessel::{
    BuiltLayer, Cone, Contact, LayerShape, Parting, PlugShape, RingSet, RingShape, SegmentCut, SlantShape, Slice,
    SpacerShape, StaveShape, StuffShare, TurnedPart, Vessel,
};

/// The geometry of a recipe; `None` only when its outside is no shape at all, or its lid's joint or parting has no
/// room, so that no height is known; that is then an error among the findings.
#[must_use]
pub fn build(recipe: &Recipe, ledger: &mut Ledger) -> WithFindings<Option<Vessel>> {
    let mut findings = Vec::new();
    let mut value = shape::shape(recipe, ledger, &mut findings).and_then(|shape| {
        let mut parts = parts::parts(recipe, &shape, ledger, &mut findings)?;
        let (layers, cones) = layers::layers(recipe, &shape, &parts, ledger, &mut findings);
        stack::check(recipe, &layers, parts.stack_height.value, &mut findings);
        lid_check::check(recipe, &shape, &parts, &layers, &mut findings);
        let parting = lid_check::parting(recipe, &parts, &layers, &mut findings);
        if let Some(joint) = &mut parts.joint {
            joint.seasons = season_check::seasons(recipe, joint, &layers, ledger, &mut findings);
        }
        let contacts = contacts::contacts(recipe, &layers, &mut findings);
        let totals = totals::totals(&shape, &parts, ledger);
        Some(Vessel {
            outside: shape.outside,
            inside: shape.inside,
            cavity_bottom: shape.cavity_bottom,
            cavity_top: shape.cavity_top,
            bodies: parts.bodies,
            layers,
            contacts,
            cones,
            parting,
            joint: parts.joint,
            inserts: Vec::new(),
            height: shape.height,
            max_diameter: totals.max_diameter,
            capacity: totals.capacity,
            finish_area: totals.finish_area,
        })
    });
    if let Some(vessel) = &mut value {
        vessel.inserts = inserts::inserts(recipe, vessel, ledger, &mut findings);
    }
    WithFindings { value, findings }
}
