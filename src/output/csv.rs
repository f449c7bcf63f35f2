//! The cut list as a spreadsheet reads it (RFC 4180): a row for each cut, for each round and
//! for the blank of each insert.
//!
//! Millimeters to a thousandth, inches to a ten-thousandth, and inches as the nearest 1/64; a cell
//! that a row has no use for is empty.

use csv::{Terminator, Writer, WriterBuilder};

use crate::plan::{CutRow, DiscRow, InsertBlank, Serving};
use crate::quantity::{Length, show_inches};

use super::sheet::{Sheet, letter, strip};

/// Lengths take three columns each: `…_mm`, `…_in`, `…_fraction`.
const HEADS: [&str; 30] = [
    "cut",
    "kind",
    "wood",
    "pieces",
    "setting",
    "segments",
    "miter_deg",
    "bevel_deg",
    "long_edge_mm",
    "long_edge_in",
    "long_edge_fraction",
    "short_edge_mm",
    "short_edge_in",
    "short_edge_fraction",
    "strip_width_mm",
    "strip_width_in",
    "strip_width_fraction",
    "thickness_mm",
    "thickness_in",
    "thickness_fraction",
    "strip_length_mm",
    "strip_length_in",
    "strip_length_fraction",
    "diameter_mm",
    "diameter_in",
    "diameter_fraction",
    "strip",
    "strip_is_given",
    "layers",
    "pieces_by_layer",
];

/// All cuts, in the order of sawing.
pub(super) fn cut_list(sheet: &Sheet<'_>) -> Vec<u8> {
    let list = &sheet.plan.cut_list;
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    // Writing to memory cannot fail, so there is nothing to report.
    let _ = writer.write_record(HEADS);
    for (at, row) in list.rows.iter().enumerate() {
        segment_row(&mut writer, sheet, at, row);
    }
    for (at, disc) in list.discs.iter().enumerate() {
        disc_row(&mut writer, sheet, list.rows.len() + at, disc);
    }
    for (at, blank) in sheet.plan.insert_blanks.iter().enumerate() {
        insert_row(&mut writer, sheet, list.rows.len() + list.discs.len() + at, blank);
    }
    writer.into_inner().unwrap_or_default()
}

fn segment_row(writer: &mut Writer<Vec<u8>>, sheet: &Sheet<'_>, at: usize, row: &CutRow) {
    let is_given = sheet.plan.cut_list.strips.get(row.strip).is_some_and(|strip| strip.is_given);
    let mut cells = vec![
        letter(at),
        "segments".to_owned(),
        sheet.wood(row.wood).to_owned(),
        row.count.to_string(),
        (row.setup + 1).to_string(),
        row.segments.to_string(),
        format!("{:.4}", row.miter.value.degrees()),
        "0".to_owned(),
    ];
    for length in [row.long_edge, row.short_edge, row.strip_width, row.rough_thickness, row.net] {
        cells.extend(columns(length.value));
    }
    cells.extend([String::new(), String::new(), String::new(), strip(row.strip), yes(is_given)]);
    let layers = |serving: &Serving| sheet.layer(serving.layer);
    cells.push(row.serves.iter().map(layers).collect::<Vec<_>>().join(" "));
    cells.push(row.serves.iter().map(|serving| serving.count.to_string()).collect::<Vec<_>>().join(" "));
    let _ = writer.write_record(cells);
}

fn disc_row(writer: &mut Writer<Vec<u8>>, sheet: &Sheet<'_>, at: usize, disc: &DiscRow) {
    let mut cells =
        vec![letter(at), "disc".to_owned(), sheet.wood(disc.wood).to_owned(), disc.layers.len().to_string()];
    // No setting, no edges, no strip.
    cells.extend(std::iter::repeat_n(String::new(), 4 + 9));
    cells.extend(columns(disc.thickness.value));
    cells.extend(std::iter::repeat_n(String::new(), 3));
    cells.extend(columns(disc.diameter.value));
    cells.extend([String::new(), String::new()]);
    cells.push(disc.layers.iter().map(|layer| sheet.layer(*layer)).collect::<Vec<_>>().join(" "));
    cells.push(vec!["1"; disc.layers.len()].join(" "));
    let _ = writer.write_record(cells);
}

/// Width, thickness and length stand where those of a strip do; empty when its size is not known.
fn insert_row(writer: &mut Writer<Vec<u8>>, sheet: &Sheet<'_>, at: usize, blank: &InsertBlank) {
    let mut cells = vec![letter(at), "insert".to_owned(), sheet.wood(blank.wood).to_owned(), "1".to_owned()];
    cells.extend(std::iter::repeat_n(String::new(), 4 + 6));
    match blank.size {
        Some(sides) => cells.extend(sides.iter().flat_map(|side| columns(side.value))),
        None => cells.extend(std::iter::repeat_n(String::new(), 9)),
    }
    cells.extend(std::iter::repeat_n(String::new(), 5));
    cells.extend([format!("insert.{}", sheet.insert(blank.insert)), "1".to_owned()]);
    let _ = writer.write_record(cells);
}

fn columns(length: Length) -> [String; 3] {
    [format!("{:.3}", length.mm()), format!("{:.4}", length.inches()), show_inches(length)]
}

fn yes(is_so: bool) -> String {
    if is_so { "yes" } else { "no" }.to_owned()
}
