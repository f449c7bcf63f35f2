//! Staves: ripped along the grain from boards as thick as they are, the blade tilted.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use crate::geometry::{RingSet, SegmentCut};
use crate::quantity::{Angle, Count, Length, Volume};
use crate::workings::{Formula, Known, Ledger};

use super::cut_list::{Item, Serving, cluster, counted, is_strip_given, serves, total};
use super::to_u32;

/// Staves that are sawn alike.
#[derive(Debug, Clone)]
pub struct StaveRow {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Staves in the ring.
    pub segments: u32,
    /// From upright, outward positive.
    pub lean: Known<Angle>,
    /// Of the blade, from square to the face, at both edges.
    pub tilt: Known<Angle>,
    /// Taper of each edge, off a line along the middle; 0 when the staves stand upright.
    pub taper: Known<Angle>,
    /// Of the board.
    pub thickness: Known<Length>,
    /// Whether the recipe gives it.
    pub is_given: bool,
    /// Outside width at the wider end.
    pub wide: Known<Length>,
    /// Outside width at the narrower end.
    pub narrow: Known<Length>,
    /// Along the grain, both ends cut level afterwards.
    pub length: Known<Length>,
    /// How many.
    pub count: u32,
    /// Which layers they are for.
    pub serves: Vec<Serving>,
    /// Of boards as long as the staves, with the kerfs.
    pub across: Known<Length>,
    /// Their wood.
    pub volume: Known<Volume>,
}

/// No stave is turned over to nest in the next one: each is ripped square to its wider end first, and
/// then both its edges are sawn off at the blade's tilt.
static ACROSS: Formula = Formula {
    gives: "board used by the staves",
    words: "staves × (outside width at the wider end + kerf / cos(tilt)), across boards as long as the staves",
    inputs: &["staves", "wider end", "kerf", "tilt"],
};

static ALL_ACROSS: Formula = Formula {
    gives: "board used by all staves of a size",
    words: "added up over the layers",
    inputs: &["staves of a layer"],
};

static VOLUME: Formula = Formula {
    gives: "wood for staves",
    words: "width used × length × thickness",
    inputs: &["width used", "length", "board thickness"],
};

/// What so many staves take of a board's width.
pub(super) fn net(count: Known<Count>, size: &SegmentCut, kerf: Known<Length>, ledger: &mut Ledger) -> Known<Length> {
    ledger.work(&ACROSS, (count, size.long_edge, kerf, size.bevel), |(count, wide, kerf, tilt)| {
        (wide + kerf / tilt.cos()) * f64::from(count.0)
    })
}

/// Numbers of tilt and taper (the steepest first), of the wider end (the widest first), length and board.
type Sawing = (Reverse<usize>, Reverse<usize>, Reverse<usize>, usize, usize, usize, usize);

/// The rows, those of one setting side by side.
pub(super) fn rows(items: &[Item<'_>], ledger: &mut Ledger) -> Vec<StaveRow> {
    let alike = |value: fn(&Item<'_>) -> f64| cluster(items.iter().map(|item| Some(value(item))), Length::ZERO);
    let tilts = alike(|item| item.size.bevel.value.degrees());
    let tapers = alike(|item| item.size.miter.value.degrees());
    let widths = alike(|item| item.size.long_edge.value.mm());
    let boards = alike(|item| item.ring.strip_width.value.mm());
    let lengths = alike(|item| match item.ring.set {
        RingSet::Upright(stave) => stave.length.value.mm(),
        RingSet::Round | RingSet::ToMiddle { .. } => 0.0,
    });
    let mut alike: BTreeMap<Sawing, Vec<Item<'_>>> = BTreeMap::new();
    for (at, item) in items.iter().enumerate() {
        let (segments, wood) = (item.ring.woods.len(), item.cut.wood);
        let angles = (Reverse(tilts[at]), Reverse(tapers[at]));
        let key = (angles.0, angles.1, Reverse(widths[at]), segments, lengths[at], boards[at], wood);
        alike.entry(key).or_default().push(*item);
    }
    alike.into_values().filter_map(|items| row(&items, ledger)).collect()
}

fn row(items: &[Item<'_>], ledger: &mut Ledger) -> Option<StaveRow> {
    let item = items.first()?;
    let RingSet::Upright(stave) = item.ring.set else { return None };
    let across = total(ledger, &ALL_ACROSS, &items.iter().map(|item| item.cut.net).collect::<Vec<_>>());
    let sides = (across, stave.length, item.ring.strip_width);
    let serves = serves(items);
    Some(StaveRow {
        wood: item.cut.wood,
        segments: to_u32(item.ring.woods.len()),
        lean: stave.lean,
        tilt: item.size.bevel,
        taper: item.size.miter,
        thickness: item.ring.strip_width,
        is_given: is_strip_given(item.layer),
        wide: item.size.long_edge,
        narrow: item.size.short_edge,
        length: stave.length,
        count: counted(&serves),
        serves,
        across,
        volume: ledger.work(&VOLUME, sides, |(across, long, thick)| across.by(long).over(thick)),
    })
}
