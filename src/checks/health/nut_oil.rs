//! Oils of nuts where food lies.

use crate::checks::stuff::because;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

pub(super) const CHECK: Check = Check { code: &catalog::HEALTH_NUT_OIL, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let (Some(holds), Some(finish)) = (design.holds_food(), design.finish()) else { return };
    if finish.value.allergen.is_empty() {
        return;
    }
    let message =
        format!("`{}` comes from a {}: who is allergic to it should know", finish.value.key, finish.value.allergen);
    let finding = because(Finding::new(CHECK.code, finish.place, message), holds)
        .help("tell whoever gets the vessel, in writing; or take `mineral-oil` or `shellac`");
    found.push(finding);
}
