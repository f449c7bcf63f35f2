//! Which woods a layer is of, how they move, and how their grain lies.

use crate::geometry::{BuiltLayer, LayerShape, RingSet};
use crate::quantity::Movement;
use crate::resolve::{Layer, LayerKind, Recipe, RecipeWood, Stock};
use crate::tables::Wood;

/// A wood and how much it moves at most: along its growth rings.
#[derive(Debug, Clone, Copy)]
pub(super) struct Moves<'a> {
    pub(super) name: &'a str,
    pub(super) movement: Movement,
}

/// The two woods of a layer that differ most.
#[derive(Debug, Clone, Copy)]
pub(super) struct Range<'a> {
    pub(super) least: Moves<'a>,
    pub(super) greatest: Moves<'a>,
}

/// How the grain of a layer lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Grain {
    /// One board: it moves across, and hardly along.
    Solid,
    /// Round the ring: it moves through the wall.
    Round,
    /// On end: it moves all ways but up.
    Upright,
}

/// Of a layer; `None` of veneer, which follows what it is glued to.
pub(super) fn grain(built: &BuiltLayer) -> Option<Grain> {
    match &built.shape {
        LayerShape::Ring(ring) => Some(match ring.set {
            RingSet::Upright(_) => Grain::Upright,
            RingSet::Round | RingSet::ToMiddle { .. } => Grain::Round,
        }),
        LayerShape::Disc { is_sheet, .. } => (!is_sheet).then_some(Grain::Solid),
        LayerShape::Slant(_) => Some(Grain::Solid),
    }
}

/// The woods that the pieces of a layer are of, plies of boards among them; indexes into the recipe's woods.
pub(super) fn woods_of(recipe: &Recipe, layer: &Layer) -> Vec<usize> {
    let mut woods = match &layer.kind {
        LayerKind::Ring(ring) => ring.pattern.motif.clone(),
        LayerKind::Disc { wood, .. } => vec![*wood],
        LayerKind::Slant(ring) => vec![ring.wood],
    };
    woods.sort_unstable();
    woods.dedup();
    let plies = |wood: usize| match recipe.woods.get(wood).map(|used| &used.stock) {
        Some(Stock::Board(board)) => board.plies.iter().map(|ply| ply.wood).collect(),
        Some(Stock::Wood(_)) | None => vec![wood],
    };
    woods.into_iter().flat_map(plies).collect()
}

/// How a plain wood moves; `None` where nobody has measured it.
pub(super) fn moves(recipe: &Recipe, wood: usize) -> Option<Moves<'_>> {
    let used = recipe.woods.get(wood)?;
    let movement = RecipeWood::wood(used).and_then(Wood::tangential_movement)?.value;
    Some(Moves { name: &used.name, movement })
}

/// The least and the most that a layer's woods move; `None` where no one's movement is known.
pub(super) fn range<'a>(recipe: &'a Recipe, layer: &Layer) -> Option<Range<'a>> {
    woods_of(recipe, layer).into_iter().filter_map(|wood| moves(recipe, wood)).fold(None, |range, one| {
        let Some(range) = range else { return Some(Range { least: one, greatest: one }) };
        Some(Range {
            least: if one.movement < range.least.movement { one } else { range.least },
            greatest: if one.movement > range.greatest.movement { one } else { range.greatest },
        })
    })
}
