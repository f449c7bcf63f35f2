//! A figure and what it was made of, line by line.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use crate::quantity::{Angle, Dimension, Length, System, show_angle, show_decimal, show_inches};
use crate::workings::{FigureId, Origin};

use super::super::design::{self, Sources};
use super::super::sheet::Sheet;

/// The tree of one figure. What was told above is not told again.
pub(super) fn text(sheet: &Sheet<'_>, sources: &Sources, id: FigureId) -> String {
    let mut tree = Tree { sheet, sources, text: String::new(), told: BTreeSet::new() };
    if let Some(figure) = sheet.design.ledger.figure(id) {
        let is = value(sheet, figure.value, figure.dimension);
        let _ = writeln!(tree.text, "{} = {is}", figure.formula.gives);
    }
    tree.made_of(id, "");
    tree.text
}

struct Tree<'a, 's> {
    sheet: &'a Sheet<'s>,
    sources: &'a Sources,
    text: String,
    told: BTreeSet<FigureId>,
}

impl Tree<'_, '_> {
    /// The formula and the inputs, each line behind `lead`.
    fn made_of(&mut self, id: FigureId, lead: &str) {
        self.told.insert(id);
        let ledger = self.sheet.design.ledger;
        let Some(figure) = ledger.figure(id) else { return };
        let _ = writeln!(self.text, "{lead}  {}", figure.formula.words);
        let inputs: Vec<_> = ledger.inputs_of(id).collect();
        for (at, (name, input)) in inputs.iter().enumerate() {
            let is_last = at + 1 == inputs.len();
            let (sign, below) = if is_last { ("└─", "   ") } else { ("├─", "│  ") };
            let is = value(self.sheet, input.value, input.dimension);
            let _ = write!(self.text, "{lead}{sign} {name} = {is}");
            let Origin::Figure(of) = input.origin else {
                let _ = writeln!(self.text, ", {}", self.origin(input.origin));
                continue;
            };
            if self.told.contains(&of) {
                self.text.push_str(", as above\n");
            } else {
                self.text.push('\n');
                self.made_of(of, &format!("{lead}{below}"));
            }
        }
    }

    fn origin(&self, origin: Origin) -> String {
        match self.sources.origin(origin) {
            design::Origin::Written { file, line, .. } => format!("written in {file}, line {line}"),
            design::Origin::Every { file, line, .. } => format!("by `every` in {file}, line {line}"),
            design::Origin::Shop { file, line, .. } => format!("the shop's, {file}, line {line}"),
            design::Origin::Made { file, line, .. } => format!("measured on the work, {file}, line {line}"),
            design::Origin::Default { reason } => format!("as nobody says: {reason}"),
            design::Origin::Table { table, row, source } => format!("table of {table}, {row} ({source})"),
            design::Origin::Figure { .. } => "computed".to_owned(),
        }
    }
}

/// A value as a calculator takes it, and in the recipe's own unit.
pub(super) fn value(sheet: &Sheet<'_>, value: f64, dimension: Dimension) -> String {
    let length = Length::from_mm(value);
    match (dimension, sheet.recipe.units) {
        (Dimension::LENGTH, System::Inch) => {
            format!(
                "{} in ({}, {} mm)",
                show_decimal(length, System::Inch),
                show_inches(length),
                show_decimal(length, System::Millimeter)
            )
        }
        (Dimension::LENGTH, System::Millimeter) => format!("{} mm", show_decimal(length, System::Millimeter)),
        (Dimension::ANGLE, _) => show_angle(Angle::from_degrees(value)),
        (Dimension::AREA, _) => format!("{} cm²", short(value / 100.0)),
        (Dimension::VOLUME, _) => format!("{} cm³", short(value / 1000.0)),
        (Dimension::MASS, _) => format!("{} g", short(value)),
        (Dimension::NONE, _) => short(value),
        _ => format!("{} {}", short(value), design::unit(dimension)),
    }
}

/// Five digits that say something.
fn short(value: f64) -> String {
    let rounded: f64 = format!("{value:.4e}").parse().unwrap_or(value);
    rounded.to_string()
}
