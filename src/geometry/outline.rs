//! What a recipe says of a curve to its profile: points, single spans and fillets, path data, foot
//! and details.

use kurbo::{Point, Vec2};

use crate::finding::Finding;
use crate::quantity::{Length, System, trig};
use crate::resolve::{Outside, OutsideKind, OutsidePoint};

use super::arc;
use super::detail;
use super::outline_findings as findings;
use super::path;
use super::piece::Piece;
use super::profile::{Profile, SAME_HEIGHT_MM};
use super::smooth;

/// The curve that a recipe writes; `None` when it cannot be one, which is then among the findings.
pub(super) fn outline(
    outside: &Outside,
    units: System,
    stands_on_bench: bool,
    found: &mut Vec<Finding>,
) -> Option<Profile> {
    let pieces = match &outside.path {
        Some(path) => path::pieces(path, units, stands_on_bench, found)?,
        None => through_points(&outside.points, units, found)?,
    };
    let mut profile = Profile::of_pieces(pieces);
    if let Some(foot) = &outside.foot {
        if foot.tall.value >= profile.top() {
            found.push(findings::foot_too_tall(foot, profile.top(), units));
            return None;
        }
        let upright = Profile::cylinder(foot.diameter.value.radius(), profile.bottom(), foot.tall.value);
        profile = Profile::joined(&[upright, profile.between(foot.tall.value, profile.top())]);
    }
    detail::with_details(profile, &outside.details, units, found)
}

/// A span between two points.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Join {
    /// A step, or no span at all.
    Level,
    Straight,
    Smooth,
}

/// How much of its two spans a fillet takes, and its radius.
#[derive(Debug, Clone, Copy, Default)]
struct Round {
    radius: f64,
    takes: f64,
}

fn through_points(points: &[OutsidePoint], units: System, found: &mut Vec<Finding>) -> Option<Vec<Piece>> {
    let mut reached = f64::NEG_INFINITY;
    let at: Vec<Point> = points
        .iter()
        .map(|point| {
            // Heights that fall were reported where they are read; here they only must do no harm.
            reached = reached.max(point.height.value.mm());
            Point::new(point.diameter.value.radius().max(Length::ZERO).mm(), reached)
        })
        .collect();
    let joins: Vec<Join> = at.windows(2).zip(points.iter().skip(1)).map(|(pair, point)| join(pair, point)).collect();
    let rounds = rounds(points, &at, &joins, units, found)?;
    Some(spans(&at, &joins, &rounds))
}

fn join(pair: &[Point], upper: &OutsidePoint) -> Join {
    if pair[1].y - pair[0].y <= SAME_HEIGHT_MM {
        return Join::Level;
    }
    match upper.kind {
        OutsideKind::Straight => Join::Straight,
        OutsideKind::Smooth => Join::Smooth,
    }
}

/// The fillet at each point, most of them none; `None` when one does not fit.
fn rounds(
    points: &[OutsidePoint],
    at: &[Point],
    joins: &[Join],
    units: System,
    found: &mut Vec<Finding>,
) -> Option<Vec<Round>> {
    let before = found.len();
    let mut rounds = vec![Round::default(); points.len()];
    for (index, point) in points.iter().enumerate() {
        let Some(radius) = point.round else { continue };
        if index == 0 || index + 1 == points.len() {
            found.push(findings::round_at_end(point, radius));
        } else if joins[index - 1] == Join::Smooth || joins[index] == Join::Smooth {
            found.push(findings::round_beside_smooth(point, radius));
        } else {
            let tangent = half_turn_tangent(at[index] - at[index - 1], at[index + 1] - at[index]);
            rounds[index] = Round { radius: radius.value.mm(), takes: radius.value.mm() * tangent };
        }
    }
    for (span, pair) in at.windows(2).enumerate() {
        let has = (pair[1] - pair[0]).hypot();
        let wants = rounds[span].takes + rounds[span + 1].takes;
        if wants > has + SAME_HEIGHT_MM {
            // The larger of the two is the one to blame.
            let blamed = if rounds[span].takes > rounds[span + 1].takes { span } else { span + 1 };
            let largest = rounds[blamed].radius * (has - (wants - rounds[blamed].takes)) / rounds[blamed].takes;
            let (wants, has, largest) = (Length::from_mm(wants), Length::from_mm(has), Length::from_mm(largest));
            found.push(findings::round_too_large(&points[blamed], wants, has, largest, units));
        }
    }
    (found.len() == before).then_some(rounds)
}

/// Tangent of half the angle by which the curve turns at a corner.
fn half_turn_tangent(arriving: Vec2, leaving: Vec2) -> f64 {
    let turn = trig::atan2(arriving.cross(leaving), arriving.dot(leaving)).abs();
    if turn <= 1e-9 { 0.0 } else { trig::tan(turn / 2.0) }
}

fn spans(at: &[Point], joins: &[Join], rounds: &[Round]) -> Vec<Piece> {
    let mut pieces = Vec::with_capacity(at.len());
    let mut span = 0;
    while span < joins.len() {
        let mut end = span + 1;
        match joins[span] {
            Join::Level => {}
            Join::Straight => {
                let way = unit(at[span + 1] - at[span]);
                let (from, to) = (at[span] + way * rounds[span].takes, at[span + 1] - way * rounds[span + 1].takes);
                if to.y - from.y > SAME_HEIGHT_MM {
                    pieces.push(Piece::line(from, to));
                }
            }
            Join::Smooth => {
                while joins.get(end) == Some(&Join::Smooth) {
                    end += 1;
                }
                pieces.extend(smooth::spans(&at[span..=end]));
            }
        }
        if let Some(round) = rounds.get(end).filter(|round| round.takes > 0.0) {
            let (arriving, leaving) = (unit(at[end] - at[end - 1]), unit(at[end + 1] - at[end]));
            arc::between(at[end] - arriving * round.takes, arriving, leaving, round.radius, &mut pieces);
        }
        span = end;
    }
    pieces
}

fn unit(way: Vec2) -> Vec2 {
    way / trig::hypot(way.x, way.y).max(f64::MIN_POSITIVE)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]

    use crate::geometry::profile::{Profile, ProfilePoint};
    use crate::geometry::sample::{disc, mm, open, written};
    use crate::quantity::{Length, System};
    use crate::resolve::{Outside, OutsideKind};

    /// Points as (height, radius), all joined alike.
    fn outside(kind: OutsideKind, points: &[(f64, f64)]) -> Outside {
        let across: Vec<(f64, f64)> = points.iter().map(|(z, r)| (*z, 2.0 * r)).collect();
        open(kind, &across, 5.0, vec![disc(5.0)]).outside
    }

    fn rounded(points: &[(f64, f64)], rounds: &[(usize, f64)]) -> Outside {
        let mut outside = outside(OutsideKind::Straight, points);
        for (at, radius) in rounds {
            outside.points[*at].round = Some(written(mm(*radius), 800));
        }
        outside
    }

    #[track_caller]
    fn built(outside: &Outside) -> Profile {
        let mut found = Vec::new();
        let profile = super::outline(outside, System::Millimeter, true, &mut found);
        assert!(found.is_empty(), "{found:#?}");
        profile.expect("a curve")
    }

    #[track_caller]
    fn refused(outside: &Outside) -> (String, String) {
        let mut found = Vec::new();
        assert!(super::outline(outside, System::Millimeter, true, &mut found).is_none());
        assert_eq!(found.len(), 1, "{found:#?}");
        let finding = found.remove(0);
        assert_eq!(finding.code.name, "shape/round-does-not-fit");
        (finding.message, finding.help.unwrap_or_default())
    }

    /// All pieces meet, and where no corner is wanted they go on in one direction.
    fn assert_tangent(profile: &Profile, corners: &[f64]) {
        for pair in profile.pieces().windows(2) {
            let (end, start) = (pair[0].end(), pair[1].start());
            if corners.iter().any(|z| (z - end.y).abs() < 1e-6) {
                continue;
            }
            assert!(end.distance(start) < 1e-9, "{end} and {start}");
            let turn = pair[0].directions().1.cross(pair[1].directions().0);
            assert!(turn.abs() < 1e-9, "a corner of {turn} at {end}");
        }
    }

    #[test]
    fn a_fillet_is_a_circle_that_touches_both_spans() {
        // Upright to 45° outward: radius 10 touches 10 tan 22.5° = 4.14214 from the corner (40, 30), about (50, 25.85786).
        let profile = built(&rounded(&[(0.0, 40.0), (30.0, 40.0), (60.0, 70.0)], &[(1, 10.0)]));
        assert_tangent(&profile, &[]);
        let center = 30.0 - 10.0 * (std::f64::consts::PI / 8.0).tan();
        for z in [25.86, 27.0, 30.0, 32.9] {
            let wanted = 50.0 - (100.0_f64 - (z - center) * (z - center)).sqrt();
            assert!((profile.above(mm(z)).mm() - wanted).abs() < 1e-6, "{z}");
        }
        assert!((profile.above(mm(20.0)).mm() - 40.0).abs() < 1e-12);
        assert!((profile.above(mm(40.0)).mm() - 50.0).abs() < 1e-9);
    }

    #[test]
    fn a_fillet_rounds_a_shoulder_over_and_fills_the_corner_on_it() {
        let shoulder = [(0.0, 40.0), (20.0, 40.0), (20.0, 25.0), (40.0, 25.0)];
        let profile = built(&rounded(&shoulder, &[(1, 5.0), (2, 4.0)]));
        assert_tangent(&profile, &[20.0]);
        for z in [15.5_f64, 18.0, 19.9] {
            let wanted = 35.0 + (25.0 - (z - 15.0) * (z - 15.0)).sqrt();
            assert!((profile.above(mm(z)).mm() - wanted).abs() < 1e-5, "{z}");
        }
        for z in [20.1_f64, 22.0, 23.9] {
            let wanted = 29.0 - (16.0 - (z - 24.0) * (z - 24.0)).sqrt();
            assert!((profile.above(mm(z)).mm() - wanted).abs() < 1e-5, "{z}");
        }
        assert!((profile.below(mm(20.0)).mm() - 35.0).abs() < 1e-9);
        assert!((profile.above(mm(20.0)).mm() - 29.0).abs() < 1e-9);
    }

    #[test]
    fn a_fillet_that_has_no_room_is_told_with_the_largest_that_has() {
        // 45° at a span of 10 mm: 30 tan 22.5° = 12.4 mm; 10 / tan 22.5° = 24.1 mm would fit.
        let (message, help) = refused(&rounded(&[(0.0, 40.0), (10.0, 40.0), (60.0, 90.0)], &[(1, 30.0)]));
        assert_eq!(message, "a fillet of 30.0 mm takes 12.4 mm of a span that is 10.0 mm long");
        assert_eq!(help, "`round` 24.1 mm would fit");
        let end = refused(&rounded(&[(0.0, 40.0), (10.0, 40.0)], &[(1, 3.0)]));
        assert!(end.0.contains("the first and the last point"), "{}", end.0);
        let mut bent = rounded(&[(0.0, 40.0), (20.0, 40.0), (40.0, 60.0)], &[(1, 3.0)]);
        bent.points[2].kind = OutsideKind::Smooth;
        assert!(refused(&bent).0.contains("one is smooth"));
        // Two that are too much together: the larger one is to blame, by what the other leaves.
        let both = rounded(&[(0.0, 40.0), (20.0, 40.0), (20.0, 30.0), (40.0, 30.0)], &[(1, 7.0), (2, 4.0)]);
        assert_eq!(refused(&both).1, "`round` 6.00 mm would fit");
    }

    #[test]
    fn a_span_of_its_own_kind_breaks_a_smooth_run() {
        let points = [(0.0, 30.0), (10.0, 45.0), (25.0, 50.0), (40.0, 42.0), (50.0, 44.0), (65.0, 30.0)];
        let smooth = |points: &[(f64, f64)]| {
            let points: Vec<_> = points.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect();
            Profile::smooth(&points)
        };
        assert_eq!(built(&outside(OutsideKind::Smooth, &points)), smooth(&points));
        let mut mixed = outside(OutsideKind::Smooth, &points);
        mixed.points[3].kind = OutsideKind::Straight;
        let whole = built(&mixed);
        let line = Profile::straight(&[
            ProfilePoint { height: mm(25.0), radius: mm(50.0) },
            ProfilePoint { height: mm(40.0), radius: mm(42.0) },
        ]);
        assert_eq!(whole, Profile::joined(&[smooth(&points[..3]), line, smooth(&points[3..])]));
        let mut other = outside(OutsideKind::Straight, &points);
        for at in [1, 2, 4, 5] {
            other.points[at].kind = OutsideKind::Smooth;
        }
        assert_eq!(built(&other), whole);
    }

    #[test]
    fn a_foot_takes_the_place_of_the_lowest_stretch() {
        let mut bowl = outside(OutsideKind::Smooth, &[(0.0, 30.0), (20.0, 60.0), (50.0, 80.0)]);
        let plain = built(&bowl);
        for radius in [25.0, 70.0] {
            let diameter = written(crate::quantity::Diameter::new(mm(2.0 * radius)), 810);
            let span = bowl.span;
            bowl.foot = Some(crate::resolve::Foot { diameter, tall: written(mm(6.0), 811), span });
            let footed = built(&bowl);
            assert_eq!((footed.above(Length::ZERO), footed.below(mm(6.0))), (mm(radius), mm(radius)));
            assert!((footed.above(mm(6.0)).mm() - plain.above(mm(6.0)).mm()).abs() < 1e-12);
            let volume = std::f64::consts::PI * radius * radius * 6.0 + plain.volume(mm(6.0), mm(50.0)).mm3();
            assert!((footed.volume(mm(0.0), mm(50.0)).mm3() / volume - 1.0).abs() < 1e-12);
        }
        bowl.foot = bowl.foot.map(|foot| crate::resolve::Foot { tall: written(mm(50.0), 811), ..foot });
        let mut found = Vec::new();
        assert!(super::outline(&bowl, System::Millimeter, true, &mut found).is_none());
        assert_eq!(found[0].message, "a foot 50.0 mm tall leaves nothing of a vessel 50.0 mm high");
    }
}
