//! Holes for inserts in a ring with gaps.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::geometry::BuiltInsert;
use crate::quantity::{Length, show_angle};
use crate::resolve::{Insert, InsertForm, Seat};

use super::{gap, lies_within};

pub(super) const CHECK: Check = Check { code: &catalog::INSERT_IN_OPEN_RING, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    for built in &design.vessel.inserts {
        let Some(insert) = design.recipe.fittings.inserts.get(built.said) else { continue };
        let Some((low, high)) = hole(insert, built) else { continue };
        let opened = design.layers().find_map(|(_, said, layer)| {
            let gap = gap(layer)?;
            // On the axis a ring is met only by a hole wider than what it leaves free.
            let is_met = matches!(insert.seat, Seat::BodySide { .. })
                || built.hole_diameter.value / 2.0 > layer.inner_radius.value;
            (is_met && lies_within(layer, insert.seat.part(), low, high)).then_some((said, layer, gap))
        });
        let Some((said, layer, gap)) = opened else { continue };
        let message = format!(
            "the hole of `{}`, {} across, goes into {}, whose joints stand open by {}",
            insert.name.value,
            design.show(built.hole_diameter.value),
            layer.id,
            show_angle(gap)
        );
        found.push(
            Finding::new(CHECK.code, insert.head, message)
                .also(said.head, "the gaps are in this ring")
                .help(format!(
                    "put a closed ring there, {} thick or more, or seat the insert elsewhere",
                    design.show(high - low)
                ))
                .rank(gap.degrees()),
        );
    }
}

/// From which height to which a hole goes; a liner that stands in the cavity has none.
fn hole(insert: &Insert, built: &BuiltInsert) -> Option<(Length, Length)> {
    let deep = built.hole_depth.value;
    match insert.seat {
        Seat::BodyInside if matches!(insert.form, InsertForm::Liner { .. }) => None,
        Seat::LidTop | Seat::BodyInside => Some((built.rim - deep, built.rim)),
        Seat::LidInside | Seat::BodyBase => Some((built.rim, built.rim + deep)),
        Seat::BodySide { .. } => {
            let half = built.hole_diameter.value / 2.0;
            Some((built.rim - half, built.rim + half))
        }
    }
}
