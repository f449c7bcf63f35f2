//! Woods whose dust is poisonous.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

pub(super) const CHECK: Check = Check { code: &catalog::HEALTH_POISONOUS_WOOD, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    for used in design.layer_woods() {
        if used.wood.dust_hazard != "toxic" {
            continue;
        }
        let why = used.wood.food_reason.trim_start_matches("POISONOUS: ");
        let message = format!("`{}` is poisonous, and so is its dust: {why}", used.name);
        let finding = Finding::new(CHECK.code, used.place, message)
            .help("take another wood; or work it with dust drawn off at the tool, a fitted mask and covered skin, wash before you eat, and give it to nobody for food or toys");
        found.push(finding);
    }
}
