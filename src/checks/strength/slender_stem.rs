//! A stem or neck that a knock at the rim breaks, at a glue line or across the grain of its segments.

use crate::checks::faces::{Face, SAME};
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::geometry::{BuiltLayer, LayerShape, RingSet, TurnedPart};
use crate::quantity::{Length, Stress};
use crate::resolve::{Layer, PartKind};

use super::beam::{least_round, section_modulus, stress};

pub(super) const CHECK: Check = Check { code: &catalog::STRENGTH_SLENDER_STEM, run };

/// Where the vessel is strained most.
struct Weakest<'a> {
    said: &'a Layer,
    built: &'a BuiltLayer,
    face: Face,
    lever: Length,
    stress: Stress,
}

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(body) = design.vessel.bodies.iter().find(|part| part.part == PartKind::Body) else { return };
    let (knock, top) = (limits::KNOCK.get(), body.outside.top());
    let mut weakest: Option<Weakest<'_>> = None;
    for (_, said, built) in design.layers() {
        for (_, from, to) in design.left(built).filter(|(part, _, _)| part.part == PartKind::Body) {
            for (face, z) in sections(body, built, from, to) {
                let lever = top - z;
                let stress = stress(knock, lever, section_modulus(face));
                if lever > SAME && weakest.as_ref().is_none_or(|known| stress > known.stress) {
                    weakest = Some(Weakest { said, built, face, lever, stress });
                }
            }
        }
    }
    let bears = Stress::from_n_per_mm2(limits::ACROSS_GRAIN.get().n_per_mm2() / limits::STEM_SAFETY.get().value());
    let Some(case) = weakest.filter(|case| case.stress > bears) else { return };
    let bore = if case.face.inner > Length::ZERO {
        format!(" and hollow to {}", design.show(case.face.inner * 2.0))
    } else {
        String::new()
    };
    let message = format!(
        "a knock of {} N at the rim, {} higher, strains {} by {:.1} N/mm² where it is {} across{bore}; glued layers \
         bear {:.1} N/mm² across the grain with some safety",
        knock.newtons(),
        design.show(case.lever),
        case.built.id,
        case.stress.n_per_mm2(),
        design.show(case.face.outer * 2.0),
        bears.n_per_mm2()
    );
    let help = format!(
        "leave {} of solid wood there, or set the rim lower over it, or turn the stem from one piece with its grain \
         upright and tenon it into both ends",
        design.show(least_round(knock, case.lever, bears).across())
    );
    found.push(Finding::new(CHECK.code, case.said.head, message).help(help).rank(case.stress.n_per_mm2()));
}

/// The sections of a layer that may be its weakest: its faces, where it is narrowest and where its hole is widest.
fn sections(body: &TurnedPart, built: &BuiltLayer, from: Length, to: Length) -> Vec<(Face, Length)> {
    let mut sections = vec![(Face::above(body, from), from), (Face::below(body, to), to)];
    let is_upright = matches!(&built.shape, LayerShape::Ring(ring) if matches!(ring.set, RingSet::Upright(_)));
    // Staves bear along their grain; only their ends are glued.
    if !is_upright {
        let (narrow, wide) = (body.outside.extremes(from, to).least, body.inside.extremes(from, to).greatest);
        for z in [narrow.height, wide.height].into_iter().filter(|z| *z > from + SAME && *z < to - SAME) {
            sections.push((weaker(Face::below(body, z), Face::above(body, z)), z));
        }
    }
    sections
}

fn weaker(a: Face, b: Face) -> Face {
    if section_modulus(a) <= section_modulus(b) { a } else { b }
}
