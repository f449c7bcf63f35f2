//! How each ring is turned against the one below, and how near its joints come to the joints there.

use crate::quantity::{Angle, Count, Length};
use crate::resolve::Stagger;

use super::vessel::RingShape;

/// The joints of one ring, evenly round it, seen from above.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joints {
    /// How many; at least one.
    pub count: Count,
    /// Where the first lies, counterclockwise.
    pub first: Angle,
}

/// How many of a ring's joints come near a joint of the ring below.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineUp {
    /// The smallest angle between a joint here and one below.
    pub nearest: Angle,
    /// How many joints of the upper ring lie within reach of one below.
    pub near: Count,
}

/// The joints of one ring where they may lie unevenly: the same places, again and again.
#[derive(Debug, Clone)]
pub(super) struct Spread {
    /// Where the first joint lies, counterclockwise.
    pub(super) first: Angle,
    /// How often the places repeat round the ring.
    repeats: u32,
    /// Degrees from the first joint, rising; one repeat of them, beginning with 0.
    places: Vec<f64>,
}

/// More pairs of places than this are not searched for the best turn: no eye would find it either.
const MANY_PAIRS: usize = 1 << 14;

impl Spread {
    /// The joints of a ring whose pattern repeats after `motif` segments.
    pub(super) fn of(ring: &RingShape, motif: usize, first: Angle) -> Self {
        let count = ring.woods.len();
        let step = if ring.cut_of.is_empty() { 1 } else { motif };
        let step = if step > 0 && count.is_multiple_of(step) { step } else { count };
        let repeats = u32::try_from(count / step.max(1)).unwrap_or(u32::MAX).max(1);
        Self { first, repeats, places: ring.joints().take(step).map(Angle::degrees).collect() }
    }

    /// How many joints there are.
    pub(super) fn count(&self) -> Count {
        Count(self.repeats.saturating_mul(u32::try_from(self.places.len()).unwrap_or(u32::MAX)))
    }

    /// The joints, when they lie evenly.
    fn even(&self) -> Option<Joints> {
        (self.places.len() == 1).then(|| Joints { count: self.count(), first: self.first })
    }

    /// How far this ring is turned, counterclockwise, against the one below.
    pub(super) fn turned(&self, stagger: Stagger, below: &Self) -> Angle {
        if let (Some(own), Some(below)) = (self.even(), below.even()) {
            return turn(stagger, below.count, own.count);
        }
        match stagger {
            Stagger::Half => self.farthest(below).0,
            Stagger::None => Angle::ZERO,
            Stagger::Share(share) => self.first_sweep() * share.value(),
            Stagger::By(angle) => angle,
        }
    }

    fn first_sweep(&self) -> Angle {
        Angle::from_degrees(self.places.get(1).copied().unwrap_or(360.0 / f64::from(self.repeats)))
    }

    /// The turn that keeps all joints farthest apart, and how far that is. The turns that bring some
    /// joint over one below repeat with both rings; midway in the widest span between two is the best.
    pub(super) fn farthest(&self, below: &Self) -> (Angle, Angle) {
        if let (Some(own), Some(below)) = (self.even(), below.even()) {
            let most = farthest(below.count, own.count);
            return (most, most);
        }
        let span = step(Count(below.repeats), Count(self.repeats)).degrees();
        if self.places.len() * below.places.len() > MANY_PAIRS {
            let half = self.first_sweep() / 2.0;
            return (half, half);
        }
        let mut meeting: Vec<f64> = below
            .places
            .iter()
            .flat_map(|under| self.places.iter().map(move |over| (under - over).rem_euclid(span)))
            .collect();
        meeting.sort_by(f64::total_cmp);
        let again = meeting.first().map(|first| first + span);
        let nexts = meeting.iter().copied().skip(1).chain(again);
        let (at, free) = meeting.iter().copied().zip(nexts).fold((0.0, 0.0), |best, (from, to)| {
            // Of equal spans the first, whatever rounding makes of them.
            if to - from > best.1 + 1e-9 { (from, to - from) } else { best }
        });
        (Angle::from_degrees(at + free / 2.0), Angle::from_degrees(free / 2.0))
    }

    /// How near this ring's joints come to those `below`, and how many come within `reach`.
    pub(super) fn line_up(&self, below: &Self, reach: Angle) -> LineUp {
        if let (Some(own), Some(below)) = (self.even(), below.even()) {
            return line_up(below, own, reach);
        }
        let under = below.sorted();
        let mut nearest = f64::INFINITY;
        let mut near = 0;
        for joint in self.sorted() {
            let next = under.partition_point(|other| *other < joint);
            let after = under.get(next).or(under.first());
            let before = under.get(next.wrapping_sub(1)).or(under.last());
            let apart = [after, before].into_iter().flatten().map(|other| {
                let turn = (joint - other).rem_euclid(360.0);
                turn.min(360.0 - turn)
            });
            let apart = apart.fold(f64::INFINITY, f64::min);
            nearest = nearest.min(apart);
            near += u32::from(apart <= reach.degrees());
        }
        LineUp { nearest: Angle::from_degrees(nearest), near: Count(near) }
    }

    /// Every joint, from 0° to 360°, rising.
    fn sorted(&self) -> Vec<f64> {
        let step = 360.0 / f64::from(self.repeats);
        let first = self.first.degrees();
        let mut all: Vec<f64> = (0..self.repeats)
            .flat_map(|turn| {
                self.places.iter().map(move |place| (first + f64::from(turn) * step + place).rem_euclid(360.0))
            })
            .collect();
        all.sort_by(f64::total_cmp);
        all
    }
}

/// How far a ring of `own` segments is turned, counterclockwise, against one of `below`.
#[must_use]
pub fn turn(stagger: Stagger, below: Count, own: Count) -> Angle {
    match stagger {
        Stagger::Half => farthest(below, own),
        Stagger::None => Angle::ZERO,
        Stagger::Share(share) => Angle::from_degrees(360.0 / f64::from(own.0.max(1))) * share.value(),
        Stagger::By(angle) => angle,
    }
}

/// The farthest that all joints of two rings can be kept apart. Joint to joint the rings differ by
/// all multiples of 360°/lcm, whatever a turn adds to them: half of one such step is the most.
#[must_use]
pub fn farthest(below: Count, own: Count) -> Angle {
    step(below, own) / 2.0
}

/// How near the joints of `above` come to those of `below`, and how many come within `reach`.
#[must_use]
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and a count")]
pub fn line_up(below: Joints, above: Joints, reach: Angle) -> LineUp {
    let step = step(below.count, above.count).degrees();
    let past = (above.first.degrees() - below.first.degrees()).rem_euclid(step);
    let short = step - past;
    // Round from one joint below to the next, joints above stand at `past`, one step on, and so on,
    // each place once for every common divisor of the counts.
    let shared = gcd(below.count.0.max(1), above.count.0.max(1));
    let places = f64::from(above.count.0.max(1) / shared);
    let within =
        |first: f64| if first <= reach.degrees() { ((reach.degrees() - first) / step).floor() + 1.0 } else { 0.0 };
    let near = (within(past) + within(short)).min(places) as u32 * shared;
    LineUp { nearest: Angle::from_degrees(past.min(short)), near: Count(near) }
}

/// Length of the arc of an angle at a radius.
#[must_use]
pub fn arc(radius: Length, angle: Angle) -> Length {
    radius * angle.radians()
}

/// The angle whose arc at `radius` has that length; a whole turn at the axis.
#[must_use]
pub fn angle_of_arc(radius: Length, arc: Length) -> Angle {
    if radius <= Length::ZERO { Angle::from_degrees(360.0) } else { Angle::from_degrees((arc / radius).to_degrees()) }
}

/// 360° over the least common multiple of both counts.
fn step(below: Count, own: Count) -> Angle {
    let (below, own) = (below.0.max(1), own.0.max(1));
    Angle::from_degrees(360.0 / (f64::from(below / gcd(below, own)) * f64::from(own)))
}

fn gcd(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Joints, Spread, arc, line_up, turn};
    use crate::quantity::{Angle, Count, Length, Ratio};
    use crate::resolve::Stagger;

    fn degrees(value: f64) -> Angle {
        Angle::from_degrees(value)
    }

    fn joints(count: u32, first: f64) -> Joints {
        Joints { count: Count(count), first: degrees(first) }
    }

    #[test]
    fn half_is_half_a_segment_for_equal_counts_and_half_of_the_finer_grid_for_others() {
        assert!((turn(Stagger::Half, Count(12), Count(12)).degrees() - 15.0).abs() < 1e-12);
        assert!((turn(Stagger::Half, Count(12), Count(24)).degrees() - 7.5).abs() < 1e-12);
        assert!((turn(Stagger::Half, Count(12), Count(16)).degrees() - 3.75).abs() < 1e-12);
        assert!((turn(Stagger::Share(Ratio::of(0.25)), Count(12), Count(18)).degrees() - 5.0).abs() < 1e-12);
        assert!((turn(Stagger::By(degrees(-7.0)), Count(12), Count(12)).degrees() + 7.0).abs() < 1e-12);
    }

    #[test]
    fn joints_over_joints_all_line_up_and_staggered_ones_do_not() {
        let near = degrees(1.0);
        assert_eq!(line_up(joints(12, 0.0), joints(12, 0.0), near).near, Count(12));
        assert_eq!(line_up(joints(12, 0.0), joints(12, 15.0), near).near, Count(0));
        assert_eq!(line_up(joints(12, 0.0), joints(24, 0.0), near).near, Count(12));
        assert_eq!(line_up(joints(24, 0.0), joints(12, 0.0), near).near, Count(12));
        // Coprime counts: one joint of the 13 lies over one of the 12.
        assert_eq!(line_up(joints(12, 0.0), joints(13, 0.0), near).near, Count(1));
        // 15° at a radius of 50 mm are 13.09 mm.
        assert!((arc(Length::from_mm(50.0), degrees(15.0)).mm() - 13.089_969).abs() < 1e-6);
    }

    /// Every joint against every joint.
    fn brute_force(below: Joints, above: Joints, reach: f64) -> (f64, u32) {
        let apart = |a: f64, b: f64| {
            let turn = (a - b).rem_euclid(360.0);
            turn.min(360.0 - turn)
        };
        let places = |joints: Joints| {
            (0..joints.count.0).map(move |i| joints.first.degrees() + 360.0 * f64::from(i) / f64::from(joints.count.0))
        };
        let nearest = |at: f64| places(below).map(|other| apart(at, other)).fold(f64::INFINITY, f64::min);
        let distances: Vec<f64> = places(above).map(nearest).collect();
        let near = distances.iter().filter(|distance| **distance <= reach).count();
        (distances.into_iter().fold(f64::INFINITY, f64::min), u32::try_from(near).unwrap())
    }

    fn spread(repeats: u32, shares: &[f64], first: f64) -> Spread {
        let all: f64 = shares.iter().sum::<f64>() * f64::from(repeats);
        let places = shares.iter().scan(0.0, |at, share| {
            let here = *at;
            *at += 360.0 * share / all;
            Some(here)
        });
        Spread { first: degrees(first), repeats, places: places.collect() }
    }

    fn nearest_of_all(below: &Spread, above: &Spread) -> f64 {
        let apart = |a: f64, b: f64| {
            let turn = (a - b).rem_euclid(360.0);
            turn.min(360.0 - turn)
        };
        let below = below.sorted();
        above.sorted().iter().flat_map(|a| below.iter().map(move |b| apart(*a, *b))).fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn unlike_shares_are_turned_as_far_apart_as_they_go() {
        // 2:1 four times over: joints at 0, 60, 90, 150, … Over the same, they meet at 0, 30 and 60
        // in every 90: midway from 0 to 30 comes first.
        let (turn, most) = spread(4, &[2.0, 1.0], 0.0).farthest(&spread(4, &[2.0, 1.0], 0.0));
        assert!((turn.degrees() - 15.0).abs() < 1e-9 && (most.degrees() - 15.0).abs() < 1e-9);
    }

    proptest! {
        /// No other turn keeps unevenly spread joints farther apart, and what is told of them is what
        /// every joint against every joint says.
        #[test]
        fn uneven_joints_by_brute_force(
            (m, n) in (1_u32..6, 1_u32..6), other in 0.0..360.0_f64, first in -400.0..400.0_f64,
            lower in proptest::collection::vec(0.5..3.0_f64, 1..5), upper in proptest::collection::vec(0.5..3.0_f64, 2..5),
        ) {
            let (below, own) = (spread(m, &lower, first), spread(n, &upper, 0.0));
            let (turn, most) = own.farthest(&below);
            let turned = |by: f64| spread(n, &upper, first + by);
            prop_assert!((nearest_of_all(&below, &turned(turn.degrees())) - most.degrees()).abs() < 1e-6);
            prop_assert!(nearest_of_all(&below, &turned(other)) <= most.degrees() + 1e-6);
            let told = turned(other).line_up(&below, degrees(0.0)).nearest.degrees();
            prop_assert!((told - nearest_of_all(&below, &turned(other))).abs() < 1e-9);
        }

        #[test]
        fn the_closed_form_counts_as_brute_force_does(
            m in 3_u32..60, n in 3_u32..60, first in -400.0..400.0_f64, turned in -400.0..400.0_f64, reach in 0.01..20.0_f64,
        ) {
            let (below, above) = (joints(m, first), joints(n, turned));
            let found = line_up(below, above, degrees(reach));
            let (nearest, near) = brute_force(below, above, reach);
            prop_assert!((found.nearest.degrees() - nearest).abs() < 1e-9);
            let (_, fewer) = brute_force(below, above, reach - 1e-9);
            let (_, more) = brute_force(below, above, reach + 1e-9);
            prop_assert!(found.near.0 >= fewer && found.near.0 <= more, "{} of {near}", found.near.0);
        }

        /// No other turn keeps the joints farther apart than half does.
        #[test]
        fn half_is_as_far_as_the_counts_allow(m in 3_u32..40, n in 3_u32..40, other in 0.0..360.0_f64) {
            let half = turn(Stagger::Half, Count(m), Count(n)).degrees();
            let (at_half, _) = brute_force(joints(m, 0.0), joints(n, half), 0.0);
            let (at_other, _) = brute_force(joints(m, 0.0), joints(n, other), 0.0);
            prop_assert!(at_half >= at_other - 1e-9);
        }
    }
}
