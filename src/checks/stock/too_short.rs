//! Boards that cannot give all that is sawn from them: what the cutting plan leaves over, and what to buy.

use crate::checks::sawn::{Sawn, sawn};
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::plan::cutting::{Lack, LaneKind, Pile, Purchase, Supply};
use crate::resolve::StockBoard;

use super::not_so_thick::is_thicker_than_sold;
use super::{is_thick_enough, is_wide_enough};

pub(super) const CHECK: Check = Check { code: &catalog::STOCK_TOO_SHORT, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let short: Vec<Sawn> = sawn(design).into_iter().filter(|sawn| design.plan.cutting.lacks(sawn.lane)).collect();
    // What no board is thick, wide or long enough for is told as that, once.
    let mut told: Vec<LaneKind> = Vec::new();
    for sawn in &short {
        if is_told_elsewhere(design, sawn) || long_pieces(design, sawn, found) {
            told.push(sawn.lane);
        }
    }
    for pile in &design.plan.cutting.piles {
        let Some(lack) = &pile.lack else { continue };
        left_over(design, pile, lack, &told, found);
    }
}

/// Whether it is told as too thin or too narrow, or as thicker than any board that is sold.
fn is_told_elsewhere(design: Design<'_>, sawn: &Sawn) -> bool {
    let boards = design.boards_of(sawn.wood);
    let mut thick_enough = boards.iter().filter(|board| is_thick_enough(board, sawn.thick));
    if boards.is_empty() {
        let is_for_sale = |wood| design.recipe.shop.for_sale.iter().any(|sold| sold.board.is_of(wood));
        return !design.recipe.woods.get(sawn.wood).is_some_and(is_for_sale)
            && is_thicker_than_sold(design, sawn.thick);
    }
    // The parts of a panel are narrow enough: of them there may still be too few.
    let is_panel = design.plan.cutting.panels.iter().any(|panel| panel.is == sawn.lane);
    match thick_enough.next() {
        None => true,
        Some(first) => {
            !is_panel
                && !is_wide_enough(first, sawn.wide)
                && !thick_enough.any(|board| is_wide_enough(board, sawn.wide))
        }
    }
}

/// Tells pieces longer than any board that is thick and wide enough for them; whether there are such.
fn long_pieces(design: Design<'_>, sawn: &Sawn, found: &mut Vec<Finding>) -> bool {
    let boards = design.boards_of(sawn.wood);
    let fits = |board: &&&StockBoard| is_thick_enough(board, sawn.thick) && is_wide_enough(board, sawn.wide);
    let Some(longest) = boards.iter().filter(fits).max_by(|a, b| a.long.value.mm().total_cmp(&b.long.value.mm()))
    else {
        return false;
    };
    if longest.long.value >= sawn.long - limits::FINEST_SETTING.get() {
        return false;
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
    true
}

/// One finding for each pile: how many pieces for which layers, and what mends it.
fn left_over(design: Design<'_>, pile: &Pile, lack: &Lack, told: &[LaneKind], found: &mut Vec<Finding>) {
    let left: Vec<String> = lack
        .pieces
        .iter()
        .filter(|(lane, ..)| !told.contains(lane))
        .map(|(lane, row, count)| format!("{count} for {}", used_for(design, *lane, *row)))
        .collect();
    let Some(used) = pile.woods.first().and_then(|wood| design.recipe.woods.get(*wood)) else { return };
    if left.is_empty() {
        return;
    }
    let at_hand = pile.woods.iter().flat_map(|wood| design.boards_of(*wood)).next();
    let is_for_sale = design.recipe.shop.for_sale.iter().any(|sold| sold.board.is_of(used));
    let boards = match (at_hand.is_some(), is_for_sale) {
        (true, true) => "the boards at hand and for sale",
        (true, false) => "the boards at hand",
        (false, true) => "the boards for sale",
        // Of a wood of which no board is named nothing is asked: it may be bought in any size.
        (false, false) => return,
    };
    let message = format!("{boards} do not give all pieces of `{}`; short are {}", used.name, left.join(", "));
    let help = if lack.buy.is_empty() {
        "no board that is usually sold gives them: use more and shorter segments, or take away what a knot shuts off"
            .to_owned()
    } else {
        let bought: Vec<String> = lack.buy.iter().map(|purchase| bought(design, purchase)).collect();
        format!("buy {}: with that everything of it is made", bought.join(" and "))
    };
    let finding = Finding::new(CHECK.code, used.span, message);
    found.push(finding.also_maybe(at_hand.map(|board| board.span), "a board at hand").help(help));
}

/// The layers, by their stable words.
fn used_for(design: Design<'_>, lane: LaneKind, row: usize) -> String {
    let list = &design.plan.cut_list;
    let id = |layer: &usize| design.vessel.layers.get(*layer).map(|built| built.id.clone());
    let layers: Vec<usize> = match lane {
        LaneKind::Strip(_) => list.rows.get(row).map(|row| row.serves.iter().map(|of| of.layer).collect()),
        LaneKind::Staves(at) => list.staves.get(at).map(|row| row.serves.iter().map(|of| of.layer).collect()),
        LaneKind::Round(at) => list.discs.get(at).map(|row| row.layers.clone()),
        LaneKind::Cone(at) => list.cones.get(at).map(|row| row.rings.iter().map(|ring| ring.layer).collect()),
        LaneKind::Insert(_) => return "an insert's blank".to_owned(),
        LaneKind::Ply { .. } => return "the plies of a laminated board".to_owned(),
    }
    .unwrap_or_default();
    layers.iter().filter_map(id).collect::<Vec<_>>().join(" and ")
}

/// `one rough 27 mm board, 150.0 mm × 600.0 mm`
fn bought(design: Design<'_>, purchase: &Purchase) -> String {
    let name = match purchase.supply {
        Supply::Usual(name) => name,
        Supply::AtHand(_) | Supply::ForSale(_) => "such",
    };
    let (count, boards) = match purchase.count {
        1 => ("one".to_owned(), "board"),
        more => (more.to_string(), "boards"),
    };
    format!("{count} rough {name} {boards}, {} × {}", design.show(purchase.wide), design.show(purchase.long))
}
