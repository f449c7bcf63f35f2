//! Glue that does not wet an oily or resinous wood.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::tables::GlueKind;

pub(super) const CHECK: Check = Check { code: &catalog::GLUE_OILY_WOOD, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    for (wood, glue) in design.glued_woods() {
        if wood.wood.gluing.is_empty() || !is_kept_off(glue.glue.kind) {
            continue;
        }
        let (what, key) = (&wood.wood.gluing, &glue.glue.key);
        let message = format!("`{}` is {what}, which keeps `{key}` from wetting it: its joints may open", wood.name);
        let finding = Finding::new(CHECK.code, wood.place, message)
            .also(glue.place, "it is glued with this")
            .help("write `glue epoxy-slow` for its layers; wipe each joint with the solvent that the glue's maker allows, and glue it as soon as it is dry");
        found.push(finding);
    }
}

/// Glues on a water base, and those that cure too fast to creep under the oil.
fn is_kept_off(kind: GlueKind) -> bool {
    match kind {
        GlueKind::Pva | GlueKind::Hide | GlueKind::Polyurethane | GlueKind::Cyanoacrylate => true,
        GlueKind::Epoxy | GlueKind::Urea | GlueKind::Resorcinol | GlueKind::HotMelt => false,
    }
}
