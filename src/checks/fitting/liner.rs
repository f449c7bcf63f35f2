//! Liners that a lid does not close over.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::geometry::insert::into_lid_inside;
use crate::quantity::Diameter;
use crate::resolve::{InsertForm, PartKind, Seat};

use super::HAIR;

pub(super) const CHECK: Check = Check { code: &catalog::INSERT_LINER_TOO_TALL, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(lid) = design.vessel.bodies.iter().find(|part| part.part == PartKind::Lid) else { return };
    for built in &design.vessel.inserts {
        let Some(insert) = design.recipe.fittings.inserts.get(built.said) else { continue };
        let (Seat::BodyInside, InsertForm::Liner { diameter, tall }) = (insert.seat, insert.form) else { continue };
        // What is over its rim: a lid that narrows upward is lower there than in its middle.
        let ceiling = into_lid_inside(&lid.outside, &lid.inside, Diameter::new(diameter.value)).rim;
        let room = ceiling - built.rim;
        if tall.value <= room + HAIR {
            continue;
        }
        let message = format!(
            "`{}` is {} tall; under the lid there are {} for it",
            insert.name.value,
            design.show(tall.value),
            design.show(room)
        );
        let raise = design.show(tall.value - room);
        found.push(
            Finding::new(CHECK.code, tall.origin.span().unwrap_or(insert.head), message)
                .also(insert.head, "it stands on the floor")
                .help(format!("take a liner of {} or less, or make the cavity {raise} deeper", design.show(room)))
                .rank((tall.value - room).mm()),
        );
    }
}
