//! Where a figure comes from: its formula, its inputs, and theirs, down to what was written, set, or read from a table.

mod subjects;
#[cfg(test)]
mod tests;
mod tree;

use std::collections::BTreeSet;
use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::compile::Complete;
use crate::finding::nearest;
use crate::geometry::LayerShape;
use crate::resolve::Subject as Promised;
use crate::source::{Span, World};
use crate::workings::{FigureId, Input, Origin};

use super::design::Sources;
use super::sheet::Sheet;

use subjects::Subject;

/// Every figure of a design that has a name.
pub struct Reasons<'a> {
    sheet: Sheet<'a>,
    sources: Sources,
    subjects: Vec<Subject>,
}

/// Nothing of a design is called that.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoSubject {
    /// What is called nearly so, or by the same short name.
    pub near: Vec<String>,
}

impl<'a> Reasons<'a> {
    /// Of a design.
    #[must_use]
    pub fn of(design: &'a Complete<'a>, world: &dyn World) -> Self {
        let sources = Sources::of(design, world);
        let subjects = subjects::of(design, &sources);
        Self { sheet: Sheet::new(design), sources, subjects }
    }

    /// The names of what is asked for first of a vessel.
    #[must_use]
    pub fn of_whole(&self) -> Vec<String> {
        self.named([&self.sheet.design.vessel.capacity.origin, &self.sheet.plan.totals.mass.origin])
    }

    /// The names of what decides the statement at `span`: the strip or the round of the layer that it heads, the figure that
    /// it promises.
    #[must_use]
    pub fn written_at(&self, span: Span) -> Vec<String> {
        let (recipe, vessel, totals) = (self.sheet.recipe, self.sheet.design.vessel, &self.sheet.plan.totals);
        let layers = recipe.layers().map(|(_, _, layer)| layer).zip(&vessel.layers);
        let layer =
            layers.into_iter().find(|(layer, _)| layer.head == span).and_then(|(_, built)| match &built.shape {
                LayerShape::Ring(ring) => Some(&ring.strip_width.origin),
                LayerShape::Disc { blank_diameter, .. } => Some(&blank_diameter.origin),
                LayerShape::Slant(_) => None,
            });
        let promised = recipe.expects.iter().find(|expect| expect.span.contains(span));
        let promised = promised.and_then(|expect| match expect.subject {
            Promised::Capacity => Some(&vessel.capacity.origin),
            Promised::Mass => Some(&totals.mass.origin),
            Promised::Height => Some(&vessel.height.origin),
            Promised::Diameter => Some(&vessel.max_diameter.origin),
            Promised::BoardFeet => Some(&totals.lumber.origin),
            Promised::Pieces | Promised::Cost | Promised::Days => None,
        });
        self.named(layer.into_iter().chain(promised))
    }

    /// The shortest name of each: a figure that is one thing's need may be another's size.
    fn named<'o>(&self, origins: impl IntoIterator<Item = &'o Origin>) -> Vec<String> {
        let name = |origin: &Origin| {
            let Origin::Figure(id) = origin else { return None };
            let names = self.subjects.iter().filter(|subject| subject.id == *id).map(Subject::name);
            names.min_by_key(String::len)
        };
        origins.into_iter().filter_map(name).collect()
    }

    /// All names, a line for each thing that has figures.
    #[must_use]
    pub fn list(&self) -> String {
        let mut text = String::new();
        let mut last = "";
        for subject in &self.subjects {
            if subject.of == last {
                let _ = write!(text, ", {}", subject.figure);
            } else {
                let _ = write!(text, "{}{}: {}", if last.is_empty() { "" } else { "\n" }, subject.of, subject.figure);
                last = &subject.of;
            }
        }
        text.push('\n');
        text
    }

    /// What is asked for, in text: one figure as a tree, or of a thing (`body.ring-3`) all figures, a line each.
    ///
    /// # Errors
    /// [`NoSubject`] when nothing has that name, or more than one thing.
    pub fn tell(&self, asked: &str) -> Result<String, NoSubject> {
        match self.found(asked)?.as_slice() {
            [one] => Ok(format!("{}\n\n{}", one.name(), tree::text(&self.sheet, &self.sources, one.id))),
            all => Ok(all.iter().fold(String::new(), |mut text, subject| {
                let value = self.sheet.design.ledger.figure(subject.id);
                let value = value.map_or_else(String::new, |of| tree::value(&self.sheet, of.value, of.dimension));
                let _ = writeln!(text, "{} = {value}", subject.name());
                text
            })),
        }
    }

    /// The same as JSON: an array of trees, each with its name.
    ///
    /// # Errors
    /// As [`Self::tell`].
    pub fn json(&self, asked: &str) -> Result<String, NoSubject> {
        let all = self.found(asked)?;
        let trees: Vec<Value> = all
            .iter()
            .map(|subject| {
                let mut tree = self.figure(subject.id);
                tree["subject"] = json!(subject.name());
                tree
            })
            .collect();
        Ok(format!("{:#}\n", Value::Array(trees)))
    }

    fn figure(&self, id: FigureId) -> Value {
        let ledger = self.sheet.design.ledger;
        let Some(figure) = ledger.figure(id) else { return Value::Null };
        let input = |(name, input): (&str, &Input)| {
            let mut told = json!({
                "name": name,
                "value": input.value,
                "unit": super::design::unit(input.dimension),
                "origin": self.sources.origin(input.origin),
            });
            if let Origin::Figure(of) = input.origin {
                told["from"] = self.figure(of);
            }
            told
        };
        json!({
            "gives": figure.formula.gives,
            "how": figure.formula.words,
            "value": figure.value,
            "unit": super::design::unit(figure.dimension),
            "inputs": ledger.inputs_of(id).map(input).collect::<Vec<_>>(),
        })
    }

    /// One figure, or all of one thing. A name may be short: `ring-3.strip` for `body.ring-3.strip-width`.
    fn found(&self, asked: &str) -> Result<Vec<&Subject>, NoSubject> {
        let asked = asked.trim().replace('_', "-");
        let is_of = |subject: &&Subject, of: &str| {
            subject.of == of || subject.of.strip_suffix(of).is_some_and(|before| before.ends_with('.'))
        };
        let all = || self.subjects.iter();
        if let Some(exact) = all().find(|subject| subject.name() == asked) {
            return Ok(vec![exact]);
        }
        let things: BTreeSet<&str> =
            all().filter(|subject| is_of(subject, &asked)).map(|subject| subject.of.as_str()).collect();
        // `ring-3` is a layer rather than what the saw's error does to it.
        let depth = |of: &str| of.matches('.').count();
        let least = things.iter().map(|of| depth(of)).min();
        let topmost: Vec<&str> = things.into_iter().filter(|of| Some(depth(of)) == least).collect();
        match topmost.as_slice() {
            [] => {}
            [one] => return Ok(all().filter(|subject| subject.of == *one).collect()),
            several => return Err(NoSubject { near: several.iter().map(|of| (*of).to_owned()).collect() }),
        }
        let (of, figure) = asked.rsplit_once('.').unwrap_or(("vessel", &asked));
        let near = |is_whole: bool| -> Vec<&Subject> {
            let is_called = |subject: &Subject| {
                if is_whole { subject.figure == figure } else { subject.figure.starts_with(figure) }
            };
            all().filter(|subject| is_of(subject, of) && is_called(subject)).collect()
        };
        for named in [near(true), near(false)] {
            match named.as_slice() {
                [] => {}
                [one] => return Ok(vec![one]),
                several => return Err(NoSubject { near: several.iter().map(|subject| subject.name()).collect() }),
            }
        }
        let own: Vec<&Subject> = all().filter(|subject| is_of(subject, of)).collect();
        if asked.contains('.') && !own.is_empty() {
            let likely = nearest(figure, own.iter().map(|subject| subject.figure.as_str()));
            let is_likely = |subject: &&&Subject| likely.is_empty() || likely.contains(&subject.figure.as_str());
            return Err(NoSubject { near: own.iter().filter(is_likely).map(|subject| subject.name()).collect() });
        }
        let names: Vec<String> = all().map(Subject::name).collect();
        let things = self.subjects.iter().map(|subject| subject.of.as_str());
        let near = nearest(&asked, names.iter().map(String::as_str).chain(things));
        Err(NoSubject { near: near.into_iter().map(str::to_owned).collect() })
    }
}
