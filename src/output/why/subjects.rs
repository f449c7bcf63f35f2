//! The names of figures: `body.ring-3.strip-width`, `cut.A.long-edge`, `vessel.mass`.

use serde_json::{Map, Value};

use crate::compile::Complete;
use crate::workings::FigureId;

use super::super::design::{Sources, whole};

/// A figure and its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Subject {
    /// Whose it is: `body.ring-3`.
    pub of: String,
    /// What it is: `strip-width`.
    pub figure: String,
    pub id: FigureId,
}

impl Subject {
    pub(super) fn name(&self) -> String {
        format!("{}.{}", self.of, self.figure)
    }
}

/// What a key of `design.json` is called in a name; those that are not here are called as they are.
const WORDS: [(&str, &str); 10] = [
    ("totals", "vessel"),
    ("woods", "wood"),
    ("joints", "joint"),
    ("inserts", "insert"),
    ("boards", "board"),
    ("cones", "cone"),
    ("cut_list", "cut"),
    ("strips", "strip"),
    ("speeds", "speed"),
    ("glue_needed", "glue"),
];

/// What an element of an array is known by, the first that it has.
const NAMES: [&str; 6] = ["label", "name", "wood", "glue", "part", "layer"];

/// All of a design, in its order. Read off the very objects that `design.json` is made of, so that whatever points into the
/// workings there can be asked for.
pub(super) fn of(design: &Complete<'_>, sources: &Sources) -> Vec<Subject> {
    let ids: Vec<FigureId> = design.ledger.figures().map(|(id, _)| id).collect();
    let mut subjects = Vec::new();
    if let Value::Object(mut whole) = whole(design, sources) {
        let first: Vec<(&str, Value)> = FIRST.iter().filter_map(|key| Some((*key, whole.remove(*key)?))).collect();
        let rest = whole.iter().map(|(key, value)| (key.as_str(), value));
        for (key, value) in first.iter().map(|(key, value)| (*key, value)).chain(rest) {
            walk(value, &word(key), &ids, &mut subjects);
        }
    }
    subjects
}

/// What is asked for most; the rest follows by the alphabet.
const FIRST: [&str; 5] = ["totals", "woods", "parts", "joints", "inserts"];

fn word(key: &str) -> String {
    WORDS.iter().find(|(known, _)| *known == key).map_or_else(|| dashed(key), |(_, word)| (*word).to_owned())
}

fn walk(value: &Value, called: &str, ids: &[FigureId], subjects: &mut Vec<Subject>) {
    match value {
        Value::Object(object) => {
            if let Some(Value::Object(workings)) = object.get("workings") {
                let figures = workings.iter().filter_map(|(figure, at)| {
                    let at = usize::try_from(at.as_u64()?).ok()?;
                    Some(Subject { of: called.to_owned(), figure: dashed(figure), id: *ids.get(at)? })
                });
                subjects.extend(figures);
            }
            for (key, inner) in object.iter().filter(|(key, _)| *key != "workings") {
                let inner_called = match (inner, WORDS.iter().any(|(known, _)| known == key)) {
                    (_, true) => word(key),
                    // A lone object within another is part of it.
                    (Value::Object(_), false) => format!("{called}.{}", dashed(key)),
                    (_, false) => dashed(key),
                };
                walk(inner, &inner_called, ids, subjects);
            }
        }
        Value::Array(elements) => {
            for (at, element) in elements.iter().enumerate() {
                let Value::Object(object) = element else { continue };
                walk(element, &element_name(object, called, (at, elements.len())), ids, subjects);
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

/// A layer and a glue-up have names of their own; others are told by what they belong to, and one alone by that.
fn element_name(object: &Map<String, Value>, called: &str, (at, of): (usize, usize)) -> String {
    let text = |key: &str| object.get(key).and_then(Value::as_str);
    if let Some(id) = text("id") {
        return id.to_owned();
    }
    match NAMES.iter().find_map(|key| text(key)) {
        Some(name) => format!("{called}.{name}"),
        None if of == 1 => called.to_owned(),
        None => format!("{called}.{}", at + 1),
    }
}

fn dashed(key: &str) -> String {
    key.replace('_', "-")
}
