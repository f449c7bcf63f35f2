//! Blanks that do not fit over the lathe's bed.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

pub(super) const CHECK: Check = Check { code: &catalog::SPEED_BEYOND_SWING, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(swing) = design.recipe.shop.swing else { return };
    for (_, said, built) in design.layers() {
        let across = built.swing();
        if across <= swing.value.across() {
            continue;
        }
        let message = format!(
            "{} swings {} before it is turned; the lathe takes {} over its bed",
            built.id,
            design.show(across),
            design.show(swing.value.across())
        );
        let finding = Finding::new(CHECK.code, said.head, message)
            .also_maybe(swing.origin.span(), "the lathe is set here")
            .help("saw the corners off before it goes on the lathe, use more segments, or make the vessel narrower")
            .rank(across.mm());
        found.push(finding);
    }
}
