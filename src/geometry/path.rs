//! Path data of the W3C SVG standard to rising pieces: x is the radius, y the height.

use kurbo::common::solve_quadratic;
use kurbo::{Affine, BezPath, CubicBez, ParamCurve, PathEl, Point, QuadBez, Shape as _};

use crate::finding::Finding;
use crate::quantity::{Length, System};
use crate::resolve::OutsidePath;

use super::outline_findings as findings;
use super::piece::Piece;
use super::profile::SAME_HEIGHT_MM;

/// Ten kilometers: beyond it curve arithmetic is not exact.
const LARGEST_MM: f64 = 1e7;

/// Why a text is no outline, in the words of the trade.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Unreadable {
    /// Something else stands where a number belongs.
    Number,
    /// The text ends within a command.
    Ends,
    /// No such command.
    Command(char),
    /// It does not begin with `M`.
    NoStart,
    /// It has no line at all.
    Empty,
    /// A second `M`: the pen is lifted.
    SecondStroke,
    /// A `Z`.
    Closed,
    /// A number beyond all sizes.
    Huge,
}

/// A stretch of the path; a straight one has its controls by thirds.
#[derive(Debug, Clone, Copy)]
struct Stroke {
    curve: CubicBez,
    is_line: bool,
}

/// A stretch that falls.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fall {
    pub(super) from: Point,
    pub(super) to: Point,
}

/// The pieces of a path; `None` when it is no outline, which is then among the findings.
pub(super) fn pieces(
    path: &OutsidePath,
    units: System,
    stands_on_bench: bool,
    found: &mut Vec<Finding>,
) -> Option<Vec<Piece>> {
    let finding = match read(path) {
        Err(why) => findings::path_unreadable(path, why),
        Ok(strokes) => match check(&strokes, path, units, stands_on_bench) {
            Some(finding) => finding,
            None => return Some(strokes.iter().filter_map(rising).collect()),
        },
    };
    found.push(finding);
    None
}

fn read(path: &OutsidePath) -> Result<Vec<Stroke>, Unreadable> {
    if has_huge_number(&path.text.value) {
        return Err(Unreadable::Huge);
    }
    let bez = BezPath::from_svg(path.text.value.trim()).map_err(|error| match error {
        kurbo::SvgParseError::Wrong => Unreadable::Number,
        kurbo::SvgParseError::UnexpectedEof => Unreadable::Ends,
        kurbo::SvgParseError::UnknownCommand(command) => Unreadable::Command(command),
        // The only other there is: the path begins without `M`.
        kurbo::SvgParseError::UninitializedPath | _ => Unreadable::NoStart,
    })?;
    let scale = Affine::scale(path.units.length(1.0).mm());
    let mut strokes = Vec::with_capacity(bez.elements().len());
    let mut at: Option<Point> = None;
    for element in bez.elements() {
        let from = at.unwrap_or_default();
        let (curve, is_line) = match *element {
            PathEl::MoveTo(to) if at.is_none() => {
                at = Some(to);
                continue;
            }
            PathEl::MoveTo(_) => return Err(Unreadable::SecondStroke),
            PathEl::ClosePath => return Err(Unreadable::Closed),
            PathEl::LineTo(to) => (CubicBez::new(from, from.lerp(to, 1.0 / 3.0), from.lerp(to, 2.0 / 3.0), to), true),
            PathEl::QuadTo(by, to) => (QuadBez::new(from, by, to).raise(), false),
            PathEl::CurveTo(leave, arrive, to) => (CubicBez::new(from, leave, arrive, to), false),
        };
        at = Some(curve.p3);
        strokes.push(Stroke { curve: scale * curve, is_line: is_line || is_straight(curve) });
    }
    if strokes.is_empty() { Err(Unreadable::Empty) } else { Ok(strokes) }
}

/// Whether a number has more places before its point than any size has, its exponent counted in: an
/// arc of such a size would be cut into pieces without end.
fn has_huge_number(text: &str) -> bool {
    const MOST_PLACES: usize = 12;
    let mut rest = text.trim_start_matches(|c: char| !c.is_ascii_digit() && c != '.');
    let digits = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
    while !rest.is_empty() {
        let significant = rest.trim_start_matches('0');
        let places = digits(significant);
        rest = &significant[places..];
        if let Some(fraction) = rest.strip_prefix('.') {
            rest = &fraction[digits(fraction)..];
        }
        let mut raised = 0;
        if let Some(exponent) = rest.strip_prefix(['e', 'E']) {
            let is_negative = exponent.starts_with('-');
            let exponent = exponent.trim_start_matches(['+', '-']).trim_start_matches('0');
            let end = digits(exponent);
            raised =
                if is_negative { 0 } else { exponent[..end].parse().unwrap_or(MOST_PLACES.min(end * MOST_PLACES)) };
            rest = &exponent[end..];
        }
        if places.saturating_add(raised) > MOST_PLACES {
            return true;
        }
        rest = rest.trim_start_matches(|c: char| !c.is_ascii_digit() && c != '.');
    }
    false
}

/// Whether all controls stand on the chord; curve arithmetic wants such a curve as a line.
fn is_straight(curve: CubicBez) -> bool {
    let chord = curve.p3 - curve.p0;
    let off = |at: Point| chord.cross(at - curve.p0).abs();
    off(curve.p1).max(off(curve.p2)) <= 1e-12 * chord.hypot2()
}

fn check(strokes: &[Stroke], path: &OutsidePath, units: System, stands_on_bench: bool) -> Option<Finding> {
    let start = strokes.first()?.curve.p0;
    let corners =
        strokes.iter().flat_map(|stroke| [stroke.curve.p0, stroke.curve.p1, stroke.curve.p2, stroke.curve.p3]);
    // A number beyond all numbers is read as infinite.
    if let Some(far) = corners.into_iter().find(|at| !(at.x.abs() <= LARGEST_MM && at.y.abs() <= LARGEST_MM)) {
        return Some(findings::path_too_large(path, far, units));
    }
    if stands_on_bench && start.y.abs() > SAME_HEIGHT_MM {
        return Some(findings::path_not_on_bench(path, Length::from_mm(start.y), units));
    }
    let left = strokes.iter().find(|stroke| stroke.curve.bounding_box().x0 < -SAME_HEIGHT_MM);
    if let Some(stroke) = left {
        let least = Length::from_mm(stroke.curve.bounding_box().x0);
        return Some(findings::path_past_axis(path, least, units));
    }
    strokes.iter().find_map(fall).map(|fall| findings::overhang(path, fall, units))
}

/// Where a stretch first falls, if it does.
fn fall(stroke: &Stroke) -> Option<Fall> {
    let curve = stroke.curve;
    let (d0, d1, d2) = (curve.p1.y - curve.p0.y, curve.p2.y - curve.p1.y, curve.p3.y - curve.p2.y);
    let mut turns = solve_quadratic(d0, 2.0 * (d1 - d0), d0 - 2.0 * d1 + d2);
    turns.sort_unstable_by(f64::total_cmp);
    let inner = turns.into_iter().filter(|t| *t > 0.0 && *t < 1.0).chain(std::iter::once(1.0));
    let mut from = curve.p0;
    for t in inner {
        let to = curve.eval(t);
        if to.y < from.y - SAME_HEIGHT_MM {
            return Some(Fall { from, to });
        }
        from = to;
    }
    None
}

/// The piece of a stretch that rises; a level one is a step and has none.
fn rising(stroke: &Stroke) -> Option<Piece> {
    let curve = stroke.curve;
    if curve.p3.y - curve.p0.y <= SAME_HEIGHT_MM {
        return None;
    }
    Some(if stroke.is_line { Piece::line(curve.p0, curve.p3) } else { Piece::Cubic(curve) })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]

    use std::fmt::Write as _;

    use proptest::prelude::*;

    use crate::geometry::offset::inside_tapered;
    use crate::geometry::profile::{Profile, ProfilePoint};
    use crate::quantity::{Length, System};
    use crate::resolve::OutsidePath;
    use crate::source::{FileId, Span, Spanned};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn path(text: &str, units: System) -> OutsidePath {
        OutsidePath { text: Spanned::new(text.to_owned(), Span::new(FileId(0), 5, 9)), units }
    }

    #[track_caller]
    fn read(text: &str, units: System) -> Profile {
        let mut found = Vec::new();
        let pieces = super::pieces(&path(text, units), units, true, &mut found);
        assert!(found.is_empty(), "{found:#?}");
        Profile::of_pieces(pieces.expect("a path"))
    }

    #[track_caller]
    fn refused(text: &str) -> (&'static str, String) {
        let mut found = Vec::new();
        let units = System::Millimeter;
        assert!(super::pieces(&path(text, units), units, true, &mut found).is_none(), "{text}");
        assert_eq!(found.len(), 1);
        let finding = found.remove(0);
        (finding.code.name, finding.message)
    }

    fn points(at: &[(f64, f64)]) -> Vec<ProfilePoint> {
        at.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect()
    }

    #[test]
    fn a_path_of_lines_is_the_same_as_its_points() {
        let wanted = Profile::straight(&points(&[(0.0, 40.0), (30.0, 52.0), (30.0, 48.0), (60.0, 48.0)]));
        for text in [
            "M 40 0 L 52 30 H 48 V 60",
            "M40,0 52,30 48,30 48,60",
            "m40 0l12 30h-4v30",
            " M 4e1 0 L 52 30 L 48 30 L 48 60 ",
        ] {
            assert_eq!(read(text, System::Millimeter), wanted, "{text}");
        }
        let inch = read("M 1 0 L 2 3", System::Inch);
        assert!((inch.top().mm() - 76.2).abs() < 1e-9 && (inch.max_radius().mm() - 50.8).abs() < 1e-9);
    }

    #[test]
    fn a_smooth_curve_written_as_its_cubics_is_the_same_curve() {
        let smooth = Profile::smooth(&points(&[(0.0, 30.0), (20.0, 55.0), (45.0, 50.0), (60.0, 20.0)]));
        let mut text = String::from("M 30 0");
        for piece in smooth.pieces() {
            let [_, leave, arrive, end] = piece.controls();
            write!(text, " C {} {}, {} {}, {} {}", leave.x, leave.y, arrive.x, arrive.y, end.x, end.y).unwrap();
        }
        let got = read(&text, System::Millimeter);
        for i in 0..=100 {
            let z = mm(60.0 * f64::from(i) / 100.0);
            assert!((got.above(z).mm() - smooth.above(z).mm()).abs() < 1e-9);
        }
    }

    #[test]
    fn quadratics_and_arcs_are_what_they_are() {
        // A parabola: at t the radius is 40 + 40 t − 40 t², the height 40 t.
        let parabola = read("M 40 0 Q 60 20 40 40", System::Millimeter);
        for z in [5.0, 20.0, 31.0] {
            let t = z / 40.0;
            assert!((parabola.above(mm(z)).mm() - (40.0 + 40.0 * t - 40.0 * t * t)).abs() < 1e-9, "{z}");
        }
        // A quarter circle about (30, 0); as cubics it strays by less than 3e-4 of its radius.
        let arc = read("M 50 0 A 20 20 0 0 1 30 20", System::Millimeter);
        for z in [2.0_f64, 10.0, 19.0] {
            let wanted = 30.0 + (400.0 - z * z).sqrt();
            assert!((arc.above(mm(z)).mm() - wanted).abs() < 0.02, "{z}: {}", arc.above(mm(z)).mm());
        }
    }

    #[test]
    fn what_is_no_outline_is_told_in_plain_words() {
        for (text, code, words) in [
            ("", "shape/path-unreadable", "it draws nothing"),
            ("M 40 0", "shape/path-unreadable", "it draws nothing"),
            ("L 40 0", "shape/path-unreadable", "it does not say where it begins"),
            ("M 40 0 L 50", "shape/path-unreadable", "it ends in the middle of a command"),
            ("M 40 0 L x 50", "shape/path-unreadable", "where a number belongs"),
            ("M 40 0 K 50 50", "shape/path-unreadable", "there is no command `K`"),
            ("M 40 0 L 50 50 M 20 0 L 30 3", "shape/path-unreadable", "it lifts the pen"),
            ("M 40 0 L 50 50 Z", "shape/path-unreadable", "it is closed by a `Z`"),
            ("M 40 2 L 50 50", "shape/base-not-at-zero", "begins at height 2.00 mm"),
            ("M 40 0 L -5 50", "quantity/out-of-range", "a radius of -5.00 mm, beyond the axis"),
            ("M 40 0 L 1e300 50", "shape/path-unreadable", "larger than anything"),
            ("M 40 0 A 1e60 1e60 0 0 1 1e60 1e60", "shape/path-unreadable", "larger than anything"),
            ("M 40 0 L 40 1e8", "quantity/out-of-range", "larger than anything"),
            (
                "M 40 0 L 50 30 L 55 20 L 60 40",
                "shape/overhang",
                "from radius 50.0 mm, height 30.0 mm to radius 55.0 mm, height 20.0 mm",
            ),
            ("M 40 0 C 60 40 60 -20 50 30", "shape/overhang", "there are two radii at one height"),
        ] {
            let (got, message) = refused(text);
            assert_eq!(got, code, "{text}: {message}");
            assert!(message.contains(words), "{text}: {message}");
        }
        // A cubic that bulges but rises all along is no overhang.
        read("M 40 0 C 80 10 80 20 40 30", System::Millimeter);
    }

    proptest! {
        #[test]
        fn no_text_is_too_silly(text in "M ?[0-9]{1,2} ?0? ?([MLHVCSQTAZmlhvcsqtaz]|[0-9]{1,3}| |,|-|\\.|e[0-9]){0,40}") {
            let mut found = Vec::new();
            let pieces = super::pieces(&path(&text, System::Inch), System::Inch, false, &mut found);
            prop_assert_eq!(pieces.is_none(), found.len() == 1);
            let profile = Profile::of_pieces(pieces.unwrap_or_default());
            let inside = inside_tapered(&profile, mm(5.0), mm(4.0), profile.bottom(), profile.top());
            prop_assert!(inside.volume(inside.bottom(), inside.top()).mm3() >= 0.0);
        }
    }
}
