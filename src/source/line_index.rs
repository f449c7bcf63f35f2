//! Bytes to lines, columns and UTF-16 units: the one place that counts them.

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
        let line = self.line(offset);
        let before = text.get(self.start(line) as usize..offset as usize).unwrap_or("");
        (line, before.chars().map(char::len_utf16).sum())
    }
}

fn to_u32(offset: usize) -> u32 {
    u32::try_from(offset).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::LineIndex;

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
}
