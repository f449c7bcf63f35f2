//! Section by section the best, and where that leaves something over, other sections.

use super::board::{Taste, drafts, take};
use super::wanted::{Wanted, face, least_face, safe};
use super::{Board, Class, Problem};

/// Most choices in one plan that are not the best where they are made.
const MOST_OTHERS: u32 = 8;

/// Looks whether some boards give everything: section by section the one of most worth, then others, as few as can
/// be, so long as what is left to do has a face that the rest of the boards has.
pub(super) struct Trial<'a> {
    problem: &'a Problem,
    /// Kinds of boards in the order in which they are cut.
    order: &'a [usize],
    /// Of each board and those behind it.
    faces: Vec<i128>,
    longest: i64,
    cut: Vec<Board>,
    /// No more than so many.
    budget: u64,
}

impl<'a> Trial<'a> {
    pub fn of(problem: &'a Problem, order: &'a [usize], budget: u64) -> Self {
        let mut faces: Vec<i128> = order.iter().map(|kind| face(problem, &problem.stock[*kind])).collect();
        for at in (1..faces.len()).rev() {
            faces[at - 1] += faces[at];
        }
        let longest = order.iter().map(|kind| safe(problem.stock[*kind].long)).max().unwrap_or(0);
        Self { problem, order, faces, longest, cut: Vec::new(), budget }
    }

    /// With 0, 1, 2 … choices that are not the best where they are made.
    pub fn find(mut self, wanted: &Wanted, steps: &mut u64) -> Option<Vec<Board>> {
        let end = steps.saturating_add(self.budget);
        for others in 0..=MOST_OTHERS {
            if *steps >= end {
                break;
            }
            self.cut.clear();
            if self.board(0, wanted, others, (steps, end)) {
                return Some(self.cut);
            }
        }
        None
    }

    fn board(&mut self, at: usize, wanted: &Wanted, others: u32, steps: (&mut u64, u64)) -> bool {
        let Some(kind) = self.order.get(at).copied() else { return wanted.is_done() };
        self.cut.push(Board { stock: kind, sections: Vec::new() });
        if self.section(at, 0, wanted, others, steps) {
            return true;
        }
        self.cut.truncate(at);
        false
    }

    fn section(&mut self, at: usize, from: i64, wanted: &Wanted, others: u32, (steps, end): (&mut u64, u64)) -> bool {
        if wanted.is_done() {
            self.cut.retain(|board| !board.sections.is_empty());
            return true;
        }
        let stock = &self.problem.stock[self.order[at]];
        let kerf = safe(self.problem.kerf);
        let here = i128::from((safe(stock.long) + kerf - from).max(0)) * i128::from(safe(stock.wide) + kerf);
        let there = here + self.faces.get(at + 1).copied().unwrap_or(0);
        if *steps >= end || self.asks(wanted) > there {
            return false;
        }
        let mut drafts = drafts(self.problem, stock, wanted, from, Taste::Mixed, steps);
        drafts.sort_by(|a, b| b.0.total_cmp(&a.0));
        drafts.dedup_by(|a, b| a.1.section == b.1.section);
        if drafts.is_empty() {
            let behind = stock.avoid.iter().map(|(_, good)| good.0).find(|good| *good > from);
            return match behind {
                Some(good) => self.section(at, good, wanted, others, (steps, end)),
                None => self.board(at + 1, wanted, others, (steps, end)),
            };
        }
        let place = self.cut[at].sections.len();
        for (rank, (_, draft)) in drafts.into_iter().enumerate() {
            let Some(others) = others.checked_sub((rank + 1).ilog2()) else { break };
            let mut rest = wanted.clone();
            take(&draft.section, &mut rest);
            let next = draft.section.to.0 + kerf;
            self.cut.truncate(at + 1);
            self.cut[at].sections.truncate(place);
            self.cut[at].sections.push(draft.section);
            if self.section(at, next, &rest, others, (steps, end)) {
                return true;
            }
        }
        self.cut.truncate(at + 1);
        self.cut[at].sections.truncate(place);
        false
    }

    fn asks(&self, wanted: &Wanted) -> i128 {
        let of_class = |(class, left): (&Class, &Vec<u32>)| least_face(self.problem, class, left, self.longest);
        self.problem.classes.iter().zip(&wanted.left).map(of_class).sum()
    }
}
