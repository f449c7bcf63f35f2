//! One piece of a profile: a line or a cubic in the half plane of radius (x) and height (y), rising
//! from its first point to its last. Bare millimeters, as kurbo has them; types begin in `profile`.

use std::f64::consts::PI;

use kurbo::common::{GAUSS_LEGENDRE_COEFFS_5, GAUSS_LEGENDRE_COEFFS_16, solve_quadratic};
use kurbo::{Affine, CubicBez, Line, ParamCurve, ParamCurveDeriv, PathSeg, Point, Vec2};

use crate::quantity::trig;

/// A line or a cubic whose height rises all along.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Piece {
    /// A straight run.
    Line(Line),
    /// A curved run.
    Cubic(CubicBez),
}

impl Piece {
    pub(super) fn line(from: Point, to: Point) -> Self {
        Self::Line(Line::new(from, to))
    }

    pub(super) fn start(&self) -> Point {
        match self {
            Self::Line(line) => line.p0,
            Self::Cubic(cubic) => cubic.p0,
        }
    }

    pub(super) fn end(&self) -> Point {
        match self {
            Self::Line(line) => line.p1,
            Self::Cubic(cubic) => cubic.p3,
        }
    }

    /// Its control points; those of a line stand on it by thirds.
    pub(super) fn controls(&self) -> [Point; 4] {
        match self {
            Self::Line(line) => [line.p0, line.eval(1.0 / 3.0), line.eval(2.0 / 3.0), line.p1],
            Self::Cubic(cubic) => [cubic.p0, cubic.p1, cubic.p2, cubic.p3],
        }
    }

    /// For drawing.
    pub(super) fn segment(&self) -> PathSeg {
        match self {
            Self::Line(line) => PathSeg::Line(*line),
            Self::Cubic(cubic) => PathSeg::Cubic(*cubic),
        }
    }

    /// The way the curve goes at its first and at its last point, of length 1.
    pub(super) fn directions(&self) -> (Vec2, Vec2) {
        let [p0, p1, p2, p3] = self.controls();
        // A control that lies on its end says nothing; the next one does.
        let apart = |ways: [Vec2; 3]| ways.into_iter().find(|way| way.hypot2() > 0.0).unwrap_or_default();
        let (first, last) = (apart([p1 - p0, p2 - p0, p3 - p0]), apart([p3 - p2, p3 - p1, p3 - p0]));
        let unit = |tangent: Vec2| tangent / trig::hypot(tangent.x, tangent.y).max(f64::MIN_POSITIVE);
        (unit(first), unit(last))
    }

    /// The point at parameter `t`.
    pub(super) fn point(&self, t: f64) -> Point {
        match self {
            Self::Line(line) => line.eval(t),
            Self::Cubic(cubic) => cubic.eval(t),
        }
    }

    /// Radius at height `z`; beyond the ends, that of the nearer end.
    pub(super) fn radius_at(&self, z: f64) -> f64 {
        self.point(self.parameter_at(z)).x
    }

    /// The parameter at height `z`, within 0 and 1.
    fn parameter_at(&self, z: f64) -> f64 {
        let (low, high) = (self.start().y, self.end().y);
        if z <= low {
            return 0.0;
        }
        if z >= high {
            return 1.0;
        }
        let guess = (z - low) / (high - low);
        match self {
            Self::Line(_) => guess,
            Self::Cubic(cubic) => solve_rising(cubic, z, guess),
        }
    }

    /// The points of least and greatest radius between two heights: the ends, and wherever the curve
    /// turns between them (roots of dr/dt, a quadratic).
    pub(super) fn extremes(&self, z0: f64, z1: f64) -> (Point, Point) {
        let (from, to) = (self.parameter_at(z0), self.parameter_at(z1));
        let (first, last) = (self.point(from), self.point(to));
        let (mut least, mut greatest) = if first.x <= last.x { (first, last) } else { (last, first) };
        if let Self::Cubic(cubic) = self {
            let (d0, d1, d2) = (cubic.p1.x - cubic.p0.x, cubic.p2.x - cubic.p1.x, cubic.p3.x - cubic.p2.x);
            for t in solve_quadratic(d0, 2.0 * (d1 - d0), d0 - 2.0 * d1 + d2) {
                if t > from && t < to {
                    let turn = cubic.eval(t);
                    least = if turn.x < least.x { turn } else { least };
                    greatest = if turn.x > greatest.x { turn } else { greatest };
                }
            }
        }
        (least, greatest)
    }

    /// π∫r²dz between two heights. A line gives a frustum; on a cubic r²z′ has degree 8 in t, for
    /// which five Gauss–Legendre points are exact.
    pub(super) fn volume(&self, z0: f64, z1: f64) -> f64 {
        let (from, to) = (self.parameter_at(z0), self.parameter_at(z1));
        match self {
            Self::Line(line) => {
                let (a, b) = (line.eval(from), line.eval(to));
                PI / 3.0 * (b.y - a.y) * (a.x * a.x + a.x * b.x + b.x * b.x)
            }
            Self::Cubic(cubic) => {
                let slope = cubic.deriv();
                PI * integrate(GAUSS_LEGENDRE_COEFFS_5, from, to, |t| {
                    let radius = cubic.eval(t).x;
                    radius * radius * slope.eval(t).y
                })
            }
        }
    }

    /// π∫r²z dz between two heights. On a cubic r²zz′ has degree 11 in t, for which six Gauss–Legendre points are
    /// exact; sixteen are at hand.
    pub(super) fn moment(&self, z0: f64, z1: f64) -> f64 {
        let (from, to) = (self.parameter_at(z0), self.parameter_at(z1));
        let of = |at: Point, rise: f64| at.x * at.x * at.y * rise;
        PI * match self {
            Self::Line(line) => {
                let rise = line.p1.y - line.p0.y;
                integrate(GAUSS_LEGENDRE_COEFFS_16, from, to, |t| of(line.eval(t), rise))
            }
            Self::Cubic(cubic) => {
                let slope = cubic.deriv();
                integrate(GAUSS_LEGENDRE_COEFFS_16, from, to, |t| of(cubic.eval(t), slope.eval(t).y))
            }
        }
    }

    /// 2π∫r ds between two heights: exact on a line, to a billionth on a cubic.
    pub(super) fn lateral_area(&self, z0: f64, z1: f64) -> f64 {
        let (from, to) = (self.parameter_at(z0), self.parameter_at(z1));
        match self {
            Self::Line(line) => {
                let (a, b) = (line.eval(from), line.eval(to));
                PI * (a.x + b.x) * trig::hypot(b.x - a.x, b.y - a.y)
            }
            Self::Cubic(cubic) => {
                let slope = cubic.deriv();
                let ring = |t: f64| {
                    let along = slope.eval(t);
                    cubic.eval(t).x * trig::hypot(along.x, along.y)
                };
                2.0 * PI * integrate_until_steady(&ring, from, to, 12)
            }
        }
    }

    /// The whole of it moved.
    pub(super) fn moved(&self, by: Affine) -> Self {
        match self {
            Self::Line(line) => Self::Line(by * *line),
            Self::Cubic(cubic) => Self::Cubic(by * *cubic),
        }
    }

    /// ∫ of(r) dz between two heights: to a billionth.
    pub(super) fn integral(&self, z0: f64, z1: f64, of: &impl Fn(f64) -> f64) -> f64 {
        let (from, to) = (self.parameter_at(z0), self.parameter_at(z1));
        match self {
            Self::Line(line) => {
                let rise = line.p1.y - line.p0.y;
                integrate_until_steady(&|t| of(line.eval(t).x) * rise, from, to, 12)
            }
            Self::Cubic(cubic) => {
                let slope = cubic.deriv();
                integrate_until_steady(&|t| of(cubic.eval(t).x) * slope.eval(t).y, from, to, 12)
            }
        }
    }

    /// The part between two heights, which overlap the piece.
    pub(super) fn between(&self, z0: f64, z1: f64) -> Self {
        let (from, to) = (self.parameter_at(z0), self.parameter_at(z1));
        if from <= 0.0 && to >= 1.0 { *self } else { self.between_parameters(from, to) }
    }

    /// The part between two parameters.
    pub(super) fn between_parameters(&self, from: f64, to: f64) -> Self {
        match self {
            Self::Line(line) => Self::Line(line.subsegment(from..to)),
            Self::Cubic(cubic) => Self::Cubic(cubic.subsegment(from..to)),
        }
    }
}

/// The parameter at which a cubic that rises reaches height `z`: Newton's steps from `guess`, kept
/// between bounds that close in, so that a level tangent cannot throw it off.
fn solve_rising(cubic: &CubicBez, z: f64, guess: f64) -> f64 {
    let (y0, y1, y2, y3) = (cubic.p0.y, cubic.p1.y, cubic.p2.y, cubic.p3.y);
    let (a, b, c) = (y3 - 3.0 * (y2 - y1) - y0, 3.0 * (y2 - 2.0 * y1 + y0), 3.0 * (y1 - y0));
    let (mut low, mut high, mut t) = (0.0, 1.0, guess);
    for _ in 0..64 {
        let over = ((a * t + b) * t + c) * t + (y0 - z);
        if over < 0.0 {
            low = t;
        } else {
            high = t;
        }
        let newton = t - over / ((3.0 * a * t + 2.0 * b) * t + c);
        let next = if newton >= low && newton <= high { newton } else { f64::midpoint(low, high) };
        let step = (next - t).abs();
        t = next;
        if step <= 1e-15 {
            break;
        }
    }
    t
}

fn integrate(nodes: &[(f64, f64)], from: f64, to: f64, value: impl Fn(f64) -> f64) -> f64 {
    let (half, middle) = (0.5 * (to - from), f64::midpoint(from, to));
    half * nodes.iter().map(|(weight, at)| weight * value(middle + half * at)).sum::<f64>()
}

/// Halves the span until halving changes nothing that matters, at most `depth` times.
fn integrate_until_steady(value: &impl Fn(f64) -> f64, from: f64, to: f64, depth: u32) -> f64 {
    let middle = f64::midpoint(from, to);
    let whole = integrate(GAUSS_LEGENDRE_COEFFS_16, from, to, value);
    let halves = integrate(GAUSS_LEGENDRE_COEFFS_16, from, middle, value)
        + integrate(GAUSS_LEGENDRE_COEFFS_16, middle, to, value);
    if depth == 0 || (whole - halves).abs() <= 1e-9 * halves.abs() {
        return halves;
    }
    integrate_until_steady(value, from, middle, depth - 1) + integrate_until_steady(value, middle, to, depth - 1)
}
