//! What is sawn from boards of plain wood, whatever it becomes: how thick, wide and long a board it wants.

use std::collections::BTreeMap;

use crate::plan::cutting::LaneKind;
use crate::plan::{CutRow, RoundKind};
use crate::quantity::Length;
use crate::resolve::StockBoard;
use crate::source::Span;

use super::Design;

/// Something sawn from boards of one wood.
#[derive(Debug, Clone)]
pub(super) struct Sawn {
    /// Index into the recipe's woods, always a plain one.
    pub wood: usize,
    /// What it becomes.
    pub kind: SawnKind,
    /// What it is for: layers, or a laminated board.
    pub uses: Vec<SawnFor>,
    /// Of the board, planed.
    pub thick: Length,
    /// Of the board, across its grain, for the widest single piece.
    pub wide: Length,
    /// Of the board, along its grain, for the longest single piece.
    pub long: Length,
    /// In the cutting plan.
    pub lane: LaneKind,
}

/// What it becomes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SawnKind {
    /// Segments, by way of a strip.
    Strip,
    /// Staves.
    Stave,
    /// A round.
    Round,
    /// A plug over the points of wedges.
    Plug,
    /// Rings of a cone.
    Cone,
    /// A ply of a laminated board.
    Ply,
}

/// What is sawn for.
#[derive(Debug, Clone, Copy)]
pub(super) struct SawnFor {
    /// Index into the vessel's layers; `None` for a laminated board.
    pub layer: Option<usize>,
    /// Where it is said.
    pub place: Span,
}

/// All of a design; veneer, spacers and the blanks of inserts come from elsewhere.
pub(super) fn sawn(design: Design<'_>) -> Vec<Sawn> {
    let list = &design.plan.cut_list;
    let is_plain = |wood: usize| design.recipe.woods.get(wood).is_some_and(|used| used.wood().is_some());
    let heads: BTreeMap<usize, Span> = design.layers().map(|(at, said, _)| (at, said.head)).collect();
    let layers = |of: &mut dyn Iterator<Item = usize>| {
        let mut layers: Vec<usize> = of.collect();
        layers.sort_unstable();
        layers.dedup();
        let used = |layer| Some(SawnFor { layer: Some(layer), place: *heads.get(&layer)? });
        layers.into_iter().filter_map(used).collect::<Vec<_>>()
    };
    let mut all = Vec::new();
    for (at, strip) in list.strips.iter().enumerate() {
        let rows = || strip.rows.iter().filter_map(|row| list.rows.get(*row));
        all.push(Sawn {
            wood: strip.wood,
            kind: SawnKind::Strip,
            uses: layers(&mut rows().flat_map(|row| &row.serves).map(|serving| serving.layer)),
            thick: strip.thickness.value,
            wide: strip.width.value,
            long: rows().map(|row: &CutRow| row.long_edge.value).fold(Length::ZERO, Length::max),
            lane: LaneKind::Strip(at),
        });
    }
    for (at, row) in list.staves.iter().enumerate() {
        all.push(Sawn {
            wood: row.wood,
            kind: SawnKind::Stave,
            uses: layers(&mut row.serves.iter().map(|serving| serving.layer)),
            thick: row.thickness.value,
            wide: row.wide.value,
            long: row.length.value,
            lane: LaneKind::Staves(at),
        });
    }
    for (at, row) in list.discs.iter().enumerate().filter(|(_, row)| row.kind != RoundKind::Sheet) {
        let across = row.diameter.value;
        all.push(Sawn {
            wood: row.wood,
            kind: if row.kind == RoundKind::Plug { SawnKind::Plug } else { SawnKind::Round },
            uses: layers(&mut row.layers.iter().copied()),
            thick: row.thickness.value,
            wide: across,
            long: across,
            lane: LaneKind::Round(at),
        });
    }
    for (at, row) in list.cones.iter().enumerate() {
        let across = row.diameter.value;
        all.push(Sawn {
            wood: row.wood,
            kind: SawnKind::Cone,
            uses: layers(&mut row.rings.iter().map(|ring| ring.layer)),
            thick: row.thickness.value,
            wide: across,
            long: across,
            lane: LaneKind::Cone(at),
        });
    }
    all.retain(|sawn| is_plain(sawn.wood));
    for (at, row) in list.boards.iter().enumerate() {
        let Some(board) = design.recipe.woods.get(row.wood).and_then(|used| used.board()) else { continue };
        let strips = row.strips.iter().filter_map(|at| list.strips.get(*at)).map(|strip| strip.width.value);
        let staves = row.staves.iter().filter_map(|at| list.staves.get(*at)).map(|stave| stave.wide.value);
        let rounds = row.discs.iter().filter_map(|at| list.discs.get(*at)).map(|round| round.diameter.value);
        let wide = strips.chain(staves).chain(rounds).fold(Length::ZERO, Length::max);
        all.extend(row.plies.iter().enumerate().map(|(number, ply)| Sawn {
            wood: ply.wood,
            kind: SawnKind::Ply,
            uses: vec![SawnFor { layer: None, place: board.span }],
            thick: ply.thickness.value,
            wide,
            long: Length::ZERO,
            lane: LaneKind::Ply { board: at, ply: number },
        }));
    }
    all
}

impl<'a> Design<'a> {
    /// The boards at hand of a wood (index into the recipe's woods).
    pub(super) fn boards_of(self, wood: usize) -> Vec<&'a StockBoard> {
        let Some(used) = self.recipe.woods.get(wood) else { return Vec::new() };
        self.recipe.shop.boards.iter().filter(|board| board.is_of(used)).collect()
    }

    /// Whether the cutting plan does not give it, or only as a panel glued edge to edge.
    pub(super) fn is_short_of(self, sawn: &Sawn) -> bool {
        let cutting = &self.plan.cutting;
        cutting.lacks(sawn.lane) || cutting.panels.iter().any(|panel| panel.is == sawn.lane)
    }

    /// The name of a wood.
    pub(super) fn wood_name(self, wood: usize) -> &'a str {
        self.recipe.woods.get(wood).map_or("", |used| used.name.as_str())
    }

    /// What is sawn for, in words: `ring-3`'s stable word, or a board.
    pub(super) fn used_for(self, used: SawnFor) -> &'a str {
        used.layer.and_then(|layer| self.vessel.layers.get(layer)).map_or("a laminated board", |built| &built.id)
    }
}
