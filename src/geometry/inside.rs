//! An inside that is written outright: whether it fits the outside, and how much wall it leaves.

use kurbo::{ParamCurveNearest, PathSeg, Point};

use crate::quantity::Length;

use super::piece::Piece;
use super::profile::{Profile, ProfilePoint};

/// Each piece of the inside is looked at in so many places, and between the two beside the thinnest
/// of them as finely as matters.
const LOOKS: u32 = 48;

/// Halvings of the stretch in which the thinnest place lies.
const REFINEMENTS: u32 = 40;

const ACCURACY_MM: f64 = 1e-9;

/// Where a wall is thinnest.
#[derive(Debug, Clone, Copy)]
pub(super) struct Thinnest {
    /// Square to the outside; negative by how far the inside lies beyond it.
    pub(super) wall: Length,
    /// The place on the inside.
    pub(super) at: ProfilePoint,
}

/// The thinnest place of the wall between two curves; `None` when the inside is empty.
pub(super) fn thinnest(outside: &Profile, inside: &Profile) -> Option<Thinnest> {
    let outline: Vec<PathSeg> = outside.path().segments().collect();
    let mut found: Option<(f64, Point)> = None;
    for piece in inside.pieces() {
        let wall = |t: f64| wall_at(outside, &outline, piece.point(t));
        let looks: Vec<f64> = (0..=LOOKS).map(|look| wall(f64::from(look) / f64::from(LOOKS))).collect();
        let least = (0..).zip(&looks).min_by(|a: &(u32, &f64), b| a.1.total_cmp(b.1)).map_or(0, |(at, _)| at);
        let (t, thickness) = refined(wall, f64::from(least) / f64::from(LOOKS), piece);
        if found.is_none_or(|(wall, _)| thickness < wall) {
            found = Some((thickness, piece.point(t)));
        }
    }
    found.map(|(wall, at)| Thinnest {
        wall: Length::from_mm(wall),
        at: ProfilePoint { height: Length::from_mm(at.y), radius: Length::from_mm(at.x) },
    })
}

/// Closes in on the least of `wall` round `t` by golden thirds.
fn refined(wall: impl Fn(f64) -> f64, t: f64, piece: &Piece) -> (f64, f64) {
    let look = 1.0 / f64::from(LOOKS);
    let (mut low, mut high) = ((t - look).max(0.0), (t + look).min(1.0));
    let mut best = (t, wall(t));
    if piece.start() == piece.end() {
        return best;
    }
    for _ in 0..REFINEMENTS {
        let third = (high - low) / 3.0;
        let (a, b) = ((low + third, wall(low + third)), (high - third, wall(high - third)));
        if a.1 <= b.1 {
            high = b.0;
        } else {
            low = a.0;
        }
        for candidate in [a, b] {
            best = if candidate.1 < best.1 { candidate } else { best };
        }
    }
    best
}

/// Distance from a point of the inside to the outside, negative when it lies beyond it.
fn wall_at(outside: &Profile, outline: &[PathSeg], at: Point) -> f64 {
    let squared =
        outline.iter().map(|segment| segment.nearest(at, ACCURACY_MM).distance_sq).fold(f64::INFINITY, f64::min);
    let distance = crate::quantity::trig::sqrt(squared);
    let z = Length::from_mm(at.y);
    let is_within = at.x <= outside.below(z).min(outside.above(z)).mm();
    if is_within { distance } else { -distance }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]

    use proptest::prelude::*;

    use super::thinnest;
    use crate::geometry::offset::inside_of;
    use crate::geometry::profile::{Profile, ProfilePoint};
    use crate::quantity::Length;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn curve(is_smooth: bool, at: &[(f64, f64)]) -> Profile {
        let points: Vec<_> = at.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect();
        if is_smooth { Profile::smooth(&points) } else { Profile::straight(&points) }
    }

    #[test]
    fn between_two_cones_the_wall_is_measured_square() {
        // Outside leans by 45°, inside upright at 20: at height 10 the wall is 20 level, 20 / √2 square.
        let (outside, inside) =
            (curve(false, &[(0.0, 30.0), (40.0, 70.0)]), curve(false, &[(10.0, 20.0), (40.0, 20.0)]));
        let found = thinnest(&outside, &inside).expect("an inside");
        assert!((found.wall.mm() - 20.0 / 2.0_f64.sqrt()).abs() < 1e-9);
        assert!((found.at.height.mm() - 10.0).abs() < 1e-9);
        let crossed = thinnest(&outside, &curve(false, &[(5.0, 20.0), (20.0, 52.0), (40.0, 20.0)])).expect("an inside");
        assert!((crossed.wall.mm() + 2.0 / 2.0_f64.sqrt()).abs() < 1e-6, "{crossed:?}");
        assert!((crossed.at.height.mm() - 20.0).abs() < 1e-6);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn an_offset_leaves_the_wall_it_was_made_with(
            radii in proptest::collection::vec(30.0..60.0_f64, 2..6),
            wall in 2.0..12.0_f64,
        ) {
            let points: Vec<_> = radii.iter().enumerate().map(|(at, r)| (30.0 * at as f64, *r)).collect();
            let outside = curve(true, &points);
            let inside = inside_of(&outside, mm(wall), mm(wall), outside.top());
            let found = thinnest(&outside, &inside).expect("an inside");
            // Round the ends the outside was taken to go on; nowhere is the wall less.
            prop_assert!(found.wall.mm() > wall - 1e-3, "{found:?}");
            prop_assert!(found.wall.mm() < wall + 1e-3, "{found:?}");
        }
    }
}
