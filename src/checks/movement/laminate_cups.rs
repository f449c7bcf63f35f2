//! Boards whose plies are not balanced about the middle and so bend across their width.

use std::collections::BTreeMap;

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::geometry::{BuiltLayer, LayerShape, RingSet};
use crate::quantity::{Length, at_most, show_length, trig};
use crate::resolve::{LaminatedBoard, Layer, LayerKind, RecipeWood};

use super::air::Air;
use super::cup::{Strip, sagitta};
use super::stuff::moves;

pub(super) const CHECK: Check = Check { code: &catalog::MOVEMENT_LAMINATE_CUPS, run };

/// Where a board is needed widest.
struct Widest<'a> {
    width: Length,
    said: &'a Layer,
    built: &'a BuiltLayer,
}

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(air) = Air::of(design.recipe) else { return };
    let mut widest: BTreeMap<usize, Widest<'_>> = BTreeMap::new();
    if !design.recipe.woods.iter().any(|wood| wood.board().is_some()) {
        return;
    }
    for (_, said, built) in design.layers() {
        let Some(width) = width(design, built) else { continue };
        for wood in boards(design, said) {
            if widest.get(&wood).is_none_or(|known| width > known.width) {
                widest.insert(wood, Widest { width, said, built });
            }
        }
    }
    let (limit, units) = (limits::FLAT_TO_GLUE.get(), design.recipe.units);
    for (wood, widest) in widest {
        let Some((name, board)) = board(design, wood) else { continue };
        let Some(plies) = strips(design, air, board) else { continue };
        let cup = sagitta(&plies, widest.width);
        if cup <= limit {
            continue;
        }
        let message = format!(
            "a strip of {name} {} wide, as {} takes it, would cup by {}, {}, grain of all plies parallel; {} is flat \
             enough to glue",
            design.show(widest.width),
            widest.built.id,
            design.show_fine(cup),
            air.words(),
            design.show_fine(limit)
        );
        let flat = show_length(at_most(widest.width * trig::sqrt(limit / cup), units), units);
        let help = format!(
            "balance the plies about the middle, as in `{}`, or take it no wider than {flat}",
            mirrored(design, board)
        );
        let finding = Finding::new(CHECK.code, widest.said.head, message)
            .also(board.span, "the plies are set here")
            .help(help)
            .rank(cup.mm());
        found.push(finding);
    }
}

/// The width of board that a layer's pieces are sawn from.
fn width(design: Design<'_>, built: &BuiltLayer) -> Option<Length> {
    match &built.shape {
        LayerShape::Ring(ring) => match ring.set {
            RingSet::Round | RingSet::ToMiddle { .. } => Some(ring.strip_width.value),
            RingSet::Upright(_) => ring.cuts.iter().map(|cut| cut.long_edge.value).reduce(Length::max),
        },
        LayerShape::Disc { blank_diameter, .. } => Some(blank_diameter.value),
        LayerShape::Slant(ring) => design.vessel.cones.get(ring.cone).map(|cone| cone.board_diameter.value),
    }
}

/// The boards among a layer's stuff; indexes into the recipe's woods.
fn boards(design: Design<'_>, said: &Layer) -> Vec<usize> {
    let mut woods = match &said.kind {
        LayerKind::Ring(ring) => ring.pattern.motif.clone(),
        LayerKind::Disc { wood, .. } => vec![*wood],
        LayerKind::Slant(ring) => vec![ring.wood],
    };
    woods.sort_unstable();
    woods.dedup();
    woods.retain(|wood| board(design, *wood).is_some());
    woods
}

fn board(design: Design<'_>, wood: usize) -> Option<(&str, &LaminatedBoard)> {
    let used = design.recipe.woods.get(wood)?;
    Some((&used.name, RecipeWood::board(used)?))
}

/// `None` where a ply's movement is unknown.
fn strips(design: Design<'_>, air: Air, board: &LaminatedBoard) -> Option<Vec<Strip>> {
    let strip = |ply: &crate::resolve::Ply| {
        let movement = moves(design.recipe, ply.wood)?.movement;
        Some(Strip { thick: ply.thick.value, swelling: air.strain(movement) })
    };
    board.plies.iter().map(strip).collect()
}

/// The plies, and all but the last once more the other way round.
fn mirrored(design: Design<'_>, board: &LaminatedBoard) -> String {
    let name = |ply: &crate::resolve::Ply| design.recipe.woods.get(ply.wood).map(|wood| wood.name.as_str());
    let names: Vec<&str> = board.plies.iter().filter_map(name).collect();
    let back = names.iter().rev().skip(1);
    names.iter().chain(back).copied().collect::<Vec<_>>().join(" ")
}
