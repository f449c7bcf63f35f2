//! Inserts to blanks: what is cut for them beside the layers.

use crate::geometry::Vessel;
use crate::quantity::{Length, Volume};
use crate::resolve::{InsertForm, Recipe};
use crate::workings::{Formula, Known, Ledger};

/// The blank of one insert.
#[derive(Debug, Clone, Copy)]
pub struct InsertBlank {
    /// Index into [`Vessel::inserts`].
    pub insert: usize,
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Width, thickness and length, the grain along the length; `None` when nobody says how large the
    /// part that is seen becomes.
    pub size: Option<[Known<Length>; 3]>,
    /// Its wood, where its size is known.
    pub volume: Option<Known<Volume>>,
    /// Whether its face grain is seen: a plug or medallion.
    pub is_face_grain: bool,
}

static VOLUME: Formula = Formula {
    gives: "wood of the insert's blank",
    words: "width × thickness × length",
    inputs: &["width", "thickness", "length"],
};

/// The blank of every insert that is made of wood.
pub(super) fn blanks(recipe: &Recipe, vessel: &Vessel, ledger: &mut Ledger) -> Vec<InsertBlank> {
    let blank = |(at, built): (usize, &crate::geometry::BuiltInsert)| {
        let said = recipe.fittings.inserts.get(built.said)?;
        let block =
            |(width, thick, long): (Length, Length, Length)| Volume::from_mm3(width.by(thick).mm2() * long.mm());
        let volume = built.blank.map(|[width, thick, long]| ledger.work(&VOLUME, (width, thick, long), block));
        let is_face_grain = matches!(said.form, InsertForm::Plug { .. } | InsertForm::Medallion { .. });
        Some(InsertBlank { insert: at, wood: said.wood?, size: built.blank, volume, is_face_grain })
    };
    vessel.inserts.iter().enumerate().filter_map(blank).collect()
}
