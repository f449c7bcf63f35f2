//! Every board to one scale, with what is cut from it.

use std::collections::BTreeSet;

use kurbo::{BezPath, Point, Rect, Shape as _};

use crate::output::cutting_plan::{cut_name, lane_name, size, source, woods};
use crate::output::picture::{Anchor, Fill, Label, Mark, Picture};
use crate::output::sheet::Sheet;
use crate::plan::cutting::{BoardLane, BoardSection, LaneKind, Pile, SawnBoard};
use crate::quantity::{Length, System};

use super::dress::{BOLD, Dress, GRAY, INK, THIN, WHITE, dresses};
use super::lettering;
use super::marks::{MARGIN, Page, ROW, TYPE, WIDE, area, group, label, line, outline, plain, stroke, words};

/// The longest board is drawn so long.
const LONG: f64 = WIDE - 2.0 * MARGIN;
/// What is written above a board.
const HEAD: f64 = 20.0;
const GAP: f64 = 20.0;
/// What is left of a rip, with first cuts, kerfs and the tail under the clamp.
const RIP: Fill = plain(crate::output::picture::Color(246, 246, 246));
/// What is left of the board.
const REST: Fill = plain(crate::output::picture::Color(228, 228, 228));
/// What may not be used.
const AVOIDED: Fill = plain(crate::output::picture::Color(187, 187, 187));

/// `cutting-plan.svg`: all boards below one another.
pub(in crate::output) fn boards(sheet: &Sheet<'_>) -> Picture {
    let all = all(sheet);
    let Some(scale) = scale(&all) else {
        let said = "Nothing of this vessel is sawn from boards.";
        let page = Page::new(sheet, "cutting plan", said.to_owned(), said);
        let end = page.top;
        return page.end(end);
    };
    let about = format!("{} boards, each with its sections, lanes and cuts, drawn to one scale.", all.len());
    let mut page =
        Page::new(sheet, "cutting plan", about, "Every board to one scale; letters are those of the cut list.");
    let dresses = dresses(sheet);
    let mut used = BTreeSet::new();
    let mut y = page.top;
    for (at, (pile, board)) in all.iter().enumerate() {
        let (mark, end) = Drawing { sheet, dresses: &dresses, scale, y }.board(at, pile, board, &mut used);
        page.marks.push(mark);
        y = end + GAP;
    }
    let end = foot(sheet, &mut page, &used, y, scale);
    page.end(end)
}

/// Each board as a picture of its own, all to one scale; before them what their shades mean.
pub(in crate::output) fn each_board(sheet: &Sheet<'_>) -> Vec<Picture> {
    let all = all(sheet);
    let Some(scale) = scale(&all) else { return Vec::new() };
    let dresses = dresses(sheet);
    let mut used = BTreeSet::new();
    let mut pictures: Vec<Picture> = Vec::new();
    for (at, (pile, board)) in all.iter().enumerate() {
        let (mark, end) = Drawing { sheet, dresses: &dresses, scale, y: 2.0 }.board(at, pile, board, &mut used);
        pictures.push(Picture {
            title: title(sheet, at, pile, board),
            about: "The board with its sections, lanes and cuts.".to_owned(),
            size: (WIDE, (end + 3.0).ceil()),
            unit_mm: None,
            marks: vec![mark],
        });
    }
    let mut key = Page::bare("What the shades mean".to_owned(), "Woods, shades and a rule.".to_owned());
    let end = foot(sheet, &mut key, &used, 4.0, scale);
    pictures.insert(0, key.end(end - MARGIN + 3.0));
    pictures
}

fn all<'a>(sheet: &Sheet<'a>) -> Vec<(&'a Pile, &'a SawnBoard)> {
    sheet.plan.cutting.piles.iter().flat_map(|pile| pile.boards.iter().map(move |board| (pile, board))).collect()
}

/// Points for each millimeter; none where there is no board.
fn scale(all: &[(&Pile, &SawnBoard)]) -> Option<f64> {
    let longest = all.iter().map(|(_, board)| board.long.mm()).fold(0.0, f64::max);
    (longest > 0.0).then(|| LONG / longest)
}

fn title(sheet: &Sheet<'_>, at: usize, pile: &Pile, board: &SawnBoard) -> String {
    let sides = size(sheet, [board.thick, board.wide, board.long]);
    format!("Board {}: {}, {sides} ({})", at + 1, woods(sheet, pile), source(board.supply))
}

struct Drawing<'a, 's> {
    sheet: &'a Sheet<'s>,
    dresses: &'a [Dress],
    scale: f64,
    /// Where the words above the board begin.
    y: f64,
}

impl Drawing<'_, '_> {
    /// The board, and where it ends below.
    fn board(self, at: usize, pile: &Pile, board: &SawnBoard, used: &mut BTreeSet<usize>) -> (Mark, f64) {
        let title = title(self.sheet, at, pile, board);
        let shown = lettering::fitted(&title, TYPE, true, LONG);
        let mut marks = vec![Mark::Text(Label { is_bold: true, ..label((MARGIN, self.y + 12.0), &shown) })];
        let top = self.y + HEAD;
        let end = top + board.wide.mm() * self.scale;
        let x = |along: Length| MARGIN + along.mm() * self.scale;
        let y = |across: Length| top + across.mm() * self.scale;
        marks.push(boxed(Rect::new(MARGIN, top, x(board.long), end), REST));
        for section in &board.sections {
            for lane in &section.lanes {
                used.extend(wood_of(self.sheet, lane.is));
                marks.extend(self.lane(section, lane, top));
            }
            let across = line(Point::new(x(section.to), top), Point::new(x(section.to), end));
            marks.push(outline(across, stroke(INK, BOLD)));
        }
        for (from, to) in &board.avoid {
            let bad = Rect::new(x(*from), top, x(*to), end);
            marks.push(boxed(bad, AVOIDED));
            for (a, b) in [(top, end), (end, top)] {
                marks.push(outline(line(Point::new(bad.x0, a), Point::new(bad.x1, b)), stroke(INK, THIN)));
            }
        }
        for offcut in &board.offcuts {
            let field = Rect::new(x(offcut.along.0), y(offcut.across.0), x(offcut.along.1), y(offcut.across.1));
            let sides = [offcut.across, offcut.along].map(|(from, to)| self.sheet.own(to - from)).join(" × ");
            marks.extend(labelled(&[format!("left: {sides}"), sides], field, false));
        }
        (group(&format!("board-{}", at + 1), &title, marks), end)
    }

    /// A lane with its pieces, one by one, the kerfs between them as wide as they are.
    fn lane(&self, section: &BoardSection, lane: &BoardLane, board_top: f64) -> Vec<Mark> {
        let (sheet, scale) = (self.sheet, self.scale);
        let (top, tall) = (board_top + lane.from.mm() * scale, lane.width.mm() * scale);
        let x = |along: Length| MARGIN + along.mm() * scale;
        let mut marks = vec![boxed(Rect::new(x(section.from), top, x(section.to), top + tall), RIP)];
        let fill =
            wood_of(sheet, lane.is).and_then(|wood| self.dresses.get(wood)).map_or(plain(WHITE), |dress| dress.fill);
        // The strip is turned over after each cut, whatever piece comes next.
        let mut turned = 0_u32;
        for cut in &lane.cuts {
            let pitch = (cut.to - cut.from) / f64::from(cut.count.max(1));
            let name = cut_name(sheet, lane.is, cut.row);
            for piece in 0..cut.count {
                let start = cut.from + pitch * f64::from(piece);
                let corners = outline_of(sheet, lane, (cut.row, turned), (start, pitch));
                turned += 1;
                let mut path = BezPath::new();
                for (at, (along, across)) in corners.into_iter().enumerate() {
                    let place = Point::new(x(along), top + across.mm() * scale);
                    if at == 0 { path.move_to(place) } else { path.line_to(place) }
                }
                path.close_path();
                marks.push(titled(&name, area(path, fill, stroke(INK, THIN))));
            }
        }
        for (at, cut) in lane.cuts.iter().enumerate() {
            let cut_is = cut_name(sheet, lane.is, cut.row);
            let counted = format!("{} {cut_is}", cut.count);
            let of = lane_name(sheet, lane.is);
            let whole = if at == 0 && of != cut_is { format!("{of}: {counted}") } else { counted.clone() };
            let field = Rect::new(x(cut.from), top, x(cut.to), top + tall);
            marks.extend(labelled(&[whole, counted, cut_is], field, true));
        }
        marks
    }
}

/// Told where the pointer rests on it. Pieces that are alike have no name of their own.
fn titled(title: &str, mark: Mark) -> Mark {
    Mark::Group(crate::output::picture::Group { name: None, title: Some(title.to_owned()), marks: vec![mark] })
}

/// Index into the recipe's woods.
fn wood_of(sheet: &Sheet<'_>, lane: LaneKind) -> Option<usize> {
    let list = &sheet.plan.cut_list;
    match lane {
        LaneKind::Strip(at) => list.strips.get(at).map(|strip| strip.wood),
        LaneKind::Staves(at) => list.staves.get(at).map(|stave| stave.wood),
        LaneKind::Round(at) => list.discs.get(at).map(|disc| disc.wood),
        LaneKind::Cone(at) => list.cones.get(at).map(|cone| cone.wood),
        LaneKind::Insert(at) => sheet.plan.insert_blanks.get(at).map(|blank| blank.wood),
        LaneKind::Ply { board, ply } => {
            let panel = list.boards.get(board)?;
            let plies = sheet.recipe.woods.get(panel.wood)?.board()?;
            plies.plies.get(ply).map(|ply| ply.wood)
        }
    }
}

/// The corners of a piece on its lane, along the board and across the lane. Segments lean one way and the other where
/// their strip is turned over after each cut, and all the same way where it is not.
fn outline_of(
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

fn boxed(field: Rect, fill: Fill) -> Mark {
    area(field.to_path(0.1), fill, stroke(INK, THIN))
}

/// The first of the texts that can be read in the middle of a field; none where no one can.
fn labelled(texts: &[String], field: Rect, is_bold: bool) -> Option<Mark> {
    const SIZES: (f64, f64) = (6.0, TYPE);
    let size = (field.height() * 0.66).min(SIZES.1);
    let fits = |text: &&String| size >= SIZES.0 && lettering::width(text, size, is_bold) + 4.0 <= field.width();
    let text = texts.iter().find(fits)?;
    let at = (field.center().x, field.center().y + size * 0.36);
    let label = Label { size, anchor: Anchor::Middle, has_ground: true, is_bold, ..label(at, text) };
    Some(Mark::Text(label))
}

/// A rule to measure by, the woods, and what the shades mean; where it ends.
fn foot(sheet: &Sheet<'_>, page: &mut Page, used: &BTreeSet<usize>, top: f64, scale: f64) -> f64 {
    let rule = if sheet.recipe.units == System::Inch { Length::from_inches(4.0) } else { Length::from_mm(100.0) };
    let (base, long) = (top + 6.0, rule.mm() * scale);
    let at = |x: f64, y: f64| Point::new(MARGIN + x, base + y);
    for (from, to) in [((0.0, 0.0), (long, 0.0)), ((0.0, -4.0), (0.0, 4.0)), ((long, -4.0), (long, 4.0))] {
        page.marks.push(outline(line(at(from.0, from.1), at(to.0, to.1)), stroke(INK, THIN)));
    }
    page.marks.push(words((MARGIN + long + 8.0, base + 4.0), &sheet.own(rule)));
    let mut more = vec![(RIP, "rest of a rip, kerfs, tail"), (REST, "rest of the board")];
    if all(sheet).iter().any(|(_, board)| !board.avoid.is_empty()) {
        more.push((AVOIDED, "crossed: left out"));
    }
    let end = page.legend(&dresses(sheet), used, &more, base + 14.0);
    let said = "A heavy line across a board is crosscut first.";
    page.marks.push(Mark::Text(Label { color: GRAY, ..label((MARGIN, end + ROW + 2.0), said) }));
    end + ROW + 4.0
}
