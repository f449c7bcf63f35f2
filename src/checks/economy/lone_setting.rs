//! A stop setting for one ring alone that lies beside one that several rings share.

use std::collections::BTreeSet;

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::geometry::{LayerShape, RingSet};
use crate::plan::CutRow;
use crate::quantity::{Angle, Length, show_decimal};

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
    for (at, lone) in settings.iter().enumerate() {
        let mut cut_so = lone.layers.iter();
        let (Some(ring), None) = (cut_so.next(), cut_so.next()) else { continue };
        let Some(shared) = nearest(at, &settings) else { continue };
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
            show_decimal(said.allow.value + radius(lone, shared) * change, design.recipe.units)
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
    let rows = &design.plan.cut_list.rows;
    // Rows of one setting stand side by side, the longest edge first.
    let is_same = |a: &CutRow, b: &CutRow| {
        (a.setup, a.segments) == (b.setup, b.segments) && (a.long_edge.value - b.long_edge.value).abs() < SAME
    };
    let of_rows = |rows: &[CutRow]| {
        let row = rows.first()?;
        let layers = rows.iter().flat_map(|row| &row.serves).map(|serving| serving.layer);
        let layers: BTreeSet<usize> = layers.filter(|layer| is_even(*layer)).collect();
        let (edge, miter) = (row.long_edge.value, row.miter.value);
        Some(Setting { setup: row.setup, segments: row.segments, miter, edge, layers })
    };
    rows.chunk_by(is_same).filter_map(of_rows).collect()
}

/// What the cut list takes for one edge already.
const SAME: Length = Length::from_mm(1e-6);

/// The nearest setting that several rings share, if it is near enough to cost nothing.
fn nearest(at: usize, all: &[Setting]) -> Option<&Setting> {
    let lone = all.get(at)?;
    let off = |other: &Setting| (other.edge - lone.edge).abs();
    let is_near = |other: &&Setting| other.setup == lone.setup && off(other) <= limits::SHARED_EDGE.get();
    let before = all.iter().take(at).rev().take_while(is_near);
    let behind = all.iter().skip(at + 1).take_while(is_near);
    let serves = before.chain(behind).filter(|other| {
        let bears = radius(lone, other) <= limits::SHARED_RADIUS.get();
        other.layers.len() > 1 && other.segments == lone.segments && bears
    });
    serves.min_by(|a, b| off(a).mm().total_cmp(&off(b).mm()))
}

/// By how much the ring's radius changes: long edge = 2 R tan(miter).
fn radius(lone: &Setting, other: &Setting) -> Length {
    (other.edge - lone.edge).abs() / (lone.miter.tan() * 2.0)
}

/// Fine enough to tell two settings apart.
fn exact(design: Design<'_>, length: Length) -> String {
    let units = design.recipe.units;
    format!("{} {}", show_decimal(length, units), units.word())
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
        let beside = |layers: &[usize], edge| {
            let all = [setting(12, edge, layers), setting(12, 30.0, &[4])];
            nearest(1, &all).is_some()
        };
        // 0.25 / (2 · tan 15°) = 0.47 mm of radius, 0.3 are 0.56 mm.
        assert!(beside(&[1, 2], 30.25) && !beside(&[1, 2], 30.3));
        assert!(!beside(&[1], 30.2), "nothing is saved that others share");
        let few = |edge| nearest(1, &[setting(6, edge, &[1, 2]), setting(6, 30.0, &[4])]).is_some();
        assert!(few(30.5) && !few(30.6), "0.6 mm are too far on any radius");
        let many = [setting(60, 30.0, &[4]), setting(60, 29.8, &[1, 2])];
        assert!(nearest(0, &many).is_none(), "0.2 mm there are 1.9 mm of radius");
    }
}
