//! The closed vessel sawn through along its axis, seen as the elevation is: on the right what lies at 0°, on the left what
//! lies at 180°.

use kurbo::{BezPath, Point};

use crate::geometry::{BuiltInsert, Vessel};
use crate::resolve::{Recipe, Seat};

use super::bands::bands;
use super::elevation::{closed, points};
use super::pieces::{Span, pieces, plug_radius};
use super::solid::PieceOf;

/// What is cut through. Paths are closed; x to the right of the axis, y upward from the bench, millimeters.
#[derive(Debug, Clone, Default)]
pub struct Section {
    /// Every piece that is cut, layer by layer.
    pub cuts: Vec<Cut>,
    /// What is let in, on the axis.
    pub inserts: Vec<LetIn>,
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
    /// The hole.
    pub hole: BezPath,
    /// What sits in it.
    pub tenon: BezPath,
    /// As much as is known of what shows outside it: the room of its blank.
    pub shows: Option<BezPath>,
}

/// Saws a vessel through.
#[must_use]
pub fn section(recipe: &Recipe, vessel: &Vessel) -> Section {
    let mut section = Section::default();
    for band in bands(vessel) {
        let Some(layer) = vessel.layers.get(band.layer) else { continue };
        let outside = points(&band.part.outside, band.from, band.to);
        let inside = hollow(&band);
        let all = pieces(band.layer, layer);
        let plug = plug_radius(layer);
        for (is_right, angle) in [(true, 0.0), (false, 180.0)] {
            let side = |x: f64| if is_right { x } else { -x };
            let between = |near: f64, far: f64| {
                let held = |point: &Point| Point::new(side(point.x.clamp(near, far)), point.y);
                let up = outside.iter().map(held);
                let down = inside.iter().rev().map(held);
                closed(up.chain(down))
            };
            if let Some(piece) = at(&all, angle) {
                let outline = between(plug, f64::INFINITY);
                section.cuts.push(Cut { layer: band.layer, is: piece.is, wood: piece.wood, is_right, outline });
            }
            if let Some(piece) = all.iter().find(|piece| matches!(piece.is, PieceOf::Plug { .. })) {
                let outline = between(0.0, plug);
                section.cuts.push(Cut { layer: band.layer, is: piece.is, wood: piece.wood, is_right, outline });
            }
        }
    }
    section.inserts = vessel.inserts.iter().enumerate().filter_map(|(at, insert)| let_in(recipe, at, insert)).collect();
    section
}

/// The inside of a band as points upward: the axis where it is solid.
fn hollow(band: &super::bands::Band<'_>) -> Vec<Point> {
    let (inside, mut points_up) = (&band.part.inside, Vec::new());
    let (bottom, top) = (inside.bottom().max(band.from), inside.top().min(band.to));
    let axis = |z: crate::quantity::Length| Point::new(0.0, z.mm());
    if inside.is_empty() || bottom >= top {
        return vec![axis(band.from), axis(band.to)];
    }
    if bottom > band.from {
        points_up.extend([axis(band.from), axis(bottom)]);
    }
    points_up.extend(points(inside, bottom, top));
    if top < band.to {
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
    // Into the wood from its rim.
    let way = match said.seat {
        Seat::LidTop | Seat::BodyInside => -1.0,
        Seat::LidInside | Seat::BodyBase => 1.0,
        Seat::BodySide { .. } => return None,
    };
    let rim = insert.rim.mm();
    let rectangle = |across: f64, from: f64, to: f64| {
        let half = across / 2.0;
        closed([(-half, from), (half, from), (half, to), (-half, to)].into_iter().map(Point::from))
    };
    let shows = insert
        .seen
        .zip(insert.blank)
        .map(|(seen, blank)| rectangle(blank[0].value.mm(), rim, rim - way * seen.value.mm()));
    Some(LetIn {
        insert: at,
        wood: said.wood,
        hole: rectangle(insert.hole_diameter.value.mm(), rim, rim + way * insert.hole_depth.value.mm()),
        tenon: rectangle(insert.diameter.value.mm(), rim, rim + way * insert.length.value.mm()),
        shows,
    })
}
