//! A wall whose thickness goes evenly with height, and the edge that disks of that radius leave.
//!
//! Disks of radius T about the points c(σ) of a curve, σ being its length, touch their common edge
//! at c + T (−T′ u + √(1 − T′²) n), where u goes along the curve, n square to it toward the axis,
//! and T′ = dT/dσ is the taper times the rise of u. For T′ = 0 that is the parallel curve.

use kurbo::{CubicBez, Line, ParamCurve, ParamCurveDeriv, Point, Vec2};

use crate::quantity::{Length, trig};

use super::profile::Profile;

/// How far a fitted edge may stray from the true one.
const TOLERANCE_MM: f64 = 1e-6;

/// Every cubic is fitted by this many parts at least, so that none of its bends is overlooked.
const PARTS: u32 = 4;

/// A part is halved so often at most: enough for a bend that the lathe could not show.
const HALVINGS: u32 = 24;

/// Steeper tapers are none: a disk would hold its neighbors.
pub(super) const STEEPEST: f64 = 0.9;

/// T(z) = base + slope (z − bottom).
#[derive(Debug, Clone, Copy)]
pub(super) struct Taper {
    bottom: f64,
    base: f64,
    slope: f64,
}

/// A point of an edge, and how fast it goes with the parameter.
#[derive(Debug, Clone, Copy)]
struct Way {
    at: Point,
    speed: Vec2,
}

impl Taper {
    /// From `base` at the outside's bottom to `rim` at its top.
    pub(super) fn between(base: Length, rim: Length, outside: &Profile) -> Self {
        let slope = (rim - base) / (outside.top() - outside.bottom());
        let bottom = outside.bottom().mm();
        if slope.abs() < STEEPEST {
            Self { bottom, base: base.mm(), slope }
        } else {
            Self { bottom, base: base.max(rim).mm(), slope: 0.0 }
        }
    }

    pub(super) fn at(&self, z: f64) -> f64 {
        self.base + self.slope * (z - self.bottom)
    }

    /// How far beyond the end at height `z` the outside has to go on, upward (1) or downward (−1), so
    /// that no disk is missed; less than to where the wall would be no more.
    pub(super) fn reach(&self, z: f64, way: f64) -> f64 {
        let (wall, shrinks) = (self.at(z), -self.slope * way);
        let enough = 2.0 * wall / (1.0 - self.slope.abs());
        if shrinks > 0.0 { enough.min(0.95 * wall / shrinks) } else { enough }
    }

    /// The edge along a line: a line.
    pub(super) fn along(&self, line: &Line) -> Line {
        let way = line.p1 - line.p0;
        let along = way / trig::hypot(way.x, way.y).max(f64::MIN_POSITIVE);
        let inward = self.inward(along);
        Line::new(line.p0 + inward * self.at(line.p0.y), line.p1 + inward * self.at(line.p1.y))
    }

    /// From a disk's center to where it touches the edge, for a disk of radius 1.
    fn inward(&self, along: Vec2) -> Vec2 {
        let rate = self.slope * along.y;
        along * -rate + along.turn_90() * trig::sqrt(1.0 - rate * rate)
    }

    /// The edge along a cubic, fitted by cubics that meet its points and directions; each is given to
    /// `put` in turn.
    pub(super) fn along_cubic(&self, cubic: &CubicBez, mut put: impl FnMut(CubicBez)) {
        let mut from = (0.0, self.way(cubic, 0.0));
        for part in 1..=PARTS {
            let t = f64::from(part) / f64::from(PARTS);
            let to = (t, self.way(cubic, t));
            self.fit(cubic, from, to, HALVINGS, &mut put);
            from = to;
        }
    }

    fn fit(&self, cubic: &CubicBez, from: (f64, Way), to: (f64, Way), depth: u32, put: &mut impl FnMut(CubicBez)) {
        let third = (to.0 - from.0) / 3.0;
        let fitted = CubicBez::new(from.1.at, from.1.at + from.1.speed * third, to.1.at - to.1.speed * third, to.1.at);
        let strays = |share: f64| {
            let true_one = self.way(cubic, from.0 + share * (to.0 - from.0)).at;
            fitted.eval(share).distance(true_one) > TOLERANCE_MM
        };
        if depth == 0 || ![0.25, 0.5, 0.75].into_iter().any(strays) {
            put(fitted);
            return;
        }
        let t = f64::midpoint(from.0, to.0);
        let middle = (t, self.way(cubic, t));
        self.fit(cubic, from, middle, depth - 1, put);
        self.fit(cubic, middle, to, depth - 1, put);
    }

    fn way(&self, cubic: &CubicBez, t: f64) -> Way {
        let center = cubic.eval(t);
        let (mut speed, bend) = (cubic.deriv().eval(t), cubic.deriv().deriv().eval(t).to_vec2());
        let mut velocity = speed.to_vec2();
        if trig::hypot(velocity.x, velocity.y) <= 1e-9 {
            // A control lies on its end: a hair beside it the curve has a direction.
            speed = cubic.deriv().eval(if t < 0.5 { t + 1e-6 } else { t - 1e-6 });
            velocity = speed.to_vec2();
        }
        let length = trig::hypot(velocity.x, velocity.y).max(f64::MIN_POSITIVE);
        let along = velocity / length;
        let across = along.turn_90();
        // The direction turns so fast with the parameter.
        let turning = velocity.cross(bend) / (length * length);
        let wall = self.at(center.y);
        let rate = self.slope * along.y;
        let square = trig::sqrt(1.0 - rate * rate);
        let rate_speed = self.slope * turning * across.y;
        let inward = self.inward(along);
        let inward_speed = across * (-rate * turning)
            - along * rate_speed
            - along * (square * turning)
            - across * (rate * rate_speed / square);
        let at = center + inward * wall;
        Way { at, speed: velocity + inward * (self.slope * velocity.y) + inward_speed * wall }
    }
}
