//! Cuts that slant more than the blade tilts.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::geometry::{LayerShape, RingSet};
use crate::quantity::{Angle, show_angle};

pub(super) const CHECK: Check = Check { code: &catalog::SAW_TILT, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let tilt = design.recipe.shop.tilt;
    for (_, said, built) in design.layers() {
        let (angle, what) = match &built.shape {
            LayerShape::Ring(ring) if matches!(ring.set, RingSet::Upright(_)) => {
                let steepest = ring.cuts.iter().map(|cut| cut.bevel.value).fold(Angle::ZERO, steeper);
                (steepest, "the edges of its staves")
            }
            LayerShape::Slant(slant) => {
                let Some(cone) = design.vessel.cones.get(slant.cone) else { continue };
                (cone.angle.value, "the rings of its cone")
            }
            LayerShape::Ring(_) | LayerShape::Disc { .. } => continue,
        };
        if angle <= tilt.value {
            continue;
        }
        let lean = show_angle(angle - tilt.value);
        let help = match &built.shape {
            LayerShape::Slant(_) => {
                format!(
                    "lean the board {lean} on a wedge at the bandsaw, or take a thicker board: its rings stand steeper"
                )
            }
            LayerShape::Ring(_) | LayerShape::Disc { .. } => format!(
                "carry the board on a wedge of {lean} along the fence, or use {:.0} staves or more",
                (180.0 / tilt.value.degrees().max(1.0)).ceil()
            ),
        };
        let message =
            format!("{what} are sawn at {} from square; the saw tilts {}", show_angle(angle), show_angle(tilt.value));
        let finding = Finding::new(CHECK.code, said.head, message)
            .also_maybe(tilt.origin.span(), "the tilt is set here")
            .help(help)
            .rank(angle.degrees());
        found.push(finding);
    }
}

fn steeper(a: Angle, b: Angle) -> Angle {
    if a > b { a } else { b }
}
