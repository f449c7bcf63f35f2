//! What all these drawings put on paper: words, lines, dimensions, a legend.

use std::collections::BTreeSet;

use kurbo::{Affine, BezPath, Circle, Line, PathEl, Point, Rect, Shape as _};

use crate::output::picture::{Anchor, Color, Fill, Group, Label, Mark, Picture, Shape, Stroke};
use crate::output::sheet::Sheet;

use super::dress::{BOLD, DEEP, Dress, GRAY, INK, THIN};
use super::lettering;

/// All pictures are so wide.
pub(super) const WIDE: f64 = 680.0;
/// Free on all sides.
pub(super) const MARGIN: f64 = 16.0;
/// Height of ordinary type.
pub(super) const TYPE: f64 = 11.0;
/// From line to line.
pub(super) const ROW: f64 = 15.0;
const HEADING: f64 = 17.0;
/// Of the arrows of a dimension.
const ARROW: (f64, f64) = (7.0, 2.2);

/// Where millimeters (x to the right of the axis, y upward) come to lie on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    /// Of the point at the axis on the bench.
    pub origin: (f64, f64),
    /// Points for each millimeter.
    pub scale: f64,
}

impl Place {
    pub(super) fn at(self, x: f64, y: f64) -> Point {
        Point::new(self.origin.0 + x * self.scale, self.origin.1 - y * self.scale)
    }

    pub(super) fn path(self, path: &BezPath) -> BezPath {
        let map = Affine::new([self.scale, 0.0, 0.0, -self.scale, self.origin.0, self.origin.1]);
        map * path.clone()
    }
}

/// Begins a picture with its heading; marks go below [`Page::top`].
pub(super) struct Page {
    pub marks: Vec<Mark>,
    title: String,
    about: String,
    pub top: f64,
}

impl Page {
    pub(super) fn new(sheet: &Sheet<'_>, what: &str, about: String, lead: &str) -> Self {
        let title = format!("{}: {what}", sheet.name());
        let room = WIDE - 2.0 * MARGIN;
        let shown = lettering::fitted(&title, HEADING, true, room);
        let mut page = Self { marks: Vec::new(), title, about, top: MARGIN + HEADING };
        page.marks.push(Mark::Text(Label { size: HEADING, is_bold: true, ..label((MARGIN, page.top - 3.0), &shown) }));
        for line in lettering::lines(lead, TYPE, room) {
            page.top += ROW;
            page.marks.push(Mark::Text(Label { color: GRAY, ..label((MARGIN, page.top), &line) }));
        }
        page.top += 12.0;
        page
    }

    /// Without a heading, for a figure that stands among others.
    pub(super) fn bare(title: String, about: String) -> Self {
        Self { marks: Vec::new(), title, about, top: MARGIN }
    }

    pub(super) fn end(self, bottom: f64) -> Picture {
        Picture {
            title: self.title,
            about: self.about,
            size: (WIDE, (bottom + MARGIN).ceil()),
            unit_mm: None,
            marks: self.marks,
        }
    }

    /// Each wood with its first letters, in rows below `top`; where they end.
    pub(super) fn legend(&mut self, dresses: &[Dress], used: &BTreeSet<usize>, more: &[(Fill, &str)], top: f64) -> f64 {
        const SWATCH: (f64, f64) = (30.0, 16.0);
        let woods = used.iter().filter_map(|at| dresses.get(*at));
        let woods = woods.map(|dress| (dress.fill, format!("{}  {}", dress.short, dress.name), dress.line));
        let more = more.iter().map(|(fill, text)| (*fill, (*text).to_owned(), DEEP));
        let (mut x, mut y) = (MARGIN, top);
        let mut marks = Vec::new();
        for (fill, text, _) in woods.chain(more) {
            let text = lettering::fitted(&text, TYPE, false, WIDE - 2.0 * MARGIN - SWATCH.0 - 8.0);
            let needs = SWATCH.0 + 6.0 + lettering::width(&text, TYPE, false) + 18.0;
            if x > MARGIN && x + needs > WIDE - MARGIN {
                (x, y) = (MARGIN, y + SWATCH.1 + 6.0);
            }
            let swatch = Rect::new(x, y, x + SWATCH.0, y + SWATCH.1).to_path(0.1);
            marks.push(area(swatch, fill, stroke(INK, THIN)));
            marks.push(words((x + SWATCH.0 + 6.0, y + 12.0), &text));
            x += needs;
        }
        let is_empty = marks.is_empty();
        self.marks.push(group("legend", "woods", marks));
        if is_empty { top } else { y + SWATCH.1 }
    }
}

pub(super) fn label(at: (f64, f64), text: &str) -> Label {
    Label {
        at,
        text: text.to_owned(),
        size: TYPE,
        anchor: Anchor::Start,
        is_bold: false,
        turned: 0.0,
        color: INK,
        has_ground: false,
    }
}

pub(super) fn words(at: (f64, f64), text: &str) -> Mark {
    Mark::Text(label(at, text))
}

pub(super) fn stroke(color: Color, width: f64) -> Stroke {
    Stroke { color, width, dash: Vec::new() }
}

pub(super) fn dashed(color: Color, width: f64, dash: &[f64]) -> Stroke {
    Stroke { color, width, dash: dash.to_vec() }
}

pub(super) fn area(path: BezPath, fill: Fill, stroke: Stroke) -> Mark {
    Mark::Shape(Shape { path, fill: Some(fill), stroke: Some(stroke) })
}

pub(super) fn filled(path: BezPath, fill: Fill) -> Mark {
    Mark::Shape(Shape { path, fill: Some(fill), stroke: None })
}

pub(super) fn outline(path: BezPath, stroke: Stroke) -> Mark {
    Mark::Shape(Shape { path, fill: None, stroke: Some(stroke) })
}

pub(super) const fn plain(color: Color) -> Fill {
    Fill { color, hatch: None }
}

pub(super) fn group(name: &str, title: &str, marks: Vec<Mark>) -> Mark {
    Mark::Group(Group { name: Some(name.to_owned()), title: Some(title.to_owned()), marks })
}

pub(super) fn line(from: Point, to: Point) -> BezPath {
    Line::new(from, to).to_path(0.1)
}

/// Where a line ends, on any ground.
pub(super) fn dot(at: Point) -> Mark {
    let ring = Circle::new(at, 2.6).to_path(0.05);
    Mark::Shape(Shape { path: ring, fill: Some(plain(INK)), stroke: Some(stroke(super::dress::WHITE, 1.0)) })
}

/// The head of an arrow that comes from `from` and ends at `tip`.
pub(super) fn head(from: Point, tip: Point, color: Color) -> Mark {
    let way = (tip - from).normalize();
    let (back, side) = (tip - way * ARROW.0, way.turn_90() * ARROW.1);
    let path = BezPath::from_vec(vec![
        PathEl::MoveTo(tip),
        PathEl::LineTo(back + side),
        PathEl::LineTo(back - side),
        PathEl::ClosePath,
    ]);
    Mark::Shape(Shape { path, fill: Some(plain(color)), stroke: None })
}

/// A dimension's line with a head at one end or both.
pub(super) fn dimension(from: Point, to: Point, is_half: bool) -> Vec<Mark> {
    if from.distance(to) < 1e-6 {
        return Vec::new();
    }
    let mut marks = vec![outline(line(from, to), stroke(GRAY, THIN)), head(from, to, GRAY)];
    if !is_half {
        marks.push(head(to, from, GRAY));
    }
    marks
}

/// The line round everything.
pub(super) fn bold() -> Stroke {
    stroke(INK, BOLD)
}
