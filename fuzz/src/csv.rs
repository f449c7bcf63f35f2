//! The cut list as CSV: whatever names a recipe gives, a reader of others reads the same rows back. (No CSV is read from
//! users, so this is what can be fuzzed of it.)

use ringwright::compile::compile;
use ringwright::source::MapWorld;

use super::{files, whole};

/// Names from the bytes in a recipe that has every kind of row; or, where the bytes are a recipe, that.
pub fn target(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let (world, root) =
        if text.contains("vessel \"") { files::world(bytes) } else { MapWorld::of("named.vessel", &named(&text)) };
    let compiled = compile(&world, root);
    let documents = whole::check(&compiled, &world);
    let Some(document) = documents.iter().find(|document| document.name == "cut-list.csv") else { return };
    let rows = read(&document.bytes);

    let Some(json) = documents.iter().find(|document| document.name == "design.json") else { return };
    let design: serde_json::Value = serde_json::from_slice(&json.bytes).expect("it is JSON");
    let cuts = design["cut_list"].as_array().expect("a list of cuts");
    let of = |row: &csv::StringRecord| (row[0].to_owned(), row[1].to_owned(), row[2].to_owned(), row[3].to_owned());
    let rows: Vec<_> =
        rows.iter().map(of).filter(|row| !matches!(row.1.as_str(), "ply" | "insert" | "cone" | "cone-ring")).collect();
    let wanted: Vec<_> = cuts
        .iter()
        .map(|cut| {
            let text = |key: &str| cut[key].as_str().unwrap_or("").to_owned();
            (text("label"), text("kind"), text("wood"), cut["count"].to_string())
        })
        .collect();
    assert_eq!(rows, wanted, "rows of the CSV and of design.json");
}

/// Every row has a cell for each head; RFC 4180 ends them with both line ends.
fn read(bytes: &[u8]) -> Vec<csv::StringRecord> {
    assert!(bytes.ends_with(b"\r\n"), "the last row has no line end");
    let mut reader = csv::ReaderBuilder::new().flexible(false).from_reader(bytes);
    let rows: Result<Vec<_>, _> = reader.records().collect();
    rows.unwrap_or_else(|error| panic!("{error}\n{}", String::from_utf8_lossy(bytes)))
}

/// The first four words are the names of a wood, a board, a layer and an insert, the rest is the vessel's name.
fn named(text: &str) -> String {
    let mut words = text.splitn(5, char::is_whitespace).map(str::trim).chain(std::iter::repeat(""));
    let mut next = |instead: &'static str| words.next().filter(|word| !word.is_empty()).unwrap_or(instead);
    let (wood, board, layer, insert) = (next("dark"), next("stripe"), next("band"), next("knob"));
    let title = next("Box").replace('\\', "\\\\").replace('"', "\\\"");
    format!(
        "units mm\nwood {wood} {{ like black-walnut }}\nboard {board} {{ {wood} 5  maple 3  {wood} 11 }}\n\
         vessel \"{title}\" {{\n  outside {{ at 0 diameter 130   at 130 diameter 130 }}\n  wall 11\n  floor 15\n  top 20\n  \
         every ring {{ segments 12  thick 18 }}\n  body {{\n    disc {wood}  thick 15\n    ring {board} name {layer}\n    \
         ring [{wood} maple]  spacer maple 2\n    staves 16 {wood}  tall 60\n    sheet {wood} thick 1\n    ring {wood} thick 18\n  }}\n  \
         lid {{ wedges 12 {wood} thick 20 plug maple 40 }}\n  \
         insert {insert} {{ wood {wood}  into lid top  tenon diameter 10 long 12  shows diameter 22 tall 30 }}\n}}\n"
    )
}
