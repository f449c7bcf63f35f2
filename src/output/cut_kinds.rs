//! The saw's page for what is no plain segment: laminated boards, staves, rounds, spacers, cones.

use std::fmt::Write as _;

use crate::plan::{BoardRow, ConeRow, DiscRow, RoundKind, StaveRow};
use crate::quantity::{Angle, Length, show_angle};

use super::page::Page;
use super::sheet::{Sheet, counted, letter, listed, served, strip};
use super::table::Table;

/// The section that comes before any strip is ripped.
pub(super) fn boards(page: &mut Page, sheet: &Sheet<'_>) {
    let boards = &sheet.plan.cut_list.boards;
    if boards.is_empty() {
        return;
    }
    page.push_str("## Glue up these boards first\n\n");
    let mut table = Table::new("laminated", &["board", ">ply, from below", "wood", ">thickness", ">width", ">length"]);
    for board in boards {
        for (at, ply) in board.plies.iter().enumerate() {
            table.row([
                if at == 0 { format!("**{}**", sheet.wood(board.wood)) } else { String::new() },
                (at + 1).to_string(),
                sheet.wood(ply.wood).to_owned(),
                sheet.both(ply.thickness.value),
                sheet.ripped_pair(board.width.value),
                sheet.pair(board.length.value),
            ]);
        }
    }
    page.table(table);
    page.push_str(
        "\n- Grain along the length in every ply. Faces planed, glued face on face between flat cauls, left to dry before anything is ripped.\n\
         - As wide as all that is ripped from it, with a kerf after each, and as long as the longest. Long and narrow ones may be glued up one by one.\n",
    );
    for board in boards {
        let _ = writeln!(page, "- {}", about(sheet, board));
    }
    page.push('\n');
}

fn about(sheet: &Sheet<'_>, board: &BoardRow) -> String {
    let list = &sheet.plan.cut_list;
    let letters = list.letters();
    let strips = board.strips.iter().map(|at| strip(*at));
    let staves = board.staves.iter().map(|at| letter(letters.staves + at));
    let rounds = board.discs.iter().map(|at| letter(letters.discs + at));
    let from: Vec<String> = strips.chain(staves).chain(rounds).collect();
    let faces = if board.may_be_turned_over {
        "Its faces are alike: its strips may be turned over at the saw."
    } else {
        "**Its faces are unlike: mark the upper one.** Its strips are not turned over at the saw, and take more length for it."
    };
    format!(
        "`{}`: {} thick, for {}. {faces}",
        sheet.wood(board.wood),
        sheet.pair(board.thickness.value),
        listed(from.into_iter()),
    )
}

/// One block for each setting of blade and sled.
pub(super) fn staves(page: &mut Page, sheet: &Sheet<'_>) {
    let list = &sheet.plan.cut_list;
    let is_alike = |a: &StaveRow, b: &StaveRow| same(a.tilt.value, b.tilt.value) && same(a.taper.value, b.taper.value);
    let mut at = list.letters().staves;
    for rows in list.staves.chunk_by(is_alike) {
        stave_setting(page, sheet, rows, at);
        at += rows.len();
    }
}

fn same(a: Angle, b: Angle) -> bool {
    (a.degrees() - b.degrees()).abs() < 1e-6
}

fn stave_setting(page: &mut Page, sheet: &Sheet<'_>, rows: &[StaveRow], first: usize) {
    let Some(StaveRow { tilt, taper, lean, .. }) = rows.first() else { return };
    let (tilt, taper, lean) = (tilt.value, taper.value, lean.value);
    let is_upright = taper.degrees() < 1e-6;
    let square = |angle: Angle| show_angle(Angle::from_degrees(90.0) - angle);
    let stand = if is_upright {
        "upright".to_owned()
    } else {
        let way = if lean > Angle::ZERO { "outward" } else { "inward" };
        format!("leaning {} {way}", show_angle(Angle::from_degrees(lean.degrees().abs())))
    };
    let _ = writeln!(page, "## Staves {stand}: blade tilted {}\n", show_angle(tilt));
    page.push_str("1. Rip each board to the **wider end**, square, along the grain, and cut it to length. The ends are cut level after the glue-up.\n");
    let _ = writeln!(
        page,
        "2. Rip with the blade tilted **{}** (**{}** on a scale where an upright blade is 90°), so that the **inside becomes narrower** than the outside. Both edges.",
        show_angle(tilt),
        square(tilt),
    );
    if is_upright {
        page.push_str("   No taper: both edges run parallel.\n");
    } else {
        let _ = writeln!(
            page,
            "   Each edge tapers: set a taper sled to **{}** (**{}** on a scale where a square cut is 90°). The second edge, with the first one against the sled, takes both tapers: **{}**.",
            show_angle(taper),
            square(taper),
            show_angle(taper * 2.0),
        );
        page.push_str(
            "   The angle decides, not the two widths over the length: the widths are those of the outside face once both ends are \
             cut level, and a leaning board is longer than that by what levelling takes.\n",
        );
    }
    page.push_str(
        "3. **Test.** Stand scrap staves round, taped outside: they must close without light, inside and out.\n\n",
    );
    let mut table = Table::new(
        "cut-list",
        &[
            "cut",
            ">pieces",
            "wood",
            ">board thickness",
            ">outside, wider end",
            ">narrower end",
            ">length",
            ">board used, across",
            "for (pieces)",
        ],
    );
    for (at, row) in rows.iter().enumerate() {
        let given = if row.is_given { ", given" } else { "" };
        table.row_for(
            served(&row.serves),
            [
                format!("**{}**", letter(first + at)),
                format!("**{}**", row.count),
                sheet.wood(row.wood).to_owned(),
                format!("{}{given}", sheet.ripped_both(row.thickness.value)),
                format!("**{}**", sheet.both(row.wide.value)),
                sheet.both(row.narrow.value),
                sheet.pair(row.length.value),
                sheet.pair(row.across.value),
                sheet.served(&row.serves),
            ],
        );
    }
    page.table(table);
    page.push('\n');
}

/// Discs, sheets and plugs, a section each.
pub(super) fn rounds(page: &mut Page, sheet: &Sheet<'_>) {
    let list = &sheet.plan.cut_list;
    let mut at = list.letters().discs;
    for rows in list.discs.chunk_by(|a, b| a.kind == b.kind) {
        round_section(page, sheet, rows, at);
        at += rows.len();
    }
}

fn round_section(page: &mut Page, sheet: &Sheet<'_>, rows: &[DiscRow], first: usize) {
    let Some(DiscRow { kind, .. }) = rows.first() else { return };
    let (title, size, after) = match kind {
        RoundKind::Disc => ("Saw these rounds", ">diameter", "Flat on both faces before they are glued."),
        RoundKind::Sheet => (
            "Cut these sheets",
            ">square, side",
            "As they come: nothing is flattened off a sheet. Cut with a knife and a rule, between two boards if it splits; the corners are turned away.",
        ),
        RoundKind::Plug => (
            "Turn these plugs",
            ">diameter",
            "Turned to fit the hole, and that is bored when the wedges are glued and flat. Face grain up, as the wedges have it.",
        ),
    };
    let _ = writeln!(page, "## {title}\n");
    let mut table = Table::new("cut-list", &["cut", ">pieces", "wood", size, ">thickness", "for"]);
    for (at, disc) in rows.iter().enumerate() {
        table.row_for(
            disc.layers.clone(),
            [
                format!("**{}**", letter(first + at)),
                format!("**{}**", disc.layers.len()),
                sheet.wood(disc.wood).to_owned(),
                format!("**{}**", sheet.both(disc.diameter.value)),
                sheet.both(disc.thickness.value),
                sheet.disc_layers(disc),
            ],
        );
    }
    page.table(table);
    let _ = writeln!(page, "\n{after}\n");
}

/// The thin strips on joints.
pub(super) fn spacers(page: &mut Page, sheet: &Sheet<'_>) {
    let list = &sheet.plan.cut_list;
    if list.spacers.is_empty() {
        return;
    }
    page.push_str("## Spacers\n\n");
    let mut table = Table::new(
        "cut-list",
        &[
            "cut",
            ">pieces",
            "wood",
            ">thickness",
            ">length, outside to hole",
            ">height",
            ">thin strip used",
            "for (pieces)",
        ],
    );
    for (at, row) in list.spacers.iter().enumerate() {
        table.row_for(
            served(&row.serves),
            [
                format!("**{}**", letter(list.letters().spacers + at)),
                format!("**{}**", row.count),
                sheet.wood(row.wood).to_owned(),
                format!("**{}**", sheet.both(row.thickness.value)),
                sheet.both(row.length.value),
                sheet.both(row.height.value),
                sheet.pair(row.net.value),
                sheet.served(&row.serves),
            ],
        );
    }
    page.table(table);
    page.push_str(
        "\n- From a thin board: saw it off thicker, plane or drum-sand it on a carrier board down to the thickness, rip it to the height, then cut to length against a stop.\n\
         - Grain along the longer side. **All of one ring of one thickness**: what one is too thick opens every joint. A hair longer or higher does no harm.\n\n",
    );
}

/// One block for each board.
pub(super) fn cones(page: &mut Page, sheet: &Sheet<'_>) {
    let list = &sheet.plan.cut_list;
    for (at, cone) in list.cones.iter().enumerate() {
        cone_block(page, sheet, cone, &letter(list.letters().cones + at));
    }
}

fn cone_block(page: &mut Page, sheet: &Sheet<'_>, cone: &ConeRow, label: &str) {
    let rings = counted(cone.rings.len(), "ring", "rings");
    let _ = writeln!(page, "## Cone {label}: {rings} from one board of {}\n", sheet.wood(cone.wood));
    let _ = writeln!(
        page,
        "1. One board, flat on both faces: **{}** square or across, **{}** thick.",
        sheet.both(cone.diameter.value),
        sheet.both(cone.thickness.value),
    );
    page.push_str("2. Mark the middle and one straight line across, to set the rings by afterwards. Draw the circles below on the **upper** face.\n");
    let _ = writeln!(
        page,
        "3. Cuts at **{}** from upright (**{}** on a scale where an upright cut is 90°), going down **toward the middle**: every ring comes out wider above.",
        show_angle(cone.angle.value),
        show_angle(Angle::from_degrees(90.0) - cone.angle.value),
    );
    page.push_str("4. From the outside in, as numbered: first the outer edge of a ring, then its inner one. The kerf lies between the inner edge of one ring and the outer edge of the next, so one cut makes both.\n\n");
    let mut table = Table::new("cones", &[">no.", "ring", ">outer radius", ">inner radius"]);
    for (at, ring) in cone.rings.iter().enumerate() {
        table.row_for(
            vec![ring.layer],
            [
                format!("**{}**", at + 1),
                sheet.layer(ring.layer).to_owned(),
                format!("**{}**", sheet.both(ring.outer.value)),
                format!("**{}**", sheet.both(ring.inner.value)),
            ],
        );
    }
    page.table(table);
    let way = if cone.is_wide_face_up { "up, as on the board" } else { "down: turn each over" };
    let _ = writeln!(page, "\nIn the vessel their wider faces look {way}.\n");
}

/// Rows of the summary's table for all that are no segments.
pub(super) fn summary_rows(sheet: &Sheet<'_>) -> Vec<Vec<String>> {
    let list = &sheet.plan.cut_list;
    let letters = list.letters();
    let own = |length: Length| sheet.own(length);
    let head = |at: usize, count: usize, wood: usize| vec![letter(at), count.to_string(), sheet.wood(wood).to_owned()];
    let staves = list.staves.iter().enumerate().map(|(at, row)| {
        let mut cells = head(letters.staves + at, row.count as usize, row.wood);
        let size = format!("{} × {}", own(row.length.value), own(sheet.ripped(row.thickness.value)));
        let tilt = format!("tilt {}", show_angle(row.tilt.value));
        cells.extend([tilt, own(row.wide.value), own(row.narrow.value), size]);
        cells
    });
    let discs = list.discs.iter().enumerate().map(|(at, row)| {
        let mut cells = head(letters.discs + at, row.layers.len(), row.wood);
        let what = if row.kind == RoundKind::Disc { "round" } else { row.kind.word() };
        let across = format!("⌀ {}", own(row.diameter.value));
        cells.extend([what.to_owned(), across, String::new(), format!("× {}", own(row.thickness.value))]);
        cells
    });
    let spacers = list.spacers.iter().enumerate().map(|(at, row)| {
        let mut cells = head(letters.spacers + at, row.count as usize, row.wood);
        let size = format!("{} × {}", own(row.height.value), own(row.thickness.value));
        cells.extend(["spacer".to_owned(), own(row.length.value), String::new(), size]);
        cells
    });
    let cones = list.cones.iter().enumerate().map(|(at, row)| {
        let mut cells = head(letters.cones + at, 1, row.wood);
        let across = format!("⌀ {}", own(row.diameter.value));
        let slant = format!("cone {}", show_angle(row.angle.value));
        cells.extend([slant, across, String::new(), format!("× {}", own(row.thickness.value))]);
        cells
    });
    staves.chain(discs).chain(spacers).chain(cones).collect()
}
