//! What is sawn round: discs, sheets of veneer, the plugs of wedges.

use std::collections::BTreeMap;

use crate::geometry::{LayerShape, RingSet};
use crate::quantity::{Count, Length, Volume};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::cut_list::cluster;
use super::{Planned, to_u32};

/// What a round is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RoundKind {
    /// A layer of solid wood.
    Disc,
    /// A layer of veneer, used as it comes.
    Sheet,
    /// Over the points of wedges.
    Plug,
}

impl RoundKind {
    /// As documents name it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Disc => "disc",
            Self::Sheet => "sheet",
            Self::Plug => "plug",
        }
    }
}

/// Rounds that are sawn alike.
#[derive(Debug, Clone)]
pub struct DiscRow {
    /// What they are.
    pub kind: RoundKind,
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Of the round to saw.
    pub diameter: Known<Length>,
    /// Before flattening; of a sheet, as it comes.
    pub thickness: Known<Length>,
    /// Indexes into the vessel's layers.
    pub layers: Vec<usize>,
    /// Of the square boards they are sawn from, all together.
    pub volume: Known<Volume>,
}

static VOLUME: Formula = Formula {
    gives: "wood for rounds",
    words: "rounds × diameter × diameter × thickness: each is sawn from a square",
    inputs: &["rounds", "diameter", "thickness"],
};

/// One round of a layer.
#[derive(Clone, Copy)]
struct Round<'a> {
    at: usize,
    layer: Planned<'a>,
    kind: RoundKind,
    wood: usize,
    diameter: Known<Length>,
}

fn round<'a>((at, layer): (usize, &Planned<'a>)) -> Option<Round<'a>> {
    let (kind, wood, diameter) = match &layer.built.shape {
        LayerShape::Disc { wood, blank_diameter, is_sheet } => {
            (if *is_sheet { RoundKind::Sheet } else { RoundKind::Disc }, *wood, *blank_diameter)
        }
        LayerShape::Ring(ring) => match ring.set {
            RingSet::ToMiddle { plug: Some(plug) } => (RoundKind::Plug, plug.wood, plug.diameter),
            RingSet::ToMiddle { plug: None } | RingSet::Round | RingSet::Upright(_) => return None,
        },
        LayerShape::Slant(_) => return None,
    };
    Some(Round { at, layer: *layer, kind, wood, diameter })
}

/// The rows: discs, then sheets, then plugs.
pub(super) fn rows(layers: &[Planned<'_>], ledger: &mut Ledger) -> Vec<DiscRow> {
    let rounds: Vec<Round<'_>> = layers.iter().enumerate().filter_map(round).collect();
    let alike =
        |length: fn(&Round<'_>) -> Length| cluster(rounds.iter().map(|round| Some(length(round).mm())), Length::ZERO);
    let thicknesses = alike(|round| round.layer.built.rough_thickness.value);
    let diameters = alike(|round| round.diameter.value);
    let mut alike: BTreeMap<(RoundKind, usize, usize, usize), Vec<Round<'_>>> = BTreeMap::new();
    for (at, round) in rounds.iter().enumerate() {
        alike.entry((round.kind, round.wood, thicknesses[at], diameters[at])).or_default().push(*round);
    }
    let mut rows = Vec::new();
    for of_row in alike.into_values() {
        let Some(Round { layer, kind, wood, diameter, .. }) = of_row.first().copied() else { continue };
        let thickness = layer.built.rough_thickness;
        let count = Known::new(Count(to_u32(of_row.len())), Origin::Written(layer.said.span));
        let volume = ledger.work(&VOLUME, (count, diameter, thickness), |(count, across, thick)| {
            across.by(across).over(thick) * f64::from(count.0)
        });
        let layers = of_row.iter().map(|round| round.at).collect();
        rows.push(DiscRow { kind, wood, diameter, thickness, layers, volume });
    }
    rows
}
