//! The cut list as a spreadsheet reads it (RFC 4180): a row for each cut, round, spacer, board and ring
//! of a cone, blank of an insert, and ply of a laminated board; `kind` says which.
//!
//! Millimeters to a thousandth, inches to a ten-thousandth, and inches as the nearest 1/64; a cell
//! that a row has no use for is empty.

use csv::{Terminator, Writer, WriterBuilder};

use crate::plan::{BoardRow, ConeRow, CutRow, DiscRow, InsertBlank, Serving, SpacerRow, StaveRow, ripped};
use crate::quantity::{Angle, Length, System, show_inches};

use super::sheet::{Sheet, letter, strip};

/// Lengths take three columns each: `…_mm`, `…_in`, `…_fraction`. The fraction is the nearest 1/64, that of a width to rip
/// the next one up.
const HEADS: [&str; 42] = [
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
    "length_mm",
    "length_in",
    "length_fraction",
    "height_mm",
    "height_in",
    "height_fraction",
    "outer_radius_mm",
    "outer_radius_in",
    "outer_radius_fraction",
    "inner_radius_mm",
    "inner_radius_in",
    "inner_radius_fraction",
];

/// All cuts, in the order of sawing.
pub(super) fn cut_list(sheet: &Sheet<'_>) -> Vec<u8> {
    let list = &sheet.plan.cut_list;
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    // Writing to memory cannot fail, so there is nothing to report.
    let _ = writer.write_record(HEADS);
    let letters = list.letters();
    for (at, row) in list.rows.iter().enumerate() {
        segment_row(&mut writer, sheet, at, row);
    }
    for (at, row) in list.staves.iter().enumerate() {
        stave_row(&mut writer, sheet, letters.staves + at, row);
    }
    for (at, disc) in list.discs.iter().enumerate() {
        disc_row(&mut writer, sheet, letters.discs + at, disc);
    }
    for (at, row) in list.spacers.iter().enumerate() {
        spacer_row(&mut writer, sheet, letters.spacers + at, row);
    }
    for (at, row) in list.cones.iter().enumerate() {
        cone_rows(&mut writer, sheet, letters.cones + at, row);
    }
    for (at, blank) in sheet.plan.insert_blanks.iter().enumerate() {
        insert_row(&mut writer, sheet, letters.inserts + at, blank);
    }
    for board in &list.boards {
        ply_rows(&mut writer, sheet, board);
    }
    writer.into_inner().unwrap_or_default()
}

/// A record under construction: cells by the name of their column.
struct Record {
    cells: Vec<String>,
}

impl Record {
    fn new(label: String, kind: &str, wood: &str, pieces: usize) -> Self {
        let mut record = Self { cells: vec![String::new(); HEADS.len()] };
        record.set("cut", label);
        record.set("kind", kind.to_owned());
        record.set("wood", wood.to_owned());
        record.set("pieces", pieces.to_string());
        record
    }

    fn set(&mut self, head: &str, text: String) {
        if let Some(cell) = HEADS.iter().position(|name| *name == head).and_then(|at| self.cells.get_mut(at)) {
            *cell = text;
        }
    }

    /// Three columns from the one named `…_mm`.
    fn length(&mut self, head: &str, length: Length) {
        let Some(first) = HEADS.iter().position(|name| *name == head) else { return };
        for (cell, text) in self.cells.iter_mut().skip(first).zip(columns(length)) {
            *cell = text;
        }
    }

    /// The same of a width to rip: who sets the fence by the fraction must not saw too narrow.
    fn width(&mut self, width: Length) {
        self.length("strip_width_mm", width);
        self.set("strip_width_fraction", show_inches(ripped(width, System::Inch)));
    }

    fn angles(&mut self, miter: Angle, bevel: Angle) {
        self.set("miter_deg", format!("{:.4}", miter.degrees()));
        let bevel = bevel.degrees();
        self.set("bevel_deg", if bevel == 0.0 { "0".to_owned() } else { format!("{bevel:.4}") });
    }

    fn serves(&mut self, sheet: &Sheet<'_>, serves: &[Serving]) {
        let layers: Vec<&str> = serves.iter().map(|serving| sheet.layer(serving.layer)).collect();
        let counts: Vec<String> = serves.iter().map(|serving| serving.count.to_string()).collect();
        self.set("layers", layers.join(" "));
        self.set("pieces_by_layer", counts.join(" "));
    }

    fn write(self, writer: &mut Writer<Vec<u8>>) {
        let _ = writer.write_record(self.cells);
    }
}

fn segment_row(writer: &mut Writer<Vec<u8>>, sheet: &Sheet<'_>, at: usize, row: &CutRow) {
    let is_given = sheet.plan.cut_list.strips.get(row.strip).is_some_and(|strip| strip.is_given);
    let mut record = Record::new(letter(at), "segments", sheet.wood(row.wood), row.count as usize);
    record.set("setting", (row.setup + 1).to_string());
    record.set("segments", row.segments.to_string());
    record.angles(row.miter.value, row.bevel.value);
    record.length("long_edge_mm", row.long_edge.value);
    record.length("short_edge_mm", row.short_edge.value);
    record.width(row.strip_width.value);
    record.length("thickness_mm", row.rough_thickness.value);
    record.length("strip_length_mm", row.net.value);
    record.set("strip", strip(row.strip));
    record.set("strip_is_given", yes(is_given));
    record.serves(sheet, &row.serves);
    record.write(writer);
}

/// The wider end stands as the long edge, the narrower one as the short edge; the taper as the miter, the
/// blade's tilt as the bevel. What a board must be across stands as the strip's length.
fn stave_row(writer: &mut Writer<Vec<u8>>, sheet: &Sheet<'_>, at: usize, row: &StaveRow) {
    let mut record = Record::new(letter(at), "staves", sheet.wood(row.wood), row.count as usize);
    record.set("segments", row.segments.to_string());
    record.angles(row.taper.value, row.tilt.value);
    record.length("long_edge_mm", row.wide.value);
    record.length("short_edge_mm", row.narrow.value);
    record.length("thickness_mm", row.thickness.value);
    record.length("strip_length_mm", row.across.value);
    record.set("strip_is_given", yes(row.is_given));
    record.length("length_mm", row.length.value);
    record.serves(sheet, &row.serves);
    record.write(writer);
}

/// A sheet's diameter is the side of its square.
fn disc_row(writer: &mut Writer<Vec<u8>>, sheet: &Sheet<'_>, at: usize, disc: &DiscRow) {
    let mut record = Record::new(letter(at), disc.kind.word(), sheet.wood(disc.wood), disc.layers.len());
    record.length("thickness_mm", disc.thickness.value);
    record.length("diameter_mm", disc.diameter.value);
    let serves: Vec<Serving> = disc.layers.iter().map(|layer| Serving { layer: *layer, count: 1 }).collect();
    record.serves(sheet, &serves);
    record.write(writer);
}

fn spacer_row(writer: &mut Writer<Vec<u8>>, sheet: &Sheet<'_>, at: usize, row: &SpacerRow) {
    let mut record = Record::new(letter(at), "spacers", sheet.wood(row.wood), row.count as usize);
    record.length("thickness_mm", row.thickness.value);
    record.length("strip_length_mm", row.net.value);
    record.length("length_mm", row.length.value);
    record.length("height_mm", row.height.value);
    record.serves(sheet, &row.serves);
    record.write(writer);
}

/// The board, then each ring as it is drawn on it.
fn cone_rows(writer: &mut Writer<Vec<u8>>, sheet: &Sheet<'_>, at: usize, row: &ConeRow) {
    let mut record = Record::new(letter(at), "cone", sheet.wood(row.wood), 1);
    record.angles(Angle::ZERO, row.angle.value);
    record.length("thickness_mm", row.thickness.value);
    record.length("diameter_mm", row.diameter.value);
    record.write(writer);
    for ring in &row.rings {
        let mut record = Record::new(letter(at), "cone-ring", sheet.wood(row.wood), 1);
        record.angles(Angle::ZERO, row.angle.value);
        record.length("thickness_mm", row.thickness.value);
        record.length("outer_radius_mm", ring.outer.value);
        record.length("inner_radius_mm", ring.inner.value);
        record.serves(sheet, &[Serving { layer: ring.layer, count: 1 }]);
        record.write(writer);
    }
}

/// Of the board that stands under `strip`; downmost first.
fn ply_rows(writer: &mut Writer<Vec<u8>>, sheet: &Sheet<'_>, board: &BoardRow) {
    for ply in &board.plies {
        let mut record = Record::new(String::new(), "ply", sheet.wood(ply.wood), 1);
        record.width(board.width.value);
        record.length("thickness_mm", ply.thickness.value);
        record.set("strip", sheet.wood(board.wood).to_owned());
        record.length("length_mm", board.length.value);
        record.write(writer);
    }
}

/// Width, thickness and length stand where those of a strip do; empty when its size is not known.
fn insert_row(writer: &mut Writer<Vec<u8>>, sheet: &Sheet<'_>, at: usize, blank: &InsertBlank) {
    let mut record = Record::new(letter(at), "insert", sheet.wood(blank.wood), 1);
    if let Some([width, thick, long]) = blank.size {
        record.length("strip_width_mm", width.value);
        record.length("thickness_mm", thick.value);
        record.length("strip_length_mm", long.value);
    }
    record.set("layers", format!("insert.{}", sheet.insert(blank.insert)));
    record.set("pieces_by_layer", "1".to_owned());
    record.write(writer);
}

fn columns(length: Length) -> [String; 3] {
    [format!("{:.3}", length.mm()), format!("{:.4}", length.inches()), show_inches(length)]
}

fn yes(is_so: bool) -> String {
    if is_so { "yes" } else { "no" }.to_owned()
}
