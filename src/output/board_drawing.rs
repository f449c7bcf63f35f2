//! `cutting-plan.svg`: every board to one scale, with what is cut from it.

use svg::Document;
use svg::node::element::{Group, Polygon, Rectangle};

use crate::plan::cutting::{BoardLane, BoardSection, LaneKind, Pile, SawnBoard};
use crate::quantity::Length;

use super::cutting_plan::{cut_name, lane_name, size, source, woods};
use super::drawing::{GRAY, bytes, line, number, page, rectangle, shortened, words};
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

/// A lane with its pieces, one by one, the kerfs between them as wide as they are.
fn of_lane(sheet: &Sheet<'_>, (section, lane): (&BoardSection, &BoardLane), (x0, y0): (f64, f64), scale: f64) -> Group {
    let (top, tall) = (y0 + lane.from.mm() * scale, lane.width.mm() * scale);
    let from = x0 + section.from.mm() * scale;
    let long = (section.to - section.from).mm() * scale;
    let mut group = Group::new().add(wood((from, top), (long, tall), "#f6f6f6"));
    // The strip is turned over after each cut, whatever piece comes next.
    let mut turned = 0_u32;
    for cut in &lane.cuts {
        let pitch = (cut.to - cut.from) / f64::from(cut.count.max(1));
        for piece in 0..cut.count {
            let start = cut.from + pitch * f64::from(piece);
            let corners = outline(sheet, lane, (cut.row, turned), (start, pitch));
            turned += 1;
            let place = |(along, across): (Length, Length)| {
                format!("{},{}", number(x0 + along.mm() * scale), number(top + across.mm() * scale))
            };
            let points = corners.map(place).join(" ");
            let drawn = Polygon::new().set("points", points).set("fill", "#fff");
            group = group.add(drawn.set("stroke", "#222").set("stroke-width", 0.6).set("stroke-linejoin", "round"));
        }
    }
    for cut in &lane.cuts {
        let cut_is = cut_name(sheet, lane.is, cut.row);
        let counted = format!("{} {cut_is}", cut.count);
        let of = lane_name(sheet, lane.is);
        let is_first = lane.cuts.first().is_some_and(|first| first.from == cut.from);
        let whole = if is_first && of != cut_is { format!("{of}: {counted}") } else { counted.clone() };
        let field = ((x0 + cut.from.mm() * scale, top), ((cut.to - cut.from).mm() * scale, tall));
        let mut texts = [whole, counted, cut_is].into_iter();
        if let Some(fits) = texts.find(|text| label_size(text, field.1).is_some()) {
            group = group.add(labelled(&fits, field.0, field.1));
        }
    }
    group
}

/// The corners of a piece on its lane, along the board and across the lane. Segments lean one way and the other where
/// their strip is turned over after each cut, and all the same way where it is not.
fn outline(
    sheet: &Sheet<'_>,
    lane: &BoardLane,
    (row, turned): (usize, u32),
    (start, pitch): (Length, Length),
) -> [(Length, Length); 4] {
    let (list, wide) = (&sheet.plan.cut_list, lane.width);
    let flat = |from: Length, to: Length| [(from, Length::ZERO), (to, Length::ZERO), (to, wide), (from, wide)];
    let (LaneKind::Strip(strip), Some(cut)) = (lane.is, list.rows.get(row)) else {
        return flat(start, start + (pitch - sheet.recipe.shop.kerf.value).max(Length::ZERO));
    };
    let slant = (cut.long_edge.value - cut.short_edge.value) / 2.0;
    let is_turned = list.strips.get(strip).is_some_and(|strip| strip.may_be_turned_over);
    // On the middle line a piece is as long as the mean of its edges. Half of the first cut's slant lies before the
    // first piece's middle line, half of it behind the last one's; where the strip is not turned over a piece begins
    // with its long edge.
    let (from, to) = if is_turned {
        let from = start - slant / 2.0;
        (from, from + (cut.long_edge.value + cut.short_edge.value) / 2.0)
    } else {
        (start + slant / 2.0, start + cut.long_edge.value - slant / 2.0)
    };
    let lean = if is_turned && turned % 2 == 1 { slant * -0.5 } else { slant * 0.5 };
    [(from + lean, Length::ZERO), (to - lean, Length::ZERO), (to + lean, wide), (from - lean, wide)]
}

/// How large a text can be in a field; none when it could not be read there.
fn label_size(text: &str, (wide, tall): (f64, f64)) -> Option<(f64, f64)> {
    let size = (tall * 0.62).clamp(0.0, 12.0);
    #[allow(clippy::cast_precision_loss, reason = "a label is short")]
    let needs = text.chars().count() as f64 * size * 0.6 + 6.0;
    (size >= 5.5 && needs <= wide).then_some((size, needs))
}

/// A text in the middle of a field, on a white ground that keeps it readable over lines; none where it does not fit.
fn labelled(text: &str, (x, y): (f64, f64), (wide, tall): (f64, f64)) -> Group {
    let Some((size, needs)) = label_size(text, (wide, tall)) else { return Group::new() };
    let (middle, base) = (x + wide / 2.0, y + tall / 2.0 + size * 0.36);
    let ground = rectangle((middle - needs / 2.0, base - size * 0.9), (needs, size * 1.2))
        .set("fill", "#fff")
        .set("fill-opacity", 0.9);
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
