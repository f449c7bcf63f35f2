//! Heights and radii to a smooth curve through them that never overshoots between two of them.
//!
//! Piecewise cubic Hermite interpolation with the slopes of F. N. Fritsch and J. Butland, "A method
//! for constructing local monotone piecewise cubic interpolants" (SIAM J. Sci. Stat. Comput. 5, 1984),
//! in the form that `SciPy` documents for its `PchipInterpolator`.

use kurbo::{CubicBez, Point};

use super::piece::Piece;

/// The spans through `points` (x = radius, y = height, rising), each exactly one cubic whose height
/// is linear in its parameter; two points give a line.
pub(super) fn spans(points: &[Point]) -> Vec<Piece> {
    let slopes = slopes(points);
    let span = |(pair, slope): (&[Point], &[f64])| {
        let (from, to) = (pair[0], pair[1]);
        let third = (to.y - from.y) / 3.0;
        let leave = Point::new(from.x + slope[0] * third, from.y + third);
        let arrive = Point::new(to.x - slope[1] * third, to.y - third);
        if is_straight(from, to, slope) {
            return Piece::line(from, to);
        }
        Piece::Cubic(CubicBez::new(from, leave, arrive, to))
    };
    points.windows(2).zip(slopes.windows(2)).map(span).collect()
}

/// Whether both ends of a span go the way of its chord; curve arithmetic wants such a span as a line.
fn is_straight(from: Point, to: Point, slope: &[f64]) -> bool {
    let chord = (to.x - from.x) / (to.y - from.y);
    slope.iter().all(|slope| (slope - chord).abs() <= 1e-9 * (1.0 + chord.abs()))
}

/// dr/dz at every point.
fn slopes(points: &[Point]) -> Vec<f64> {
    let steps: Vec<(f64, f64)> = points
        .windows(2)
        .map(|pair| {
            let height = pair[1].y - pair[0].y;
            (height, (pair[1].x - pair[0].x) / height)
        })
        .collect();
    match steps[..] {
        [] => vec![0.0; points.len()],
        [(_, chord)] => vec![chord; 2],
        [first, second, ..] => {
            let (last, before) = (steps[steps.len() - 1], steps[steps.len() - 2]);
            let mut slopes = vec![end_slope(first, second)];
            slopes.extend(steps.windows(2).map(|pair| inner_slope(pair[0], pair[1])));
            slopes.push(end_slope(last, before));
            slopes
        }
    }
}

/// The weighted harmonic mean of the two chords, or level where the curve turns.
fn inner_slope((height, chord): (f64, f64), (next_height, next_chord): (f64, f64)) -> f64 {
    if chord * next_chord <= 0.0 {
        return 0.0;
    }
    let (weight, next_weight) = (2.0 * next_height + height, next_height + 2.0 * height);
    (weight + next_weight) / (weight / chord + next_weight / next_chord)
}

/// The three-point slope at an end, bent back where it would spoil the shape.
fn end_slope((height, chord): (f64, f64), (next_height, next_chord): (f64, f64)) -> f64 {
    let slope = ((2.0 * height + next_height) * chord - height * next_chord) / (height + next_height);
    if slope * chord <= 0.0 {
        0.0
    } else if chord * next_chord <= 0.0 && slope.abs() > 3.0 * chord.abs() {
        3.0 * chord
    } else {
        slope
    }
}
