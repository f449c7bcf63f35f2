//! A text that an editor holds open, and the edits it sends.

use std::sync::Arc;

use gen_lsp_types::{Position, Range, TextDocumentContentChangeEvent};

use crate::source::{Columns, LineIndex, Span};

/// A text with its lines.
#[derive(Debug, Clone)]
pub(super) struct Text {
    pub(super) whole: Arc<str>,
    lines: LineIndex,
    columns: Columns,
}

impl Text {
    pub(super) fn new(text: impl Into<Arc<str>>, columns: Columns) -> Self {
        let text = text.into();
        Self { lines: LineIndex::of_editors(&text), whole: text, columns }
    }

    /// The byte at a position; what lies nowhere is moved to the nearest place of the text.
    pub(super) fn offset(&self, position: Position) -> u32 {
        let (line, column) = (position.line as usize, position.character as usize);
        self.lines.offset(&self.whole, line, column, self.columns)
    }

    pub(super) fn position(&self, offset: u32) -> Position {
        let (line, column) = self.lines.place(&self.whole, offset, self.columns);
        Position { line: to_u32(line), character: to_u32(column) }
    }

    pub(super) fn range(&self, span: Span) -> Range {
        Range { start: self.position(span.start), end: self.position(span.end) }
    }

    /// The bytes of a range, first before last.
    pub(super) fn bytes(&self, range: Range) -> std::ops::Range<usize> {
        let (start, end) = (self.offset(range.start) as usize, self.offset(range.end) as usize);
        start.min(end)..start.max(end)
    }

    /// How many columns a stretch has that lies on one line.
    pub(super) fn width(&self, span: Span) -> u32 {
        let (start, end) = (self.position(span.start), self.position(span.end));
        if start.line == end.line { end.character.saturating_sub(start.character) } else { 0 }
    }

    /// The text with one edit more.
    pub(super) fn edited(&self, change: TextDocumentContentChangeEvent) -> Self {
        match change {
            TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(whole) => {
                Self::new(whole.text, self.columns)
            }
            TextDocumentContentChangeEvent::TextDocumentContentChangePartial(part) => {
                let range = self.bytes(part.range);
                let (before, behind) = (self.whole.get(..range.start), self.whole.get(range.end..));
                let text = [before.unwrap_or(""), &part.text, behind.unwrap_or("")].concat();
                Self::new(text, self.columns)
            }
        }
    }
}

/// No text that is read has so many.
pub(super) fn to_u32(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
