//! Bytes to lines, columns and UTF-16 units: the one place that counts them.

/// How the columns of a line are counted, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Columns {
    /// In bytes.
    Bytes,
    /// In UTF-16 units.
    Utf16,
    /// In characters.
    Characters,
}

impl Columns {
    /// How many of them a character takes.
    fn width(self, character: char) -> usize {
        match self {
            Self::Bytes => character.len_utf8(),
            Self::Utf16 => character.len_utf16(),
            Self::Characters => 1,
        }
    }
}

/// Where the lines of one text start.
#[derive(Debug, Clone)]
pub struct LineIndex {
    starts: Vec<u32>,
}

impl LineIndex {
    /// Finds the lines of `text`; a line ends with its line feed.
    #[must_use]
    pub fn new(text: &str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        let starts = std::iter::once(0).chain(ends.map(|(at, _)| to_u32(at + 1))).collect();
        Self { starts }
    }

    /// As editors find the lines of `text`: a carriage return without its line feed ends one too.
    #[must_use]
    pub fn of_editors(text: &str) -> Self {
        let bytes = text.as_bytes();
        let ends = bytes.iter().enumerate().filter(|(at, byte)| match byte {
            b'\n' => true,
            b'\r' => bytes.get(at + 1) != Some(&b'\n'),
            _ => false,
        });
        let starts = std::iter::once(0).chain(ends.map(|(at, _)| to_u32(at + 1))).collect();
        Self { starts }
    }

    /// The line (from 0) that holds byte `offset`.
    #[must_use]
    pub fn line(&self, offset: u32) -> usize {
        self.starts.partition_point(|start| *start <= offset) - 1
    }

    /// Byte offset at which `line` (from 0) starts; the last line's start when there is no such line.
    #[must_use]
    pub fn start(&self, line: usize) -> u32 {
        self.starts.get(line).or(self.starts.last()).copied().unwrap_or(0)
    }

    /// Line and column, both from 1, the column in characters.
    #[must_use]
    pub fn line_column(&self, text: &str, offset: u32) -> (usize, usize) {
        let line = self.line(offset);
        let before = text.get(self.start(line) as usize..offset as usize).unwrap_or("");
        (line + 1, before.chars().count() + 1)
    }

    /// Line and column, both from 0, the column in UTF-16 units as editors count.
    #[must_use]
    pub fn line_utf16(&self, text: &str, offset: u32) -> (usize, usize) {
        self.place(text, offset, Columns::Utf16)
    }

    /// Line and column, both from 0.
    #[must_use]
    pub fn place(&self, text: &str, offset: u32, columns: Columns) -> (usize, usize) {
        let line = self.line(offset);
        let before = text.get(self.start(line) as usize..offset as usize).unwrap_or("");
        let is_plain = columns == Columns::Bytes || before.is_ascii();
        (line, if is_plain { before.len() } else { before.chars().map(|c| columns.width(c)).sum() })
    }

    /// The byte at line and column, both from 0: what lies behind the end of a line is its end, what lies
    /// within a character its start, what lies behind the last line the end of the text.
    #[must_use]
    pub fn offset(&self, text: &str, line: usize, column: usize, columns: Columns) -> u32 {
        let Some(start) = self.starts.get(line).map(|start| *start as usize) else { return to_u32(text.len()) };
        let end = self.starts.get(line + 1).map_or(text.len(), |end| *end as usize);
        let line = text.get(start..end).unwrap_or("").trim_end_matches(['\n', '\r']);
        let (mut passed, mut at) = (0, start);
        for character in line.chars() {
            passed += columns.width(character);
            if passed > column {
                break;
            }
            at += character.len_utf8();
        }
        to_u32(at)
    }
}

fn to_u32(offset: usize) -> u32 {
    u32::try_from(offset).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::{Columns, LineIndex};

    #[test]
    fn counts_characters_and_utf16_units_behind_signs_of_several_bytes() {
        let text = "at ½\nat 3″ 𝄞 x\n";
        let index = LineIndex::new(text);
        let x = u32::try_from(text.find('x').unwrap()).unwrap();
        assert_eq!(index.line_column(text, x), (2, 9));
        assert_eq!(index.line_utf16(text, x), (1, 9));
        assert_eq!(index.line_column(text, 0), (1, 1));
    }

    #[test]
    fn a_place_at_the_very_end_is_on_the_last_line() {
        let index = LineIndex::new("a\nb");
        assert_eq!(index.line(3), 1);
        assert_eq!(LineIndex::new("").line(0), 0);
    }

    #[test]
    fn places_of_editors_lead_to_bytes_and_back() {
        let text = "at ½\r\nat 3″ 𝄞 x\rend";
        let index = LineIndex::of_editors(text);
        for columns in [Columns::Bytes, Columns::Utf16, Columns::Characters] {
            for (at, _) in text.char_indices().filter(|(_, c)| !matches!(c, '\r' | '\n')) {
                let at = u32::try_from(at).unwrap();
                let (line, column) = index.place(text, at, columns);
                assert_eq!(index.offset(text, line, column, columns), at, "{columns:?}");
            }
        }
        assert_eq!(index.place(text, 22, Columns::Bytes), (2, 0));
        assert_eq!(index.offset(text, 0, 99, Columns::Utf16), 5, "before the line end");
        assert_eq!(index.offset(text, 0, 4, Columns::Bytes), 3, "within a character");
        assert_eq!(index.offset(text, 9, 0, Columns::Utf16), 25, "behind the last line");
        assert_eq!(LineIndex::of_editors("").offset("", 0, 3, Columns::Utf16), 0);
    }
}
