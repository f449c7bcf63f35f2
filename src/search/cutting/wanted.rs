//! What is still to be cut, in numbers that are safe to reckon with.

use super::{Class, Problem};

/// A kilometer: nothing in a shop is longer. Keeps every sum far from overflow.
const LONGEST: i64 = 1_000_000_000;

/// A length that is safe to reckon with.
pub(super) fn safe(length: super::Um) -> i64 {
    length.0.clamp(0, LONGEST)
}

/// Pieces of one class that are still to be cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Wanted {
    /// Of each class, of each of its pieces.
    pub left: Vec<Vec<u32>>,
    /// How much each class is worth for its wood when lanes are chosen; what a trial left over is worth more in the next.
    pub weight: Vec<i64>,
}

/// No class is worth more.
const HEAVIEST: i64 = 64;

impl Wanted {
    pub fn all(problem: &Problem) -> Self {
        Self {
            left: problem.classes.iter().map(|class| class.pieces.iter().map(|piece| piece.count).collect()).collect(),
            weight: vec![1; problem.classes.len()],
        }
    }

    /// What this trial left over becomes worth twice as much.
    pub fn learn(&self, weight: &mut [i64]) {
        for (class, weight) in weight.iter_mut().enumerate() {
            if !self.is_done_with(class) {
                *weight = (*weight * 2).min(HEAVIEST);
            }
        }
    }

    pub fn is_done(&self) -> bool {
        self.left.iter().flatten().all(|left| *left == 0)
    }

    pub fn is_done_with(&self, class: usize) -> bool {
        self.left[class].iter().all(|left| *left == 0)
    }
}

/// What a piece takes along its lane; never nothing, so that no lane holds endlessly many.
pub(super) fn pitch(class: &Class, piece: usize) -> i64 {
    safe(class.pieces[piece].pitch).max(1)
}

/// Of a lane with all pieces that are left of a class in `lanes` lanes of equal length, about.
pub(super) fn length_of(class: &Class, left: &[u32], lanes: u32) -> i64 {
    let mut settings: Vec<usize> = Vec::new();
    let mut sum = safe(class.tail);
    for (at, left) in left.iter().enumerate().filter(|(_, left)| **left > 0) {
        let piece = &class.pieces[at];
        sum += i64::from(left.div_ceil(lanes)) * pitch(class, at);
        if !settings.contains(&piece.setting) {
            settings.push(piece.setting);
            sum += safe(piece.first);
        }
    }
    sum
}

/// The least face of a board that a class takes, each lane reckoned with a kerf beside it and one behind it.
///
/// A lane takes its pieces, a first cut, the tail and a kerf; or it holds one piece alone, and then a strip takes the
/// shortest section that may be ripped. With m lanes of the first sort the rest is of the second. That sum is linear
/// in m until the first sort holds all, so its least lies at one of three m.
pub(super) fn least_face(problem: &Problem, class: &Class, left: &[u32], longest: i64) -> i128 {
    let kerf = safe(problem.kerf);
    let wanted = || left.iter().enumerate().filter(|(_, left)| **left > 0).map(|(at, _)| at);
    let all: i128 = wanted().map(|at| i128::from(left[at]) * i128::from(pitch(class, at))).sum();
    if all == 0 {
        return 0;
    }
    let first = wanted().map(|at| safe(class.pieces[at].first)).min().unwrap_or(0);
    let widest = wanted().map(|at| pitch(class, at)).max().unwrap_or(1);
    let least = if class.is_block { 0 } else { safe(problem.least_section) + kerf };
    let alone = i128::from(first.max(least - widest));
    let shared = i128::from(first + safe(class.tail) + kerf);
    let room = i128::from((longest - first - safe(class.tail)).max(1));
    let lanes = (all + room - 1) / room;
    // So many pieces alone, at the fewest.
    let rest = |lanes: i128| (all - lanes * room).max(0) / i128::from(widest);
    let over = [0, lanes - 1, lanes].map(|lanes| lanes * shared + rest(lanes) * alone);
    (all + over.into_iter().min().unwrap_or(0)) * i128::from(safe(class.wide) + kerf)
}

/// The face of a board, with a kerf beside it and one behind it.
pub(super) fn face(problem: &Problem, stock: &super::Stock) -> i128 {
    let kerf = safe(problem.kerf);
    i128::from(safe(stock.wide) + kerf) * i128::from(safe(stock.long) + kerf)
}
