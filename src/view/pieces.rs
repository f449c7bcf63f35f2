//! Round a layer: which piece spans which share of the circle.

use crate::geometry::board::{Ply, flattened, thickness};
use crate::geometry::{BuiltLayer, LayerShape, RingSet};
use crate::quantity::{Length, trig};
use crate::resolve::Recipe;

use super::bands::Band;
use super::solid::PieceOf;

/// A side of a piece: a plane along the axis, or beside it where a strip stands between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Side {
    /// Counterclockwise seen from above, from x.
    pub angle: f64,
    /// From the plane through the axis, millimeters counterclockwise.
    pub beside: f64,
}

impl Side {
    /// Where it crosses a circle about the axis, in degrees.
    #[must_use]
    pub fn at(self, radius: f64) -> f64 {
        if self.beside == 0.0 {
            return self.angle;
        }
        self.angle + trig::asin(self.beside / radius.max(1e-9)).to_degrees()
    }
}

/// A piece and what it spans.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Which.
    pub is: PieceOf,
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Where it begins and ends; `None` all round.
    pub sides: Option<(Side, Side)>,
}

/// The pieces of a layer counterclockwise, each segment behind the strip on its joint; a plug last.
#[must_use]
pub fn pieces(at: usize, layer: &BuiltLayer) -> Vec<Span> {
    let ring = match &layer.shape {
        LayerShape::Disc { wood, .. } => {
            return vec![Span { is: PieceOf::Whole { layer: at }, wood: *wood, sides: None }];
        }
        LayerShape::Slant(slant) => {
            return vec![Span { is: PieceOf::Whole { layer: at }, wood: slant.wood, sides: None }];
        }
        LayerShape::Ring(ring) => ring,
    };
    let strip = ring.spacer.map_or(0.0, |spacer| spacer.thickness.value.mm());
    let gap = ring.gap.map_or(0.0, |gap| gap.value.degrees());
    let joints: Vec<f64> = ring.joints().map(|joint| (layer.rotation + joint).degrees()).collect();
    let first = joints.first().copied().unwrap_or(0.0);
    let mut pieces = Vec::with_capacity(joints.len() * 2);
    for (segment, (joint, wood)) in joints.iter().zip(&ring.woods).enumerate() {
        let next = joints.get(segment + 1).copied().unwrap_or(first + 360.0);
        let side = |angle: f64, way: f64| Side { angle: angle + way * gap / 2.0, beside: way * strip / 2.0 };
        if let Some(spacer) = ring.spacer {
            let sides = Some((side(*joint, -1.0), side(*joint, 1.0)));
            pieces.push(Span { is: PieceOf::Spacer { layer: at, segment }, wood: spacer.wood, sides });
        }
        let sides = Some((side(*joint, 1.0), side(next, -1.0)));
        pieces.push(Span { is: PieceOf::Segment { layer: at, segment }, wood: *wood, sides });
    }
    if let RingSet::ToMiddle { plug: Some(plug) } = ring.set {
        pieces.push(Span { is: PieceOf::Plug { layer: at }, wood: plug.wood, sides: None });
    }
    pieces
}

/// Radius of the plug over the points of wedges, millimeters; 0 where there is none.
#[must_use]
pub fn plug_radius(layer: &BuiltLayer) -> f64 {
    match &layer.shape {
        LayerShape::Ring(ring) => match ring.set {
            RingSet::ToMiddle { plug: Some(plug) } => plug.diameter.value.mm() / 2.0,
            RingSet::ToMiddle { plug: None } | RingSet::Round | RingSet::Upright(_) => 0.0,
        },
        LayerShape::Disc { .. } | LayerShape::Slant(_) => 0.0,
    }
}

/// The plain woods of a piece over a band's height, upward: one, or the plies of a laminated board.
#[must_use]
pub fn woods(recipe: &Recipe, layer: &BuiltLayer, band: &Band<'_>, wood: usize) -> Vec<(usize, Length, Length)> {
    let Some(board) = recipe.woods.get(wood).and_then(|used| used.board()) else {
        return vec![(wood, band.from, band.to)];
    };
    let plies: Vec<Ply> = board.plies.iter().map(|ply| Ply { wood: ply.wood, thickness: ply.thick.value }).collect();
    // Both faces are flattened alike.
    let lost = ((thickness(&plies) - (layer.z1.value - layer.z0.value)) / 2.0).max(Length::ZERO);
    let floor = layer.z0.value - band.raise;
    let held = |z: Length| (floor + z).max(band.from).min(band.to);
    let left = flattened(&plies, lost, lost);
    let last = left.len().saturating_sub(1);
    let within = left.iter().enumerate().map(|(at, ply)| {
        // What rounding leaves over belongs to the uppermost.
        (ply.wood, held(ply.bottom), if at == last { band.to } else { held(ply.top) })
    });
    within.filter(|(_, from, to)| to > from).collect()
}
