//! The page that is taken to the timber merchant and then to the saw: what to buy, board by board what is cut from
//! each, and every setting of the saw in order.

use std::fmt::Write as _;

use crate::plan::Setup;
use crate::plan::cutting::{BoardCut, BoardLane, Lack, LaneKind, Panel, Pile, Purchase, SawnBoard, Supply};
use crate::quantity::{Angle, Length, Money, show_angle};

use super::cut_list::test_cut;
use super::page::Page;
use super::safety;
use super::sheet::{Sheet, counted, layers_of, letter, listed, served, strip};
use super::table::Table;

/// The page, from top to bottom.
pub(super) fn page(sheet: &Sheet<'_>) -> Page {
    let mut page = Page::titled(&format!("{}: cutting plan", sheet.title()));
    let plan = &sheet.plan.cutting;
    if plan.piles.is_empty() {
        page.push_str("Nothing of this vessel is sawn from boards.\n\n");
        let _ = writeln!(page, "{}", safety::DEFER);
        return page;
    }
    page.push_str("The letters and strips are those of the cut list; `cutting-plan.svg` draws every board.\n\n");
    shopping(&mut page, sheet);
    for pile in &plan.piles {
        of_pile(&mut page, sheet, pile);
    }
    panels(&mut page, sheet);
    let mut number = 0;
    for (pile, board) in plan.piles.iter().flat_map(|pile| pile.boards.iter().map(move |board| (pile, board))) {
        number += 1;
        of_board(&mut page, sheet, (number, pile, board));
    }
    settings(&mut page, sheet);
    elsewhere(&mut page, sheet);
    page.push_str("## At the saw\n\n");
    for line in safety::SAW {
        let _ = writeln!(page, "- {line}");
    }
    let _ = write!(page, "\n{}\n", safety::DEFER);
    page
}

/// `12.50 EUR`.
pub(super) fn money(sheet: &Sheet<'_>, amount: Money) -> String {
    let is_plain = |sign: &char| !sign.is_control() && !"\\`*_{}[]<>#|".contains(*sign);
    let currency: String = sheet.recipe.shop.currency.chars().filter(is_plain).collect();
    format!("{:.2} {currency}", amount.0).trim_end().to_owned()
}

/// `S1`, the letter of a cut, or which ply.
pub(super) fn lane_name(sheet: &Sheet<'_>, lane: LaneKind) -> String {
    let letters = sheet.plan.cut_list.letters();
    match lane {
        LaneKind::Strip(at) => strip(at),
        LaneKind::Staves(at) => letter(letters.staves + at),
        LaneKind::Round(at) => letter(letters.discs + at),
        LaneKind::Cone(at) => letter(letters.cones + at),
        LaneKind::Insert(at) => letter(letters.inserts + at),
        LaneKind::Ply { board, ply } => {
            let name = sheet.plan.cut_list.boards.get(board).map_or("", |board| sheet.wood(board.wood));
            format!("ply {} of {name}", ply + 1)
        }
    }
}

/// What is cut from a lane: `A`, of a strip; else the lane's own name.
pub(super) fn cut_name(sheet: &Sheet<'_>, lane: LaneKind, row: usize) -> String {
    if matches!(lane, LaneKind::Strip(_)) { letter(row) } else { lane_name(sheet, lane) }
}

/// As it lies there: thickness, width and length.
pub(super) fn size(sheet: &Sheet<'_>, sides: [Length; 3]) -> String {
    sides.map(|side| sheet.own(side)).join(" × ")
}

/// What it is and where it comes from.
pub(super) fn source(supply: Supply) -> String {
    match supply {
        Supply::AtHand(_) => "at hand".to_owned(),
        Supply::ForSale(_) => "to buy".to_owned(),
        Supply::Usual(name) => format!("to buy, {name} rough"),
    }
}

pub(super) fn woods(sheet: &Sheet<'_>, pile: &Pile) -> String {
    pile.woods.iter().map(|wood| sheet.wood(*wood)).collect::<Vec<_>>().join(" and ")
}

/// A kind of board that is bought: wood, supply, sides, price of each, how many.
type Bought = (String, Supply, [Length; 3], Option<Money>, u32);

fn bought(sheet: &Sheet<'_>) -> Vec<Bought> {
    let mut all: Vec<Bought> = Vec::new();
    for pile in &sheet.plan.cutting.piles {
        for board in pile.boards.iter().filter(|board| !matches!(board.supply, Supply::AtHand(_))) {
            let sides = [board.thick, board.wide, board.long];
            let wood = woods(sheet, pile);
            match all
                .iter_mut()
                .find(|(of, supply, known, ..)| *of == wood && *supply == board.supply && *known == sides)
            {
                Some((.., count)) => *count += 1,
                None => all.push((wood, board.supply, sides, board.price, 1)),
            }
        }
        for purchase in pile.lack.iter().flat_map(|lack| &lack.buy) {
            let Purchase { supply, count, thick, wide, long, price } = *purchase;
            let each = price.map(|price| Money(price.0 / f64::from(count.max(1))));
            all.push((woods(sheet, pile), supply, [thick, wide, long], each, count));
        }
    }
    all
}

fn shopping(page: &mut Page, sheet: &Sheet<'_>) {
    let all = bought(sheet);
    if all.is_empty() {
        if sheet.plan.cutting.piles.iter().all(|pile| pile.lack.is_none()) {
            page.push_str("All of it comes from the boards at hand.\n\n");
        }
        return;
    }
    page.push_str("## To buy\n\n");
    let mut table = Table::new("to-buy", &[">boards", "wood", "thick × wide × long", "", ">price of each", ">of all"]);
    for (wood, supply, sides, price, count) in &all {
        let of = |count: f64| price.map_or(String::new(), |price| money(sheet, Money(price.0 * count)));
        let name = match supply {
            Supply::Usual(name) => format!("{name}, rough"),
            Supply::ForSale(_) | Supply::AtHand(_) if is_rough(sheet, *supply) => "rough".to_owned(),
            Supply::ForSale(_) | Supply::AtHand(_) => "surfaced".to_owned(),
        };
        table.row([format!("**{count}**"), wood.clone(), size(sheet, *sides), name, of(1.0), of(f64::from(*count))]);
    }
    page.table(table);
    if let Some(all) = sheet.plan.cutting.to_pay() {
        let _ = write!(page, "\n**{}** in all.", money(sheet, all));
    }
    if all.iter().any(|(_, supply, ..)| matches!(supply, Supply::Usual(_))) {
        page.push_str(
            "\nA size with a name is one that is usually sold: of that wood the recipe names no board, or none that gives all. Any \
             board as thick, wide and long will do. Name what you have in `boards`, what is sold in `for-sale`, and the plan goes by \
             those.",
        );
    }
    page.push_str("\nLook for knots and checks before you pay; what the plan does not know of, it does not avoid.\n\n");
}

fn of_pile(page: &mut Page, sheet: &Sheet<'_>, pile: &Pile) {
    let _ = write!(page, "- **{}**: {}", woods(sheet, pile), how_good(sheet, pile));
    if let Some(lack) = &pile.lack {
        let _ = write!(page, " {}", lacking(sheet, lack));
    }
    page.push_str("\n\n");
}

/// `3 boards; no plan can use fewer than 3.`
pub(super) fn how_good(sheet: &Sheet<'_>, pile: &Pile) -> String {
    let bound = pile.bound;
    if pile.boards.is_empty() {
        return "nothing can be cut from what there is.".to_owned();
    }
    let boards = counted(pile.boards.len(), "board", "boards");
    if pile.lack.is_some() {
        return format!("{boards} cut.");
    }
    let mut text = format!("{boards}; no plan can use fewer than {}", bound.boards);
    match (pile.cost, bound.cost) {
        (Some(cost), Some(_)) if bound.is_reached => {
            let _ = write!(text, ". {}; no plan costs less", money(sheet, cost));
        }
        (Some(cost), Some(least)) => {
            let _ = write!(text, ". {}; no plan costs less than {}", money(sheet, cost), money(sheet, least));
        }
        _ if bound.is_reached => text.push_str(", and none takes less wood"),
        _ => {
            let taken: f64 = pile.boards.iter().map(|board| board.wide.by(board.long).over(board.thick).liters()).sum();
            let _ = write!(
                text,
                ", {taken:.2} l; whether one takes less wood is not proved, at the least it is {:.2} l",
                bound.wood.liters()
            );
        }
    }
    text.push('.');
    text
}

fn lacking(sheet: &Sheet<'_>, lack: &Lack) -> String {
    let pieces = lack.pieces.iter().map(|(lane, row, count)| format!("{count} of {}", cut_name(sheet, *lane, *row)));
    let mut text = format!("**Not enough wood**: {} left over.", listed(pieces));
    if lack.buy.is_empty() {
        text.push_str(" No board that is usually sold gives them.");
    } else {
        text.push_str(" What is bought above mends it.");
    }
    text
}

fn panels(page: &mut Page, sheet: &Sheet<'_>) {
    let panels = &sheet.plan.cutting.panels;
    if panels.is_empty() {
        return;
    }
    page.push_str("## Glue these up edge to edge\n\nNo board is wide enough for them.\n\n");
    let mut table = Table::new("panels", &["blank", ">pieces", ">of parts", ">each wide", ">long"]);
    for Panel { is, count, parts, part_width, length } in panels {
        table.row_for(
            layers_of(sheet, *is),
            [lane_name(sheet, *is), count.to_string(), parts.to_string(), sheet.own(*part_width), sheet.own(*length)],
        );
    }
    page.table(table);
    page.push_str(
        "\nEdges jointed, growth rings turned alternately up and down, flat between cauls. Flatten when it is dry.\n\n",
    );
}

/// The layers that a row about one board shows. Of a piece that is alike in very many nobody says which it is for, and every
/// board would name them all.
fn shown_with(sheet: &Sheet<'_>, lane: LaneKind) -> Vec<usize> {
    const MOST: usize = 100;
    let layers = layers_of(sheet, lane);
    if layers.len() > MOST { Vec::new() } else { layers }
}

fn of_board(page: &mut Page, sheet: &Sheet<'_>, (number, pile, board): (usize, &Pile, &SawnBoard)) {
    let sides = [board.thick, board.wide, board.long];
    let _ = writeln!(
        page,
        "## Board {number}: {}, {} ({})\n",
        woods(sheet, pile),
        size(sheet, sides),
        source(board.supply)
    );
    let mut step = 0;
    let mut next = |page: &mut Page, text: String| {
        step += 1;
        let _ = writeln!(page, "{step}. {text}");
    };
    let is_rough = is_rough(sheet, board.supply);
    if is_rough {
        let (edge, most) = (sheet.own(board.jointing), sheet.own(board.planed));
        next(page, format!("Joint both edges ({edge} each); plane both faces just clean, to {most} at the most."));
    }
    // Marked behind the planer, and while the board still has the end that they are measured from.
    for (from, to) in &board.avoid {
        let (from, to) = (sheet.own(*from), sheet.own(*to));
        next(page, format!("Mark what lies from {from} to {to} of the board, on both faces: no piece may touch it."));
    }
    let ends = board.sections.iter().map(|section| format!("**{}**", sheet.own(section.to)));
    let text = format!("Mark the crosscuts, measured from the board's start as it lies there: {}.", listed(ends));
    next(page, text);
    if is_rough {
        next(page, format!("Saw {} off each end.", sheet.own(board.end_trim)));
    } else {
        next(page, "Saw its start square.".to_owned());
    }
    let many = board.sections.len() > 1;
    for (at, section) in board.sections.iter().enumerate() {
        let name = if many { format!("Section {}", at + 1) } else { "Section".to_owned() };
        // A bit of binary short is not short.
        let lacks = sheet.recipe.shop.short_rip.value - (section.to - section.from);
        let is_short = lacks > Length::from_mm(1e-3);
        let rip =
            if is_short { "Too short for the rip fence: cut to width at the band saw or on a sled:" } else { "Rip:" };
        let text = format!(
            "{name}: crosscut behind the mark at **{}**, so that it is {} long. {rip}",
            sheet.own(section.to),
            sheet.own(sheet.ripped(section.to - section.from - Length::from_mm(0.001)))
        );
        next(page, text);
        page.push('\n');
        let mut table = Table::new("boards", &["   rip", ">fence", "crosscut, in this order", ">plane to"]);
        let cut = |lane: &BoardLane| cuts(sheet, board, section.from, lane);
        for alike in section.lanes.chunk_by(|a, b| a.is == b.is && cut(a) == cut(b)) {
            let Some(lane) = alike.first() else { continue };
            let times = if alike.len() > 1 { format!("{} × ", alike.len()) } else { String::new() };
            table.row_for(
                shown_with(sheet, lane.is),
                [
                    format!("   {times}{}", lane_name(sheet, lane.is)),
                    format!("**{}**", sheet.own(lane.width)),
                    if alike.len() > 1 { format!("each {}", cut(lane)) } else { cut(lane) },
                    thickness(sheet, lane.is).map_or(String::new(), |thick| sheet.own(thick)),
                ],
            );
        }
        page.table(table);
        page.push('\n');
        if is_short {
            page.push_str(
                "Pieces as short as these do not go through a planer: plane the board thinner before you crosscut this \
                 section off, or bring them to thickness by sanding on a carrier board.\n\n",
            );
        }
    }
    let kept = board.offcuts.iter().map(|offcut| {
        let (long, wide) = (offcut.along.1 - offcut.along.0, offcut.across.1 - offcut.across.0);
        format!("{} × {}", sheet.own(wide), sheet.own(long))
    });
    let kept: Vec<String> = kept.collect();
    if !kept.is_empty() {
        let _ = writeln!(page, "Left and worth keeping: {}.\n", listed(kept.into_iter()));
    }
}

/// How thick it is wanted before it is glued up.
fn thickness(sheet: &Sheet<'_>, lane: LaneKind) -> Option<Length> {
    let list = &sheet.plan.cut_list;
    let thick = match lane {
        LaneKind::Strip(at) => list.rows.iter().find(|row| row.strip == at)?.rough_thickness,
        LaneKind::Staves(at) => list.staves.get(at)?.thickness,
        LaneKind::Round(at) => list.discs.get(at)?.thickness,
        LaneKind::Cone(at) => list.cones.get(at)?.thickness,
        LaneKind::Insert(at) => sheet.plan.insert_blanks.get(at)?.size?[1],
        LaneKind::Ply { board, ply } => list.boards.get(board)?.plies.get(ply)?.thickness,
    };
    Some(thick.value)
}

/// `12 A, 6 C`; what lies behind a place to avoid begins at the mark behind it.
fn cuts(sheet: &Sheet<'_>, board: &SawnBoard, from: Length, lane: &BoardLane) -> String {
    let mut free = from;
    let cut = |cut: &BoardCut| {
        let before = std::mem::replace(&mut free, cut.to);
        let skipped = board.avoid.iter().rfind(|(_, good)| before <= *good && *good <= cut.from);
        let behind = skipped.map_or(String::new(), |(_, good)| format!("behind {}: ", sheet.own(*good)));
        format!("{behind}{} {}", cut.count, cut_name(sheet, lane.is, cut.row))
    };
    lane.cuts.iter().map(cut).collect::<Vec<_>>().join(", ")
}

/// One row a setting: rips from the widest down, then each miter with its stops from the longest down.
fn settings(page: &mut Page, sheet: &Sheet<'_>) {
    page.push_str(
        "## Settings of the saw, in order\n\nWhat has the same figures is one setting: cut it in one go.\n\n",
    );
    let mut table = Table::new("settings", &[">no.", "work", ">fence or stop", ">miter", ">tilt", "for", "rings"]);
    let mut number = 0;
    let mut row = |layers: Vec<usize>, cells: [String; 6]| {
        number += 1;
        let [work, stop, miter, tilt, what, rings] = cells;
        table.row_for(layers, [format!("**{number}**"), work, stop, miter, tilt, what, rings]);
    };
    let all = |lanes: &[LaneKind]| lanes.iter().flat_map(|lane| layers_of(sheet, *lane)).collect();
    let upright = || show_angle(Angle::ZERO);
    for fence in &sheet.plan.cutting.fences {
        let names = listed(fence.lanes.iter().map(|lane| lane_name(sheet, *lane)));
        row(
            all(&fence.lanes),
            [
                if fence.is_short {
                    format!("{} to width at the band saw or on a sled", counted(fence.rips as usize, "cut", "cuts"))
                } else {
                    counted(fence.rips as usize, "rip", "rips")
                },
                // The plan reckons in whole micrometers, which may be one more than the width as it was told.
                format!("**{}**", sheet.ripped_both(fence.width - Length::from_mm(0.001))),
                String::new(),
                upright(),
                names,
                used_in(sheet, &fence.lanes),
            ],
        );
    }
    for stop in &sheet.plan.cutting.stops {
        row(
            all(&stop.lanes),
            [
                counted(stop.pieces as usize, "square crosscut", "square crosscuts"),
                format!("**{}**", sheet.both(stop.length)),
                show_angle(Angle::ZERO),
                upright(),
                listed(stop.lanes.iter().map(|lane| lane_name(sheet, *lane))),
                used_in(sheet, &stop.lanes),
            ],
        );
    }
    for (at, stave) in sheet.plan.cut_list.staves.iter().enumerate() {
        row(
            served(&stave.serves),
            [
                format!("{} edges", 2 * stave.count),
                format!("**{}** outside, at the wider end", sheet.both(stave.wide.value)),
                if stave.taper.value.degrees() < 1e-6 {
                    String::new()
                } else {
                    format!(
                        "taper **{}**, the second edge **{}**",
                        show_angle(stave.taper.value),
                        show_angle(stave.taper.value * 2.0)
                    )
                },
                format!("**{}**", show_angle(stave.tilt.value)),
                lane_name(sheet, LaneKind::Staves(at)),
                sheet.served(&stave.serves),
            ],
        );
    }
    for setup in &sheet.plan.cut_list.setups {
        for at in setup.rows.clone() {
            let Some(cut) = sheet.plan.cut_list.rows.get(at) else { continue };
            row(
                served(&cut.serves),
                [
                    format!("{} crosscuts", cut.count),
                    format!("**{}**", sheet.both(cut.long_edge.value)),
                    format!("**{}**", show_angle(setup.miter.value)),
                    show_angle(setup.bevel.value),
                    format!("{} from {}", letter(at), strip(cut.strip)),
                    sheet.served(&cut.serves),
                ],
            );
        }
    }
    page.table(table);
    page.push('\n');
    for setup in &sheet.plan.cut_list.setups {
        let _ = writeln!(
            page,
            "- **Test of miter {}**: {}{}",
            show_angle(setup.miter.value),
            test_cut(setup),
            must_show(sheet, setup)
        );
    }
    page.push('\n');
}

/// The layers that something of these lanes ends in.
fn used_in(sheet: &Sheet<'_>, lanes: &[LaneKind]) -> String {
    let mut layers: Vec<usize> = lanes.iter().flat_map(|lane| layers_of(sheet, *lane)).collect();
    layers.sort_unstable();
    layers.dedup();
    listed(layers.into_iter().map(|layer| sheet.layer(layer).to_owned()))
}

/// What the shop's own error would make the test show: of a half ring half of what a ring would.
fn must_show(sheet: &Sheet<'_>, setup: &Setup) -> String {
    setup.closing.map_or(String::new(), |closing| {
        let is_half = setup.closes.is_some_and(|pieces| pieces.is_multiple_of(2) && pieces >= 4);
        let shown = if is_half { closing.opening.value * 0.5 } else { closing.opening.value };
        format!(
            " An error of {} at every cut, all the same way, shows as {} in this test; less must be seen. In the largest ring it would be a gap of {}.",
            show_angle(closing.error.value),
            show_angle(shown),
            sheet.pair(closing.gap.value),
        )
    })
}

/// Whether faces, edges and ends of such a board are still to be trued.
fn is_rough(sheet: &Sheet<'_>, supply: Supply) -> bool {
    let shop = &sheet.recipe.shop;
    match supply {
        Supply::AtHand(at) => shop.boards.get(at).is_some_and(|board| board.is_rough),
        Supply::ForSale(at) => shop.for_sale.get(at).is_some_and(|sale| sale.board.is_rough),
        Supply::Usual(_) => true,
    }
}

/// What comes from no board.
fn elsewhere(page: &mut Page, sheet: &Sheet<'_>) {
    let list = &sheet.plan.cut_list;
    if !list.spacers.is_empty() {
        page.push_str("Spacers come from thin stock: see the cut list.\n\n");
    }
    if list.discs.iter().any(|row| row.kind == crate::plan::RoundKind::Sheet) {
        page.push_str("Sheets come from veneer: see the cut list.\n\n");
    }
}
