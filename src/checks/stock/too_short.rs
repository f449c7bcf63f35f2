//! Boards at hand that cannot give all that is sawn from them.
//!
//! A bound from below: faces are added up as if no board had a knot and no piece left a gap. What fails it cannot
//! be sawn; what passes it may still not fit.

use crate::checks::sawn::{Sawn, sawn};
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::quantity::{Area, Length};
use crate::resolve::StockBoard;

use super::{is_thick_enough, is_wide_enough};

pub(super) const CHECK: Check = Check { code: &catalog::STOCK_TOO_SHORT, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let all = sawn(design);
    for sawn in &all {
        long_pieces(design, sawn, found);
    }
    all_together(design, &all, found);
}

/// Pieces longer than any board that is thick and wide enough for them.
fn long_pieces(design: Design<'_>, sawn: &Sawn, found: &mut Vec<Finding>) {
    let boards = design.boards_of(sawn.wood);
    let fits = |board: &&&StockBoard| is_thick_enough(board, sawn.thick) && is_wide_enough(board, sawn.wide);
    let Some(longest) = boards.iter().filter(fits).max_by(|a, b| a.long.value.mm().total_cmp(&b.long.value.mm()))
    else {
        return;
    };
    if longest.long.value >= sawn.long - limits::FINEST_SETTING.get() {
        return;
    }
    for used in &sawn.uses {
        let message = format!(
            "{} wants `{}` {} long; the longest board at hand that is thick and wide enough is {}",
            design.used_for(*used),
            design.wood_name(sawn.wood),
            design.show(sawn.long),
            design.show(longest.long.value)
        );
        let finding = Finding::new(CHECK.code, used.place, message)
            .also(longest.span, "this is the longest")
            .help("buy a longer board, or stack two shorter layers")
            .rank((sawn.long - longest.long.value).mm());
        found.push(finding);
    }
}

/// Faces of all that is sawn against faces of all boards.
fn all_together(design: Design<'_>, all: &[Sawn], found: &mut Vec<Finding>) {
    let kerf = design.recipe.shop.kerf.value;
    let mut seen: Vec<usize> = Vec::new();
    for of_wood in all {
        if seen.contains(&of_wood.wood) {
            continue;
        }
        seen.push(of_wood.wood);
        let boards = design.boards_of(of_wood.wood);
        // What no board is thick or wide enough for is told as that.
        let fits = |sawn: &&Sawn| {
            let mut thick_enough = boards.iter().filter(|board| is_thick_enough(board, sawn.thick));
            sawn.wood == of_wood.wood && thick_enough.any(|board| is_wide_enough(board, sawn.wide))
        };
        let wanted: Vec<&Sawn> = all.iter().filter(fits).collect();
        let worst = wanted.iter().filter_map(|sawn| short(sawn.thick, &wanted, &boards, kerf));
        let Some(worst) = worst.max_by(|a, b| a.lacks().mm2().total_cmp(&b.lacks().mm2())) else { continue };
        let Some(used) = design.recipe.woods.get(of_wood.wood) else { continue };
        let Some(widest) = boards.iter().max_by(|a, b| a.wide.value.mm().total_cmp(&b.wide.value.mm())) else {
            continue;
        };
        let along = |face: Area| Length::from_mm(face.mm2() / (widest.wide.value + kerf).mm());
        let message = format!(
            "what is sawn from `{}` {} thick or thicker takes at least {} of a board {} wide; the boards at hand come to {} of it",
            used.name,
            design.show(worst.thick),
            design.show(along(worst.wanted)),
            design.show(widest.wide.value),
            design.show(along(worst.there))
        );
        let finding = Finding::new(CHECK.code, used.span, message).also(widest.span, "a board at hand").help(format!(
            "buy {} more of such a board, and some for knots and tails",
            design.show(along(worst.lacks()))
        ));
        found.push(finding);
    }
}

/// Boards that do not have what is wanted of a thickness and over it.
#[derive(Debug, Clone, Copy)]
struct Short {
    thick: Length,
    wanted: Area,
    there: Area,
}

impl Short {
    fn lacks(self) -> Area {
        self.wanted - self.there
    }
}

/// What so thick or thicker is wanted and there; `None` where it is enough.
fn short(thick: Length, wanted: &[&Sawn], boards: &[&StockBoard], kerf: Length) -> Option<Short> {
    let asked: Area = wanted.iter().filter(|sawn| sawn.thick >= thick).map(|sawn| sawn.face).sum();
    let there: Area = boards
        .iter()
        .filter(|board| is_thick_enough(board, thick))
        .map(|board| {
            // A board thick enough for two is counted twice: it can be sawn in two leaves.
            let leaves = ((board.planed() + kerf) / (thick + kerf)).floor().max(1.0);
            (board.wide.value + kerf).by(board.long.value) * (leaves * f64::from(board.count.value.0))
        })
        .sum();
    (asked > there).then_some(Short { thick, wanted: asked, there })
}
