//! Rings of a cone, sawn at a slant from one flat board: what the shape asks of them.

use std::f64::consts::PI;

use crate::quantity::{Angle, Area, Length, Volume};
use crate::resolve::{Layer, LayerKind, PartKind, SlantRing};
use crate::workings::{Formula, Known, Origin};

use super::layers::{Build, Place};
use super::leaning::astray;
use super::sawn::Made;
use super::stuff::Glued;
use super::vessel::{Cone, LayerShape, SlantShape, TurnedPart};
use super::{findings, ring_findings, slant};

/// Steeper slopes than this, outward or inward, are no cone of rings.
const STEEPEST_SLOPE: f64 = 10.0;

/// The wall may stand out by less than this.
const HAIR: Length = Length::from_mm(1e-3);

static STEP: Formula = Formula {
    gives: "step from ring to ring",
    words: "board thickness × the slope, outward for upward, of that line which the wall strays from least between these heights",
    inputs: &["board thickness", "lower face of the cone", "upper face of the cone"],
};
static UPPER_FACE: Formula = Formula {
    gives: "upper face of the cone",
    words: "lower face of the cone + rings × thickness of a ring",
    inputs: &["lower face of the cone", "rings", "thickness of a ring"],
};
static OUTER: Formula = Formula {
    gives: "outside radius of a cone ring there",
    words: "where the outside strays farthest outward from a line with the cone's slope, that line at this height + turning             allowance",
    inputs: &["height", "step from ring to ring", "board thickness", "allowance"],
};
static INNER: Formula = Formula {
    gives: "inside radius of a cone ring there",
    words: "outside radius − ring width",
    inputs: &["outside radius", "ring width"],
};
static BOARD_THICKNESS: Formula = Formula {
    gives: "thickness of the board",
    words: "finished thickness + 2 × what flattening takes off a face",
    inputs: &["finished thickness", "sanding"],
};
static BOARD_DIAMETER: Formula = Formula {
    gives: "diameter of the round board",
    words: "2 × (outside radius of the largest ring, before flattening + kerf / cos(slant))",
    inputs: &["outside radius of the largest ring", "kerf", "slant of the cuts"],
};
static LARGEST: Formula = Formula {
    gives: "outside radius of the largest ring, before flattening",
    words: "its outside radius on its wide face + what flattening takes off a face × tan(slant)",
    inputs: &["outside radius on the wide face", "sanding", "slant of the cuts"],
};
static BLANK_VOLUME: Formula = Formula {
    gives: "wood in the blank",
    words: "π × ring width × (outside radius below + outside radius above − ring width) × rough thickness",
    inputs: &["outside radius below", "outside radius above", "ring width", "rough thickness"],
};

/// How a cone's rings follow the shape.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fit {
    /// Outward for upward, negative where the cone narrows upward.
    slope: f64,
    /// Radius of the rings' outer line where it passes height 0, without allowance.
    offset: Length,
    thick: Known<Length>,
}

impl Build<'_> {
    /// At the first ring of a cone, fits the cone to the shape. `rest` are the layers from here on.
    pub(super) fn begin_cone(
        &mut self,
        rest: &[(PartKind, usize, &Layer)],
        at: usize,
        said: &SlantRing,
        lower: Known<Length>,
    ) {
        if self.cones.last().is_some_and(|cone| cone.layers.contains(&at)) {
            return;
        }
        let Some((part, _, first)) = rest.first() else { return };
        let z0 = lower.value;
        let is_of_it = |(other, _, layer): &&(PartKind, usize, &Layer)| {
            other == part && matches!(&layer.kind, LayerKind::Slant(ring) if ring.cone == said.cone)
        };
        let run = rest.iter().take_while(is_of_it);
        let (count, high) =
            run.fold((0, Length::ZERO), |(count, high), (_, _, layer)| (count + 1, high + layer.thick.value));
        let Some(curves) = self.parts.stack(*part) else { return };
        let fit = best_fit(curves, (z0, z0 + high), first.thick);
        self.fit = Some(fit);
        let ledger = &mut *self.ledger;
        let upper = ledger.work(&UPPER_FACE, (lower, said.of, first.thick), |(lower, ..)| lower + high);
        let pitch = ledger.work(&STEP, (first.thick, lower, upper), |(thick, ..)| thick * fit.slope.abs());
        let kerf = self.recipe.shop.kerf;
        let angle = ledger
            .work(&slant::ANGLE_FOR_STEP, (pitch, first.thick), |(step, thick)| slant::angle_for_step(step, thick));
        let width = ledger.work(&slant::WIDTH_FOR_STEP, (pitch, kerf, angle), |(step, kerf, angle)| {
            slant::width_for_step(step, kerf, angle)
        });
        let sanding = self.recipe.shop.sanding;
        let board_thickness = ledger.work(&BOARD_THICKNESS, (first.thick, sanding), |(thick, loss)| thick + loss * 2.0);
        let wide = if fit.slope > 0.0 { upper } else { lower };
        let widest = self.outer_at(wide, pitch, first);
        let ledger = &mut *self.ledger;
        let largest =
            ledger.work(&LARGEST, (widest, sanding, angle), |(radius, loss, angle)| radius + loss * angle.tan());
        let board_diameter = ledger.work(&BOARD_DIAMETER, (largest, kerf, angle), |(radius, kerf, angle)| {
            (radius + slant::level_kerf(kerf, angle)) * 2.0
        });
        let cone =
            Cone { wood: said.wood, layers: at..at + count, angle, pitch, width, board_diameter, board_thickness };
        self.check_cone(first, &fit, &cone, (curves, z0, upper.value));
        self.cones.push(cone);
    }

    fn outer_at(&mut self, height: Known<Length>, pitch: Known<Length>, layer: &Layer) -> Known<Length> {
        let Some(fit) = self.fit else { return height };
        self.ledger.work(&OUTER, (height, pitch, fit.thick, layer.allow), |(z, _, _, allow)| {
            fit.offset + z * fit.slope + allow
        })
    }

    /// Whether the wall lies within the rings, and the rings outside the axis.
    fn check_cone(&mut self, layer: &Layer, fit: &Fit, cone: &Cone, (curves, z0, z1): (&TurnedPart, Length, Length)) {
        let shape = self.shape;
        if z0 < shape.cavity_bottom.value - HAIR || (shape.is_closed && z1 > shape.cavity_top.value + HAIR) {
            // Told of the layers that lie there.
            return;
        }
        let width = cone.width.value;
        let needed = needed(curves, (z0, z1), fit.slope) + layer.allow.value * 2.0;
        let loss = self.recipe.shop.sanding.value;
        let narrow = if fit.slope > 0.0 { z0 - loss } else { z1 + loss };
        let narrowest = fit.offset + narrow * fit.slope + layer.allow.value;
        let case = ring_findings::ConeCase {
            width,
            needed,
            narrowest,
            thick: layer.thick.value,
            slope: fit.slope.abs(),
            kerf: slant::level_kerf(self.recipe.shop.kerf.value, cone.angle.value),
            units: self.recipe.units,
        };
        if width < needed - HAIR {
            self.found.push(ring_findings::cone_too_thin(layer, &case));
        } else if width > narrowest {
            self.found.push(ring_findings::cone_past_center(layer, &case));
        }
    }

    /// The ring, with the wood of its blank.
    pub(super) fn slant(&mut self, layer: &Layer, said: &SlantRing, place: &Place) -> Made {
        if let Some(solid) = place.solid {
            let faces = (place.z0.value, place.z1.value);
            self.found.push(findings::must_be_solid(self.recipe, self.shape, layer, Some(said.wood), faces, solid));
        }
        let none = Known::new(Length::ZERO, Origin::Default(&"there is no cone"));
        let (pitch, width) = self.cones.last().map_or((none, none), |cone| (cone.pitch, cone.width));
        let (outer_at_z0, outer_at_z1) = (self.outer_at(place.z0, pitch, layer), self.outer_at(place.z1, pitch, layer));
        let sizes = (outer_at_z0, outer_at_z1, width, place.rough);
        let blank_volume =
            self.ledger.work(&BLANK_VOLUME, sizes, |(low, high, width, rough)| blank_volume(low, high, width, rough));
        let (wide, narrow) =
            if outer_at_z0.value > outer_at_z1.value { (outer_at_z0, outer_at_z1) } else { (outer_at_z1, outer_at_z0) };
        let inner = self.ledger.work(&INNER, (narrow, width), |(outer, width)| (outer - width).max(Length::ZERO));
        let cone = self.cones.len().saturating_sub(1);
        let shape = SlantShape { wood: said.wood, cone, outer_at_z0, outer_at_z1, width };
        Made {
            shape: LayerShape::Slant(shape),
            rotation: Angle::ZERO,
            blank_volume,
            joint_area: Known::new(Area::default(), Origin::Default(&"a sawn ring has no joints")),
            glued: Glued::whole(blank_volume),
            radii: Some((wide, inner)),
        }
    }
}

/// Wood of a ring between two slanting faces.
fn blank_volume(low: Length, high: Length, width: Length, thick: Length) -> Volume {
    width.by(low + high - width).over(thick) * PI
}

/// Level width from the line of a slope that encloses the outside to the one that the inside encloses.
fn needed(shape: &TurnedPart, (z0, z1): (Length, Length), slope: f64) -> Length {
    let outer = astray(&shape.outside, (z0, z1), slope).map_or(Length::ZERO, |astray| astray.greatest);
    let inner = astray(&shape.inside, (z0, z1), slope).map_or(Length::ZERO, |astray| astray.least);
    outer - inner
}

/// The slope that needs the least width. That width is convex in the slope, a greatest less a least of
/// lines, so thirds close in on it.
fn best_fit(shape: &TurnedPart, faces: (Length, Length), thick: Known<Length>) -> Fit {
    let (mut low, mut high) = (-STEEPEST_SLOPE, STEEPEST_SLOPE);
    for _ in 0..90 {
        let third = (high - low) / 3.0;
        if needed(shape, faces, low + third) <= needed(shape, faces, high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    let slope = f64::midpoint(low, high);
    let offset = astray(&shape.outside, faces, slope).map_or(Length::ZERO, |astray| astray.greatest);
    Fit { slope, offset, thick }
}
