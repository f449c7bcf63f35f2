//! Which boards give which pieces, by three rounds of straight cuts: a board is crosscut into sections, each
//! section is ripped into lanes of one width all along it, each lane is crosscut into pieces.
//!
//! Lengths are whole micrometers ([`Um`]); whoever asks rounds wants up and boards down.

mod batch;
mod board;
mod bound;
mod find;
mod lane;
#[cfg(test)]
mod tests;
mod trial;
mod wanted;

use super::Effort;
use find::Finder;
use wanted::Wanted;

/// A length in micrometers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Um(pub i64);

/// All that is to come from boards of one wood, and the boards there are.
#[derive(Debug, Clone, Default)]
pub struct Problem {
    /// Lost between two sections, two lanes, and at the end of a piece that has no kerf in its pitch. The last cut
    /// may fall off the edge: n lanes take their widths and n − 1 kerfs.
    pub kerf: Um,
    /// A section with a lane that is not [`Class::is_block`] is at least so long: shorter ones are not ripped safely.
    pub least_section: Um,
    /// Kinds of boards.
    pub stock: Vec<Stock>,
    /// Kinds of lanes.
    pub classes: Vec<Class>,
}

/// Boards that are alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stock {
    /// What can be planed from it.
    pub thick: Um,
    /// Across, its edges jointed.
    pub wide: Um,
    /// Along, its ends trimmed.
    pub long: Um,
    /// Stretches along it that no piece may touch; ordered, apart, within 0 and `long`.
    pub avoid: Vec<(Um, Um)>,
    /// How many there are; `None`: as many as are wanted.
    pub count: Option<u32>,
    /// Of each.
    pub cost: Cost,
}

/// What a board costs: first money, then, among plans that cost the same, wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Cost {
    /// In whatever unit the asker counts; 0 for what is at hand.
    pub money: u64,
    /// Of the whole board, in whole cubic centimeters.
    pub wood: u64,
}

/// Lanes that are alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Class {
    /// The board must be so thick.
    pub thick: Um,
    /// Of the lane.
    pub wide: Um,
    /// What stays under the clamp at the end of each lane. A lane that holds one piece alone, as long as its
    /// section, needs none: nothing is cut off it.
    pub tail: Um,
    /// Whether it is cut to size as a block (a round's square, an insert's blank) rather than ripped as a strip.
    pub is_block: bool,
    /// What is cut from such lanes.
    pub pieces: Vec<Piece>,
}

/// Pieces that are cut alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    /// Along the lane, its own kerf included.
    pub pitch: Um,
    /// The setting of the saw, a number; pieces of one setting share [`first`](Self::first).
    pub setting: usize,
    /// Lost once in each stretch of a lane (between two places to avoid) for each setting used in it.
    pub first: Um,
    /// How many are wanted.
    pub count: u32,
    /// Pieces of one class with the same number must all come from one lane.
    pub together: Option<usize>,
}

/// The best plan found, and what can be proved of it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Solved {
    /// The boards taken, in the order of [`Problem::stock`]; none that nothing is cut from.
    pub boards: Vec<Board>,
    /// What could not be placed: class, piece, how many. Empty when all is.
    pub lacks: Vec<(usize, usize, u32)>,
    /// What the boards cost.
    pub cost: Cost,
    /// No plan that makes everything costs less money; and none that costs so much takes less wood, 0 where the money
    /// is not proved and nothing is known of the wood.
    pub bound: Cost,
    /// No plan that makes everything takes fewer boards.
    pub least_boards: u32,
    /// Whether the bound is reached.
    pub is_optimal: bool,
    /// Steps the search took.
    pub steps: u64,
}

/// A board that is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Board {
    /// Index into [`Problem::stock`].
    pub stock: usize,
    /// From its start, with a kerf between; what is behind the last is one offcut, as wide as the board.
    pub sections: Vec<Section>,
}

/// A length of a board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// Where it begins on the board.
    pub from: Um,
    /// Where it ends.
    pub to: Um,
    /// Side by side from one edge, with a kerf between.
    pub lanes: Vec<Lane>,
}

/// A strip of a section, as long as it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lane {
    /// Index into [`Problem::classes`].
    pub class: usize,
    /// In the order of cutting, from the section's start; runs of one setting side by side within a stretch.
    pub runs: Vec<Run>,
}

/// Pieces that are cut one after another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Run {
    /// Index into [`Class::pieces`].
    pub piece: usize,
    /// How many.
    pub count: u32,
    /// Where the first piece's stretch begins on the board, behind the first cut where there is one.
    pub from: Um,
}

/// Plans the cuts. What no board can give is left out and told in [`Solved::lacks`]; everything else is placed if
/// the search finds a way.
#[must_use]
pub fn solve(problem: &Problem, effort: &Effort<'_>) -> Solved {
    batch::solve(problem, effort)
}

/// Plans all cuts at once.
fn solve_whole(problem: &Problem, effort: &Effort<'_>) -> Solved {
    let mut wanted = Wanted::all(problem);
    let (mut lacks, mut givers) = (Vec::new(), Vec::new());
    for (class, of_class) in problem.classes.iter().enumerate() {
        for piece in 0..of_class.pieces.len() {
            let left = &mut wanted.left[class][piece];
            if *left == 0 {
                continue;
            }
            let kinds = board::givers(problem, class, piece);
            if kinds.found.is_empty() {
                lacks.push((class, piece, std::mem::take(left)));
            } else if kinds.possible.len() < problem.stock.len() && !givers.contains(&kinds.possible) {
                givers.push(kinds.possible);
            }
        }
    }
    let mut solved = Finder::new(problem, wanted, givers, effort).find();
    solved.is_optimal &= lacks.is_empty();
    lacks.append(&mut solved.lacks);
    lacks.sort_unstable();
    solved.lacks = lacks;
    solved
}
