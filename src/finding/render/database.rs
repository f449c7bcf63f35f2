//! Our texts as codespan-reporting's file database, our findings as its diagnostics.

use std::io;
use std::ops::Range;

use codespan_reporting::diagnostic as codespan;
use codespan_reporting::files::{Error, Files};

use crate::finding::{Finding, Label, Severity};
use crate::source::FileId;

use super::RELATED_LIMIT;
use super::sheet::{Sheet, Sheets, one_line};

impl Sheets {
    fn sheet(&self, id: FileId) -> Result<&Sheet, Error> {
        self.get(id).ok_or(Error::FileMissing)
    }
}

/// What codespan-reporting calls a line is a row here; its number is that of the line.
impl<'a> Files<'a> for Sheets {
    type FileId = FileId;
    type Name = &'a str;
    type Source = &'a str;

    fn name(&'a self, id: FileId) -> Result<&'a str, Error> {
        Ok(&self.sheet(id)?.name)
    }

    fn source(&'a self, id: FileId) -> Result<&'a str, Error> {
        Ok(self.sheet(id)?.text())
    }

    fn line_index(&'a self, id: FileId, offset: usize) -> Result<usize, Error> {
        Ok(self.sheet(id)?.row(offset))
    }

    fn line_number(&'a self, id: FileId, row: usize) -> Result<usize, Error> {
        let sheet = self.sheet(id)?;
        let line = sheet.line_of_row(row).ok_or(Error::LineTooLarge { given: row, max: sheet.last_row() })?;
        Ok(line + 1)
    }

    fn column_number(&'a self, id: FileId, _row: usize, offset: usize) -> Result<usize, Error> {
        Ok(self.sheet(id)?.line_column(offset).1)
    }

    fn line_range(&'a self, id: FileId, row: usize) -> Result<Range<usize>, Error> {
        let sheet = self.sheet(id)?;
        sheet.row_range(row).ok_or(Error::LineTooLarge { given: row, max: sheet.last_row() })
    }
}

/// The finding in codespan-reporting's terms, without notes.
pub(super) fn diagnostic(finding: &Finding, sheets: &Sheets) -> codespan::Diagnostic<FileId> {
    let severity = match finding.severity() {
        Severity::Error => codespan::Severity::Error,
        Severity::Warning => codespan::Severity::Warning,
        Severity::Note => codespan::Severity::Note,
    };
    let related = finding.related.iter().take(RELATED_LIMIT);
    let labels = std::iter::once((codespan::LabelStyle::Primary, &finding.place))
        .chain(related.map(|label| (codespan::LabelStyle::Secondary, label)))
        .filter_map(|(style, label)| drawn(style, label, sheets))
        .collect();
    codespan::Diagnostic::new(severity)
        .with_code(finding.code.name)
        .with_message(one_line(&finding.message))
        .with_labels(labels)
}

fn drawn(style: codespan::LabelStyle, label: &Label, sheets: &Sheets) -> Option<codespan::Label<FileId>> {
    let range = sheets.get(label.span.file)?.range(label.span);
    Some(codespan::Label::new(style, label.span.file, range).with_message(one_line(&label.message)))
}

/// Whatever codespan-reporting could not do, as an error of the stream that was written to.
pub(super) fn io_error(error: Error) -> io::Error {
    if let Error::Io(error) = error { error } else { io::Error::other(error) }
}
