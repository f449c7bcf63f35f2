//! The model as files for other programs: solids to bytes.

mod glb;
mod normals;
mod stl;
#[cfg(test)]
mod tests;

use crate::geometry::Vessel;
use crate::quantity::Length;
use crate::resolve::PartKind;
use crate::view::solid::{Fineness, Model, PieceOf, Solid, model};

use super::Document;
use super::sheet::Sheet;

/// How fine the model is that other programs read. Two million triangles are as much as they like to show: a vessel of more
/// than a thousand layers is drawn more coarsely.
pub(super) fn in_files(vessel: &Vessel) -> Fineness {
    const MOST_CHORDS: u32 = 250_000;
    Fineness::default().within(MOST_CHORDS, vessel)
}

/// Both files of one model.
pub(super) fn models(sheet: &Sheet<'_>, fineness: Fineness) -> [Document; 2] {
    let model = model(sheet.recipe, sheet.design.vessel, fineness);
    [
        Document { name: "model.glb".into(), bytes: glb::write(sheet, &model) },
        Document { name: "model.stl".into(), bytes: stl::write(&model) },
    ]
}

/// How fine the model is that a page carries along: coarse, as it is only looked at.
fn on_page(vessel: &Vessel) -> Fineness {
    /// A third of a line's width where a vessel is as large as a screen.
    const COARSE: Length = Length::from_mm(0.15);
    /// A page is opened on telephones too.
    const MOST_CHORDS: u32 = 60_000;
    Fineness(COARSE).within(MOST_CHORDS, vessel)
}

/// `model.glb` as a page carries it along.
pub(super) fn on_screen(sheet: &Sheet<'_>) -> Vec<u8> {
    let vessel = sheet.design.vessel;
    glb::write(sheet, &model(sheet.recipe, vessel, on_page(vessel)))
}

/// About how many bytes the models take in all documents.
pub(super) fn expected_bytes(vessel: &Vessel) -> f64 {
    /// Nine triangles or so, in both files.
    const OF_A_CHORD: f64 = 730.0;
    /// In text.
    const OF_A_CHORD_ON_PAGE: f64 = 350.0;
    in_files(vessel).chords(vessel) * OF_A_CHORD + on_page(vessel).chords(vessel) * OF_A_CHORD_ON_PAGE
}

/// Stable names, one for each piece of a model: `body.ring-3.segment-4`, `lid.knob`. What is sawn apart with its stack is told
/// by its part, plies by their number from below.
pub(super) fn names(sheet: &Sheet<'_>, model: &Model) -> Vec<String> {
    let mut names: Vec<String> = Vec::with_capacity(model.pieces.len());
    let mut ply = 1;
    for (at, piece) in model.pieces.iter().enumerate() {
        let is_like =
            |other: Option<&Solid>| other.is_some_and(|other| other.is == piece.is && other.part == piece.part);
        let goes_on = is_like(at.checked_sub(1).and_then(|before| model.pieces.get(before)));
        ply = if goes_on { ply + 1 } else { 1 };
        let mut name = name(sheet, piece.is, piece.part);
        if goes_on || is_like(model.pieces.get(at + 1)) {
            name = format!("{name}.ply-{ply}");
        }
        names.push(name);
    }
    names
}

/// The name of a piece as a whole.
fn name(sheet: &Sheet<'_>, is: PieceOf, part: PartKind) -> String {
    let layer = |at: usize| {
        let layer = sheet.layers().get(at);
        let id = layer.map_or("", |layer| layer.id.as_str());
        if layer.is_some_and(|layer| layer.part == part) { id.to_owned() } else { format!("{id}.{}", part.word()) }
    };
    match is {
        PieceOf::Segment { layer: at, segment } => format!("{}.segment-{}", layer(at), segment + 1),
        PieceOf::Spacer { layer: at, segment } => format!("{}.spacer-{}", layer(at), segment + 1),
        PieceOf::Plug { layer: at } => format!("{}.plug", layer(at)),
        PieceOf::Whole { layer: at } => layer(at),
        PieceOf::Insert { insert } => format!("{}.insert.{}", part.word(), sheet.insert(insert)),
    }
}
