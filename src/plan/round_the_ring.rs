//! What lies where round a layer: segments, the strips between them, the gaps.

use crate::geometry::{BuiltLayer, LayerShape, RingShape};
use crate::quantity::{Angle, Length, trig};

/// Something with its place round a layer.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    /// From 0 among its kind; spacer and gap lie before the segment of the same number.
    pub index: usize,
    /// What it is.
    pub kind: PlaceKind,
    /// Where it begins, counterclockwise from above.
    pub start: Angle,
    /// How far it reaches.
    pub sweep: Angle,
}

/// What fills an angle of a layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlaceKind {
    /// A segment, or the whole of a layer of one piece.
    Wood {
        /// Index into the recipe's woods.
        wood: usize,
    },
    /// A strip on a joint, as wide as it is seen from the axis at the outside of the blank.
    Spacer {
        /// Index into the recipe's woods.
        wood: usize,
    },
    /// Nothing.
    Gap,
}

/// Everything round a layer, counterclockwise from its first joint; the places fill the circle.
#[must_use]
pub fn round_the_ring(layer: &BuiltLayer) -> Vec<Place> {
    match &layer.shape {
        LayerShape::Ring(ring) => ring_places(layer, ring),
        LayerShape::Disc { wood, .. } => whole(layer, *wood),
        LayerShape::Slant(slant) => whole(layer, slant.wood),
    }
}

fn whole(layer: &BuiltLayer, wood: usize) -> Vec<Place> {
    let (start, sweep) = (layer.rotation.normalized(), Angle::from_degrees(360.0));
    vec![Place { index: 0, kind: PlaceKind::Wood { wood }, start, sweep }]
}

fn ring_places(layer: &BuiltLayer, ring: &RingShape) -> Vec<Place> {
    let between = match (ring.spacer, ring.gap) {
        (Some(spacer), _) => {
            let sweep = seen(spacer.thickness.value, layer.blank_outer_radius.value);
            Some((PlaceKind::Spacer { wood: spacer.wood }, sweep, sweep))
        }
        // The segment's own sweep leaves the gap out already.
        (None, Some(gap)) => Some((PlaceKind::Gap, gap.value, Angle::ZERO)),
        (None, None) => None,
    };
    let mut places = Vec::with_capacity(ring.woods.len() * if between.is_some() { 2 } else { 1 });
    for (index, (wood, joint)) in ring.woods.iter().zip(joints(ring)).enumerate() {
        let of_cut = ring.cut(index).map_or(Angle::ZERO, |cut| cut.sweep);
        let at = |off: Angle| (layer.rotation + joint + off).normalized();
        let (mut start, mut sweep) = (at(Angle::ZERO), of_cut);
        if let Some((kind, width, taken)) = between {
            places.push(Place { index, kind, start: at(-(width / 2.0)), sweep: width });
            (start, sweep) = (at(width / 2.0), of_cut - taken);
        }
        places.push(Place { index, kind: PlaceKind::Wood { wood: *wood }, start, sweep });
    }
    places
}

/// The joints; those of like segments by multiplying, so that no error adds up round the ring.
#[allow(clippy::cast_precision_loss, reason = "rings have at most some thousand segments")]
fn joints(ring: &RingShape) -> Vec<Angle> {
    if !ring.cut_of.is_empty() {
        return ring.joints().collect();
    }
    let pitch = Angle::from_degrees(360.0) / ring.woods.len().max(1) as f64;
    (0..ring.woods.len()).map(|at| pitch * at as f64).collect()
}

/// The angle that a strip of such a thickness fills at a radius.
fn seen(thick: Length, radius: Length) -> Angle {
    if radius <= Length::ZERO {
        return Angle::ZERO;
    }
    Angle::from_degrees(2.0 * trig::atan2(thick.mm() / 2.0, radius.mm()).to_degrees())
}
