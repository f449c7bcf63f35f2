//! Outside curve to inside curve: a wall of one thickness or a tapering one, square to the outside.
//!
//! Every point of the outside, as the center of a disk of the wall's radius, makes that disk wood;
//! the cavity is what is left toward the axis. At height z it reaches to the least of
//! R(s) − √(T² − (s − z)²) over all heights s of the outside. That least is found curve by curve:
//! each run of the outside gives its parallel curve, each corner and step a round of radius T. As z
//! rises the point s that decides rises too (a disk's edge is convex), so of two such curves the
//! one of the upper source, once it is nearer to the axis, stays so: they change over at one height
//! at most, and one sweep up the outside with a stack finds all changes. With a wall that tapers
//! evenly this holds as well: the edge's slope at z depends on (z − s)/T(s) alone, which falls as s
//! rises wherever T(z) > 0.

use std::f64::consts::PI;

use kurbo::common::{solve_itp, solve_quadratic};
use kurbo::{Arc, CubicBez, ParamCurve, ParamCurveDeriv, Point, Vec2};

use crate::quantity::{Length, trig};

use super::assemble::{Side, hold};
use super::piece::Piece;
use super::profile::Profile;
use super::taper::Taper;

/// How far a round may stray from the true one.
const TOLERANCE_MM: f64 = 1e-6;

/// A curve that rises by less of its way ends level: it does not go on beyond its end.
const LEVEL: f64 = 1e-6;

/// Shorter stretches of height are no stretch.
const NO_HEIGHT_MM: f64 = 1e-9;

/// The inside that leaves a wall of thickness `wall`, square to `outside`, between two heights.
/// Beyond its ends the outside is taken to go on straight, so that the wall is square there too.
/// Where the wall takes all there is, the radius is 0.
#[must_use]
pub fn inside_of(outside: &Profile, wall: Length, from: Length, to: Length) -> Profile {
    inside_tapered(outside, wall, wall, from, to)
}

/// The same with a wall that goes from `base`, at the bottom of the outside, to `rim`, at its top,
/// evenly with the height of the outside's surface. A taper as steep as the wall is high is none:
/// then the thicker of the two is taken all over.
#[must_use]
pub fn inside_tapered(outside: &Profile, base: Length, rim: Length, from: Length, to: Length) -> Profile {
    let (low, high) = (from.max(outside.bottom()).mm(), to.min(outside.top()).mm());
    if outside.is_empty() || high - low <= NO_HEIGHT_MM {
        return Profile::default();
    }
    if base.min(rim) <= Length::ZERO {
        return outside.between(from, to);
    }
    if base.min(rim) >= outside.max_radius() {
        let axis = |z: f64| Point::new(0.0, z);
        return Profile::of_pieces(vec![Piece::line(axis(low), axis(high))]);
    }
    let wall = &Taper::between(base, rim, outside);
    let candidates = candidates(outside.pieces(), wall);
    let stretches = nearest_to_axis(&candidates, low, high);
    let mut pieces = Vec::with_capacity(stretches.len());
    for (at, stretch) in stretches.iter().enumerate() {
        let end = stretches.get(at + 1).map_or(high, |next| next.from);
        if end - stretch.from > NO_HEIGHT_MM {
            stretch.candidate.write(stretch.from, end, &mut pieces);
        }
    }
    let mut held = Vec::with_capacity(pieces.len());
    for piece in pieces {
        hold(piece, 0.0, Side::Outward, &mut held);
    }
    Profile::of_pieces(held)
}

/// A curve that the inside may follow over some heights; nowhere nearer to the axis than the inside.
#[derive(Debug, Clone, Copy)]
enum Candidate {
    /// Parallel to a run of the outside.
    Parallel(Piece),
    /// The round of a disk about a corner or a step of the outside.
    Round { center: Point, radius: f64 },
}

impl Candidate {
    fn bottom(&self) -> f64 {
        match self {
            Self::Parallel(piece) => piece.start().y,
            Self::Round { center, radius } => center.y - radius,
        }
    }

    fn top(&self) -> f64 {
        match self {
            Self::Parallel(piece) => piece.end().y,
            Self::Round { center, radius } => center.y + radius,
        }
    }

    fn radius_at(&self, z: f64) -> f64 {
        match self {
            Self::Parallel(piece) => piece.radius_at(z),
            Self::Round { center, radius } => {
                let up = z - center.y;
                center.x - trig::sqrt(((radius - up) * (radius + up)).max(0.0))
            }
        }
    }

    /// Writes its curve between two heights.
    fn write(&self, from: f64, to: f64, pieces: &mut Vec<Piece>) {
        match self {
            Self::Parallel(piece) => pieces.push(piece.between(from, to)),
            Self::Round { center, radius } => {
                let turn = |z: f64| {
                    let up = (z - center.y).clamp(-radius, *radius);
                    PI - trig::atan2(up, trig::sqrt((radius - up) * (radius + up)))
                };
                let (start, end) = (turn(from), turn(to));
                let arc = Arc::new(*center, Vec2::new(*radius, *radius), start, end - start, 0.0);
                let mut at = Point::new(self.radius_at(from), from);
                arc.to_cubic_beziers(TOLERANCE_MM, |leave, arrive, end| {
                    pieces.push(Piece::Cubic(CubicBez::new(at, leave, arrive, end)));
                    at = end;
                });
            }
        }
    }
}

/// All candidates, in the order of their sources up the outside.
fn candidates(outside: &[Piece], wall: &Taper) -> Vec<Candidate> {
    let (Some(first), Some(last)) = (outside.first(), outside.last()) else { return Vec::new() };
    let mut candidates = Vec::with_capacity(4 * outside.len());
    let round = |center: Point| Candidate::Round { center, radius: wall.at(center.y) };
    let (start, start_way) = (first.start(), first.directions().0);
    if start_way.y > LEVEL {
        let onward = start_way * (wall.reach(start.y, -1.0) / start_way.y);
        push_parallel(Piece::line(start - onward, start), wall, &mut candidates);
    } else {
        candidates.push(round(start));
    }
    let mut before: Option<&Piece> = None;
    for piece in outside {
        if let Some(center) = before.and_then(|before| corner(before, piece)) {
            candidates.push(round(center));
        }
        push_parallel(*piece, wall, &mut candidates);
        before = Some(piece);
    }
    let (end, end_way) = (last.end(), last.directions().1);
    if end_way.y > LEVEL {
        let onward = end_way * (wall.reach(end.y, 1.0) / end_way.y);
        push_parallel(Piece::line(end, end + onward), wall, &mut candidates);
    } else {
        candidates.push(round(end));
    }
    candidates
}

/// The corner between two pieces: none where one goes on as the other; at a step, its inner edge.
fn corner(under: &Piece, over: &Piece) -> Option<Point> {
    let (end, start) = (under.end(), over.start());
    let (arriving, leaving) = (under.directions().1, over.directions().0);
    let goes_on = arriving.cross(leaving).abs() <= 1e-9 && arriving.dot(leaving) > 0.0;
    let is_smooth = (end.x - start.x).abs() <= NO_HEIGHT_MM && goes_on;
    let inner = if end.x <= start.x { end } else { start };
    (!is_smooth).then_some(inner)
}

/// Adds the parallel curve of one piece. Where the outside bends more sharply than the wall allows,
/// its parallel curve runs backward; those parts lie within other disks and are left out.
fn push_parallel(piece: Piece, wall: &Taper, candidates: &mut Vec<Candidate>) {
    match piece {
        Piece::Line(line) => {
            let edge = wall.along(&line);
            if edge.p1.y > edge.p0.y {
                candidates.push(Candidate::Parallel(Piece::Line(edge)));
            }
        }
        Piece::Cubic(cubic) => wall.along_cubic(&cubic, |part| push_rising(part, candidates)),
    }
}

/// Adds the parts of a cubic that rise.
fn push_rising(cubic: CubicBez, candidates: &mut Vec<Candidate>) {
    let slope = cubic.deriv();
    let (y0, y1, y2) = (slope.p0.y, slope.p1.y, slope.p2.y);
    if y0 >= 0.0 && y1 >= 0.0 && y2 >= 0.0 {
        if cubic.p3.y > cubic.p0.y {
            candidates.push(Candidate::Parallel(Piece::Cubic(cubic)));
        }
        return;
    }
    let mut turns = solve_quadratic(y0, 2.0 * (y1 - y0), y0 - 2.0 * y1 + y2);
    turns.sort_unstable_by(f64::total_cmp);
    let inner = turns.into_iter().filter(|t| *t > 0.0 && *t < 1.0);
    let mut from = 0.0;
    for to in inner.chain(std::iter::once(1.0)) {
        let part = cubic.subsegment(from..to);
        if part.p3.y - part.p0.y > NO_HEIGHT_MM {
            candidates.push(Candidate::Parallel(Piece::Cubic(part)));
        }
        from = to;
    }
}

/// A candidate and the height from which the inside follows it.
#[derive(Debug, Clone, Copy)]
struct Stretch<'a> {
    candidate: &'a Candidate,
    from: f64,
}

/// Which candidate is nearest to the axis, from which height on.
fn nearest_to_axis(candidates: &[Candidate], low: f64, high: f64) -> Vec<Stretch<'_>> {
    let mut stretches: Vec<Stretch<'_>> = Vec::new();
    for candidate in candidates.iter().filter(|one| one.top() > low && one.bottom() < high) {
        let top = candidate.top().min(high);
        // If it is not ahead where it ends it is ahead nowhere. If it is, nothing found so far comes
        // back over that height; what follows there comes from sources yet to be looked at.
        let reached = stretches.partition_point(|stretch| stretch.from < top);
        if reached.checked_sub(1).is_some_and(|last| stretches[last].is_ahead_of(candidate, top)) {
            continue;
        }
        stretches.truncate(reached);
        let mut from = candidate.bottom().max(low);
        while let Some(under) = stretches.last().copied() {
            if let Some(change) = change_over(under, candidate, top) {
                from = change;
                break;
            }
            from = under.from;
            stretches.pop();
        }
        if from < top {
            stretches.push(Stretch { candidate, from });
        }
    }
    stretches
}

impl Stretch<'_> {
    /// Whether its candidate, and not `other`, is the nearer to the axis at height `z`.
    fn is_ahead_of(&self, other: &Candidate, z: f64) -> bool {
        self.candidate.top() >= z && self.candidate.radius_at(z) <= other.radius_at(z)
    }
}

/// The height at which a candidate of an upper source, ahead at its `top`, takes over from a
/// stretch; `None` when the stretch has no height left.
fn change_over(under: Stretch<'_>, over: &Candidate, top: f64) -> Option<f64> {
    let under_top = under.candidate.top();
    let (from, to) = (over.bottom().max(under.from), under_top.min(top));
    let takes_all = over.bottom() <= under.from + NO_HEIGHT_MM;
    if to - from <= NO_HEIGHT_MM {
        let is_spent = under_top <= under.from + NO_HEIGHT_MM;
        return if takes_all && is_spent { None } else { Some(under_top.max(under.from)) };
    }
    let lead = |z: f64| under.candidate.radius_at(z) - over.radius_at(z);
    let (first, last) = (lead(from), lead(to));
    if first >= 0.0 {
        (!takes_all).then_some(from)
    } else if last > 0.0 {
        Some(solve_itp(lead, from, to, 1e-10, 1, 0.2 / (to - from), first, last))
    } else {
        Some(to)
    }
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use proptest::prelude::*;

    use super::{inside_of, inside_tapered};
    use crate::geometry::profile::{Profile, ProfilePoint};
    use crate::quantity::{Angle, Length};

    fn profile(is_smooth: bool, points: &[(f64, f64)]) -> Profile {
        let points: Vec<_> = points
            .iter()
            .map(|(z, r)| ProfilePoint { height: Length::from_mm(*z), radius: Length::from_mm(*r) })
            .collect();
        if is_smooth { Profile::smooth(&points) } else { Profile::straight(&points) }
    }

    /// The definition, by brute force: the outside densely sampled (and straight on beyond its ends),
    /// each point a disk of wood; around the best sample the search is refined.
    fn brute_force(outside: &Profile, (base, rim): (f64, f64), z: f64) -> f64 {
        let (bottom, top) = (outside.bottom().mm(), outside.top().mm());
        let slope = (rim - base) / (top - bottom);
        let wall_at = |s: f64| base + slope * (s - bottom);
        let wall = wall_at(z);
        // The disks that reach z: |s − z| ≤ T(s).
        let (under, over) = (wall / (1.0 + slope), wall / (1.0 - slope));
        let (first, last) = (outside.pieces()[0], outside.pieces()[outside.pieces().len() - 1]);
        let (first_way, last_way) = (first.directions().0, last.directions().1);
        let radii = |s: f64| {
            if s < bottom {
                let radius = first.start().x + (s - bottom) * first_way.x / first_way.y;
                return [radius, radius];
            }
            if s > top {
                let radius = last.end().x + (s - top) * last_way.x / last_way.y;
                return [radius, radius];
            }
            [outside.below(Length::from_mm(s)).mm(), outside.above(Length::from_mm(s)).mm()]
        };
        let edge = |s: f64| {
            let wall = wall_at(s);
            let up = (s - z).clamp(-wall, wall);
            radii(s).into_iter().fold(f64::INFINITY, f64::min) - (wall * wall - up * up).max(0.0).sqrt()
        };
        let steps = 600;
        // Near its ends a disk is steep: sample evenly by angle as well as by height.
        let (middle, half) = (z + f64::midpoint(over, -under), f64::midpoint(over, under));
        let by_angle =
            (0..=steps).map(|i| middle - half * (std::f64::consts::PI * f64::from(i) / f64::from(steps)).cos());
        let by_height = (0..=steps).map(|i| middle - half + 2.0 * half * f64::from(i) / f64::from(steps));
        let joints = outside.pieces().iter().flat_map(|piece| [piece.start().y, piece.end().y]);
        let joints = joints.filter(|s| (s - middle).abs() <= half);
        // A curve that runs nearly level passes much of its width within a hair of height: sample it along its run too.
        let along = outside
            .pieces()
            .iter()
            .flat_map(|piece| (0..=steps).map(|i| piece.point(f64::from(i) / f64::from(steps)).y));
        let along = along.filter(|s| (s - middle).abs() <= half);
        let mut heights: Vec<f64> = by_angle.chain(by_height).chain(joints).chain(along).collect();
        heights.sort_by(f64::total_cmp);
        // Two samples at one height, but for rounding, would shut a valley out of the search.
        heights.dedup_by(|a, b| (*a - *b).abs() < 1e-7);
        let samples: Vec<f64> = heights.iter().map(|s| edge(*s)).collect();
        let lowest = samples.iter().copied().fold(f64::INFINITY, f64::min);
        let mut best = lowest;
        for at in 1..samples.len() - 1 {
            let is_valley = samples[at] <= samples[at - 1] && samples[at] <= samples[at + 1];
            if is_valley && samples[at] < lowest + 0.05 * wall {
                let (mut low, mut high) = (heights[at - 1], heights[at + 1]);
                for _ in 0..40 {
                    let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
                    let (at_a, at_b) = (edge(a), edge(b));
                    if at_a <= at_b {
                        high = b;
                    } else {
                        low = a;
                    }
                    best = best.min(at_a).min(at_b);
                }
            }
        }
        best.max(0.0)
    }

    /// Compares at heights spread over the outside, but not nearer than a hair to a step of the
    /// inside, where the height itself decides.
    fn assert_is_true_offset(outside: &Profile, wall: (f64, f64), within: f64) -> Result<(), TestCaseError> {
        let (base, rim) = (Length::from_mm(wall.0), Length::from_mm(wall.1));
        let inside = inside_tapered(outside, base, rim, outside.bottom(), outside.top());
        let (bottom, top) = (outside.bottom().mm(), outside.top().mm());
        prop_assert!((inside.bottom().mm() - bottom).abs() < 1e-6 && (inside.top().mm() - top).abs() < 1e-6);
        for pair in inside.pieces().windows(2) {
            prop_assert!((pair[0].end().y - pair[1].start().y).abs() < 1e-6, "a gap in height");
        }
        for i in 0..16 {
            let z = bottom + (top - bottom) * (f64::from(i) + 0.37) / 16.0;
            let (below, above) = (inside.below(Length::from_mm(z)).mm(), inside.above(Length::from_mm(z)).mm());
            let (under, over) = (brute_force(outside, wall, z - 2e-4), brute_force(outside, wall, z + 2e-4));
            let wanted = brute_force(outside, wall, z);
            let is_steep = (under - over).abs() > 5e-4;
            let near = |got: f64| (got - wanted).abs() < within;
            let (low, high) = (under.min(over).min(wanted), under.max(over).max(wanted));
            let between = |got: f64| is_steep && got > low - 1e-3 && got < high + 1e-3;
            for got in [below, above] {
                prop_assert!(near(got) || between(got), "at {z}: {got}, by brute force {wanted} ({under} .. {over})");
            }
        }
        Ok(())
    }

    #[test]
    fn a_leaning_wall_measures_t_over_cos_beta_on_the_level() {
        // Reference rows of a wall square to the surface (closed form to six digits): slope from vertical, wall, layer,
        // level wall, ring width R_max − r_min over the layer.
        for (beta, wall, layer, level, ring_width) in [
            (20.0, 8.0, 19.0, 8.513_42, 15.428_9),
            (45.0, 0.3125, 0.75, 0.441_942, 1.191_94),
            (70.0, 0.25, 0.5, 0.730_951, 2.104_69),
        ] {
            let lean = Angle::from_degrees(beta).tan();
            let outside = profile(false, &[(0.0, 10.0), (100.0, 10.0 + 100.0 * lean)]);
            let inside = inside_of(&outside, Length::from_mm(wall), outside.bottom(), outside.top());
            for z in [0.0, 37.0, 100.0] {
                let z = Length::from_mm(z);
                assert!((outside.above(z).mm() - inside.above(z).mm() - level).abs() < 1e-5 * level, "{beta}");
            }
            let (z0, z1) = (Length::from_mm(40.0), Length::from_mm(40.0 + layer));
            let width = outside.extremes(z0, z1).greatest.radius - inside.extremes(z0, z1).least.radius;
            assert!((width.mm() - ring_width).abs() < 1e-5 * ring_width, "{beta}: {}", width.mm());
        }
    }

    #[test]
    fn under_a_shoulder_the_wall_bends_round_and_steps() {
        // A cylinder of radius 50 that steps in to 40 at height 20, wall 5: the disk about the
        // shoulder's inner edge (40, 20) takes all wood from 15 up; under 15 the wall is 5 level.
        let outside = profile(false, &[(0.0, 50.0), (20.0, 50.0), (20.0, 40.0), (60.0, 40.0)]);
        let inside = inside_of(&outside, Length::from_mm(5.0), outside.bottom(), outside.top());
        let (at, just_under) = (Length::from_mm(15.0), Length::from_mm(14.99));
        assert!((inside.below(at).mm() - 45.0).abs() < 1e-9);
        assert!((inside.above(at).mm() - 40.0).abs() < 1e-6);
        assert!((inside.below(just_under).mm() - 45.0).abs() < 1e-9);
        // (z − 20)² + (r − 40)² = 25 at z = 17: r = 40 − 4.
        assert!((inside.above(Length::from_mm(17.0)).mm() - 36.0).abs() < 1e-5);
        assert!((inside.above(Length::from_mm(30.0)).mm() - 35.0).abs() < 1e-9);
    }

    #[test]
    fn a_tapering_wall_on_an_upright_side_is_a_cone() {
        // Disks of radius 10 at height 0 and 6 at 100 about a line have a common tangent: it leans by
        // asin 0.04 and stands 10 / cos of that from the line at the base, 6 / cos at the rim.
        let outside = profile(false, &[(0.0, 50.0), (100.0, 50.0)]);
        let (base, rim) = (Length::from_mm(10.0), Length::from_mm(6.0));
        let inside = inside_tapered(&outside, base, rim, outside.bottom(), outside.top());
        let square = (1.0_f64 - 0.04 * 0.04).sqrt();
        for (z, wall) in [(0.0, 10.0), (50.0, 8.0), (100.0, 6.0)] {
            let got = inside.above(Length::from_mm(z)).mm();
            assert!((got - (50.0 - wall / square)).abs() < 1e-9, "{z}: {got}");
        }
        // As steep as that it is none: the thicker all over.
        let steep = profile(false, &[(0.0, 50.0), (10.0, 50.0)]);
        let inside = inside_tapered(&steep, base, Length::from_mm(0.5), steep.bottom(), steep.top());
        assert!((inside.above(Length::from_mm(5.0)).mm() - 40.0).abs() < 1e-9);
    }

    #[test]
    fn a_curve_that_ends_level_goes_no_further() {
        // A quarter circle of radius 20 about (30, 0), from (50, 0) in to (30, 20): its parallel for a wall of 5
        // is the quarter of radius 15, and over it the disk about the end.
        let arm = 0.552_284_749_8 * 20.0;
        let quarter = kurbo::CubicBez::new((50.0, 0.0), (50.0, arm), (30.0 + arm, 20.0), (30.0, 20.0));
        let outside = Profile::of_pieces(vec![super::Piece::Cubic(quarter)]);
        let inside = inside_of(&outside, Length::from_mm(5.0), outside.bottom(), outside.top());
        for z in [3.0_f64, 9.0, 14.0] {
            let wanted = 30.0 + (15.0_f64 * 15.0 - z * z).sqrt();
            assert!((inside.above(Length::from_mm(z)).mm() - wanted).abs() < 0.02, "{z}");
        }
        assert!((inside.below(Length::from_mm(20.0)).mm() - 25.0).abs() < 1e-3);
    }

    #[test]
    fn a_ball_within_a_ball() {
        // The offset of a circle is a circle: a sphere of radius 100 about (0, 100), as 3,600
        // chords, wall 10; the chords' sagitta is 100 (1 − cos 0.0225°) < 1e-5.
        let points: Vec<_> = (200..=3800)
            .map(|i| {
                let turn = Angle::from_degrees(f64::from(i) * 180.0 / 4000.0);
                (100.0 - 100.0 * turn.cos(), 100.0 * turn.sin())
            })
            .collect();
        let outside = profile(false, &points);
        let inside = inside_of(&outside, Length::from_mm(10.0), outside.bottom(), outside.top());
        for z in [12.0_f64, 40.0, 100.0, 133.0, 185.0] {
            let wanted = (90.0_f64 * 90.0 - (z - 100.0) * (z - 100.0)).max(0.0).sqrt();
            assert!((inside.above(Length::from_mm(z)).mm() - wanted).abs() < 1e-3, "{z}");
        }
    }

    #[test]
    fn silly_walls_and_shapes_give_an_inside_all_the_same() {
        for outside in [
            profile(true, &[(0.0, 0.0), (1e-5, 1e6), (2e-5, 0.0), (1e7, 1e7)]),
            profile(true, &[(0.0, 5.0), (10.0, 5.0), (10.0, 1.0)]),
            profile(false, &[(0.0, 5.0), (0.0, 7.0), (0.0, 9.0)]),
            profile(false, &[]),
            profile(true, &[(3.0, 0.0), (1e6, 0.0), (1e6, 4.0), (1e6 + 1.0, 1e-9)]),
        ] {
            for wall in [-1.0, 0.0, 1e-9, 5.0, 1e7, f64::INFINITY] {
                let inside = inside_of(&outside, Length::from_mm(wall), outside.bottom(), outside.top());
                assert!(inside.max_radius().mm() >= 0.0);
                assert!(inside.volume(inside.bottom(), inside.top()).mm3() >= 0.0);
            }
        }
    }

    /// Heights rise by a little or a lot, or not at all (a step); radii go anywhere.
    fn outlines() -> impl Strategy<Value = Vec<(f64, f64)>> {
        let rise = prop_oneof![4 => 1.0..40.0, 1 => Just(0.0), 1 => 0.05..1.0];
        proptest::collection::vec((rise, 5.0..90.0), 2..9).prop_map(|steps| {
            let mut height = 0.0;
            let mut points = vec![(0.0, 40.0)];
            let mut stepped = true;
            for (rise, radius) in steps {
                // No two steps at one height, none at the ends.
                let rise = if rise == 0.0 && stepped { 7.0 } else { rise };
                stepped = rise == 0.0;
                height += rise;
                points.push((height, radius));
            }
            points.push((height + 5.0, 50.0));
            points
        })
    }

    /// Cubics drawn freely, but rising: level at their joints as often as not, and stepping between.
    fn drawings() -> impl Strategy<Value = Profile> {
        let share = || prop_oneof![Just(0.0), 0.0..1.0_f64];
        let stroke = (
            5.0..40.0_f64,
            share(),
            share(),
            [5.0..80.0_f64, 5.0..80.0, 5.0..80.0],
            proptest::option::of(5.0..80.0_f64),
        );
        proptest::collection::vec(stroke, 1..5).prop_map(|strokes| {
            let mut at = kurbo::Point::new(40.0, 0.0);
            let mut pieces = Vec::new();
            for (rise, early, late, [leave, arrive, end], step) in strokes {
                at.x = step.unwrap_or(at.x);
                let (low, high) = (at.y + early * rise, at.y + rise - late * rise);
                let to = kurbo::Point::new(end, at.y + rise);
                let ways = ((leave, low.min(high)), (arrive, low.max(high)));
                pieces.push(super::Piece::Cubic(kurbo::CubicBez::new(at, ways.0.into(), ways.1.into(), to)));
                at = to;
            }
            let line = |from, to| Profile::of_pieces(vec![super::Piece::line(from, to)]);
            let lower = line(kurbo::Point::new(40.0, 0.0), kurbo::Point::new(40.0, 6.0));
            let upper = line(at, at + kurbo::Vec2::new(1.0, 5.0)).raised(Length::from_mm(6.0));
            Profile::joined(&[lower, Profile::of_pieces(pieces).raised(Length::from_mm(6.0)), upper])
        })
    }

    /// Where samples by angle and by height fall together; 21.102 993 433 by 400,000 samples of the cubic.
    #[test]
    fn a_drawn_belly_is_measured_at_its_nearest_point() {
        let line = |from: (f64, f64), to: (f64, f64)| super::Piece::line(from.into(), to.into());
        let turn = 11.277_795_954_342_997;
        let belly = kurbo::CubicBez::new(
            (41.958_005_369_761_18, 6.0),
            (26.024_934_371_642_992, 6.0),
            (18.918_741_851_869_18, turn),
            (79.422_179_277_674_52, turn),
        );
        let outside = Profile::of_pieces(vec![
            line((40.0, 0.0), (40.0, 6.0)),
            super::Piece::Cubic(belly),
            line((79.422_179_277_674_52, turn), (80.422_179_277_674_52, turn + 5.0)),
        ]);
        let (wall, z) = (11.284_858_633_994_645, 13.602_133_244_347_867);
        let inside = super::inside_of(&outside, Length::from_mm(wall), outside.bottom(), outside.top());
        assert!((inside.above(Length::from_mm(z)).mm() - 21.102_993_433).abs() < 1e-6);
        assert!((brute_force(&outside, (wall, wall), z) - 21.102_993_433).abs() < 1e-6);
    }

    /// Curves that run nearly level into a joint; 13.329 686 349 and 28.848 136 689 by 1,000,000 samples of the cubic.
    #[test]
    fn a_drawn_shoulder_is_measured_where_it_runs_level() {
        let line = |from: (f64, f64), to: (f64, f64)| super::Piece::line(from.into(), to.into());
        let drawn = |points: [(f64, f64); 4]| {
            let [p0, p1, p2, p3] = points;
            Profile::of_pieces(vec![
                line((40.0, 0.0), (40.0, 6.0)),
                super::Piece::Cubic(kurbo::CubicBez::new(p0, p1, p2, p3)),
                line(p3, (p3.0 + 1.0, p3.1 + 5.0)),
            ])
        };
        let high = drawn([
            (40.0, 6.0),
            (41.546_005_625_334_345, 10.901_350_725_009_396),
            (17.930_565_740_715_387, 11.0),
            (19.132_051_481_009_27, 11.0),
        ]);
        let low = drawn([
            (40.0, 6.0),
            (39.516_848_034_653_16, 6.0),
            (58.698_019_630_871_315, 16.554_043_832_173_306),
            (5.0, 21.486_885_770_459_644),
        ]);
        for (outside, wall, z, wanted) in [
            (high, 5.918_799_526_825_973, 12.37, 13.329_686_349),
            (low, 11.150_926_025_444_088, 5.578_800_315_403_063, 28.848_136_689),
        ] {
            let inside = super::inside_of(&outside, Length::from_mm(wall), outside.bottom(), outside.top());
            let got = inside.above(Length::from_mm(z)).mm();
            assert!((got - wanted).abs() < 1e-6, "{got} is not {wanted}");
            let searched = brute_force(&outside, (wall, wall), z);
            assert!((searched - wanted).abs() < 1e-5, "{searched} is not {wanted}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        #[test]
        fn a_straight_outside_leaves_the_wall_that_the_definition_leaves(points in outlines(), wall in 0.5..15.0) {
            assert_is_true_offset(&profile(false, &points), (wall, wall), 1e-4)?;
        }

        #[test]
        fn a_smooth_outside_leaves_the_wall_that_the_definition_leaves(points in outlines(), wall in 0.5..15.0) {
            assert_is_true_offset(&profile(true, &points), (wall, wall), 1e-4)?;
        }

        #[test]
        fn a_drawn_outside_leaves_the_wall_that_the_definition_leaves(outside in drawings(), base in 0.5..12.0_f64, rim in 0.5..12.0_f64) {
            assert_is_true_offset(&outside, (base, base), 1e-4)?;
            prop_assume!((rim - base).abs() < 0.5 * outside.top().mm());
            assert_is_true_offset(&outside, (base, rim), 1e-4)?;
        }

        #[test]
        fn a_tapering_wall_is_the_one_that_the_definition_leaves(
            points in outlines(),
            is_smooth in any::<bool>(),
            base in 0.5..15.0_f64,
            rim in 0.5..15.0_f64,
        ) {
            let outside = profile(is_smooth, &points);
            prop_assume!((rim - base).abs() < 0.5 * outside.top().mm());
            assert_is_true_offset(&outside, (base, rim), 1e-4)?;
        }
    }
}
