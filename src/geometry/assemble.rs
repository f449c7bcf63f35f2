//! Profiles cut and put together: joined one over the other, moved up, held to a least or greatest
//! radius.

use kurbo::common::solve_cubic;
use kurbo::{Affine, Point};

use crate::quantity::Length;

use super::piece::Piece;
use super::profile::Profile;

/// Which side of a radius a curve has to keep to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// At the radius or farther from the axis.
    Outward,
    /// At the radius or nearer to the axis.
    Inward,
}

impl Side {
    fn holds(self, x: f64, radius: f64) -> bool {
        match self {
            Self::Outward => x >= radius,
            Self::Inward => x <= radius,
        }
    }
}

impl Profile {
    /// One over the other: rising, each beginning at the height where the one before it ends; where
    /// their radii differ there is a step. Empty ones are passed over.
    #[must_use]
    pub fn joined(parts: &[Self]) -> Self {
        Self::of_pieces(parts.iter().flat_map(Self::pieces).copied().collect())
    }

    /// The same radius from one height to another; empty when there is no height between them.
    #[must_use]
    pub fn cylinder(radius: Length, from: Length, to: Length) -> Self {
        if to <= from {
            return Self::default();
        }
        let at = |height: Length| Point::new(radius.mm(), height.mm());
        Self::of_pieces(vec![Piece::line(at(from), at(to))])
    }

    /// The whole of it moved up the axis.
    #[must_use]
    pub fn raised(&self, by: Length) -> Self {
        let up = Affine::translate((0.0, by.mm()));
        Self::of_pieces(self.pieces().iter().map(|piece| piece.moved(up)).collect())
    }

    /// Held at this radius wherever it would be nearer to the axis.
    #[must_use]
    pub fn at_least(&self, radius: Length) -> Self {
        self.held(radius, Side::Outward)
    }

    /// Held at this radius wherever it would be farther from the axis.
    #[must_use]
    pub fn at_most(&self, radius: Length) -> Self {
        self.held(radius, Side::Inward)
    }

    fn held(&self, radius: Length, side: Side) -> Self {
        let mut pieces = Vec::with_capacity(self.pieces().len());
        for piece in self.pieces() {
            hold(*piece, radius.mm(), side, &mut pieces);
        }
        Self::of_pieces(pieces)
    }
}

/// Adds a piece, held at a radius where it would pass to the wrong side of it.
pub(super) fn hold(piece: Piece, radius: f64, side: Side, pieces: &mut Vec<Piece>) {
    let level = |part: &Piece| Piece::line(Point::new(radius, part.start().y), Point::new(radius, part.end().y));
    let xs = piece.controls().map(|point| point.x);
    if xs.iter().all(|x| side.holds(*x, radius)) {
        pieces.push(piece);
        return;
    }
    // A curve lies within the hull of its controls.
    if xs.iter().all(|x| *x == radius || !side.holds(*x, radius)) {
        pieces.push(level(&piece));
        return;
    }
    let [x0, x1, x2, x3] = xs;
    let cubed = x3 - 3.0 * (x2 - x1) - x0;
    let mut cuts = solve_cubic(x0 - radius, 3.0 * (x1 - x0), 3.0 * (x2 - 2.0 * x1 + x0), cubed);
    cuts.sort_unstable_by(f64::total_cmp);
    let mut from = 0.0;
    for to in cuts.into_iter().filter(|t| *t > 0.0 && *t < 1.0).chain(std::iter::once(1.0)) {
        let part = piece.between_parameters(from, to);
        let keeps = side.holds(piece.point(f64::midpoint(from, to)).x, radius);
        pieces.push(if keeps { part } else { level(&part) });
        from = to;
    }
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use proptest::prelude::*;

    use super::super::profile::{Profile, ProfilePoint};
    use crate::quantity::Length;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn smooth(at: &[(f64, f64)]) -> Profile {
        let points: Vec<_> = at.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect();
        Profile::smooth(&points)
    }

    #[test]
    fn a_cylinder_has_one_radius_and_no_negative_height() {
        let drum = Profile::cylinder(mm(20.0), mm(5.0), mm(15.0));
        assert_eq!((drum.bottom(), drum.top(), drum.above(mm(9.0))), (mm(5.0), mm(15.0), mm(20.0)));
        assert!((drum.volume(mm(0.0), mm(99.0)).mm3() - std::f64::consts::PI * 4000.0).abs() < 1e-9);
        assert!(Profile::cylinder(mm(20.0), mm(5.0), mm(5.0)).is_empty());
    }

    #[test]
    fn joined_parts_keep_their_radii_and_step_between() {
        let curve = smooth(&[(0.0, 30.0), (10.0, 40.0), (25.0, 35.0)]);
        let stack = Profile::joined(&[
            curve.between(mm(0.0), mm(12.0)),
            Profile::default(),
            Profile::cylinder(mm(20.0), mm(12.0), mm(18.0)),
            curve.between(mm(18.0), mm(25.0)),
        ]);
        assert_eq!((stack.bottom(), stack.top()), (mm(0.0), mm(25.0)));
        for z in [3.0, 11.0, 19.5, 24.0] {
            assert!((stack.above(mm(z)).mm() - curve.above(mm(z)).mm()).abs() < 1e-9, "{z}");
        }
        assert!((stack.below(mm(12.0)).mm() - curve.below(mm(12.0)).mm()).abs() < 1e-9);
        assert_eq!((stack.above(mm(12.0)), stack.below(mm(18.0))), (mm(20.0), mm(20.0)));
        let step = |a: f64, b: f64| std::f64::consts::PI * (a * a - b * b).abs();
        let parts = curve.lateral_area(mm(0.0), mm(12.0)).mm2()
            + std::f64::consts::TAU * 20.0 * 6.0
            + curve.lateral_area(mm(18.0), mm(25.0)).mm2()
            + step(curve.above(mm(12.0)).mm(), 20.0)
            + step(curve.above(mm(18.0)).mm(), 20.0);
        assert!((stack.lateral_area(mm(0.0), mm(25.0)).mm2() / parts - 1.0).abs() < 1e-8);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn held_and_raised_curves_are_their_samples_held_and_raised(
            radii in proptest::collection::vec(0.0..60.0_f64, 2..7),
            hold in 0.0..70.0_f64,
            by in -40.0..40.0_f64,
        ) {
            let points: Vec<(f64, f64)> = radii.iter().enumerate().map(|(at, r)| (at as f64 * 9.0, *r)).collect();
            let curve = smooth(&points);
            let (least, most, raised) = (curve.at_least(mm(hold)), curve.at_most(mm(hold)), curve.raised(mm(by)));
            prop_assert_eq!((least.bottom(), least.top()), (curve.bottom(), curve.top()));
            for i in 0..=200 {
                let z = curve.top() * (f64::from(i) / 200.0);
                let radius = curve.above(z).mm();
                prop_assert!((least.above(z).mm() - radius.max(hold)).abs() < 1e-7);
                prop_assert!((most.above(z).mm() - radius.min(hold)).abs() < 1e-7);
                prop_assert!((raised.above(z + mm(by)).mm() - radius).abs() < 1e-7);
            }
        }
    }
}
