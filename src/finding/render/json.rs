//! Findings as data for other programs. Own structs: what they are made of may change, these may not.

use serde::Serialize;

use crate::finding::{Edit, Finding, Fix, Grade, Label};
use crate::source::World;

use super::sheet::Sheets;

/// One finding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct JsonFinding {
    /// Its stable name.
    pub code: &'static str,
    /// `error`, `warning` or `note`.
    pub severity: &'static str,
    /// In one sentence.
    pub message: String,
    /// Its places, the one it is about first.
    pub spans: Vec<JsonSpan>,
    /// What to do about it.
    pub help: Option<String>,
    /// The edit that mends it.
    pub fix: Option<JsonFix>,
}

/// One place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct JsonSpan {
    /// The file's name as shown.
    pub file: String,
    /// Offset of the first byte.
    pub start: u32,
    /// Offset one past the last byte.
    pub end: u32,
    /// Line of the first byte, from 1.
    pub line: usize,
    /// Its column in characters, from 1.
    pub column: usize,
    /// What is said of the place; may be empty.
    pub message: String,
}

/// A set of edits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct JsonFix {
    /// What it does.
    pub title: String,
    /// Whether it may be made unasked.
    pub safe: bool,
    /// The edits; none overlaps another.
    pub edits: Vec<JsonEdit>,
}

/// One replacement.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct JsonEdit {
    /// The file's name as shown.
    pub file: String,
    /// Offset of the first byte replaced.
    pub start: u32,
    /// Offset one past the last byte replaced.
    pub end: u32,
    /// What comes there.
    pub text: String,
}

/// The findings in their order.
pub(super) fn items(findings: &[Finding], world: &dyn World) -> Vec<JsonFinding> {
    let sheets = Sheets::of(findings, world);
    let item = |finding: &Finding| JsonFinding {
        code: finding.code.name,
        severity: finding.severity().word(),
        message: finding.message.clone(),
        spans: std::iter::once(&finding.place)
            .chain(&finding.related)
            .map(|label| span(label, &sheets, world))
            .collect(),
        help: finding.help.clone(),
        fix: finding.fix.as_ref().map(|fix| self::fix(fix, world)),
    };
    findings.iter().map(item).collect()
}

fn span(label: &Label, sheets: &Sheets, world: &dyn World) -> JsonSpan {
    let (line, column) =
        sheets.get(label.span.file).map_or((1, 1), |sheet| sheet.line_column(sheet.range(label.span).start));
    JsonSpan {
        file: world.file(label.span.file).name.clone(),
        start: label.span.start,
        end: label.span.end,
        line,
        column,
        message: label.message.clone(),
    }
}

fn fix(fix: &Fix, world: &dyn World) -> JsonFix {
    let edit = |edit: &Edit| JsonEdit {
        file: world.file(edit.span.file).name.clone(),
        start: edit.span.start,
        end: edit.span.end,
        text: edit.text.clone(),
    };
    JsonFix {
        title: fix.title.clone(),
        safe: match fix.grade {
            Grade::Safe => true,
            Grade::Ask => false,
        },
        edits: fix.edits.iter().map(edit).collect(),
    }
}
