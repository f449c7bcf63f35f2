//! What one lane holds.

use super::wanted::{pitch, safe};
use super::{Class, Run, Um};

/// A lane as it would be cut.
#[derive(Debug, Clone, Default)]
pub(super) struct Filled {
    pub runs: Vec<Run>,
    /// How far the section must reach for it: its last piece with its kerf and the tail; of a piece alone, just it.
    pub needs: i64,
    /// All its pieces, along.
    pub used: i64,
}

/// Fills a lane from `from` to `to` of a board with what is left of a class. Pieces that belong together come all or
/// not at all. Longer pieces first, setting by setting, so that the last bit is filled by the short ones; or, mixed, as uses
/// the lane best, whatever more stops that takes.
pub(super) fn fill(
    class: &Class,
    left: &[u32],
    (from, to): (i64, i64),
    avoid: &[(Um, Um)],
    (kerf, is_mixed): (i64, bool),
) -> Filled {
    let tail = safe(class.tail);
    let stretches = stretches((from, to - tail), avoid);
    let mut best = Filled::default();
    for together in groups(class, left) {
        let taken = in_stretches(class, left, &stretches, together);
        if taken.used > best.used {
            best = taken;
        }
    }
    if is_mixed
        && let [(from, to)] = stretches.as_slice()
        && let Some(mix) = Mix::best(class, left, to - from, best.used)
    {
        best = in_stretches(class, &mix, &stretches, None);
    }
    if let Some(end) = best.runs.last().map(|run| run.from.0 + i64::from(run.count) * pitch(class, run.piece)) {
        best.needs = end + tail;
        return best;
    }
    alone(class, left, (from, to), avoid, kerf)
}

/// Which counts of unlike pieces use most of one stretch, where it is more than the longest first would use.
struct Mix<'a> {
    class: &'a Class,
    left: &'a [u32],
    /// The pieces that are wanted and go anywhere, the longest first.
    order: Vec<usize>,
    counts: Vec<u32>,
    best: (i64, Option<Vec<u32>>),
}

/// So many fewer than fit are tried of each piece.
const FEWER: u32 = 3;
/// Of more kinds of pieces the longest first will do.
const KINDS: usize = 5;

impl Mix<'_> {
    fn best(class: &Class, left: &[u32], room: i64, beat: i64) -> Option<Vec<u32>> {
        let mut order: Vec<usize> =
            (0..left.len()).filter(|at| left[*at] > 0 && class.pieces[*at].together.is_none()).collect();
        if !(2..=KINDS).contains(&order.len()) {
            return None;
        }
        order.sort_by_key(|at| (std::cmp::Reverse(pitch(class, *at)), *at));
        let mut mix = Mix { class, left, order, counts: vec![0; left.len()], best: (beat, None) };
        mix.go(0, room, 0);
        mix.best.1
    }

    fn go(&mut self, at: usize, room: i64, used: i64) {
        if used > self.best.0 {
            self.best = (used, Some(self.counts.clone()));
        }
        let Some(piece) = self.order.get(at).copied() else { return };
        if used + room <= self.best.0 {
            return;
        }
        let of = &self.class.pieces[piece];
        let is_set = self.order[..at]
            .iter()
            .any(|other| self.counts[*other] > 0 && self.class.pieces[*other].setting == of.setting);
        let (first, own) = (if is_set { 0 } else { safe(of.first) }, pitch(self.class, piece));
        let most = u32::try_from(((room - first) / own).max(0)).unwrap_or(u32::MAX).min(self.left[piece]);
        let least = most.saturating_sub(FEWER);
        for count in (least..=most).rev().chain((least > 0).then_some(0)) {
            let along = i64::from(count) * own;
            self.counts[piece] = count;
            self.go(at + 1, room - along - if count > 0 { first } else { 0 }, used + along);
        }
        self.counts[piece] = 0;
    }
}

/// The clear parts of a stretch.
fn stretches((from, to): (i64, i64), avoid: &[(Um, Um)]) -> Vec<(i64, i64)> {
    let mut clear = Vec::with_capacity(avoid.len() + 1);
    let mut at = from;
    for (bad, good) in avoid {
        if bad.0 >= to {
            break;
        }
        if bad.0 > at {
            clear.push((at, bad.0));
        }
        at = at.max(good.0);
    }
    if at < to {
        clear.push((at, to));
    }
    clear
}

/// What may go into one lane: pieces that go anywhere, and with them one group of pieces that belong together.
fn groups(class: &Class, left: &[u32]) -> Vec<Option<usize>> {
    let mut groups: Vec<Option<usize>> = vec![None];
    for (piece, _) in class.pieces.iter().zip(left).filter(|(_, left)| **left > 0) {
        if piece.together.is_some() && !groups.contains(&piece.together) {
            groups.push(piece.together);
        }
    }
    groups
}

/// First the pieces of the group, then as many others as fit.
fn in_stretches(class: &Class, left: &[u32], stretches: &[(i64, i64)], together: Option<usize>) -> Filled {
    let mut state = Filling {
        class,
        left: left.to_vec(),
        free: stretches.to_vec(),
        settings: vec![Vec::new(); stretches.len()],
        runs: vec![Vec::new(); stretches.len()],
    };
    let longest_first = |wanted: &dyn Fn(usize) -> bool| {
        let mut pieces: Vec<usize> = (0..class.pieces.len()).filter(|at| left[*at] > 0 && wanted(*at)).collect();
        pieces.sort_by_key(|at| (std::cmp::Reverse(pitch(class, *at)), *at));
        pieces
    };
    if let Some(group) = together {
        for piece in longest_first(&|at| class.pieces[at].together == Some(group)) {
            state.put(piece);
            if state.left[piece] > 0 {
                return Filled::default();
            }
        }
    }
    // Setting by setting, that of most wood first.
    let mut settings: Vec<(i64, usize)> = Vec::new();
    for piece in longest_first(&|at| class.pieces[at].together.is_none()) {
        let (setting, wood) = (class.pieces[piece].setting, i64::from(left[piece]) * pitch(class, piece));
        match settings.iter_mut().find(|(_, known)| *known == setting) {
            Some((sum, _)) => *sum += wood,
            None => settings.push((wood, setting)),
        }
    }
    settings.sort_by_key(|(wood, setting)| (std::cmp::Reverse(*wood), *setting));
    for (_, setting) in settings {
        for piece in longest_first(&|at| class.pieces[at].together.is_none() && class.pieces[at].setting == setting) {
            state.put(piece);
        }
    }
    state.filled()
}

struct Filling<'a> {
    class: &'a Class,
    left: Vec<u32>,
    /// Of each stretch, what is free.
    free: Vec<(i64, i64)>,
    settings: Vec<Vec<usize>>,
    runs: Vec<Vec<(usize, u32)>>,
}

impl Filling<'_> {
    /// As many of a piece as fit.
    fn put(&mut self, piece: usize) {
        let of = &self.class.pieces[piece];
        for at in 0..self.free.len() {
            let first = if self.settings[at].contains(&of.setting) { 0 } else { safe(of.first) };
            let room = self.free[at].1 - self.free[at].0 - first;
            let fits = u32::try_from((room / pitch(self.class, piece)).max(0)).unwrap_or(u32::MAX);
            let count = fits.min(self.left[piece]);
            if count == 0 {
                continue;
            }
            if !self.settings[at].contains(&of.setting) {
                self.settings[at].push(of.setting);
            }
            self.free[at].0 += first + i64::from(count) * pitch(self.class, piece);
            self.left[piece] -= count;
            self.runs[at].push((piece, count));
        }
    }

    /// With places: the runs of one setting side by side, each setting behind its first cut.
    fn filled(self) -> Filled {
        let mut filled = Filled::default();
        for (at, runs) in self.runs.iter().enumerate() {
            let used: i64 = runs.iter().map(|(piece, count)| i64::from(*count) * pitch(self.class, *piece)).sum();
            let firsts: i64 = self.settings[at].iter().map(|setting| self.first(runs, *setting)).sum();
            let mut place = self.free[at].0 - used - firsts;
            for setting in &self.settings[at] {
                place += self.first(runs, *setting);
                for (piece, count) in runs.iter().filter(|(piece, _)| self.class.pieces[*piece].setting == *setting) {
                    filled.runs.push(Run { piece: *piece, count: *count, from: Um(place) });
                    place += i64::from(*count) * pitch(self.class, *piece);
                }
            }
            filled.used += used;
        }
        filled
    }

    /// The first cut of a setting, as the piece that was put first has it.
    fn first(&self, runs: &[(usize, u32)], setting: usize) -> i64 {
        let of_setting = runs.iter().find(|(piece, _)| self.class.pieces[*piece].setting == setting);
        of_setting.map_or(0, |(piece, _)| safe(self.class.pieces[*piece].first))
    }
}

/// One piece alone, just as long as the section: its last kerf is the section's.
fn alone(class: &Class, left: &[u32], (from, to): (i64, i64), avoid: &[(Um, Um)], kerf: i64) -> Filled {
    let is_lone = |at: usize| {
        let group = class.pieces[at].together;
        left[at] == 1
            && (0..left.len()).all(|other| other == at || left[other] == 0 || class.pieces[other].together != group)
    };
    let mut best = Filled::default();
    for at in (0..class.pieces.len()).filter(|at| left[*at] > 0) {
        let (first, own) = (safe(class.pieces[at].first), pitch(class, at));
        if class.pieces[at].together.is_some() && !is_lone(at) {
            continue;
        }
        let needs = from + first + own - kerf.min(own - 1);
        let is_clear = avoid.iter().all(|(bad, good)| good.0 <= from || bad.0 >= needs);
        if needs == to && is_clear && own > best.used {
            best = Filled { runs: vec![Run { piece: at, count: 1, from: Um(from + first) }], needs, used: own };
        }
    }
    best
}
