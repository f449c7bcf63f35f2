//! One board after the other to sections and lanes.

use std::cmp::Reverse;

use super::lane::{self, Filled};
use super::wanted::{Wanted, length_of, pitch, safe};
use super::{Board, Lane, Problem, Section, Stock, Um};

/// Which of two sections is taken when both would do; each way of choosing finds other plans.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Taste {
    /// That which wastes the least of its face.
    Dense,
    /// That which takes most from what is left to do.
    Much,
    /// That which takes up the rest of the board, as far as it wastes little.
    Long,
    /// That which wastes least, of unlike pieces in one lane where that uses it better.
    Mixed,
    /// That which wastes least, give or take a little, otherwise for each number: what is second best here may leave
    /// more for later.
    Other(u64),
}

pub(super) const TASTES: [Taste; 3] = [Taste::Dense, Taste::Much, Taste::Long];

/// So many kinds of lanes are many: less is tried then.
pub(super) const MANY: usize = 24;

/// Most lengths of a section that are weighed against each other: where choices are undone, and where they are not.
const LENGTHS: [usize; 2] = [48, 16];
/// And of very many kinds of lanes.
const LENGTHS_OF_MANY: usize = 2;

/// A section as it would be cut.
pub(super) struct Draft {
    pub section: Section,
    /// Faces of all its pieces.
    used: i128,
}

/// Cuts what is left to do from a board; the steps it took are added up.
pub(super) fn cut(problem: &Problem, stock: usize, wanted: &mut Wanted, taste: Taste, steps: &mut u64) -> Board {
    let mut board = Board { stock, sections: Vec::new() };
    let Some(of) = problem.stock.get(stock) else { return board };
    let mut from = 0;
    while !wanted.is_done() {
        let Some(draft) = best(problem, of, wanted, from, taste, steps) else {
            // What fits nowhere here may fit behind the next place to avoid.
            match of.avoid.iter().map(|(_, good)| good.0).find(|good| *good > from) {
                Some(good) => from = good,
                None => break,
            }
            continue;
        };
        take(&draft.section, wanted);
        from = draft.section.to.0 + safe(problem.kerf);
        board.sections.push(draft.section);
    }
    board
}

/// Which kinds of boards give a piece.
pub(super) struct Givers {
    /// Those on which at least one of it was placed; of pieces that belong together, all of them.
    pub found: Vec<usize>,
    /// Those that cannot be proved not to give it: no other will do.
    pub possible: Vec<usize>,
}

/// Looks for a place for one of a piece on every kind of board.
pub(super) fn givers(problem: &Problem, class: usize, piece: usize) -> Givers {
    // Of that class alone: what others there are does not matter.
    let of = problem.classes[class].clone();
    let mut left = vec![0; of.pieces.len()];
    match of.pieces[piece].together {
        None => left[piece] = 1,
        group => {
            for (left, other) in left.iter_mut().zip(&of.pieces).filter(|(_, other)| other.together == group) {
                *left = other.count;
            }
        }
    }
    let alone = Problem {
        kerf: problem.kerf,
        least_section: problem.least_section,
        stock: problem.stock.clone(),
        classes: vec![of],
    };
    let gives = |kind: &usize| {
        let mut left = Wanted { left: vec![left.clone()], weight: vec![1] };
        cut(&alone, *kind, &mut left, Taste::Long, &mut 0);
        left.is_done()
    };
    let there: Vec<usize> = (0..alone.stock.len()).filter(|kind| alone.stock[*kind].count != Some(0)).collect();
    let found: Vec<usize> = there.iter().copied().filter(gives).collect();
    // One piece goes in wherever there is room for it. Several together are placed by rule of thumb, so that only
    // what is longer than all the clear wood is proved not to fit.
    let of = &alone.classes[0];
    let is_single = left.iter().map(|left| u64::from(*left)).sum::<u64>() == 1;
    let wanted: i64 = left.iter().enumerate().map(|(at, left)| i64::from(*left) * pitch(of, at)).sum();
    let could = |kind: &usize| {
        let stock = &alone.stock[*kind];
        let bad: i64 = stock.avoid.iter().map(|(bad, good)| (good.0 - bad.0).max(0)).sum();
        let has_room = stock.thick >= of.thick && stock.wide >= of.wide && wanted <= safe(stock.long) - bad;
        found.contains(kind) || !is_single && has_room
    };
    let possible = there.iter().copied().filter(could).collect();
    Givers { found, possible }
}

pub(super) fn take(section: &Section, wanted: &mut Wanted) {
    for lane in &section.lanes {
        for run in &lane.runs {
            let left = &mut wanted.left[lane.class][run.piece];
            *left = left.saturating_sub(run.count);
        }
    }
}

/// The section to cut next at `from`; none when nothing fits.
fn best(problem: &Problem, stock: &Stock, wanted: &Wanted, from: i64, taste: Taste, steps: &mut u64) -> Option<Draft> {
    let mut best: Option<(f64, Draft)> = None;
    for (value, draft) in drafts(problem, stock, wanted, from, taste, steps) {
        if best.as_ref().is_none_or(|(before, _)| value > *before) {
            best = Some((value, draft));
        }
    }
    best.map(|(_, draft)| draft)
}

/// The sections that could be cut next at `from`, each with what it is worth.
pub(super) fn drafts(
    problem: &Problem,
    stock: &Stock,
    wanted: &Wanted,
    from: i64,
    taste: Taste,
    steps: &mut u64,
) -> Vec<(f64, Draft)> {
    let end = safe(stock.long);
    let drafted = |to: i64| {
        let draft = drafted(problem, stock, wanted, (from, to), taste, steps)?;
        Some((worth(problem, stock, &draft, end, taste), draft))
    };
    ends(problem, stock, wanted, (from, end), taste).into_iter().filter_map(drafted).collect()
}

#[allow(clippy::cast_precision_loss, reason = "only compared, and alike on every machine")]
fn worth(problem: &Problem, stock: &Stock, draft: &Draft, end: i64, taste: Taste) -> f64 {
    let kerf = safe(problem.kerf);
    let long = draft.section.to.0 - draft.section.from.0 + kerf;
    let dense = draft.used as f64 / (long as f64 * (safe(stock.wide) + kerf) as f64);
    match taste {
        Taste::Dense | Taste::Mixed => dense,
        Taste::Much => dense * (long as f64).sqrt(),
        Taste::Other(number) => {
            let drawn = mixed(number, draft.section.from.0, draft.section.to.0);
            dense * (0.8 + 0.4 * (drawn as f64 / u64::MAX as f64))
        }
        Taste::Long => {
            let rest = (end - draft.section.to.0) as f64 / (end.max(1)) as f64;
            dense * (1.5 - rest)
        }
    }
}

/// As good as drawn from a hat, and the same on every machine (the finalizer of `SplitMix64`).
fn mixed(number: u64, from: i64, to: i64) -> u64 {
    let mut bits =
        number.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ from.cast_unsigned().rotate_left(32) ^ to.cast_unsigned();
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    bits ^ (bits >> 31)
}

/// Where a section that begins at `from` might end: so that all that is left of a class comes from one lane, two,
/// three …, so that a single piece fills it, or at the end of the board. Places to avoid in it make it longer.
fn ends(problem: &Problem, stock: &Stock, wanted: &Wanted, (from, end): (i64, i64), taste: Taste) -> Vec<i64> {
    let kerf = safe(problem.kerf);
    let least = from + safe(problem.least_section);
    let mut ends = vec![end];
    let with_bad = |length: i64, end: i64| {
        let mut to = from + length;
        for (bad, good) in &stock.avoid {
            if bad.0 < to && good.0 > from {
                to += good.0 - bad.0.max(from);
            }
        }
        to.min(end)
    };
    for (at, class) in problem.classes.iter().enumerate() {
        if wanted.is_done_with(at) || class.thick > stock.thick || class.wide > stock.wide {
            continue;
        }
        let left = &wanted.left[at];
        let side_by_side = (safe(stock.wide) + kerf) / (safe(class.wide) + kerf).max(1);
        for lanes in 1..=side_by_side.clamp(1, 12) {
            let length = length_of(class, left, u32::try_from(lanes).unwrap_or(1));
            ends.push(with_bad(length.max(if class.is_block { 0 } else { least - from }), end));
        }
        for piece in (0..left.len()).filter(|piece| left[*piece] > 0) {
            let alone = safe(class.pieces[piece].first) + pitch(class, piece) - kerf.min(pitch(class, piece) - 1);
            ends.push(from + alone);
        }
    }
    if taste == Taste::Mixed {
        // So that what is left of the board is as long as one of these.
        ends.extend(ends.clone().into_iter().map(|to| end - kerf - (to - from)));
    }
    ends.retain(|to| *to > from && *to <= end);
    ends.sort_unstable();
    ends.dedup();
    // The more kinds of lanes there are, the more alike are the sections that they make.
    let most = match taste {
        _ if problem.classes.len() > MANY => LENGTHS_OF_MANY,
        Taste::Mixed => LENGTHS[0],
        Taste::Dense | Taste::Much | Taste::Long | Taste::Other(_) => LENGTHS[1],
    };
    if ends.len() > most {
        let step = ends.len().div_ceil(most);
        ends = ends.iter().rev().step_by(step).copied().collect();
    }
    ends
}

/// The lanes of a section, by what they give for their width; then the section is cut as short as they allow.
fn drafted(
    problem: &Problem,
    stock: &Stock,
    wanted: &Wanted,
    (from, to): (i64, i64),
    taste: Taste,
    steps: &mut u64,
) -> Option<Draft> {
    let kerf = safe(problem.kerf);
    // Pieces of one sort side by side want fewer stops: mixes are for what does not fit otherwise.
    let is_mixed = matches!(taste, Taste::Other(_) | Taste::Mixed);
    let is_rippable = to - from >= safe(problem.least_section);
    let mut offers: Vec<Offer> = Vec::new();
    for (at, class) in problem.classes.iter().enumerate() {
        if class.thick > stock.thick || class.wide > stock.wide || !(class.is_block || is_rippable) {
            continue;
        }
        let mut left = wanted.left[at].clone();
        let most = (safe(stock.wide) + kerf) / (safe(class.wide) + kerf).max(1);
        for _ in 0..most {
            *steps += 1;
            let filled = lane::fill(class, &left, (from, to), &stock.avoid, (kerf, is_mixed));
            if filled.runs.is_empty() {
                break;
            }
            for run in &filled.runs {
                left[run.piece] = left[run.piece].saturating_sub(run.count);
            }
            offers.push(Offer {
                class: at,
                width: safe(class.wide) + kerf,
                value: filled.used * safe(class.wide) * wanted.weight[at],
                filled,
            });
        }
    }
    let taken = knapsack(&offers, safe(stock.wide) + kerf, steps);
    if taken.is_empty() {
        return None;
    }
    let mut lanes: Vec<&Offer> = taken.into_iter().filter_map(|at| offers.get(at)).collect();
    // One setting of the fence after the other.
    lanes.sort_by_key(|offer| (Reverse(offer.width), offer.class));
    let is_block = |offer: &&Offer| problem.classes[offer.class].is_block;
    let least = if lanes.iter().all(is_block) { 0 } else { from + safe(problem.least_section) };
    let to = lanes.iter().map(|offer| offer.filled.needs).fold(least, i64::max).min(to);
    let used = lanes.iter().map(|offer| i128::from(offer.value)).sum();
    let lanes = lanes.into_iter().map(|offer| Lane { class: offer.class, runs: offer.filled.runs.clone() }).collect();
    Some(Draft { section: Section { from: Um(from), to: Um(to), lanes }, used })
}

/// A lane that could be ripped; those of one class from the fullest down.
struct Offer {
    class: usize,
    width: i64,
    value: i64,
    filled: Filled,
}

/// Trials of other choices of lanes for one section.
const TRIALS: u32 = 600;

/// Which lanes give most from a width: tried with the best for their width first, as far as the trials reach. Of one
/// class the fuller is taken before the emptier, as they stand.
fn knapsack(offers: &[Offer], room: i64, steps: &mut u64) -> Vec<usize> {
    let mut order: Vec<usize> = (0..offers.len()).collect();
    #[allow(clippy::cast_precision_loss, reason = "only compared, and alike on every machine")]
    let worth = |at: &usize| offers[*at].value as f64 / offers[*at].width.max(1) as f64;
    order.sort_by(|a, b| worth(b).total_cmp(&worth(a)).then(a.cmp(b)));
    let mut search = Knapsack { offers, order: &order, best: (0, Vec::new()), taken: Vec::new(), trials: 0 };
    search.go(0, room, 0);
    *steps += u64::from(search.trials) / 8;
    search.best.1
}

struct Knapsack<'a> {
    offers: &'a [Offer],
    order: &'a [usize],
    best: (i128, Vec<usize>),
    taken: Vec<usize>,
    trials: u32,
}

impl Knapsack<'_> {
    fn go(&mut self, at: usize, room: i64, value: i128) {
        self.trials += 1;
        if value > self.best.0 {
            self.best = (value, self.taken.clone());
        }
        let Some(next) = self.order.get(at).copied() else { return };
        if self.trials > TRIALS {
            return;
        }
        // No choice gives more than the best for its width over all that is left.
        let offer = &self.offers[next];
        let most = value + i128::from(offer.value) * i128::from(room.max(0)) / i128::from(offer.width.max(1));
        if most <= self.best.0 {
            return;
        }
        if offer.width <= room {
            self.taken.push(next);
            self.go(at + 1, room - offer.width, value + i128::from(offer.value));
            self.taken.pop();
        }
        self.go(at + 1, room, value);
    }
}
