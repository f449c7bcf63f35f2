//! Help and fix as lines of text, for people.

use std::fmt::Write;

use crate::finding::{Edit, Finding, Fix};
use crate::source::FileId;

use super::RELATED_LIMIT;
use super::sheet::{Sheets, one_line, visible};

/// Longest piece of the recipe that a fix quotes, in characters.
const QUOTE_LIMIT: usize = 60;

/// What stands below the labels: places left out, the help, the fix with what it replaces.
pub(super) fn notes(finding: &Finding, sheets: &Sheets) -> Vec<String> {
    let mut notes = Vec::new();
    let left_out = finding.related.len().saturating_sub(RELATED_LIMIT);
    if left_out > 0 {
        notes.push(format!("and {left_out} more places like these"));
    }
    if let Some(help) = &finding.help {
        notes.push(format!("help: {}", visible(help)));
    }
    // Where help says it, the edit would only say it again; programs get both.
    if let (Some(fix), None) = (&finding.fix, &finding.help) {
        notes.push(fix_lines(fix, finding.place.span.file, sheets));
    }
    notes
}

fn fix_lines(fix: &Fix, main: FileId, sheets: &Sheets) -> String {
    let mut lines = format!("fix: {}", one_line(&fix.title));
    for edit in fix.edits.iter().take(RELATED_LIMIT) {
        lines.push_str("\n  ");
        lines.push_str(&edit_line(edit, main, sheets));
    }
    let left_out = fix.edits.len().saturating_sub(RELATED_LIMIT);
    if left_out > 0 {
        let _ = write!(lines, "\n  and {left_out} more edits");
    }
    lines
}

/// "line 3: `3/4` becomes `3/4 in`".
fn edit_line(edit: &Edit, main: FileId, sheets: &Sheets) -> String {
    let Some(sheet) = sheets.get(edit.span.file) else {
        return quoted(&edit.text);
    };
    let (line, _) = sheet.line_column(sheet.range(edit.span).start);
    let of = if edit.span.file == main { String::new() } else { format!(" of {}", sheet.name) };
    let old = sheet.slice(edit.span);
    if old.is_empty() {
        format!("line {line}{of}: insert {}", quoted(&edit.text))
    } else if edit.text.is_empty() {
        format!("line {line}{of}: delete {}", quoted(old))
    } else {
        format!("line {line}{of}: {} becomes {}", quoted(old), quoted(&edit.text))
    }
}

/// A piece of recipe in backticks: its first line, not too long.
fn quoted(text: &str) -> String {
    let text = text.trim_matches(['\n', '\r']);
    let first = text.lines().next().unwrap_or("");
    let short: String = one_line(first).chars().take(QUOTE_LIMIT).collect();
    let more = if short.chars().count() < text.chars().count() { " …" } else { "" };
    format!("`{short}{more}`")
}
