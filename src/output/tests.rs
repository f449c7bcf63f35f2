//! Every document of hand-written vessels: as it is read by people, and by programs.

use serde_json::Value;

use super::sheet::Sheet;
use super::{Document, documents, is_document, schema, summary};
use crate::compile::Complete;
use crate::finding::{Finding, catalog};
use crate::plan::fixture::{Fixture, Make, bowl, jar, stack};
use crate::plan::tests::sample as fixture_kinds;
use crate::plan::{self, Plan};
use crate::quantity::{Length, System};
use crate::resolve::PartKind;
use crate::source::{FileId, Span};

/// A fixture, planned, its stations measured on its own cone.
struct Built {
    fixture: Fixture,
    plan: Plan,
    findings: Vec<Finding>,
}

impl Built {
    fn of(mut fixture: Fixture) -> Self {
        let done = plan::plan(&fixture.recipe, &fixture.vessel, plan::Asked::default(), &mut fixture.ledger);
        let mut plan = done.value;
        plan.turning.stations = fixture.stations();
        Self { fixture, plan, findings: done.findings }
    }

    /// A fixture whose geometry was built as any recipe's is.
    fn of_kinds(mut fixture: Fixture) -> Self {
        let done = plan::plan(&fixture.recipe, &fixture.vessel, plan::Asked::default(), &mut fixture.ledger);
        Self { fixture, plan: done.value, findings: done.findings }
    }

    fn complete(&self) -> Complete<'_> {
        Complete {
            recipe: &self.fixture.recipe,
            vessel: &self.fixture.vessel,
            plan: &self.plan,
            ledger: &self.fixture.ledger,
            findings: &self.findings,
            accepted: &[],
        }
    }

    fn documents(&self) -> Vec<Document> {
        documents(&self.complete(), &self.fixture.world)
    }

    fn text(&self, name: &str) -> String {
        let document = self.documents().into_iter().find(|document| document.name == name).unwrap();
        String::from_utf8(document.bytes).unwrap()
    }

    fn json(&self) -> Value {
        serde_json::from_str(&self.text("design.json")).unwrap()
    }
}

fn many() -> Fixture {
    let ring = (PartKind::Body, Make::Ring(24, &[0, 1, 2], None), 18.0);
    let mut layers = vec![ring; 40];
    for (at, layer) in layers.iter_mut().enumerate() {
        layer.2 += f64::from(u8::try_from(at).unwrap());
    }
    stack(&layers)
}

#[test]
fn the_bowls_pages() {
    let built = Built::of(bowl());
    insta::assert_snapshot!("bowl-cut-list.md", built.text("cut-list.md"));
    insta::assert_snapshot!("bowl-cut-list.csv", built.text("cut-list.csv").replace("\r\n", "\n"));
    insta::assert_snapshot!("bowl-glue-schedule.md", built.text("glue-schedule.md"));
    insta::assert_snapshot!("bowl-turning.md", built.text("turning.md"));
    insta::assert_snapshot!("bowl-summary", summary(&built.complete()));
}

#[test]
fn the_jars_pages() {
    let built = Built::of(jar());
    insta::assert_snapshot!("jar-cut-list.md", built.text("cut-list.md"));
    insta::assert_snapshot!("jar-glue-schedule.md", built.text("glue-schedule.md"));
    insta::assert_snapshot!("jar-turning.md", built.text("turning.md"));
    insta::assert_snapshot!("jar-summary", summary(&built.complete()));
}

#[test]
fn the_bowls_json() {
    insta::assert_snapshot!(
        "bowl-design.json",
        Built::of(bowl())
            .text("design.json")
            .replace(concat!("\"version\": \"", env!("CARGO_PKG_VERSION"), "\""), "\"version\": \"[version]\"",)
    );
}

#[test]
fn a_summary_fits_a_screen() {
    for fixture in [bowl(), jar(), many()] {
        let built = Built::of(fixture);
        let text = summary(&built.complete());
        let lines = text.lines().count();
        assert!((18..=42).contains(&lines), "{lines} lines:\n{text}");
        assert!(text.lines().all(|line| line.chars().count() <= 110), "{text}");
    }
}

#[test]
fn every_design_keeps_to_the_schema() {
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    for fixture in [bowl(), jar(), many(), stack(&[(PartKind::Body, Make::Disc(0), 20.0)])] {
        let mut built = Built::of(fixture);
        let span = Span::new(FileId(0), 0, 8);
        built.findings.push(
            Finding::new(&catalog::WALL_THIN, span, "the wall is thin")
                .also(span, "the least is set here")
                .help("thicken it"),
        );
        let design = built.json();
        let wrong: Vec<String> = validator.iter_errors(&design).map(|error| error.to_string()).collect();
        assert!(wrong.is_empty(), "{wrong:?}");
    }
    // It is not so loose that anything passes.
    let mut wrong = Built::of(bowl()).json();
    wrong["totals"]["height_mm"] = Value::from("3 in");
    assert!(!validator.is_valid(&wrong));
    wrong = Built::of(bowl()).json();
    wrong["parts"][0]["layers"][1]["segments"][0]["kind"] = Value::from("wodd");
    assert!(!validator.is_valid(&wrong));
}

#[test]
fn the_design_has_its_spine_and_the_very_numbers_of_the_computation() {
    let built = Built::of(bowl());
    let design = built.json();
    for key in [
        "schema_version",
        "generator",
        "recipe",
        "totals",
        "woods",
        "parts",
        "joints",
        "inserts",
        "turning",
        "cut_list",
        "cutting_plan",
        "glue_schedule",
        "findings",
    ] {
        assert!(!design[key].is_null(), "{key}");
    }
    let layer = &design["parts"][0]["layers"][2];
    for key in [
        "id",
        "kind",
        "part",
        "index",
        "z0_mm",
        "z1_mm",
        "thickness_mm",
        "rough_thickness_mm",
        "outer_radius_mm",
        "inner_radius_mm",
        "blank_outer_radius_mm",
        "blank_inner_radius_mm",
        "rotation_deg",
        "strip_width_mm",
        "cuts",
        "segments",
    ] {
        assert!(!layer[key].is_null(), "{key}");
    }
    for key in
        ["wood", "count", "miter_deg", "bevel_deg", "long_edge_mm", "short_edge_mm", "thickness_mm", "strip_length_mm"]
    {
        assert!(!layer["cuts"][0][key].is_null(), "{key}");
    }
    let same =
        |value: &Value, number: f64| assert_eq!(value.as_f64().map(f64::to_bits), Some(number.to_bits()), "{value}");
    let computed = &built.fixture.vessel.layers[2];
    same(&layer["blank_outer_radius_mm"], computed.blank_outer_radius.value.mm());
    same(&layer["rotation_deg"], computed.rotation.degrees());
    same(&design["totals"]["mass_g"], built.plan.totals.mass.value.grams());
    same(&layer["cuts"][1]["strip_length_mm"], built.plan.cut_list.of_layer[2][1].net.value.mm());
    assert_eq!(layer["segments"].as_array().unwrap().len(), 12);
    same(&layer["segments"][11]["start_deg"], computed.rotation.degrees() + 330.0);
}

#[test]
fn every_number_of_a_row_can_be_followed_to_a_line() {
    let built = Built::of(bowl());
    let design = built.json();
    let workings = design["workings"].as_array().unwrap();
    let at = |value: &Value| &workings[usize::try_from(value.as_u64().unwrap()).unwrap()];
    let strip = &design["cutting_plan"]["strips"][0];
    let length = at(&strip["workings"]["length"]);
    assert_eq!(length["gives"], "strip length");
    assert_eq!(length["value"], strip["length_mm"]);
    // Strip length ← pieces ← kerf, set in the shop on line 2 of the recipe.
    let pieces = at(&length["inputs"][0]["origin"]["figure"]);
    let kerf = pieces["inputs"].as_array().unwrap().iter().find(|input| input["name"] == "kerf").unwrap();
    assert_eq!(kerf["origin"]["kind"], "shop");
    assert_eq!((&kerf["origin"]["file"], &kerf["origin"]["line"]), (&Value::from("bowl.vessel"), &Value::from(2)));
    // Every figure that anything points to is there.
    for input in workings.iter().flat_map(|working| working["inputs"].as_array().unwrap()) {
        if let Some(figure) = input["origin"]["figure"].as_u64() {
            let figure = &workings[usize::try_from(figure).unwrap()];
            assert_eq!(figure["value"], input["value"], "{input}");
            assert_eq!(figure["unit"], input["unit"], "{input}");
        }
    }
}

/// `1 15/64"` as a number.
fn inches_of(text: &str) -> f64 {
    let parts = text.trim_end_matches('"').split(' ');
    let number = |part: &str| match part.split_once('/') {
        Some((above, below)) => above.parse::<f64>().unwrap() / below.parse::<f64>().unwrap(),
        None => part.parse().unwrap(),
    };
    parts.map(number).sum()
}

/// Who rips by either figure must not saw too narrow.
#[test]
fn a_width_to_rip_is_no_less_than_needed_in_either_system() {
    let mut built = Built::of(jar());
    for units in [System::Inch, System::Millimeter] {
        built.fixture.recipe.units = units;
        let complete = built.complete();
        let sheet = Sheet::new(&complete);
        for step in 0..2000_u32 {
            let needed = Length::from_mm(15.0 + f64::from(step) * 0.01);
            for told in [sheet.ripped_pair(needed), sheet.ripped_both(needed)] {
                let (own, beside) = told.trim_end_matches(')').split_once(" (").unwrap();
                for figure in [own, beside.rsplit(", ").next().unwrap()] {
                    let mm =
                        figure.strip_suffix(" mm").map_or_else(|| inches_of(figure) * 25.4, |mm| mm.parse().unwrap());
                    let over = mm - needed.mm();
                    assert!((-1e-4..0.6).contains(&over), "{told} for {needed:?}");
                }
            }
        }
    }
}

/// The fence is set by the cutting plan, the strip is looked for by the cut list.
#[test]
fn plan_and_list_tell_one_width() {
    for make in [jar, bowl, many] {
        for units in [System::Inch, System::Millimeter] {
            let mut fixture = make();
            fixture.recipe.units = units;
            let built = Built::of(fixture);
            let complete = built.complete();
            let sheet = Sheet::new(&complete);
            let (list, plan) = (built.text("cut-list.md"), built.text("cutting-plan.md"));
            let of_layers = (0..sheet.layers().len()).filter_map(|layer| complete.plan.cut_list.strip_of(layer));
            assert!(
                of_layers
                    .map(|width| sheet.ripped_pair(width))
                    .all(|told| list.contains(told.split(" (").next().unwrap()))
            );
            for strip in &complete.plan.cut_list.strips {
                let told = sheet.ripped_both(strip.width.value);
                assert!(list.contains(&told) && plan.contains(&format!("**{told}**")), "{told}: {plan}");
            }
        }
    }
}

#[test]
fn the_spreadsheet_reads_back_the_same_cuts() {
    let built = Built::of(jar());
    let text = built.text("cut-list.csv");
    assert!(text.ends_with("\r\n") && text.lines().count() == text.matches("\r\n").count());
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let heads = reader.headers().unwrap().clone();
    let records: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let list = &built.plan.cut_list;
    assert_eq!(records.len(), list.rows.len() + list.discs.len());
    let cell =
        |record: &csv::StringRecord, head: &str| record[heads.iter().position(|name| name == head).unwrap()].to_owned();
    let agrees = |record: &csv::StringRecord, name: &str, length: Length| {
        let mm: f64 = cell(record, &format!("{name}_mm")).parse().unwrap();
        let inches: f64 = cell(record, &format!("{name}_in")).parse().unwrap();
        assert!((mm - length.mm()).abs() <= 0.000_501, "{name} {mm}");
        assert!((inches - length.inches()).abs() <= 0.000_050_1, "{name} {inches}");
        let fraction = cell(record, &format!("{name}_fraction"));
        if name == "strip_width" {
            let (told, least) = (inches_of(&fraction), length.inches());
            assert!(told > least - 1e-6 && told < least + 1.0 / 64.0, "{fraction} for {least} in");
        } else {
            assert_eq!(fraction, crate::quantity::show_inches(length));
        }
    };
    for (record, row) in records.iter().zip(&list.rows) {
        assert_eq!(cell(record, "pieces").parse::<u32>().unwrap(), row.count);
        agrees(record, "long_edge", row.long_edge.value);
        agrees(record, "short_edge", row.short_edge.value);
        agrees(record, "strip_width", row.strip_width.value);
        agrees(record, "thickness", row.rough_thickness.value);
        agrees(record, "strip_length", row.net.value);
        let by_layer = cell(record, "pieces_by_layer");
        assert_eq!(by_layer.split(' ').map(|count| count.parse::<u32>().unwrap()).sum::<u32>(), row.count);
    }
    for (record, disc) in records[list.rows.len()..].iter().zip(&list.discs) {
        assert_eq!(cell(record, "kind"), "disc");
        agrees(record, "diameter", disc.diameter.value);
        agrees(record, "thickness", disc.thickness.value);
        assert_eq!(cell(record, "long_edge_mm"), "");
    }
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    let (a, b) = (Built::of(jar()).documents(), Built::of(jar()).documents());
    assert_eq!(a, b);
    assert!(a.iter().all(|document| is_document(&document.name)), "a name that is in no list");
    assert!(!is_document("layer-.svg") && !is_document("layer-1.svg.bak") && !is_document("notes.md"));
    let names: Vec<&str> = a.iter().map(|document| document.name.as_ref()).collect();
    assert_eq!(
        names,
        [
            "cut-list.csv",
            "cut-list.md",
            "cutting-plan.md",
            "cutting-plan.svg",
            "design.json",
            "elevation.svg",
            "findings.sarif",
            "glue-schedule.md",
            "glue-schedule.svg",
            "layer-01.svg",
            "layer-02.svg",
            "layer-03.svg",
            "layer-04.svg",
            "layer-05.svg",
            "model.glb",
            "model.stl",
            "section.svg",
            "shop-sheet.html",
            "shop-sheet.pdf",
            "turning.md",
            "unrolled.svg"
        ]
    );
    let mut texts =
        a.iter().filter(|document| !document.name.starts_with("model.") && document.name != "shop-sheet.pdf");
    assert!(
        texts.all(|document| {
            document.bytes.ends_with(b"\n") && !document.bytes.windows(2).any(|pair| pair == b" \n")
        })
    );
}

#[test]
fn a_vessels_name_cannot_write_on_the_page() {
    let mut fixture = bowl();
    fixture.recipe.name.value = "a | b\n# *c* <d>\u{1b}[31m".to_owned();
    let built = Built::of(fixture);
    let page = built.text("cut-list.md");
    assert!(page.starts_with("# a \\| b \\# \\*c\\* \\<d\\> \\[31m: cut list\n"), "{}", page.lines().next().unwrap());
    assert!(!summary(&built.complete()).contains('\u{1b}'));
    assert_eq!(built.json()["recipe"]["name"], "a | b\n# *c* <d>\u{1b}[31m");
}

#[test]
fn tables_align_as_plain_text() {
    for fixture in [bowl(), jar()] {
        let built = Built::of(fixture);
        for name in ["cut-list.md", "glue-schedule.md", "turning.md"] {
            let text = built.text(name);
            let lines: Vec<&str> = text.lines().collect();
            for table in lines.chunk_by(|a, b| a.starts_with('|') == b.starts_with('|')) {
                if table[0].starts_with('|') {
                    let width = table[0].chars().count();
                    assert!(table.iter().all(|row| row.chars().count() == width), "{name}: {table:#?}");
                }
            }
        }
    }
}

#[test]
fn the_pages_of_other_layers() {
    for (name, fixture) in [
        ("cachepot", fixture_kinds::cachepot()),
        ("lantern", fixture_kinds::lantern()),
        ("crock", fixture_kinds::crock()),
        ("board-bowl", fixture_kinds::board_bowl()),
        ("beaker", fixture_kinds::beaker()),
    ] {
        let built = Built::of_kinds(fixture);
        insta::assert_snapshot!(format!("{name}-cut-list.md"), built.text("cut-list.md"));
        insta::assert_snapshot!(format!("{name}-glue-schedule.md"), built.text("glue-schedule.md"));
    }
    let beaker = Built::of_kinds(fixture_kinds::beaker());
    insta::assert_snapshot!("beaker-cut-list.csv", beaker.text("cut-list.csv").replace("\r\n", "\n"));
    insta::assert_snapshot!("beaker-summary", summary(&beaker.complete()));
    let crock = Built::of_kinds(fixture_kinds::crock());
    insta::assert_snapshot!("crock-turning.md", crock.text("turning.md"));
}

#[test]
fn other_layers_keep_to_the_schema_and_their_tables_align() {
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    let mut kinds = Vec::new();
    for fixture in fixture_kinds::all() {
        let built = Built::of_kinds(fixture);
        let design = built.json();
        let wrong: Vec<String> = validator.iter_errors(&design).map(|error| error.to_string()).collect();
        assert!(wrong.is_empty(), "{wrong:?}");
        kinds.extend(design["parts"][0]["layers"].as_array().unwrap().iter().map(|layer| layer["kind"].clone()));
        for name in ["cut-list.md", "glue-schedule.md", "turning.md"] {
            let text = built.text(name);
            let lines: Vec<&str> = text.lines().collect();
            for table in lines.chunk_by(|a, b| a.starts_with('|') == b.starts_with('|')) {
                if table[0].starts_with('|') {
                    let width = table[0].chars().count();
                    assert!(table.iter().all(|row| row.chars().count() == width), "{name}: {table:#?}");
                }
            }
        }
        // Every record has as many fields as there are heads: the reader would refuse it otherwise.
        let csv = built.text("cut-list.csv");
        let mut reader = csv::Reader::from_reader(csv.as_bytes());
        let records: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        let list = &built.plan.cut_list;
        let boards = list.boards.iter().map(|board| board.plies.len()).sum::<usize>();
        let cones = list.cones.iter().map(|cone| 1 + cone.rings.len()).sum::<usize>();
        let rows = list.rows.len() + list.staves.len() + list.discs.len() + list.spacers.len();
        assert_eq!(records.len(), rows + boards + cones);
        let lines = summary(&built.complete());
        assert!(lines.lines().count() <= 42 && lines.lines().all(|line| line.chars().count() <= 110), "{lines}");
    }
    for kind in ["ring", "wedges", "staves", "cone", "sheet", "disc"] {
        assert!(kinds.contains(&Value::from(kind)), "{kind}");
    }
}

#[test]
fn json_tells_spacers_gaps_sizes_boards_and_cones() {
    let design = Built::of_kinds(fixture_kinds::beaker()).json();
    let layer = &design["parts"][0]["layers"][1];
    assert_eq!(layer["cuts"].as_array().unwrap().len(), 2);
    assert_eq!(layer["segments"][0]["kind"], "spacer");
    assert_eq!(layer["segments"][0]["wood"], "cherry");
    assert_eq!(layer["segments"][1]["kind"], "wood");
    assert_eq!(design["boards"][0]["name"], "stripe");
    assert_eq!(design["boards"][0]["plies"][1]["wood"], "maple");
    let design = Built::of_kinds(fixture_kinds::lantern()).json();
    assert_eq!(design["parts"][0]["layers"][2]["segments"][0]["kind"], "gap");
    let design = Built::of_kinds(fixture_kinds::board_bowl()).json();
    assert_eq!(design["cones"][0]["rings"][0]["layer"], "body.cone-6");
    let design = Built::of_kinds(fixture_kinds::cachepot()).json();
    let cut = &design["parts"][0]["layers"][1]["cuts"][0];
    assert!(cut["bevel_deg"].as_f64().unwrap() > 14.0 && cut["length_mm"].as_f64().unwrap() > 120.0, "{cut}");
}
