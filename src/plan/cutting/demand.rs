//! What is wanted of boards: the cut list as kinds of lanes and the pieces that are cut from them.

use crate::finding::limits;
use crate::quantity::{Length, System};
use crate::resolve::{LayerKind, Recipe};
use crate::search::cutting::{Class, Piece, Um};

use super::LaneKind;
use super::whole::wanted;
use crate::plan::strips::{self, ripped};
use crate::plan::{CutList, CutRow, InsertBlank, Planned, RoundKind, Strip, to_u32};

/// One kind of lane, what it is for, and what its pieces are in the cut list.
#[derive(Debug, Clone)]
pub(super) struct Wanted {
    /// Index into the recipe's woods, a plain one.
    pub wood: usize,
    /// What it is for.
    pub lane: LaneKind,
    /// As the search takes it.
    pub class: Class,
    /// The row of each of the class's pieces.
    pub rows: Vec<usize>,
    /// Of a block, to be able to make it of parts.
    pub block: Option<Block>,
}

/// A blank that is cut to size.
#[derive(Debug, Clone, Copy)]
pub(super) struct Block {
    /// Across the grain.
    pub wide: Length,
    /// Along the grain.
    pub long: Length,
    /// How many.
    pub count: u32,
    /// Of how many parts each is glued edge to edge; 1 of a whole one.
    pub parts: u32,
    /// Of each part.
    pub part_width: Length,
}

/// All that is sawn from boards of plain wood, in the order of the cut list.
pub(super) fn all(recipe: &Recipe, layers: &[Planned<'_>], list: &CutList, inserts: &[InsertBlank]) -> Vec<Wanted> {
    let builder = Builder { recipe, layers, list };
    let mut all: Vec<Wanted> = Vec::new();
    all.extend(list.strips.iter().enumerate().map(|(at, strip)| builder.strip(at, strip)));
    all.extend(list.staves.iter().enumerate().map(|(at, row)| {
        // A slanting cut takes more of the board than an upright one; the plan reckons one upright kerf a lane.
        let kerf = recipe.shop.kerf.value;
        let wide = row.wide.value + (kerf / row.tilt.value.cos() - kerf);
        let stave = Sides { wide, thick: row.thickness.value, long: row.length.value };
        builder.lane(row.wood, LaneKind::Staves(at), at, stave, row.count)
    }));
    let rounds = list.discs.iter().enumerate().filter(|(_, row)| row.kind != RoundKind::Sheet);
    all.extend(rounds.map(|(at, row)| {
        let sides = Sides { wide: row.diameter.value, thick: row.thickness.value, long: row.diameter.value };
        builder.block(row.wood, LaneKind::Round(at), at, sides, to_u32(row.layers.len()))
    }));
    all.extend(list.cones.iter().enumerate().map(|(at, row)| {
        let sides = Sides { wide: row.diameter.value, thick: row.thickness.value, long: row.diameter.value };
        builder.block(row.wood, LaneKind::Cone(at), at, sides, 1)
    }));
    all.extend(inserts.iter().enumerate().filter_map(|(at, blank)| {
        let [wide, thick, long] = blank.size?.map(|side| side.value);
        Some(builder.block(blank.wood, LaneKind::Insert(at), at, Sides { wide, thick, long }, 1))
    }));
    for (board, row) in list.boards.iter().enumerate() {
        all.extend(row.plies.iter().enumerate().map(|(ply, of)| {
            let sides = Sides { wide: row.width.value, thick: of.thickness.value, long: row.length.value };
            builder.block(of.wood, LaneKind::Ply { board, ply }, ply, sides, 1)
        }));
    }
    // What comes from a laminated board is sawn from its plies, which are wanted themselves.
    all.retain(|wanted| {
        let is_plain = recipe.woods.get(wanted.wood).is_some_and(|used| used.wood().is_some());
        is_plain && wanted.class.pieces.iter().any(|piece| piece.count > 0)
    });
    all
}

/// Of one piece.
#[derive(Clone, Copy)]
struct Sides {
    wide: Length,
    thick: Length,
    long: Length,
}

struct Builder<'a> {
    recipe: &'a Recipe,
    layers: &'a [Planned<'a>],
    list: &'a CutList,
}

impl Builder<'_> {
    fn units(&self) -> System {
        self.recipe.units
    }

    fn strip(&self, at: usize, strip: &Strip) -> Wanted {
        let width = ripped(strip.width.value, self.units());
        let rows: Vec<(usize, &CutRow)> =
            strip.rows.iter().filter_map(|row| Some((*row, self.list.rows.get(*row)?))).collect();
        let mut class = Class {
            thick: thick_enough(strip.thickness.value),
            wide: wanted(width),
            tail: wanted(self.recipe.shop.hold.value),
            is_block: false,
            pieces: Vec::new(),
        };
        let mut of_pieces = Vec::new();
        let steepest = rows.iter().map(|(_, row)| row.miter.value.tan()).fold(0.0, f64::max);
        for (index, row) in rows {
            let kerf = self.recipe.shop.kerf.value;
            let piece = Piece {
                pitch: wanted(strips::pitch(row, kerf, strip.may_be_turned_over)),
                setting: row.setup,
                first: wanted(strips::first_cut_at_most(row, width, steepest, kerf, strip.may_be_turned_over)),
                count: row.count,
                together: None,
            };
            // A ring that asks for one strip has pieces of its own; the others of the row may come from anywhere.
            let mut others = row.count;
            for serving in row.serves.iter().filter(|serving| self.is_matched(serving.layer)) {
                others = others.saturating_sub(serving.count);
                class.pieces.push(Piece { count: serving.count, together: Some(serving.layer), ..piece });
                of_pieces.push(index);
            }
            if others > 0 {
                class.pieces.push(Piece { count: others, ..piece });
                of_pieces.push(index);
            }
        }
        Wanted { wood: strip.wood, lane: LaneKind::Strip(at), class, rows: of_pieces, block: None }
    }

    fn is_matched(&self, layer: usize) -> bool {
        self.layers.get(layer).is_some_and(|layer| match &layer.said.kind {
            LayerKind::Ring(ring) => ring.matched.is_some(),
            LayerKind::Disc { .. } | LayerKind::Slant(_) => false,
        })
    }

    /// Pieces one behind the other, sawn off square.
    fn lane(&self, wood: usize, lane: LaneKind, row: usize, sides: Sides, count: u32) -> Wanted {
        let width = ripped(sides.wide, self.units());
        let class = Class {
            thick: thick_enough(sides.thick),
            wide: wanted(width),
            // A piece that is long enough is held itself.
            tail: wanted((self.recipe.shop.hold.value - sides.long).max(Length::ZERO)),
            is_block: false,
            pieces: vec![Piece {
                pitch: wanted(sides.long + self.recipe.shop.kerf.value),
                setting: 0,
                first: wanted(Length::ZERO),
                count,
                together: None,
            }],
        };
        Wanted { wood, lane, class, rows: vec![row], block: None }
    }

    fn block(&self, wood: usize, lane: LaneKind, row: usize, sides: Sides, count: u32) -> Wanted {
        let mut wanted = self.lane(wood, lane, row, sides, count);
        wanted.class.is_block = true;
        let part_width = ripped(sides.wide, self.units());
        wanted.block = Some(Block { wide: sides.wide, long: sides.long, count, parts: 1, part_width });
        wanted
    }
}

impl Wanted {
    /// Makes a block that is wider than `widest` of as few equal parts as come out of it.
    pub(super) fn glue_up(&mut self, widest: Length, units: System) {
        let Some(block) = &mut self.block else { return };
        if widest <= Length::ZERO || wanted(block.part_width) <= wanted(widest) {
            return;
        }
        // Many parts more than that are no panel any more, and what is wanted is told as lacking.
        const MOST: u32 = 100;
        let narrow_enough = |parts: &u32| wanted(ripped(block.wide / f64::from(*parts), units)) <= wanted(widest);
        let Some(parts) = (2..=MOST).find(narrow_enough) else { return };
        block.parts = parts;
        block.part_width = ripped(block.wide / f64::from(parts), units);
        self.class.wide = wanted(block.part_width);
        for piece in &mut self.class.pieces {
            piece.count = block.count.saturating_mul(parts);
        }
    }
}

/// A board that lacks no more than a planer shows is thick enough.
fn thick_enough(thick: Length) -> Um {
    wanted((thick - limits::FINEST_SETTING.get()).max(Length::ZERO))
}
