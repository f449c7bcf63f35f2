//! The human and the short form, drawn by codespan-reporting.

use std::io::{self, Write};

use codespan_reporting::diagnostic::{Diagnostic, Label as Mark, Severity as Weight};
use codespan_reporting::term::{self, Chars, Config, DisplayStyle, Styles, StylesWriter};
use termcolor::{Ansi, NoColor, WriteColor};

use crate::finding::{Finding, Severity};
use crate::source::{FileId, World};

use super::files::Texts;

pub(super) fn human(findings: &[Finding], world: &dyn World, color: bool, out: &mut dyn Write) -> io::Result<()> {
    draw(DisplayStyle::Rich, findings, world, color, out)
}

pub(super) fn short(findings: &[Finding], world: &dyn World, out: &mut dyn Write) -> io::Result<()> {
    draw(DisplayStyle::Short, findings, world, false, out)
}

fn draw(
    style: DisplayStyle,
    findings: &[Finding],
    world: &dyn World,
    color: bool,
    out: &mut dyn Write,
) -> io::Result<()> {
    let texts = Texts::of(findings, world);
    let config = Config { display_style: style, chars: Chars::box_drawing(), ..Config::default() };
    // Drawn in memory first: a report is written whole, and errors of writing stay errors of writing.
    let mut drawn = Vec::new();
    for finding in findings {
        let diagnostic = diagnostic(finding);
        let result = if color {
            emit(&mut Ansi::new(&mut drawn), &config, &texts, &diagnostic)
        } else {
            emit(&mut NoColor::new(&mut drawn), &config, &texts, &diagnostic)
        };
        if result.is_err() {
            // A place outside its text is a slip of ours; what is said must still reach the turner.
            writeln!(drawn, "{}[{}]: {}", finding.severity().word(), finding.code.name, finding.message)?;
        }
    }
    out.write_all(&drawn)
}

fn emit(
    writer: &mut dyn WriteColor,
    config: &Config,
    texts: &Texts,
    diagnostic: &Diagnostic<FileId>,
) -> Result<(), codespan_reporting::files::Error> {
    let styles = Styles::default();
    term::emit_to_write_style(&mut StylesWriter::new(writer, &styles), config, texts, diagnostic)
}

fn diagnostic(finding: &Finding) -> Diagnostic<FileId> {
    let weight = match finding.severity() {
        Severity::Error => Weight::Error,
        Severity::Warning => Weight::Warning,
        Severity::Note => Weight::Note,
    };
    let mut marks =
        vec![Mark::primary(finding.place.span.file, finding.place.span.range()).with_message(&finding.place.message)];
    marks.extend(
        finding
            .related
            .iter()
            .map(|label| Mark::secondary(label.span.file, label.span.range()).with_message(&label.message)),
    );
    let notes = advice(finding).map(|advice| format!("help: {advice}")).into_iter().collect();
    Diagnostic::new(weight)
        .with_code(finding.code.name)
        .with_message(&finding.message)
        .with_labels(marks)
        .with_notes(notes)
}

/// What to do about it: the help, or what the fix does where there is no help.
pub(super) fn advice(finding: &Finding) -> Option<&str> {
    finding.help.as_deref().or(finding.fix.as_ref().map(|fix| fix.title.as_str()))
}
