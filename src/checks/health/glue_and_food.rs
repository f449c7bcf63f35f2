//! Glues that are not for ware that food touches.

use crate::checks::stuff::because;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

pub(super) const CHECK: Check = Check { code: &catalog::HEALTH_GLUE_AND_FOOD, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(holds) = design.holds_food().filter(|_| !design.has_liner()) else { return };
    for used in design.glues(|used| used.glue.food_safe_when_cured == "no") {
        let message = format!("`{}` is not for ware that food touches, cured or not", used.glue.key);
        let finding = because(Finding::new(CHECK.code, used.place, message), holds).help(
            "take a glue whose maker declares it for contact with food once it has cured; many of class `pva-d3` are",
        );
        found.push(finding);
    }
}
