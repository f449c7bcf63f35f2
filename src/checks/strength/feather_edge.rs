//! A layer that ends in a feather edge, because the surface crosses its glue line nearly level.

use crate::checks::faces::{GlueLine, SAME, Side};
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::geometry::Profile;
use crate::quantity::{Angle, Length, show_angle, trig};

pub(super) const CHECK: Check = Check { code: &catalog::STRENGTH_FEATHER_EDGE, run };

/// An edge that gets thin: which layer's, and how sharp it is.
struct Edge<'a> {
    side: Side<'a>,
    place: &'static str,
    angle: Angle,
}

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let (flattest, depth) = (limits::FEATHER_ANGLE.get(), limits::FEATHER_DEPTH.get());
    for line in design.glue_lines() {
        let edges = edges(&line, depth).into_iter().filter(|edge| edge.angle < flattest);
        for edge in edges {
            let message = format!(
                "{} ends in a feather edge {}: the surface crosses its glue line at {}; flatter than {} it chips",
                edge.side.built.id,
                edge.place,
                show_angle(edge.angle),
                show_angle(flattest)
            );
            let finding = Finding::new(CHECK.code, edge.side.said.head, message)
                .help(format!(
                    "let the surface rise by {:.0} % of its run or more there, or move the glue line to where it does with \
                     a thicker or thinner layer",
                    flattest.tan() * 100.0
                ))
                .rank((flattest - edge.angle).degrees());
            found.push(finding);
        }
    }
}

/// The sharp edges at a glue line, measured over the last stretch of wood beside it. On the outside a wall that
/// flares upward thins the layer under the line, one that closes in thins the layer over it; on the inside it is
/// the other way round.
fn edges<'a>(line: &GlueLine<'a>, depth: Length) -> Vec<Edge<'a>> {
    let mut edges = Vec::new();
    let mut look = |curve: &Profile, place, (flares, closes): (Side<'a>, Side<'a>), sign: f64| {
        for is_under in [true, false] {
            let (near, far, reach) = stretch(curve, line.z, depth, is_under);
            // How much more wood stands on the line than a little way off it.
            let overhang = (near - far) * sign;
            if reach > SAME && overhang > Length::ZERO {
                let angle = Angle::from_degrees(trig::atan2(reach.mm(), overhang.mm()).to_degrees());
                edges.push(Edge { side: if is_under { flares } else { closes }, place, angle });
            }
        }
    };
    let sides = (line.under, line.over);
    look(&line.part.outside, "on the outside", sides, 1.0);
    let inside = &line.part.inside;
    if line.z > inside.bottom() + SAME && line.z < inside.top() - SAME {
        look(inside, "on the inside", sides, -1.0);
    }
    edges
}

/// Radius at a height and a little under or over it, and how far that is.
fn stretch(curve: &Profile, z: Length, depth: Length, is_under: bool) -> (Length, Length, Length) {
    if is_under {
        let to = (z - depth).max(curve.bottom());
        (curve.below(z), curve.above(to), z - to)
    } else {
        let to = (z + depth).min(curve.top());
        (curve.above(z), curve.below(to), to - z)
    }
}
