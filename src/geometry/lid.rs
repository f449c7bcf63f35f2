//! A lid's joint in numbers: where it lies, how wide tenon and mortise are, what is left beside them.

use crate::quantity::{Diameter, Length};
use crate::resolve::{Fit, Joint, JointKind, PartKind};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::fit;
use super::fitted::{JamChuck, LidJoint, ThreadShape};
use super::lid_joint::{self, Points};
use super::shape::Shape;
use super::thread;

/// Steps of the outside smaller than this are no drawn lid.
const HAIR: Length = Length::from_mm(1e-3);

static END_UP: Formula =
    Formula { gives: "end of the tenon", words: "shoulder + length", inputs: &["shoulder", "length"] };
static END_DOWN: Formula =
    Formula { gives: "end of the tenon", words: "shoulder − length", inputs: &["shoulder", "length"] };
static LEAST_OUTSIDE: Formula = Formula {
    gives: "least outside over the mortise",
    words: "2 × the least radius of the outside curve from the shoulder to the mortise's end",
    inputs: &["shoulder", "depth of the mortise"],
};
static GREATEST_BORE: Formula = Formula {
    gives: "bore of the tenon",
    words: "2 × the greatest radius of the inside curve over the tenon's length",
    inputs: &["shoulder", "end of the tenon"],
};
static OPENING: Formula = Formula {
    gives: "opening under the ledge",
    words: "2 × the radius of the inside curve just under the ledge",
    inputs: &["ledge"],
};
static AT_SHOULDER: Formula = Formula {
    gives: "outside at the shoulder",
    words: "2 × the radius of the outside curve there",
    inputs: &["shoulder"],
};
static DRAWN_LID: Formula = Formula {
    gives: "inset lid",
    words: "2 × the radius of the outside just over its step at the rim: the lid as it is drawn",
    inputs: &["rim"],
};
static EQUAL_WALLS: Formula = Formula {
    gives: "mortise",
    words: "(least outside over the mortise + bore + clearance) / 2: mortise and tenon get equal walls",
    inputs: &["least outside over the mortise", "bore", "clearance"],
};
static MORTISE_OF_TENON: Formula =
    Formula { gives: "mortise", words: "tenon + clearance", inputs: &["tenon", "clearance"] };
static CLEARANCE: Formula =
    Formula { gives: "clearance, on the diameter", words: "mortise − tenon", inputs: &["mortise", "tenon"] };
static EQUAL_WALLS_OF_THREAD: Formula = Formula {
    gives: "major diameter of the thread",
    words: "(least outside over the mortise + bore + clearance) / 2 + depth of the tenon's thread: equal walls outside \
            the thread and under its root",
    inputs: &["least outside over the mortise", "bore", "clearance", "depth of the tenon's thread"],
};
static THREAD_OF_WALL: Formula = Formula {
    gives: "major diameter of the thread",
    words: "bore + 2 × wall under the root + clearance + 2 × depth of the tenon's thread",
    inputs: &["bore", "wall under the root", "clearance", "depth of the tenon's thread"],
};
static MAJOR_OF_MINOR: Formula = Formula {
    gives: "major diameter of the thread",
    words: "minor diameter of the mortise + 2 × depth of its thread",
    inputs: &["minor diameter", "depth of the mortise's thread"],
};

/// Where a joint lies, before anything of its width is known.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    pub(super) joint: Joint,
    /// Where the line shows.
    pub(super) shoulder: Known<Length>,
    pub(super) end: Known<Length>,
    pub(super) depth: Known<Length>,
}

impl Frame {
    pub(super) fn new(joint: &Joint, shoulder: Known<Length>, ledger: &mut Ledger) -> Self {
        let relief = match joint.kind {
            JointKind::Inset => Known::new(Length::ZERO, Origin::Default(&"an inset lid bears on its ledge")),
            JointKind::Tenon | JointKind::Over | JointKind::Thread => {
                Known::new(lid_joint::RELIEF, Origin::Default(&lid_joint::RELIEF_REASON))
            }
        };
        let end = match points(joint) {
            Points::Up => ledger.work(&END_UP, (shoulder, joint.long), |(z, long)| z + long),
            Points::Down => ledger.work(&END_DOWN, (shoulder, joint.long), |(z, long)| z - long),
        };
        let depth = ledger.work(&lid_joint::MORTISE_DEPTH, (joint.long, relief), |(long, relief)| {
            lid_joint::mortise_depth(long, relief)
        });
        Self { joint: *joint, shoulder, end, depth }
    }

    /// The heights between which the mortise lies, the lower first.
    pub(super) fn mortise(&self) -> (Length, Length) {
        let (z, depth) = (self.shoulder.value, self.depth.value);
        if points(&self.joint) == Points::Up { (z, z + depth) } else { (z - depth, z) }
    }

    /// The heights between which the tenon stands, the lower first.
    pub(super) fn tenon(&self) -> (Length, Length) {
        let (z, end) = (self.shoulder.value, self.end.value);
        (z.min(end), z.max(end))
    }
}

/// Which way the tenon points.
pub(super) fn points(joint: &Joint) -> Points {
    if joint.on.value == PartKind::Body { Points::Up } else { Points::Down }
}

/// The joint in numbers; seasons are added when its layers are known.
pub(super) fn lid_joint(frame: &Frame, shape: &Shape, ledger: &mut Ledger) -> LidJoint {
    let joint = &frame.joint;
    let outside = ledger.work(&LEAST_OUTSIDE, (frame.shoulder, frame.depth), |_| {
        let (from, to) = frame.mortise();
        Diameter::new(shape.outside.extremes(from, to).least.radius * 2.0)
    });
    let bore = bore(frame, shape, ledger);
    let widths = match joint.thread {
        Some(cut) => threaded(frame, cut, outside, bore, ledger),
        None => plain(frame, shape, outside, bore, ledger),
    };
    let tenon_wall = if joint.kind == JointKind::Inset {
        let under = ledger.work(&OPENING, (frame.end,), |(z,)| Diameter::new(shape.inside.below(z) * 2.0));
        let inputs = (widths.tenon, under, widths.clearance);
        ledger.work(&lid_joint::LEDGE_WIDTH, inputs, |(lid, under, play)| lid_joint::ledge_width(lid, under, play))
    } else {
        let root = widths.thread.map_or(widths.tenon, |thread| thread.root.map(Diameter::new));
        ledger.work(&lid_joint::TENON_WALL, (root, bore), |(tenon, bore)| lid_joint::tenon_wall(tenon, bore))
    };
    let mortise_wall = ledger.work(&lid_joint::MORTISE_WALL, (outside, widths.deepest), |(outside, mortise)| {
        lid_joint::mortise_wall(outside, mortise)
    });
    let shoulder_width = if joint.kind == JointKind::Inset {
        tenon_wall
    } else {
        let at = |below: bool, ledger: &mut Ledger| {
            ledger.work(&AT_SHOULDER, (frame.shoulder,), |(z,)| {
                Diameter::new(if below { shape.outside.below(z) } else { shape.outside.above(z) } * 2.0)
            })
        };
        let (body, lid) = (at(true, ledger), at(false, ledger));
        ledger.work(&lid_joint::SHOULDER_WIDTH, (body, lid, widths.deepest), |(body, lid, mortise)| {
            lid_joint::shoulder_width(body, lid, mortise)
        })
    };
    let across = |diameter: Known<Diameter>| diameter.map(Diameter::across);
    LidJoint {
        kind: joint.kind,
        on: joint.on.value,
        fit: joint.fit.value,
        shoulder: frame.shoulder,
        end: frame.end,
        long: joint.long,
        mortise_depth: frame.depth,
        tenon: across(widths.tenon),
        mortise: across(widths.mortise),
        clearance: widths.clearance,
        bore: across(bore),
        mortise_wall,
        tenon_wall,
        shoulder_width,
        seasons: None,
        thread: widths.thread,
        jam: jam_chucks(joint, &widths, ledger),
    }
}

/// The hole in the tenon; none where the lid's tenon is solid.
fn bore(frame: &Frame, shape: &Shape, ledger: &mut Ledger) -> Known<Diameter> {
    let (from, to) = frame.tenon();
    let is_solid =
        frame.joint.on.value == PartKind::Lid && (shape.inside.is_empty() || shape.cavity_top.value <= from + HAIR);
    if is_solid && frame.joint.kind != JointKind::Inset {
        return Known::new(Diameter::default(), Origin::Default(&"the lid is solid there"));
    }
    ledger.work(&GREATEST_BORE, (frame.shoulder, frame.end), |_| {
        Diameter::new(shape.inside.extremes(from, to).greatest.radius * 2.0)
    })
}

struct Widths {
    tenon: Known<Diameter>,
    mortise: Known<Diameter>,
    /// The mortise with its thread.
    deepest: Known<Diameter>,
    clearance: Known<Length>,
    thread: Option<ThreadShape>,
}

fn plain(frame: &Frame, shape: &Shape, outside: Known<Diameter>, bore: Known<Diameter>, ledger: &mut Ledger) -> Widths {
    let joint = &frame.joint;
    let none = Known::new(Length::ZERO, Origin::Default(&"before any clearance"));
    let drawn = drawn_lid(frame, shape, ledger);
    let nominal = match (joint.wall, drawn) {
        (_, Some(drawn)) => drawn,
        (Some(wall), None) => wall_mortise(bore, wall, none, ledger),
        (None, None) => ledger.work(&EQUAL_WALLS, (outside, bore, none), |(d, b, c)| lid_joint::split(d, b, c)),
    };
    let clearance = clearance(joint, nominal, ledger);
    let of_tenon = |tenon: Known<Diameter>, ledger: &mut Ledger| {
        let mortise = ledger.work(&MORTISE_OF_TENON, (tenon, clearance), |(tenon, clearance)| tenon + clearance);
        (tenon, mortise, clearance)
    };
    let of_mortise = |mortise: Known<Diameter>, ledger: &mut Ledger| {
        let tenon = ledger
            .work(&lid_joint::TENON, (mortise, clearance), |(mortise, clearance)| lid_joint::tenon(mortise, clearance));
        (tenon, mortise, clearance)
    };
    let (tenon, mortise, clearance) = match (joint.made_tenon, joint.made_mortise) {
        (Some(tenon), Some(mortise)) => {
            let measured = ledger.work(&CLEARANCE, (mortise, tenon), |(mortise, tenon)| mortise - tenon);
            (tenon.map(Diameter::new), mortise.map(Diameter::new), measured)
        }
        (Some(tenon), None) => of_tenon(tenon.map(Diameter::new), ledger),
        (None, Some(mortise)) => of_mortise(mortise.map(Diameter::new), ledger),
        (None, None) => match (drawn, joint.wall) {
            (Some(lid), _) => of_tenon(lid, ledger),
            (None, Some(wall)) => of_mortise(wall_mortise(bore, wall, clearance, ledger), ledger),
            (None, None) => {
                let equal =
                    ledger.work(&EQUAL_WALLS, (outside, bore, clearance), |(d, b, c)| lid_joint::split(d, b, c));
                of_mortise(equal, ledger)
            }
        },
    };
    Widths { tenon, mortise, deepest: mortise, clearance, thread: None }
}

fn wall_mortise(
    bore: Known<Diameter>,
    wall: Known<Length>,
    clearance: Known<Length>,
    ledger: &mut Ledger,
) -> Known<Diameter> {
    ledger.work(&lid_joint::MORTISE_OF_WALL, (bore, wall, clearance), |(bore, wall, clearance)| {
        lid_joint::mortise_of_wall(bore, wall, clearance)
    })
}

/// An inset lid that stands proud is drawn by a step of the outside at the rim.
fn drawn_lid(frame: &Frame, shape: &Shape, ledger: &mut Ledger) -> Option<Known<Diameter>> {
    let z = frame.shoulder.value;
    let is_step = z < shape.height.value - HAIR && shape.outside.above(z) < shape.outside.below(z) - HAIR;
    (frame.joint.kind == JointKind::Inset && is_step)
        .then(|| ledger.work(&DRAWN_LID, (frame.shoulder,), |(z,)| Diameter::new(shape.outside.above(z) * 2.0)))
}

fn clearance(joint: &Joint, nominal: Known<Diameter>, ledger: &mut Ledger) -> Known<Length> {
    let fit = joint.fit.value;
    match fit::formula(fit) {
        Some(formula) => ledger.work(formula, (nominal,), |(mortise,)| fit::clearance(fit, mortise)),
        None => joint.fit.map(|fit| fit::clearance(fit, nominal.value)),
    }
}

fn threaded(
    frame: &Frame,
    cut: crate::resolve::Thread,
    outside: Known<Diameter>,
    bore: Known<Diameter>,
    ledger: &mut Ledger,
) -> Widths {
    let joint = &frame.joint;
    let pitch = cut.pitch;
    let clearance = match joint.fit.value {
        Fit::Slip => Known::new(thread::CLEARANCE, Origin::Default(&thread::CLEARANCE_REASON)),
        Fit::Jam | Fit::Loose | Fit::Clearance(_) => clearance(joint, bore, ledger),
    };
    let depth = ledger.work(&thread::EXTERNAL_DEPTH, (pitch,), |(pitch,)| thread::external_depth(pitch));
    let depth_inside = ledger.work(&thread::INTERNAL_DEPTH, (pitch,), |(pitch,)| thread::internal_depth(pitch));
    let major = match (joint.made_tenon, joint.made_mortise, joint.wall) {
        (Some(tenon), ..) => {
            ledger
                .work(&MORTISE_OF_TENON, (tenon.map(Diameter::new), clearance), |(tenon, clearance)| tenon + clearance)
        }
        (None, Some(minor), _) => {
            ledger.work(&MAJOR_OF_MINOR, (minor.map(Diameter::new), depth_inside), |(minor, depth)| minor + depth * 2.0)
        }
        (None, None, Some(wall)) => {
            ledger.work(&THREAD_OF_WALL, (bore, wall, clearance, depth), |(bore, wall, play, depth)| {
                lid_joint::mortise_of_wall(bore, wall, play) + depth * 2.0
            })
        }
        (None, None, None) => {
            ledger.work(&EQUAL_WALLS_OF_THREAD, (outside, bore, clearance, depth), |(outside, bore, play, depth)| {
                lid_joint::split(outside, bore, play) + depth
            })
        }
    };
    let tenon = match joint.made_tenon {
        Some(tenon) => tenon.map(Diameter::new),
        None => ledger.work(&thread::TENON_MAJOR, (major, clearance), |(major, play)| thread::tenon_major(major, play)),
    };
    let minor =
        ledger.work(&thread::MINOR_DIAMETER, (major, pitch), |(major, pitch)| thread::minor_diameter(major, pitch));
    let root =
        ledger.work(&thread::ROOT_DIAMETER, (tenon, pitch), |(tenon, pitch)| thread::root_diameter(tenon, pitch));
    let lead = ledger.work(&thread::LEAD, (cut.starts, pitch), |(starts, pitch)| thread::lead(starts, pitch));
    let engagement =
        ledger.work(&thread::ENGAGEMENT, (cut.turns, lead), |(turns, lead)| thread::engagement(turns, lead));
    let shape = ThreadShape {
        pitch,
        starts: cut.starts.value.0,
        turns: cut.turns,
        depth,
        root: root.map(Diameter::across),
        depth_inside,
        major: major.map(Diameter::across),
        engagement,
    };
    Widths { tenon, mortise: minor, deepest: major, clearance, thread: Some(shape) }
}

/// A chuck for each part: a recess for the one with the tenon, a spigot for the other.
fn jam_chucks(joint: &Joint, widths: &Widths, ledger: &mut Ledger) -> Vec<JamChuck> {
    let grip = Known::new(fit::JAM_GRIP, Origin::Default(&fit::JAM_GRIP_REASON));
    let reach = ledger.work(&fit::JAM_REACH, (joint.long,), |(long,)| fit::jam_reach(long));
    let recess = ledger.work(&fit::JAM_RECESS, (widths.tenon, grip), |(tenon, grip)| fit::jam_recess(tenon, grip));
    let spigot = ledger.work(&fit::JAM_SPIGOT, (widths.mortise, grip), |(hole, grip)| fit::jam_spigot(hole, grip));
    let mut chucks: Vec<JamChuck> = [PartKind::Body, PartKind::Lid]
        .into_iter()
        .map(|part| {
            let has_tenon = part == joint.on.value;
            let diameter = if has_tenon { recess } else { spigot };
            JamChuck { part, diameter: diameter.map(Diameter::across), reach, is_inside: !has_tenon }
        })
        .collect();
    chucks.retain(|chuck| chuck.diameter.value > Length::ZERO);
    chucks
}
