//! Laminated boards: the plies to glue up, for all that is sawn from each.

use crate::geometry::board;
use crate::quantity::{Length, Volume};
use crate::resolve::Recipe;
use crate::workings::{Formula, Known, Ledger};

use super::cut_list::CutList;

/// A board that is glued up of plies.
#[derive(Debug, Clone)]
pub struct BoardRow {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Downmost first.
    pub plies: Vec<PlyRow>,
    /// Of all plies.
    pub thickness: Known<Length>,
    /// For all that is sawn from it, side by side, with a kerf after each.
    pub width: Known<Length>,
    /// Of the longest that is sawn from it.
    pub length: Known<Length>,
    /// Whether its faces are alike.
    pub may_be_turned_over: bool,
    /// Indexes into [`CutList::strips`].
    pub strips: Vec<usize>,
    /// Indexes into [`CutList::staves`].
    pub staves: Vec<usize>,
    /// Indexes into [`CutList::discs`].
    pub discs: Vec<usize>,
}

/// One ply.
#[derive(Debug, Clone, Copy)]
pub struct PlyRow {
    /// Index into the recipe's woods, a plain one.
    pub wood: usize,
    /// As planed.
    pub thickness: Known<Length>,
    /// Its wood.
    pub volume: Known<Volume>,
}

static WIDTH: Formula = Formula {
    gives: "width of the board",
    words: "widths of all that is sawn from it, and a kerf after each",
    inputs: &["a width or a kerf"],
};

static PLY_VOLUME: Formula = Formula {
    gives: "wood of a ply",
    words: "width × length of the board × thickness of the ply",
    inputs: &["width", "length", "thickness"],
};

/// Whether a strip of this wood may be turned over at the saw: its faces must be alike.
pub(super) fn may_be_turned_over(recipe: &Recipe, wood: usize) -> bool {
    let board = recipe.woods.get(wood).and_then(|used| used.board());
    board.is_none_or(|board| {
        let plies: Vec<board::Ply> =
            board.plies.iter().map(|ply| board::Ply { wood: ply.wood, thickness: ply.thick.value }).collect();
        board::may_be_turned_over(&plies)
    })
}

/// What the plies of a laminated board make; `None` of plain wood.
pub(super) fn thickness(recipe: &Recipe, wood: usize, ledger: &mut Ledger) -> Option<Known<Length>> {
    let plies = &recipe.woods.get(wood)?.board()?.plies;
    let thicknesses: Vec<Known<Length>> = plies.iter().map(|ply| ply.thick).collect();
    Some(ledger.total(&board::THICKNESS, &thicknesses))
}

/// One for each laminated board that something is sawn from, in the order of first use.
pub(super) fn rows(recipe: &Recipe, list: &CutList, ledger: &mut Ledger) -> Vec<BoardRow> {
    (0..recipe.woods.len()).filter_map(|wood| row(wood, recipe, list, ledger)).collect()
}

fn row(wood: usize, recipe: &Recipe, list: &CutList, ledger: &mut Ledger) -> Option<BoardRow> {
    let said = recipe.woods.get(wood)?.board()?;
    let strips: Vec<usize> = (0..list.strips.len()).filter(|at| list.strips[*at].wood == wood).collect();
    let staves: Vec<usize> = (0..list.staves.len()).filter(|at| list.staves[*at].wood == wood).collect();
    let discs: Vec<usize> = (0..list.discs.len()).filter(|at| list.discs[*at].wood == wood).collect();
    let mut sizes: Vec<(Known<Length>, Known<Length>)> = Vec::new();
    sizes.extend(strips.iter().map(|at| (list.strips[*at].width, list.strips[*at].length)));
    sizes.extend(staves.iter().map(|at| (list.staves[*at].across, list.staves[*at].length)));
    for disc in discs.iter().map(|at| &list.discs[*at]) {
        sizes.extend(disc.layers.iter().map(|_| (disc.diameter, disc.diameter)));
    }
    let longest = |a: &Known<Length>, b: &Known<Length>| a.value.mm().total_cmp(&b.value.mm());
    let length = sizes.iter().map(|(_, length)| *length).max_by(longest)?;
    let parts: Vec<Known<Length>> = sizes.iter().flat_map(|(width, _)| [*width, recipe.shop.kerf]).collect();
    let width = ledger.total(&WIDTH, &parts);
    let thickness = thickness(recipe, wood, ledger)?;
    let mut plies = Vec::with_capacity(said.plies.len());
    for ply in &said.plies {
        let sides = (width, length, ply.thick);
        let volume = ledger.work(&PLY_VOLUME, sides, |(width, long, thick)| width.by(long).over(thick));
        plies.push(PlyRow { wood: ply.wood, thickness: ply.thick, volume });
    }
    let may_be_turned_over = may_be_turned_over(recipe, wood);
    Some(BoardRow { wood, plies, thickness, width, length, may_be_turned_over, strips, staves, discs })
}
