//! How far a curve strays from a leaning line: what staves and cone rings must cover.

use kurbo::common::solve_quadratic;

use crate::quantity::Length;

use super::profile::{Profile, ProfilePoint};

/// Less of a piece than this is none: what summing thicknesses loses.
const HAIR_MM: f64 = 1e-6;

/// Where a curve lies nearest to the axis and farthest from it, as seen along a leaning line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Astray {
    /// Radius of the leaning line, where it passes height 0, that touches the curve from within.
    pub(super) least: Length,
    /// Where it touches.
    pub(super) least_at: ProfilePoint,
    /// The same from without.
    pub(super) greatest: Length,
}

/// The extremes of radius − `slope` × height on a curve between two heights, exact: on a cubic that is
/// a cubic again, whose turning points solve a quadratic. `None` where there is no curve.
pub(super) fn astray(curve: &Profile, (z0, z1): (Length, Length), slope: f64) -> Option<Astray> {
    let (z0, z1) = (z0.mm(), z1.mm());
    let mut found: Option<Astray> = None;
    let mut meet = |x: f64, y: f64| {
        let offset = Length::from_mm(x - slope * y);
        let at = ProfilePoint { height: Length::from_mm(y), radius: Length::from_mm(x) };
        let here = found.get_or_insert(Astray { least: offset, least_at: at, greatest: offset });
        if offset < here.least {
            (here.least, here.least_at) = (offset, at);
        }
        here.greatest = here.greatest.max(offset);
    };
    for piece in curve.pieces() {
        let (low, high) = (piece.start().y.max(z0), piece.end().y.min(z1));
        if high - low <= HAIR_MM {
            continue;
        }
        let part = piece.between(low, high);
        let [a, b, c, d] = part.controls().map(|point| point.x - slope * point.y);
        let (d0, d1, d2) = (b - a, c - b, d - c);
        let turns = solve_quadratic(d0, 2.0 * (d1 - d0), d0 - 2.0 * d1 + d2);
        for t in turns.into_iter().filter(|t| *t > 0.0 && *t < 1.0).chain([0.0, 1.0]) {
            let point = part.point(t);
            meet(point.x, point.y);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::astray;
    use crate::geometry::{Profile, ProfilePoint};
    use crate::quantity::Length;

    proptest! {
        /// Densely sampled, the curve never strays farther, and gets as far to a thousandth.
        #[test]
        fn as_far_as_dense_sampling_finds(
            radii in proptest::collection::vec(20.0..60.0_f64, 2..6), smooth in any::<bool>(),
            slope in -2.0..2.0_f64, (from, to) in (0.0..0.45_f64, 0.55..1.0_f64),
        ) {
            let points: Vec<ProfilePoint> = (0_u32..).zip(&radii).map(|(at, radius)| ProfilePoint {
                height: Length::from_mm(20.0 * f64::from(at)), radius: Length::from_mm(*radius),
            }).collect();
            let curve = if smooth { Profile::smooth(&points) } else { Profile::straight(&points) };
            let high = curve.top().mm();
            let (z0, z1) = (from * high, to * high);
            let found = astray(&curve, (Length::from_mm(z0), Length::from_mm(z1)), slope).unwrap();
            let (mut least, mut greatest) = (f64::INFINITY, f64::NEG_INFINITY);
            for at in 0..=4000_u32 {
                let z = z0 + (z1 - z0) * f64::from(at) / 4000.0;
                let offset = curve.below(Length::from_mm(z)).mm() - slope * z;
                (least, greatest) = (least.min(offset), greatest.max(offset));
            }
            prop_assert!(found.least.mm() <= least + 1e-6 && found.greatest.mm() >= greatest - 1e-6);
            prop_assert!(found.least.mm() >= least - 1e-3 * high && found.greatest.mm() <= greatest + 1e-3 * high);
            let at = found.least_at;
            prop_assert!((at.radius.mm() - slope * at.height.mm() - found.least.mm()).abs() < 1e-9 * high);
        }
    }
}
