//! The geometry's result: every layer's place, radii and pieces, and the totals.

use crate::quantity::{Angle, Area, Length, Volume};
use crate::resolve::PartKind;
use crate::workings::Known;

use super::Profile;

/// A vessel with all its geometry.
#[derive(Debug, Clone)]
pub struct Vessel {
    /// The outside curve.
    pub outside: Profile,
    /// The inside curve: the true offset of the outside, between floor and mouth (or top).
    pub inside: Profile,
    /// Where the cavity begins.
    pub cavity_bottom: Known<Length>,
    /// Where the cavity ends: under the top, or the rim.
    pub cavity_top: Known<Length>,
    /// Every layer, bench upward, body before lid.
    pub layers: Vec<BuiltLayer>,
    /// Between each layer and the next; one fewer than layers.
    pub contacts: Vec<Contact>,
    /// Over all.
    pub height: Known<Length>,
    /// Twice the largest outside radius.
    pub max_diameter: Known<Length>,
    /// Of the cavity, brim full.
    pub capacity: Known<Volume>,
    /// All surface that finish goes on: outside, inside, foot, floor, rim.
    pub finish_area: Known<Area>,
}

/// One layer with its numbers.
#[derive(Debug, Clone)]
pub struct BuiltLayer {
    /// Stable: `body.ring-3`, or `body.band` when the recipe names it.
    pub id: String,
    /// Its stack.
    pub part: PartKind,
    /// From 1 within its stack.
    pub index: usize,
    /// Lower face.
    pub z0: Known<Length>,
    /// Upper face.
    pub z1: Known<Length>,
    /// Thickness before flattening.
    pub rough_thickness: Known<Length>,
    /// Greatest finished outside radius over its height.
    pub outer_radius: Known<Length>,
    /// Least finished inside radius over its height; 0 when solid.
    pub inner_radius: Known<Length>,
    /// With turning allowance.
    pub blank_outer_radius: Known<Length>,
    /// With turning allowance; 0 when solid.
    pub blank_inner_radius: Known<Length>,
    /// Where its first joint lies, seen from above, counterclockwise.
    pub rotation: Angle,
    /// Wood left after turning.
    pub finished_volume: Known<Volume>,
    /// Wood of the glued blank, at rough thickness.
    pub blank_volume: Known<Volume>,
    /// Glued joints within the layer, as glued, all together.
    pub joint_area: Known<Area>,
    /// What it is made of.
    pub shape: LayerShape,
}

/// What a layer is made of.
#[derive(Debug, Clone)]
#[allow(clippy::large_enum_variant, reason = "nearly every layer is a ring")]
pub enum LayerShape {
    /// Segments.
    Ring(RingShape),
    /// One round of this wood (index into the recipe's woods), sawn to the blank's diameter.
    Disc {
        /// Index into the recipe's woods.
        wood: usize,
        /// Of the round to saw.
        blank_diameter: Known<Length>,
    },
}

/// The segments of a ring, as sawn.
#[derive(Debug, Clone)]
pub struct RingShape {
    /// Off a square cut.
    pub miter: Known<Angle>,
    /// Of the strip to rip: the one given, or the one needed.
    pub strip_width: Known<Length>,
    /// The least that covers wall and allowance.
    pub needed_width: Known<Length>,
    /// Outside edge of a segment.
    pub long_edge: Known<Length>,
    /// Inside edge of a segment.
    pub short_edge: Known<Length>,
    /// Circle through the outer corners: what swings over the bed.
    pub corner_radius: Known<Length>,
    /// The wood of each segment, counterclockwise from the rotation; indexes into the recipe's woods.
    pub woods: Vec<usize>,
}

/// The glue face between a layer and the next one up.
#[derive(Debug, Clone, Copy)]
pub struct Contact {
    /// Height of the face.
    pub z: Length,
    /// Least of the two blanks' outer flats.
    pub outer_radius: Length,
    /// Greatest of the two blanks' hole corners; 0 for two solids.
    pub inner_radius: Length,
    /// As glued; 0 when the blanks do not touch.
    pub area: Area,
    /// Whether body and lid meet here, where no glue goes.
    pub is_opening: bool,
}
