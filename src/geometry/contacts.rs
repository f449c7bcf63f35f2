//! Layers to the glue faces between them, and whether those are wide enough and their joints apart.

use crate::finding::{Finding, limits};
use crate::quantity::{Angle, Count, Length};
use crate::resolve::{Layer, LayerKind, Recipe};

use super::findings;
use super::joints::{self, Spread};
use super::open::{self, Arcs};
use super::vessel::{BuiltLayer, Contact, LayerShape, RingSet, RingShape};
use super::{ring, ring_findings, spacer};

/// Joints whose ends at the outside lie nearer to each other than this count as one over the other.
const NEAR: Length = limits::JOINT_OVER_JOINT.get();

/// A segment that bears on less of its length than this, at either end, is held by little.
const THIN_BEARING: f64 = limits::BEARING_SHARE.get().value();

/// A glue face narrower by less than this is not narrower.
const HAIR: Length = Length::from_mm(1e-3);

/// The faces between each layer and the next one up.
pub(super) fn contacts(recipe: &Recipe, layers: &[BuiltLayer], found: &mut Vec<Finding>) -> Vec<Contact> {
    let said = recipe.layers().map(|(_, _, layer)| layer).zip(recipe.layers().skip(1).map(|(_, _, layer)| layer));
    layers
        .windows(2)
        .zip(said)
        .map(|(built, (under, over))| {
            let contact = contact(&built[0], &built[1]);
            if !contact.is_opening {
                if !is_all_kerf(&built[0]) && !is_all_kerf(&built[1]) {
                    check_width(recipe, &contact, (under, over), found);
                }
                check_bearing((&built[0], &built[1]), (under, over), found);
                check_joints(recipe, &contact, (&built[0], &built[1]), (under, over), found);
            }
            contact
        })
        .collect()
}

/// Which face of a layer.
#[derive(Debug, Clone, Copy)]
enum Side {
    Lower,
    Upper,
}

fn contact(under: &BuiltLayer, over: &BuiltLayer) -> Contact {
    let (below, above) = (face(under, Side::Upper), face(over, Side::Lower));
    let (outer_radius, inner_radius) = (below.0.min(above.0), below.1.max(above.1));
    let whole = ring::annulus(outer_radius, inner_radius);
    let area = match (arcs(under), arcs(over)) {
        (None, None) => whole,
        (lower, upper) => {
            let share = open::overlap_share(lower.unwrap_or(Arcs::closed()), upper.unwrap_or(Arcs::closed()));
            open::contact_area(share, outer_radius, inner_radius)
        }
    };
    Contact { z: under.z1.value, outer_radius, inner_radius, area, is_opening: under.part != over.part }
}

/// A blank's face: how far out all of it is wood, and how far its hole reaches.
fn face(layer: &BuiltLayer, side: Side) -> (Length, Length) {
    let of = |z0: Length, z1: Length| match side {
        Side::Lower => z0,
        Side::Upper => z1,
    };
    match &layer.shape {
        LayerShape::Ring(ring) => match ring.set {
            RingSet::Round | RingSet::ToMiddle { .. } => (layer.blank_outer_radius.value, ring.hole_radius),
            RingSet::Upright(stave) => {
                let outer = of(stave.outer_at_z0.value, stave.outer_at_z1.value);
                (outer, hole_of_staves(ring, outer, stave.level_wall.value))
            }
        },
        LayerShape::Disc { .. } => (layer.blank_outer_radius.value, Length::ZERO),
        LayerShape::Slant(slant) => {
            let outer = of(slant.outer_at_z0.value, slant.outer_at_z1.value);
            (outer, (outer - slant.width.value).max(Length::ZERO))
        }
    }
}

/// Whether nothing is left of a cone's rings, which has been told of the cone.
fn is_all_kerf(layer: &BuiltLayer) -> bool {
    matches!(&layer.shape, LayerShape::Slant(slant) if slant.width.value <= Length::ZERO)
}

fn hole_of_staves(ring: &RingShape, outer: Length, wall: Length) -> Length {
    let miter = ring.widest().map_or(Angle::ZERO, |cut| cut.sweep / 2.0);
    match ring.spacer {
        Some(spacer) => spacer::hole_corner(outer, wall, spacer.thickness.value, miter),
        None => ring::hole_corner(outer, wall, miter),
    }
}

/// What of the circle an open ring fills.
fn arcs(layer: &BuiltLayer) -> Option<Arcs> {
    let LayerShape::Ring(ring) = &layer.shape else { return None };
    ring.gap?;
    let count = ring.count().value;
    // The first segment begins behind half a gap.
    Some(Arcs { count, sweep: ring.widest()?.sweep, first: layer.rotation + open::pitch(count) / 2.0 })
}

/// Whether every segment of an open ring has wood under it, or over it, where it is to be glued.
fn check_bearing(built: (&BuiltLayer, &BuiltLayer), (under, over): (&Layer, &Layer), found: &mut Vec<Finding>) {
    let (lower, upper) = (arcs(built.0), arcs(built.1));
    for (own, other, layer, on, is_above) in [(upper, lower, over, under, false), (lower, upper, under, over, true)] {
        let Some(own) = own else { continue };
        let bearing = open::bearing(own, other.unwrap_or(Arcs::closed()));
        let case = ring_findings::BearingCase { own, other, bearing, is_above };
        let least = bearing.clockwise.degrees().min(bearing.counterclockwise.degrees());
        if bearing.untouched > Count(0) {
            found.push(ring_findings::unsupported(layer, on, &case));
            // Of two open rings one is enough to tell it of.
            return;
        } else if least < THIN_BEARING * own.sweep.degrees() - 1e-9 {
            found.push(ring_findings::thin_bearing(layer, on, &case, THIN_BEARING));
            return;
        }
    }
}

fn check_width(recipe: &Recipe, contact: &Contact, layers: (&Layer, &Layer), found: &mut Vec<Finding>) {
    let width = contact.outer_radius - contact.inner_radius;
    if width <= Length::ZERO {
        found.push(findings::apart(recipe, contact, layers));
    } else if width < recipe.shop.least_glue.value - HAIR {
        found.push(findings::narrow_overlap(recipe, contact, layers));
    }
}

fn check_joints(
    recipe: &Recipe,
    contact: &Contact,
    built: (&BuiltLayer, &BuiltLayer),
    (under, over): (&Layer, &Layer),
    found: &mut Vec<Finding>,
) {
    let (LayerShape::Ring(lower), LayerShape::Ring(upper)) = (&built.0.shape, &built.1.shape) else { return };
    let (LayerKind::Ring(under_said), LayerKind::Ring(said)) = (&under.kind, &over.kind) else { return };
    let radius = contact.outer_radius;
    let lower = Spread::of(lower, under_said.pattern.motif.len(), built.0.rotation);
    let upper = Spread::of(upper, said.pattern.motif.len(), built.1.rotation);
    let line_up = upper.line_up(&lower, joints::angle_of_arc(radius, NEAR));
    if line_up.near > Count(0) && radius > Length::ZERO {
        let case = findings::LineUpCase {
            near: line_up.near,
            upper: upper.count(),
            lower: lower.count(),
            distance: joints::arc(radius, line_up.nearest),
            at_best: joints::arc(radius, upper.farthest(&lower).1),
            limit: NEAR,
        };
        found.push(findings::joints_line_up(recipe, &case, said, (under, over)));
    }
}
