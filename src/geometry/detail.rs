//! Beads and coves: arcs in place of a stretch of a straight run.

use std::f64::consts::FRAC_PI_2;

use kurbo::{Line, ParamCurve, Point, Vec2};

use crate::finding::Finding;
use crate::quantity::{Length, System, trig};
use crate::resolve::{Detail, DetailKind};

use super::arc;
use super::outline_findings as findings;
use super::piece::Piece;
use super::profile::{Profile, SAME_HEIGHT_MM};

/// What keeps a detail from its place.
#[derive(Debug, Clone, Copy)]
pub(super) enum Misfit {
    /// It reaches below the bottom or above the top of the curve, which are here.
    BeyondEnds(Length, Length),
    /// There is no straight run from its lower to its upper edge; the nearest is here, if there is one.
    NoRun(Option<(Length, Length)>),
    /// So deep it would lean back over itself; this much is the most.
    Overhangs(Length),
    /// It would reach the axis.
    PastAxis,
}

/// The curve with its details; `None` when one has no place.
pub(super) fn with_details(
    profile: Profile,
    details: &[Detail],
    units: System,
    found: &mut Vec<Finding>,
) -> Option<Profile> {
    let before = found.len();
    let mut upward: Vec<&Detail> = details.iter().collect();
    upward.sort_by(|a, b| a.middle.value.mm().total_cmp(&b.middle.value.mm()));
    for pair in upward.windows(2) {
        let (end, start) = (edges(pair[0]).1, edges(pair[1]).0);
        if start.mm() < end.mm() - SAME_HEIGHT_MM {
            found.push(findings::details_overlap(pair[1], start, pair[0], end, units));
        }
    }
    let mut parts = Vec::with_capacity(2 * details.len() + 1);
    let mut from = profile.bottom();
    for detail in upward {
        let (low, high) = edges(detail);
        match molding(&profile, detail) {
            Ok(pieces) => {
                parts.push(profile.between(from, low));
                parts.push(Profile::of_pieces(pieces));
                from = high;
            }
            Err(misfit) => found.push(findings::detail_misfit(detail, (low, high), misfit, units)),
        }
    }
    if found.len() > before {
        return None;
    }
    if parts.is_empty() {
        return Some(profile);
    }
    parts.push(profile.between(from, profile.top()));
    Some(Profile::joined(&parts))
}

/// Heights of its lower and its upper edge.
fn edges(detail: &Detail) -> (Length, Length) {
    let half = detail.tall.value / 2.0;
    (detail.middle.value - half, detail.middle.value + half)
}

fn molding(profile: &Profile, detail: &Detail) -> Result<Vec<Piece>, Misfit> {
    let (low, high) = edges(detail);
    let (bottom, top) = (profile.bottom(), profile.top());
    if low.mm() < bottom.mm() - SAME_HEIGHT_MM || high.mm() > top.mm() + SAME_HEIGHT_MM {
        return Err(Misfit::BeyondEnds(bottom, top));
    }
    let run = run_at(profile, detail.middle.value).ok_or(Misfit::NoRun(None))?;
    if low.mm() < run.p0.y - SAME_HEIGHT_MM || high.mm() > run.p1.y + SAME_HEIGHT_MM {
        return Err(Misfit::NoRun(Some((Length::from_mm(run.p0.y), Length::from_mm(run.p1.y)))));
    }
    let at = |z: Length| run.eval(((z.mm() - run.p0.y) / (run.p1.y - run.p0.y)).clamp(0.0, 1.0));
    bow(at(low), at(high), detail)
}

/// The straight run at a height: lines that go on in one direction are one.
fn run_at(profile: &Profile, z: Length) -> Option<Line> {
    let pieces = profile.pieces();
    let at = pieces.iter().position(|piece| piece.end().y >= z.mm() - SAME_HEIGHT_MM)?;
    let line = |piece: &Piece| match piece {
        Piece::Line(line) => Some(*line),
        Piece::Cubic(_) => None,
    };
    let goes_on = |under: &Line, over: &Line| {
        let (way, next) = (under.p1 - under.p0, over.p1 - over.p0);
        under.p1.distance(over.p0) <= SAME_HEIGHT_MM && way.cross(next).abs() <= 1e-9 * way.hypot() * next.hypot()
    };
    let mut run = line(&pieces[at])?;
    for over in pieces[at + 1..].iter().map_while(line) {
        if !goes_on(&run, &over) {
            break;
        }
        run.p1 = over.p1;
    }
    for under in pieces[..at].iter().rev().map_while(line) {
        if !goes_on(&under, &run) {
            break;
        }
        run.p0 = under.p0;
    }
    Some(run)
}

/// The arc from `low` to `high` that is as deep as the detail says. Over the chord c it leaves the
/// run by the angle α with tan(α/2) = depth / (c/2), and has the radius c / (2 sin α); it rises all
/// along if α and the run's lean together are not more than a right angle.
fn bow(low: Point, high: Point, detail: &Detail) -> Result<Vec<Piece>, Misfit> {
    let chord = high - low;
    let half = trig::hypot(chord.x, chord.y) / 2.0;
    let lean = trig::atan2(chord.x.abs(), chord.y);
    let most = half * trig::tan((FRAC_PI_2 - lean) / 2.0);
    let depth = detail.depth.map_or(most, |depth| depth.value.mm());
    if depth > most + SAME_HEIGHT_MM {
        return Err(Misfit::Overhangs(Length::from_mm(most)));
    }
    let angle = 2.0 * trig::atan2(depth.min(most), half);
    let radius = half / trig::sin(angle);
    let way = chord / (2.0 * half);
    // A bead leaves the run clockwise, away from the axis.
    let turn = match detail.kind {
        DetailKind::Bead => -angle,
        DetailKind::Cove => angle,
    };
    let rising = |way: Vec2| Vec2::new(way.x, way.y.max(0.0));
    let mut pieces = Vec::new();
    let (leaving, arriving) = (arc::rotated(way, turn), arc::rotated(way, -turn));
    arc::between(low, rising(leaving), rising(arriving), radius, &mut pieces);
    if pieces.iter().any(|piece| piece.extremes(piece.start().y, piece.end().y).0.x < 0.0) {
        return Err(Misfit::PastAxis);
    }
    Ok(pieces)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]

    use std::f64::consts::PI;

    use crate::geometry::profile::{Profile, ProfilePoint};
    use crate::geometry::sample::{mm, written};
    use crate::quantity::{Angle, System};
    use crate::resolve::{Detail, DetailKind};
    use crate::source::{FileId, Span};

    use DetailKind::{Bead, Cove};

    fn curve(points: &[(f64, f64)]) -> Profile {
        let points: Vec<_> = points.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect();
        Profile::straight(&points)
    }

    fn detail(kind: DetailKind, middle: f64, tall: f64, depth: Option<f64>) -> Detail {
        Detail {
            kind,
            middle: written(mm(middle), 900),
            tall: written(mm(tall), 910),
            depth: depth.map(|depth| written(mm(depth), 920)),
            span: Span::new(FileId(0), 930, 940),
        }
    }

    #[track_caller]
    fn with(profile: &Profile, details: &[Detail]) -> Profile {
        let mut found = Vec::new();
        let got = super::with_details(profile.clone(), details, System::Millimeter, &mut found);
        assert!(found.is_empty(), "{found:#?}");
        got.expect("a curve")
    }

    #[track_caller]
    fn refused(profile: &Profile, details: &[Detail]) -> String {
        let mut found = Vec::new();
        assert!(super::with_details(profile.clone(), details, System::Millimeter, &mut found).is_none());
        assert_eq!(found.len(), 1, "{found:#?}");
        assert_eq!(found[0].code.name, "shape/detail-does-not-fit");
        found.remove(0).message
    }

    #[test]
    fn a_half_round_on_a_cylinder_has_the_volume_that_pappus_gives_it() {
        // A half disk of radius q, its centroid 4q / 3π from its diameter, turned about the axis at R:
        // π² q² R ± 4/3 π q³.
        let (radius, q) = (40.0, 6.0);
        let drum = curve(&[(0.0, radius), (100.0, radius)]);
        for (kind, sign) in [(Bead, 1.0), (Cove, -1.0)] {
            for depth in [None, Some(q)] {
                let got = with(&drum, &[detail(kind, 50.0, 2.0 * q, depth)]);
                let change = sign * PI * PI * q * q * radius + 4.0 / 3.0 * PI * q.powi(3);
                let wanted = PI * radius * radius * 100.0 + change;
                let volume = got.volume(mm(0.0), mm(100.0)).mm3();
                assert!((volume - wanted).abs() < 1e-6 * change.abs(), "{kind:?}: {volume}, not {wanted}");
                for z in [44.5_f64, 47.0, 50.0, 55.0] {
                    let wanted = radius + sign * (q * q - (z - 50.0) * (z - 50.0)).sqrt();
                    assert!((got.above(mm(z)).mm() - wanted).abs() < 1e-6, "{kind:?} at {z}: {got:?}");
                }
            }
        }
    }

    #[test]
    fn a_shallow_detail_is_as_deep_as_it_says_square_to_a_leaning_run() {
        // A lean of 30°; 1.5 over a chord of 12 / cos 30°.
        let lean = Angle::from_degrees(30.0);
        let cone = curve(&[(0.0, 20.0), (100.0, 20.0 + 100.0 * lean.tan())]);
        for (kind, sign) in [(Bead, 1.0), (Cove, -1.0)] {
            let got = with(&cone, &[detail(kind, 40.0, 12.0, Some(1.5))]);
            let most = (0..=4000)
                .map(|i| 34.0 + 12.0 * f64::from(i) / 4000.0)
                .map(|z| sign * (got.above(mm(z)).mm() - cone.above(mm(z)).mm()) * lean.cos())
                .fold(0.0, f64::max);
            assert!((most - 1.5).abs() < 1e-6, "{kind:?}: {most}");
            for z in [33.9, 34.0, 46.0, 60.0] {
                assert!((got.above(mm(z)).mm() - cone.above(mm(z)).mm()).abs() < 1e-9, "{kind:?} at {z}");
            }
        }
    }

    #[test]
    fn the_roundest_detail_of_a_leaning_run_just_does_not_overhang() {
        // Half the chord is 6 / cos 30°, and the most is that × tan 30° = 4.
        let lean = Angle::from_degrees(30.0);
        let cone = curve(&[(0.0, 20.0), (100.0, 20.0 + 100.0 * lean.tan())]);
        for kind in [Bead, Cove] {
            let roundest = with(&cone, &[detail(kind, 40.0, 12.0, None)]);
            assert!(roundest.pieces().iter().all(|piece| piece.end().y >= piece.start().y));
            let said = with(&cone, &[detail(kind, 40.0, 12.0, Some(4.0))]);
            for z in [35.0, 40.0, 45.0] {
                assert!((roundest.above(mm(z)).mm() - said.above(mm(z)).mm()).abs() < 1e-6);
            }
            let message = refused(&cone, &[detail(kind, 40.0, 12.0, Some(4.1))]);
            assert!(message.contains("4.10 mm leans back over itself on this run; the most is 4.00 mm"), "{message}");
        }
    }

    #[test]
    fn details_that_have_no_room() {
        let drum = curve(&[(0.0, 40.0), (60.0, 40.0), (80.0, 30.0)]);
        let one = |kind, middle, tall| [detail(kind, middle, tall, None)];
        assert!(refused(&drum, &one(Bead, 3.0, 8.0)).ends_with("which goes from 0 mm to 80.0 mm"));
        assert!(refused(&drum, &one(Cove, 58.0, 8.0)).ends_with("the one at its middle goes from 0 mm to 60.0 mm"));
        let overlap = [detail(Cove, 35.0, 8.0, None), detail(Bead, 30.0, 6.0, None)];
        assert_eq!(refused(&drum, &overlap), "this cove begins at height 31.0 mm, the bead under it ends at 33.0 mm");
        assert!(refused(&curve(&[(0.0, 5.0), (60.0, 5.0)]), &one(Cove, 30.0, 12.0)).ends_with("reaches the axis"));
        let smooth = Profile::smooth(&[
            ProfilePoint { height: mm(0.0), radius: mm(30.0) },
            ProfilePoint { height: mm(30.0), radius: mm(45.0) },
            ProfilePoint { height: mm(60.0), radius: mm(40.0) },
        ]);
        assert!(refused(&smooth, &one(Bead, 20.0, 6.0)).ends_with("the curve bends there"));
        // Side by side is not over each other, and two lines that go on in one direction are one run.
        let split = curve(&[(0.0, 40.0), (30.0, 40.0), (60.0, 40.0)]);
        with(&split, &[detail(Bead, 30.0, 8.0, None), detail(Cove, 38.0, 8.0, None)]);
    }
}
