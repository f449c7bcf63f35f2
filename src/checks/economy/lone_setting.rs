//! A stop setting for one ring alone that lies beside one that several rings share.

use std::collections::BTreeSet;

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::geometry::{LayerShape, RingSet};
use crate::quantity::{Angle, Length};

pub(super) const CHECK: Check = Check { code: &catalog::ECONOMY_LONE_SETTING, run };

/// A setting of gauge and stop and the rings that are cut at it.
#[derive(Debug)]
struct Setting {
    setup: usize,
    segments: u32,
    miter: Angle,
    edge: Length,
    layers: BTreeSet<usize>,
}

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let settings = settings(design);
    let layers: Vec<_> = design.layers().collect();
    for lone in &settings {
        let mut cut_so = lone.layers.iter();
        let (Some(ring), None) = (cut_so.next(), cut_so.next()) else { continue };
        let Some(shared) = nearest(lone, &settings) else { continue };
        let Some((_, said, built)) = layers.get(*ring) else { continue };
        let (way, change) = if shared.edge > lone.edge { ("wider", 1.0) } else { ("narrower", -1.0) };
        let message = format!(
            "{} is cut at a stop of its own, {}; {} other rings of {} segments are cut at {}",
            built.id,
            exact(design, lone.edge),
            shared.layers.len(),
            lone.segments,
            exact(design, shared.edge)
        );
        let finding = Finding::new(CHECK.code, said.head, message).help(format!(
            "cut it at {} too, and save a setting: its blank comes out {} {way} on the radius; `allow {}` says so",
            exact(design, shared.edge),
            exact(design, radius(lone, shared)),
            crate::quantity::show_decimal(said.allow.value + radius(lone, shared) * change, design.recipe.units)
        ));
        found.push(finding);
    }
}

/// One for each stop, gauge and count of segments; only rings of equal segments, which may be made a little wider.
fn settings(design: Design<'_>) -> Vec<Setting> {
    let is_even = |layer: usize| match design.vessel.layers.get(layer).map(|built| &built.shape) {
        Some(LayerShape::Ring(ring)) => matches!(ring.set, RingSet::Round) && ring.cuts.len() == 1,
        Some(LayerShape::Disc { .. } | LayerShape::Slant(_)) | None => false,
    };
    let mut all: Vec<Setting> = Vec::new();
    for row in &design.plan.cut_list.rows {
        let layers = row.serves.iter().map(|serving| serving.layer).filter(|layer| is_even(*layer));
        let (edge, segments) = (row.long_edge.value, row.segments);
        let is_same = |known: &&mut Setting| {
            known.setup == row.setup && known.segments == segments && (known.edge - edge).abs() < SAME
        };
        match all.iter_mut().find(is_same) {
            Some(known) => known.layers.extend(layers),
            None => {
                let layers = layers.collect();
                all.push(Setting { setup: row.setup, segments, miter: row.miter.value, edge, layers });
            }
        }
    }
    all
}

/// What the cut list takes for one edge already.
const SAME: Length = Length::from_mm(1e-6);

/// The nearest setting that several rings share, if it is near enough to cost nothing.
fn nearest<'a>(lone: &Setting, all: &'a [Setting]) -> Option<&'a Setting> {
    let off = |other: &Setting| (other.edge - lone.edge).abs();
    let near = all.iter().filter(|other| {
        other.layers.len() > 1
            && (other.setup, other.segments) == (lone.setup, lone.segments)
            && off(other) <= limits::SHARED_EDGE.get()
            && radius(lone, other) <= limits::SHARED_RADIUS.get()
    });
    near.min_by(|a, b| off(a).mm().total_cmp(&off(b).mm()))
}

/// By how much the ring's radius changes: long edge = 2 R tan(miter).
fn radius(lone: &Setting, other: &Setting) -> Length {
    (other.edge - lone.edge).abs() / (lone.miter.tan() * 2.0)
}

/// Fine enough to tell two settings apart.
fn exact(design: Design<'_>, length: Length) -> String {
    let units = design.recipe.units;
    format!("{} {}", crate::quantity::show_decimal(length, units), units.word())
}

#[cfg(test)]
mod tests {
    use super::{Setting, nearest, radius};
    use crate::quantity::{Angle, Length};

    fn setting(segments: u32, edge: f64, layers: &[usize]) -> Setting {
        let miter = Angle::from_degrees(180.0 / f64::from(segments));
        let layers = layers.iter().copied().collect();
        Setting { setup: 0, segments, miter, edge: Length::from_mm(edge), layers }
    }

    #[test]
    fn a_longer_edge_makes_a_wider_ring() {
        // Twelve segments on a radius of 50 mm: 2 · 50 · tan 15° = 26.795 mm; on 50.5 mm 27.063 mm.
        let (small, large) = (setting(12, 26.795, &[1]), setting(12, 27.063, &[2, 3]));
        assert!((radius(&small, &large).mm() - 0.5).abs() < 1e-3);
    }

    #[test]
    fn only_what_several_rings_share_is_worth_joining() {
        let lone = setting(12, 30.0, &[4]);
        let others = |layers: &[usize], edge| [setting(12, 30.0, &[4]), setting(12, edge, layers)];
        assert!(nearest(&lone, &others(&[1, 2], 30.2)).is_some());
        assert!(nearest(&lone, &others(&[1], 30.2)).is_none(), "nothing is saved that others share");
        assert!(nearest(&lone, &others(&[1, 2], 30.6)).is_none(), "too far");
        let many = setting(60, 30.0, &[4]);
        assert!(nearest(&many, &[setting(60, 30.2, &[1, 2])]).is_none(), "0.2 mm there are 1.9 mm of radius");
    }
}
