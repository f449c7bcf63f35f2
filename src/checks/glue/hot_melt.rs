//! Glue that the heat of friction melts, in joints that are to stay.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::tables::GlueKind;

pub(super) const CHECK: Check = Check { code: &catalog::GLUE_HOT_MELT, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    for used in design.glues(|used| used.glue.kind == GlueKind::HotMelt) {
        let message = format!(
            "`{}` does not hold a joint that stays: it softens from friction and lets go in the cold",
            used.glue.key
        );
        let finding = Finding::new(CHECK.code, used.place, message)
            .help("glue what stays with `pva-d2`; hot-melt holds waste blocks, in beads round their edges");
        found.push(finding);
    }
}
