//! Findings, dressed: for people, for scripts, for screen readers, as JSON. Thin views of the data.
//!
//! codespan-reporting draws the human and the short form and miette the narrated one; neither is
//! known outside this module and the command line.

mod files;
mod json;
mod narrated;
mod reported;

use std::io::{self, Write};

use crate::source::World;

use super::{Finding, Severity};

pub use json::FindingJson;

/// How findings are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// With the lines they stand on, places in several files together.
    Human,
    /// In sentences, for screen readers.
    Narrated,
    /// One line each: `file:line:column: severity[code]: message`.
    Short,
    /// One JSON array.
    Json,
}

/// Most findings that are shown to a person; more only scroll away.
pub const SHOWN: usize = 200;

/// Writes `findings` to `out`.
///
/// # Errors
/// What writing to `out` gives.
pub fn render(
    format: Format,
    findings: &[Finding],
    world: &dyn World,
    color: bool,
    out: &mut dyn Write,
) -> io::Result<()> {
    let shown = findings.get(..SHOWN).unwrap_or(findings);
    match format {
        Format::Human => reported::human(shown, world, color, out)?,
        Format::Narrated => narrated::narrate(shown, world, out)?,
        Format::Short => return reported::short(findings, world, out),
        Format::Json => {
            let all: Vec<FindingJson> = findings.iter().map(|finding| json::of(finding, world)).collect();
            return json::write(&all, out);
        }
    }
    if findings.len() > shown.len() {
        writeln!(out, "{} more findings are not shown", findings.len() - shown.len())?;
    }
    Ok(())
}

/// The findings as JSON rows, for joining those of several recipes.
#[must_use]
pub fn json_rows(findings: &[Finding], world: &dyn World) -> Vec<FindingJson> {
    findings.iter().map(|finding| json::of(finding, world)).collect()
}

/// Writes rows as one JSON array with a final line end.
///
/// # Errors
/// What writing to `out` gives.
pub fn write_json(rows: &[FindingJson], out: &mut dyn Write) -> io::Result<()> {
    json::write(rows, out)
}

/// "2 errors, 1 warning"; "no findings" when there are none.
#[must_use]
pub fn tally<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> String {
    let mut counts = [(Severity::Error, 0_usize), (Severity::Warning, 0), (Severity::Note, 0)];
    for finding in findings {
        for (severity, count) in &mut counts {
            *count += usize::from(finding.severity() == *severity);
        }
    }
    let parts: Vec<String> = counts
        .iter()
        .filter(|(_, count)| *count > 0)
        .map(|(severity, count)| format!("{count} {}{}", severity.word(), if *count == 1 { "" } else { "s" }))
        .collect();
    if parts.is_empty() { "no findings".to_owned() } else { parts.join(", ") }
}

#[cfg(test)]
mod tests;
