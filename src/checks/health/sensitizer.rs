//! Woods that set off allergies in many who work them.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

pub(super) const CHECK: Check = Check { code: &catalog::HEALTH_SENSITIZER, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    for used in design.layer_woods() {
        if used.wood.dust_hazard != "strong-sensitizer" {
            continue;
        }
        let message = format!("dust of `{}` sets off allergies in many who work it, and they stay", used.name);
        let finding = Finding::new(CHECK.code, used.place, message)
            .help("cover skin, wear a fitted mask and draw the dust off from the first cut on; stop for good at the first rash or tight chest");
        found.push(finding);
    }
}
