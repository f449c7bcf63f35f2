//! Woods that food should not touch, or only with care.

use crate::checks::stuff::because;
use crate::checks::{Check, Design};
use crate::finding::{Code, Finding, catalog};

pub(super) const AVOID: Check = Check { code: &catalog::HEALTH_WOOD_AND_FOOD, run: avoid };
pub(super) const CARE: Check = Check { code: &catalog::HEALTH_WOOD_AND_FOOD_CARE, run: care };

fn avoid(design: Design<'_>, found: &mut Vec<Finding>) {
    let help = "take a close-grained wood without much taste or resin instead, such as `hard-maple`, `black-cherry` or `european-sycamore`; or let the vessel hold `dry-goods`";
    woods(design, ("avoid", "should not touch what it holds"), (AVOID.code, help), found);
}

fn care(design: Design<'_>, found: &mut Vec<Finding>) {
    let help = "keep it to the outside or to a lid, under a finish that has cured, or try a scrap of it first with what the vessel is to hold";
    woods(design, ("caution", "and food go together only with care"), (CARE.code, help), found);
}

fn woods(
    design: Design<'_>,
    (verdict, words): (&str, &str),
    (code, help): (&'static Code, &str),
    found: &mut Vec<Finding>,
) {
    let Some(holds) = design.holds_food().filter(|_| !design.has_liner()) else { return };
    for used in design.layer_woods() {
        if used.wood.food_contact == verdict {
            let message = format!("`{}` {words}: {}", used.name, used.wood.food_reason);
            found.push(because(Finding::new(code, used.place, message), holds).help(help));
        }
    }
}
