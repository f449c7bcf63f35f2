//! The thin strips on the joints of rings, cut from a board as thick as they are.

use std::collections::BTreeMap;

use crate::geometry::{RingSet, SpacerShape};
use crate::quantity::{Count, Length, Volume};
use crate::resolve::Recipe;
use crate::workings::{Formula, Known, Ledger};

use super::Planned;
use super::cut_list::{Serving, cluster, counted};

/// Spacers that are cut alike.
#[derive(Debug, Clone)]
pub struct SpacerRow {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Of the thin board.
    pub thickness: Known<Length>,
    /// From the outside of the ring to its hole.
    pub length: Known<Length>,
    /// As the ring stands before flattening.
    pub height: Known<Length>,
    /// How many.
    pub count: u32,
    /// Which layers they are for.
    pub serves: Vec<Serving>,
    /// Of a thin strip as wide as the spacers are high, with the kerfs.
    pub net: Known<Length>,
    /// Their wood.
    pub volume: Known<Volume>,
}

static NET: Formula = Formula {
    gives: "thin strip used by spacers",
    words: "spacers × (length + kerf)",
    inputs: &["spacers", "length", "kerf"],
};

static VOLUME: Formula = Formula {
    gives: "wood for spacers",
    words: "thin strip × height × thickness",
    inputs: &["thin strip", "height", "thickness"],
};

/// The spacers of one layer.
#[derive(Clone, Copy)]
struct Spacers {
    at: usize,
    shape: SpacerShape,
    height: Known<Length>,
    count: Known<Count>,
}

fn spacers((at, layer): (usize, &Planned<'_>)) -> Option<Spacers> {
    let ring = layer.ring()?;
    let height = match ring.set {
        RingSet::Upright(stave) => stave.length,
        RingSet::Round | RingSet::ToMiddle { .. } => layer.built.rough_thickness,
    };
    Some(Spacers { at, shape: ring.spacer?, height, count: ring.count() })
}

/// The rows, the thinnest first.
pub(super) fn rows(layers: &[Planned<'_>], recipe: &Recipe, ledger: &mut Ledger) -> Vec<SpacerRow> {
    let all: Vec<Spacers> = layers.iter().enumerate().filter_map(spacers).collect();
    let alike = |length: fn(&Spacers) -> Length| cluster(all.iter().map(|one| Some(length(one).mm())), Length::ZERO);
    let thicknesses = alike(|one| one.shape.thickness.value);
    let lengths = alike(|one| one.shape.length.value);
    let heights = alike(|one| one.height.value);
    let mut alike: BTreeMap<(usize, usize, usize, usize), Vec<Spacers>> = BTreeMap::new();
    for (at, one) in all.iter().enumerate() {
        alike.entry((one.shape.wood, thicknesses[at], heights[at], lengths[at])).or_default().push(*one);
    }
    alike.into_values().filter_map(|of_row| row(&of_row, recipe, ledger)).collect()
}

fn row(of_row: &[Spacers], recipe: &Recipe, ledger: &mut Ledger) -> Option<SpacerRow> {
    let Spacers { shape, height, count: first, .. } = *of_row.first()?;
    let serves: Vec<Serving> = of_row.iter().map(|one| Serving { layer: one.at, count: one.count.value.0 }).collect();
    let count = counted(&serves);
    let net =
        ledger.work(&NET, (first.map(|_| Count(count)), shape.length, recipe.shop.kerf), |(count, long, kerf)| {
            (long + kerf) * f64::from(count.0)
        });
    let volume = ledger.work(&VOLUME, (net, height, shape.thickness), |(net, high, thick)| net.by(high).over(thick));
    Some(SpacerRow {
        wood: shape.wood,
        thickness: shape.thickness,
        length: shape.length,
        height,
        count,
        serves,
        net,
        volume,
    })
}
