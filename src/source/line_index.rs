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

/// Bytes of a line between two marks: a column is counted from the last mark before it, so that many places on one
/// endless line do not take the square of its length.
const STRIDE: usize = 512;

/// Where the lines of one text start.
#[derive(Debug, Clone)]
pub struct LineIndex {
    starts: Vec<u32>,
    /// Within lines that are longer than a stride, by their bytes.
    marks: Vec<Mark>,
}

/// A place within a long line, and what stands before it on that line.
#[derive(Debug, Clone, Copy)]
struct Mark {
    at: u32,
    characters: u32,
    utf16: u32,
}

impl Mark {
    fn columns(self, start: usize, columns: Columns) -> usize {
        match columns {
            Columns::Bytes => self.at as usize - start,
            Columns::Utf16 => self.utf16 as usize,
            Columns::Characters => self.characters as usize,
        }
    }
}

impl LineIndex {
    /// Finds the lines of `text`; a line ends with its line feed.
    #[must_use]
    pub fn new(text: &str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        Self::of(text, std::iter::once(0).chain(ends.map(|(at, _)| to_u32(at + 1))).collect())
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
        Self::of(text, std::iter::once(0).chain(ends.map(|(at, _)| to_u32(at + 1))).collect())
    }

    fn of(text: &str, starts: Vec<u32>) -> Self {
        let mut marks = Vec::new();
        let ends = starts.iter().skip(1).map(|end| *end as usize).chain([text.len()]);
        for (start, end) in starts.iter().map(|start| *start as usize).zip(ends) {
            let (mut at, mut characters, mut utf16) = (start, 0, 0);
            while end - at > STRIDE {
                let next = text.floor_char_boundary(at + STRIDE);
                for character in text.get(at..next).unwrap_or("").chars() {
                    characters += 1;
                    utf16 += to_u32(character.len_utf16());
                }
                at = next;
                marks.push(Mark { at: to_u32(at), characters, utf16 });
            }
        }
        Self { starts, marks }
    }

    /// The last of the marks that `is_before` holds of, if it lies on the line that begins at `start`.
    fn mark(&self, start: usize, is_before: impl Fn(&Mark) -> bool) -> Option<Mark> {
        let behind = self.marks.partition_point(is_before);
        let mark = behind.checked_sub(1).and_then(|last| self.marks.get(last))?;
        (mark.at as usize > start).then_some(*mark)
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
        let (line, column) = self.place(text, offset, Columns::Characters);
        (line + 1, column + 1)
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
        let start = self.start(line) as usize;
        let mark = self.mark(start, |mark| mark.at <= offset);
        let from = mark.map_or(start, |mark| mark.at as usize);
        let before = text.get(from..offset as usize).unwrap_or("");
        let is_plain = columns == Columns::Bytes || before.is_ascii();
        let behind = if is_plain { before.len() } else { before.chars().map(|c| columns.width(c)).sum() };
        (line, mark.map_or(0, |mark| mark.columns(start, columns)) + behind)
    }

    /// The byte at line and column, both from 0: what lies behind the end of a line is its end, what lies
    /// within a character its start, what lies behind the last line the end of the text.
    #[must_use]
    pub fn offset(&self, text: &str, line: usize, column: usize, columns: Columns) -> u32 {
        let Some(start) = self.starts.get(line).map(|start| *start as usize) else { return to_u32(text.len()) };
        let end = self.starts.get(line + 1).map_or(text.len(), |end| *end as usize);
        let end = start + text.get(start..end).unwrap_or("").trim_end_matches(['\n', '\r']).len();
        let is_before = |mark: &Mark| {
            let at = mark.at as usize;
            at <= start || at <= end && mark.columns(start, columns) <= column
        };
        let mark = self.mark(start, is_before);
        let (mut passed, mut at) = mark.map_or((0, start), |mark| (mark.columns(start, columns), mark.at as usize));
        for character in text.get(at..end).unwrap_or("").chars() {
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
    use super::{Columns, LineIndex, STRIDE};

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
    #[test]
    fn columns_of_a_long_line_are_those_that_are_counted_one_by_one() {
        let piece = "ring ½ 𝄞 \r ″maple″ ";
        let plain = "x".repeat(3 * STRIDE) + "\n";
        assert_eq!(LineIndex::new(&plain).offset(&plain, 0, 99_999, Columns::Utf16), 1536, "before the line end");
        for text in [piece.repeat(200), format!("{0}\n{0}\r\n{0}", piece.repeat(90)), plain] {
            for index in [LineIndex::new(&text), LineIndex::of_editors(&text)] {
                for (at, _) in text.char_indices().step_by(7) {
                    let at = u32::try_from(at).unwrap();
                    let start = index.start(index.line(at)) as usize;
                    let before = &text[start..at as usize];
                    let counted = [before.len(), before.encode_utf16().count(), before.chars().count()];
                    for (columns, counted) in
                        [Columns::Bytes, Columns::Utf16, Columns::Characters].into_iter().zip(counted)
                    {
                        let (line, column) = index.place(&text, at, columns);
                        assert_eq!((line, column), (index.line(at), counted), "{at} {columns:?}");
                        // The return before a line feed is part of the line's end.
                        let end = before.trim_end_matches(['\n', '\r']).len();
                        if end == before.len() && text.as_bytes()[at as usize] != b'\r' {
                            assert_eq!(index.offset(&text, line, column, columns), at, "{at} {columns:?}");
                        }
                    }
                }
            }
        }
    }
}
