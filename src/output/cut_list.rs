//! The saw's page: strips to rip, then one block for each setting, then rounds and totals.

use std::fmt::Write as _;

use crate::plan::cutting::LaneKind;
use crate::plan::{CutRow, Setup};
use crate::quantity::{Angle, Length, show_angle, show_fine};
use crate::resolve::RecipeWood;

use super::cut_kinds as kinds;
use super::page::Page;
use super::sheet::{Sheet, counted, layers_of, letter, listed, served, strip};
use super::table::Table;
use super::{error_budget, inserts, safety};

/// The page, from top to bottom.
pub(super) fn page(sheet: &Sheet<'_>) -> Page {
    let mut page = Page::titled(&format!("{}: cut list", sheet.title()));
    page.push_str(
        "Inch fractions are the nearest 1/64, those of widths to rip the next one up. Angles are off a square cut: square is 0°.\n\
         Nothing is added for spares: one piece a ring, or one in ten, is usual.\n\n",
    );
    kinds::boards(&mut page, sheet);
    strips(&mut page, sheet);
    for (at, setup) in sheet.plan.cut_list.setups.iter().enumerate() {
        setting(&mut page, sheet, at, setup);
    }
    kinds::staves(&mut page, sheet);
    kinds::rounds(&mut page, sheet);
    kinds::spacers(&mut page, sheet);
    kinds::cones(&mut page, sheet);
    error_budget::section(&mut page, sheet);
    inserts::blanks(&mut page, sheet);
    totals(&mut page, sheet);
    page.push_str("## At the saw\n\n");
    for line in safety::SAW {
        let _ = writeln!(page, "- {line}");
    }
    let _ = write!(page, "\n{}\n", safety::DEFER);
    page
}

fn strips(page: &mut Page, sheet: &Sheet<'_>) {
    let list = &sheet.plan.cut_list;
    if list.strips.is_empty() {
        return;
    }
    page.push_str("## Rip and plane these strips\n\n");
    let mut table = Table::new(
        "strips",
        &["strip", "wood", ">width", ">thickness", ">length in all", ">each further strip", "for cuts"],
    );
    for (at, stock) in list.strips.iter().enumerate() {
        let given = if stock.is_given { ", given" } else { "" };
        table.row_for(
            layers_of(sheet, LaneKind::Strip(at)),
            [
                format!("**{}**", strip(at)),
                sheet.wood(stock.wood).to_owned(),
                format!("{}{given}", sheet.ripped_both(stock.width.value)),
                sheet.both(stock.thickness.value),
                sheet.pair(stock.length.value),
                format!("+ {}", sheet.pair(stock.first_cuts.value + stock.hold.value)),
                listed(stock.rows.iter().map(|row| letter(*row))),
            ],
        );
    }
    page.table(table);
    let _ = write!(
        page,
        "\n- Needed widths within {} of each other are one strip, as wide as the widest, rounded up to what a rule shows: a hair too wide does no harm, too narrow does.\n\
         - The grain runs along the strip. Edges square, faces flat, one thickness through each strip.\n\
         - The length has the kerfs in it, the slanting first cut, and the tail that stays under the clamp.\n",
        show_fine(Length::from_mm(0.25), sheet.recipe.units),
    );
    let given: Vec<String> = (0..list.strips.len()).filter(|at| list.strips[*at].is_given).map(strip).collect();
    if !given.is_empty() {
        let _ = writeln!(page, "- The recipe gives the width of {}: rip to that, not to the wall.", given.join(", "));
    }
    page.push('\n');
}

fn setting(page: &mut Page, sheet: &Sheet<'_>, at: usize, setup: &Setup) {
    let miter = setup.miter.value;
    let square = Angle::from_degrees(90.0) - miter;
    let segments = setup.segments.iter().map(u32::to_string).collect::<Vec<_>>().join(" and ");
    let _ = writeln!(page, "## Setting {}: miter {}, rings of {segments}\n", at + 1, show_angle(miter));
    let _ = writeln!(
        page,
        "1. Miter gauge to **{}** (**{}** on a scale where a square cut is 90°). Blade upright.",
        show_angle(miter),
        show_angle(square),
    );
    let _ = writeln!(page, "2. **Test cut.** {}", test_cut(setup));
    if let Some(closing) = setup.closing {
        let _ = writeln!(
            page,
            "   {} at every cut, all the same way, misses the full circle by {}: {} in the largest ring.",
            show_angle(closing.error.value),
            show_angle(closing.opening.value),
            sheet.pair(closing.gap.value),
        );
    }
    let _ = writeln!(
        page,
        "3. Stop to the **long edge**. {} Longest first: a piece gone wrong can be cut down to a shorter one.",
        turning_over(sheet, setup),
    );
    page.push_str(
        "4. Halfway through a ring, lay its pieces together and test again. Mark each bag with its letter.\n\n",
    );
    let mut table = Table::new(
        "cut-list",
        &["cut", ">pieces", "wood", ">stop at long edge", ">short edge", "from", ">uses", "for ring (pieces)"],
    );
    for at in setup.rows.clone() {
        let Some(row) = sheet.plan.cut_list.rows.get(at) else { continue };
        table.row_for(served(&row.serves), cells(sheet, at, row));
    }
    page.table(table);
    let least = sheet.recipe.shop.safe_piece.value;
    let is_short = |at: &usize| sheet.plan.cut_list.rows.get(*at).is_some_and(|row| row.long_edge.value < least);
    let short: Vec<String> = setup.rows.clone().filter(is_short).map(letter).collect();
    if !short.is_empty() {
        let _ = writeln!(
            page,
            "\n**Short pieces: {}** (under {}). Only in a holder or under a hold-down; fewer segments are safer.",
            listed(short.into_iter()),
            sheet.pair(least),
        );
    }
    page.push('\n');
}

fn cells(sheet: &Sheet<'_>, at: usize, row: &CutRow) -> [String; 8] {
    [
        format!("**{}**", letter(at)),
        format!("**{}**", row.count),
        sheet.wood(row.wood).to_owned(),
        format!("**{}**", sheet.both(row.long_edge.value)),
        if row.short_edge.value.mm() < 0.005 { "a point".to_owned() } else { sheet.both(row.short_edge.value) },
        strip(row.strip),
        sheet.pair(row.net.value),
        sheet.served(&row.serves),
    ]
}

pub(super) fn test_cut(setup: &Setup) -> String {
    let miter = setup.miter.value;
    let Some(pieces) = setup.closes else {
        return format!(
            "From scrap, cut two pieces to one stop and lay them end to end on a line, long edges outside. \
             Between the long edges there must be **{}**: no number of such pieces makes a ring of its own to test with.",
            show_angle(Angle::from_degrees(180.0) - miter * 2.0)
        );
    };
    let own = if setup.segments == [pieces] {
        ""
    } else {
        " (a test only: the rings cut here are not of these pieces alone)"
    };
    if pieces.is_multiple_of(2) && pieces >= 4 {
        let half = pieces / 2;
        format!(
            "From scrap, cut {half} pieces to one stop and lay them together as a half ring{own}: both ends must touch a \
             straight edge without light. Light at the outer corners: more angle. At the inner ones: less."
        )
    } else {
        format!(
            "From scrap, cut {pieces} pieces to one stop and lay the whole ring dry{own}: an odd count has no half that \
             a straight edge could check. A gap open outside: more angle. Inside: less."
        )
    }
}

/// What a cut does to the strip: one whose faces are unlike has to stay as it lies.
fn turning_over(sheet: &Sheet<'_>, setup: &Setup) -> String {
    let list = &sheet.plan.cut_list;
    let mut one_way: Vec<usize> =
        list.rows.iter().take(setup.rows.end).skip(setup.rows.start).map(|row| row.strip).collect();
    one_way.retain(|at| list.strips.get(*at).is_some_and(|strip| !strip.may_be_turned_over));
    one_way.sort_unstable();
    one_way.dedup();
    if one_way.is_empty() {
        return "Turn the strip over after each cut.".to_owned();
    }
    format!(
        "Turn the strip over after each cut, but **not {}**: the faces are unlike. There the gauge swings to the other \
         side for every second cut, and a wedge falls away between two pieces.",
        listed(one_way.into_iter().map(strip))
    )
}

fn totals(page: &mut Page, sheet: &Sheet<'_>) {
    page.push_str("## In all\n\n");
    page.table(wood_totals(sheet));
    let list = &sheet.plan.cut_list;
    let has_boards = !(list.boards.is_empty() && list.staves.is_empty() && list.cones.is_empty());
    let what = if has_boards { "boards, strips and squares" } else { "strips and squares" };
    let _ =
        writeln!(page, "\nBoard feet and liters are of the {what} above, before your saw has wasted any of a board.\n");
}

/// Per wood, and the sum where there is more than one.
pub(super) fn wood_totals(sheet: &Sheet<'_>) -> Table {
    let totals = &sheet.plan.totals;
    let mut table = Table::new("totals", &["wood", "", ">pieces", ">board feet", ">liters", ">finished"]);
    for wood in &totals.woods {
        let common =
            sheet.recipe.woods.get(wood.wood).and_then(RecipeWood::wood).map_or("", |row| row.common_name.as_str());
        table.row([
            sheet.wood(wood.wood).to_owned(),
            common.to_owned(),
            wood.pieces.to_string(),
            format!("{:.2}", wood.lumber.value.board_feet()),
            format!("{:.2}", wood.lumber.value.liters()),
            // Of a wood that only inserts are made of nobody knows what stays.
            if wood.finished.value.mm3() > 0.0 { sheet.mass(wood.mass.value) } else { "—".to_owned() },
        ]);
    }
    if totals.woods.len() > 1 {
        table.row([
            "all".to_owned(),
            counted(sheet.layers().len(), "layer", "layers"),
            totals.pieces.to_string(),
            format!("{:.2}", totals.lumber.value.board_feet()),
            format!("{:.2}", totals.lumber.value.liters()),
            sheet.mass(totals.mass.value),
        ]);
    }
    table
}
