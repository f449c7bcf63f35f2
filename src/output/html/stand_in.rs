//! A shop sheet read off the Markdown documents, until it has contents of its own.

use super::super::sheet::Sheet;
use super::super::shop_sheet::{Block, Chapter, Column, Row, ShopSheet, Table};
use super::super::{cut_list, glue_schedule, turning};

/// The sheet of a design, without figures.
pub(in super::super) fn stand_in(sheet: &Sheet<'_>) -> ShopSheet {
    let layers: Vec<(String, String)> = sheet
        .layers()
        .iter()
        .enumerate()
        .map(|(at, layer)| (sheet.layer(at).to_owned(), layer.id.as_str().to_owned()))
        .collect();
    let chapter = |name, heading: &str, page: &str, has_boxes| Chapter {
        name,
        heading: heading.to_owned(),
        blocks: blocks(name, page, has_boxes, &layers),
    };
    ShopSheet {
        title: sheet.name(),
        subtitle: format!(
            "{} high, {} across",
            sheet.both(sheet.design.vessel.height.value),
            sheet.both(sheet.design.vessel.max_diameter.value)
        ),
        chapters: vec![
            chapter("cut-list", "Cut list", &cut_list::page(sheet), true),
            chapter("glue-schedule", "Glue schedule", &glue_schedule::page(sheet), true),
            chapter("turning", "Turning", &turning::page(sheet), false),
        ],
    }
}

fn blocks(chapter: &'static str, page: &str, has_boxes: bool, layers: &[(String, String)]) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut tables = 0;
    for part in page.split("\n\n").map(str::trim_end).filter(|part| !part.is_empty()) {
        if part.starts_with("# ") {
        } else if let Some(heading) = part.strip_prefix("## ").or_else(|| part.strip_prefix("### ")) {
            let (heading, rest) = heading.split_once('\n').unwrap_or((heading, ""));
            blocks.push(Block::Heading(plain(heading)));
            if !rest.is_empty() {
                blocks.push(Block::Text(plain(rest)));
            }
        } else if part.starts_with('|') {
            // The name of a table is one of few, as in the finished sheet.
            const NAMES: [&str; 6] = ["", "-2", "-3", "-4", "-5", "-6"];
            let name = match (chapter, tables) {
                ("cut-list", 0) => "strips",
                ("cut-list", 1) => "cut-list",
                ("glue-schedule", 0) => "glue-schedule",
                _ => "",
            };
            tables += 1;
            if name.is_empty() && tables > NAMES.len() {
                continue;
            }
            blocks.push(Block::Table(table(name, tables, part, has_boxes && !name.is_empty(), layers)));
        } else {
            let items: Vec<String> = part.lines().map(plain).collect();
            let is_list = part.starts_with(['-', '1']);
            blocks.push(if is_list { Block::List(items) } else { Block::Text(items.join(" ")) });
        }
    }
    blocks
}

fn table(name: &'static str, number: usize, part: &str, has_boxes: bool, layers: &[(String, String)]) -> Table {
    let cells = |line: &str| line.trim_matches('|').split('|').map(|cell| plain(cell.trim())).collect::<Vec<_>>();
    let mut lines = part.lines();
    let heads = lines.next().map(cells).unwrap_or_default();
    let sides = lines.next().map(cells).unwrap_or_default();
    let columns = heads
        .into_iter()
        .enumerate()
        .map(|(at, heading)| Column { heading, is_number: sides.get(at).is_some_and(|side| side.ends_with(':')) })
        .collect();
    let rows = lines
        .map(cells)
        .enumerate()
        .map(|(at, cells)| {
            let words: Vec<&str> = cells
                .iter()
                .flat_map(|cell| cell.split(|sign: char| !sign.is_alphanumeric() && sign != '-' && sign != '.'))
                .collect();
            let layers = layers.iter().filter(|(shown, _)| words.contains(&shown.as_str()));
            let layers = layers.map(|(_, id)| id.clone()).collect();
            Row { name: format!("{number}.{at}"), cells, layers }
        })
        .collect();
    Table { name: if name.is_empty() { "table" } else { name }, columns, rows, has_boxes }
}

fn plain(text: &str) -> String {
    text.trim().trim_start_matches("- ").replace("**", "").replace('\\', "")
}
