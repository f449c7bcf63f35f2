//! Boards that cones are sawn from: where each ring is drawn on the board's wide face.

use crate::geometry::{Cone, LayerShape, Vessel, slant};
use crate::quantity::{Angle, Count, Length, Volume};
use crate::resolve::Recipe;
use crate::workings::{Formula, Known, Ledger, Origin};

/// A flat board and the rings that are sawn from it.
#[derive(Debug, Clone)]
pub struct ConeRow {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Across the round, or along the side of the square, that is needed.
    pub diameter: Known<Length>,
    /// Before flattening.
    pub thickness: Known<Length>,
    /// Of every cut, from upright.
    pub angle: Known<Angle>,
    /// Whether the cone widens upward, and its rings stand as they lay on the board.
    pub is_wide_face_up: bool,
    /// In the order of sawing, outside in.
    pub rings: Vec<ConeRing>,
    /// Of the square board.
    pub volume: Known<Volume>,
}

/// A ring as it is drawn on that face of the board on which it is wider.
#[derive(Debug, Clone, Copy)]
pub struct ConeRing {
    /// Index into the vessel's layers.
    pub layer: usize,
    /// Radius of its outer edge.
    pub outer: Known<Length>,
    /// Radius of its inner edge.
    pub inner: Known<Length>,
}

static LARGEST: Formula = Formula {
    gives: "outer radius of the first ring on the board",
    words: "board diameter / 2 − kerf / cos(slant)",
    inputs: &["board diameter", "kerf", "slant of the cuts"],
};

static INNER: Formula = Formula {
    gives: "inner radius of a ring on the board",
    words: "its outer radius − ring width",
    inputs: &["outer radius", "ring width"],
};

static VOLUME: Formula = Formula {
    gives: "wood for a cone",
    words: "diameter × diameter × thickness: one square board",
    inputs: &["diameter", "thickness"],
};

const BEFORE: Origin = Origin::Default(&"counted from the outside in");

/// One for each cone.
pub(super) fn rows(vessel: &Vessel, recipe: &Recipe, ledger: &mut Ledger) -> Vec<ConeRow> {
    vessel.cones.iter().map(|cone| row(cone, vessel, recipe, ledger)).collect()
}

fn row(cone: &Cone, vessel: &Vessel, recipe: &Recipe, ledger: &mut Ledger) -> ConeRow {
    let widens_upward = vessel.layers.get(cone.layers.start).is_some_and(|layer| match &layer.shape {
        LayerShape::Slant(ring) => ring.outer_at_z1.value > ring.outer_at_z0.value,
        LayerShape::Ring(_) | LayerShape::Disc { .. } => false,
    });
    let mut layers: Vec<usize> = cone.layers.clone().collect();
    if widens_upward {
        layers.reverse();
    }
    let largest =
        ledger.work(&LARGEST, (cone.board_diameter, recipe.shop.kerf, cone.angle), |(across, kerf, angle)| {
            across / 2.0 - slant::level_kerf(kerf, angle)
        });
    let mut rings = Vec::with_capacity(layers.len());
    for (before, layer) in layers.into_iter().enumerate() {
        let before = Known::new(Count(super::to_u32(before)), BEFORE);
        let outer = ledger.work(&slant::OUTER_RADIUS, (largest, before, cone.pitch), |(largest, before, pitch)| {
            slant::outer_radius(largest, before, pitch)
        });
        let inner = ledger.work(&INNER, (outer, cone.width), |(outer, width)| outer - width);
        rings.push(ConeRing { layer, outer, inner });
    }
    let (diameter, thickness) = (cone.board_diameter, cone.board_thickness);
    let volume = ledger.work(&VOLUME, (diameter, thickness), |(across, thick)| across.by(across).over(thick));
    ConeRow { wood: cone.wood, diameter, thickness, angle: cone.angle, is_wide_face_up: widens_upward, rings, volume }
}
