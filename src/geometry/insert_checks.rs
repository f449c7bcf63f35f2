//! What holes for inserts come near: the far surface, glue lines, joints, each other.

use crate::finding::{Finding, limits};
use crate::quantity::{Angle, Diameter, Length, trig};
use crate::resolve::{Insert, InsertForm, PartKind, Recipe, Seat};

use super::insert::LEAST_LEFT;
use super::joints::arc;
use super::{BuiltInsert, LayerShape, Profile, Vessel, insert_findings as findings};

/// A hole's edge or floor nearer than this to a glue line leaves a skin that breaks out.
const FROM_GLUE: Length = limits::HOLE_GLUE_MARGIN.get();

/// Whether nothing of the seat is as wide as the hole.
pub(super) fn is_too_wide(seat: Seat, outside: &Profile, inside: &Profile, hole: Diameter) -> bool {
    let radius = hole.radius();
    match seat {
        Seat::LidTop => outside.max_radius() <= radius,
        Seat::BodyBase => outside.above(outside.bottom()) <= radius,
        Seat::LidInside | Seat::BodyInside => inside.max_radius() <= radius,
        Seat::BodySide { at, .. } => {
            let is_within = at.value - radius >= outside.bottom() && at.value + radius <= outside.top();
            !is_within || outside.extremes(at.value - radius, at.value + radius).least.radius <= radius
        }
    }
}

/// A hole that goes through, or nearly.
pub(super) fn depth(
    recipe: &Recipe,
    insert: &Insert,
    built: &BuiltInsert,
    thickness: Length,
    found: &mut Vec<Finding>,
) {
    if built.left.value <= Length::ZERO {
        found.push(findings::through(recipe, insert, built, thickness));
    } else if built.left.value < LEAST_LEFT {
        found.push(findings::thin_left(recipe, insert, built, thickness));
    }
}

/// A hole's floor close to a glue line, a side hole's edge close to one, a side hole on a joint.
pub(super) fn glue_lines(
    recipe: &Recipe,
    vessel: &Vessel,
    insert: &Insert,
    built: &BuiltInsert,
    found: &mut Vec<Finding>,
) {
    let faces = vessel.contacts.iter().filter(|contact| !contact.is_opening).map(|contact| contact.z);
    if let Seat::BodySide { at, .. } = insert.seat {
        let (half, radius) = (built.hole_diameter.value / 2.0, vessel.outside.above(at.value));
        let off = |face: &Length| (*face - at.value).abs();
        let nearest = faces.min_by(|a, b| off(a).mm().total_cmp(&off(b).mm()));
        if let Some(face) = nearest.filter(|face| off(face) < half + FROM_GLUE) {
            found.push(findings::side_near_glue_line(recipe, insert, built, face, FROM_GLUE));
        }
        let joints = joints_at(vessel, at.value, half);
        let facing = built.facing.unwrap_or(Angle::ZERO);
        let near = joints.iter().map(|joint| apart(*joint, facing)).fold(f64::INFINITY, f64::min);
        if arc(radius, Angle::from_degrees(near)) < half + FROM_GLUE {
            let better = middle_of_widest(&joints, facing)
                .filter(|(_, room)| arc(radius, Angle::from_degrees(room / 2.0)) >= half + FROM_GLUE)
                .map(|(middle, _)| middle);
            let near = arc(radius, Angle::from_degrees(near));
            found.push(findings::on_a_joint(recipe, insert, built, near, better));
        }
        return;
    }
    let floor = floor_of(insert.seat, built);
    if let Some(face) = faces.into_iter().find(|face| (*face - floor).abs() < FROM_GLUE) {
        found.push(findings::floor_near_glue_line(recipe, insert, built, (face - floor).abs(), FROM_GLUE));
    }
}

/// Height of the far end of a hole on the axis.
fn floor_of(seat: Seat, built: &BuiltInsert) -> Length {
    match seat {
        Seat::LidTop | Seat::BodyInside => built.rim - built.hole_depth.value,
        Seat::LidInside | Seat::BodyBase => built.rim + built.hole_depth.value,
        Seat::BodySide { .. } => built.rim,
    }
}

/// Where a side hole faces: as the recipe says, or the middle of a segment.
pub(super) fn facing(vessel: &Vessel, seat: Seat, half: Length) -> Option<Angle> {
    let Seat::BodySide { at, facing } = seat else { return None };
    if let Some(facing) = facing {
        return Some(facing.value.normalized());
    }
    let joints = joints_at(vessel, at.value, half);
    Some(middle_of_widest(&joints, Angle::ZERO).map_or(Angle::ZERO, |(middle, _)| middle))
}

/// The joints of all layers of the body that a side hole touches, rising.
fn joints_at(vessel: &Vessel, at: Length, half: Length) -> Vec<Angle> {
    let touched = vessel
        .layers
        .iter()
        .filter(|layer| layer.part == PartKind::Body && layer.z0.value < at + half && layer.z1.value > at - half);
    let mut joints: Vec<Angle> = touched
        .filter_map(|layer| match &layer.shape {
            LayerShape::Ring(ring) => Some(ring.joints().map(|joint| (layer.rotation + joint).normalized())),
            LayerShape::Disc { .. } | LayerShape::Slant(_) => None,
        })
        .flatten()
        .collect();
    joints.sort_by(|a, b| a.degrees().total_cmp(&b.degrees()));
    joints
}

/// The middle of the widest room between joints, the nearest to `wish` of equals, and its width in degrees.
fn middle_of_widest(joints: &[Angle], wish: Angle) -> Option<(Angle, f64)> {
    let first = joints.first()?;
    let next = joints.iter().skip(1).map(|joint| joint.degrees()).chain([first.degrees() + 360.0]);
    let rooms = joints.iter().zip(next).map(|(joint, next)| {
        let room = next - joint.degrees();
        (Angle::from_degrees(joint.degrees() + room / 2.0).normalized(), room)
    });
    // Rooms that differ in the last digits alone are alike.
    let rank = |(middle, room): &(Angle, f64)| ((room * 1e6).round(), -apart(*middle, wish));
    rooms.max_by(|a, b| {
        let (a, b) = (rank(a), rank(b));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    })
}

/// In degrees, the short way round.
fn apart(a: Angle, b: Angle) -> f64 {
    let turn = (a - b).normalized().degrees();
    turn.min(360.0 - turn)
}

/// Holes that run into each other. A narrower one drilled into an insert that is in already is no fault.
pub(super) fn overlaps(recipe: &Recipe, vessel: &Vessel, built: &[BuiltInsert], found: &mut Vec<Finding>) {
    let inserts = &recipe.fittings.inserts;
    for (at, later) in built.iter().enumerate() {
        for earlier in &built[..at] {
            let (Some(first), Some(second)) = (inserts.get(earlier.said), inserts.get(later.said)) else { continue };
            if first.seat.part() == second.seat.part() && meet(vessel, (first, earlier), (second, later)) {
                found.push(findings::overlap(first, second));
            }
        }
    }
}

fn stands(seat: Seat, said: &Insert) -> bool {
    matches!(seat, Seat::BodyInside) && matches!(said.form, InsertForm::Liner { .. })
}

fn meet(vessel: &Vessel, first: (&Insert, &BuiltInsert), second: (&Insert, &BuiltInsert)) -> bool {
    let half = |built: &BuiltInsert| built.hole_diameter.value / 2.0;
    match (first.0.seat, second.0.seat) {
        (Seat::BodySide { at: a, .. }, Seat::BodySide { at: b, .. }) => {
            let turn = apart(first.1.facing.unwrap_or(Angle::ZERO), second.1.facing.unwrap_or(Angle::ZERO));
            let aside = arc(vessel.outside.above(a.value), Angle::from_degrees(turn));
            let up = a.value - b.value;
            let between = Length::from_mm(trig::sqrt(aside.by(aside).mm2() + up.by(up).mm2()));
            between < half(first.1) + half(second.1)
        }
        (Seat::BodySide { .. }, _) => side_meets(vessel, first.1, second),
        (_, Seat::BodySide { .. }) => side_meets(vessel, second.1, first),
        (a, b) if a.words() == b.words() => {
            let is_stacked = second.1.hole_diameter.value < first.1.diameter.value
                && !matches!(first.0.form, InsertForm::Liner { .. });
            !is_stacked
        }
        // A liner that stands on the floor makes no hole in it.
        (a, b) if [(a, first.0), (b, second.0)].iter().any(|(seat, said)| stands(*seat, said)) => false,
        _ => {
            let (a, b) = (range(first), range(second));
            a.0 < b.1 && b.0 < a.1
        }
    }
}

/// From its rim to its floor, the lower first.
fn range((insert, built): (&Insert, &BuiltInsert)) -> (Length, Length) {
    let floor = floor_of(insert.seat, built);
    (built.rim.min(floor), built.rim.max(floor))
}

fn side_meets(vessel: &Vessel, side: &BuiltInsert, axial: (&Insert, &BuiltInsert)) -> bool {
    let half = side.hole_diameter.value / 2.0;
    let (low, high) = range(axial);
    let end = vessel.outside.above(side.rim) - side.hole_depth.value;
    side.rim - half < high && side.rim + half > low && end < axial.1.hole_diameter.value / 2.0
}
