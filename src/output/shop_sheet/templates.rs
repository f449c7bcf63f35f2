//! Rings at true scale, to lay the pieces on: a template for each kind of ring.

use std::fmt::Write as _;

use kurbo::{BezPath, Circle, Point, Shape as _};

use super::super::picture::{Anchor, Color, Fill, Label, Mark, Picture, Shape, Stroke};
use super::super::sheet::{Sheet, letter, listed};
use super::Block;
use crate::geometry::{BuiltLayer, LayerShape, RingSet, RingShape, SegmentCut};
use crate::quantity::{Angle, Length, show_angle};

const BLACK: Color = Color(0, 0, 0);
const GRAY: Color = Color(110, 110, 110);
/// Round the ring, in millimeters.
const EDGE: f64 = 3.0;

/// One template for each kind of ring, in the order of the layers.
pub(super) fn templates(sheet: &Sheet<'_>) -> Vec<Block> {
    let mut kinds: Vec<(String, Vec<usize>)> = Vec::new();
    for (at, layer) in sheet.layers().iter().enumerate() {
        let Some(ring) = flat(layer) else { continue };
        let key = key(layer, ring);
        match kinds.iter_mut().find(|(known, _)| *known == key) {
            Some((_, layers)) => layers.push(at),
            None => kinds.push((key, vec![at])),
        }
    }
    kinds.iter().filter_map(|(_, layers)| template(sheet, layers)).collect()
}

/// The ring of a layer whose pieces lie flat.
fn flat(layer: &BuiltLayer) -> Option<&RingShape> {
    match &layer.shape {
        LayerShape::Ring(ring) if !matches!(ring.set, RingSet::Upright(_)) => Some(ring),
        LayerShape::Ring(_) | LayerShape::Disc { .. } | LayerShape::Slant(_) => None,
    }
}

/// What two rings must share to be laid on one template: all that is seen of them to the hundredth.
fn key(layer: &BuiltLayer, ring: &RingShape) -> String {
    let mut key = String::new();
    for cut in &ring.cuts {
        let _ = write!(key, "{:.2} {:.4};", cut.long_edge.value.mm(), cut.sweep.degrees());
    }
    let radii = [
        layer.blank_outer_radius.value,
        layer.blank_inner_radius.value,
        layer.outer_radius.value,
        layer.inner_radius.value,
    ];
    let radii = radii.map(|radius| format!("{:.1}", radius.mm())).join(" ");
    format!("{key} {:?} {:.2} {radii} {}", ring.cut_of, ring.strip_width.value.mm(), ring.woods.len())
}

fn template(sheet: &Sheet<'_>, layers: &[usize]) -> Option<Block> {
    let (at, layer) = layers.first().and_then(|at| Some((*at, sheet.layers().get(*at)?)))?;
    let ring = flat(layer)?;
    let names = listed(layers.iter().map(|at| sheet.layer(*at).to_owned()));
    let lines = notes(sheet, layers, layer, ring);
    let radius = ring.corner_radius.value.mm() + EDGE;
    let center = Point::new(radius, radius);
    let mut marks = Vec::new();
    let whole = |color, width| Stroke { color, width, dash: Vec::new() };
    let mut start = layer.rotation;
    let mut between = Angle::ZERO;
    if let Some(gap) = ring.gap {
        between = gap.value;
    }
    for (segment, wood) in ring.woods.iter().enumerate() {
        let cut = cut_of(ring, segment)?;
        let middle = start + cut.sweep * 0.5;
        let (outer, inner) = reach(ring, cut);
        let (direction, half) = (middle, cut.long_edge.value.mm() / 2.0);
        let short = (cut.short_edge.value.mm() / 2.0).max(0.0);
        let place = |along: f64, across: f64| {
            let (x, y) = (
                direction.cos() * along - direction.sin() * across,
                direction.sin() * along + direction.cos() * across,
            );
            Point::new(center.x + x, center.y - y)
        };
        let mut path = BezPath::new();
        path.move_to(place(outer, -half));
        path.line_to(place(outer, half));
        path.line_to(place(inner, short));
        path.line_to(place(inner, -short));
        path.close_path();
        marks.push(Mark::Shape(Shape { path, fill: None, stroke: Some(whole(BLACK, 0.25)) }));
        let label = row_of(sheet, at, *wood, cut).map_or(String::new(), letter);
        let size = (ring.strip_width.value.mm() * 0.28).clamp(2.0, 4.5);
        let spot = place(f64::midpoint(outer, inner), 0.0);
        marks.push(words((spot.x, spot.y + size * 0.36), &label, size, Anchor::Middle, true));
        start = start + cut.sweep + between;
    }
    marks.push(first_joint(layer.rotation, center, ring));
    circles(&mut marks, layer, center);
    for (dx, dy) in [(4.0, 0.0), (0.0, 4.0)] {
        let mut path = BezPath::new();
        path.move_to((center.x - dx, center.y - dy));
        path.line_to((center.x + dx, center.y + dy));
        marks.push(Mark::Shape(Shape { path, fill: None, stroke: Some(whole(BLACK, 0.25)) }));
    }
    let picture = Picture {
        title: format!("Template of {names}"),
        about: lines.join(". "),
        size: (2.0 * radius, 2.0 * radius),
        unit_mm: Some(1.0),
        marks,
    };
    Some(Block::Template(picture, format!("Template: {names}"), lines))
}

/// What is written over the ring.
fn notes(sheet: &Sheet<'_>, layers: &[usize], layer: &BuiltLayer, ring: &RingShape) -> Vec<String> {
    let turned = show_angle(layer.rotation);
    let mut lines = vec![format!("{} segments, first joint (the black point) at {turned}", ring.woods.len())];
    let at = layers.first().copied().unwrap_or_default();
    for cut in &ring.cuts {
        let mut letters: Vec<usize> = ring.woods.iter().filter_map(|wood| row_of(sheet, at, *wood, cut)).collect();
        letters.sort_unstable();
        letters.dedup();
        let letters = listed(letters.into_iter().map(letter));
        lines.push(format!(
            "{letters}: long edge {}, miter {}",
            sheet.pair(cut.long_edge.value),
            show_angle(cut.miter.value)
        ));
    }
    let across = |radius: Length| sheet.pair(radius * 2.0);
    let hole =
        |radius: Length| if radius > Length::ZERO { format!(", hole {}", across(radius)) } else { String::new() };
    lines.push(format!(
        "dashed: blank ⌀ {}{}",
        across(layer.blank_outer_radius.value),
        hole(layer.blank_inner_radius.value)
    ));
    lines.push(format!("dotted: finished ⌀ {}{}", across(layer.outer_radius.value), hole(layer.inner_radius.value)));
    if let Some(spacer) = &ring.spacer {
        lines.push(format!("spacers of {} fill the gaps", sheet.pair(spacer.thickness.value)));
    }
    lines
}

/// A point that shows where the first joint of a ring is: within its hole, or outside of it where there is none.
fn first_joint(at: Angle, center: Point, ring: &RingShape) -> Mark {
    let hole = ring.hole_radius.mm();
    let (tip, foot) = if hole > 2.0 * EDGE {
        (hole - 0.4, hole - EDGE + 0.2)
    } else {
        let corner = ring.corner_radius.value.mm();
        (corner + 0.4, corner + EDGE - 0.2)
    };
    let place = |along: f64, across: f64| {
        let (x, y) = (at.cos() * along - at.sin() * across, at.sin() * along + at.cos() * across);
        Point::new(center.x + x, center.y - y)
    };
    let mut path = BezPath::new();
    path.move_to(place(tip, 0.0));
    path.line_to(place(foot, 1.1));
    path.line_to(place(foot, -1.1));
    path.close_path();
    Mark::Shape(Shape { path, fill: Some(Fill { color: BLACK, hatch: None }), stroke: None })
}

fn circles(marks: &mut Vec<Mark>, layer: &BuiltLayer, center: Point) {
    let kinds: [(Length, Color, f64, &[f64]); 4] = [
        (layer.blank_outer_radius.value, GRAY, 0.2, &[3.0, 1.5]),
        (layer.blank_inner_radius.value, GRAY, 0.2, &[3.0, 1.5]),
        (layer.outer_radius.value, BLACK, 0.25, &[0.6, 1.0]),
        (layer.inner_radius.value, BLACK, 0.25, &[0.6, 1.0]),
    ];
    for (radius, color, width, dash) in kinds.into_iter().filter(|(radius, ..)| *radius > Length::ZERO) {
        let path = Circle::new(center, radius.mm()).to_path(0.01);
        marks.push(Mark::Shape(Shape { path, fill: None, stroke: Some(Stroke { color, width, dash: dash.to_vec() }) }));
    }
}

fn cut_of(ring: &RingShape, segment: usize) -> Option<&SegmentCut> {
    ring.cuts.get(ring.cut_of.get(segment).copied().unwrap_or(0))
}

/// Distances of a segment's long and short edge from the axis. Spacers push it outward.
fn reach(ring: &RingShape, cut: &SegmentCut) -> (f64, f64) {
    let half = cut.sweep * 0.5;
    let spacer = ring.spacer.as_ref().map_or(0.0, |spacer| spacer.thickness.value.mm());
    let outer = (cut.long_edge.value.mm() / 2.0 + spacer / (2.0 * half.cos())) / half.tan();
    let inner = (cut.short_edge.value.mm() / 2.0 + spacer / (2.0 * half.cos())) / half.tan();
    (outer, inner)
}

/// The row of the cut list that a segment of this wood is on.
fn row_of(sheet: &Sheet<'_>, layer: usize, wood: usize, cut: &SegmentCut) -> Option<usize> {
    let near = |long: Length| (long.mm() - cut.long_edge.value.mm()).abs() < 0.5;
    sheet.plan.cut_list.rows.iter().position(|row| {
        row.wood == wood && near(row.long_edge.value) && row.serves.iter().any(|serving| serving.layer == layer)
    })
}

fn words(at: (f64, f64), text: &str, size: f64, anchor: Anchor, is_bold: bool) -> Mark {
    Mark::Text(Label { at, text: text.to_owned(), size, anchor, is_bold, turned: 0.0, color: BLACK, has_ground: false })
}
