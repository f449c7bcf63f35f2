//! `cutting-plan.svg`: every board to one scale, with what is cut from it.

use svg::Document;
use svg::node::element::{Group, Rectangle};

use crate::plan::cutting::{BoardLane, BoardSection, Pile, SawnBoard};
use crate::quantity::Length;

use super::cutting_plan::{cut_name, lane_name, size, source, woods};
use super::drawing::{GRAY, bytes, line, page, rectangle, shortened, words};
use super::sheet::Sheet;

/// The longest board is drawn so long.
const WIDE: f64 = 960.0;
const MARGIN: f64 = 24.0;
/// Above each board.
const HEAD: f64 = 26.0;
const GAP: f64 = 18.0;

/// The drawing as it goes into a file.
pub(super) fn drawing(sheet: &Sheet<'_>) -> Vec<u8> {
    let all: Vec<(&Pile, &SawnBoard)> =
        sheet.plan.cutting.piles.iter().flat_map(|pile| pile.boards.iter().map(move |board| (pile, board))).collect();
    let title = format!("{}: cutting plan", sheet.name());
    let longest = all.iter().map(|(_, board)| board.long.mm()).fold(0.0, f64::max);
    if all.is_empty() || longest <= 0.0 {
        let empty = page(WIDE + 2.0 * MARGIN, 90.0, &title, "Nothing is sawn from boards.");
        return bytes(&empty.add(words((MARGIN, 50.0), 14.0, "Nothing of this vessel is sawn from boards.")));
    }
    let scale = WIDE / longest;
    let tall: f64 = all.iter().map(|(_, board)| HEAD + board.wide.mm() * scale + GAP).sum();
    let about = format!("{} boards, each with its sections, lanes and cuts, drawn to one scale.", all.len());
    let mut document = page(WIDE + 2.0 * MARGIN, tall + 96.0, &title, &about);
    document = document.add(words((MARGIN, 28.0), 16.0, &title).set("font-weight", "bold"));
    let mut y = 44.0;
    for (at, (pile, board)) in all.iter().enumerate() {
        let sides = size(sheet, [board.thick, board.wide, board.long]);
        let text = format!("Board {}: {}, {sides} ({})", at + 1, woods(sheet, pile), source(board.supply));
        document = document.add(words((MARGIN, y + 17.0), 12.0, &shortened(&text, 130)));
        document = document.add(one(sheet, board, (MARGIN, y + HEAD), scale));
        y += HEAD + board.wide.mm() * scale + GAP;
    }
    bytes(&foot(sheet, document, y, scale))
}

/// What a length of wood is drawn as.
fn wood((x, y): (f64, f64), (wide, tall): (f64, f64), fill: &str) -> Rectangle {
    rectangle((x, y), (wide.max(0.0), tall.max(0.0))).set("fill", fill).set("stroke", "#222").set("stroke-width", 0.6)
}

fn one(sheet: &Sheet<'_>, board: &SawnBoard, (x0, y0): (f64, f64), scale: f64) -> Group {
    let (x, y) = (|along: Length| x0 + along.mm() * scale, |across: Length| y0 + across.mm() * scale);
    let (long, wide) = (board.long.mm() * scale, board.wide.mm() * scale);
    let mut group = Group::new().add(wood((x0, y0), (long, wide), "#e8e8e8"));
    for section in &board.sections {
        group =
            section.lanes.iter().fold(group, |group, lane| group.add(of_lane(sheet, (section, lane), (x0, y0), scale)));
        group = group
            .add(line((x(section.to), y0), (x(section.to), y0 + wide)).set("stroke", "#222").set("stroke-width", 1.4));
    }
    for (from, to) in &board.avoid {
        let bad = wood((x(*from), y0), ((*to - *from).mm() * scale, wide), "#bbb");
        group = group.add(bad);
        for (a, b) in [(y0, y0 + wide), (y0 + wide, y0)] {
            group = group.add(line((x(*from), a), (x(*to), b)).set("stroke", "#222").set("stroke-width", 0.8));
        }
    }
    for offcut in &board.offcuts {
        let (from, across) = (x(offcut.along.0), y(offcut.across.0));
        let (long, wide) =
            ((offcut.along.1 - offcut.along.0).mm() * scale, (offcut.across.1 - offcut.across.0).mm() * scale);
        let text = format!(
            "left: {} × {}",
            sheet.own(offcut.across.1 - offcut.across.0),
            sheet.own(offcut.along.1 - offcut.along.0)
        );
        group = group.add(labelled(&text, (from, across), (long, wide)));
    }
    group
}

/// A lane with its pieces, one by one.
fn of_lane(sheet: &Sheet<'_>, (section, lane): (&BoardSection, &BoardLane), (x0, y0): (f64, f64), scale: f64) -> Group {
    let (top, tall) = (y0 + lane.from.mm() * scale, lane.width.mm() * scale);
    let from = x0 + section.from.mm() * scale;
    let long = (section.to - section.from).mm() * scale;
    let mut group = Group::new().add(wood((from, top), (long, tall), "#f6f6f6"));
    for cut in &lane.cuts {
        let each = (cut.to - cut.from) / f64::from(cut.count.max(1));
        for piece in 0..cut.count {
            let start = x0 + (cut.from + each * f64::from(piece)).mm() * scale;
            let wide = each.mm() * scale;
            group = group.add(wood((start, top), (wide * 0.94, tall), "#fff"));
        }
        let text = format!("{} {}", cut.count, cut_name(sheet, lane.is, cut.row));
        let start = x0 + cut.from.mm() * scale;
        let text = match lane.cuts.first() {
            Some(first) if first.from == cut.from => format!("{}: {text}", lane_name(sheet, lane.is)),
            _ => text,
        };
        group = group.add(labelled(&text, (start, top), ((cut.to - cut.from).mm() * scale, tall)));
    }
    group
}

/// A text in the middle of a field, on a white ground that keeps it readable over lines; none where it does not fit.
fn labelled(text: &str, (x, y): (f64, f64), (wide, tall): (f64, f64)) -> Group {
    let size = (tall * 0.62).clamp(0.0, 12.0);
    #[allow(clippy::cast_precision_loss, reason = "a label is short")]
    let needs = text.chars().count() as f64 * size * 0.6 + 6.0;
    if size < 5.5 || needs > wide {
        return Group::new();
    }
    let (middle, base) = (x + wide / 2.0, y + tall / 2.0 + size * 0.36);
    let ground = rectangle((middle - needs / 2.0, base - size * 0.9), (needs, size * 1.2))
        .set("fill", "#fff")
        .set("fill-opacity", 0.85);
    Group::new().add(ground).add(words((middle, base), size, text).set("text-anchor", "middle"))
}

/// A rule to measure by, and what the shades mean.
fn foot(sheet: &Sheet<'_>, document: Document, y: f64, scale: f64) -> Document {
    let rule = if sheet.recipe.units == crate::quantity::System::Inch {
        Length::from_inches(4.0)
    } else {
        Length::from_mm(100.0)
    };
    let (base, long) = (y + 12.0, rule.mm() * scale);
    let tick = |x: f64| line((x, base - 4.0), (x, base + 4.0)).set("stroke", "#222").set("stroke-width", 1);
    document
        .add(line((MARGIN, base), (MARGIN + long, base)).set("stroke", "#222").set("stroke-width", 1))
        .add(tick(MARGIN))
        .add(tick(MARGIN + long))
        .add(words((MARGIN + long + 8.0, base + 4.0), 11.0, &sheet.own(rule)).set("fill", GRAY))
        .add(
            words((MARGIN, base + 24.0), 11.0, "White: pieces. Pale: the rest of a rip, with first cuts, kerfs and the tail under the clamp. Gray: the rest of the board. Crossed: left out. Heavy line: crosscut first.")
                .set("fill", GRAY),
        )
}
