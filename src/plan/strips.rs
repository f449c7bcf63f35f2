//! Rows to the strips they come from, and how much of each is used up.

use crate::geometry::{SegmentCut, board};
use crate::quantity::{Angle, Count, Length, System, Volume, at_least};
use crate::resolve::Recipe;
use crate::workings::{Formula, Known, Ledger};

use super::Planned;
use super::boards::{self, may_be_turned_over};
use super::cut_list::{ALL_PIECES, CutRow, is_strip_given, total};

/// Stock of one wood, width and thickness, in all the length that is needed.
#[derive(Debug, Clone)]
pub struct Strip {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// To rip.
    pub width: Known<Length>,
    /// To plane; of a laminated board, what its plies make.
    pub thickness: Known<Length>,
    /// Whether the recipe gives the width.
    pub is_given: bool,
    /// Whether it may be turned over after each cut: not where its faces are unlike.
    pub may_be_turned_over: bool,
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

static FIRST_CUT_ONE_WAY: Formula = Formula {
    gives: "strip lost to the first cut",
    words: "kerf / cos(miter): where the strip is not turned over, every piece brings its slanting end with it",
    inputs: &["kerf", "miter"],
};

/// The end that the miter before has left slants by more than the new miter takes off a square one.
static NEW_MITER: Formula = Formula {
    gives: "strip lost to the first cut",
    words: "strip width × (tan(miter before) − tan(miter)) / 2 + kerf / cos(miter)",
    inputs: &["strip width", "miter before", "miter", "kerf"],
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

/// What `pieces` take of a strip that is turned over after each cut.
fn pieces_of_strip((pieces, long, short, kerf, miter): (Count, Length, Length, Length, Angle)) -> Length {
    ((long + short) / 2.0 + kerf / miter.cos()) * f64::from(pieces.0)
}

fn first_cut((width, miter, kerf): (Length, Angle, Length)) -> Length {
    width * miter.tan() + kerf / miter.cos()
}

fn new_miter((width, before, miter, kerf): (Length, Angle, Angle, Length)) -> Length {
    width * ((before.tan() - miter.tan()).abs() / 2.0) + kerf / miter.cos()
}

/// A width as it is told to the one who rips, and as it is ripped then: rounded up.
#[must_use]
pub fn ripped(width: Length, units: System) -> Length {
    at_least(width, units)
}

/// What each piece of a row takes of its strip, its kerf included.
pub(super) fn pitch(row: &CutRow, kerf: Length, may_be_turned_over: bool) -> Length {
    let (long, short, miter) = (row.long_edge.value, row.short_edge.value, row.miter.value);
    if may_be_turned_over {
        return pieces_of_strip((Count(1), long, short, kerf, miter));
    }
    board::pieces_one_way_up(Count(1), long, kerf, miter)
}

/// The most that the first cut of a row's miter takes of a strip, whichever miter was cut before it; `steepest` is
/// the tangent of the steepest that the strip sees.
pub(super) fn first_cut_at_most(
    row: &CutRow,
    width: Length,
    steepest: f64,
    kerf: Length,
    may_be_turned_over: bool,
) -> Length {
    let miter = row.miter.value;
    if !may_be_turned_over {
        return kerf / miter.cos();
    }
    let after_steepest = width * ((steepest - miter.tan()).max(0.0) / 2.0) + kerf / miter.cos();
    first_cut((width, miter, kerf)).max(after_steepest)
}

/// What so many pieces take of their strip.
pub(super) fn net(
    count: Known<Count>,
    size: &SegmentCut,
    kerf: Known<Length>,
    may_be_turned_over: bool,
    ledger: &mut Ledger,
) -> Known<Length> {
    if may_be_turned_over {
        let inputs = (count, size.long_edge, size.short_edge, kerf, size.miter);
        return ledger.work(&PIECES_OF_STRIP, inputs, pieces_of_strip);
    }
    let inputs = (count, size.long_edge, kerf, size.miter);
    ledger.work(&board::PIECES_ONE_WAY_UP, inputs, |(n, long, kerf, miter)| {
        board::pieces_one_way_up(n, long, kerf, miter)
    })
}

/// The strip that all of `of_strip` come from.
pub(super) fn strip(
    of_strip: Vec<usize>,
    rows: &[CutRow],
    recipe: &Recipe,
    layers: &[Planned<'_>],
    ledger: &mut Ledger,
) -> Strip {
    let cut: Vec<&CutRow> = of_strip.iter().map(|row| &rows[*row]).collect();
    // No strip is without a row: the first one made it.
    let CutRow { wood, strip_width, rough_thickness, .. } = *cut[0];
    let thickness = boards::thickness(recipe, wood, ledger).unwrap_or(rough_thickness);
    let width = cut
        .iter()
        .map(|row| row.strip_width)
        .fold(strip_width, |widest, width| if width.value > widest.value { width } else { widest });
    let may_be_turned_over = may_be_turned_over(recipe, wood);
    let first_cuts = first_cuts(&cut, width, recipe.shop.kerf, may_be_turned_over, ledger);
    let net = total(ledger, &ALL_PIECES, &cut.iter().map(|row| row.net).collect::<Vec<_>>());
    let first_cuts = total(ledger, &ALL_FIRST_CUTS, &first_cuts);
    let hold = recipe.shop.hold;
    let length = ledger.work(&STRIP_LENGTH, (net, first_cuts, hold), |(net, first, hold)| net + first + hold);
    let volume =
        ledger.work(&STRIP_VOLUME, (width, thickness, length), |(width, thick, long)| width.by(thick).over(long));
    let is_given = cut.iter().flat_map(|row| &row.serves).any(|serving| is_strip_given(layers[serving.layer]));
    let rows = of_strip;
    Strip { wood, width, thickness, is_given, may_be_turned_over, rows, net, first_cuts, hold, length, volume }
}

/// One for each miter, in the order of sawing.
fn first_cuts(
    cut: &[&CutRow],
    width: Known<Length>,
    kerf: Known<Length>,
    may_be_turned_over: bool,
    ledger: &mut Ledger,
) -> Vec<Known<Length>> {
    let mut miters: Vec<&CutRow> = cut.to_vec();
    miters.dedup_by_key(|row| row.setup);
    let before = std::iter::once(None).chain(miters.iter().map(|row| Some(row.miter)));
    let first = |(row, before): (&&CutRow, Option<Known<Angle>>)| {
        let miter = row.miter;
        if !may_be_turned_over {
            return ledger.work(&FIRST_CUT_ONE_WAY, (kerf, miter), |(kerf, miter)| kerf / miter.cos());
        }
        match before {
            // The steeper end is still there, and leaves more behind than a square one would.
            Some(before) if before.value.tan() > 3.0 * miter.value.tan() => {
                ledger.work(&NEW_MITER, (width, before, miter, kerf), new_miter)
            }
            Some(_) | None => ledger.work(&FIRST_CUT, (width, miter, kerf), first_cut),
        }
    };
    miters.iter().zip(before).map(first).collect()
}
