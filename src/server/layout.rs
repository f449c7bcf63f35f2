//! Formatting: what the one layout changes, as the editor makes it.

use std::ops::Range;

use gen_lsp_types as lsp;

use crate::finding::Edit;
use crate::format;

use super::asked::Known;

/// Of the whole text.
pub(super) fn of_text(known: &Known<'_>) -> Vec<lsp::TextEdit> {
    text_edits(known, format::edits(&known.project.reading(known.seen.root).tree))
}

/// Of the lines that a stretch touches.
pub(super) fn of_range(known: &Known<'_>, range: Range<usize>) -> Vec<lsp::TextEdit> {
    text_edits(known, format::format_range(&known.project.reading(known.seen.root).tree, range))
}

fn text_edits(known: &Known<'_>, edits: Vec<Edit>) -> Vec<lsp::TextEdit> {
    let text = &known.document.text;
    let edit = |edit: Edit| {
        let range = lsp::Range { start: text.position(edit.span.start), end: text.position(edit.span.end) };
        lsp::TextEdit { range, new_text: edit.text }
    };
    edits.into_iter().map(edit).collect()
}
