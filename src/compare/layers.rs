//! Which layer of one version is which of the other, and what is different about it.

use similar::{Algorithm, DiffOp, capture_diff_slices};

use crate::compile::Complete;
use crate::geometry::{BuiltLayer, LayerShape};
use crate::quantity::{Angle, Length};

use super::{Amount, Change, Figures, differing};

/// A layer that is new, gone, or made otherwise. Layers are told by their place in `vessel.layers`.
#[derive(Debug, Clone, PartialEq)]
pub enum LayerChange {
    /// Of the version after.
    Added(usize),
    /// Of the version before.
    Removed(usize),
    /// The same layer in both.
    Changed {
        /// Its place before.
        before: usize,
        /// Its place after.
        after: usize,
        /// What is cut, set or turned otherwise.
        figures: Vec<Change>,
        /// Whether its woods or their order are others.
        has_other_woods: bool,
    },
}

/// Layers are matched by what the recipe says of them, not by their numbers: one more at the foot leaves those above
/// the same layers.
pub(super) fn changes(before: &Complete<'_>, after: &Complete<'_>) -> Vec<LayerChange> {
    let keys = |design: &Complete<'_>| -> Vec<String> {
        design.vessel.layers.iter().map(|layer| key(design, layer)).collect()
    };
    let (old, new) = (keys(before), keys(after));
    let mut all = Vec::new();
    for op in capture_diff_slices(Algorithm::Myers, &old, &new) {
        let (from, to) = (op.old_range(), op.new_range());
        // What stands in the place of something is that, made otherwise.
        let both =
            if matches!(op, DiffOp::Equal { .. } | DiffOp::Replace { .. }) { from.len().min(to.len()) } else { 0 };
        for (before_at, after_at) in from.clone().zip(to.clone()).take(both) {
            all.extend(changed((before, before_at), (after, after_at)));
        }
        all.extend(from.skip(both).map(LayerChange::Removed));
        all.extend(to.skip(both).map(LayerChange::Added));
    }
    all
}

/// What tells a layer from others.
fn key(design: &Complete<'_>, layer: &BuiltLayer) -> String {
    let thick = layer.z1.value - layer.z0.value;
    format!("{} {} {} {:.2}", layer.part.word(), layer.shape.word(), wood_runs(design, layer).join(" "), thick.mm())
}

/// The woods of a layer in their order, as they are written: `maple*4`, `walnut`.
#[must_use]
pub fn wood_runs(design: &Complete<'_>, layer: &BuiltLayer) -> Vec<String> {
    let woods: Vec<usize> = match &layer.shape {
        LayerShape::Ring(ring) => ring.woods.clone(),
        LayerShape::Disc { wood, .. } => vec![*wood],
        LayerShape::Slant(_) => layer.shares.iter().map(|share| share.wood).collect(),
    };
    let name = |at: usize| design.recipe.woods.get(at).map_or("", |wood| wood.name.as_str());
    let runs = woods.chunk_by(|a, b| a == b);
    let told = |run: &[usize]| {
        let name = run.first().map_or("", |at| name(*at));
        if run.len() == 1 { name.to_owned() } else { format!("{name}*{}", run.len()) }
    };
    runs.map(told).collect()
}

fn changed(
    (before, before_at): (&Complete<'_>, usize),
    (after, after_at): (&Complete<'_>, usize),
) -> Option<LayerChange> {
    let (old, new) = (before.vessel.layers.get(before_at)?, after.vessel.layers.get(after_at)?);
    let figures = differing(&figures(before, before_at), &figures(after, after_at));
    let has_other_woods = wood_runs(before, old) != wood_runs(after, new);
    (has_other_woods || !figures.is_empty()).then_some(LayerChange::Changed {
        before: before_at,
        after: after_at,
        figures,
        has_other_woods,
    })
}

/// The figure by this name is how thick a layer is.
pub const THICKNESS: &str = "thickness";

/// What is read at the saw, the bench and the lathe; not at which height it lies.
pub(super) fn figures(design: &Complete<'_>, at: usize) -> Figures {
    let Some(layer) = design.vessel.layers.get(at) else { return Vec::new() };
    let ring = if let LayerShape::Ring(ring) = &layer.shape { Some(ring) } else { None };
    let cut = ring.and_then(|ring| ring.cuts.first());
    let round = match &layer.shape {
        LayerShape::Disc { blank_diameter, .. } => Some(blank_diameter.value),
        LayerShape::Ring(_) | LayerShape::Slant(_) => None,
    };
    let strip = design.plan.cut_list.strip_of(at);
    let length = |length: Length| Some(Amount::Length(length));
    vec![
        ("segments", ring.map(|ring| Amount::Count(ring.woods.len()))),
        ("miter", cut.map(|cut| Amount::Angle(cut.miter.value))),
        ("strip", ring.map(|ring| Amount::Rip(strip.unwrap_or(ring.strip_width.value)))),
        ("long edge", cut.map(|cut| Amount::Length(cut.long_edge.value))),
        (THICKNESS, length(layer.z1.value - layer.z0.value)),
        ("round", round.map(Amount::Length)),
        ("turned by", Some(Amount::Angle(turned(design, at, layer)))),
        ("outside ⌀", length(layer.outer_radius.value * 2.0)),
        ("inside ⌀", length(layer.inner_radius.value * 2.0)),
    ]
}

/// How far it is turned from the layer below: what is seen of its own rotation when it is glued on. Of one wood, a ring that
/// is turned by a whole segment lies as before.
fn turned(design: &Complete<'_>, at: usize, layer: &BuiltLayer) -> Angle {
    let below = at.checked_sub(1).and_then(|below| design.vessel.layers.get(below));
    let from = below.map_or(Angle::ZERO, |below| below.rotation);
    let round = match &layer.shape {
        LayerShape::Ring(ring) if ring.woods.windows(2).all(|pair| pair[0] == pair[1]) => {
            #[allow(clippy::cast_precision_loss, reason = "a ring has few segments")]
            let segments = ring.woods.len().max(1) as f64;
            360.0 / segments
        }
        LayerShape::Ring(_) | LayerShape::Disc { .. } | LayerShape::Slant(_) => 360.0,
    };
    let degrees = (layer.rotation - from).degrees().rem_euclid(round);
    // What is left of a whole turn in binary is none.
    Angle::from_degrees(if round - degrees < 1e-6 { 0.0 } else { degrees })
}
