//! Which board gives which pieces, and what is to be bought: the boards of each wood, cut by cut.
//!
//! Along a board counts from its start, across it from its first edge, both as it lies there.

mod asked;
mod demand;
mod stock;
#[cfg(test)]
mod tests;
mod told;
mod whole;

use crate::quantity::{Length, Money, Volume};
use crate::resolve::Recipe;
use crate::search::Effort;

use super::{CutList, InsertBlank, Planned};
use demand::Wanted;

/// How all that is sawn comes out of boards. Spacers and sheets do not: they come from thin stock and veneer.
#[derive(Debug, Clone, Default)]
pub struct CuttingPlan {
    /// One for each wood that something is sawn from, in the order of first use; two names of one wood are one pile.
    pub piles: Vec<Pile>,
    /// Blanks that are glued up edge to edge first, as no board is wide enough.
    pub panels: Vec<Panel>,
    /// Settings of the rip fence, the widest first; then what is too short for it.
    pub fences: Vec<Fence>,
    /// Settings of the stop for square crosscuts, the longest first; strips have theirs in the cut list.
    pub stops: Vec<SquareStop>,
}

impl CuttingPlan {
    /// What all boards cost that are cut, those at hand as they cost; `None` where a price of one that is to be
    /// bought is not known, or no price at all.
    #[must_use]
    pub fn cost(&self) -> Option<Money> {
        let boards = || self.piles.iter().flat_map(|pile| &pile.boards);
        let is_unknown = |board: &SawnBoard| board.price.is_none() && !matches!(board.supply, Supply::AtHand(_));
        if self.piles.iter().any(|pile| pile.lack.is_some()) || boards().any(is_unknown) {
            return None;
        }
        let prices: Vec<Money> = boards().filter_map(|board| board.price).collect();
        (!prices.is_empty()).then(|| Money(prices.iter().fold(0.0, |sum, price| sum + price.0)))
    }

    /// Whether something of that lane is left over.
    #[must_use]
    pub fn lacks(&self, lane: LaneKind) -> bool {
        let lacks = self.piles.iter().filter_map(|pile| pile.lack.as_ref());
        lacks.flat_map(|lack| &lack.pieces).any(|(of, ..)| *of == lane)
    }

    /// What is to be paid for all boards that are bought; `None` when some of them have no price, or when no board
    /// that is sold gives what is left over.
    #[must_use]
    pub fn to_pay(&self) -> Option<Money> {
        let mut sum = 0.0;
        for pile in &self.piles {
            let is_bought = |board: &SawnBoard| !matches!(board.supply, Supply::AtHand(_));
            for board in pile.boards.iter().filter(|board| is_bought(board)) {
                sum += board.price?.0;
            }
            if let Some(lack) = &pile.lack {
                if lack.buy.is_empty() {
                    return None;
                }
                for purchase in &lack.buy {
                    sum += purchase.price?.0;
                }
            }
        }
        Some(Money(sum))
    }
}

/// The boards of one wood.
#[derive(Debug, Clone)]
pub struct Pile {
    /// Indexes into the recipe's woods, plain ones.
    pub woods: Vec<usize>,
    /// Each board that is cut, those at hand first.
    pub boards: Vec<SawnBoard>,
    /// What the boards at hand and for sale do not give; `None` when they give all.
    pub lack: Option<Lack>,
    /// What is to be paid for the boards that are bought; `None` where no price is known.
    pub cost: Option<Money>,
    /// How good the plan is.
    pub bound: Bound,
}

/// What no plan can do better.
#[derive(Debug, Clone, Copy)]
pub struct Bound {
    /// Fewest boards that any plan takes.
    pub boards: u32,
    /// Least money that any plan costs, where prices are known.
    pub cost: Option<Money>,
    /// Least wood, whole boards, of the plans that cost no more.
    pub wood: Volume,
    /// Whether the plan reaches the bound.
    pub is_reached: bool,
}

/// Where a board comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Supply {
    /// Index into the shop's boards.
    AtHand(usize),
    /// Index into the boards that the shop knows for sale.
    ForSale(usize),
    /// Nobody said: a size that is usually sold, by its name.
    Usual(&'static str),
}

/// A board and its cuts.
#[derive(Debug, Clone)]
pub struct SawnBoard {
    /// Where it comes from.
    pub supply: Supply,
    /// As it lies there.
    pub thick: Length,
    /// As it lies there.
    pub wide: Length,
    /// As it lies there.
    pub long: Length,
    /// What is left of the thickness, both faces planed.
    pub planed: Length,
    /// Planed off each edge first.
    pub jointing: Length,
    /// Sawn off each end first; of a board that is no rough one, a kerf at its start.
    pub end_trim: Length,
    /// Stretches along it that no piece touches.
    pub avoid: Vec<(Length, Length)>,
    /// What it cost or costs, where that is known.
    pub price: Option<Money>,
    /// From its start.
    pub sections: Vec<BoardSection>,
    /// What is left in one piece, the largest first; nothing that is too small to keep.
    pub offcuts: Vec<Offcut>,
}

/// A length of a board, as wide as it.
#[derive(Debug, Clone)]
pub struct BoardSection {
    /// Along the board.
    pub from: Length,
    /// Along the board.
    pub to: Length,
    /// Side by side, from the first edge.
    pub lanes: Vec<BoardLane>,
}

/// What is ripped from a section, as long as it.
#[derive(Debug, Clone)]
pub struct BoardLane {
    /// What it is for.
    pub is: LaneKind,
    /// Across the board.
    pub from: Length,
    /// Of it.
    pub width: Length,
    /// From the section's start.
    pub cuts: Vec<BoardCut>,
}

/// What a lane is for. Each is an index into that list of the cut list or plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LaneKind {
    /// A strip for segments.
    Strip(usize),
    /// Staves, one behind the other.
    Staves(usize),
    /// Squares for rounds, or one part of the width of each.
    Round(usize),
    /// Squares for cones, or one part of the width of each.
    Cone(usize),
    /// Blanks of inserts.
    Insert(usize),
    /// A ply of a laminated board, or one part of its width.
    Ply {
        /// Index into the laminated boards of the cut list.
        board: usize,
        /// Index into its plies.
        ply: usize,
    },
}

/// Pieces that are cut one after another.
#[derive(Debug, Clone, Copy)]
pub struct BoardCut {
    /// Index into the rows of the cut list, of a strip; else the same index as the lane's.
    pub row: usize,
    /// How many.
    pub count: u32,
    /// Along the board: where the wood for the first begins, behind the first cut.
    pub from: Length,
    /// Along the board: behind the kerf of the last.
    pub to: Length,
}

/// Wood that is left in one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Offcut {
    /// Along the board, from and to.
    pub along: (Length, Length),
    /// Across the board, from and to.
    pub across: (Length, Length),
}

/// A blank that is glued up edge to edge.
#[derive(Debug, Clone, Copy)]
pub struct Panel {
    /// What it becomes: a round, a cone's board or a ply.
    pub is: LaneKind,
    /// How many such blanks.
    pub count: u32,
    /// Of how many parts each is glued.
    pub parts: u32,
    /// Of each part.
    pub part_width: Length,
    /// Along the grain.
    pub length: Length,
}

/// A setting of the rip fence, and all that is ripped with it.
#[derive(Debug, Clone)]
pub struct Fence {
    /// From the blade.
    pub width: Length,
    /// Whether its sections are shorter than what is ripped along a fence: blocks, cut to width in another way.
    pub is_short: bool,
    /// What is ripped so.
    pub lanes: Vec<LaneKind>,
    /// How many rips.
    pub rips: u32,
}

/// A setting of the stop for square crosscuts, and all that is cut with it.
#[derive(Debug, Clone)]
pub struct SquareStop {
    /// From the blade.
    pub length: Length,
    /// What is cut so.
    pub lanes: Vec<LaneKind>,
    /// How many pieces.
    pub pieces: u32,
}

/// What boards do not give.
#[derive(Debug, Clone)]
pub struct Lack {
    /// What is left over, and how many pieces: lane, row, count.
    pub pieces: Vec<(LaneKind, usize, u32)>,
    /// The cheapest that mends it; empty when no board that is sold would.
    pub buy: Vec<Purchase>,
}

/// Boards to buy.
#[derive(Debug, Clone, Copy)]
pub struct Purchase {
    /// Where from.
    pub supply: Supply,
    /// How many.
    pub count: u32,
    /// Of each, as sold.
    pub thick: Length,
    /// Of each.
    pub wide: Length,
    /// Of each.
    pub long: Length,
    /// Of all, where it is known.
    pub price: Option<Money>,
}

/// Plans how the cut list comes out of boards.
pub(super) fn plan(
    recipe: &Recipe,
    layers: &[Planned<'_>],
    list: &CutList,
    inserts: &[InsertBlank],
    effort: &Effort<'_>,
) -> CuttingPlan {
    let keep = told::Keep::of(recipe, list);
    let mut plan = CuttingPlan::default();
    for (woods, wanted) in piles(recipe, demand::all(recipe, layers, list, inserts)) {
        let asked = asked::Asked::of(recipe, woods, wanted);
        plan.panels.extend(asked.wanted.iter().filter_map(told::panel));
        plan.piles.push(told::pile(&asked, keep, effort));
    }
    plan.fences = told::fences(&plan.piles, recipe.shop.short_rip.value);
    plan.stops = told::stops(&plan.piles, recipe.shop.kerf.value);
    plan
}

/// What is wanted of each pile of boards, with the woods it is of, in the order of first use.
fn piles(recipe: &Recipe, mut all: Vec<Wanted>) -> Vec<(Vec<usize>, Vec<Wanted>)> {
    let mut piles: Vec<(Vec<usize>, Vec<Wanted>)> = Vec::new();
    for (wood, used) in recipe.woods.iter().enumerate() {
        let (of_wood, others) = all.into_iter().partition(|wanted| wanted.wood == wood);
        all = others;
        if Vec::is_empty(&of_wood) {
            continue;
        }
        let is_same = |pile: &&mut (Vec<usize>, Vec<Wanted>)| {
            pile.0.iter().filter_map(|other| recipe.woods.get(*other)).any(|other| other.is_same_stock(used))
        };
        match piles.iter_mut().find(is_same) {
            Some((woods, wanted)) => {
                woods.push(wood);
                wanted.extend(of_wood);
            }
            None => piles.push((vec![wood], of_wood)),
        }
    }
    piles
}
