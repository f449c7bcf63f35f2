//! The rich report: the lines themselves, labels of several files in one report, help and fix below.

use std::io::{self, Write};

use codespan_reporting::diagnostic::Diagnostic;
use codespan_reporting::term::{Config, Styles, StylesWriter, emit_to_io_write, emit_to_write_style};
use termcolor::Ansi;

use crate::finding::Finding;
use crate::source::FileId;

use super::database::{diagnostic, io_error};
use super::notes::notes;
use super::sheet::Sheets;

/// Writes one report after the other, each with an empty line behind it.
pub(super) fn write(findings: &[&Finding], sheets: &Sheets, color: bool, out: &mut dyn Write) -> io::Result<()> {
    let config = Config::default();
    for finding in findings {
        let report = diagnostic(finding, sheets).with_notes(notes(finding, sheets));
        emit(&config, sheets, &report, color, out)?;
    }
    Ok(())
}

/// Writes one diagnostic in the style of `config`.
pub(super) fn emit(
    config: &Config,
    sheets: &Sheets,
    report: &Diagnostic<FileId>,
    color: bool,
    out: &mut dyn Write,
) -> io::Result<()> {
    let written = if color {
        let styles = Styles::default();
        emit_to_write_style(&mut StylesWriter::new(Ansi::new(out), &styles), config, sheets, report)
    } else {
        emit_to_io_write(out, config, sheets, report)
    };
    written.map_err(io_error)
}
