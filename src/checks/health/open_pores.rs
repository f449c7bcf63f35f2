//! Open pores inside what is washed.

use crate::checks::stuff::because;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

pub(super) const CHECK: Check = Check { code: &catalog::HEALTH_OPEN_PORES, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(holds) = design.holds_food().filter(|holds| holds.value.gets_wet() && !design.has_liner()) else { return };
    for used in design.layer_woods() {
        if used.wood.open_pores != "yes" {
            continue;
        }
        let message =
            format!("pores of `{}` stand open: food and water get into them and are not washed out again", used.name);
        let finding = because(Finding::new(CHECK.code, used.place, message), holds)
            .help("fill the pores under a film that cures hard, or take a close-grained wood where food lies, such as maple, cherry or beech");
        found.push(finding);
    }
}
