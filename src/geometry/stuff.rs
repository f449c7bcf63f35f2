//! A layer's wood by kind: what its segments of each wood, its spacers and its plug take of it.

use crate::quantity::{Count, Volume};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::vessel::{LayerShape, RingShape, StuffShare};

static SHARE: Formula = Formula {
    gives: "share of the layer's wood",
    words: "the layer's wood × segments of this wood / segments: every segment of a ring is alike",
    inputs: &["the layer's wood", "segments of this wood", "segments"],
};

/// What each kind of stuff takes of a layer of so much wood.
pub(super) fn shares(
    shape: &LayerShape,
    finished: Known<Volume>,
    blank: Known<Volume>,
    ledger: &mut Ledger,
) -> Vec<StuffShare> {
    let whole = |wood: usize, pieces: Count| StuffShare { wood, pieces, finished, blank };
    match shape {
        LayerShape::Disc { wood, .. } => vec![whole(*wood, Count(1))],
        LayerShape::Slant(slant) => vec![whole(slant.wood, Count(1))],
        LayerShape::Ring(ring) => match counts(ring).as_slice() {
            [(wood, pieces)] => vec![whole(*wood, Count(*pieces))],
            counts => {
                let all = Known::new(Count(counts.iter().map(|(_, count)| count).sum()), COUNTED);
                counts
                    .iter()
                    .map(|(wood, count)| share_of(*wood, Count(*count), all, (finished, blank), ledger))
                    .collect()
            }
        },
    }
}

const COUNTED: Origin = Origin::Default(&"counted in the pattern");

fn share_of(
    wood: usize,
    pieces: Count,
    all: Known<Count>,
    (finished, blank): (Known<Volume>, Known<Volume>),
    ledger: &mut Ledger,
) -> StuffShare {
    let some = Known::new(pieces, COUNTED);
    let mut part = |volume| {
        ledger.work(&SHARE, (volume, some, all), |(volume, some, all)| {
            volume * (f64::from(some.0) / f64::from(all.0.max(1)))
        })
    };
    StuffShare { wood, pieces, finished: part(finished), blank: part(blank) }
}

/// How many segments are of each wood, in the order of their first.
fn counts(ring: &RingShape) -> Vec<(usize, u32)> {
    let mut counts: Vec<(usize, u32)> = Vec::new();
    for wood in &ring.woods {
        match counts.iter_mut().find(|(other, _)| other == wood) {
            Some((_, count)) => *count += 1,
            None => counts.push((*wood, 1)),
        }
    }
    counts
}
