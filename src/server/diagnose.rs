//! Findings of recipes as diagnostics of files, and who is told of which.
//!
//! Each recipe tells of its own file and of those it uses, so a file has the findings of all recipes that reach it,
//! each finding once.

use std::collections::BTreeMap;
use std::path::PathBuf;

use gen_lsp_types as lsp;

use crate::finding::{Finding, Label, Severity};
use crate::source::FileId;

use super::document::Text;
use super::setup::Client;
use super::{Placed, uri};

/// As the editor shows where a diagnostic is from.
const SOURCE: &str = "ringwright";

/// Diagnostics by file.
pub(super) type Told = BTreeMap<PathBuf, Vec<lsp::Diagnostic>>;

/// What is needed to say of a finding where it is.
pub(super) struct Places<'a> {
    world: &'a dyn Placed,
    client: &'a Client,
    /// The name by which the editor knows a file that it holds open.
    uris: &'a BTreeMap<PathBuf, String>,
    texts: BTreeMap<FileId, (PathBuf, Text)>,
}

impl<'a> Places<'a> {
    pub(super) fn new(world: &'a dyn Placed, client: &'a Client, uris: &'a BTreeMap<PathBuf, String>) -> Self {
        Self { world, client, uris, texts: BTreeMap::new() }
    }

    pub(super) fn text(&mut self, file: FileId) -> &(PathBuf, Text) {
        let (world, columns) = (self.world, self.client.columns);
        self.texts.entry(file).or_insert_with(|| {
            let source = world.file(file);
            let path = world.place(file).unwrap_or_else(|| PathBuf::from(&source.name));
            (path, Text::new(source.text.as_str(), columns))
        })
    }

    pub(super) fn location(&mut self, span: crate::source::Span) -> lsp::Location {
        let uris = self.uris;
        let (path, text) = self.text(span.file);
        let uri = uris.get(path).cloned().unwrap_or_else(|| uri::of(path));
        lsp::Location { uri: lsp::Uri(uri), range: text.range(span) }
    }

    /// A finding as a diagnostic of its file.
    pub(super) fn diagnostic(&mut self, finding: &Finding) -> (PathBuf, lsp::Diagnostic) {
        let mut message = finding.message.clone();
        if let Some(help) = &finding.help {
            message.push_str("\nhelp: ");
            message.push_str(help);
        }
        let mut related = Vec::new();
        if self.client.has_related {
            let own = Some(&finding.place).filter(|place| !place.message.is_empty());
            related.extend(own.into_iter().chain(&finding.related).map(|label| self.related(label)));
        }
        let (path, text) = self.text(finding.place.span.file);
        let diagnostic = lsp::Diagnostic {
            range: text.range(finding.place.span),
            severity: Some(match finding.severity() {
                Severity::Error => lsp::DiagnosticSeverity::Error,
                Severity::Warning => lsp::DiagnosticSeverity::Warning,
                Severity::Note => lsp::DiagnosticSeverity::Information,
            }),
            code: Some(lsp::Code::String(finding.code.name.to_owned())),
            source: Some(SOURCE.to_owned()),
            message: lsp::Message::String(message),
            related_information: (!related.is_empty()).then_some(related),
            ..lsp::Diagnostic::default()
        };
        (path.clone(), diagnostic)
    }

    fn related(&mut self, label: &Label) -> lsp::DiagnosticRelatedInformation {
        // An editor shows no place without a word.
        let message = if label.message.is_empty() { "here".to_owned() } else { label.message.clone() };
        lsp::DiagnosticRelatedInformation { location: self.location(label.span), message }
    }

    /// All findings, by file.
    pub(super) fn told<'f>(&mut self, findings: impl IntoIterator<Item = &'f Finding>) -> Told {
        let mut told = Told::new();
        for finding in findings {
            let (path, diagnostic) = self.diagnostic(finding);
            told.entry(path).or_default().push(diagnostic);
        }
        told
    }
}

/// Where a diagnostic is after an edit of its file; `None` when the edit changed what it stands on.
pub(super) fn carried(
    mut diagnostic: lsp::Diagnostic,
    edit: lsp::Range,
    text: &str,
    client: &Client,
) -> Option<lsp::Diagnostic> {
    if edit.start < diagnostic.range.end && diagnostic.range.start < edit.end {
        return None;
    }
    let moved = Moved::by(edit, text, client);
    diagnostic.range =
        lsp::Range { start: moved.place(diagnostic.range.start), end: moved.place(diagnostic.range.end) };
    Some(diagnostic)
}

/// By how much an edit moves what lies behind it.
struct Moved {
    edit: lsp::Range,
    /// Where what was put in ends.
    end: lsp::Position,
}

impl Moved {
    fn by(edit: lsp::Range, text: &str, client: &Client) -> Self {
        let inserted = Text::new(text, client.columns);
        let length = inserted.position(u32::try_from(text.len()).unwrap_or(u32::MAX));
        // An editor may write far behind the text, where it is moved to the text's end.
        let start = edit.start;
        let character =
            if length.line == 0 { start.character.saturating_add(length.character) } else { length.character };
        Self { edit, end: lsp::Position { line: start.line.saturating_add(length.line), character } }
    }

    fn place(&self, at: lsp::Position) -> lsp::Position {
        if at < self.edit.end {
            return at;
        }
        let line = at.line - self.edit.end.line;
        let character = if line == 0 {
            (at.character - self.edit.end.character).saturating_add(self.end.character)
        } else {
            at.character
        };
        lsp::Position { line: self.end.line.saturating_add(line), character }
    }
}

#[cfg(test)]
mod tests {
    use gen_lsp_types as lsp;

    use super::carried;
    use crate::server::setup::Client;
    use crate::source::Columns;

    fn range(start: (u32, u32), end: (u32, u32)) -> lsp::Range {
        let place = |(line, character)| lsp::Position { line, character };
        lsp::Range { start: place(start), end: place(end) }
    }

    fn moved(edit: lsp::Range, text: &str) -> Option<lsp::Range> {
        let client = Client { columns: Columns::Utf16, folders: Vec::new(), has_related: false, can_watch: false };
        let diagnostic = lsp::Diagnostic { range: range((5, 4), (5, 9)), ..lsp::Diagnostic::default() };
        carried(diagnostic, edit, text, &client).map(|diagnostic| diagnostic.range)
    }

    #[test]
    fn a_finding_moves_with_what_is_written_before_it() {
        assert_eq!(moved(range((5, 0), (5, 0)), "ab"), Some(range((5, 6), (5, 11))));
        assert_eq!(moved(range((2, 7), (5, 1)), "\n\nx"), Some(range((4, 4), (4, 9))));
        assert_eq!(moved(range((5, 9), (6, 0)), "x"), Some(range((5, 4), (5, 9))));
        assert_eq!(moved(range((5, 6), (5, 6)), "x"), None);
    }

    #[test]
    fn an_edit_that_is_nowhere_moves_nothing() {
        let nowhere = range((u32::MAX, u32::MAX), (u32::MAX, u32::MAX));
        assert_eq!(moved(nowhere, "ab\ncd"), Some(range((5, 4), (5, 9))));
        assert_eq!(moved(nowhere, "ab"), Some(range((5, 4), (5, 9))));
    }
}
