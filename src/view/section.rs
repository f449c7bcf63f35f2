//! The closed vessel sawn through along its axis, seen as the elevation is: on the right what lies at 0°, on the left what
//! lies at 180°.

use kurbo::{BezPath, Point};

use crate::geometry::{BuiltInsert, Vessel};
use crate::quantity::Length;
use crate::resolve::{InsertForm, PartKind, Recipe, Seat};

use super::bands::{Band, bands};
use super::elevation::{closed, points};
use super::pieces::{Span, pieces, plug_radius, woods};
use super::solid::PieceOf;

/// What is cut through. Paths are closed; x to the right of the axis, y upward from the bench, millimeters.
#[derive(Debug, Clone, Default)]
pub struct Section {
    /// Every piece that is cut, layer by layer.
    pub cuts: Vec<Cut>,
    /// Round the wood of each part, on the right of the axis and on its left.
    pub contours: Vec<Contour>,
    /// What is let in, on the axis.
    pub inserts: Vec<LetIn>,
}

/// Round the wood of a part, on one side of the axis.
#[derive(Debug, Clone)]
pub struct Contour {
    /// The part.
    pub part: PartKind,
    /// Whether it lies to the right of the axis.
    pub is_right: bool,
    /// The outline.
    pub outline: BezPath,
}

/// One face that the saw lays open.
#[derive(Debug, Clone)]
pub struct Cut {
    /// Index into the vessel's layers.
    pub layer: usize,
    /// Which piece.
    pub is: PieceOf,
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Whether it lies to the right of the axis.
    pub is_right: bool,
    /// Its outline.
    pub outline: BezPath,
}

/// An insert on the axis.
#[derive(Debug, Clone)]
pub struct LetIn {
    /// Index into the vessel's inserts.
    pub insert: usize,
    /// Index into the recipe's woods; `None` for a liner.
    pub wood: Option<usize>,
    /// The hole; none for what only stands there.
    pub hole: Option<BezPath>,
    /// What sits in it; all of a liner.
    pub body: BezPath,
    /// Whether it is let in from outside.
    pub is_outside: bool,
    /// What stands out, and whether only its room is known.
    pub shows: Option<(BezPath, bool)>,
}

/// Saws a vessel through.
#[must_use]
pub fn section(recipe: &Recipe, vessel: &Vessel) -> Section {
    let mut section = Section::default();
    for band in bands(vessel) {
        let Some(layer) = vessel.layers.get(band.layer) else { continue };
        let all = pieces(band.layer, layer);
        let plug = plug_radius(layer);
        for (is_right, angle) in [(true, 0.0), (false, 180.0)] {
            let cut = at(&all, angle).map(|piece| (piece, plug, f64::INFINITY));
            let of_plug = all.iter().find(|piece| matches!(piece.is, PieceOf::Plug { .. }));
            for (piece, near, far) in cut.into_iter().chain(of_plug.map(|piece| (piece, 0.0, plug))) {
                for (wood, from, to) in woods(recipe, layer, &band, piece.wood) {
                    let outline = between(&Band { from, to, ..band }, (near, far), is_right);
                    section.cuts.push(Cut { layer: band.layer, is: piece.is, wood, is_right, outline });
                }
            }
        }
    }
    for part in &vessel.bodies {
        let (from, to) = (part.outside.bottom(), part.outside.top());
        let whole = Band { layer: 0, part, from, to, raise: Length::ZERO };
        for is_right in [true, false] {
            let outline = between(&whole, (0.0, f64::INFINITY), is_right);
            section.contours.push(Contour { part: part.part, is_right, outline });
        }
    }
    section.inserts = vessel.inserts.iter().enumerate().filter_map(|(at, insert)| let_in(recipe, at, insert)).collect();
    section
}

/// A closed outline of one half as it is drawn: without what runs along the axis, where nothing is sawn.
#[must_use]
pub fn without_axis(outline: &BezPath) -> BezPath {
    let corners: Vec<Point> = outline.elements().iter().filter_map(kurbo::PathEl::end_point).collect();
    let is_axis = |point: Point| point.x.abs() < 1e-9;
    let mut path = BezPath::new();
    let mut is_open = false;
    for (at, from) in corners.iter().enumerate() {
        let to = corners[(at + 1) % corners.len()];
        if is_axis(*from) && is_axis(to) {
            is_open = false;
            continue;
        }
        if !is_open {
            path.move_to(*from);
            is_open = true;
        }
        path.line_to(to);
    }
    path
}

/// The half of an outline that lies to the right of the axis, of one that crosses it on level lines only.
#[must_use]
pub fn right_half(outline: &BezPath) -> BezPath {
    closed(
        outline
            .elements()
            .iter()
            .filter_map(kurbo::PathEl::end_point)
            .map(|point| Point::new(point.x.max(0.0), point.y)),
    )
}

/// A band's wood on one side of the axis, between two distances from it.
fn between(band: &Band<'_>, (near, far): (f64, f64), is_right: bool) -> BezPath {
    let side = |x: f64| if is_right { x } else { -x };
    let held = |point: &Point| Point::new(side(point.x.clamp(near, far)), point.y);
    let (outside, inside) = (points(&band.part.outside, band.from, band.to), hollow(band));
    closed(outside.iter().map(held).chain(inside.iter().rev().map(held)))
}

/// The inside of a band as points upward: the axis where it is solid.
fn hollow(band: &Band<'_>) -> Vec<Point> {
    let (inside, mut points_up) = (&band.part.inside, Vec::new());
    // What only rounding leaves between two heights is no floor.
    let same = |a: Length, b: Length| (a - b).mm().abs() < 1e-6;
    let (bottom, top) = (inside.bottom().max(band.from), inside.top().min(band.to));
    let axis = |z: Length| Point::new(0.0, z.mm());
    if inside.is_empty() || bottom >= top {
        return vec![axis(band.from), axis(band.to)];
    }
    if !same(bottom, band.from) {
        points_up.extend([axis(band.from), axis(bottom)]);
    }
    points_up.extend(points(inside, bottom, top));
    if !same(top, band.to) {
        points_up.extend([axis(top), axis(band.to)]);
    }
    points_up
}

/// The piece that lies at an angle; none where a joint is open.
fn at(pieces: &[Span], angle: f64) -> Option<&Span> {
    pieces.iter().find(|piece| match piece.sides {
        None => !matches!(piece.is, PieceOf::Plug { .. }),
        // A strip is thin: what the saw meets beside it is the segment.
        Some(_) if matches!(piece.is, PieceOf::Spacer { .. }) => false,
        Some((start, end)) => {
            let from = (angle - start.angle).rem_euclid(360.0);
            from < end.angle - start.angle
        }
    })
}

fn let_in(recipe: &Recipe, at: usize, insert: &BuiltInsert) -> Option<LetIn> {
    let said = recipe.fittings.inserts.get(insert.said)?;
    let way = into(said.seat)?;
    let rim = insert.rim.mm();
    // What stands in the cavity is not let in at all.
    let stands =
        matches!((said.seat, said.form), (Seat::BodyInside, InsertForm::Liner { .. })) && said.hole_depth.is_none();
    let depth = if stands { 0.0 } else { insert.hole_depth.value.mm() };
    Some(LetIn {
        insert: at,
        wood: said.wood,
        hole: (!stands).then(|| rectangle(insert.hole_diameter.value.mm(), rim, rim + way * depth)),
        body: match said.form {
            InsertForm::Liner { diameter, tall } => {
                let foot = rim + way * depth;
                rectangle(diameter.value.mm(), foot, foot - way * tall.value.mm())
            }
            InsertForm::Tenon { .. } | InsertForm::Plug { .. } | InsertForm::Medallion { .. } => {
                rectangle(insert.diameter.value.mm(), rim, rim + way * insert.length.value.mm())
            }
        },
        is_outside: matches!(said.seat, Seat::LidTop | Seat::BodyBase),
        shows: stands_out(recipe, insert),
    })
}

/// Up or down into the wood from the rim of a hole on the axis; none for one in the wall.
fn into(seat: Seat) -> Option<f64> {
    match seat {
        Seat::LidTop | Seat::BodyInside => Some(-1.0),
        Seat::LidInside | Seat::BodyBase => Some(1.0),
        Seat::BodySide { .. } => None,
    }
}

fn rectangle(across: f64, from: f64, to: f64) -> BezPath {
    let half = across / 2.0;
    closed([(-half, from), (half, from), (half, to), (-half, to)].into_iter().map(Point::from))
}

/// What stands out of the hole of an insert on the axis, where it shows on the outside, and whether only its room is
/// known: as it is told, or as much as its blank gives.
#[must_use]
pub fn stands_out(recipe: &Recipe, insert: &BuiltInsert) -> Option<(BezPath, bool)> {
    let said = recipe.fittings.inserts.get(insert.said)?;
    let way = match said.seat {
        Seat::LidTop | Seat::BodyBase | Seat::BodyInside | Seat::LidInside => into(said.seat)?,
        Seat::BodySide { .. } => return None,
    };
    let (across, tall, is_room) = match (said.shows, insert.seen, insert.blank) {
        (Some(shown), ..) => (shown.diameter.value, shown.tall.value, false),
        (None, Some(seen), Some(blank)) => (blank[0].value, seen.value, true),
        (None, ..) => return None,
    };
    let rim = insert.rim.mm();
    (tall.mm() > 0.0).then(|| (rectangle(across.mm(), rim, rim - way * tall.mm()), is_room))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn span(is: PieceOf, from: f64, to: f64) -> Span {
        let side = |angle| super::super::pieces::Side { angle, beside: 0.0 };
        Span { is, wood: 0, sides: Some((side(from), side(to))) }
    }

    #[test]
    fn nothing_is_drawn_along_the_axis() {
        let half = closed([(0.0, 0.0), (9.0, 0.0), (9.0, 4.0), (0.0, 4.0)].into_iter().map(Point::from));
        let ends: Vec<Point> = without_axis(&half).elements().iter().filter_map(kurbo::PathEl::end_point).collect();
        assert_eq!(ends, [(0.0, 0.0), (9.0, 0.0), (9.0, 4.0), (0.0, 4.0)].map(Point::from));
        assert!(!without_axis(&half).elements().contains(&kurbo::PathEl::ClosePath));
        assert_eq!(right_half(&rectangle(8.0, 1.0, 3.0)), right_half(&right_half(&rectangle(8.0, 1.0, 3.0))));
        assert!((kurbo::Shape::area(&right_half(&rectangle(8.0, 1.0, 3.0))).abs() - 8.0).abs() < 1e-12);
    }

    #[test]
    fn the_saw_meets_the_piece_over_its_angle_and_none_in_a_gap() {
        let segment = |segment| PieceOf::Segment { layer: 0, segment };
        let ring = [span(segment(0), -20.0, 100.0), span(segment(1), 110.0, 170.0), span(segment(2), 190.0, 330.0)];
        assert_eq!(at(&ring, 0.0).map(|piece| piece.is), Some(segment(0)));
        assert_eq!(at(&ring, 180.0).map(|piece| piece.is), None);
    }
}
