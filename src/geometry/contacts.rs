//! Layers to the glue faces between them, and whether those are wide enough and their joints apart.

use crate::finding::Finding;
use crate::quantity::{Count, Length};
use crate::resolve::{Layer, LayerKind, Recipe};

use super::findings;
use super::joints::{self, Joints};
use super::layers::count_of;
use super::ring;
use super::vessel::{BuiltLayer, Contact, LayerShape, RingShape};

/// Joints whose ends at the outside lie nearer to each other than this count as one over the other.
const NEAR: Length = Length::from_mm(1.0);

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
                check_width(recipe, &contact, (under, over), found);
                check_joints(recipe, &contact, (&built[0], &built[1]), (under, over), found);
            }
            contact
        })
        .collect()
}

fn contact(under: &BuiltLayer, over: &BuiltLayer) -> Contact {
    let outer_radius = under.blank_outer_radius.value.min(over.blank_outer_radius.value);
    let inner_radius = hole_corner(under).max(hole_corner(over));
    Contact {
        z: under.z1.value,
        outer_radius,
        inner_radius,
        area: ring::annulus(outer_radius, inner_radius),
        is_opening: under.part != over.part,
    }
}

/// How far from the axis a blank's hole reaches.
fn hole_corner(layer: &BuiltLayer) -> Length {
    match &layer.shape {
        LayerShape::Ring(ring) => ring.hole_radius,
        LayerShape::Disc { .. } | LayerShape::Slant(_) => Length::ZERO,
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
    let LayerKind::Ring(said) = &over.kind else { return };
    let radius = contact.outer_radius;
    let joints_of = |built: &BuiltLayer, ring: &RingShape| Joints { count: count_of(ring), first: built.rotation };
    let (lower, upper) = (joints_of(built.0, lower), joints_of(built.1, upper));
    let line_up = joints::line_up(lower, upper, joints::angle_of_arc(radius, NEAR));
    if line_up.near > Count(0) && radius > Length::ZERO {
        let case = findings::LineUpCase {
            near: line_up.near,
            upper: upper.count,
            lower: lower.count,
            distance: joints::arc(radius, line_up.nearest),
            at_best: joints::arc(radius, joints::farthest(lower.count, upper.count)),
            limit: NEAR,
        };
        found.push(findings::joints_line_up(recipe, &case, said, (under, over)));
    }
}
