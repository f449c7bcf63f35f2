//! One pile of boards as a question to the search, and the cheapest purchase where the boards do not suffice.

use crate::quantity::Length;
use crate::resolve::Recipe;
use crate::search::Effort;
use crate::search::cutting::{Cost, Problem, Solved, solve};

use super::demand::Wanted;
use super::stock::{self, Source};
use super::whole::wanted;
use super::{Purchase, Supply};

/// What is wanted of the boards of one wood, and the boards.
#[derive(Debug, Clone)]
pub(super) struct Asked {
    /// Indexes into the recipe's woods.
    pub woods: Vec<usize>,
    /// One for each class of the problem.
    pub wanted: Vec<Wanted>,
    /// One for each stock of the problem: those that the shop names, or usual sizes where it names none.
    pub sources: Vec<Source>,
    /// What can be bought where the named ones do not suffice.
    pub usual: Vec<Source>,
    kerf: Length,
    short_rip: Length,
}

impl Asked {
    pub(super) fn of(recipe: &Recipe, woods: Vec<usize>, mut all: Vec<Wanted>) -> Self {
        let of_pile = woods.first().and_then(|wood| recipe.woods.get(*wood));
        let named = of_pile.map_or_else(Vec::new, |wood| stock::named(recipe, wood));
        let usual = stock::usual(recipe, &all);
        for wanted in &mut all {
            // Where none that is named is thick enough, it has to come from what is sold.
            let widest = stock::widest(&named, wanted);
            let widest = if widest > Length::ZERO { widest } else { stock::widest(&usual, wanted) };
            wanted.glue_up(widest, recipe.units);
        }
        let sources = if named.is_empty() { usual.clone() } else { named };
        let (kerf, short_rip) = (recipe.shop.kerf.value, recipe.shop.short_rip.value);
        Self { woods, wanted: all, sources, usual, kerf, short_rip }
    }

    /// Whether the shop names boards of this wood.
    fn is_named(&self) -> bool {
        self.sources.first().is_some_and(|source| !matches!(source.supply, Supply::Usual(_)))
    }

    pub(super) fn problem(&self) -> Problem {
        Problem {
            kerf: wanted(self.kerf),
            least_section: wanted(self.short_rip),
            stock: self.sources.iter().map(Source::stock).collect(),
            classes: self.wanted.iter().map(|wanted| wanted.class.clone()).collect(),
        }
    }

    /// The least wood of usual sizes with which all is made that `solved` lacks; nothing when usual sizes do not
    /// give it.
    pub(super) fn purchase(&self, problem: &Problem, solved: &Solved, effort: &Effort<'_>) -> Vec<Purchase> {
        if !self.is_named() {
            return Vec::new();
        }
        // What is bought for the rest alone surely mends it. Bought with all in mind it may be less, but only a plan
        // that is found with just these boards shows that it is enough.
        let Some((cost, rest)) = self.for_the_rest(problem, solved, effort) else { return Vec::new() };
        let with_all = self.with_all_in_mind(problem, effort).filter(|(of_all, _)| *of_all < cost);
        let counts = match with_all {
            Some((_, counts)) if self.is_enough(problem, &counts, effort) => counts,
            Some(_) | None => rest,
        };
        let bought = self.usual.iter().zip(counts).filter(|(_, count)| *count > 0);
        let purchase = |(source, count): (&Source, u32)| Purchase {
            supply: source.supply,
            count,
            thick: source.thick,
            wide: source.wide,
            long: source.long,
            price: None,
        };
        bought.map(purchase).collect()
    }

    /// Wood, and how many of each usual size, for what lacks alone.
    fn for_the_rest(&self, problem: &Problem, solved: &Solved, effort: &Effort<'_>) -> Option<(u64, Vec<u32>)> {
        let mut rest = Problem { stock: self.usual.iter().map(Source::stock).collect(), ..problem.clone() };
        for (class, of_class) in rest.classes.iter_mut().enumerate() {
            for (piece, wanted) in of_class.pieces.iter_mut().enumerate() {
                let of_piece = solved.lacks.iter().filter(|(c, p, _)| (*c, *p) == (class, piece));
                wanted.count = of_piece.map(|(.., count)| *count).sum();
            }
        }
        let solved = solve(&rest, effort);
        solved.lacks.is_empty().then(|| (solved.cost.wood, self.counted(&solved, 0)))
    }

    /// The same beside the boards that are named, so that these give as much as they can.
    fn with_all_in_mind(&self, problem: &Problem, effort: &Effort<'_>) -> Option<(u64, Vec<u32>)> {
        let mut all = problem.clone();
        for stock in &mut all.stock {
            stock.cost.money = 0;
        }
        all.stock.extend(self.usual.iter().map(Source::stock).map(|mut stock| {
            stock.cost.money = stock.cost.wood;
            stock
        }));
        let solved = solve(&all, effort);
        solved.lacks.is_empty().then(|| (solved.cost.money, self.counted(&solved, self.sources.len())))
    }

    fn counted(&self, solved: &Solved, first: usize) -> Vec<u32> {
        let mut counts = vec![0_u32; self.usual.len()];
        for board in &solved.boards {
            if let Some(count) = board.stock.checked_sub(first).and_then(|at| counts.get_mut(at)) {
                *count += 1;
            }
        }
        counts
    }

    fn is_enough(&self, problem: &Problem, counts: &[u32], effort: &Effort<'_>) -> bool {
        let mut with = problem.clone();
        with.stock.extend(self.usual.iter().zip(counts).filter(|(_, count)| **count > 0).map(|(source, count)| {
            let mut stock = source.stock();
            stock.count = Some(*count);
            stock.cost = Cost { money: 0, ..stock.cost };
            stock
        }));
        solve(&with, effort).lacks.is_empty()
    }
}
