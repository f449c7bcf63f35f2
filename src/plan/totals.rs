//! Cuts and layers to totals: pieces, wood, mass and glue, per wood and over all.

use crate::geometry::{LayerShape, Vessel};
use crate::quantity::{Area, Count, Density, Length, Mass, Volume};
use crate::resolve::Recipe;
use crate::tables::Wood;
use crate::workings::{Formula, Known, Ledger, Origin};

use super::cut_list::{CutList, segments_of, total};
use super::{InsertBlank, Planned};

/// Over all.
#[derive(Debug, Clone)]
pub struct Totals {
    /// Pieces of wood.
    pub pieces: u32,
    /// Of the finished vessel, without its inserts.
    pub mass: Known<Mass>,
    /// Wood left after turning.
    pub finished: Known<Volume>,
    /// Wood of all glued blanks.
    pub blank: Known<Volume>,
    /// Of strips and of the squares for rounds.
    pub lumber: Known<Volume>,
    /// Joints within the layers and faces between them, as glued.
    pub glue_area: Known<Area>,
    /// One for each wood, in the order of first use.
    pub woods: Vec<WoodTotal>,
}

/// Of one wood.
#[derive(Debug, Clone)]
pub struct WoodTotal {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Pieces of it.
    pub pieces: u32,
    /// Left after turning.
    pub finished: Known<Volume>,
    /// In the glued blanks.
    pub blank: Known<Volume>,
    /// Of its strips and squares.
    pub lumber: Known<Volume>,
    /// Left after turning.
    pub mass: Known<Mass>,
}

/// A segment of a ring of equal segments has exactly its share of the turned layer.
static SHARE: Formula = Formula {
    gives: "one wood's share of a layer",
    words: "wood of the layer × pieces of this wood / pieces of the layer",
    inputs: &["wood of the layer", "pieces of this wood", "pieces of the layer"],
};

static FINISHED: Formula =
    Formula { gives: "finished wood", words: "added up over the layers", inputs: &["a layer's share"] };

static BLANK: Formula =
    Formula { gives: "wood of the glued blanks", words: "added up over the layers", inputs: &["a layer's share"] };

static LUMBER: Formula = Formula {
    gives: "sawn wood",
    words: "added up over strips and the squares for rounds",
    inputs: &["a strip's or a square's wood"],
};

static MASS: Formula =
    Formula { gives: "mass of one wood", words: "finished wood × density", inputs: &["finished wood", "density"] };

static ALL_MASS: Formula = Formula { gives: "mass", words: "added up over the woods", inputs: &["mass of one wood"] };

static ALL_FINISHED: Formula =
    Formula { gives: "finished wood of the vessel", words: "added up over the woods", inputs: &["one wood"] };

static ALL_BLANK: Formula =
    Formula { gives: "wood of all glued blanks", words: "added up over the woods", inputs: &["one wood"] };

static ALL_LUMBER: Formula =
    Formula { gives: "sawn wood of the vessel", words: "added up over the woods", inputs: &["one wood"] };

static FACE: Formula = Formula {
    gives: "glued face between two layers",
    words: "pi × (outer radius² − inner radius²), where both blanks are",
    inputs: &["least outer radius", "greatest inner radius"],
};

static GLUE_AREA: Formula = Formula {
    gives: "glued area",
    words: "joints within the layers and faces between them, added up",
    inputs: &["a layer's joints or a face"],
};

/// Adds everything up.
pub(super) fn totals(
    recipe: &Recipe,
    vessel: &Vessel,
    layers: &[Planned<'_>],
    cuts: &CutList,
    inserts: &[InsertBlank],
    ledger: &mut Ledger,
) -> Totals {
    let mut shares: Vec<Shares> = recipe.woods.iter().map(|_| Shares::default()).collect();
    for (at, layer) in layers.iter().enumerate() {
        share_out(*layer, cuts, at, &mut shares, ledger);
    }
    for strip in &cuts.strips {
        shares[strip.wood].lumber.push(strip.volume);
    }
    for disc in &cuts.discs {
        shares[disc.wood].lumber.push(disc.volume);
    }
    // What a blank becomes on the lathe nobody can know: it counts as a piece and as lumber, not as mass.
    for blank in inserts {
        let share = &mut shares[blank.wood];
        share.pieces = share.pieces.saturating_add(1);
        share.lumber.extend(blank.volume);
    }
    let woods: Vec<WoodTotal> = shares
        .iter()
        .enumerate()
        .filter(|(_, share)| share.pieces > 0)
        .map(|(wood, share)| {
            let finished = total(ledger, &FINISHED, &share.finished);
            let density = recipe.woods[wood]
                .wood()
                .map_or(Known::new(Density::default(), Origin::Default(&"no wood")), Wood::density);
            WoodTotal {
                wood,
                pieces: share.pieces,
                finished,
                blank: total(ledger, &BLANK, &share.blank),
                lumber: total(ledger, &LUMBER, &share.lumber),
                mass: ledger.work(&MASS, (finished, density), |(volume, density)| volume.mass(density)),
            }
        })
        .collect();
    let all = |of: fn(&WoodTotal) -> Known<Volume>| woods.iter().map(of).collect::<Vec<_>>();
    Totals {
        pieces: woods.iter().fold(0, |sum, wood| sum.saturating_add(wood.pieces)),
        mass: total(ledger, &ALL_MASS, &woods.iter().map(|wood| wood.mass).collect::<Vec<_>>()),
        finished: total(ledger, &ALL_FINISHED, &all(|wood| wood.finished)),
        blank: total(ledger, &ALL_BLANK, &all(|wood| wood.blank)),
        lumber: total(ledger, &ALL_LUMBER, &all(|wood| wood.lumber)),
        glue_area: glue_area(vessel, ledger),
        woods,
    }
}

#[derive(Debug, Default)]
struct Shares {
    pieces: u32,
    finished: Vec<Known<Volume>>,
    blank: Vec<Known<Volume>>,
    lumber: Vec<Known<Volume>>,
}

fn share_out(layer: Planned<'_>, cuts: &CutList, at: usize, shares: &mut [Shares], ledger: &mut Ledger) {
    let (finished, blank) = (layer.built.finished_volume, layer.built.blank_volume);
    if let LayerShape::Disc { wood, .. } = &layer.built.shape {
        let share = &mut shares[*wood];
        share.pieces = share.pieces.saturating_add(1);
        share.finished.push(finished);
        share.blank.push(blank);
        return;
    }
    let (Some(pieces), of_layer) = (segments_of(layer), &cuts.of_layer[at]) else { return };
    for cut in of_layer {
        let share = &mut shares[cut.wood];
        share.pieces = share.pieces.saturating_add(cut.count.value.0);
        let mut part = |volume: Known<Volume>| match of_layer.as_slice() {
            [_] => volume,
            _ => ledger.work(&SHARE, (volume, cut.count, pieces), share_of),
        };
        share.finished.push(part(finished));
        share.blank.push(part(blank));
    }
}

fn share_of((volume, some, all): (Volume, Count, Count)) -> Volume {
    volume * (f64::from(some.0) / f64::from(all.0.max(1)))
}

fn glue_area(vessel: &Vessel, ledger: &mut Ledger) -> Known<Area> {
    let mut parts: Vec<Known<Area>> =
        vessel.layers.iter().filter(|layer| layer.joint_area.value.mm2() > 0.0).map(|layer| layer.joint_area).collect();
    for (contact, pair) in vessel.contacts.iter().zip(vessel.layers.windows(2)) {
        if contact.is_opening {
            continue;
        }
        let outer = nearest(contact.outer_radius, pair.iter().map(|layer| layer.blank_outer_radius));
        let inner = nearest(contact.inner_radius, pair.iter().map(|layer| layer.blank_inner_radius));
        parts.push(ledger.work(&FACE, (outer, inner), |_| contact.area));
    }
    ledger.total(&GLUE_AREA, &parts)
}

/// `radius` with the origin of that candidate which decided it; a given strip may make a hole that is none of them.
fn nearest(radius: Length, candidates: impl Iterator<Item = Known<Length>>) -> Known<Length> {
    let off = |candidate: &Known<Length>| (candidate.value - radius).abs().mm();
    let deciding = candidates.min_by(|a, b| off(a).total_cmp(&off(b)));
    let origin = deciding.filter(|candidate| off(candidate) < 1e-9).map(|candidate| candidate.origin);
    Known::new(radius, origin.unwrap_or(Origin::Default(&"measured on the blanks")))
}
