//! Boards at hand that are too thin.

use crate::checks::sawn::sawn;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::quantity::Length;

use super::is_thick_enough;

pub(super) const CHECK: Check = Check { code: &catalog::STOCK_TOO_THIN, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    // What a board for sale gives is no trouble.
    for sawn in sawn(design).into_iter().filter(|sawn| design.is_short_of(sawn)) {
        let boards = design.boards_of(sawn.wood);
        let thickest = boards.iter().max_by(|a, b| a.planed().mm().total_cmp(&b.planed().mm()));
        let Some(thickest) = thickest.filter(|board| !is_thick_enough(board, sawn.thick)) else { continue };
        let flattened = design.recipe.shop.sanding.value * 2.0;
        for used in &sawn.uses {
            let message = format!(
                "{} wants `{}` {} thick; the thickest board of it at hand comes to {}",
                design.used_for(*used),
                design.wood_name(sawn.wood),
                design.show(sawn.thick),
                design.show(thickest.planed())
            );
            let finding = Finding::new(CHECK.code, used.place, message)
                .also(thickest.span, "this is the thickest")
                .help(format!(
                    "make it {} thick at most, in more layers, or buy a thicker board",
                    design.show((thickest.planed() - flattened).max(Length::ZERO))
                ))
                .rank((sawn.thick - thickest.planed()).mm());
            found.push(finding);
        }
    }
}
