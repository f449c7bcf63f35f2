//! What a plan has to warn of: short pieces, glue that skins, promises that do not hold.

use crate::finding::{Finding, limits};
use crate::geometry::{LayerShape, RingSet, RingShape, SegmentCut, Vessel};
use crate::quantity::{Angle, Length, Money, trig};
use crate::resolve::{LayerKind, Recipe, Subject};
use crate::workings::{Known, Origin};

use super::cut_list::segments_of;
use super::cutting::CuttingPlan;
use super::glue::{GlueSchedule, GlueStep};
use super::{Planned, Totals, findings, to_u32};

/// A board thinner by less than this is not thinner: no planer is set finer.
const PLANED: Length = limits::FINEST_SETTING.get();

/// Laminated boards that are thinner than what is sawn flat from them has to be.
pub(super) fn thin_boards(recipe: &Recipe, layers: &[Planned<'_>]) -> Vec<Finding> {
    let of_layer = |layer: &Planned<'_>| {
        let is_flat = !matches!(layer.ring().map(|ring| ring.set), Some(RingSet::Upright(_)));
        let wanted = layer.built.rough_thickness.value;
        let woods = match &layer.built.shape {
            LayerShape::Ring(ring) => ring.woods.as_slice(),
            LayerShape::Disc { wood, .. } => std::slice::from_ref(wood),
            LayerShape::Slant(_) => &[],
        };
        let thin = woods.iter().filter(|_| is_flat).find_map(|wood| {
            let wood = recipe.woods.get(*wood)?;
            let board = wood.board()?;
            let has: Length = board.plies.iter().map(|ply| ply.thick.value).sum();
            (has < wanted - PLANED).then_some((wood, board, has))
        });
        thin.map(|(wood, board, has)| findings::thin_board(*layer, (&wood.name, board.span), (has, wanted), recipe))
    };
    layers.iter().filter_map(of_layer).collect()
}

/// Segments shorter than the shop's safe piece.
pub(super) fn short_segments(recipe: &Recipe, layers: &[Planned<'_>]) -> Vec<Finding> {
    let least = recipe.shop.safe_piece;
    let smallest = |ring: &'_ RingShape| ring.cuts.iter().map(|cut| cut.long_edge.value).reduce(Length::min);
    // A count that serves longer segments too is not changed for the short ones.
    let mut longer: Vec<Origin> = layers
        .iter()
        .filter(|layer| sawn_across(**layer).and_then(smallest).is_none_or(|edge| edge >= least.value))
        .filter_map(|layer| segments_of(*layer).map(|segments| segments.origin))
        .collect();
    longer.dedup();
    layers
        .iter()
        .filter_map(|layer| {
            let ring = sawn_across(*layer)?;
            let segments = segments_of(*layer)?;
            let smallest = ring.cuts.iter().min_by(|a, b| by_length(a.long_edge, b.long_edge))?;
            let is_short = smallest.long_edge.value < least.value;
            let fewer = || (fewer(*layer, smallest, least.value), !longer.contains(&segments.origin));
            is_short.then(|| findings::short_segment(*layer, (ring, smallest), segments, least, fewer(), recipe))
        })
        .collect()
}

/// Segments of hollow rings that end nearly in a point.
pub(super) fn pointed_segments(recipe: &Recipe, layers: &[Planned<'_>]) -> Vec<Finding> {
    layers
        .iter()
        .filter_map(|layer| {
            let ring = sawn_across(*layer)?;
            let most_pointed = ring.cuts.iter().min_by(|a, b| by_length(a.short_edge, b.short_edge))?;
            // A share of half the circle cannot be sawn at all, and is told of where the ring is built.
            let is_sawable = ring.cuts.iter().all(|cut| cut.sweep.degrees() < 180.0);
            let is_hollow = layer.built.inner_radius.value > Length::ZERO && matches!(ring.set, RingSet::Round);
            let is_pointed = is_sawable && is_hollow && most_pointed.short_edge.value < limits::POINTED_EDGE.get();
            is_pointed.then(|| findings::pointed_segment(*layer, most_pointed, limits::POINTED_EDGE.get(), recipe))
        })
        .collect()
}

/// A ring whose pieces are cut off a strip one by one; staves are ripped along a board that is as long as they are.
fn sawn_across(layer: Planned<'_>) -> Option<&RingShape> {
    layer.ring().filter(|ring| !matches!(ring.set, RingSet::Upright(_)))
}

fn by_length(a: Known<Length>, b: Known<Length>) -> std::cmp::Ordering {
    a.value.mm().total_cmp(&b.value.mm())
}

/// The greatest even count, below the ring's own, whose segments are long enough and round which the
/// pattern closes; an odd one if need be.
fn fewer(layer: Planned<'_>, smallest: &SegmentCut, least: Length) -> Option<u32> {
    let LayerKind::Ring(said) = &layer.said.kind else { return None };
    let motif = to_u32(said.pattern.motif.len()).max(1);
    let (segments, radius) = (said.segments.value.0, layer.built.blank_outer_radius.value);
    if least <= Length::ZERO || radius <= Length::ZERO {
        return None;
    }
    // Long edge = 2 R tan(sweep / 2), solved for the count; a smallest share stays as much smaller than the rest.
    let half_angle = trig::atan2(least.mm() / 2.0, radius.mm());
    let of_share = smallest.sweep.degrees() * f64::from(segments) / 360.0;
    let most = Angle::from_degrees(180.0).radians() * of_share / half_angle;
    let most = (1..segments).rev().find(|count| f64::from(*count) <= most)?;
    let closing = |count: &u32| count.is_multiple_of(motif);
    let even = |count: &u32| count.is_multiple_of(2);
    (4..=most).rev().find(|count| closing(count) && even(count)).or_else(|| (3..=most).rev().find(closing))
}

/// Glue-ups that cannot be closed while the glue is open; the worst of each layer.
pub(super) fn open_times(recipe: &Recipe, layers: &[Planned<'_>], glue: &GlueSchedule) -> Vec<Finding> {
    let of_one_layer = glue.steps.chunk_by(|a, b| a.layer == b.layer);
    of_one_layer
        .filter_map(|steps| {
            let late = steps.iter().filter(|step| !step.fits());
            let worst = late.max_by(|a, b| lateness(a).total_cmp(&lateness(b)))?;
            Some(findings::open_time(layers[worst.layer], worst, recipe))
        })
        .collect()
}

fn lateness(step: &GlueStep) -> f64 {
    -step.open_left().minutes()
}

/// Promises that do not hold. Of a recipe that could not be read whole nothing can be said.
pub(super) fn expectations(
    recipe: &Recipe,
    vessel: &Vessel,
    (totals, cutting, glue): (&Totals, &CuttingPlan, &GlueSchedule),
) -> Vec<Finding> {
    if recipe.is_partial {
        return Vec::new();
    }
    recipe
        .expects
        .iter()
        .filter_map(|expect| {
            let actual = match expect.subject {
                Subject::Capacity => vessel.capacity.value.mm3(),
                Subject::Mass => totals.mass.value.grams(),
                Subject::Height => vessel.height.value.mm(),
                Subject::Diameter => vessel.max_diameter.value.mm(),
                Subject::Pieces => f64::from(totals.pieces),
                Subject::BoardFeet => totals.lumber.value.board_feet(),
                Subject::Cost => match cutting.to_pay() {
                    Some(Money(cost)) => cost,
                    None => return Some(findings::cost_unknown(expect)),
                },
                Subject::Days => glue.days(),
            };
            let holds = expect.comparator.holds(actual, expect.bound);
            (!holds).then(|| findings::expect_broken(expect, actual, recipe.units))
        })
        .collect()
}
