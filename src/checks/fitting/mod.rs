//! What is fitted where a ring has gaps or a lid closes over it.

mod insert_open;
mod joint_open;
mod liner;

use crate::geometry::{BuiltLayer, LayerShape};
use crate::quantity::{Angle, Length};
use crate::resolve::PartKind;

use super::Check;

/// Every check of lid joints and inserts.
pub(super) static CHECKS: &[Check] = &[joint_open::CHECK, insert_open::CHECK, liner::CHECK];

/// Two heights that summing thicknesses left apart are one.
const HAIR: Length = Length::from_mm(1e-3);

/// The gap of a ring that has open joints.
fn gap(layer: &BuiltLayer) -> Option<Angle> {
    match &layer.shape {
        LayerShape::Ring(ring) => ring.gap.map(|gap| gap.value),
        LayerShape::Disc { .. } | LayerShape::Slant(_) => None,
    }
}

/// Whether some of a layer becomes that part between two heights of the closed vessel.
fn lies_within(layer: &BuiltLayer, part: PartKind, from: Length, to: Length) -> bool {
    let of_part = layer.slices.iter().filter(|slice| slice.part == part);
    of_part
        .map(|slice| (slice.from - slice.raise, slice.to - slice.raise))
        .any(|(low, high)| low < to - HAIR && high > from + HAIR)
}
