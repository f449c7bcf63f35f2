//! The pattern of the outside laid flat.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Point, Rect, Shape as _};

use crate::output::picture::{Anchor, Label, Mark, Picture};
use crate::output::sheet::{Sheet, counted};
use crate::view;

use super::dress::{DEEP, GRAY, INK, THIN, dresses};
use super::elevation::Pieces;
use super::lettering;
use super::marks::{MARGIN, Page, ROW, TYPE, WIDE, area, group, label, line, outline, plain, stroke};

/// Where the strip begins; the layers' names stand to its left.
const LEFT: f64 = 118.0;
/// Least and greatest height of the strip.
const TALL: (f64, f64) = (150.0, 560.0);
/// A row is not drawn lower.
const LEAST: f64 = 7.0;
/// Of the letters in the pieces.
const LETTER: f64 = 9.0;

/// Round the vessel from left to right as seen from outside, every piece over its angles.
pub(in crate::output) fn unrolled(sheet: &Sheet<'_>) -> Picture {
    let flat = view::unrolled::unrolled(sheet.recipe, sheet.design.vessel);
    let dresses = dresses(sheet);
    let about = format!(
        "The pattern of the outside laid flat, once round: {}, the lowest at the foot, angles counterclockwise seen from above.",
        counted(flat.rows.len(), "row", "rows"),
    );
    let lead = "Once round the vessel, seen from outside. Widths are angles, heights have a scale of their own.";
    let mut page = Page::new(sheet, "pattern laid flat", about, lead);
    let (low, high) = flat
        .rows
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (_, from, to)| (low.min(*from), high.max(*to)));
    let (low, high) = if low < high { (low, high) } else { (0.0, 1.0) };
    let wide = WIDE - MARGIN - LEFT;
    // As tall as it is true on the widest circle, if that can be read.
    let thinnest = flat.rows.iter().map(|(_, from, to)| to - from).fold(f64::INFINITY, f64::min).max(0.1);
    let upright = (wide / (std::f64::consts::TAU * flat.radius.max(1.0)))
        .max(LEAST / thinnest)
        .clamp(TALL.0 / (high - low), TALL.1 / (high - low));
    let top = page.top + 4.0;
    let (x, y) = (|angle: f64| LEFT + wide * angle / 360.0, |z: f64| top + (high - z) * upright);
    let bottom = y(low);

    let strip = Rect::new(x(0.0), top, x(360.0), bottom).to_path(0.1);
    let mut used = BTreeSet::new();
    let mut is_open = false;
    let mut layers: BTreeMap<usize, Pieces> = BTreeMap::new();
    let (mut marks, mut letters) = (Vec::new(), Vec::new());
    for (layer, from, to) in &flat.rows {
        let Some(built) = sheet.layers().get(*layer) else { continue };
        let mut row = Vec::new();
        // A layer that is parted shows in two rows.
        let pieces = layers.entry(*layer).or_default();
        if matches!(&built.shape, crate::geometry::LayerShape::Ring(ring) if ring.gap.is_some()) {
            is_open = true;
            let back = Rect::new(x(0.0), y(*to), x(360.0), y(*from)).to_path(0.1);
            row.push(area(back, plain(DEEP), stroke(DEEP, THIN)));
        }
        for cell in flat.cells.iter().filter(|cell| cell.layer == *layer) {
            let (z0, z1) = cell.heights;
            if z0 < *from - 1e-6 || z1 > *to + 1e-6 {
                continue;
            }
            let Some(dress) = dresses.get(cell.wood) else { continue };
            used.insert(cell.wood);
            let cell_box = Rect::new(x(cell.angles.0), y(z1), x(cell.angles.1), y(z0));
            pieces.add(cell.is, dress, area(cell_box.to_path(0.1), dress.fill, dress.stroke()));
            let needs = lettering::width(&dress.short, LETTER, true) + 6.0;
            // The wood without lines over it is known by that.
            if dress.fill.hatch.is_some() && cell_box.width() >= needs && cell_box.height() >= LETTER + 3.0 {
                let at = (cell_box.center().x, cell_box.center().y + LETTER * 0.36);
                letters.push(Mark::Text(Label {
                    size: LETTER,
                    is_bold: true,
                    anchor: Anchor::Middle,
                    has_ground: true,
                    ..label(at, &dress.short)
                }));
            }
        }
        marks.extend(row);
    }
    for (layer, pieces) in layers {
        let id = sheet.layers().get(layer).map_or("", |layer| layer.id.as_str());
        marks.push(group(id, sheet.layer(layer), pieces.marks(sheet)));
    }
    marks.push(outline(strip, super::marks::bold()));
    marks.extend(letters);
    page.marks.push(group("pattern", "the pattern", marks));
    let names_end = names(sheet, &mut page, &flat, &y, (top, bottom));
    let base = scale(&mut page, &x, bottom);
    let more = if is_open { vec![(plain(DEEP), "open")] } else { Vec::new() };
    let end = page.legend(&dresses, &used, &more, base.max(names_end) + 14.0);
    page.end(end)
}

/// The layers' names, each as near to its row as the others let it.
fn names(
    sheet: &Sheet<'_>,
    page: &mut Page,
    flat: &view::unrolled::Unrolled,
    y: &impl Fn(f64) -> f64,
    (top, bottom): (f64, f64),
) -> f64 {
    const APART: f64 = 12.5;
    const SMALL: f64 = 10.0;
    let rows: Vec<_> = flat.rows.iter().rev().collect();
    let wanted: Vec<(f64, f64)> =
        rows.iter().map(|(_, from, to)| (y(f64::midpoint(*from, *to)) - APART / 2.0, APART)).collect();
    let tops = lettering::spread(&wanted, top - 2.0, bottom + 2.0);
    let mut marks = Vec::new();
    let mut end = bottom;
    for ((layer, from, to), at) in rows.iter().zip(tops) {
        let middle = at + APART / 2.0;
        let text = lettering::fitted(sheet.layer(*layer), SMALL, false, LEFT - MARGIN - 18.0);
        let name = Label { size: SMALL, anchor: Anchor::End, ..label((LEFT - 18.0, middle + 3.6), &text) };
        marks.push(Mark::Text(name));
        let row = Point::new(LEFT - 2.0, y(f64::midpoint(*from, *to)));
        marks.push(outline(line(Point::new(LEFT - 15.0, middle), row), stroke(GRAY, THIN)));
        end = end.max(at + APART);
    }
    page.marks.push(group("names", "layers", marks));
    end
}

/// Ticks at every 30 degrees; where they end below.
fn scale(page: &mut Page, x: &impl Fn(f64) -> f64, bottom: f64) -> f64 {
    let mut marks = Vec::new();
    for step in 0..=12 {
        let angle = f64::from(step) * 30.0;
        let long = if step % 3 == 0 { 7.0 } else { 4.0 };
        marks.push(outline(
            line(Point::new(x(angle), bottom + 2.0), Point::new(x(angle), bottom + 2.0 + long)),
            stroke(INK, THIN),
        ));
        if step % 3 == 0 {
            let text = match step {
                9 => "270° (front)".to_owned(),
                _ => format!("{angle:.0}°"),
            };
            let anchor = match step {
                0 => Anchor::Start,
                12 => Anchor::End,
                _ => Anchor::Middle,
            };
            let at = (x(angle), bottom + 10.0 + TYPE);
            marks.push(Mark::Text(Label { anchor, ..label(at, &text) }));
        }
    }
    page.marks.push(group("angles", "angles", marks));
    bottom + 10.0 + ROW
}
