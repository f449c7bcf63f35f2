//! One layer on the bench, as glued, seen from above.

use std::collections::BTreeSet;

use kurbo::{Circle, Point, Shape as _};

use crate::geometry::{BuiltLayer, LayerShape, RingSet, RingShape};
use crate::output::picture::{Anchor, Label, Mark, Picture, Stroke};
use crate::output::sheet::{Sheet, counted};
use crate::quantity::{Length, show_angle};
use crate::view;
use crate::view::layer::{Blank, Grain};
use crate::view::solid::PieceOf;

use super::dress::{BOLD, Dress, GRAY, INK, THIN, WHITE, dresses};
use super::elevation::Pieces;
use super::lettering;
use super::marks::{
    MARGIN, Page, Place, ROW, TYPE, WIDE, area, dashed, dimension, group, head, label, line, outline, stroke, words,
};

/// The drawing is so wide and tall; figures stand to its right.
const ROOM: f64 = 380.0;
/// Where the figures begin.
const FIGURES: f64 = MARGIN + ROOM + 28.0;

/// The plan of a layer: pieces, grain, circles, figures.
pub(in crate::output) fn layer(sheet: &Sheet<'_>, at: usize) -> Option<Picture> {
    let built = sheet.layers().get(at)?;
    let plan = view::layer::layer(at, built);
    let dresses = dresses(sheet);
    let name = sheet.layer(at);
    let kind = kind(built);
    let about = format!(
        "{name} of {} seen from above as it is glued: {kind}, its grain, the circles of blank and finished work.",
        sheet.layers().len(),
    );
    let number = at + 1;
    let lead = format!("Layer {number} of {} from the bench, seen from above as glued: {kind}.", sheet.layers().len());
    let mut page = Page::new(sheet, name, about, &lead);
    let reach = plan.swing.max(plan.with_allowance.0).max(1.0);
    // Room for the angle's words and the dimension outside.
    let scale = (ROOM / 2.0 - 22.0) / reach;
    let top = page.top;
    let place = Place { origin: (MARGIN + ROOM / 2.0, top + ROOM / 2.0), scale };

    let mut used = BTreeSet::new();
    let (mut pieces, mut over) = (Pieces::default(), Vec::new());
    for blank in &plan.blanks {
        let Some(dress) = dresses.get(blank.wood) else { continue };
        used.insert(blank.wood);
        pieces.add(
            blank.is,
            dress,
            area(place.path(&blank.outline), dress.fill, Stroke { width: 1.1, ..dress.stroke() }),
        );
        over.extend(grain(place, blank, dress));
    }
    page.marks.push(group(&built.id, name, pieces.marks(sheet)));
    page.marks.push(group("grain", "grain", over));
    let circles = circles(built);
    // Paper beside the line, so that it is seen on any wood.
    let drawn = circles.iter().flat_map(|circle| {
        let path = Circle::new(place.origin, circle.radius.mm() * scale).to_path(0.05);
        let beside = stroke(WHITE, circle.stroke.width + 1.4);
        [outline(path.clone(), beside), outline(path, circle.stroke.clone())]
    });
    page.marks.push(group("circles", "circles", drawn.collect()));
    first_joint(&mut page, place, built, reach);
    long_edge(sheet, &mut page, place, &plan.blanks, built);

    let mut y = top + 20.0;
    let mut figures = Vec::new();
    for circle in &circles {
        let x = FIGURES;
        figures.push(outline(line(Point::new(x, y - 4.0), Point::new(x + 26.0, y - 4.0)), circle.stroke.clone()));
        figures.push(words((x + 32.0, y), circle.name));
        figures.push(words((x + 32.0, y + ROW), &format!("Ø {}", sheet.pair(circle.radius * 2.0))));
        y += 2.0 * ROW + 5.0;
    }
    y += 6.0;
    for text in said(sheet, at, built) {
        for (at, part) in lettering::lines(&text, TYPE, WIDE - MARGIN - FIGURES).iter().enumerate() {
            figures.push(words((FIGURES + if at > 0 { 8.0 } else { 0.0 }, y), part));
            y += ROW;
        }
        y += 3.0;
    }
    page.marks.push(group("figures", "figures", figures));
    let bottom = page.legend(&dresses, &used, &[], y.max(top + ROOM + 12.0) + 12.0);
    Some(page.end(bottom))
}

fn kind(built: &BuiltLayer) -> String {
    match &built.shape {
        LayerShape::Disc { is_sheet: true, .. } => "a round of sheet".to_owned(),
        LayerShape::Disc { .. } => "a disc".to_owned(),
        LayerShape::Slant(_) => "one ring of a cone".to_owned(),
        LayerShape::Ring(ring) => {
            let count = ring.woods.len();
            match ring.set {
                RingSet::Round if ring.gap.is_some() => {
                    format!("an open ring of {}", counted(count, "segment", "segments"))
                }
                RingSet::Round => format!("a ring of {}", counted(count, "segment", "segments")),
                RingSet::ToMiddle { .. } => counted(count, "wedge", "wedges"),
                RingSet::Upright(_) => counted(count, "stave", "staves"),
            }
        }
    }
}

struct Ring {
    name: &'static str,
    radius: Length,
    stroke: Stroke,
}

fn circles(built: &BuiltLayer) -> Vec<Ring> {
    let mut all = vec![
        Ring {
            name: "turned blank, outside",
            radius: built.blank_outer_radius.value,
            stroke: dashed(INK, THIN, &[8.0, 4.0]),
        },
        Ring { name: "finished, outside (greatest)", radius: built.outer_radius.value, stroke: stroke(INK, BOLD) },
    ];
    if built.inner_radius.value > Length::ZERO {
        all.push(Ring {
            name: "finished, inside (least)",
            radius: built.inner_radius.value,
            stroke: dashed(INK, BOLD, &[1.5, 3.0]),
        });
    }
    if built.blank_inner_radius.value > Length::ZERO {
        all.push(Ring {
            name: "hole, with allowance",
            radius: built.blank_inner_radius.value,
            stroke: dashed(INK, THIN, &[3.0, 3.0]),
        });
    }
    all
}

/// The figures of the layer in words.
fn said(sheet: &Sheet<'_>, at: usize, built: &BuiltLayer) -> Vec<String> {
    let mut all = vec![
        format!("thick {}", sheet.pair(built.z1.value - built.z0.value)),
        format!("before flattening {}", sheet.pair(built.rough_thickness.value)),
    ];
    match &built.shape {
        LayerShape::Ring(ring) => {
            all.extend(of_ring(sheet, at, ring));
            all.push(format!("first joint at {}", show_angle(built.rotation.normalized())));
        }
        LayerShape::Disc { blank_diameter, .. } => all.push(format!("saw Ø {}", sheet.pair(blank_diameter.value))),
        LayerShape::Slant(slant) => all.push(format!("face {} wide", sheet.pair(slant.width.value))),
    }
    all
}

fn of_ring(sheet: &Sheet<'_>, layer: usize, ring: &RingShape) -> Vec<String> {
    let is_upright = matches!(ring.set, RingSet::Upright(_));
    let mut all = Vec::new();
    for (at, cut) in ring.cuts.iter().enumerate() {
        let many =
            if ring.cut_of.is_empty() { ring.woods.len() } else { ring.cut_of.iter().filter(|of| **of == at).count() };
        if ring.cuts.len() > 1 {
            all.push(format!("{} over {}:", counted(many, "piece", "pieces"), show_angle(cut.sweep)));
        }
        if is_upright {
            all.push(format!("taper {}, bevel {}", show_angle(cut.miter.value), show_angle(cut.bevel.value)));
            all.push(format!("wider end {}", sheet.pair(cut.long_edge.value)));
            all.push(format!("narrower end {}", sheet.pair(cut.short_edge.value)));
        } else {
            all.push(format!("miter {} off square", show_angle(cut.miter.value)));
            all.push(format!("long edge {}", sheet.pair(cut.long_edge.value)));
            if cut.short_edge.value > Length::from_mm(0.01) {
                all.push(format!("short edge {}", sheet.pair(cut.short_edge.value)));
            }
        }
    }
    let strip = if is_upright { "board" } else { "strip" };
    let width = sheet.plan.cut_list.strip_of(layer).unwrap_or(ring.strip_width.value);
    all.push(format!("{strip} {} {}", sheet.ripped_pair(width), if is_upright { "thick" } else { "wide" }));
    if let Some(gap) = ring.gap {
        all.push(format!("gaps of {}", show_angle(gap.value)));
    }
    if let Some(spacer) = ring.spacer {
        all.push(format!("spacers {} of {}", sheet.pair(spacer.thickness.value), sheet.wood(spacer.wood)));
    }
    if let RingSet::ToMiddle { plug: Some(plug) } = ring.set {
        all.push(format!("plug Ø {}", sheet.pair(plug.diameter.value)));
    }
    all
}

/// A double arrow along the grain, or the end grain's sign, and the wood's letter, as far as there is room.
fn grain(place: Place, blank: &Blank, dress: &Dress) -> Vec<Mark> {
    const LETTER: f64 = 9.0;
    let (along, across) = (blank.room.0 * place.scale, blank.room.1 * place.scale);
    let at = place.at(blank.middle.x, blank.middle.y);
    if matches!(blank.is, PieceOf::Spacer { .. }) {
        return Vec::new();
    }
    let mut marks = Vec::new();
    let needs = lettering::width(&dress.short, LETTER, true) / 2.0 + 2.0;
    let has_letter = along.min(across * 1.4) >= needs.max(LETTER / 2.0 + 1.0);
    if has_letter {
        marks.push(Mark::Text(Label {
            size: LETTER,
            is_bold: true,
            anchor: Anchor::Middle,
            has_ground: true,
            ..label((at.x, at.y + LETTER * 0.36), &dress.short)
        }));
    }
    match blank.grain {
        Grain::Along(way) => {
            let way = kurbo::Vec2::new(way.x, -way.y);
            let (near, far) = (if has_letter { needs + 3.0 } else { 0.0 }, (along - 4.0).min(34.0));
            if far - near >= 8.0 && across >= 3.0 {
                for side in [-1.0, 1.0] {
                    let (from, tip) = (at + way * (side * near), at + way * (side * far));
                    marks.push(outline(line(from, tip), stroke(dress.sign, THIN)));
                    marks.push(head(from, tip, dress.sign));
                }
            }
        }
        // Seen from the end.
        Grain::Upright if !has_letter && across >= 4.0 => {
            marks.push(outline(Circle::new(at, 3.0).to_path(0.05), stroke(dress.sign, THIN)));
        }
        Grain::Upright | Grain::Crossed => {}
    }
    marks
}

/// A tick outside, where the first joint lies.
fn first_joint(page: &mut Page, place: Place, built: &BuiltLayer, reach: f64) {
    if !matches!(built.shape, LayerShape::Ring(_)) {
        return;
    }
    let angle = built.rotation;
    let at = |radius: f64| place.at(angle.cos() * radius, angle.sin() * radius);
    let out = reach + 5.0 / place.scale;
    let (from, to) = (at(out + 14.0 / place.scale), at(out));
    let marks = vec![outline(line(from, to), stroke(INK, THIN)), head(from, to, INK)];
    page.marks.push(group("first-joint", "the first joint", marks));
}

/// The long edge of the lowest segment, as a dimension.
fn long_edge(sheet: &Sheet<'_>, page: &mut Page, place: Place, blanks: &[Blank], built: &BuiltLayer) {
    let LayerShape::Ring(ring) = &built.shape else { return };
    let edges = blanks.iter().filter_map(|blank| Some((blank.is, blank.long_edge?)));
    let lowest = edges.min_by(|(_, a), (_, b)| (a.0.y + a.1.y).total_cmp(&(b.0.y + b.1.y)));
    let Some((PieceOf::Segment { segment, .. }, (from, to))) = lowest else { return };
    if matches!(ring.set, RingSet::Upright(_)) {
        return;
    }
    let Some(cut) = ring.cut(segment) else { return };
    let (from, to) = (place.at(from.x, from.y), place.at(to.x, to.y));
    let middle = from.midpoint(to);
    let out = (middle - Point::from(place.origin)).normalize();
    let (near, far) = (from + out * 9.0, to + out * 9.0);
    let mut marks = dimension(near, far, false);
    for (corner, end) in [(from, near), (to, far)] {
        marks.push(outline(line(corner + out * 2.0, end + out * 4.0), stroke(GRAY, THIN)));
    }
    let at = (place.origin.0, place.origin.1 + ROOM / 2.0 + 8.0);
    let text = format!("long edge {}", sheet.pair(cut.long_edge.value));
    marks.push(Mark::Text(Label { anchor: Anchor::Middle, ..label(at, &text) }));
    page.marks.push(group("long-edge", "the long edge", marks));
}
