//! What two versions of a design differ in, in words and as JSON.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::compare::{Amount, BoardChange, Change, Changes, LayerChange, THICKNESS, changes, facts, wood_runs};
use crate::compile::Complete;
use crate::finding::Finding;
use crate::geometry::BuiltLayer;
use crate::quantity::{Duration, Length, Volume, show_angle};

use super::cutting_plan::money;
use super::hours::long;
use super::sheet::Sheet;

/// Two versions of a design, and what became different.
pub struct Comparison<'a> {
    before: Sheet<'a>,
    after: Sheet<'a>,
    changes: Changes<'a>,
}

impl<'a> Comparison<'a> {
    /// From `before` to `after`.
    #[must_use]
    pub fn of(before: &'a Complete<'a>, after: &'a Complete<'a>) -> Self {
        Self { before: Sheet::new(before), after: Sheet::new(after), changes: changes(before, after) }
    }

    /// Whether a maker would notice nothing.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.changes.is_none()
    }

    /// What is different, line by line, in the units of the later version.
    #[must_use]
    pub fn text(&self) -> String {
        let name = self.after.name();
        if self.is_none() {
            return format!("{name}: nothing changes for the maker\n");
        }
        let mut text = match self.changes.name {
            Some(_) => format!("{} is now {name}\n", self.before.name()),
            None => format!("{name}\n"),
        };
        self.whole(&mut text);
        self.layers(&mut text);
        self.boards(&mut text);
        self.findings(&mut text);
        text
    }

    fn whole(&self, text: &mut String) {
        let wide = self.changes.whole.iter().map(|change| change.what.len()).max().unwrap_or(0);
        for (at, change) in self.changes.whole.iter().enumerate() {
            let lead = if at == 0 { "\n" } else { "" };
            let _ = writeln!(text, "{lead}  {:wide$}  {}", change.what, self.told(change));
        }
    }

    fn layers(&self, text: &mut String) {
        for (at, change) in self.changes.layers.iter().enumerate() {
            text.push_str(if at == 0 { "\n  layers\n" } else { "" });
            match change {
                LayerChange::Added(layer) => {
                    let _ = writeln!(text, "  + {}", described(&self.after, *layer));
                }
                LayerChange::Removed(layer) => {
                    let _ = writeln!(text, "  - {}", described(&self.before, *layer));
                }
                LayerChange::Changed { before, after, figures, has_other_woods } => {
                    let (old, new) = (id(&self.before, *before), id(&self.after, *after));
                    let was = if old == new { String::new() } else { format!(" (was {old})") };
                    let mut told: Vec<String> =
                        figures.iter().map(|figure| format!("{} {}", figure.what, self.told(figure))).collect();
                    if *has_other_woods {
                        told.push(format!("{} → {}", pattern(&self.before, *before), pattern(&self.after, *after)));
                    }
                    let _ = writeln!(text, "  ~ {new}{was}: {}", told.join("; "));
                }
            }
        }
    }

    fn boards(&self, text: &mut String) {
        for (at, change) in self.changes.boards.iter().enumerate() {
            text.push_str(if at == 0 { "\n  to buy\n" } else { "" });
            let BoardChange { wood, sides, before, after } = change;
            let (sign, count) = if after > before { ('+', after - before) } else { ('-', before - after) };
            let sides = sides.map(|side| self.after.own(side)).join(" × ");
            let _ = writeln!(text, "  {sign} {count} of {wood}, {sides}");
        }
    }

    fn findings(&self, text: &mut String) {
        let lost = self.changes.lost.iter().map(|finding| ('-', finding));
        let gained = self.changes.gained.iter().map(|finding| ('+', finding));
        for (at, (sign, finding)) in lost.chain(gained).enumerate() {
            text.push_str(if at == 0 { "\n  findings\n" } else { "" });
            let word = finding.severity().word();
            let _ = writeln!(text, "  {sign} {word}[{}]: {}", finding.code.name, finding.message);
        }
    }

    /// `12 → 16`; of measures also by how much.
    fn told(&self, change: &Change) -> String {
        let sheet = &self.after;
        match (change.before, change.after) {
            (Some(before), Some(after)) => {
                let by = by(sheet, before, after).map_or_else(String::new, |by| format!(" ({by})"));
                let (old, new) = (amount(&self.before, sheet, before), amount(sheet, sheet, after));
                // Less than the figures show.
                if old == new { format!("{new}{by}") } else { format!("{old} → {new}{by}") }
            }
            (None, Some(after)) => format!("now {}", amount(sheet, sheet, after)),
            (Some(before), None) => format!("no longer {}", amount(&self.before, sheet, before)),
            (None, None) => String::new(),
        }
    }

    /// The same for programs; lengths in millimeters, angles in degrees.
    #[must_use]
    pub fn json(&self) -> String {
        let finding = |finding: &&Finding| json!({ "code": finding.code.name, "severity": finding.severity().word(), "message": finding.message });
        let board = |change: &BoardChange| {
            json!({
                "wood": change.wood,
                "thick_wide_long_mm": change.sides.map(Length::mm),
                "before": change.before,
                "after": change.after,
            })
        };
        let whole = json!({
            "before": self.before.recipe.name.value,
            "after": self.after.recipe.name.value,
            "is_the_same": self.is_none(),
            "whole": self.changes.whole.iter().map(figure).collect::<Vec<_>>(),
            "layers": self.changes.layers.iter().map(|change| self.layer(change)).collect::<Vec<_>>(),
            "boards": self.changes.boards.iter().map(board).collect::<Vec<_>>(),
            "findings_gained": self.changes.gained.iter().map(finding).collect::<Vec<_>>(),
            "findings_lost": self.changes.lost.iter().map(finding).collect::<Vec<_>>(),
        });
        format!("{whole:#}\n")
    }

    fn layer(&self, change: &LayerChange) -> Value {
        match change {
            LayerChange::Added(at) => json!({ "kind": "added", "after": id(&self.after, *at) }),
            LayerChange::Removed(at) => json!({ "kind": "removed", "before": id(&self.before, *at) }),
            LayerChange::Changed { before, after, figures, has_other_woods } => json!({
                "kind": "changed",
                "before": id(&self.before, *before),
                "after": id(&self.after, *after),
                "figures": figures.iter().map(figure).collect::<Vec<_>>(),
                "has_other_woods": has_other_woods,
            }),
        }
    }
}

/// A version as lines that a line-by-line comparison can be made of: the whole, each layer, what to buy, findings.
/// One figure, one layer a line, each with its name, so that the lines of two versions are alike where nothing changed.
#[must_use]
pub fn as_text(design: &Complete<'_>) -> String {
    let sheet = Sheet::new(design);
    let facts = facts(design);
    let mut text = format!("{}\n\n", sheet.name());
    for (what, value) in &facts.whole {
        let _ = writeln!(text, "{what}: {}", amount(&sheet, &sheet, *value));
    }
    text.push_str("\nlayers\n");
    for (at, figures) in facts.layers.iter().enumerate() {
        // How thick it is stands in its description.
        let others = figures.iter().filter(|(what, _)| *what != THICKNESS);
        let told: Vec<String> =
            others.map(|(what, value)| format!("{what} {}", amount(&sheet, &sheet, *value))).collect();
        let _ = writeln!(text, "{}; {}", described(&sheet, at), told.join("; "));
    }
    if !facts.boards.is_empty() {
        text.push_str("\nto buy\n");
    }
    for (wood, sides, count) in &facts.boards {
        let _ = writeln!(text, "{count} of {wood}, {}", sides.map(|side| sheet.own(side)).join(" × "));
    }
    if !design.findings.is_empty() {
        text.push_str("\nfindings\n");
    }
    for finding in design.findings {
        let _ = writeln!(text, "{}[{}]: {}", finding.severity().word(), finding.code.name, finding.message);
    }
    text
}

fn id<'a>(sheet: &Sheet<'a>, layer: usize) -> &'a str {
    sheet.layers().get(layer).map_or("", |layer| layer.id.as_str())
}

/// `maple*4 walnut`; a pattern that repeats is told once.
fn pattern(sheet: &Sheet<'_>, layer: usize) -> String {
    let Some(built) = sheet.layers().get(layer) else { return String::new() };
    let runs = wood_runs(sheet.design, built);
    let repeats = (1..=runs.len() / 2)
        .find(|many| runs.len().is_multiple_of(*many) && runs.chunks(*many).all(|chunk| chunk == &runs[..*many]));
    match repeats {
        Some(many) => format!("[{}] {} times", runs[..many].join(" "), runs.len() / many),
        None => format!("[{}]", runs.join(" ")),
    }
}

/// A layer that is only in one version.
fn described(sheet: &Sheet<'_>, layer: usize) -> String {
    let Some(built) = sheet.layers().get(layer) else { return String::new() };
    let BuiltLayer { id, shape, z0, z1, .. } = built;
    let thick = sheet.own(z1.value - z0.value);
    format!("{id}: {} of {}, {thick} thick", shape.word(), pattern(sheet, layer))
}

/// An amount of one version, in the units of the other where they differ.
fn amount(own: &Sheet<'_>, units: &Sheet<'_>, amount: Amount) -> String {
    match amount {
        Amount::Length(length) => units.own(length),
        Amount::Rip(width) => units.own(units.ripped(width)),
        Amount::Angle(angle) => show_angle(angle),
        Amount::Volume(volume) => units.volume(volume),
        Amount::Lumber(volume) => lumber(volume),
        Amount::Mass(mass) => units.mass(mass),
        Amount::Count(count) => count.to_string(),
        Amount::Minutes(minutes) => long(Duration::from_minutes(minutes)),
        Amount::Money(amount) => money(own, amount),
    }
}

fn lumber(volume: Volume) -> String {
    format!("{:.2} l ({:.2} board feet)", volume.liters(), volume.board_feet())
}

/// How much more or less a length is; of others the two figures say it.
fn by(sheet: &Sheet<'_>, before: Amount, after: Amount) -> Option<String> {
    let ((Amount::Length(before), Amount::Length(after)) | (Amount::Rip(before), Amount::Rip(after))) = (before, after)
    else {
        return None;
    };
    let more = after - before;
    let sign = if more < Length::ZERO { "−" } else { "+" };
    Some(format!("{sign}{}", sheet.own(more.max(more * -1.0))))
}

fn figure(change: &Change) -> Value {
    let value = |amount: Option<Amount>| {
        amount.map(|amount| match amount {
            Amount::Length(length) | Amount::Rip(length) => json!({ "mm": length.mm() }),
            Amount::Angle(angle) => json!({ "deg": angle.degrees() }),
            Amount::Volume(volume) => json!({ "ml": volume.ml() }),
            Amount::Lumber(volume) => json!({ "board_feet": volume.board_feet() }),
            Amount::Mass(mass) => json!({ "g": mass.grams() }),
            Amount::Count(count) => json!({ "count": count }),
            Amount::Minutes(minutes) => json!({ "min": minutes }),
            Amount::Money(money) => json!({ "cost": money.0 }),
        })
    };
    json!({ "what": change.what, "before": value(change.before), "after": value(change.after) })
}
