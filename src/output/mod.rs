//! Plan to documents: words, tables, JSON. Computes nothing; rounding is printing alone.

mod board_drawing;
mod calendar;
mod csv;
mod cut_kinds;
mod cut_list;
mod cutting_plan;
mod design;
mod drawing;
mod error_budget;
mod gantt;
mod glue_schedule;
mod glue_words;
mod hours;
mod inserts;
mod lid;
mod mounting;
#[allow(dead_code, reason = "not all drawings are made of it yet")]
mod picture;
mod safety;
mod sheet;
#[allow(dead_code, reason = "no document is made of it yet")]
mod shop_sheet;
mod summary;
mod table;
#[cfg(test)]
mod tests;
mod timetable;
mod turning;

use crate::compile::Complete;
use crate::finding::{folder_of, render};
use crate::source::World;

pub use design::Design;
pub use summary::summary;

use sheet::Sheet;

/// One file of a build.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// Its name in the output folder.
    pub name: &'static str,
    /// All of it.
    pub bytes: Vec<u8>,
}

/// Every document of a design, in the order of their names. Same design, same bytes.
#[must_use]
pub fn documents(design: &Complete<'_>, world: &dyn World) -> Vec<Document> {
    let sheet = Sheet::new(design);
    let mut documents = vec![
        Document { name: "cut-list.csv", bytes: csv::cut_list(&sheet) },
        Document { name: "cut-list.md", bytes: cut_list::page(&sheet).into_bytes() },
        Document { name: "cutting-plan.md", bytes: cutting_plan::page(&sheet).into_bytes() },
        Document { name: "cutting-plan.svg", bytes: board_drawing::drawing(&sheet) },
        Document { name: "design.json", bytes: design::json(design, world).into_bytes() },
        Document { name: "findings.sarif", bytes: findings(design, world) },
        Document { name: "glue-schedule.md", bytes: glue_schedule::page(&sheet).into_bytes() },
        Document { name: "glue-schedule.svg", bytes: gantt::drawing(&sheet) },
        Document { name: "turning.md", bytes: turning::page(&sheet).into_bytes() },
    ];
    // A calendar needs to know which day is the first.
    documents.extend(calendar::calendar(&sheet).map(|bytes| Document { name: "glue-schedule.ics", bytes }));
    documents.sort_by_key(|document| document.name);
    documents
}

/// Warnings and notes as a SARIF log. A recipe that was named by an absolute path is told as seen from its folder.
fn findings(design: &Complete<'_>, world: &dyn World) -> Vec<u8> {
    let here = folder_of(&world.file(design.recipe.file).name);
    render::sarif(design.findings, world, &here)
}

/// The JSON Schema (draft 2020-12) of `design.json`, with a final line end.
#[must_use]
pub fn schema() -> String {
    design::schema()
}
