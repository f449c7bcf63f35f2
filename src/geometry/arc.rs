//! Circular arcs as cubics, given by the ways they begin and end.

use std::f64::consts::FRAC_PI_8;

use kurbo::{CubicBez, Point, Vec2};

use crate::quantity::trig;

use super::piece::Piece;

/// Adds the arc of `radius` that leaves `from` in one direction and ends in the other, by the
/// shorter turn. Each cubic turns by an eighth of π at most: nearer to the circle than a ten
/// millionth of its radius. Directions have length 1 and do not fall, so neither does the arc.
pub(super) fn between(from: Point, leaving: Vec2, arriving: Vec2, radius: f64, pieces: &mut Vec<Piece>) {
    let turn = trig::atan2(leaving.cross(arriving), leaving.dot(arriving));
    let parts = (turn.abs() / FRAC_PI_8).ceil().max(1.0);
    let step = turn / parts;
    let arm = 4.0 / 3.0 * trig::tan(step.abs() / 4.0) * radius;
    // The center lies square to the first direction, on the side to which the arc turns.
    let center = from + leaving.turn_90() * (radius * turn.signum());
    let (mut at, mut way, mut part) = (from, leaving, 1.0);
    while part <= parts {
        let next_way = if part < parts { rotated(leaving, step * part) } else { arriving };
        let to = center - next_way.turn_90() * (radius * turn.signum());
        pieces.push(Piece::Cubic(CubicBez::new(at, at + way * arm, to - next_way * arm, to)));
        (at, way, part) = (to, next_way, part + 1.0);
    }
}

/// Turned anticlockwise by `angle` radians.
pub(super) fn rotated(way: Vec2, angle: f64) -> Vec2 {
    let (sin, cos) = (trig::sin(angle), trig::cos(angle));
    Vec2::new(way.x * cos - way.y * sin, way.x * sin + way.y * cos)
}
