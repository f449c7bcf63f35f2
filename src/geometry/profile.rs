//! Points to a curve that gives a radius at every height, and what can be asked of it.

use std::f64::consts::PI;

use kurbo::{BezPath, Point};

use crate::quantity::{Area, Length, Volume};

use super::piece::Piece;
use super::smooth;

/// Heights closer than this are the same height: far below what any tool can do, far above what
/// summing thicknesses loses. A step so near to a layer's face lies on that face.
pub(super) const SAME_HEIGHT_MM: f64 = 1e-6;

/// A curve in the half plane of radius and height: a radius at every height from its bottom to its
/// top, with a limit from either side where it steps. An empty one has radius 0 everywhere.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Profile {
    /// Rising, each beginning at the height where the one before it ends.
    pieces: Vec<Piece>,
}

/// A point that a profile goes through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProfilePoint {
    /// Above the bench.
    pub height: Length,
    /// From the axis.
    pub radius: Length,
}

/// Where a profile is nearest to the axis and where it is farthest, over some range of heights.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extremes {
    /// Nearest to the axis.
    pub least: ProfilePoint,
    /// Farthest from it.
    pub greatest: ProfilePoint,
}

/// Where a curve touches the axis, rounding may leave it a hair beyond.
fn radius(x: f64) -> Length {
    Length::from_mm(x.max(0.0))
}

impl ProfilePoint {
    fn point(self) -> Point {
        Point::new(self.radius.mm(), self.height.mm())
    }

    fn of(point: Point) -> Self {
        Self { height: Length::from_mm(point.y), radius: radius(point.x) }
    }
}

impl Profile {
    /// Straight lines through `points`, whose heights never fall; two of one height make a step. A
    /// step at the very bottom or top is a face, not part of the profile.
    #[must_use]
    pub fn straight(points: &[ProfilePoint]) -> Self {
        let lines = |run: &[Point]| run.windows(2).map(|pair| Piece::line(pair[0], pair[1])).collect();
        Self::through(points, lines)
    }

    /// A smooth curve through `points` that never overshoots between two of them; a step breaks it.
    #[must_use]
    pub fn smooth(points: &[ProfilePoint]) -> Self {
        Self::through(points, smooth::spans)
    }

    /// Joins each run between two steps by `join`.
    fn through(points: &[ProfilePoint], join: impl Fn(&[Point]) -> Vec<Piece>) -> Self {
        let points: Vec<Point> = points.iter().map(|point| point.point()).collect();
        let runs = points.chunk_by(|a, b| b.y - a.y > SAME_HEIGHT_MM);
        Self { pieces: runs.flat_map(join).collect() }
    }

    pub(super) fn of_pieces(pieces: Vec<Piece>) -> Self {
        Self { pieces }
    }

    pub(super) fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// Whether it covers no height at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.pieces.is_empty()
    }

    /// Where it begins.
    #[must_use]
    pub fn bottom(&self) -> Length {
        Length::from_mm(self.pieces.first().map_or(0.0, |piece| piece.start().y))
    }

    /// Where it ends.
    #[must_use]
    pub fn top(&self) -> Length {
        Length::from_mm(self.pieces.last().map_or(0.0, |piece| piece.end().y))
    }

    /// Radius just under height `z`; outside its range, that of the nearer end.
    #[must_use]
    pub fn below(&self, z: Length) -> Length {
        let from = self.pieces.partition_point(|piece| piece.end().y < z.mm() - SAME_HEIGHT_MM);
        self.radius_in(from.min(self.pieces.len().saturating_sub(1)), z)
    }

    /// Radius just over height `z`; outside its range, that of the nearer end.
    #[must_use]
    pub fn above(&self, z: Length) -> Length {
        let after = self.pieces.partition_point(|piece| piece.start().y <= z.mm() + SAME_HEIGHT_MM);
        self.radius_in(after.saturating_sub(1), z)
    }

    fn radius_in(&self, piece: usize, z: Length) -> Length {
        radius(self.pieces.get(piece).map_or(0.0, |piece| piece.radius_at(z.mm())))
    }

    /// Its exact extremes between two heights, seen from within: a step on either height counts with
    /// its inner side only. A range outside the profile is taken at its nearer end.
    #[must_use]
    pub fn extremes(&self, z0: Length, z1: Length) -> Extremes {
        let (z0, z1) = self.within(z0, z1);
        let mut found: Option<(Point, Point)> = None;
        for piece in self.pieces_between(z0, z1) {
            let (least, greatest) = piece.extremes(z0, z1);
            found = Some(found.map_or((least, greatest), |(low, high)| {
                (if least.x < low.x { least } else { low }, if greatest.x > high.x { greatest } else { high })
            }));
        }
        let (least, greatest) = found.unwrap_or_else(|| {
            let z = Length::from_mm(z0);
            let radius = if z >= self.top() { self.below(z) } else { self.above(z) };
            let point = Point::new(radius.mm(), z0);
            (point, point)
        });
        Extremes { least: ProfilePoint::of(least), greatest: ProfilePoint::of(greatest) }
    }

    /// Greatest radius over all.
    #[must_use]
    pub fn max_radius(&self) -> Length {
        self.extremes(self.bottom(), self.top()).greatest.radius
    }

    /// Volume of the solid of revolution between two heights.
    #[must_use]
    pub fn volume(&self, z0: Length, z1: Length) -> Volume {
        let (z0, z1) = self.within(z0, z1);
        Volume::from_mm3(self.pieces_between(z0, z1).map(|piece| piece.volume(z0, z1)).sum())
    }

    /// Height of the center of that volume; midway where there is none.
    #[must_use]
    pub fn center_of_volume(&self, z0: Length, z1: Length) -> Length {
        let (z0, z1) = self.within(z0, z1);
        let volume: f64 = self.pieces_between(z0, z1).map(|piece| piece.volume(z0, z1)).sum();
        let moment: f64 = self.pieces_between(z0, z1).map(|piece| piece.moment(z0, z1)).sum();
        Length::from_mm(if volume > 0.0 { moment / volume } else { f64::midpoint(z0, z1) })
    }

    /// Volume between two heights of a solid whose level section at radius r is `section`(r).
    #[must_use]
    pub fn volume_of_sections(&self, z0: Length, z1: Length, section: impl Fn(Length) -> Area) -> Volume {
        let (z0, z1) = self.within(z0, z1);
        let of = |x: f64| section(radius(x)).mm2();
        Volume::from_mm3(self.pieces_between(z0, z1).map(|piece| piece.integral(z0, z1, &of)).sum())
    }

    /// Surface of revolution between two heights, with the level faces of the steps between them.
    #[must_use]
    pub fn lateral_area(&self, z0: Length, z1: Length) -> Area {
        let (z0, z1) = self.within(z0, z1);
        let mut area = 0.0;
        let mut before: Option<&Piece> = None;
        for piece in self.pieces_between(z0, z1) {
            area += piece.lateral_area(z0, z1);
            if let Some(before) = before {
                let (under, over) = (before.end().x, piece.start().x);
                area += PI * (over * over - under * under).abs();
            }
            before = Some(piece);
        }
        Area::from_mm2(area)
    }

    /// The part between two heights; empty when there is none.
    #[must_use]
    pub fn between(&self, z0: Length, z1: Length) -> Self {
        if z1 <= z0 {
            return Self::default();
        }
        let (z0, z1) = self.within(z0, z1);
        Self { pieces: self.pieces_between(z0, z1).map(|piece| piece.between(z0, z1)).collect() }
    }

    /// Heights within it where the curve turns sharply or steps.
    #[must_use]
    pub fn corners(&self) -> Vec<Length> {
        /// Sine of the sharpest turn that still counts as going on smoothly: about half a degree.
        const SMOOTH: f64 = 0.01;
        let turns = |pair: &[Piece]| {
            let (end, start) = (pair[0].end(), pair[1].start());
            let (arriving, leaving) = (pair[0].directions().1.normalize(), pair[1].directions().0.normalize());
            (end.x - start.x).abs() > SAME_HEIGHT_MM || arriving.cross(leaving).abs() > SMOOTH
        };
        let pairs = self.pieces.windows(2).filter(|pair| turns(pair));
        pairs.map(|pair| Length::from_mm(pair[1].start().y)).collect()
    }

    /// The curve as a path to draw (x = radius, y = height, upward), steps as level lines.
    #[must_use]
    pub fn path(&self) -> BezPath {
        let mut path = BezPath::new();
        for piece in &self.pieces {
            if path.is_empty() {
                path.move_to(piece.start());
            } else {
                path.line_to(piece.start());
            }
            path.push(piece.segment().as_path_el());
        }
        path
    }

    /// Both heights in order and within the profile's range.
    fn within(&self, z0: Length, z1: Length) -> (f64, f64) {
        let (bottom, top) = (self.bottom(), self.top());
        let held = |z: Length| z.max(bottom).min(top).mm();
        let (a, b) = (held(z0), held(z1));
        (a.min(b), a.max(b))
    }

    fn pieces_between(&self, z0: f64, z1: f64) -> impl Iterator<Item = &Piece> {
        let first = self.pieces.partition_point(|piece| piece.end().y <= z0 + SAME_HEIGHT_MM);
        self.pieces[first..].iter().take_while(move |piece| piece.start().y < z1 - SAME_HEIGHT_MM)
    }
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use kurbo::{CubicBez, Point};

    use super::{Piece, Profile, ProfilePoint};
    use crate::quantity::Length;

    fn points(at: &[(f64, f64)]) -> Vec<ProfilePoint> {
        at.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect()
    }

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[track_caller]
    fn assert_figure(got: f64, wanted: f64) {
        assert!((got - wanted).abs() <= 5e-6 * wanted.abs().max(1e-3), "{got}, not {wanted}");
    }

    #[test]
    fn smooth_is_scipys_pchip() {
        // Rows printed by SciPy 1.17.1, scipy.interpolate.PchipInterpolator, nine digits: a belly with its
        // widest point at 1.5; a level run into a sharp rise and a fall; one where an end slope is capped.
        type Row<'a> = (&'a [(f64, f64)], &'a [(f64, f64)]);
        let rows: [Row<'_>; 4] = [
            (
                &[(0.0, 1.75), (1.5, 2.1875), (3.5, 2.0), (4.75, 1.375), (5.375, 0.625)],
                &[
                    (0.4, 1.925_013_23),
                    (1.2, 2.163_928_57),
                    (2.3, 2.153_5),
                    (3.1, 2.062_166_67),
                    (4.2, 1.736_521_28),
                    (5.0, 1.130_424_66),
                ],
            ),
            (
                &[(0.0, 30.0), (10.0, 30.0), (12.0, 55.0), (40.0, 54.0), (41.0, 10.0)],
                &[
                    (3.0, 30.0),
                    (10.5, 33.906_25),
                    (11.7, 53.481_25),
                    (20.0, 54.970_585_1),
                    (39.0, 54.099_892_7),
                    (40.3, 47.348_307_1),
                    (40.9, 14.917_866_1),
                ],
            ),
            (
                &[(0.0, 10.0), (1.0, 11.0), (2.0, 5.0)],
                &[(0.25, 10.578_125), (0.5, 10.875), (1.3, 10.302_5), (1.8, 6.84)],
            ),
            (
                &[(0.0, 20.0), (10.0, 30.0), (20.0, 30.5), (30.0, 45.0), (40.0, 20.0)],
                &[(5.0, 26.724_702_4), (15.0, 30.248_214_3), (25.0, 37.870_833_3), (35.0, 38.093_75)],
            ),
        ];
        for (given, wanted) in rows {
            let profile = Profile::smooth(&points(given));
            for (z, radius) in wanted {
                let got = profile.above(mm(*z)).mm();
                assert!((got - radius).abs() <= 1e-8 * radius, "at {z}: {got}, not {radius}");
            }
        }
    }

    #[test]
    fn figures_of_known_curves() {
        // Reference row of a straight cone (closed form to six digits): radius
        // 34.1667 at 15 and 39.1667 at 33, volume 76144.4, lateral area 4303.92.
        let cone = Profile::straight(&points(&[(0.0, 30.0), (60.0, 30.0 + 60.0 * 5.0 / 18.0)]));
        let (z0, z1) = (mm(15.0), mm(33.0));
        let extremes = cone.extremes(z0, z1);
        assert_figure(extremes.least.radius.mm(), 34.166_7);
        assert_figure(extremes.greatest.radius.mm(), 39.166_7);
        assert_figure(cone.volume(z0, z1).mm3(), 76_144.4);
        assert_figure(cone.lateral_area(z0, z1).mm2(), 4_303.92);
    }

    #[test]
    fn corners_are_where_a_curve_turns_or_steps() {
        let heights = |profile: &Profile| profile.corners().iter().map(|z| z.mm()).collect::<Vec<_>>();
        let bent = Profile::straight(&points(&[
            (0.0, 30.0),
            (10.0, 40.0),
            (20.0, 50.0),
            (30.0, 45.0),
            (30.0, 40.0),
            (50.0, 40.0),
        ]));
        assert_eq!(heights(&bent), [20.0, 30.0], "straight on at 10");
        assert!(
            heights(&Profile::smooth(&points(&[(0.0, 30.0), (10.0, 45.0), (25.0, 40.0), (40.0, 20.0)]))).is_empty()
        );
    }

    /// A quarter circle's standard cubic strays from the circle by under 2.8e-4 of its radius.
    #[test]
    fn a_cubic_ball_has_a_balls_volume_and_surface() {
        const ARM: f64 = 0.552_284_749_8;
        let r = 50.0;
        let lower = CubicBez::new((0.0, 0.0), (ARM * r, 0.0), (r, r - ARM * r), (r, r));
        let upper = CubicBez::new((r, r), (r, r + ARM * r), (ARM * r, 2.0 * r), (0.0, 2.0 * r));
        let ball = Profile::of_pieces(vec![Piece::Cubic(lower), Piece::Cubic(upper)]);
        let volume = 4.0 / 3.0 * std::f64::consts::PI * r.powi(3);
        assert!((ball.volume(mm(0.0), mm(100.0)).mm3() / volume - 1.0).abs() < 6e-4);
        let area = 4.0 * std::f64::consts::PI * r * r;
        assert!((ball.lateral_area(mm(0.0), mm(100.0)).mm2() / area - 1.0).abs() < 6e-4);
        let extremes = ball.extremes(mm(30.0), mm(90.0));
        assert!((extremes.greatest.radius.mm() - 50.0).abs() < 1e-9);
        assert!((extremes.least.radius.mm() - 30.0).abs() < 0.02, "√(50² − 40²) at 90");
    }

    /// Volume and area by thin frusta, extremes by dense sampling.
    #[test]
    fn a_smooth_curve_measures_as_its_samples_do() {
        let profile = Profile::smooth(&points(&[
            (0.0, 30.0),
            (20.0, 55.0),
            (35.0, 50.0),
            (35.0, 42.0),
            (60.0, 20.0),
            (70.0, 25.0),
            (90.0, 25.0),
        ]));
        for (z0, z1) in [(0.0, 90.0), (12.0, 28.0), (35.0, 64.0), (20.0, 35.0), (50.0, 88.0)] {
            let (mut volume, mut area) = (0.0, 0.0);
            let (mut least, mut greatest) = (f64::INFINITY, 0.0_f64);
            let steps = 90_000;
            let height = (z1 - z0) / f64::from(steps);
            for i in 0..steps {
                let (low, high) = (z0 + height * f64::from(i), z0 + height * f64::from(i + 1));
                let (a, b) = (profile.above(mm(low)).mm(), profile.below(mm(high)).mm());
                volume += std::f64::consts::PI * height / 3.0 * (a * a + a * b + b * b);
                area += std::f64::consts::PI * (a + b) * (b - a).hypot(height);
                (least, greatest) = (least.min(a).min(b), greatest.max(a).max(b));
            }
            let step = if z0 < 35.0 && z1 > 35.0 { std::f64::consts::PI * (50.0 * 50.0 - 42.0 * 42.0) } else { 0.0 };
            let got = profile.extremes(mm(z0), mm(z1));
            assert!((profile.volume(mm(z0), mm(z1)).mm3() / volume - 1.0).abs() < 1e-7, "{z0}..{z1}");
            assert!((profile.lateral_area(mm(z0), mm(z1)).mm2() / (area + step) - 1.0).abs() < 1e-5, "{z0}..{z1}");
            assert!((got.least.radius.mm() - least).abs() < 1e-6, "{z0}..{z1}");
            assert!((got.greatest.radius.mm() - greatest).abs() < 1e-6, "{z0}..{z1}");
        }
    }

    #[test]
    fn a_step_on_a_face_counts_from_within_alone() {
        let shoulder = Profile::straight(&points(&[(0.0, 50.0), (20.0, 50.0), (20.0, 30.0), (40.0, 30.0)]));
        // A face that summing thicknesses left a hair off the step lies on it all the same.
        for face in [20.0, 20.0 - 1e-9, 20.0 + 1e-9] {
            assert!((shoulder.extremes(mm(0.0), mm(face)).least.radius.mm() - 50.0).abs() < 1e-12);
            assert!((shoulder.extremes(mm(face), mm(40.0)).greatest.radius.mm() - 30.0).abs() < 1e-12);
            assert!((shoulder.below(mm(face)).mm() - 50.0).abs() < 1e-12);
            assert!((shoulder.above(mm(face)).mm() - 30.0).abs() < 1e-12);
        }
        let across = shoulder.extremes(mm(19.0), mm(21.0));
        assert!((across.least.radius.mm() - 30.0).abs() < 1e-12 && (across.greatest.radius.mm() - 50.0).abs() < 1e-12);
        // Beyond the ends: the nearer end.
        assert!((shoulder.extremes(mm(45.0), mm(50.0)).greatest.radius.mm() - 30.0).abs() < 1e-12);
    }

    #[test]
    fn a_face_at_the_bottom_or_the_top_is_no_part_of_the_profile() {
        let drum = Profile::straight(&points(&[(0.0, 0.0), (0.0, 40.0), (30.0, 40.0), (30.0, 0.0)]));
        assert!((drum.above(mm(0.0)).mm() - 40.0).abs() < 1e-12 && (drum.below(mm(30.0)).mm() - 40.0).abs() < 1e-12);
        assert_eq!(drum.path().elements().len(), 2);
        assert_eq!(Profile::default().extremes(mm(0.0), mm(5.0)).greatest.radius, Length::ZERO);
        assert_eq!(Profile::smooth(&points(&[(0.0, 4.0)])), Profile::default());
        assert_eq!(drum.between(mm(40.0), mm(30.0)), Profile::default());
        let part = drum.between(mm(10.0), mm(20.0));
        assert_eq!((part.bottom(), part.top()), (mm(10.0), mm(20.0)));
        assert_eq!(part.pieces()[0].start(), Point::new(40.0, 10.0));
    }
}
