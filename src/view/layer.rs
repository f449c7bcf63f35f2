//! One layer as it is glued, seen from above: 0° to the right, angles counterclockwise.

use kurbo::{BezPath, Circle, Point, Shape as _, Vec2};

use crate::geometry::{BuiltLayer, LayerShape, RingSet, RingShape};
use crate::quantity::trig;

use super::elevation::{TOLERANCE, closed};
use super::pieces::{Side, pieces};
use super::solid::PieceOf;

/// A layer on the bench. Paths are closed; x to the right, y up the page, millimeters.
#[derive(Debug, Clone, Default)]
pub struct LayerPlan {
    /// Its pieces as sawn, counterclockwise, a plug last.
    pub blanks: Vec<Blank>,
    /// Radii of what is left after turning: the greatest outside, the least inside (0 when solid).
    pub finished: (f64, f64),
    /// The same with turning allowance.
    pub with_allowance: (f64, f64),
    /// Radius of what swings on the lathe.
    pub swing: f64,
}

/// One piece as sawn.
#[derive(Debug, Clone)]
pub struct Blank {
    /// Which.
    pub is: PieceOf,
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Its outline; a ring has its hole the other way round.
    pub outline: BezPath,
    /// Where it can be written on.
    pub middle: Point,
    /// Half of what fits there, along the way of the grain and across.
    pub room: (f64, f64),
    /// Which way the grain runs.
    pub grain: Grain,
    /// The long edge, where it has one.
    pub long_edge: Option<(Point, Point)>,
}

/// Which way the grain of a piece runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Grain {
    /// Level, along this direction of length 1.
    Along(Vec2),
    /// Along the axis.
    Upright,
    /// A sheet's.
    Crossed,
}

/// A layer seen from above. Of leaning staves what both ends cover.
#[must_use]
pub fn layer(at: usize, built: &BuiltLayer) -> LayerPlan {
    let mut plan = LayerPlan {
        blanks: Vec::new(),
        finished: (built.outer_radius.value.mm(), built.inner_radius.value.mm()),
        with_allowance: (built.blank_outer_radius.value.mm(), built.blank_inner_radius.value.mm()),
        swing: built.swing().mm() / 2.0,
    };
    let along = direction(built.rotation.degrees());
    match &built.shape {
        LayerShape::Disc { wood, blank_diameter, is_sheet } => {
            let radius = blank_diameter.value.mm() / 2.0;
            plan.blanks.push(Blank {
                is: PieceOf::Whole { layer: at },
                wood: *wood,
                outline: Circle::new((0.0, 0.0), radius).to_path(TOLERANCE),
                middle: Point::ZERO,
                room: (radius * 0.7, radius * 0.3),
                grain: if *is_sheet { Grain::Crossed } else { Grain::Along(along) },
                long_edge: None,
            });
        }
        LayerShape::Slant(slant) => {
            let (lower, upper) = (slant.outer_at_z0.value.mm(), slant.outer_at_z1.value.mm());
            let (outer, inner) = (lower.max(upper), lower.min(upper) - slant.width.value.mm());
            let mut outline = Circle::new((0.0, 0.0), outer).to_path(TOLERANCE);
            if inner > 0.0 {
                outline.extend(Circle::new((0.0, 0.0), inner).to_path(TOLERANCE).reverse_subpaths());
            }
            // Where the ring is crossed by the grain's own diameter there is room beside it.
            let middle = (Vec2::new(-along.y, along.x) * f64::midpoint(outer, inner.max(0.0))).to_point();
            plan.blanks.push(Blank {
                is: PieceOf::Whole { layer: at },
                wood: slant.wood,
                outline,
                middle,
                room: ((outer - inner.max(0.0)) * 0.8, (outer - inner.max(0.0)) * 0.5),
                grain: Grain::Along(along),
                long_edge: None,
            });
        }
        LayerShape::Ring(ring) => plan.blanks = segments(at, built, ring),
    }
    plan
}

fn segments(at: usize, built: &BuiltLayer, ring: &RingShape) -> Vec<Blank> {
    let (outer, wall, grain_up) = match ring.set {
        RingSet::Upright(stave) => {
            let (lower, upper) = (stave.outer_at_z0.value.mm(), stave.outer_at_z1.value.mm());
            (lower.max(upper), stave.level_wall.value.mm() + (lower - upper).abs(), true)
        }
        RingSet::Round | RingSet::ToMiddle { .. } => {
            (built.blank_outer_radius.value.mm(), ring.strip_width.value.mm(), false)
        }
    };
    let inner = (outer - wall).max(0.0);
    let mut blanks = Vec::new();
    for piece in pieces(at, built) {
        let Some((start, end)) = piece.sides else {
            if let RingSet::ToMiddle { plug: Some(plug) } = ring.set {
                let radius = plug.diameter.value.mm() / 2.0;
                blanks.push(Blank {
                    is: piece.is,
                    wood: piece.wood,
                    outline: Circle::new((0.0, 0.0), radius).to_path(TOLERANCE),
                    middle: Point::ZERO,
                    room: (radius * 0.7, radius * 0.4),
                    grain: Grain::Along(direction(built.rotation.degrees())),
                    long_edge: None,
                });
            }
            continue;
        };
        let turn = f64::midpoint(start.angle, end.angle);
        if let (PieceOf::Spacer { .. }, Some(spacer)) = (piece.is, ring.spacer) {
            let (out, beside) = (direction(turn), spacer.thickness.value.mm() / 2.0);
            let across = Vec2::new(-out.y, out.x) * beside;
            let far = ring.corner_radius.value.mm();
            let near = (far - spacer.length.value.mm()).max(0.0);
            let corner = |radius: f64, way: f64| (out * radius + across * way).to_point();
            let corners = [corner(far, -1.0), corner(far, 1.0), corner(near, 1.0), corner(near, -1.0)];
            blanks.push(Blank {
                is: piece.is,
                wood: piece.wood,
                outline: closed(corners.into_iter()),
                middle: (out * f64::midpoint(near, far)).to_point(),
                room: ((far - near) / 2.0, beside),
                grain: Grain::Along(out),
                long_edge: None,
            });
            continue;
        }
        let corners = [
            corner(start, turn, outer),
            corner(end, turn, outer),
            corner(end, turn, inner),
            corner(start, turn, inner),
        ];
        let (out, long) = (direction(turn), corners[0].distance(corners[1]));
        let middle = (out * (inner + (outer - inner) * 0.56)).to_point();
        let (far, near) = (long / 2.0, corners[2].distance(corners[3]) / 2.0);
        blanks.push(Blank {
            is: piece.is,
            wood: piece.wood,
            outline: closed(corners.into_iter()),
            middle,
            room: (near + (far - near) * 0.56, (outer - inner) / 2.0),
            grain: if grain_up { Grain::Upright } else { Grain::Along(Vec2::new(-out.y, out.x)) },
            long_edge: Some((corners[0], corners[1])),
        });
    }
    blanks
}

/// Where a side meets the flat that lies at `distance` from the axis, square to the direction `turn`.
fn corner(side: Side, turn: f64, distance: f64) -> Point {
    let (out, way) = (direction(turn), direction(side.angle));
    let across = Vec2::new(-way.y, way.x) * side.beside;
    // Points behind the axis would be on the other side of it.
    let along = ((distance - across.dot(out)) / way.dot(out)).max(0.0);
    (way * along + across).to_point()
}

fn direction(degrees: f64) -> Vec2 {
    let radians = degrees.to_radians();
    Vec2::new(trig::cos(radians), trig::sin(radians))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The outer flats touch the blank's circle: the corner of a twelfth lies at R / cos 15°.
    #[test]
    fn corners_lie_where_the_closed_form_says() {
        let side = |angle| Side { angle, beside: 0.0 };
        let far = corner(side(30.0), 45.0, 60.0);
        assert!((far.to_vec2().hypot() - 60.0 / 15.0_f64.to_radians().cos()).abs() < 1e-9);
        assert!((far.to_vec2().dot(direction(45.0)) - 60.0).abs() < 1e-9);
        let beside = corner(Side { angle: 90.0, beside: -2.0 }, 75.0, 50.0);
        assert!((beside.x - 2.0).abs() < 1e-9, "2 to the right of the plane at 90°: {beside:?}");
    }
}
