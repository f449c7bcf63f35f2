//! Waste blocks that are glued to a ring with gaps.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::quantity::show_angle;

use super::gap;

pub(super) const CHECK: Check = Check { code: &catalog::MOUNT_OPEN_RING, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    for mount in &design.plan.mounting {
        let Some((_, said, built)) = design.layers().find(|(at, ..)| *at == mount.layer) else { continue };
        let Some(gap) = gap(built) else { continue };
        let share = match &built.shape {
            crate::geometry::LayerShape::Ring(ring) => gap * f64::from(ring.count().value.0) / 360.0,
            crate::geometry::LayerShape::Disc { .. } | crate::geometry::LayerShape::Slant(_) => continue,
        };
        let mounted = design.recipe.fittings.mounts.iter().find(|said| said.part == mount.part);
        let message = format!(
            "the {} is glued to its waste block by {}, which stands open by {} at each joint: {:.0} % of the face is air",
            mount.part.word(),
            built.id,
            show_angle(gap),
            share.degrees() * 100.0
        );
        found.push(
            Finding::new(CHECK.code, said.head, message)
                .also_maybe(mounted.map(|mount| mount.head), "it is held here")
                .help("begin with a disc or a closed ring, which is glued to the block, and cut it away at the end if need be")
                .rank(gap.degrees()),
        );
    }
}
