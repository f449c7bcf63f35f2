//! Glue that a knock breaks, in joints that take one.

use crate::checks::stuff::Seam;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::tables::GlueKind;

pub(super) const CHECK: Check = Check { code: &catalog::GLUE_BRITTLE, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let is_meant = |used: &crate::checks::stuff::GlueUse| {
        used.glue.kind == GlueKind::Cyanoacrylate && matches!(used.seam, Seam::Layer(_) | Seam::Board(_))
    };
    for used in design.glues(is_meant) {
        let key = &used.glue.key;
        let message = format!("`{key}` is brittle: a ring that a tool catches or that falls breaks at its joints");
        let finding = Finding::new(CHECK.code, used.place, message)
            .help("glue rings and boards with `pva-d2`, which gives a little; keep instant glue for cracks and inlays");
        found.push(finding);
    }
}
