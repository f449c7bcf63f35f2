//! A recipe that the bytes decide, held against all that must be true of any design.

use ringwright::compile::{Compiled, compile};
use ringwright::format::format;
use ringwright::output::Document;
use ringwright::source::{FileId, MapWorld, World};
use ringwright::syntax::parse;
use serde_json::Value;

use super::recipe::{Files, recipe};
use super::script::Script;
use super::{volumes, whole};

/// Families of findings that no recipe of the generator may have: what it writes can be read, and is known.
const NEVER: [&str; 16] = [
    "syntax/",
    "word/",
    "name/",
    "units/",
    "quantity/",
    "use/",
    "language/",
    "vessel/",
    "repeat/",
    "wood/",
    "glue/unknown",
    "finish/",
    "chart/",
    "board/",
    "internal",
    "shape/path-unreadable",
];

/// Makes the recipe and checks it.
pub fn target(bytes: &[u8]) {
    check(&files(bytes));
}

/// The files of the recipe that the bytes decide.
pub fn files(bytes: &[u8]) -> Files {
    recipe(&mut Script::new(bytes))
}

/// A world of the files, and the recipe in it.
pub fn world(files: &[(String, String)]) -> (MapWorld, FileId) {
    let mut world = MapWorld::default();
    for (name, text) in files {
        world.add(name, text);
    }
    let root = world.root(&files[0].0).expect("the recipe is there");
    (world, root)
}

/// Tells the recipe when something does not hold of it.
struct Told<'a>(&'a [(String, String)]);

impl Drop for Told<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            eprintln!("{}", shown(self.0));
        }
    }
}

/// What holds of any recipe; hands back its design, when it is complete.
pub fn check(files: &[(String, String)]) -> Option<Value> {
    let _told = Told(files);
    let (world, root) = world(files);
    let compiled = compile(&world, root);
    for finding in &compiled.findings {
        let code = finding.code.name;
        assert!(!NEVER.iter().any(|never| code.starts_with(never)), "{code}: {}", finding.message);
    }
    let documents = whole::check(&compiled, &world);
    let design = design(&documents)?;
    let stl = documents.iter().find(|document| document.name == "model.stl").expect("a model");
    volumes::check(&design, &stl.bytes);

    let again = compile(&world, root);
    assert!(whole::check(&again, &world) == documents, "other bytes of the same recipe");

    let laid: Files = files.iter().map(|(name, text)| (name.clone(), formatted(text))).collect();
    let (world, root) = self::world(&laid);
    let figures = figures(&compile(&world, root), &world).expect("a design of the formatted recipe");
    let mut plain = design.clone();
    forget_places(&mut plain);
    assert!(figures == plain, "formatted, it is another design");
    Some(design)
}

/// The files as they stand in a report.
pub fn shown(files: &[(String, String)]) -> String {
    files.iter().map(|(name, text)| format!("# file: {name}\n{text}")).collect::<Vec<_>>().concat()
}

fn design(documents: &[Document]) -> Option<Value> {
    let document = documents.iter().find(|document| document.name == "design.json")?;
    serde_json::from_slice(&document.bytes).ok()
}

/// All figures of a design, and no place in a file.
fn figures(compiled: &Compiled, world: &dyn World) -> Option<Value> {
    let mut figures = design(&whole::check(compiled, world))?;
    forget_places(&mut figures);
    Some(figures)
}

fn formatted(text: &str) -> String {
    let (world, root) = MapWorld::of("plain.vessel", text);
    format(&parse(&world.file(root)).value)
}

fn forget_places(value: &mut Value) {
    match value {
        Value::Array(values) => values.iter_mut().for_each(forget_places),
        Value::Object(fields) => {
            if fields.contains_key("file") {
                for key in ["line", "column", "start", "end"] {
                    fields.remove(key);
                }
            }
            fields.values_mut().for_each(forget_places);
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}
