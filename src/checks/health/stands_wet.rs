//! Liquid that stands in glued segments.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

pub(super) const CHECK: Check = Check { code: &catalog::HEALTH_STANDS_WET, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(holds) = design.holds().filter(|holds| holds.value.holds_liquid()) else { return };
    if design.has_liner() {
        return;
    }
    let vessel = design.vessel;
    let (floor, mouth) = (vessel.cavity_bottom.value, vessel.cavity_top.value);
    let narrowest = vessel.inside.extremes(floor, mouth).least.radius * 2.0;
    let message = format!(
        "{} stands in a vessel of {} glued pieces: wood that soaks swells across its grain and works every joint open",
        holds.value.word(),
        design.plan.totals.pieces
    );
    let finding = Finding::new(CHECK.code, holds.place, message).help(format!(
        "let a liner hold it: the inside is {} across at its narrowest and {} deep, less the room round the liner; or say `holds dry-food`",
        design.show(narrowest),
        design.show(mouth - floor)
    ));
    found.push(finding);
}
