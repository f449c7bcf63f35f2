//! An inside that is written outright: whether it fits the outside, and how much wall it leaves.

use kurbo::{ParamCurve, ParamCurveNearest, PathSeg, Point, Rect, Shape as _};

use crate::quantity::{Length, trig};

use super::profile::{Profile, ProfilePoint};

/// Each run of the inside is looked at in so many places, and between the two beside the thinnest
/// of them as finely as matters.
const LOOKS: u32 = 48;

/// Steps of closing in on the thinnest place of a run, each to two thirds of the stretch.
const REFINEMENTS: u32 = 40;

/// Of a distance.
const ACCURACY_MM: f64 = 1e-7;

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
    let outline = Outline::of(outside);
    let mut found: Option<(f64, Point)> = None;
    for run in inside.path().segments() {
        let (wall, at) = thinnest_of(&run, &outline);
        if found.is_none_or(|(least, _)| wall < least) {
            found = Some((wall, at));
        }
    }
    found.map(|(wall, at)| Thinnest {
        wall: Length::from_mm(wall),
        at: ProfilePoint { height: Length::from_mm(at.y), radius: Length::from_mm(at.x) },
    })
}

/// The thinnest place along one run: looked for evenly, then closed in on by thirds.
fn thinnest_of(run: &PathSeg, outline: &Outline<'_>) -> (f64, Point) {
    let wall = |t: f64| (outline.wall_at(run.eval(t)), t);
    let thinner = |a: (f64, f64), b: (f64, f64)| if b.0 < a.0 { b } else { a };
    let look = 1.0 / f64::from(LOOKS);
    let mut best = (0..=LOOKS).map(|at| wall(f64::from(at) * look)).fold((f64::INFINITY, 0.0), thinner);
    let (mut low, mut high) = ((best.1 - look).max(0.0), (best.1 + look).min(1.0));
    for _ in 0..REFINEMENTS {
        let third = (high - low) / 3.0;
        let (a, b) = (wall(low + third), wall(high - third));
        if a.0 <= b.0 {
            high = b.1;
        } else {
            low = a.1;
        }
        best = thinner(thinner(best, a), b);
    }
    (best.0, run.eval(best.1))
}

/// The outside as runs to measure to, each with its bounds.
struct Outline<'a> {
    profile: &'a Profile,
    runs: Vec<(PathSeg, Rect)>,
}

impl<'a> Outline<'a> {
    fn of(profile: &'a Profile) -> Self {
        Self { profile, runs: profile.path().segments().map(|run| (run, run.bounding_box())).collect() }
    }

    /// Distance to the outside, negative when the point lies beyond it.
    fn wall_at(&self, at: Point) -> f64 {
        let mut least = f64::INFINITY;
        for (run, bounds) in &self.runs {
            let (x, y) = (at.x.clamp(bounds.x0, bounds.x1), at.y.clamp(bounds.y0, bounds.y1));
            // No point of a run is nearer than its bounds.
            if at.distance_squared(Point::new(x, y)) < least {
                least = least.min(run.nearest(at, ACCURACY_MM).distance_sq);
            }
        }
        let z = Length::from_mm(at.y);
        let is_within = at.x <= self.profile.below(z).min(self.profile.above(z)).mm();
        if is_within { trig::sqrt(least) } else { -trig::sqrt(least) }
    }
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
            let points: Vec<_> = (0..).zip(&radii).map(|(at, r)| (30.0 * f64::from(at), *r)).collect();
            let outside = curve(true, &points);
            let inside = inside_of(&outside, mm(wall), mm(wall), outside.top());
            let found = thinnest(&outside, &inside).expect("an inside");
            // Round the ends the outside was taken to go on; nowhere is the wall less.
            prop_assert!(found.wall.mm() > wall - 1e-3, "{found:?}");
            prop_assert!(found.wall.mm() < wall + 1e-3, "{found:?}");
        }
    }
}
