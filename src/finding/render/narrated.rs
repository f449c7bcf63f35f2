//! The report for screen readers, by miette: no drawing, every place told in words.
//!
//! miette shows one text a diagnostic; so the places in the finding's own file are its labels and
//! every other file becomes a related diagnostic of its own.

use std::fmt;
use std::io::{self, Write};
use std::ops::Range;

use miette::{
    Diagnostic, LabeledSpan, MietteError, MietteSpanContents, NarratableReportHandler, SourceCode, SourceSpan,
    SpanContents,
};

use crate::finding::{Finding, Label, Severity};
use crate::source::FileId;

use super::RELATED_LIMIT;
use super::notes::notes;
use super::sheet::{Sheet, Sheets, one_line};

/// A label over more rows is told by where it starts and where it ends, not row by row.
const ROWS_LIMIT: usize = 12;

/// Writes one report after the other, each with an empty line behind it.
pub(super) fn write(findings: &[&Finding], sheets: &Sheets, out: &mut dyn Write) -> io::Result<()> {
    let handler = NarratableReportHandler::new();
    for finding in findings {
        let mut text = String::new();
        handler.render_report(&mut text, &Narrated::of(finding, sheets)).map_err(io::Error::other)?;
        writeln!(out, "{}\n", text.trim_end())?;
    }
    Ok(())
}

/// A finding, or what it says of one further file.
#[derive(Debug)]
struct Narrated<'a> {
    message: String,
    code: Option<&'static str>,
    severity: miette::Severity,
    help: Option<String>,
    sheet: Option<&'a Sheet>,
    labels: Vec<LabeledSpan>,
    related: Vec<Narrated<'a>>,
}

impl<'a> Narrated<'a> {
    fn of(finding: &Finding, sheets: &'a Sheets) -> Self {
        let labels = std::iter::once(&finding.place).chain(finding.related.iter().take(RELATED_LIMIT));
        let (own, others): (Vec<&Label>, Vec<&Label>) =
            labels.partition(|label| label.span.file == finding.place.span.file);
        let help = notes(finding, sheets).join("\n");
        Self {
            message: one_line(&finding.message).into_owned(),
            code: Some(finding.code.name),
            severity: match finding.severity() {
                Severity::Error => miette::Severity::Error,
                Severity::Warning => miette::Severity::Warning,
                Severity::Note => miette::Severity::Advice,
            },
            // The report itself says "diagnostic help:".
            help: (!help.is_empty()).then(|| help.strip_prefix("help: ").unwrap_or(&help).to_owned()),
            related: Self::others(&others, sheets),
            ..Self::places(&own, sheets)
        }
    }

    /// One for each file of `labels`, in the order in which they come.
    fn others(labels: &[&Label], sheets: &'a Sheets) -> Vec<Self> {
        let mut files: Vec<FileId> = Vec::new();
        for label in labels {
            if !files.contains(&label.span.file) {
                files.push(label.span.file);
            }
        }
        let places = |file| {
            let here: Vec<&Label> = labels.iter().copied().filter(|label| label.span.file == file).collect();
            Self::places(&here, sheets)
        };
        files.into_iter().map(places).collect()
    }

    /// Labels that all lie in one file.
    fn places(labels: &[&Label], sheets: &'a Sheets) -> Self {
        let sheet = labels.first().and_then(|label| sheets.get(label.span.file));
        Self {
            message: sheet.map_or_else(String::new, |sheet| format!("see also {}", sheet.name)),
            code: None,
            severity: miette::Severity::Advice,
            help: None,
            sheet,
            labels: sheet.map_or_else(Vec::new, |sheet| labels.iter().map(|label| told(label, sheet)).collect()),
            related: Vec::new(),
        }
    }
}

/// The label as miette wants it.
fn told(label: &Label, sheet: &Sheet) -> LabeledSpan {
    let Range { start, mut end } = sheet.range(label.span);
    let mut message = one_line(&label.message).into_owned();
    let first = sheet.row(start);
    if sheet.row(end) - first > ROWS_LIMIT {
        let (line, _) = sheet.line_column(end);
        append(&mut message, &format!("as far as line {line}"));
        end = sheet.row_range(first).map_or(start, |row| start + sheet.text()[start..row.end].trim_end().len());
    }
    if first > 0 && sheet.line_of_row(first) == sheet.line_of_row(first - 1) {
        // miette counts from where its snippet starts, here inside of a line.
        let (line, column) = sheet.line_column(start);
        append(&mut message, &format!("which is line {line}, column {column}"));
    }
    LabeledSpan::new((!message.is_empty()).then_some(message), start, end - start)
}

fn append(message: &mut String, more: &str) {
    if !message.is_empty() {
        message.push_str(", ");
    }
    message.push_str(more);
}

impl fmt::Display for Narrated<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Narrated<'_> {}

impl Diagnostic for Narrated<'_> {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.code.map(|code| Box::new(code) as Box<dyn fmt::Display>)
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(self.severity)
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help.as_ref().map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.sheet.map(|sheet| sheet as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        (!self.labels.is_empty()).then(|| Box::new(self.labels.iter().cloned()) as _)
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        (!self.related.is_empty()).then(|| Box::new(self.related.iter().map(|file| file as &dyn Diagnostic)) as _)
    }
}

impl Sheet {
    /// The last row of a snippet; the nothing behind a final line end is not told unless a label is there.
    fn last_row_told(&self, labeled: usize, rows_after: usize) -> usize {
        let last = self.last_row();
        let ends_in_nothing = self.row_range(last).is_some_and(|row| row.len() == 1);
        (labeled + rows_after).min(if ends_in_nothing { last.saturating_sub(1).max(labeled) } else { last })
    }

    /// The row, or the next one on which something stands.
    fn filled_row(&self, row: usize) -> usize {
        let is_filled = |row: &usize| self.row_range(*row).is_some_and(|range| !self.text()[range].trim().is_empty());
        (row..self.last_row()).find(is_filled).unwrap_or(row.max(self.last_row()))
    }
}

/// Over our own rows: miette's own search through the text costs milliseconds a finding in a large file.
impl SourceCode for Sheet {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        rows_before: usize,
        rows_after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let first = self.row(span.offset()).saturating_sub(rows_before);
        let labeled = self.row(span.offset() + span.len());
        let last = self.filled_row(self.last_row_told(labeled, rows_after));
        let (Some(from), Some(to)) = (self.row_range(first), self.row_range(last)) else {
            return Err(MietteError::OutOfBounds);
        };
        // A snippet that ends with a line end is taken for the end of the text, and all labels below it for labels of its
        // last line.
        let snippet = &self.text()[from.start..to.end];
        let snippet = if last < self.last_row() { snippet.trim_end_matches(['\r', '\n']) } else { snippet };
        let (line, column) = self.line_column(from.start);
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            snippet.as_bytes(),
            (from.start, snippet.len()).into(),
            line - 1,
            column - 1,
            last - first + 1,
        )))
    }
}
