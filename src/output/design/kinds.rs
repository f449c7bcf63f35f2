//! What is no plain segment, in the JSON: staves, rounds, spacers, laminated boards, cones.

use schemars::JsonSchema;
use serde::Serialize;

use crate::compile::Complete;
use crate::output::sheet::{letter, strip};
use crate::plan::{self, RoundKind};

use super::fill::{layer_id, wood_name};
use super::origin::{named, traces};
use super::{CutRow, Serving, Traces};

/// Staves that are sawn alike.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Staves<'a> {
    /// The letter of their bag.
    pub label: String,
    /// As the recipe names it.
    pub wood: &'a str,
    /// How many.
    pub count: u32,
    /// From upright, outward positive.
    pub lean_deg: f64,
    /// Taper of each edge, off a line along the middle.
    pub miter_deg: f64,
    /// Tilt of the blade, from square to the face.
    pub bevel_deg: f64,
    /// Of the board.
    pub thickness_mm: f64,
    /// Whether the recipe gives the board.
    pub is_given: bool,
    /// Outside width of the wider end.
    pub long_edge_mm: f64,
    /// Outside width of the narrower end.
    pub short_edge_mm: f64,
    /// Along the grain.
    pub length_mm: f64,
    /// Of boards as long as the staves, with the kerfs.
    pub across_mm: f64,
    /// Their wood.
    pub board_feet: f64,
    /// What they are for.
    pub layers: Vec<Serving<'a>>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// Rounds or squares that are sawn alike.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Round<'a> {
    /// The letter of its bag.
    pub label: String,
    /// As the recipe names it.
    pub wood: &'a str,
    /// How many.
    pub count: usize,
    /// To saw.
    pub diameter_mm: f64,
    /// Before flattening.
    pub thickness_mm: f64,
    /// What they are for.
    pub layers: Vec<Serving<'a>>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// Spacers that are cut alike.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Spacers<'a> {
    /// The letter of their bag.
    pub label: String,
    /// As the recipe names it.
    pub wood: &'a str,
    /// How many.
    pub count: u32,
    /// Of each.
    pub thickness_mm: f64,
    /// From the outside to the hole.
    pub length_mm: f64,
    /// As the ring stands before flattening.
    pub height_mm: f64,
    /// Of a thin strip as wide as the spacers are high, with the kerfs.
    pub strip_length_mm: f64,
    /// What they are for.
    pub layers: Vec<Serving<'a>>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// A laminated board.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Board<'a> {
    /// As the recipe names it; segments and strips name it as their wood.
    pub name: &'a str,
    /// Of all plies.
    pub thickness_mm: f64,
    /// For all that is ripped from it.
    pub width_mm: f64,
    /// Of the longest that is ripped from it.
    pub length_mm: f64,
    /// Whether its faces are alike.
    pub may_be_turned_over: bool,
    /// Downmost first.
    pub plies: Vec<Ply<'a>>,
    /// The labels of strips and cuts that come from it.
    pub cuts: Vec<String>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// One ply.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Ply<'a> {
    /// As the recipe names it.
    pub wood: &'a str,
    /// As planed.
    pub thickness_mm: f64,
    /// Its wood.
    pub board_feet: f64,
}

/// A board that the rings of a cone are sawn from.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Cone<'a> {
    /// Its letter.
    pub label: String,
    /// As the recipe names it.
    pub wood: &'a str,
    /// Across the round, or along the side of the square.
    pub diameter_mm: f64,
    /// Before flattening.
    pub thickness_mm: f64,
    /// Of every cut, from upright, toward the middle going down.
    pub angle_deg: f64,
    /// Of the square.
    pub board_feet: f64,
    /// In the order of sawing, outside in.
    pub rings: Vec<ConeRing<'a>>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// A ring as it is drawn on the upper face of the board.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ConeRing<'a> {
    /// The layer's id.
    pub layer: &'a str,
    /// Of its outer edge.
    pub outer_radius_mm: f64,
    /// Of its inner edge.
    pub inner_radius_mm: f64,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

fn serving<'a>(complete: &Complete<'a>, served: &plan::Serving) -> Serving<'a> {
    Serving { id: layer_id(complete, served.layer), count: served.count }
}

/// The rows of the cut list behind the segments.
pub(super) fn cut_rows<'a>(complete: &Complete<'a>) -> Vec<CutRow<'a>> {
    let list = &complete.plan.cut_list;
    let letters = list.letters();
    let staves = list.staves.iter().enumerate().map(|(at, row)| staves(complete, row, letter(letters.staves + at)));
    let discs = list.discs.iter().enumerate().map(|(at, row)| round(complete, row, letter(letters.discs + at)));
    let spacers = list.spacers.iter().enumerate().map(|(at, row)| spacers(complete, row, letter(letters.spacers + at)));
    staves.chain(discs).chain(spacers).collect()
}

fn staves<'a>(complete: &Complete<'a>, row: &plan::StaveRow, label: String) -> CutRow<'a> {
    CutRow::Staves(Staves {
        label,
        wood: wood_name(complete, row.wood),
        count: row.count,
        lean_deg: row.lean.value.degrees(),
        miter_deg: row.taper.value.degrees(),
        bevel_deg: row.tilt.value.degrees(),
        thickness_mm: row.thickness.value.mm(),
        is_given: row.is_given,
        long_edge_mm: row.wide.value.mm(),
        short_edge_mm: row.narrow.value.mm(),
        length_mm: row.length.value.mm(),
        across_mm: row.across.value.mm(),
        board_feet: row.volume.value.board_feet(),
        layers: row.serves.iter().map(|served| serving(complete, served)).collect(),
        workings: traces([
            named("lean", &row.lean),
            named("miter", &row.taper),
            named("bevel", &row.tilt),
            named("thickness", &row.thickness),
            named("long_edge", &row.wide),
            named("short_edge", &row.narrow),
            named("length", &row.length),
            named("across", &row.across),
            named("volume", &row.volume),
        ]),
    })
}

fn round<'a>(complete: &Complete<'a>, row: &plan::DiscRow, label: String) -> CutRow<'a> {
    let round = Round {
        label,
        wood: wood_name(complete, row.wood),
        count: row.layers.len(),
        diameter_mm: row.diameter.value.mm(),
        thickness_mm: row.thickness.value.mm(),
        layers: row.layers.iter().map(|layer| Serving { id: layer_id(complete, *layer), count: 1 }).collect(),
        workings: traces([named("diameter", &row.diameter), named("thickness", &row.thickness)]),
    };
    match row.kind {
        RoundKind::Disc => CutRow::Disc(round),
        RoundKind::Sheet => CutRow::Sheet(round),
        RoundKind::Plug => CutRow::Plug(round),
    }
}

fn spacers<'a>(complete: &Complete<'a>, row: &plan::SpacerRow, label: String) -> CutRow<'a> {
    CutRow::Spacers(Spacers {
        label,
        wood: wood_name(complete, row.wood),
        count: row.count,
        thickness_mm: row.thickness.value.mm(),
        length_mm: row.length.value.mm(),
        height_mm: row.height.value.mm(),
        strip_length_mm: row.net.value.mm(),
        layers: row.serves.iter().map(|served| serving(complete, served)).collect(),
        workings: traces([
            named("thickness", &row.thickness),
            named("length", &row.length),
            named("height", &row.height),
            named("strip_length", &row.net),
        ]),
    })
}

/// Laminated boards.
pub(super) fn boards<'a>(complete: &Complete<'a>) -> Vec<Board<'a>> {
    let list = &complete.plan.cut_list;
    let letters = list.letters();
    let board = |row: &plan::BoardRow| Board {
        name: wood_name(complete, row.wood),
        thickness_mm: row.thickness.value.mm(),
        width_mm: row.width.value.mm(),
        length_mm: row.length.value.mm(),
        may_be_turned_over: row.may_be_turned_over,
        plies: row
            .plies
            .iter()
            .map(|ply| Ply {
                wood: wood_name(complete, ply.wood),
                thickness_mm: ply.thickness.value.mm(),
                board_feet: ply.volume.value.board_feet(),
            })
            .collect(),
        cuts: (row.strips.iter().map(|at| strip(*at)))
            .chain(row.staves.iter().map(|at| letter(letters.staves + at)))
            .chain(row.discs.iter().map(|at| letter(letters.discs + at)))
            .collect(),
        workings: traces([
            named("thickness", &row.thickness),
            named("width", &row.width),
            named("length", &row.length),
        ]),
    };
    list.boards.iter().map(board).collect()
}

/// Boards that cones are sawn from.
pub(super) fn cones<'a>(complete: &Complete<'a>) -> Vec<Cone<'a>> {
    let list = &complete.plan.cut_list;
    let ring = |ring: &plan::ConeRing| ConeRing {
        layer: layer_id(complete, ring.layer),
        outer_radius_mm: ring.outer.value.mm(),
        inner_radius_mm: ring.inner.value.mm(),
        workings: traces([named("outer_radius", &ring.outer), named("inner_radius", &ring.inner)]),
    };
    let cone = |(at, row): (usize, &plan::ConeRow)| Cone {
        label: letter(list.letters().cones + at),
        wood: wood_name(complete, row.wood),
        diameter_mm: row.diameter.value.mm(),
        thickness_mm: row.thickness.value.mm(),
        angle_deg: row.angle.value.degrees(),
        board_feet: row.volume.value.board_feet(),
        rings: row.rings.iter().map(ring).collect(),
        workings: traces([
            named("diameter", &row.diameter),
            named("thickness", &row.thickness),
            named("angle", &row.angle),
            named("volume", &row.volume),
        ]),
    };
    list.cones.iter().enumerate().map(cone).collect()
}
