//! The closed vessel to what each part is on its own: shape, joint, and where its layers lie.

use crate::finding::Finding;
use crate::quantity::Length;
use crate::resolve::{JointKind, PartKind, Recipe};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::fitted::LidJoint;
use super::lid::{self, Frame};
use super::lid_check;
use super::lid_findings;
use super::lid_joint::Points;
use super::profile::Profile;
use super::shape::Shape;
use super::vessel::{Slice, TurnedPart};

/// Nearer than this to the bench or the top, a parting leaves nothing.
const HAIR: Length = Length::from_mm(1e-3);

static STACK: Formula =
    Formula { gives: "top of the body's stack", words: "its layers, added up", inputs: &["thickness of a layer"] };
static UNDER_STACK: Formula = Formula {
    gives: "shoulder",
    words: "top of the body's stack − length of the tenon",
    inputs: &["top of the body's stack", "length of the tenon"],
};
static LOST: Formula = Formula {
    gives: "height lost between body and lid",
    words: "kerf + length of the tenon",
    inputs: &["kerf", "length of the tenon"],
};
static CUT: Formula = Formula {
    gives: "height to saw at",
    words: "height of the line + length of the body's tenon",
    inputs: &["height of the line", "length of the body's tenon"],
};
static PARTED_STACK: Formula = Formula {
    gives: "height of the stack",
    words: "height of the vessel + what is lost between body and lid",
    inputs: &["height", "height lost"],
};

/// The parts of a vessel, before their layers.
#[derive(Debug)]
pub(super) struct Parts {
    /// Body before lid.
    pub(super) bodies: Vec<TurnedPart>,
    pub(super) joint: Option<LidJoint>,
    pub(super) parting: Option<Sawn>,
    /// Where a stack of the lid's own begins, in heights of the closed vessel.
    pub(super) lid_begins: Option<Known<Length>>,
    /// Each stack's curves in its own heights: of a parted one, with the cut between body and lid.
    stacks: Vec<TurnedPart>,
    /// What the layers have to add up to.
    pub(super) stack_height: Known<Length>,
}

/// One stack sawn apart.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sawn {
    /// Where the line shows on the closed vessel.
    pub(super) line: Known<Length>,
    /// Lower edge of the cut, in the stack.
    pub(super) cut: Known<Length>,
    pub(super) kerf: Known<Length>,
    /// Of the stack, between what shows of the body and what shows of the lid.
    pub(super) lost: Known<Length>,
}

/// Works out the parts; `None` when a joint or a parting has no room for its length, which is then among the findings.
/// Of a recipe whose layers could not all be read, nothing is known of a joint.
pub(super) fn parts(recipe: &Recipe, shape: &Shape, ledger: &mut Ledger, found: &mut Vec<Finding>) -> Option<Parts> {
    let joint = recipe.fittings.joint.filter(|_| !recipe.is_partial);
    let has_stack = recipe.parts.len() > 1;
    let parted = recipe.fittings.parted.filter(|_| !has_stack && !recipe.is_partial);
    if let Some(parted) = parted {
        let (line, floor, height) = (parted.at.value, shape.cavity_bottom.value, shape.height.value);
        if line <= floor + HAIR || line >= height - HAIR {
            found.push(lid_findings::nothing_parted(recipe, parted.at, floor, height));
            return None;
        }
    } else if !has_stack {
        return Some(whole(shape));
    }
    let line = match (parted, joint) {
        (Some(parted), _) => parted.at,
        (None, joint) => {
            let body = recipe.parts.iter().find(|part| part.kind == PartKind::Body);
            let thick: Vec<Known<Length>> = body.into_iter().flat_map(|part| &part.layers).map(|l| l.thick).collect();
            let top = ledger.total(&STACK, &thick);
            match joint.filter(|joint| lid::points(joint) == Points::Up) {
                Some(joint) => ledger.work(&UNDER_STACK, (top, joint.long), |(top, long)| top - long),
                None => top,
            }
        }
    };
    let frame = joint.map(|joint| Frame::new(&joint, line, ledger));
    if let Some(frame) = &frame
        && !lid_check::has_room(recipe, shape, frame, found)
    {
        return None;
    }
    let joint = frame.as_ref().map(|frame| lid::lid_joint(frame, shape, ledger));
    let bodies = match (&frame, &joint) {
        (Some(frame), Some(joint)) => joined(frame, joint, shape),
        _ => flat(shape, line.value),
    };
    let lid_begins = frame.as_ref().map(|frame| match lid::points(&frame.joint) {
        Points::Up => frame.shoulder,
        Points::Down => frame.end,
    });
    let sawn = parted.map(|parted| {
        let none = Known::new(Length::ZERO, Origin::Default(&"there is no tenon on that side of the line"));
        let long = frame.as_ref().map_or(none, |frame| frame.joint.long);
        let is_up = frame.as_ref().is_some_and(|frame| lid::points(&frame.joint) == Points::Up);
        let of_body = if is_up { long } else { none };
        Sawn {
            line,
            cut: ledger.work(&CUT, (line, of_body), |(line, long)| line + long),
            kerf: parted.kerf,
            lost: ledger.work(&LOST, (parted.kerf, long), |(kerf, long)| kerf + long),
        }
    });
    let stack_height = match sawn {
        Some(sawn) => ledger.work(&PARTED_STACK, (shape.height, sawn.lost), |(height, lost)| height + lost),
        None => shape.height,
    };
    let stacks = match &sawn {
        Some(sawn) => vec![glued(&bodies, sawn)],
        None => bodies.clone(),
    };
    Some(Parts { bodies, joint, stacks, parting: sawn, lid_begins: lid_begins.filter(|_| has_stack), stack_height })
}

/// A vessel without a lid.
fn whole(shape: &Shape) -> Parts {
    let body = TurnedPart { part: PartKind::Body, outside: shape.outside.clone(), inside: shape.inside.clone() };
    Parts {
        stacks: vec![body.clone()],
        bodies: vec![body],
        joint: None,
        parting: None,
        lid_begins: None,
        stack_height: shape.height,
    }
}

/// One stack with the cut in it, which is as wide as what lies under it.
fn glued(bodies: &[TurnedPart], sawn: &Sawn) -> TurnedPart {
    let (cut, upper) = (sawn.cut.value, sawn.cut.value + sawn.kerf.value);
    let curve = |of: fn(&TurnedPart) -> &Profile| {
        let (lower, over) = match bodies {
            [body, lid, ..] => (of(body).clone(), of(lid).raised(sawn.lost.value)),
            [body] => (of(body).clone(), Profile::default()),
            [] => (Profile::default(), Profile::default()),
        };
        let between = Profile::cylinder(lower.below(cut), cut, upper);
        Profile::joined(&[lower, between, over])
    };
    TurnedPart { part: PartKind::Body, outside: curve(|part| &part.outside), inside: curve(|part| &part.inside) }
}

/// Body and lid that meet flat.
fn flat(shape: &Shape, line: Length) -> Vec<TurnedPart> {
    if line >= shape.height.value - HAIR {
        // The lid lies above the shape, which is told of the stack.
        let all = |part| TurnedPart { part, outside: shape.outside.clone(), inside: shape.inside.clone() };
        return vec![all(PartKind::Body), all(PartKind::Lid)];
    }
    let part = |part, from: Length, to: Length| TurnedPart {
        part,
        outside: shape.outside.between(from, to),
        inside: shape.inside.between(from, to),
    };
    let bottom = shape.outside.bottom();
    vec![part(PartKind::Body, bottom, line), part(PartKind::Lid, line, shape.height.value)]
}

/// Body and lid with tenon and mortise.
fn joined(frame: &Frame, joint: &LidJoint, shape: &Shape) -> Vec<TurnedPart> {
    let (outside, inside) = (&shape.outside, &shape.inside);
    let (line, bottom, height) = (frame.shoulder.value, outside.bottom(), shape.height.value);
    let floor = shape.cavity_bottom.value;
    let (tenon, mortise) = (joint.tenon.value / 2.0, joint.mortise.value / 2.0);
    let bore = joint.bore.value / 2.0;
    let ((tenon_from, tenon_to), (mortise_from, mortise_to)) = (frame.tenon(), frame.mortise());
    let standing = Profile::cylinder(tenon, tenon_from, tenon_to);
    let hole = Profile::cylinder(mortise, mortise_from, mortise_to);
    let below = outside.between(bottom, line);
    let above = outside.between(line, height);
    let (body, lid) = match lid::points(&frame.joint) {
        Points::Up => (
            (Profile::joined(&[below, standing]), reaching(inside, floor, tenon_to).at_most_over(bore, line)),
            (above, Profile::joined(&[hole, inside.between(mortise_to, height)])),
        ),
        Points::Down => {
            let above = if joint.kind == JointKind::Inset { above.at_most(tenon) } else { above };
            let hollow = if bore > Length::ZERO {
                inside.between(tenon_from, height).at_most(tenon)
            } else {
                Profile::default()
            };
            (
                (below, Profile::joined(&[reaching(inside, floor, mortise_from), hole])),
                (Profile::joined(&[standing, above]), hollow),
            )
        }
    };
    vec![
        TurnedPart { part: PartKind::Body, outside: body.0, inside: body.1 },
        TurnedPart { part: PartKind::Lid, outside: lid.0, inside: lid.1 },
    ]
}

/// An inside from one height to another, bored on straight where the cavity of the closed vessel has ended.
fn reaching(inside: &Profile, from: Length, to: Length) -> Profile {
    let end = inside.top().max(from);
    Profile::joined(&[inside.between(from, to), Profile::cylinder(inside.below(end), end, to)])
}

impl Profile {
    /// Held at `radius` from a height on.
    fn at_most_over(&self, radius: Length, from: Length) -> Self {
        Self::joined(&[self.between(self.bottom(), from), self.between(from, self.top()).at_most(radius)])
    }
}

impl Parts {
    pub(super) fn part(&self, kind: PartKind) -> Option<&TurnedPart> {
        self.bodies.iter().find(|part| part.part == kind)
    }

    /// The curves that the layers of a stack follow, in its own heights.
    pub(super) fn stack(&self, kind: PartKind) -> Option<&TurnedPart> {
        self.stacks.iter().find(|part| part.part == kind).or(self.stacks.first())
    }

    /// The stretches of a layer, from one height of its stack to another, that become part of the vessel.
    pub(super) fn slices(&self, part: PartKind, z0: Length, z1: Length) -> Vec<Slice> {
        let Some(sawn) = self.parting else {
            return vec![Slice { part, from: z0, to: z1, raise: Length::ZERO }];
        };
        let upper = sawn.cut.value + sawn.kerf.value;
        let body = Slice { part: PartKind::Body, from: z0, to: z1.min(sawn.cut.value), raise: Length::ZERO };
        let lid = Slice { part: PartKind::Lid, from: z0.max(upper), to: z1, raise: sawn.lost.value };
        [body, lid].into_iter().filter(|slice| slice.to - slice.from > HAIR).collect()
    }

    /// The outside of the closed vessel: as drawn, but for an inset lid that is drawn wider than what it drops into.
    pub(super) fn seen(&self, shape: &Shape) -> Profile {
        let inset = self.joint.as_ref().filter(|joint| joint.kind == JointKind::Inset);
        match (inset, self.part(PartKind::Body), self.part(PartKind::Lid)) {
            (Some(joint), Some(body), Some(lid)) => {
                let (line, height) = (joint.shoulder.value, shape.height.value);
                let bottom = body.outside.bottom();
                Profile::joined(&[body.outside.between(bottom, line), lid.outside.between(line, height)])
            }
            _ => shape.outside.clone(),
        }
    }

    /// What can be poured in: the body's inside, and over its end the lid's.
    pub(super) fn cavity(&self, shape: &Shape) -> Option<Profile> {
        let joint = self.joint.as_ref()?;
        let (body, lid) = (self.part(PartKind::Body)?, self.part(PartKind::Lid)?);
        let (low, high) = (joint.shoulder.value.min(joint.end.value), joint.shoulder.value.max(joint.end.value));
        let meet = if joint.on == PartKind::Body { high } else { low };
        let over = lid.inside.between(meet, lid.inside.top().max(meet));
        Some(Profile::joined(&[body.inside.between(shape.cavity_bottom.value, meet), over]))
    }
}
