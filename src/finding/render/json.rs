//! Findings for programs.

use std::io::{self, Write};

use serde::Serialize;

use crate::finding::{Finding, Grade, Label};
use crate::source::{LineIndex, World};

/// One finding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FindingJson {
    /// Its stable name.
    pub code: &'static str,
    /// `error`, `warning` or `note`.
    pub severity: &'static str,
    /// What is, what is wanted, the numbers that decide.
    pub message: String,
    /// The place first, then the related ones.
    pub spans: Vec<SpanJson>,
    /// What to do about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<String>,
    /// The edit that mends it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fix: Option<FixJson>,
}

/// A place: bytes from 0, half-open, and line and column of its start, both from 1, in characters.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[allow(missing_docs, reason = "named as they are")]
pub struct SpanJson {
    pub file: String,
    pub start: u32,
    pub end: u32,
    pub line: usize,
    pub column: usize,
    pub message: String,
}

/// An edit that mends a finding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[allow(missing_docs, reason = "named as they are")]
pub struct FixJson {
    pub title: String,
    /// Whether it may be made unasked.
    pub safe: bool,
    pub edits: Vec<EditJson>,
}

/// One replacement.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[allow(missing_docs, reason = "named as they are")]
pub struct EditJson {
    pub file: String,
    pub start: u32,
    pub end: u32,
    pub text: String,
}

pub(super) fn of(finding: &Finding, world: &dyn World) -> FindingJson {
    let labels = std::iter::once(&finding.place).chain(&finding.related);
    let fix = finding.fix.as_ref().map(|fix| FixJson {
        title: fix.title.clone(),
        safe: fix.grade == Grade::Safe,
        edits: fix
            .edits
            .iter()
            .map(|edit| EditJson {
                file: world.file(edit.span.file).name.clone(),
                start: edit.span.start,
                end: edit.span.end,
                text: edit.text.clone(),
            })
            .collect(),
    });
    FindingJson {
        code: finding.code.name,
        severity: finding.severity().word(),
        message: finding.message.clone(),
        spans: labels.map(|label| span(label, world)).collect(),
        help: finding.help.clone(),
        fix,
    }
}

fn span(label: &Label, world: &dyn World) -> SpanJson {
    let file = world.file(label.span.file);
    let (line, column) = LineIndex::new(&file.text).line_column(&file.text, label.span.start);
    SpanJson {
        file: file.name.clone(),
        start: label.span.start,
        end: label.span.end,
        line,
        column,
        message: label.message.clone(),
    }
}

pub(super) fn write(rows: &[FindingJson], out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, rows)?;
    out.write_all(b"\n")
}
