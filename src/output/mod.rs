//! Plan to documents: words, tables, JSON. Computes nothing; rounding is printing alone.

mod calendar;
mod changes;
mod csv;
mod cut_kinds;
mod cut_list;
mod cutting_plan;
mod design;
mod drawings;
mod error_budget;
mod glue_schedule;
mod glue_words;
mod hours;
mod html;
mod inserts;
mod lid;
mod mesh;
mod mounting;
mod page;
mod pdf;
mod picture;
mod safety;
mod sheet;
mod shop_sheet;
mod summary;
mod svg;
mod table;
#[cfg(test)]
mod tests;
mod timetable;
mod turning;
mod why;

use std::borrow::Cow;

use crate::compile::Complete;
use crate::finding::{folder_of, render};
use crate::geometry::{BuiltLayer, LayerShape};
use crate::source::World;
use crate::view::solid::Fineness;

pub use changes::{Comparison, as_text};
pub use design::Design;
pub use html::{Drawn, Live, live_page};
pub use pdf::Paper;
pub use summary::{summary, summary_beside_documents};
pub use why::{NoSubject, Reasons};

use picture::Picture;
use sheet::Sheet;
use shop_sheet::ShopSheet;

/// One file of a build.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// Its name in the output folder.
    pub name: Cow<'static, str>,
    /// All of it.
    pub bytes: Vec<u8>,
}

/// The documents that every design has, and the one that some have; beside them layers have a drawing each.
const NAMES: [&str; 17] = [
    "cut-list.csv",
    "cut-list.md",
    "cutting-plan.md",
    "cutting-plan.svg",
    "design.json",
    "elevation.svg",
    "findings.sarif",
    "glue-schedule.ics",
    "glue-schedule.md",
    "glue-schedule.svg",
    "model.glb",
    "model.stl",
    "section.svg",
    "shop-sheet.html",
    "shop-sheet.pdf",
    "turning.md",
    "unrolled.svg",
];

/// Whether a build writes documents of this name, of whatever design.
#[must_use]
pub fn is_document(name: &str) -> bool {
    let number = name.strip_prefix("layer-").and_then(|rest| rest.strip_suffix(".svg"));
    NAMES.contains(&name)
        || number.is_some_and(|number| !number.is_empty() && number.bytes().all(|digit| digit.is_ascii_digit()))
}

/// Every document of a design, in the order of their names. Same design, same bytes.
#[must_use]
pub fn documents(design: &Complete<'_>, world: &dyn World) -> Vec<Document> {
    documents_on(design, world, None)
}

/// As [`documents`], for another paper than the recipe's units make usual.
#[must_use]
pub fn documents_on(design: &Complete<'_>, world: &dyn World, paper: Option<Paper>) -> Vec<Document> {
    let sheet = Sheet::new(design);
    let paper = paper.unwrap_or_else(|| Paper::of(sheet.recipe.units));
    let content = shop_sheet::content(&sheet);
    let (mut on_paper, mut page, mut solids) = (Vec::new(), Vec::new(), None);
    let mut documents = Vec::new();
    // What takes longest is made beside the rest.
    rayon::in_place_scope(|beside| {
        beside.spawn(|_| on_paper = pdf::pages(&content, paper));
        beside.spawn(|_| page = on_screen(&sheet, &content, html::page).into_bytes());
        beside.spawn(|_| solids = Some(mesh::models(&sheet, mesh::in_files(design.vessel))));
        documents = texts_and_drawings(&sheet, world);
    });
    documents.push(document("shop-sheet.html", page));
    documents.push(document("shop-sheet.pdf", on_paper));
    documents.extend(solids.into_iter().flatten());
    documents.sort_by(|a, b| a.name.cmp(&b.name));
    documents
}

/// About how many bytes [`documents`] will have, long before they are there; measured on vessels of hundreds of layers.
#[must_use]
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a size, and far from the largest number")]
pub fn expected_bytes(design: &Complete<'_>) -> u64 {
    const OF_A_LAYER: u64 = 12_000;
    const OF_A_PIECE: u64 = 8_000;
    let pieces = |shape: &LayerShape| match shape {
        LayerShape::Ring(ring) => u64::from(ring.count().value.0),
        LayerShape::Disc { .. } | LayerShape::Slant(_) => 1,
    };
    let of_layer = |layer: &BuiltLayer| OF_A_LAYER + OF_A_PIECE * pieces(&layer.shape);
    design.vessel.layers.iter().map(of_layer).sum::<u64>() + mesh::expected_bytes(design.vessel) as u64
}

fn document(name: &'static str, bytes: Vec<u8>) -> Document {
    Document { name: Cow::Borrowed(name), bytes }
}

fn texts_and_drawings(sheet: &Sheet<'_>, world: &dyn World) -> Vec<Document> {
    let mut documents = vec![
        document("cut-list.csv", csv::cut_list(sheet)),
        document("cut-list.md", cut_list::page(sheet).markdown().into_bytes()),
        document("cutting-plan.md", cutting_plan::page(sheet).markdown().into_bytes()),
        document("cutting-plan.svg", svg::bytes(&drawings::boards(sheet))),
        document("design.json", design::json(sheet.design, world).into_bytes()),
        document("elevation.svg", svg::bytes(&drawings::elevation(sheet))),
        document("findings.sarif", findings(sheet.design, world)),
        document("glue-schedule.md", glue_schedule::page(sheet).markdown().into_bytes()),
        document("glue-schedule.svg", svg::bytes(&drawings::schedule(sheet))),
        document("section.svg", svg::bytes(&drawings::section(sheet))),
        document("turning.md", turning::page(sheet).markdown().into_bytes()),
        document("unrolled.svg", svg::bytes(&drawings::unrolled(sheet))),
    ];
    // As many digits as the last one has, so that they are in order by name.
    let digits = sheet.layers().len().to_string().len().max(2);
    documents.extend((0..sheet.layers().len()).filter_map(|at| {
        let picture = drawings::layer(sheet, at)?;
        let name = format!("layer-{:0digits$}.svg", at + 1);
        Some(Document { name: Cow::Owned(name), bytes: svg::bytes(&picture) })
    }));
    // A calendar needs to know which day is the first.
    documents.extend(calendar::calendar(sheet).map(|bytes| document("glue-schedule.ics", bytes)));
    documents
}

/// `model.glb` and `model.stl`, as finely as is asked.
#[must_use]
pub fn models(design: &Complete<'_>, fineness: Fineness) -> [Document; 2] {
    mesh::models(&Sheet::new(design), fineness)
}

/// The shop sheet of a design as the part of a page that a preview shows.
#[must_use]
pub fn drawn(design: &Complete<'_>) -> Drawn {
    let sheet = Sheet::new(design);
    on_screen(&sheet, &shop_sheet::content(&sheet), Drawn::new)
}

fn on_screen<T>(sheet: &Sheet<'_>, content: &ShopSheet, make: impl FnOnce(&html::Contents<'_>) -> T) -> T {
    let model = mesh::on_screen(sheet);
    let figure = |picture: &Picture, prefix: &str| svg::element(picture, prefix).to_string();
    make(&html::Contents { sheet: content, model: Some(&model), figure: &figure })
}

/// Warnings and notes as a SARIF log. A recipe that was named by an absolute path is told as seen from its folder.
fn findings(design: &Complete<'_>, world: &dyn World) -> Vec<u8> {
    let here = folder_of(&world.file(design.recipe.file).name);
    render::sarif(design.findings, world, &here)
}

/// Red, green, blue.
pub type Rgb = (u8, u8, u8);

/// The vessel from outside for a terminal, in no more than so many columns and rows; each cell is the color of its upper
/// and its lower half, none where nothing is.
#[must_use]
pub fn portrait(design: &Complete<'_>, columns: usize, rows: usize) -> Vec<Vec<(Option<Rgb>, Option<Rgb>)>> {
    let rgb = |picture::Color(red, green, blue)| (red, green, blue);
    let cells = drawings::cells(&drawings::elevation(&Sheet::new(design)), (columns, rows));
    let row =
        |row: Vec<drawings::Cell>| row.into_iter().map(|(upper, lower)| (upper.map(rgb), lower.map(rgb))).collect();
    cells.into_iter().map(row).collect()
}

/// The JSON Schema (draft 2020-12) of `design.json`, with a final line end.
#[must_use]
pub fn schema() -> String {
    design::schema()
}
