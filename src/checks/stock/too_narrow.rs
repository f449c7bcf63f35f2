//! Boards at hand that are too narrow.

use crate::checks::sawn::{SawnKind, sawn};
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

use super::{is_thick_enough, is_wide_enough};

pub(super) const CHECK: Check = Check { code: &catalog::STOCK_TOO_NARROW, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    // What a board for sale gives is no trouble.
    for sawn in sawn(design).into_iter().filter(|sawn| design.is_short_of(sawn)) {
        let boards = design.boards_of(sawn.wood);
        let thick_enough = boards.iter().filter(|board| is_thick_enough(board, sawn.thick));
        let Some(widest) = thick_enough.max_by(|a, b| a.wide.value.mm().total_cmp(&b.wide.value.mm())) else {
            continue;
        };
        if is_wide_enough(widest, sawn.wide) {
            continue;
        }
        let way_out = match sawn.kind {
            SawnKind::Strip | SawnKind::Plug => "use more segments or a thinner wall, or glue two boards edge to edge",
            SawnKind::Stave => "use more staves: each is narrower then",
            SawnKind::Round | SawnKind::Cone => {
                "glue it up edge to edge as the cutting plan tells, or make it of `wedges`"
            }
            SawnKind::Ply => "glue boards edge to edge for that ply as the cutting plan tells",
        };
        for used in &sawn.uses {
            let message = format!(
                "{} wants `{}` {} wide; the widest board at hand that is thick enough is {}",
                design.used_for(*used),
                design.wood_name(sawn.wood),
                design.show(sawn.wide),
                design.show(widest.wide.value)
            );
            let finding = Finding::new(CHECK.code, used.place, message)
                .also(widest.span, "this is the widest")
                .help(way_out)
                .rank((sawn.wide - widest.wide.value).mm());
            found.push(finding);
        }
    }
}
