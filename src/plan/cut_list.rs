//! Layers to cuts: pieces that are sawn alike stand in one row, rows of one miter in one setup, and
//! every row says which strip it comes from and how much of it is used up.

use std::cmp::{Ordering, Reverse};
use std::collections::BTreeMap;
use std::ops::Range;

use crate::geometry::LayerShape;
use crate::quantity::{Angle, Count, Length, Measure, Volume};
use crate::resolve::{LayerKind, Recipe};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::{Planned, to_u32};

/// Everything to saw, in the order of sawing.
#[derive(Debug, Clone, Default)]
pub struct CutList {
    /// One for each setting of the miter gauge, the steepest angle first.
    pub setups: Vec<Setup>,
    /// Setup by setup; in each the longest first, so that a piece gone wrong can be cut down.
    pub rows: Vec<CutRow>,
    /// The strips to rip for them.
    pub strips: Vec<Strip>,
    /// Solid rounds.
    pub discs: Vec<DiscRow>,
    /// What each layer takes, by its place in [`Vessel::layers`](crate::geometry::Vessel::layers);
    /// empty for a disc.
    pub of_layer: Vec<Vec<LayerCut>>,
}

/// One setting of the miter gauge.
#[derive(Debug, Clone)]
pub struct Setup {
    /// In each ring that is sawn so.
    pub segments: u32,
    /// Off a square cut.
    pub miter: Known<Angle>,
    /// Its rows in [`CutList::rows`].
    pub rows: Range<usize>,
    /// By how much a whole ring fails to close when every cut is a tenth of a degree off.
    pub opening: Known<Angle>,
    /// The gap that this leaves in the largest ring of the setup, at its outside.
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

/// Stock of one wood, width and thickness, in all the length that is needed.
#[derive(Debug, Clone)]
pub struct Strip {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// To rip.
    pub width: Known<Length>,
    /// To plane.
    pub thickness: Known<Length>,
    /// Whether the recipe gives the width.
    pub is_given: bool,
    /// The rows that are cut from it.
    pub rows: Vec<usize>,
    /// For all the pieces and their kerfs.
    pub net: Known<Length>,
    /// Lost to the first cut of each miter.
    pub first_cuts: Known<Length>,
    /// The tail under the clamp.
    pub hold: Known<Length>,
    /// All three, if it is one strip; every further strip takes `first_cuts` and `hold` once more.
    pub length: Known<Length>,
    /// Its wood.
    pub volume: Known<Volume>,
}

/// Rounds that are sawn alike.
#[derive(Debug, Clone)]
pub struct DiscRow {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Of the round to saw.
    pub diameter: Known<Length>,
    /// Before flattening.
    pub thickness: Known<Length>,
    /// Indexes into the vessel's layers.
    pub layers: Vec<usize>,
    /// Of the square boards they are sawn from, all together.
    pub volume: Known<Volume>,
}

/// What one layer takes of one wood.
#[derive(Debug, Clone, Copy)]
pub struct LayerCut {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// How many segments.
    pub count: Known<Count>,
    /// Of the strip, with the kerfs.
    pub net: Known<Length>,
}

/// Consumption along a strip; formula and its check by laying out real kerfs: a kerf runs slantwise
/// and takes kerf / cos(miter) of the strip.
static PIECES_OF_STRIP: Formula = Formula {
    gives: "strip used by the pieces",
    words: "pieces × ((long edge + short edge) / 2 + kerf / cos(miter)), the strip turned over after each cut",
    inputs: &["pieces", "long edge", "short edge", "kerf", "miter"],
};

static FIRST_CUT: Formula = Formula {
    gives: "strip lost to the first cut",
    words: "strip width × tan(miter) + kerf / cos(miter): the slanting end and the cut that makes it",
    inputs: &["strip width", "miter", "kerf"],
};

static ALL_PIECES: Formula = Formula {
    gives: "strip used by all pieces",
    words: "added up over the cuts from this strip",
    inputs: &["pieces of a cut"],
};

static ALL_FIRST_CUTS: Formula = Formula {
    gives: "strip lost to first cuts",
    words: "added up over the miters cut from this strip",
    inputs: &["first cut"],
};

static STRIP_LENGTH: Formula = Formula {
    gives: "strip length",
    words: "pieces + first cuts + tail under the clamp",
    inputs: &["pieces", "first cuts", "tail"],
};

static STRIP_VOLUME: Formula = Formula {
    gives: "wood of a strip",
    words: "width × thickness × length",
    inputs: &["strip width", "thickness", "strip length"],
};

static DISC_VOLUME: Formula = Formula {
    gives: "wood for rounds",
    words: "rounds × diameter × diameter × thickness: each is sawn from a square",
    inputs: &["rounds", "diameter", "thickness"],
};

static OPENING: Formula = Formula {
    gives: "angle by which a ring fails to close",
    words: "2 × segments × error of each cut",
    inputs: &["segments", "error of each cut"],
};

static GAP: Formula = Formula {
    gives: "gap in a ring",
    words: "2 × radius × sin(half the angle by which it fails to close)",
    inputs: &["outside radius", "angle"],
};

const TENTH: Known<Angle> =
    Known::new(Angle::from_degrees(0.1), Origin::Default(&"a tenth of a degree, to show what an error costs"));

/// What `pieces` take of a strip that is turned over after each cut.
fn pieces_of_strip((pieces, long, short, kerf, miter): (Count, Length, Length, Length, Angle)) -> Length {
    ((long + short) / 2.0 + kerf / miter.cos()) * f64::from(pieces.0)
}

fn first_cut((width, miter, kerf): (Length, Angle, Length)) -> Length {
    width * miter.tan() + kerf / miter.cos()
}

/// Groups all that is sawn.
pub(super) fn cut_list(recipe: &Recipe, layers: &[Planned<'_>], ledger: &mut Ledger) -> CutList {
    let of_layer: Vec<Vec<LayerCut>> = layers.iter().map(|layer| layer_cuts(*layer, recipe, ledger)).collect();
    let (mut rows, strip_rows) = rows(layers, &of_layer, ledger);
    let strips: Vec<Strip> =
        strip_rows.into_iter().map(|of_strip| strip(of_strip, &rows, recipe, layers, ledger)).collect();
    for row in &mut rows {
        row.strip_width = strips[row.strip].width;
    }
    let setups = setups(&rows, layers, ledger);
    CutList { setups, rows, strips, discs: discs(layers, ledger), of_layer }
}

/// Widths that lie no farther apart are ripped as one strip, as wide as the widest: no table saw's
/// fence is set finer (common practice), and a hair more wood inside does no harm.
pub const ONE_STRIP: Length = Length::from_mm(0.25);

/// Segments in the ring, numbers of long edge (the longest first), strip width (and whether it is
/// given) and thickness, wood: what makes pieces alike, in the order of sawing.
type Sawing = (usize, Reverse<usize>, (usize, bool), usize, usize);

/// The rows in the order of sawing, and for each strip the rows that come from it.
fn rows(layers: &[Planned<'_>], of_layer: &[Vec<LayerCut>], ledger: &mut Ledger) -> (Vec<CutRow>, Vec<Vec<usize>>) {
    let width = |layer: &Planned<'_>| layer.ring().map(|ring| ring.strip_width.value);
    // A strip that is there already has the width it has.
    let (exact, ripped) = (cluster(layers, width, Length::ZERO), cluster(layers, width, ONE_STRIP));
    let of_strip = |at: usize| {
        let is_given = is_strip_given(layers[at]);
        (if is_given { exact[at] } else { ripped[at] }, is_given)
    };
    let thicknesses = cluster(layers, |layer| Some(layer.built.rough_thickness.value), Length::ZERO);
    let edges = cluster(layers, |layer| layer.ring().map(|ring| ring.cuts[0].long_edge.value), Length::ZERO);

    let mut alike: BTreeMap<Sawing, Vec<(usize, LayerCut)>> = BTreeMap::new();
    for (at, layer) in layers.iter().enumerate() {
        let Some(ring) = layer.ring() else { continue };
        for cut in &of_layer[at] {
            let key = (ring.woods.len(), Reverse(edges[at]), of_strip(at), thicknesses[at], cut.wood);
            alike.entry(key).or_default().push((at, *cut));
        }
    }

    let (mut rows, mut strip_rows) = (Vec::new(), Vec::<Vec<usize>>::new());
    let (mut strips, mut setup) = (BTreeMap::new(), 0);
    for ((segments, _, (width_number, is_given), thickness, wood), cuts) in alike {
        // What is told is the piece from the widest strip: all of the row are sawn from that one.
        let wider = |a: &Planned<'_>, b: &Planned<'_>| width(a).partial_cmp(&width(b)).unwrap_or(Ordering::Equal);
        let Some(layer) = cuts.iter().map(|(layer, _)| layers[*layer]).max_by(wider) else { continue };
        let Some(ring) = layer.ring() else { continue };
        let segments = to_u32(segments);
        setup += usize::from(rows.last().is_some_and(|row: &CutRow| row.segments != segments));
        let strip = *strips.entry((wood, width_number, is_given, thickness)).or_insert_with(|| {
            strip_rows.push(Vec::new());
            strip_rows.len() - 1
        });
        strip_rows[strip].push(rows.len());
        let net: Vec<Known<Length>> = cuts.iter().map(|(_, cut)| cut.net).collect();
        let serves: Vec<Serving> =
            cuts.iter().map(|(layer, cut)| Serving { layer: *layer, count: cut.count.value.0 }).collect();
        rows.push(CutRow {
            wood,
            segments,
            miter: ring.cuts[0].miter,
            rough_thickness: layer.built.rough_thickness,
            strip_width: ring.strip_width,
            long_edge: ring.cuts[0].long_edge,
            short_edge: ring.cuts[0].short_edge,
            count: serves.iter().fold(0, |sum, serving| sum.saturating_add(serving.count)),
            serves,
            net: total(ledger, &ALL_PIECES, &net),
            strip,
            setup,
        });
    }
    (rows, strip_rows)
}

fn is_strip_given(layer: Planned<'_>) -> bool {
    match &layer.said.kind {
        LayerKind::Ring(ring) => ring.strip.is_some(),
        LayerKind::Disc { .. } | LayerKind::Slant(_) => false,
    }
}

/// How much a ring takes of each wood, in the order in which the woods come round it.
fn layer_cuts(layer: Planned<'_>, recipe: &Recipe, ledger: &mut Ledger) -> Vec<LayerCut> {
    let (Some(ring), LayerKind::Ring(said)) = (layer.ring(), &layer.said.kind) else { return Vec::new() };
    let mut counts: Vec<(usize, u32)> = Vec::new();
    for wood in &ring.woods {
        match counts.iter_mut().find(|(known, _)| known == wood) {
            Some((_, count)) => *count += 1,
            None => counts.push((*wood, 1)),
        }
    }
    let counted = |count| Known::new(Count(count), Origin::Written(said.pattern.span));
    counts
        .into_iter()
        .map(|(wood, count)| {
            let count = counted(count);
            let inputs = (count, ring.cuts[0].long_edge, ring.cuts[0].short_edge, recipe.shop.kerf, ring.cuts[0].miter);
            LayerCut { wood, count, net: ledger.work(&PIECES_OF_STRIP, inputs, pieces_of_strip) }
        })
        .collect()
}

/// The strip that all of `of_strip` come from.
fn strip(of_strip: Vec<usize>, rows: &[CutRow], recipe: &Recipe, layers: &[Planned<'_>], ledger: &mut Ledger) -> Strip {
    let cut: Vec<&CutRow> = of_strip.iter().map(|row| &rows[*row]).collect();
    // No strip is without a row: the first one made it.
    let CutRow { wood, strip_width, rough_thickness: thickness, .. } = *cut[0];
    let width = cut
        .iter()
        .map(|row| row.strip_width)
        .fold(strip_width, |widest, width| if width.value > widest.value { width } else { widest });
    let mut miters = cut.clone();
    miters.dedup_by_key(|row| row.segments);
    let first_cuts: Vec<Known<Length>> =
        miters.iter().map(|row| ledger.work(&FIRST_CUT, (width, row.miter, recipe.shop.kerf), first_cut)).collect();
    let net = total(ledger, &ALL_PIECES, &cut.iter().map(|row| row.net).collect::<Vec<_>>());
    let first_cuts = total(ledger, &ALL_FIRST_CUTS, &first_cuts);
    let hold = recipe.shop.hold;
    let length = ledger.work(&STRIP_LENGTH, (net, first_cuts, hold), |(net, first, hold)| net + first + hold);
    let volume =
        ledger.work(&STRIP_VOLUME, (width, thickness, length), |(width, thick, long)| width.by(thick).over(long));
    let is_given = cut.iter().flat_map(|row| &row.serves).any(|serving| is_strip_given(layers[serving.layer]));
    Strip { wood, width, thickness, is_given, rows: of_strip, net, first_cuts, hold, length, volume }
}

/// One setup for each run of rows with the same count of segments.
fn setups(rows: &[CutRow], layers: &[Planned<'_>], ledger: &mut Ledger) -> Vec<Setup> {
    let mut setups = Vec::new();
    let mut start = 0;
    for alike in rows.chunk_by(|a, b| a.setup == b.setup) {
        let range = start..start + alike.len();
        start = range.end;
        let radius = |layer: &Planned<'_>| layer.built.blank_outer_radius;
        let largest = alike
            .iter()
            .flat_map(|row| &row.serves)
            .map(|serving| layers[serving.layer])
            .max_by(|a, b| radius(a).value.mm().total_cmp(&radius(b).value.mm()));
        let Some((row, largest)) = alike.first().zip(largest) else { continue };
        let Some(segments) = segments_of(largest) else { continue };
        let opening =
            ledger.work(&OPENING, (segments, TENTH), |(segments, error)| error * (2.0 * f64::from(segments.0)));
        let gap = ledger
            .work(&GAP, (radius(&largest), opening), |(radius, angle)| radius * (2.0 * (angle / 2.0).sin().abs()));
        setups.push(Setup { segments: row.segments, miter: row.miter, rows: range, opening, gap });
    }
    setups
}

/// The count of a ring's segments with its origin.
pub(super) fn segments_of(layer: Planned<'_>) -> Option<Known<Count>> {
    match &layer.said.kind {
        LayerKind::Ring(ring) => Some(ring.segments),
        LayerKind::Disc { .. } | LayerKind::Slant(_) => None,
    }
}

fn discs(layers: &[Planned<'_>], ledger: &mut Ledger) -> Vec<DiscRow> {
    let diameter = |layer: &Planned<'_>| match &layer.built.shape {
        LayerShape::Disc { wood, blank_diameter, .. } => Some((*wood, *blank_diameter)),
        LayerShape::Ring(_) | LayerShape::Slant(_) => None,
    };
    let thicknesses = cluster(layers, |layer| Some(layer.built.rough_thickness.value), Length::ZERO);
    let diameters = cluster(layers, |layer| diameter(layer).map(|(_, across)| across.value), Length::ZERO);
    let mut alike: BTreeMap<(usize, usize, usize), Vec<usize>> = BTreeMap::new();
    for (at, layer) in layers.iter().enumerate() {
        if let Some((wood, _)) = diameter(layer) {
            alike.entry((wood, thicknesses[at], diameters[at])).or_default().push(at);
        }
    }
    let mut rows = Vec::new();
    for layers_alike in alike.into_values() {
        let Some(layer) = layers_alike.first().map(|first| layers[*first]) else { continue };
        let Some((wood, diameter)) = diameter(&layer) else { continue };
        let thickness = layer.built.rough_thickness;
        let count = Known::new(Count(to_u32(layers_alike.len())), Origin::Written(layer.said.span));
        let volume = ledger.work(&DISC_VOLUME, (count, diameter, thickness), |(count, across, thick)| {
            across.by(across).over(thick) * f64::from(count.0)
        });
        rows.push(DiscRow { wood, diameter, thickness, layers: layers_alike, volume });
    }
    rows
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

/// Numbers the layers by the rising value of `length`, the same number for what no saw could tell
/// apart, or what differs by no more than `within`; layers without one get 0. The first of a run
/// decides, so that a run cannot drift.
fn cluster(layers: &[Planned<'_>], length: impl Fn(&Planned<'_>) -> Option<Length>, within: Length) -> Vec<usize> {
    const ALIKE: f64 = 1e-6;
    let mut values: Vec<(f64, usize)> =
        layers.iter().enumerate().filter_map(|(at, layer)| Some((length(layer)?.mm(), at))).collect();
    values.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let mut numbers = vec![0; layers.len()];
    let (mut number, mut first) = (0, None);
    for (value, at) in values {
        let first_of_run = *first.get_or_insert(value);
        if value - first_of_run > within.mm() + ALIKE * value.abs().max(1.0) {
            number += 1;
            first = Some(value);
        }
        numbers[at] = number;
    }
    numbers
}
