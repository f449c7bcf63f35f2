//! The workings as JSON: every figure with its inputs, every input with where it came from.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::compile::Complete;
use crate::quantity::Dimension;
use crate::source::{FileId, LineIndex, Span, World};
use crate::workings::{Known, Ledger, Origin as Source};

use super::{Place, Traces};

/// One computed figure.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Working<'a> {
    /// What it is.
    pub gives: &'a str,
    /// How it comes from its inputs, in words.
    pub how: &'a str,
    /// In `unit`.
    pub value: f64,
    /// `1` for a pure number.
    pub unit: &'static str,
    /// What it was made of.
    pub inputs: Vec<Input<'a>>,
}

/// One input of a figure.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Input<'a> {
    /// As the formula calls it.
    pub name: &'a str,
    /// In `unit`.
    pub value: f64,
    /// `1` for a pure number.
    pub unit: &'static str,
    /// Where it came from.
    pub origin: Origin<'a>,
}

/// Where a value comes from.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[allow(missing_docs, reason = "the keys say it")]
pub enum Origin<'a> {
    /// Written in the recipe.
    Written { file: &'a str, line: usize, start: u32, end: u32 },
    /// Set by an `every`.
    Every { file: &'a str, line: usize, start: u32, end: u32 },
    /// Set in a `shop`.
    Shop { file: &'a str, line: usize, start: u32, end: u32 },
    /// Measured on the work, in a `made` block.
    Made { file: &'a str, line: usize, start: u32, end: u32 },
    /// Nobody said: the stated default.
    Default { reason: &'a str },
    /// From a table.
    Table { table: &'a str, row: &'a str, source: &'a str },
    /// Another figure, by its place in `workings`.
    Figure { figure: usize },
}

/// The files that places of a design lie in.
#[derive(Debug)]
pub(in crate::output) struct Sources {
    files: BTreeMap<FileId, (String, LineIndex)>,
}

impl Sources {
    /// Every file that a finding or an input of the design points into.
    pub(in crate::output) fn of(complete: &Complete<'_>, world: &dyn World) -> Self {
        let ledger = complete.ledger;
        let inputs = ledger.figures().flat_map(|(id, _)| ledger.inputs_of(id));
        let inputs = inputs.filter_map(|(_, input)| input.origin.span());
        let accepted = complete.accepted.iter().map(|accepted| &accepted.finding);
        let findings = complete.findings.iter().chain(accepted);
        let findings = findings.flat_map(|finding| std::iter::once(&finding.place).chain(&finding.related));
        let spans = inputs.chain(findings.map(|label| label.span));
        let recipe = world.file(complete.recipe.file);
        let mut files = BTreeMap::new();
        for id in spans.map(|span| span.file).chain([complete.recipe.file]) {
            files.entry(id).or_insert_with(|| {
                let file = world.file(id);
                (seen_from(&recipe.name, &file.name), LineIndex::new(&file.text))
            });
        }
        Self { files }
    }

    /// The name of a file, as seen from the recipe's folder.
    pub(super) fn name(&self, id: FileId) -> &str {
        self.files.get(&id).map_or("", |(name, _)| name.as_str())
    }

    /// A place with its label.
    pub(super) fn place<'a>(&'a self, span: Span, label: &'a str) -> Place<'a> {
        Place { file: self.name(span.file), start: span.start, end: span.end, label }
    }

    /// Where a value comes from, told by file and line.
    pub(in crate::output) fn origin(&self, origin: Source) -> Origin<'_> {
        let line = |span: Span| self.files.get(&span.file).map_or(0, |(_, index)| index.line(span.start) + 1);
        match origin {
            Source::Written(span) => {
                Origin::Written { file: self.name(span.file), line: line(span), start: span.start, end: span.end }
            }
            Source::Every(span) => {
                Origin::Every { file: self.name(span.file), line: line(span), start: span.start, end: span.end }
            }
            Source::Shop(span) => {
                Origin::Shop { file: self.name(span.file), line: line(span), start: span.start, end: span.end }
            }
            Source::Made(span) => {
                Origin::Made { file: self.name(span.file), line: line(span), start: span.start, end: span.end }
            }
            Source::Default(reason) => Origin::Default { reason },
            Source::Table(row) => Origin::Table { table: row.table, row: row.row, source: row.source },
            Source::Figure(id) => Origin::Figure { figure: id.index() },
        }
    }

    /// All workings of a ledger; a figure stands at its own number.
    pub(super) fn workings<'a>(&'a self, ledger: &'a Ledger) -> Vec<Working<'a>> {
        let input = |(name, input): (&'static str, &crate::workings::Input)| Input {
            name,
            value: input.value,
            unit: unit(input.dimension),
            origin: self.origin(input.origin),
        };
        let working = |(id, figure): (_, &'a crate::workings::Figure)| Working {
            gives: figure.formula.gives,
            how: figure.formula.words,
            value: figure.value,
            unit: unit(figure.dimension),
            inputs: ledger.inputs_of(id).map(input).collect(),
        };
        ledger.figures().map(working).collect()
    }
}

/// The base unit of a dimension.
pub(in crate::output) fn unit(dimension: Dimension) -> &'static str {
    const UNITS: [(Dimension, &str); 14] = [
        (Dimension::NONE, "1"),
        (Dimension::LENGTH, "mm"),
        (Dimension::AREA, "mm2"),
        (Dimension::VOLUME, "mm3"),
        (Dimension::ANGLE, "deg"),
        (Dimension::MASS, "g"),
        (Dimension::TIME, "min"),
        (Dimension::TEMPERATURE, "degC"),
        (Dimension::HUMIDITY, "%rh"),
        (Dimension::MOISTURE, "%mc"),
        (Dimension::DENSITY, "g/mm3"),
        (Dimension::SPEED, "1/min"),
        (Dimension::PITCH, "1/mm"),
        (Dimension::MOVEMENT, "1/%mc"),
    ];
    UNITS.iter().find(|(known, _)| *known == dimension).map_or("mixed", |(_, unit)| unit)
}

/// The numbers of those values that are computed figures.
pub(super) fn traces<const N: usize>(values: [(&'static str, Source); N]) -> Traces {
    values
        .into_iter()
        .filter_map(|(name, origin)| match origin {
            Source::Figure(id) => Some((name, id.index())),
            Source::Written(_)
            | Source::Every(_)
            | Source::Shop(_)
            | Source::Made(_)
            | Source::Default(_)
            | Source::Table(_) => None,
        })
        .collect()
}

/// A named value, for [`traces`].
pub(super) fn named<T>(name: &'static str, value: &Known<T>) -> (&'static str, Source) {
    (name, value.origin)
}

/// The name of a file as seen from the folder of another, so that a design does not tell where on
/// a machine it was built.
fn seen_from(recipe: &str, name: &str) -> String {
    let folder: Vec<&str> = recipe.split('/').collect();
    let folder = folder.split_last().map_or(&[][..], |(_, folder)| folder);
    let steps: Vec<&str> = name.split('/').collect();
    let shared = folder.iter().zip(&steps).take_while(|(a, b)| a == b).count();
    let up = std::iter::repeat_n("..", folder.len() - shared);
    up.chain(steps.iter().skip(shared).copied()).collect::<Vec<_>>().join("/")
}

#[cfg(test)]
mod tests {
    use super::seen_from;

    #[test]
    fn files_are_named_from_the_recipes_folder() {
        for (recipe, name, seen) in [
            ("cup.vessel", "cup.vessel", "cup.vessel"),
            ("cup.vessel", "shop.vessel", "shop.vessel"),
            ("/a/b/cup.vessel", "/a/b/cup.vessel", "cup.vessel"),
            ("/a/b/cup.vessel", "/a/shop.vessel", "../shop.vessel"),
            ("boxes/cup.vessel", "shop.vessel", "../shop.vessel"),
            ("boxes/cup.vessel", "boxes/parts/shop.vessel", "parts/shop.vessel"),
            ("<stdin>", "shop.vessel", "shop.vessel"),
        ] {
            assert_eq!(seen_from(recipe, name), seen, "{name} from {recipe}");
        }
    }
}
