//! The geometry's result: every layer's place, radii and pieces, and the totals.

use crate::quantity::{Angle, Area, Count, Length, Volume};
use crate::resolve::PartKind;
use crate::workings::{Known, Origin};

use super::Profile;
use super::fitted::{BuiltInsert, LidJoint};

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
    /// What each part becomes on its own, body before lid; more than [`Self::outside`] says where a
    /// tenon stands in a mortise. Two even where one stack is parted.
    pub bodies: Vec<TurnedPart>,
    /// Every layer, bench upward, body before lid.
    pub layers: Vec<BuiltLayer>,
    /// Between each layer and the next; one fewer than layers.
    pub contacts: Vec<Contact>,
    /// The boards that cones are sawn from, in the order of the recipe.
    pub cones: Vec<Cone>,
    /// Where one stack is sawn apart into body and lid.
    pub parting: Option<Parting>,
    /// How lid and body meet.
    pub joint: Option<LidJoint>,
    /// What is let in, in the order of the recipe.
    pub inserts: Vec<BuiltInsert>,
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
    /// What becomes of it: all of it one part, or where a stack is parted some of it the body and some the lid.
    pub slices: Vec<Slice>,
    /// Lower face; of a lid's own stack, as it lies on the closed vessel.
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
    /// Its wood, one entry for each kind of stuff: segments by wood, then spacers, then the plug. A wood
    /// may be among them twice. Laminated boards count as one stuff.
    pub shares: Vec<StuffShare>,
    /// What it is made of.
    pub shape: LayerShape,
}

/// What one kind of stuff takes of a layer.
#[derive(Debug, Clone, Copy)]
pub struct StuffShare {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// How many pieces of it.
    pub pieces: Count,
    /// Left after turning.
    pub finished: Known<Volume>,
    /// In the glued blank.
    pub blank: Known<Volume>,
}

/// A stretch of a layer that becomes part of the vessel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slice {
    /// Which part.
    pub part: PartKind,
    /// From this height of its stack.
    pub from: Length,
    /// To this one.
    pub to: Length,
    /// How much higher it lies in the stack than on the closed vessel.
    pub raise: Length,
}

/// Where one stack is sawn apart.
#[derive(Debug, Clone, Copy)]
pub struct Parting {
    /// Where the line shows on the closed vessel.
    pub line: Known<Length>,
    /// Lower edge of the cut, in the stack.
    pub cut: Known<Length>,
    /// Width of the cut.
    pub kerf: Known<Length>,
    /// Of the stack, between what shows of the body and what shows of the lid.
    pub lost: Known<Length>,
    /// The stack, over all.
    pub stack: Known<Length>,
    /// The layer that shows under the line (index into the vessel's layers).
    pub under: usize,
    /// The layer that shows over it.
    pub over: usize,
}

impl BuiltLayer {
    /// Across the circle that the glued blank sweeps before it is turned: what has to clear the bed.
    #[must_use]
    pub fn swing(&self) -> Length {
        match &self.shape {
            LayerShape::Ring(ring) => ring.corner_radius.value * 2.0,
            LayerShape::Disc { blank_diameter, .. } => blank_diameter.value,
            LayerShape::Slant(ring) => ring.outer_at_z0.value.max(ring.outer_at_z1.value) * 2.0,
        }
    }
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
        /// Whether it is a sheet, used as it comes.
        is_sheet: bool,
    },
    /// One ring of a cone.
    Slant(SlantShape),
}

impl LayerShape {
    /// `ring`, `wedges`, `staves`, `disc`, `sheet` or `cone`.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Ring(ring) => match ring.set {
                RingSet::Round => "ring",
                RingSet::ToMiddle { .. } => "wedges",
                RingSet::Upright(_) => "staves",
            },
            Self::Disc { is_sheet: false, .. } => "disc",
            Self::Disc { is_sheet: true, .. } => "sheet",
            Self::Slant(_) => "cone",
        }
    }
}

/// The segments of a ring, as sawn. One strip serves them all; unlike shares differ in their cuts.
#[derive(Debug, Clone)]
pub struct RingShape {
    /// How its pieces are set.
    pub set: RingSet,
    /// Every kind of piece; a ring of equal segments has one.
    pub cuts: Vec<SegmentCut>,
    /// Which of `cuts` each segment is, beside `woods`; empty when there is only one.
    pub cut_of: Vec<usize>,
    /// The wood of each segment, counterclockwise from the rotation; indexes into the recipe's woods.
    pub woods: Vec<usize>,
    /// Of the strip to rip (of staves: the board's thickness, which is radial): the one given, or the one needed.
    pub strip_width: Known<Length>,
    /// The least that covers wall and allowance.
    pub needed_width: Known<Length>,
    /// Circle through the outer corners: what swings over the bed.
    pub corner_radius: Known<Length>,
    /// How far the blank's hole reaches from the axis: its farthest corners. 0 when wedges meet.
    pub hole_radius: Length,
    /// Strips on the joints.
    pub spacer: Option<SpacerShape>,
    /// Of each open joint, seen from the axis.
    pub gap: Option<Known<Angle>>,
}

/// How the pieces of a ring are set.
#[derive(Debug, Clone, Copy)]
pub enum RingSet {
    /// Flat, round a hole.
    Round,
    /// Flat, meeting in the middle.
    ToMiddle {
        /// The round over their points.
        plug: Option<PlugShape>,
    },
    /// On end.
    Upright(StaveShape),
}

/// One kind of piece in a ring.
#[derive(Debug, Clone, Copy)]
pub struct SegmentCut {
    /// Of the ring, from joint to joint (with open joints: what the wood fills).
    pub sweep: Angle,
    /// The miter gauge, off a square cut. Of an upright stave 0, of a leaning one its taper to each side.
    pub miter: Known<Angle>,
    /// Tilt of the blade from square to the face; 0 for flat segments.
    pub bevel: Known<Angle>,
    /// Outside edge, on the face; of staves the wider end.
    pub long_edge: Known<Length>,
    /// Inside edge of a segment; of staves the outside width of the narrower end.
    pub short_edge: Known<Length>,
}

/// What staves have besides.
#[derive(Debug, Clone, Copy)]
pub struct StaveShape {
    /// From upright, outward positive.
    pub lean: Known<Angle>,
    /// Of the board each is sawn from, along the grain, both ends cut level afterwards.
    pub length: Known<Length>,
    /// Distance of the outer faces from the axis, at the lower face of the flattened layer.
    pub outer_at_z0: Known<Length>,
    /// The same at its upper face.
    pub outer_at_z1: Known<Length>,
    /// Of the blank's wall, level.
    pub level_wall: Known<Length>,
}

/// The strips on the joints of a ring.
#[derive(Debug, Clone, Copy)]
pub struct SpacerShape {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Of each.
    pub thickness: Known<Length>,
    /// Radially, as sawn.
    pub length: Known<Length>,
}

/// The round over the points of wedges.
#[derive(Debug, Clone, Copy)]
pub struct PlugShape {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Of hole and plug.
    pub diameter: Known<Length>,
}

/// One ring of a cone, as sawn from its flat board. Radii are of its slanting faces' edges.
#[derive(Debug, Clone, Copy)]
pub struct SlantShape {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Index into [`Vessel::cones`].
    pub cone: usize,
    /// Outside, at the lower face.
    pub outer_at_z0: Known<Length>,
    /// Outside, at the upper face.
    pub outer_at_z1: Known<Length>,
    /// Level width of its face.
    pub width: Known<Length>,
}

/// A flat board and the slanting cuts that make a stack of rings of it.
#[derive(Debug, Clone)]
pub struct Cone {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Its layers in [`Vessel::layers`].
    pub layers: std::ops::Range<usize>,
    /// Of the cuts, from upright.
    pub angle: Known<Angle>,
    /// From one ring to the next, level.
    pub pitch: Known<Length>,
    /// Level width of a ring's face.
    pub width: Known<Length>,
    /// Across the round board that all rings come from.
    pub board_diameter: Known<Length>,
    /// Of that board, before flattening.
    pub board_thickness: Known<Length>,
}

/// A part as it leaves the lathe.
#[derive(Debug, Clone)]
pub struct TurnedPart {
    /// Which.
    pub part: PartKind,
    /// Its outside, with its tenon if it has one; heights are those of the closed vessel.
    pub outside: Profile,
    /// Its inside, with its mortise if it has one.
    pub inside: Profile,
}

impl RingShape {
    /// How many segments there are.
    #[must_use]
    pub fn count(&self) -> Known<Count> {
        let count = Count(u32::try_from(self.woods.len()).unwrap_or(u32::MAX));
        Known::new(count, Origin::Default(&"counted round the ring"))
    }

    /// The cut of a segment.
    #[must_use]
    pub fn cut(&self, segment: usize) -> Option<&SegmentCut> {
        self.cuts.get(self.cut_of.get(segment).copied().unwrap_or(0))
    }

    /// The widest kind of piece: its half sweep decides how wide the strip must be.
    #[must_use]
    pub fn widest(&self) -> Option<&SegmentCut> {
        self.cuts.iter().max_by(|a, b| a.sweep.degrees().total_cmp(&b.sweep.degrees()))
    }

    /// Of each joint, in degrees counterclockwise from the rotation, the first at 0: its middle, where
    /// it is open or has a spacer.
    pub fn joints(&self) -> impl Iterator<Item = Angle> {
        let gap = self.gap.map_or(Angle::ZERO, |gap| gap.value);
        (0..self.woods.len()).scan(Angle::ZERO, move |at, segment| {
            let here = *at;
            *at = here + self.cut(segment).map_or(Angle::ZERO, |cut| cut.sweep) + gap;
            Some(here)
        })
    }
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
