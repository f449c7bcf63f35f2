//! The shop sheet: all that goes to the bench, as blocks that become pages of a PDF or sections of an HTML page.

mod content;
mod reading;
mod templates;

pub(super) use content::content;

use super::picture::Picture;

/// The sheet of one design.
#[derive(Debug, Clone)]
pub(super) struct ShopSheet {
    /// The vessel's name.
    pub title: String,
    /// One line under it.
    pub subtitle: String,
    /// In the order of the work.
    pub chapters: Vec<Chapter>,
}

/// What belongs together and begins on a page of its own.
#[derive(Debug, Clone)]
pub(super) struct Chapter {
    /// A stable word: `cover`, `cut-list`, `settings`, `cutting-plan`, `glue-schedule`, `section`, `turning`, `templates`, `cautions`.
    pub name: &'static str,
    /// Its heading.
    pub heading: String,
    /// From top to bottom.
    pub blocks: Vec<Block>,
}

/// One thing on the sheet.
#[derive(Debug, Clone)]
pub(super) enum Block {
    /// A heading within a chapter.
    Heading(String),
    /// A paragraph.
    Text(String),
    /// Items, one under the other.
    List(Vec<String>),
    /// A heading in a frame with items: what can hurt.
    Cautions(Vec<String>),
    /// Rows and columns.
    Table(Table),
    /// A figure with its caption.
    Figure(Picture, String),
    /// A figure at true scale, on as many pages as it needs; over it its name and what is to be known of it.
    Template(Picture, String, Vec<String>),
}

/// Rows and columns.
#[derive(Debug, Clone)]
pub(super) struct Table {
    /// What kind of table it is, in a stable word: `cut-list`, `settings`, `boards` …
    pub name: &'static str,
    /// From left to right.
    pub columns: Vec<Column>,
    /// From top to bottom.
    pub rows: Vec<Row>,
    /// Whether a box to tick stands before each row.
    pub has_boxes: bool,
}

/// One column.
#[derive(Debug, Clone)]
pub(super) struct Column {
    /// Over it.
    pub heading: String,
    /// Whether its cells are figures, set to the right.
    pub is_number: bool,
}

/// One row.
#[derive(Debug, Clone)]
pub(super) struct Row {
    /// A stable name, unique among the tables of its kind: what a tick, or a piece of the model, refers to.
    pub name: String,
    /// One for each column.
    pub cells: Vec<String>,
    /// The layers (ids) whose pieces it is about; empty when none.
    pub layers: Vec<String>,
}
