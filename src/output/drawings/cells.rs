//! The vessel in so many cells of a terminal, two points of color in each, one over the other.

use kurbo::{Point, Rect, Shape as _};

use crate::output::picture::{Color, Mark, Picture, Shape};

use super::elevation::VESSEL;

/// Two points, the upper and the lower one; `None` where nothing is.
pub(in crate::output) type Cell = (Option<Color>, Option<Color>);

/// A cell is about so much taller than wide, so that its two points are squares.
const POINTS: usize = 2;

/// The vessel of an elevation in no more cells than `most` (columns, rows), without empty ones at the end of a row.
pub(in crate::output) fn cells(elevation: &Picture, most: (usize, usize)) -> Vec<Vec<Cell>> {
    let mut shapes = Vec::new();
    for mark in &elevation.marks {
        if matches!(mark, Mark::Group(group) if group.name.as_deref() == Some(VESSEL)) {
            collect(mark, &mut shapes);
        }
    }
    let filled: Vec<(Rect, &Shape, Color)> = shapes
        .into_iter()
        .filter_map(|shape| shape.fill.map(|fill| (shape.path.bounding_box(), shape, fill.color)))
        .rev()
        .collect();
    let Some(all) = filled.iter().map(|(bounds, ..)| *bounds).reduce(|a, b| a.union(b)) else { return Vec::new() };
    #[allow(clippy::cast_precision_loss, reason = "a screen is small")]
    let step = (all.width() / most.0.max(1) as f64).max(all.height() / (POINTS * most.1.max(1)) as f64);
    if step <= 0.0 {
        return Vec::new();
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "no more than `most`")]
    let count = |long: f64| (long / step - 1e-6).ceil().max(1.0) as usize;
    let (columns, points) = (count(all.width()), count(all.height()));
    // What is left over of the last ones lies half on either side.
    #[allow(clippy::cast_precision_loss, reason = "a screen is small")]
    let spare = (columns as f64 * step - all.width(), points as f64 * step - all.height());
    let color = |column: usize, point: usize| {
        #[allow(clippy::cast_precision_loss, reason = "a screen is small")]
        let at = Point::new(
            all.x0 - spare.0 / 2.0 + (column as f64 + 0.5) * step,
            all.y0 - spare.1 / 2.0 + (point as f64 + 0.5) * step,
        );
        let front = filled.iter().find(|(bounds, shape, _)| bounds.contains(at) && shape.path.contains(at));
        front.map(|(.., color)| *color)
    };
    let row = |row: usize| {
        let lower = |column| if row * POINTS + 1 < points { color(column, row * POINTS + 1) } else { None };
        let mut cells: Vec<Cell> = (0..columns).map(|column| (color(column, row * POINTS), lower(column))).collect();
        while cells.last() == Some(&(None, None)) {
            cells.pop();
        }
        cells
    };
    (0..points.div_ceil(POINTS)).map(row).collect()
}

fn collect<'a>(mark: &'a Mark, shapes: &mut Vec<&'a Shape>) {
    match mark {
        Mark::Shape(shape) => shapes.push(shape),
        Mark::Group(group) => group.marks.iter().for_each(|mark| collect(mark, shapes)),
        Mark::Text(_) => {}
    }
}
