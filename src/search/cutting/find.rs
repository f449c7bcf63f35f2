//! Sets of boards in the order of their cost, each looked at whether it gives everything.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::search::{Effort, Progress};

use super::board::{MANY, TASTES, Taste, cut};
use super::bound::{Faces, program};
use super::trial::Trial;
use super::wanted::{Wanted, face, safe};
use super::{Board, Cost, Problem, Solved};

/// Steps at effort 1; a step is a lane filled.
const STEPS: u64 = 60_000;
/// Greedy plans that are tried once all have left something over.
const LESSONS: u64 = 12;
/// Steps at effort 1 in which other choices of sections are tried with one set of boards in one order.
const STEPS_OF_ORDER: u64 = 20_000;
/// Sets of boards that are held ready to be looked at.
const MOST_SETS: usize = 50_000;
/// No plan takes more boards of one wood.
const MOST_BOARDS: usize = 2_000;

/// So many boards of each kind, the kinds rising.
type Set = Vec<(usize, u32)>;

pub(super) struct Finder<'a> {
    problem: &'a Problem,
    effort: &'a Effort<'a>,
    wanted: Wanted,
    faces: Faces,
    /// Of what not every kind of board gives: the kinds that do.
    givers: Vec<Vec<usize>>,
    steps: u64,
}

impl<'a> Finder<'a> {
    /// `wanted` is what some board can give; of each of `givers` at least one board is needed.
    pub fn new(problem: &'a Problem, wanted: Wanted, givers: Vec<Vec<usize>>, effort: &'a Effort<'a>) -> Self {
        Self { problem, effort, faces: Faces::of(problem, &wanted), wanted, givers, steps: 0 }
    }

    /// Whether these boards can be proved not to do.
    fn is_refuted(&self, set: &Set) -> bool {
        let gives = |kinds: &Vec<usize>| set.iter().any(|(kind, _)| kinds.contains(kind));
        !self.givers.iter().all(gives) || self.faces.refute(self.problem, set)
    }

    pub fn find(mut self) -> Solved {
        let (mut boards, mut left) = self.greedy();
        if !left.is_done()
            && let Some(whole) = self.all_boards()
        {
            boards = whole;
            left.left.iter_mut().flatten().for_each(|left| *left = 0);
        }
        let mut solved = Solved {
            cost: cost(self.problem, &boards),
            lacks: lacks(&left),
            boards,
            least_boards: self.faces.least_boards(self.problem),
            ..Solved::default()
        };
        if solved.lacks.is_empty() {
            solved.is_optimal = solved.boards.is_empty();
            if !solved.is_optimal {
                self.improve(&mut solved);
            }
        }
        solved.boards.sort_by_key(|board| board.stock);
        solved.steps = self.steps;
        solved
    }

    /// All that is wanted from all the boards there are, when board after board would not do. Boards of which there are
    /// endlessly many are never short.
    fn all_boards(&mut self) -> Option<Vec<Board>> {
        let all = self.problem.stock.iter().enumerate().map(|(kind, stock)| Some((kind, stock.count?)));
        let set: Set = all.collect::<Option<_>>()?;
        let boards: u32 = set.iter().fold(0, |sum, (_, count)| sum.saturating_add(*count));
        if boards as usize > MOST_BOARDS || self.is_refuted(&set) {
            return None;
        }
        // What is called short is looked for longer: somebody would buy wood for it.
        self.filled(&set, 5 * STEPS_OF_ORDER)
    }

    /// Board after board the one that gives most for what it costs; of several ways the best. What one way left over
    /// comes first in the next.
    fn greedy(&mut self) -> (Vec<Board>, Wanted) {
        let mut weight = self.wanted.weight.clone();
        let mut best = (self.wanted.clone(), Vec::new());
        let mut best_rank = (lack(self.problem, &self.wanted), Cost::default());
        let tastes = if self.is_large() { &TASTES[..1] } else { &TASTES[..] };
        let lessons = (0..LESSONS).map(Taste::Other);
        for (at, taste) in tastes.iter().copied().chain(lessons).enumerate() {
            // Lessons are for what is left over.
            if at >= tastes.len() && best_rank.0 == 0 {
                break;
            }
            let (boards, mut left) = self.greedy_by(taste, &weight);
            left.learn(&mut weight);
            left.weight.clone_from(&self.wanted.weight);
            let rank = (lack(self.problem, &left), cost(self.problem, &boards));
            if rank < best_rank {
                (best, best_rank) = ((left, boards), rank);
            }
        }
        (best.1, best.0)
    }

    /// Whether there is so much of it that few ways are tried.
    fn is_large(&self) -> bool {
        self.problem.classes.len() > MANY
    }

    /// The kinds of boards that a greedy plan weighs for its next board; of a large problem now and then all, and
    /// between only those that were best.
    fn weighed(&self, boards: &[Board]) -> Vec<usize> {
        if !self.is_large() || boards.len().is_multiple_of(16) {
            return (0..self.problem.stock.len()).collect();
        }
        let mut kinds: Vec<usize> = boards.iter().rev().take(16).map(|board| board.stock).collect();
        kinds.sort_unstable();
        kinds.dedup();
        kinds
    }

    fn greedy_by(&mut self, taste: Taste, weight: &[i64]) -> (Vec<Board>, Wanted) {
        let (mut boards, mut left) = (Vec::new(), Wanted { weight: weight.to_vec(), ..self.wanted.clone() });
        let mut free: Vec<Option<u32>> = self.problem.stock.iter().map(|stock| stock.count).collect();
        while !left.is_done() && boards.len() < MOST_BOARDS {
            let mut best: Option<((bool, f64), usize, Board, Wanted)> = None;
            let before = lack(self.problem, &left);
            let (first, all) = (self.weighed(&boards), 0..self.problem.stock.len());
            // All kinds once those that were best give nothing more.
            let others: Vec<usize> = all.filter(|kind| !first.contains(kind)).collect();
            let most = first.len();
            for (at, kind) in first.into_iter().chain(others).enumerate() {
                if at >= most && best.is_some() {
                    break;
                }
                if free[kind] == Some(0) {
                    continue;
                }
                let mut rest = left.clone();
                let board = cut(self.problem, kind, &mut rest, taste, &mut self.steps);
                if board.sections.is_empty() {
                    continue;
                }
                // What gives everything that is left is taken when it is the cheapest; else most for the cost.
                let (of, gained) = (&self.problem.stock[kind], before - lack(self.problem, &rest));
                #[allow(clippy::cast_precision_loss, reason = "only compared, and alike on every machine")]
                let rate = gained as f64 / price(of.cost).max(1.0);
                let rank = if rest.is_done() { (true, -price(of.cost)) } else { (false, rate) };
                let is_better = best.as_ref().is_none_or(|(before, ..)| match (rank.0, before.0) {
                    (true, false) => rank.1.abs() <= price(self.problem.stock[kind].cost),
                    (false, true) => false,
                    _ => rank.1 > before.1,
                });
                if is_better {
                    best = Some((rank, kind, board, rest));
                }
            }
            let Some((_, kind, board, rest)) = best else { break };
            free[kind] = free[kind].map(|count| count - 1);
            boards.push(board);
            left = rest;
        }
        (boards, left)
    }

    /// Cheaper sets of boards, as far as the steps reach; and the bound.
    fn improve(&mut self, solved: &mut Solved) {
        let floor = self.floor(solved.cost);
        let budget = self.effort.budget(STEPS).saturating_add(self.steps);
        let mut open: BinaryHeap<Reverse<(Cost, Set)>> = BinaryHeap::new();
        let mut unproved: Option<Cost> = None;
        open.push(Reverse((Cost::default(), Vec::new())));
        while let Some(Reverse((spent, set))) = open.pop() {
            if spent >= solved.cost {
                break;
            }
            if self.steps > budget || open.len() > MOST_SETS {
                unproved = Some(unproved.map_or(spent, |before| before.min(spent)));
                break;
            }
            self.steps += 1;
            if spent >= floor && !set.is_empty() && !self.is_refuted(&set) {
                if let Some(boards) = self.filled(&set, STEPS_OF_ORDER) {
                    // Boards that nothing is cut from are not taken; what is left is cheaper still.
                    solved.cost = cost(self.problem, &boards);
                    solved.boards = boards;
                    break;
                }
                unproved = Some(unproved.map_or(spent, |before| before.min(spent)));
                self.effort.tell(Progress { done: self.steps.min(budget), budget });
            }
            self.larger(&set, spent, solved.cost, &mut open);
        }
        let proved = unproved.map_or(solved.cost, |unproved| unproved.min(solved.cost));
        solved.bound = proved.max(floor).min(solved.cost);
        if solved.bound.money < solved.cost.money {
            // A cheaper plan might take more wood or less: of the wood alone nothing is proved then.
            solved.bound.wood = 0;
        }
        solved.is_optimal = solved.bound == solved.cost;
        self.tidy(solved);
        if solved.is_optimal && self.is_one_price() {
            solved.least_boards = solved.least_boards.max(u32::try_from(solved.boards.len()).unwrap_or(u32::MAX));
        }
    }

    /// Whether fewer boards would cost less, all being of one cost.
    fn is_one_price(&self) -> bool {
        self.problem.stock.windows(2).all(|pair| pair[0].cost == pair[1].cost)
            && self.problem.stock.first().is_some_and(|stock| stock.cost > Cost::default())
    }

    /// The set with one board more, of its last kind or a later one.
    fn larger(&self, set: &Set, spent: Cost, most: Cost, open: &mut BinaryHeap<Reverse<(Cost, Set)>>) {
        let (last, taken) = set.last().copied().unwrap_or((0, 0));
        for kind in last..self.problem.stock.len() {
            let stock = &self.problem.stock[kind];
            let have = if kind == last { taken } else { 0 };
            if stock.count.is_some_and(|count| have >= count) || have as usize >= MOST_BOARDS {
                continue;
            }
            let cost = add(spent, stock.cost);
            if cost >= most {
                continue;
            }
            let mut next = set.clone();
            match next.last_mut() {
                Some((of, count)) if *of == kind => *count += 1,
                _ => next.push((kind, 1)),
            }
            open.push(Reverse((cost, next)));
        }
    }

    /// What no plan undercuts, from the linear program: in money where something is bought, else in wood.
    fn floor(&mut self, known: Cost) -> Cost {
        let stock = &self.problem.stock;
        // One board of the cheapest kind at the least; that alone often settles it.
        let cheapest = stock.iter().filter(|stock| stock.count != Some(0)).map(|stock| stock.cost).min();
        let cheapest = cheapest.unwrap_or_default();
        if cheapest >= known {
            return known;
        }
        #[allow(clippy::cast_precision_loss, reason = "a bound with a margin")]
        let costs = |of: fn(Cost) -> u64| stock.iter().map(|stock| of(stock.cost) as f64).collect::<Vec<f64>>();
        self.steps += 200;
        if known.money > 0 {
            #[allow(clippy::cast_precision_loss, reason = "a bound with a margin")]
            let bound = program(self.problem, &self.wanted, &costs(|cost| cost.money), known.money as f64 - 0.5);
            let money = whole(bound.unwrap_or(0.0)).min(known.money);
            return Cost { money, wood: 0 }.max(Cost::default());
        }
        #[allow(clippy::cast_precision_loss, reason = "a bound with a margin")]
        let bound = program(self.problem, &self.wanted, &costs(|cost| cost.wood), known.wood as f64 - 0.5);
        Cost { money: 0, wood: whole(bound.unwrap_or(0.0)).min(known.wood) }.max(cheapest)
    }

    /// All that is wanted from these boards, tried in several orders: first always the best section next, then others,
    /// for so many steps.
    fn filled(&mut self, set: &Set, steps: u64) -> Option<Vec<Board>> {
        let mut kinds: Vec<usize> =
            set.iter().flat_map(|(kind, count)| std::iter::repeat_n(*kind, *count as usize)).collect();
        let size = |kind: &usize| (face(self.problem, &self.problem.stock[*kind]), *kind);
        kinds.sort_by_key(size);
        let mut orders = vec![kinds.clone()];
        kinds.reverse();
        orders.push(kinds.clone());
        kinds.sort_by_key(|kind| (safe(self.problem.stock[*kind].thick), *kind));
        orders.push(kinds);
        orders.dedup();
        for order in &orders {
            let mut weight = self.wanted.weight.clone();
            for taste in TASTES {
                let mut left = Wanted { weight: weight.clone(), ..self.wanted.clone() };
                let mut boards = Vec::with_capacity(order.len());
                for kind in order {
                    let board = cut(self.problem, *kind, &mut left, taste, &mut self.steps);
                    if !board.sections.is_empty() {
                        boards.push(board);
                    }
                }
                if left.is_done() {
                    return Some(boards);
                }
                left.learn(&mut weight);
            }
        }
        if self.is_large() {
            return None;
        }
        let budget = self.effort.budget(steps);
        let mut tried = |order: &Vec<usize>| Trial::of(self.problem, order, budget).find(&self.wanted, &mut self.steps);
        orders.iter().find_map(&mut tried)
    }

    /// Of ways to cut the same boards that which leaves the largest offcut behind a last section; then that with the
    /// fewest stops.
    fn tidy(&mut self, solved: &mut Solved) {
        let mut order: Vec<usize> = solved.boards.iter().map(|board| board.stock).collect();
        order.sort_by_key(|kind| (Reverse(face(self.problem, &self.problem.stock[*kind])), *kind));
        if order.len() > 24 {
            return;
        }
        let rank = |boards: &[Board]| (Reverse(largest_offcut(self.problem, boards)), runs(boards));
        let mut orders = vec![order.clone()];
        order.reverse();
        orders.push(order);
        for order in orders {
            for taste in TASTES {
                let mut left = self.wanted.clone();
                let boards: Vec<Board> =
                    order.iter().map(|kind| cut(self.problem, *kind, &mut left, taste, &mut self.steps)).collect();
                let is_whole = left.is_done() && boards.iter().all(|board| !board.sections.is_empty());
                if is_whole && rank(&boards) < rank(&solved.boards) {
                    solved.boards = boards;
                }
            }
        }
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "cut off below 2^53")]
fn whole(bound: f64) -> u64 {
    bound.clamp(0.0, 9e15).ceil() as u64
}

#[allow(clippy::cast_precision_loss, reason = "only compared, and alike on every machine")]
fn price(cost: Cost) -> f64 {
    cost.money as f64 * 1e3 + cost.wood as f64 * 1e-6
}

fn add(a: Cost, b: Cost) -> Cost {
    Cost { money: a.money.saturating_add(b.money), wood: a.wood.saturating_add(b.wood) }
}

/// Of all boards together.
pub(super) fn cost(problem: &Problem, boards: &[Board]) -> Cost {
    boards
        .iter()
        .filter_map(|board| problem.stock.get(board.stock))
        .fold(Cost::default(), |sum, stock| add(sum, stock.cost))
}

/// The face of all that is left to do, by its weight.
fn lack(problem: &Problem, left: &Wanted) -> i128 {
    let of_class = |((class, left), weight): ((&super::Class, &Vec<u32>), &i64)| {
        let along: i128 = left
            .iter()
            .enumerate()
            .map(|(at, left)| i128::from(*left) * i128::from(super::wanted::pitch(class, at)))
            .sum();
        along * i128::from(safe(class.wide).max(1)) * i128::from(*weight)
    };
    problem.classes.iter().zip(&left.left).zip(&left.weight).map(of_class).sum()
}

fn lacks(left: &Wanted) -> Vec<(usize, usize, u32)> {
    let of_class = |(class, left): (usize, &Vec<u32>)| {
        let lacking = left.iter().enumerate().filter(|(_, left)| **left > 0);
        lacking.map(move |(piece, left)| (class, piece, *left)).collect::<Vec<_>>()
    };
    left.left.iter().enumerate().flat_map(of_class).collect()
}

fn largest_offcut(problem: &Problem, boards: &[Board]) -> i128 {
    let of_board = |board: &Board| {
        let stock = problem.stock.get(board.stock)?;
        let end = board.sections.last().map_or(0, |section| section.to.0);
        Some(i128::from(safe(stock.long) - end) * i128::from(safe(stock.wide)))
    };
    boards.iter().filter_map(of_board).max().unwrap_or(0)
}

/// How often a stop is set, lane by lane.
fn runs(boards: &[Board]) -> usize {
    boards.iter().flat_map(|board| &board.sections).flat_map(|section| &section.lanes).map(|lane| lane.runs.len()).sum()
}
