//! Texts made ready to be shown: harmless on a terminal, cut in rows of bounded length, with
//! line and column look-ups. Byte offsets stay those of the source text.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ops::Range;

use crate::finding::Finding;
use crate::source::{FileId, LineIndex, Span, World};

/// A longer line is shown as several rows, so that a text without line ends cannot flood a terminal.
const ROW_BYTES: usize = 512;

/// One row to show: a line, or a piece of a long one.
#[derive(Debug, Clone, Copy)]
struct Row {
    start: usize,
    line: usize,
}

/// One text, ready to be shown.
#[derive(Debug)]
pub(super) struct Sheet {
    /// The file's name, on one line.
    pub(super) name: String,
    /// The text made harmless, offset for offset, with a line end added: so the last row is never nothing.
    text: String,
    index: LineIndex,
    rows: Vec<Row>,
}

/// All texts that some findings are about.
#[derive(Debug)]
pub(super) struct Sheets(BTreeMap<FileId, Sheet>);

impl Sheets {
    /// Prepares every file that a label or an edit of `findings` lies in.
    pub(super) fn of<'a>(findings: impl IntoIterator<Item = &'a Finding>, world: &dyn World) -> Self {
        let mut sheets = BTreeMap::new();
        for finding in findings {
            let labels = std::iter::once(&finding.place).chain(&finding.related).map(|label| label.span);
            let edits = finding.fix.iter().flat_map(|fix| &fix.edits).map(|edit| edit.span);
            for span in labels.chain(edits) {
                sheets.entry(span.file).or_insert_with(|| {
                    let file = world.file(span.file);
                    Sheet::new(&file.name, &file.text)
                });
            }
        }
        Self(sheets)
    }

    /// The text of a file that the findings name.
    pub(super) fn get(&self, id: FileId) -> Option<&Sheet> {
        self.0.get(&id)
    }
}

impl Sheet {
    fn new(name: &str, text: &str) -> Self {
        let mut text = visible(text).into_owned();
        let index = LineIndex::new(&text);
        text.push('\n');
        let mut rows = Vec::new();
        let mut start = 0;
        for (line, content) in text.split_inclusive('\n').enumerate() {
            let end = start + content.len();
            while end - start > ROW_BYTES {
                rows.push(Row { start, line });
                start = text.floor_char_boundary(start + ROW_BYTES);
            }
            rows.push(Row { start, line });
            start = end;
        }
        Self { name: one_line(name).into_owned(), text, index, rows }
    }

    /// The text to show, one line end longer than the source.
    pub(super) fn text(&self) -> &str {
        &self.text
    }

    /// The stretch of `span` as it is shown: inside the text, on character boundaries, without a
    /// line end at its end.
    pub(super) fn range(&self, span: Span) -> Range<usize> {
        let last = self.text.len() - 1;
        let start = self.text.floor_char_boundary(span.range().start.min(last));
        let end = self.text.ceil_char_boundary(span.range().end.clamp(start, last));
        let covered = &self.text[start..end];
        start..start + covered.trim_end_matches(['\n', '\r']).len()
    }

    /// All that `span` covers, line ends too; nothing when it covers no whole characters.
    pub(super) fn slice(&self, span: Span) -> &str {
        let last = self.text.len() - 1;
        self.text.get(span.range().start.min(last)..span.range().end.min(last)).unwrap_or("")
    }

    /// Which row (from 0) holds byte `offset`.
    pub(super) fn row(&self, offset: usize) -> usize {
        self.rows.partition_point(|row| row.start <= offset).saturating_sub(1)
    }

    /// The last row.
    pub(super) fn last_row(&self) -> usize {
        self.rows.len() - 1
    }

    /// The line (from 0) of which `row` shows all or a piece.
    pub(super) fn line_of_row(&self, row: usize) -> Option<usize> {
        self.rows.get(row).map(|row| row.line)
    }

    /// The bytes of `row`, its line end included.
    pub(super) fn row_range(&self, row: usize) -> Option<Range<usize>> {
        let start = self.rows.get(row)?.start;
        Some(start..self.rows.get(row + 1).map_or(self.text.len(), |next| next.start))
    }

    /// Line and column, both from 1, the column in characters.
    pub(super) fn line_column(&self, offset: usize) -> (usize, usize) {
        self.index.line_column(&self.text, u32::try_from(offset).unwrap_or(u32::MAX))
    }
}

/// The text on one line, without anything that a terminal would obey.
#[must_use]
pub fn one_line(text: &str) -> Cow<'_, str> {
    let text = visible(text);
    if text.contains(['\n', '\r', '\t']) {
        Cow::Owned(text.replace("\r\n", " ").replace(['\n', '\r', '\t'], " "))
    } else {
        text
    }
}

/// The text without anything that a terminal would obey, byte for byte as long: a control
/// character or a change of writing direction becomes a question mark of its own length.
pub(super) fn visible(text: &str) -> Cow<'_, str> {
    let mut after = text.chars().skip(1).map(Some).chain([None]);
    let mut offset = 0;
    let mut shown: Option<String> = None;
    for char in text.chars() {
        let next = after.next().flatten();
        let substitute = match char {
            '\n' | '\t' => None,
            '\r' if next == Some('\n') => None,
            '\0'..='\u{1f}' | '\u{7f}' => Some('?'),
            '\u{80}'..='\u{9f}' | '\u{61c}' => Some('¿'),
            // A byte order mark at the start is invisible and rightly there.
            '\u{feff}' if offset == 0 => None,
            '\u{feff}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' => {
                Some('\u{fffd}')
            }
            _ => None,
        };
        if substitute.is_some() && shown.is_none() {
            shown = Some(text[..offset].to_owned());
        }
        if let Some(shown) = &mut shown {
            shown.push(substitute.unwrap_or(char));
        }
        offset += char.len_utf8();
    }
    shown.map_or(Cow::Borrowed(text), Cow::Owned)
}

#[cfg(test)]
mod tests {
    use super::{ROW_BYTES, Sheet, one_line, visible};
    use crate::source::{FileId, Span};

    #[test]
    fn what_a_terminal_would_obey_is_replaced_byte_for_byte() {
        let text = "\u{feff}a\u{1b}[31m\0\u{9b}\u{202e}\r\nb\rc\t½";
        let shown = visible(text);
        assert_eq!(shown, "\u{feff}a?[31m?¿\u{fffd}\r\nb?c\t½");
        assert_eq!(shown.len(), text.len());
        assert_eq!(one_line("a\r\nb\tc\n"), "a b c ");
    }

    #[test]
    fn a_long_line_becomes_rows_of_one_line() {
        let text = format!("a\n{}\nb", "½".repeat(ROW_BYTES));
        let sheet = Sheet::new("x", &text);
        let rows: Vec<_> = (0..=sheet.last_row()).map(|row| sheet.line_of_row(row).unwrap()).collect();
        assert_eq!(rows, [0, 1, 1, 1, 2]);
        let all: String = (0..=sheet.last_row()).map(|row| &sheet.text()[sheet.row_range(row).unwrap()]).collect();
        assert_eq!(all, text.clone() + "\n");
        assert_eq!(sheet.line_column(2 + 2 * 300), (2, 301));
    }

    #[test]
    fn a_place_is_brought_inside_the_text() {
        let sheet = Sheet::new("x", "½\r\n");
        let range = |start, end| sheet.range(Span::new(FileId(0), start, end));
        assert_eq!(range(0, 4), 0..2);
        assert_eq!(range(1, 1), 0..2, "widened to whole characters");
        assert_eq!(range(90, 99), 4..4);
        assert_eq!(Sheet::new("x", "").range(Span::new(FileId(0), 0, 0)), 0..0);
    }
}
