//! What stands on a page, drawn.

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::paint::{Fill, FillRule, Stroke, StrokeDash};
use krilla::surface::Surface;
use kurbo::{BezPath, PathEl, Shape as _};

use super::super::picture::{self, Anchor, Color, Hatch, Label, Mark, Shape};
use super::flow::Op;
use super::font::{Faces, shown};
use super::single;
use crate::quantity::Angle;

/// All of a page, from the back to the front.
pub(super) fn page(surface: &mut Surface<'_>, ops: &[Op<'_>], faces: &Faces) {
    for op in ops {
        match op {
            Op::Text { at, text, size, is_bold, color } => words(surface, faces, *at, (text, *size, *is_bold, *color)),
            Op::Rectangle { at, size, fill, line } => {
                let Some(path) = rectangle(*at, *size) else { continue };
                surface.set_fill(fill.map(filled));
                surface.set_stroke(line.map(|width| stroked(Color(0, 0, 0), width, &[])));
                surface.draw_path(&path);
            }
            Op::Line { from, to, width, color, is_dashed } => {
                let dash: &[f64] = if *is_dashed { &[4.0, 3.0] } else { &[] };
                along(surface, *from, *to, stroked(*color, *width, dash));
            }
            Op::Picture { picture, at, scale, window: [x, y, wide, tall], whole_words } => {
                let Some(edge) = rectangle((*x, *y), (*wide, *tall)) else { continue };
                surface.push_clip_path(&edge, &FillRule::NonZero);
                let (along, down, unit) = (single(at.0), single(at.1), single(*scale));
                surface.push_transform(&Transform::from_row(unit, 0.0, 0.0, unit, along, down));
                let seen = kurbo::Rect::new(x - at.0, y - at.1, x - at.0 + wide, y - at.1 + tall)
                    .scale_from_origin(1.0 / scale);
                marks(surface, faces, &picture.marks, whole_words.then_some(seen));
                surface.pop();
                surface.pop();
            }
        }
    }
}

/// With a window only what is seen through it, and those words that lie in it whole: what a sheet cuts off stands on its
/// neighbor.
fn marks(surface: &mut Surface<'_>, faces: &Faces, all: &[Mark], window: Option<kurbo::Rect>) {
    for mark in all {
        match mark {
            Mark::Shape(of) if window.is_some_and(|window| !is_seen(of, window)) => {}
            Mark::Shape(of) => shape(surface, of),
            Mark::Text(label) => told(surface, faces, label, window),
            Mark::Group(group) => marks(surface, faces, &group.marks, window),
        }
    }
}

fn is_seen(shape: &Shape, window: kurbo::Rect) -> bool {
    /// A corner reaches out over its path by this many widths of the line: PDF's miter limit is 10.
    const CORNER: f64 = 10.0;
    let line = shape.stroke.as_ref().map_or(0.0, |stroke| stroke.width * CORNER);
    shape.path.bounding_box().inflate(line, line).overlaps(window)
}

fn shape(surface: &mut Surface<'_>, shape: &Shape) {
    let Some(path) = traced(&shape.path) else { return };
    if let Some(fill) = shape.fill {
        surface.set_fill(Some(filled(fill.color)));
        surface.set_stroke(None);
        surface.draw_path(&path);
        if let Some(hatch) = fill.hatch {
            surface.push_clip_path(&path, &FillRule::NonZero);
            hatched(surface, &shape.path, &hatch);
            surface.pop();
        }
    }
    if let Some(picture::Stroke { color, width, dash }) = &shape.stroke {
        surface.set_fill(None);
        surface.set_stroke(Some(stroked(*color, *width, dash)));
        surface.draw_path(&path);
    }
}

/// Lines over the box that holds a path; the clip keeps what is within it.
fn hatched(surface: &mut Surface<'_>, path: &BezPath, hatch: &Hatch) {
    /// More lines than that are gray anyway.
    const MOST: f64 = 2000.0;
    if hatch.apart <= 0.0 {
        return;
    }
    let bounds = path.bounding_box();
    let center = bounds.center();
    let reach = kurbo::Vec2::new(bounds.width(), bounds.height()).hypot() / 2.0;
    let sets: &[f64] = if hatch.is_crossed { &[0.0, 90.0] } else { &[0.0] };
    for more in sets {
        let angle = Angle::from_degrees(hatch.angle + more);
        let (along_x, along_y) = (angle.cos(), -angle.sin());
        let mut lines = PathBuilder::new();
        let apart = hatch.apart.max(2.0 * reach / MOST);
        // Lines of one angle are on one grid, so that they run on from piece to piece.
        let offset = -center.x * along_y + center.y * along_x;
        let mut at = ((offset - reach) / apart).ceil() * apart - offset;
        while at <= reach {
            let (x, y) = (center.x - along_y * at, center.y + along_x * at);
            lines.move_to(single(x - along_x * reach), single(y - along_y * reach));
            lines.line_to(single(x + along_x * reach), single(y + along_y * reach));
            at += apart;
        }
        if let Some(lines) = lines.finish() {
            surface.set_fill(None);
            surface.set_stroke(Some(stroked(hatch.color, hatch.width, &[])));
            surface.draw_path(&lines);
        }
    }
}

fn told(surface: &mut Surface<'_>, faces: &Faces, label: &Label, window: Option<kurbo::Rect>) {
    let text = shown(&label.text, faces);
    let wide = faces.of(label.is_bold).width(&text, label.size);
    let left = match label.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -wide / 2.0,
        Anchor::End => -wide,
    };
    let turn = Angle::from_degrees(label.turned);
    let end = |along: f64| (label.at.0 + along * turn.cos(), label.at.1 + along * turn.sin());
    if window.is_some_and(|window| {
        [end(left), end(left + wide)].iter().any(|(x, y)| !window.contains(kurbo::Point::new(*x, *y)))
    }) {
        return;
    }
    let (sin, cos) = (single(turn.sin()), single(turn.cos()));
    surface.push_transform(&Transform::from_row(cos, sin, -sin, cos, single(label.at.0), single(label.at.1)));
    if label.has_ground {
        let size = label.size;
        if let Some(ground) = rectangle((left - size * 0.15, -size * 0.82), (wide + size * 0.3, size * 1.08)) {
            surface.set_fill(Some(filled(Color(255, 255, 255))));
            surface.set_stroke(None);
            surface.draw_path(&ground);
        }
    }
    words(surface, faces, (left, 0.0), (&text, label.size, label.is_bold, label.color));
    surface.pop();
}

fn words(
    surface: &mut Surface<'_>,
    faces: &Faces,
    at: (f64, f64),
    (text, size, is_bold, color): (&str, f64, bool, Color),
) {
    let face = faces.of(is_bold);
    let Some(font) = face.font.clone() else { return };
    if text.trim().is_empty() {
        return;
    }
    surface.set_fill(Some(filled(color)));
    surface.set_stroke(None);
    let start = Point::from_xy(single(at.0), single(at.1));
    surface.draw_glyphs(start, &face.glyphs(text), font, text, single(size), false);
}

fn along(surface: &mut Surface<'_>, from: (f64, f64), to: (f64, f64), stroke: Stroke) {
    let mut path = PathBuilder::new();
    path.move_to(single(from.0), single(from.1));
    path.line_to(single(to.0), single(to.1));
    let Some(path) = path.finish() else { return };
    surface.set_fill(None);
    surface.set_stroke(Some(stroke));
    surface.draw_path(&path);
}

fn rectangle(at: (f64, f64), size: (f64, f64)) -> Option<Path> {
    let rect = Rect::from_xywh(single(at.0), single(at.1), single(size.0), single(size.1))?;
    let mut path = PathBuilder::new();
    path.push_rect(rect);
    path.finish()
}

fn traced(path: &BezPath) -> Option<Path> {
    let mut traced = PathBuilder::new();
    let on = |point: kurbo::Point| (single(point.x), single(point.y));
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(to) => traced.move_to(on(to).0, on(to).1),
            PathEl::LineTo(to) => traced.line_to(on(to).0, on(to).1),
            PathEl::QuadTo(by, to) => traced.quad_to(on(by).0, on(by).1, on(to).0, on(to).1),
            PathEl::CurveTo(by, and, to) => {
                traced.cubic_to(on(by).0, on(by).1, on(and).0, on(and).1, on(to).0, on(to).1);
            }
            PathEl::ClosePath => traced.close(),
        }
    }
    traced.finish()
}

fn filled(color: Color) -> Fill {
    Fill { paint: ink(color).into(), ..Fill::default() }
}

fn stroked(color: Color, width: f64, dash: &[f64]) -> Stroke {
    let dash = (!dash.is_empty())
        .then(|| StrokeDash { array: dash.iter().map(|length| single(*length)).collect(), offset: 0.0 });
    Stroke { paint: ink(color).into(), width: single(width), dash, ..Stroke::default() }
}

fn ink(Color(red, green, blue): Color) -> rgb::Color {
    rgb::Color::new(red, green, blue)
}
