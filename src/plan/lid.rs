//! A lidded vessel at the lathe: where each part begins and ends, and what there is to measure on it.

use crate::geometry::{LidJoint, TurnedPart, Vessel};
use crate::quantity::Length;
use crate::resolve::PartKind;
use crate::workings::Known;

use super::turning::Mark;

/// Where the body's opening is, from which it is hollowed: the end of its tenon, if it has one.
pub(super) fn body_rim(vessel: &Vessel) -> Known<Length> {
    if let Some(joint) = &vessel.joint {
        return if joint.on == PartKind::Body { joint.end } else { joint.shoulder };
    }
    if let Some(parting) = &vessel.parting {
        return parting.line;
    }
    let opening = vessel.contacts.iter().position(|contact| contact.is_opening);
    opening.and_then(|at| vessel.layers.get(at)).map_or(vessel.cavity_top, |layer| layer.z1)
}

/// Where the lid's lower face is: the end of its tenon, if it has one.
pub(super) fn lid_face(vessel: &Vessel) -> Known<Length> {
    match &vessel.joint {
        Some(joint) if joint.on == PartKind::Lid => joint.end,
        Some(joint) => joint.shoulder,
        None => body_rim(vessel),
    }
}

/// The parts that are measured each on its own: with a tenon inside the other, one height has two of them.
pub(super) fn parts(vessel: &Vessel) -> &[TurnedPart] {
    if vessel.joint.is_some() || vessel.parting.is_some() { &vessel.bodies } else { &[] }
}

/// The heights of a part's joint.
pub(super) fn marks(joint: &LidJoint, part: PartKind) -> Vec<(Length, Mark)> {
    let shoulder = joint.shoulder.value;
    if part == joint.on {
        return vec![(shoulder, Mark::Shoulder), (joint.end.value, Mark::TenonEnd)];
    }
    let depth = joint.mortise_depth.value;
    let end = if joint.on == PartKind::Body { shoulder + depth } else { shoulder - depth };
    vec![(shoulder, Mark::MortiseMouth), (end, Mark::MortiseEnd)]
}
