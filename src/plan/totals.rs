//! Cuts and layers to totals: pieces, wood, mass and glue, per wood and over all.

use crate::geometry::{BuiltLayer, Slice, StuffShare, Vessel, board};
use crate::quantity::{Area, Count, Density, Length, Mass, Money, Volume};
use crate::resolve::{LaminatedBoard, Recipe, Stock};
use crate::tables::Wood;
use crate::workings::{Formula, Known, Ledger, Origin};

use super::cut_list::{CutList, total};
use super::glue::GluedFaces;
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
    /// Of the boards that are cut, where it is known.
    pub cost: Option<Money>,
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

static OF_A_PLY: Formula = Formula {
    gives: "a ply's share of finished wood",
    words: "wood of the laminated board in the layer × turned wood between the ply's faces / turned wood of all plies",
    inputs: &["wood of the board", "between the ply's faces", "of all plies"],
};

static OF_A_PLYS_BLANK: Formula = Formula {
    gives: "a ply's share of the blank",
    words: "wood of the laminated board in the blank × what of the ply lies within the blank's thickness / that of all plies",
    inputs: &["wood of the board", "of the ply", "of all plies"],
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

static GLUE_AREA: Formula = Formula {
    gives: "glued area",
    words: "joints within the layers, faces between them, faces of laminated boards and inserts, added up",
    inputs: &["joints, a face or an insert"],
};

/// Adds everything up.
pub(super) fn totals(
    recipe: &Recipe,
    vessel: &Vessel,
    layers: &[Planned<'_>],
    (cuts, faces): (&CutList, &GluedFaces),
    inserts: &[InsertBlank],
    cost: Option<Money>,
    ledger: &mut Ledger,
) -> Totals {
    let mut shares: Vec<Shares> = recipe.woods.iter().map(|_| Shares::default()).collect();
    for layer in layers {
        share_out(recipe, vessel, *layer, &mut shares, ledger);
    }
    // What is ripped from a laminated board is the board's lumber, and that is its plies'.
    for (wood, volume) in lumber(cuts).filter(|(wood, _)| recipe.woods[*wood].wood().is_some()) {
        shares[wood].lumber.push(volume);
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
        glue_area: glue_area(vessel, faces, ledger),
        cost,
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

impl Shares {
    fn add(&mut self, pieces: Count, finished: Known<Volume>, blank: Known<Volume>) {
        self.pieces = self.pieces.saturating_add(pieces.0);
        self.finished.push(finished);
        self.blank.push(blank);
    }
}

/// Everything that is bought as lumber, with its wood.
fn lumber(cuts: &CutList) -> impl Iterator<Item = (usize, Known<Volume>)> {
    let strips = cuts.strips.iter().map(|strip| (strip.wood, strip.volume));
    let staves = cuts.staves.iter().map(|row| (row.wood, row.volume));
    let discs = cuts.discs.iter().map(|row| (row.wood, row.volume));
    let spacers = cuts.spacers.iter().map(|row| (row.wood, row.volume));
    let cones = cuts.cones.iter().map(|row| (row.wood, row.volume));
    let plies = cuts.boards.iter().flat_map(|row| &row.plies).map(|ply| (ply.wood, ply.volume));
    strips.chain(staves).chain(discs).chain(spacers).chain(cones).chain(plies)
}

fn share_out(recipe: &Recipe, vessel: &Vessel, layer: Planned<'_>, shares: &mut [Shares], ledger: &mut Ledger) {
    for stuff in &layer.built.shares {
        match &recipe.woods[stuff.wood].stock {
            Stock::Wood(_) => shares[stuff.wood].add(stuff.pieces, stuff.finished, stuff.blank),
            Stock::Board(said) => share_out_plies(said, stuff, vessel, layer, shares, ledger),
        }
    }
}

/// Each ply of a piece is a piece of its own wood; flattening takes as much off either face of the board.
fn share_out_plies(
    said: &LaminatedBoard,
    stuff: &StuffShare,
    vessel: &Vessel,
    layer: Planned<'_>,
    shares: &mut [Shares],
    ledger: &mut Ledger,
) {
    let plies: Vec<board::Ply> =
        said.plies.iter().map(|ply| board::Ply { wood: ply.wood, thickness: ply.thick.value }).collect();
    let thicknesses: Vec<Known<Length>> = said.plies.iter().map(|ply| ply.thick).collect();
    let thickness = ledger.total(&board::THICKNESS, &thicknesses);
    let built = layer.built;
    let lost = ((thickness.value - (built.z1.value - built.z0.value)) / 2.0).max(Length::ZERO);
    let left = board::flattened(&plies, lost, lost);
    // A board that is much thicker is planed to the blank's thickness first.
    let planed = ((thickness.value - built.rough_thickness.value) / 2.0).max(Length::ZERO);
    let in_blank: Vec<Known<Length>> =
        board::flattened(&plies, planed, planed).iter().map(|ply| Known::new(ply.thickness(), SANDED)).collect();
    let of_all = ledger.total(&PLIES_IN_BLANK, &in_blank);
    let mut turned = Vec::with_capacity(left.len());
    for ply in &left {
        let faces = (built.z0, Known::new(ply.bottom, SANDED), Known::new(ply.top, SANDED));
        turned.push(ledger.work(&board::TURNED_VOLUME, faces, |(z0, bottom, top)| {
            turned_between(vessel, built, z0 + bottom, z0 + top)
        }));
    }
    let all = ledger.total(&ALL_PLIES, &turned);
    for ((ply, turned), thick) in said.plies.iter().zip(turned).zip(in_blank) {
        let finished = ledger.work(&OF_A_PLY, (stuff.finished, turned, all), |(finished, ply, all)| {
            if all.mm3() > 0.0 { finished * (ply.mm3() / all.mm3()) } else { finished * 0.0 }
        });
        let blank = ledger.work(&OF_A_PLYS_BLANK, (stuff.blank, thick, of_all), |(blank, ply, all)| {
            if all > Length::ZERO { blank * (ply / all) } else { blank * 0.0 }
        });
        shares[ply.wood].add(stuff.pieces, finished, blank);
    }
}

const SANDED: Origin = Origin::Default(&"flattening takes as much off either face of the board");

static PLIES_IN_BLANK: Formula =
    Formula { gives: "thickness of all plies in the blank", words: "added up over the plies", inputs: &["a ply"] };

static ALL_PLIES: Formula =
    Formula { gives: "turned wood of all plies", words: "added up over the plies", inputs: &["a ply"] };

/// Turned wood of a layer between two heights of its stack, in the parts that it becomes.
fn turned_between(vessel: &Vessel, layer: &BuiltLayer, low: Length, high: Length) -> Volume {
    let of_slice = |slice: &Slice| {
        let part = vessel.bodies.iter().find(|part| part.part == slice.part);
        let (outside, inside) = part.map_or((&vessel.outside, &vessel.inside), |part| (&part.outside, &part.inside));
        let (from, to) = (low.max(slice.from), high.min(slice.to));
        (to > from).then(|| {
            let (from, to) = (from - slice.raise, to - slice.raise);
            outside.volume(from, to) - inside.volume(from, to)
        })
    };
    layer.slices.iter().filter_map(of_slice).sum()
}

fn glue_area(vessel: &Vessel, faces: &GluedFaces, ledger: &mut Ledger) -> Known<Area> {
    let mut parts: Vec<Known<Area>> =
        vessel.layers.iter().filter(|layer| layer.joint_area.value.mm2() > 0.0).map(|layer| layer.joint_area).collect();
    parts.extend(faces.all());
    parts.extend(vessel.inserts.iter().map(|insert| insert.glue_area));
    ledger.total(&GLUE_AREA, &parts)
}
