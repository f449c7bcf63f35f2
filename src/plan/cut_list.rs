//! Layers to cuts: pieces that are sawn alike stand in one row, rows of one miter in one setup, and
//! every row says which strip it comes from and how much of it is used up.

use std::cmp::{Ordering, Reverse};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use crate::geometry::{RingSet, RingShape, SegmentCut};
use crate::quantity::{Angle, Count, Length, Measure};
use crate::resolve::{LayerKind, Recipe};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::boards::{self, BoardRow};
use super::budget::ErrorBudget;
use super::cones::{self, ConeRow};
use super::rounds::{self, DiscRow};
use super::spacers::{self, SpacerRow};
use super::staves::{self, StaveRow};
use super::strips::{self, Strip};
use super::{Planned, to_u32};

/// Everything to saw, in the order of sawing.
#[derive(Debug, Clone, Default)]
pub struct CutList {
    /// The boards to glue up before anything is ripped from them.
    pub boards: Vec<BoardRow>,
    /// One for each setting of miter gauge and blade, the steepest angle first.
    pub setups: Vec<Setup>,
    /// Setup by setup; in each the longest first, so that a piece gone wrong can be cut down.
    pub rows: Vec<CutRow>,
    /// The strips to rip for them.
    pub strips: Vec<Strip>,
    /// Staves, ripped along the grain.
    pub staves: Vec<StaveRow>,
    /// Rounds: discs, sheets, plugs.
    pub discs: Vec<DiscRow>,
    /// The strips that stand on joints.
    pub spacers: Vec<SpacerRow>,
    /// Boards that cones are sawn from.
    pub cones: Vec<ConeRow>,
    /// What each layer takes, by its place in [`Vessel::layers`](crate::geometry::Vessel::layers);
    /// empty for what is no ring.
    pub of_layer: Vec<Vec<LayerCut>>,
}

/// Where the letters of each kind of row begin; those of the segments begin at 0.
#[derive(Debug, Clone, Copy)]
pub struct Letters {
    /// Staves.
    pub staves: usize,
    /// Rounds.
    pub discs: usize,
    /// Spacers.
    pub spacers: usize,
    /// Cones.
    pub cones: usize,
    /// Blanks of inserts.
    pub inserts: usize,
}

impl CutList {
    /// Where the letters of each kind of row begin.
    #[must_use]
    pub fn letters(&self) -> Letters {
        let staves = self.rows.len();
        let discs = staves + self.staves.len();
        let spacers = discs + self.discs.len();
        let cones = spacers + self.spacers.len();
        Letters { staves, discs, spacers, cones, inserts: cones + self.cones.len() }
    }

    /// How wide the strip is that a layer is sawn from, of staves how thick the board, before it is rounded up for the saw; none
    /// of a layer of other stuff. It may be more than the layer needs, where it is shared.
    #[must_use]
    pub fn strip_of(&self, layer: usize) -> Option<Length> {
        let is_for = |serves: &[Serving]| serves.iter().any(|serving| serving.layer == layer);
        let strips = self.rows.iter().filter(|row| is_for(&row.serves)).map(|row| row.strip_width.value);
        let boards = self.staves.iter().filter(|row| is_for(&row.serves)).map(|row| row.thickness.value);
        strips.chain(boards).reduce(Length::max)
    }
}

/// One setting of miter gauge and blade.
#[derive(Debug, Clone)]
pub struct Setup {
    /// In the rings that are sawn so, each count once, rising.
    pub segments: Vec<u32>,
    /// Off a square cut.
    pub miter: Known<Angle>,
    /// Tilt of the blade.
    pub bevel: Known<Angle>,
    /// Its rows in [`CutList::rows`].
    pub rows: Range<usize>,
    /// How many pieces sawn so make a ring of their own, to test the setting with; not every angle has such a count.
    pub closes: Option<u32>,
    /// What an error of the saw costs; nothing adds up where no ring is closed.
    pub closing: Option<Closing>,
}

/// What the saw's error at every cut, all the same way, does to that ring of a setup which it opens widest.
#[derive(Debug, Clone, Copy)]
pub struct Closing {
    /// Of each cut, as the shop says.
    pub error: Known<Angle>,
    /// By how much the ring fails to close.
    pub opening: Known<Angle>,
    /// The gap that this leaves at its outer corners.
    pub gap: Known<Length>,
}

/// Pieces that are sawn alike.
#[derive(Debug, Clone)]
pub struct CutRow {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Segments in the ring.
    pub segments: u32,
    /// Off a square cut.
    pub miter: Known<Angle>,
    /// Tilt of the blade.
    pub bevel: Known<Angle>,
    /// Of the strip, before flattening.
    pub rough_thickness: Known<Length>,
    /// Of the strip.
    pub strip_width: Known<Length>,
    /// What the stop is set to.
    pub long_edge: Known<Length>,
    /// To check a piece by.
    pub short_edge: Known<Length>,
    /// How many pieces.
    pub count: u32,
    /// Which layers they are for.
    pub serves: Vec<Serving>,
    /// Of the strip, with the kerfs, the strip turned over after each cut.
    pub net: Known<Length>,
    /// Index into [`CutList::strips`].
    pub strip: usize,
    /// Index into [`CutList::setups`].
    pub setup: usize,
}

/// Pieces of a row that go to one layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Serving {
    /// Index into the vessel's layers.
    pub layer: usize,
    /// How many pieces.
    pub count: u32,
}

/// What one layer takes of one wood in one size.
#[derive(Debug, Clone, Copy)]
pub struct LayerCut {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Index into the cuts of the ring.
    pub cut: usize,
    /// How many segments.
    pub count: Known<Count>,
    /// Of the strip, with the kerfs; of staves, of the board's width.
    pub net: Known<Length>,
}

pub(super) static ALL_PIECES: Formula = Formula {
    gives: "strip used by all pieces",
    words: "added up over the cuts from this strip",
    inputs: &["pieces of a cut"],
};

/// Groups all that is sawn.
pub(super) fn cut_list(
    recipe: &Recipe,
    vessel: &crate::geometry::Vessel,
    layers: &[Planned<'_>],
    budgets: &[Option<ErrorBudget>],
    ledger: &mut Ledger,
) -> CutList {
    let of_layer: Vec<Vec<LayerCut>> = layers.iter().map(|layer| layer_cuts(*layer, recipe, ledger)).collect();
    let items = items(layers, &of_layer);
    let (flat, upright): (Vec<Item<'_>>, Vec<Item<'_>>) = items.into_iter().partition(|item| !item.is_stave());
    let (mut rows, strip_rows) = rows(&flat, ledger);
    let strips: Vec<Strip> =
        strip_rows.into_iter().map(|of_strip| strips::strip(of_strip, &rows, recipe, layers, ledger)).collect();
    for row in &mut rows {
        row.strip_width = strips[row.strip].width;
    }
    let mut list = CutList {
        boards: Vec::new(),
        setups: setups(&rows, budgets),
        rows,
        strips,
        staves: staves::rows(&upright, ledger),
        discs: rounds::rows(layers, ledger),
        spacers: spacers::rows(layers, recipe, ledger),
        cones: cones::rows(vessel, recipe, ledger),
        of_layer,
    };
    list.boards = boards::rows(recipe, &list, ledger);
    list
}

/// Pieces of one layer that are alike.
#[derive(Clone, Copy)]
pub(super) struct Item<'a> {
    pub layer: Planned<'a>,
    /// Index into the vessel's layers.
    pub at: usize,
    pub ring: &'a RingShape,
    pub size: &'a SegmentCut,
    pub cut: LayerCut,
}

impl Item<'_> {
    fn is_stave(&self) -> bool {
        matches!(self.ring.set, RingSet::Upright(_))
    }
}

fn items<'a>(layers: &[Planned<'a>], of_layer: &[Vec<LayerCut>]) -> Vec<Item<'a>> {
    let of_one = |(at, (layer, cuts)): (usize, (&Planned<'a>, &Vec<LayerCut>))| {
        let (layer, ring) = (*layer, layer.ring());
        let item = move |cut: &LayerCut| {
            let ring = ring?;
            Some(Item { layer, at, ring, size: ring.cuts.get(cut.cut)?, cut: *cut })
        };
        cuts.iter().filter_map(item).collect::<Vec<_>>()
    };
    layers.iter().zip(of_layer).enumerate().flat_map(of_one).collect()
}

/// Widths that lie no farther apart are ripped as one strip, as wide as the widest: no table saw's
/// fence is set finer (common practice), and a hair more wood inside does no harm.
pub const ONE_STRIP: Length = Length::from_mm(0.25);

/// Numbers of miter (the steepest first), of long edge (the longest first), segments in the ring, strip
/// width (and whether it is given) and thickness, wood: what makes pieces alike, in the order of sawing.
type Sawing = (Reverse<usize>, Reverse<usize>, usize, (usize, bool), usize, usize);

/// The rows in the order of sawing, and for each strip the rows that come from it.
fn rows(items: &[Item<'_>], ledger: &mut Ledger) -> (Vec<CutRow>, Vec<Vec<usize>>) {
    let width = |item: &Item<'_>| item.ring.strip_width.value;
    // A strip that is there already has the width it has.
    let of_width = |within| cluster(items.iter().map(|item| Some(width(item).mm())), within);
    let (exact, ripped) = (of_width(Length::ZERO), of_width(ONE_STRIP));
    let of_strip = |at: usize| {
        let is_given = is_strip_given(items[at].layer);
        (if is_given { exact[at] } else { ripped[at] }, is_given)
    };
    let alike = |length: fn(&Item<'_>) -> f64| cluster(items.iter().map(|item| Some(length(item))), Length::ZERO);
    let thicknesses = alike(|item| item.layer.built.rough_thickness.value.mm());
    let edges = alike(|item| item.size.long_edge.value.mm());
    let miters = alike(|item| item.size.miter.value.degrees());

    let mut alike: BTreeMap<Sawing, Vec<Item<'_>>> = BTreeMap::new();
    for (at, item) in items.iter().enumerate() {
        let segments = item.ring.woods.len();
        let angle_and_edge = (Reverse(miters[at]), Reverse(edges[at]));
        let key = (angle_and_edge.0, angle_and_edge.1, segments, of_strip(at), thicknesses[at], item.cut.wood);
        alike.entry(key).or_default().push(*item);
    }

    let (mut rows, mut strip_rows) = (Vec::new(), Vec::<Vec<usize>>::new());
    let (mut strips, mut setup, mut miter_before) = (BTreeMap::new(), 0, None);
    for ((miter, _, segments, (width_number, is_given), thickness, wood), cuts) in alike {
        // What is told is the piece from the widest strip: all of the row are sawn from that one.
        let wider = |a: &&Item<'_>, b: &&Item<'_>| width(a).partial_cmp(&width(b)).unwrap_or(Ordering::Equal);
        let Some(item) = cuts.iter().max_by(wider) else { continue };
        setup += usize::from(miter_before.is_some_and(|before| before != miter));
        miter_before = Some(miter);
        let strip = *strips.entry((wood, width_number, is_given, thickness)).or_insert_with(|| {
            strip_rows.push(Vec::new());
            strip_rows.len() - 1
        });
        strip_rows[strip].push(rows.len());
        let net: Vec<Known<Length>> = cuts.iter().map(|item| item.cut.net).collect();
        let serves = serves(&cuts);
        rows.push(CutRow {
            wood,
            segments: to_u32(segments),
            miter: item.size.miter,
            bevel: item.size.bevel,
            rough_thickness: item.layer.built.rough_thickness,
            strip_width: item.ring.strip_width,
            long_edge: item.size.long_edge,
            short_edge: item.size.short_edge,
            count: counted(&serves),
            serves,
            net: total(ledger, &ALL_PIECES, &net),
            strip,
            setup,
        });
    }
    (rows, strip_rows)
}

pub(super) fn serves(items: &[Item<'_>]) -> Vec<Serving> {
    items.iter().map(|item| Serving { layer: item.at, count: item.cut.count.value.0 }).collect()
}

pub(super) fn counted(serves: &[Serving]) -> u32 {
    serves.iter().fold(0, |sum, serving| sum.saturating_add(serving.count))
}

pub(super) fn is_strip_given(layer: Planned<'_>) -> bool {
    match &layer.said.kind {
        LayerKind::Ring(ring) => ring.strip.is_some(),
        LayerKind::Disc { .. } | LayerKind::Slant(_) => false,
    }
}

/// How much a ring takes of each wood and size, in the order in which they come round it.
fn layer_cuts(layer: Planned<'_>, recipe: &Recipe, ledger: &mut Ledger) -> Vec<LayerCut> {
    let (Some(ring), LayerKind::Ring(said)) = (layer.ring(), &layer.said.kind) else { return Vec::new() };
    let mut counts: Vec<((usize, usize), u32)> = Vec::new();
    for (segment, wood) in ring.woods.iter().enumerate() {
        let kind = (*wood, ring.cut_of.get(segment).copied().unwrap_or(0));
        match counts.iter_mut().find(|(known, _)| *known == kind) {
            Some((_, count)) => *count += 1,
            None => counts.push((kind, 1)),
        }
    }
    let counted = |count| Known::new(Count(count), Origin::Written(said.pattern.span));
    counts
        .into_iter()
        .filter_map(|((wood, cut), count)| {
            let (count, size) = (counted(count), ring.cuts.get(cut)?);
            let kerf = recipe.shop.kerf;
            let net = match ring.set {
                RingSet::Upright(_) => staves::net(count, size, kerf, ledger),
                RingSet::Round | RingSet::ToMiddle { .. } => {
                    strips::net(count, size, kerf, boards::may_be_turned_over(recipe, wood), ledger)
                }
            };
            Some(LayerCut { wood, cut, count, net })
        })
        .collect()
}

/// One setup for each run of rows with the same setting.
fn setups(rows: &[CutRow], budgets: &[Option<ErrorBudget>]) -> Vec<Setup> {
    let mut setups = Vec::new();
    let mut start = 0;
    for alike in rows.chunk_by(|a, b| a.setup == b.setup) {
        let range = start..start + alike.len();
        start = range.end;
        let Some(row) = alike.first() else { continue };
        let served =
            alike.iter().flat_map(|row| &row.serves).filter_map(|serving| budgets.get(serving.layer)?.as_ref());
        let segments: BTreeSet<u32> = alike.iter().map(|row| row.segments).collect();
        setups.push(Setup {
            segments: segments.into_iter().collect(),
            miter: row.miter,
            bevel: row.bevel,
            rows: range,
            closes: closes(row.miter.value),
            closing: closing(served),
        });
    }
    setups
}

/// What the error costs in that of the rings served which it opens widest.
fn closing<'a>(served: impl Iterator<Item = &'a ErrorBudget>) -> Option<Closing> {
    let widest = served.max_by(|a, b| a.worst.gap.value.mm().total_cmp(&b.worst.gap.value.mm()))?;
    Some(Closing { error: widest.angle_error, opening: widest.worst.opening, gap: widest.worst.gap })
}

/// How many pieces of that miter make a ring.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked to lie near a count")]
fn closes(miter: Angle) -> Option<u32> {
    let count = 180.0 / miter.degrees();
    let is_count = (3.0 - 1e-9..=1e6).contains(&count) && (count - count.round()).abs() < 1e-6 * count;
    is_count.then(|| count.round() as u32)
}

/// The count of a ring's segments with its origin.
pub(super) fn segments_of(layer: Planned<'_>) -> Option<Known<Count>> {
    match &layer.said.kind {
        LayerKind::Ring(ring) => Some(ring.segments),
        LayerKind::Disc { .. } | LayerKind::Slant(_) => None,
    }
}

/// A sum that keeps the single part's own origin when there is only one.
pub(super) fn total<T: Measure + std::iter::Sum>(
    ledger: &mut Ledger,
    formula: &'static Formula,
    parts: &[Known<T>],
) -> Known<T> {
    match parts {
        [only] => *only,
        _ => ledger.total(formula, parts),
    }
}

/// Numbers things by their rising values, the same number for what no saw could tell apart, or what
/// differs by no more than `within` millimeters; things without one get 0. The first of a run decides, so
/// that a run cannot drift.
pub(super) fn cluster(values: impl Iterator<Item = Option<f64>>, within: Length) -> Vec<usize> {
    const ALIKE: f64 = 1e-6;
    let values: Vec<Option<f64>> = values.collect();
    let mut numbers = vec![0; values.len()];
    let mut sorted: Vec<(f64, usize)> =
        values.iter().enumerate().filter_map(|(at, value)| Some(((*value)?, at))).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let (mut number, mut first) = (0, None);
    for (value, at) in sorted {
        let first_of_run = *first.get_or_insert(value);
        if value - first_of_run > within.mm() + ALIKE * value.abs().max(1.0) {
            number += 1;
            first = Some(value);
        }
        numbers[at] = number;
    }
    numbers
}
