//! The closed vessel as it stands before you: every piece of its outside, projected straight onto a plane.
//!
//! A joint at angle θ on a circle of radius R shows at x = R cos θ when it faces the viewer, who stands at −y.

use kurbo::{BezPath, Point, flatten};

use crate::geometry::{BuiltInsert, LayerShape, Profile, Vessel};
use crate::quantity::{Angle, Length, trig};
use crate::resolve::{Recipe, Seat};

use super::bands::{Band, bands, shown};
use super::pieces::{Side, pieces, woods};
use super::section::stands_out;
use super::solid::PieceOf;

/// How far a drawn line may stray from the curve, millimeters.
pub(super) const TOLERANCE: f64 = 0.02;

/// Corners that a round rim is drawn with.
const CORNERS: u32 = 48;

/// What is seen. Paths are closed; x to the right of the axis, y upward from the bench, millimeters.
#[derive(Debug, Clone, Default)]
pub struct Elevation {
    /// Every piece, layer by layer, left to right.
    pub facets: Vec<Facet>,
    /// Layers whose joints are open: what lies behind their gaps.
    pub open: Vec<BezPath>,
    /// The outline of the turned vessel, without what is let in.
    pub outline: BezPath,
    /// Where layers meet: height and radius.
    pub seams: Vec<(f64, f64)>,
    /// Where body and lid meet on the outside: height and radius.
    pub parting: Option<(f64, f64)>,
    /// What is let in and stands out, or its hole when it faces the viewer.
    pub inserts: Vec<Set>,
    /// Greatest radius.
    pub radius: f64,
    /// Where it ends below and above, with what stands out.
    pub reach: (f64, f64),
}

/// One piece as it shows.
#[derive(Debug, Clone)]
pub struct Facet {
    /// Index into the vessel's layers.
    pub layer: usize,
    /// Which piece.
    pub is: PieceOf,
    /// Index into the recipe's woods; never a laminated board but one of its plies.
    pub wood: usize,
    /// Its outline.
    pub outline: BezPath,
}

/// What is let in, as it shows.
#[derive(Debug, Clone)]
pub struct Set {
    /// Index into the vessel's inserts.
    pub insert: usize,
    /// Index into the recipe's woods; `None` for a liner.
    pub wood: Option<usize>,
    /// Its outline.
    pub outline: BezPath,
    /// Whether only the room is known that it will take.
    pub is_room: bool,
}

/// Looks at a vessel.
#[must_use]
pub fn elevation(recipe: &Recipe, vessel: &Vessel) -> Elevation {
    let shown = shown(&bands(vessel));
    let mut seen = Elevation { radius: vessel.outside.max_radius().mm(), ..Elevation::default() };
    for band in &shown {
        let Some(layer) = vessel.layers.get(band.layer) else { continue };
        let whole = (Side { angle: 180.0, beside: 0.0 }, Side { angle: 360.0, beside: 0.0 });
        if matches!(&layer.shape, LayerShape::Ring(ring) if ring.gap.is_some()) {
            seen.open.extend(strip(&outside(band), whole, 0.0));
        }
        let all = pieces(band.layer, layer);
        for piece in all.iter().filter(|piece| !matches!(piece.is, PieceOf::Plug { .. })) {
            let sides = piece.sides.unwrap_or(whole);
            // A piece that is all round is seen once.
            let turns = if piece.sides.is_some() { &[-360.0, 0.0, 360.0][..] } else { &[0.0] };
            for (wood, from, to) in woods(recipe, layer, band, piece.wood) {
                let curve = points(&band.part.outside, from, to);
                for turn in turns {
                    if let Some(outline) = strip(&curve, sides, *turn) {
                        seen.facets.push(Facet { layer: band.layer, is: piece.is, wood, outline });
                    }
                }
            }
        }
    }
    let left =
        |facet: &Facet| facet.outline.elements().first().and_then(kurbo::PathEl::end_point).map_or(0.0, |at| at.x);
    seen.facets.sort_by(|a, b| a.layer.cmp(&b.layer).then(left(a).total_cmp(&left(b))));
    for pair in shown.windows(2) {
        let z = pair[1].from;
        let radius = pair[0].part.outside.below(z).mm().max(pair[1].part.outside.above(z).mm());
        if pair[0].part.part == pair[1].part.part {
            seen.seams.push((z.mm(), radius));
        } else {
            seen.parting = Some((z.mm(), radius));
        }
    }
    seen.outline = silhouette(&shown);
    seen.inserts =
        vessel.inserts.iter().enumerate().filter_map(|(at, insert)| set(recipe, vessel, at, insert)).collect();
    let heights = shown.iter().flat_map(|band| [band.from.mm(), band.to.mm()]);
    let all = seen.inserts.iter().map(|set| kurbo::Shape::bounding_box(&set.outline)).flat_map(|set| [set.y0, set.y1]);
    let (low, high) =
        heights.chain(all).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), z| (low.min(z), high.max(z)));
    seen.reach = if low < high { (low, high) } else { (0.0, 0.0) };
    seen
}

fn set(recipe: &Recipe, vessel: &Vessel, at: usize, insert: &BuiltInsert) -> Option<Set> {
    let said = recipe.fittings.inserts.get(insert.said)?;
    if let (Seat::BodySide { .. }, Some(facing)) = (said.seat, insert.facing) {
        let outline = hole(&vessel.outside, insert, facing)?;
        return Some(Set { insert: at, wood: said.wood, outline, is_room: false });
    }
    if !matches!(said.seat, Seat::LidTop | Seat::BodyBase) {
        return None;
    }
    let (outline, is_room) = stands_out(recipe, insert)?;
    Some(Set { insert: at, wood: said.wood, outline, is_room })
}

/// The rim of a hole in the wall; none where it faces away. A point t beside the drill's axis lies at the angle that the
/// hole faces + asin(t / R).
fn hole(outside: &Profile, insert: &BuiltInsert, facing: Angle) -> Option<BezPath> {
    let across = insert.hole_diameter.value.mm() / 2.0;
    let rim = (0..CORNERS).map(|corner| {
        let round = f64::from(corner) / f64::from(CORNERS) * std::f64::consts::TAU;
        let (beside, z) = (across * trig::cos(round), insert.rim.mm() + across * trig::sin(round));
        let radius = outside.above(Length::from_mm(z)).mm();
        let angle = facing.degrees() + trig::asin(beside / radius.max(1e-9)).to_degrees();
        (angle.rem_euclid(360.0), radius, z)
    });
    let rim: Vec<(f64, f64, f64)> = rim.collect();
    if rim.iter().all(|(angle, ..)| *angle < 180.0) {
        return None;
    }
    // What lies behind the edge is hidden by it.
    let held = |angle: f64| if angle < 90.0 { 360.0 } else { angle.max(180.0) };
    Some(closed(rim.into_iter().map(|(angle, radius, z)| Point::new(radius * trig::cos(held(angle).to_radians()), z))))
}

/// The outside of a band as points (radius, height), upward.
fn outside(band: &Band<'_>) -> Vec<Point> {
    points(&band.part.outside, band.from, band.to)
}

/// A profile between two heights as points, none farther from it than the tolerance.
pub(super) fn points(profile: &Profile, from: Length, to: Length) -> Vec<Point> {
    points_within(profile, from, to, Length::from_mm(TOLERANCE))
}

/// The same with a tolerance of your own.
pub(super) fn points_within(profile: &Profile, from: Length, to: Length, tolerance: Length) -> Vec<Point> {
    let mut points: Vec<Point> = Vec::new();
    let part = profile.between(from, to);
    let mut push = |point: Point| {
        let point = Point::new(point.x.max(0.0), point.y);
        if points.last().is_none_or(|last: &Point| last.distance(point) > 1e-9) {
            points.push(point);
        }
    };
    flatten(part.path(), tolerance.mm(), |element| {
        if let Some(point) = element.end_point() {
            push(point);
        }
    });
    points
}

/// What shows of a stretch of the circle, on every height of the curve; none where it faces away.
fn strip(curve: &[Point], (start, end): (Side, Side), turn: f64) -> Option<BezPath> {
    let seen = |side: Side, point: &Point| (side.at(point.x) + turn).clamp(180.0, 360.0);
    let x = |side: Side, point: &Point| point.x * trig::cos(seen(side, point).to_radians());
    let is_seen = curve.iter().any(|point| seen(end, point) - seen(start, point) > 1e-9 && point.x > 0.0);
    if !is_seen {
        return None;
    }
    let left = curve.iter().map(|point| Point::new(x(start, point), point.y));
    let right = curve.iter().rev().map(|point| Point::new(x(end, point), point.y));
    Some(closed(left.chain(right)))
}

/// A closed path through points.
pub(super) fn closed(points: impl Iterator<Item = Point>) -> BezPath {
    let mut path = BezPath::new();
    for point in points {
        if path.elements().is_empty() {
            path.move_to(point);
        } else {
            path.line_to(point);
        }
    }
    if !path.elements().is_empty() {
        path.close_path();
    }
    path
}

fn silhouette(shown: &[Band<'_>]) -> BezPath {
    let right: Vec<Point> = shown.iter().flat_map(outside).collect();
    let left: Vec<Point> = right.iter().rev().map(|point| Point::new(-point.x, point.y)).collect();
    closed(right.into_iter().chain(left))
}

#[cfg(test)]
mod tests {
    use kurbo::Shape as _;

    use super::*;

    fn side(angle: f64) -> Side {
        Side { angle, beside: 0.0 }
    }

    /// x = R cos θ on every height; a quarter that faces away shows nothing.
    #[test]
    fn a_joint_shows_where_its_cosine_says() {
        let cone = [Point::new(40.0, 0.0), Point::new(60.0, 30.0)];
        let facet = strip(&cone, (side(240.0), side(300.0)), 0.0).unwrap();
        let at: Vec<Point> = facet.elements().iter().filter_map(kurbo::PathEl::end_point).collect();
        let expected = [(-20.0, 0.0), (-30.0, 30.0), (30.0, 30.0), (20.0, 0.0)];
        for (point, (x, y)) in at.iter().zip(expected) {
            assert!((point.x - x).abs() < 1e-9 && (point.y - y).abs() < 1e-9, "{at:?}");
        }
        assert!(strip(&cone, (side(45.0), side(135.0)), 0.0).is_none());
    }

    /// What turns away at the edge is seen up to the edge.
    #[test]
    fn a_piece_ends_at_the_edge_of_what_is_seen() {
        let tube = [Point::new(50.0, 0.0), Point::new(50.0, 10.0)];
        let facet = strip(&tube, (side(330.0), side(390.0)), 0.0).unwrap();
        let bounds = facet.bounding_box();
        assert!((bounds.x1 - 50.0).abs() < 1e-9 && (bounds.x0 - 50.0 * 3.0_f64.sqrt() / 2.0).abs() < 1e-9);
    }

    /// A strip of 10 on a joint that faces the viewer shows 10 wide on any radius.
    #[test]
    fn a_strip_on_a_joint_is_as_wide_as_it_is() {
        let vase = [Point::new(30.0, 0.0), Point::new(70.0, 40.0)];
        let beside = |beside| Side { angle: 270.0, beside };
        let facet = strip(&vase, (beside(-5.0), beside(5.0)), 0.0).unwrap();
        assert!((facet.bounding_box().width() - 10.0).abs() < 1e-9);
    }
}
