//! Findings, dressed: for people, for scripts, for screen readers, as JSON, as SARIF.
//!
//! Five thin views over [`Finding`] and a [`World`]; none of them words or weighs anything.
//! codespan-reporting (human and short) and miette (narrated) are named here and in `cli` alone.

mod database;
mod human;
mod json;
mod narrated;
mod notes;
mod sarif;
mod sheet;
mod short;
mod tally;

use std::io::{self, Write};

use crate::source::World;

use super::{Finding, Severity};

pub use json::{JsonEdit, JsonFinding, JsonFix, JsonSpan};
pub use sarif::{SarifLog, SarifTexts, sarif};
pub use sheet::one_line;
pub use tally::Tally;

use sheet::Sheets;

/// How findings are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// With the lines they are about, for reading.
    Human,
    /// In sentences, for screen readers.
    Narrated,
    /// One line each: `file:line:col: severity[code]: message`.
    Short,
    /// One array of objects.
    Json,
    /// A log in the Static Analysis Results Interchange Format.
    Sarif,
}

/// Most findings that are shown to a person; scripts get all.
pub const SHOWN_LIMIT: usize = 200;

/// Most further places that one finding shows to a person.
const RELATED_LIMIT: usize = 12;

/// Writes `findings` about files of `world`, and nothing at all when there are none but for JSON
/// and SARIF, which then say so. Human and narrated end with a line that counts them.
///
/// # Errors
/// Those of `out`.
pub fn render(
    format: Format,
    findings: &[Finding],
    world: &dyn World,
    color: bool,
    out: &mut dyn Write,
) -> io::Result<()> {
    if findings.is_empty() && !matches!(format, Format::Json | Format::Sarif) {
        return Ok(());
    }
    let shown = shown(findings);
    match format {
        Format::Json => return write_json(&json::items(findings, world), out),
        Format::Sarif => return out.write_all(&sarif(findings, world, "")),
        Format::Short => return short::write(findings, &Sheets::of(findings, world), color, out),
        Format::Human => human::write(&shown, &Sheets::of(shown.iter().copied(), world), color, out)?,
        Format::Narrated => narrated::write(&shown, &Sheets::of(shown.iter().copied(), world), out)?,
    }
    let hidden = findings.len() - shown.len();
    if hidden > 0 {
        writeln!(out, "… and {hidden} more, not shown; `--format short` shows all")?;
    }
    writeln!(out, "{} in {}", Tally::of(findings), whereabouts(findings, world))
}

/// The findings as plain data, in their order, for one array over several recipes.
#[must_use]
pub fn json_items(findings: &[Finding], world: &dyn World) -> Vec<JsonFinding> {
    json::items(findings, world)
}

/// Writes one JSON array with a final line end.
///
/// # Errors
/// Those of `out`.
pub fn write_json(items: &[JsonFinding], out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, items)?;
    writeln!(out)
}

/// Those that are shown when there are too many: errors before all else, in the order of their places.
fn shown(findings: &[Finding]) -> Vec<&Finding> {
    let errors = findings.iter().filter(|finding| finding.severity() == Severity::Error).count();
    let mut others_left = SHOWN_LIMIT.saturating_sub(errors);
    findings
        .iter()
        .filter(|finding| {
            let is_error = finding.severity() == Severity::Error;
            let fits = is_error || others_left > 0;
            others_left -= usize::from(fits && !is_error);
            fits
        })
        .take(SHOWN_LIMIT)
        .collect()
}

/// The file that findings are about, or how many they are.
fn whereabouts(findings: &[Finding], world: &dyn World) -> String {
    let mut files: Vec<_> = findings.iter().map(|finding| finding.place.span.file).collect();
    files.sort_unstable();
    files.dedup();
    match files[..] {
        [only] => one_line(&world.file(only).name).into_owned(),
        _ => format!("{} files", files.len()),
    }
}

#[cfg(test)]
mod tests;
