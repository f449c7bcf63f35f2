//! Where the comments of a text are, however broken the rest of it is, and how a stretch is taken
//! out so that its line stays tidy.

use std::ops::Range;

use super::scan::{Quoted, line_end, quoted};

/// Every comment from its `#` to before its line end, in order. Of a text that can be read these are
/// its tree's comments; of others also those within what cannot be read.
#[must_use]
pub fn comments(text: &str) -> Vec<Range<usize>> {
    let bytes = text.as_bytes();
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        at = match byte {
            b'#' => {
                let end = line_end(text, at);
                let has_return = bytes.get(end) == Some(&b'\n') && end > at && bytes[end - 1] == b'\r';
                found.push(at..end - usize::from(has_return));
                end
            }
            b'"' => match quoted(text, at) {
                Quoted::InchMark => at + 1,
                Quoted::Closed(end) | Quoted::Unclosed(end) => end.max(at + 1),
            },
            _ => at + 1,
        };
    }
    found
}

/// What to take out when `range` is to go: with it the blanks that would be left at the end of its
/// line or doubled within it, and all of the line when nothing else stands on it. A comment behind
/// it stays where it is.
#[must_use]
pub fn removal(text: &str, range: Range<usize>) -> Range<usize> {
    let is_blank = |byte: &u8| matches!(byte, b' ' | b'\t');
    let bytes = text.as_bytes();
    let (Some(before), Some(behind), Some(within)) =
        (bytes.get(..range.start), bytes.get(range.end..), bytes.get(range.clone()))
    else {
        return range;
    };
    if within.iter().all(is_blank) {
        return range;
    }
    let blanks_before = before.iter().rev().take_while(|byte| is_blank(byte)).count();
    let blanks_behind = behind.iter().take_while(|byte| is_blank(byte)).count();
    let rest = &behind[blanks_behind..];
    let line_end = match rest {
        [b'\r', b'\n', ..] => Some(2),
        [b'\n', ..] => Some(1),
        [] => Some(0),
        _ => None,
    };
    let earlier = &before[..before.len() - blanks_before];
    let is_first = matches!(earlier, [] | [.., b'\n'] | [0xEF, 0xBB, 0xBF]);
    match (is_first, line_end) {
        (true, Some(end)) => range.start - blanks_before..range.end + blanks_behind + end,
        (false, Some(_)) => range.start - blanks_before..range.end + blanks_behind,
        // The comment keeps its column's blanks, and the line its indent.
        (_, None) if rest.first() == Some(&b'#') => range,
        (true, None) => range.start..range.end + blanks_behind,
        (false, None) if blanks_before > 0 => range.start..range.end + blanks_behind,
        (false, None) => range,
    }
}

#[cfg(test)]
mod tests {
    use super::{comments, removal};

    #[test]
    fn a_hash_within_a_text_begins_no_comment() {
        let text = "vessel \"No. #5\" # a\r\nat 3/4\" # b\nopen \"x # c }\n#d";
        let found: Vec<&str> = comments(text).into_iter().map(|range| &text[range]).collect();
        assert_eq!(found, ["# a", "# b", "#d"]);
    }

    #[test]
    fn what_is_taken_out_leaves_its_line_tidy() {
        let without = |text: &str, gone: &str| {
            let at = text.find(gone).unwrap();
            let range = removal(text, at..at + gone.len());
            format!("{}{}", &text[..range.start], &text[range.end..])
        };
        assert_eq!(without("a\n  top 1\nb\n", "top 1"), "a\nb\n");
        assert_eq!(without("a\r\n  top 1  \r\nb", "top 1"), "a\r\nb");
        assert_eq!(without("a\n  top 1", "top 1"), "a\n");
        assert_eq!(without("  top 1  # why\n", "top 1"), "    # why\n");
        assert_eq!(without("  a 1  top 1\n", "top 1"), "  a 1\n");
        assert_eq!(without("  top 1  a 1\n", "top 1"), "  a 1\n");
        assert_eq!(without("  b  top 1  a 1\n", "top 1"), "  b  a 1\n");
        assert_eq!(without("thick: 3/4\n", ":"), "thick 3/4\n");
        assert_eq!(without("3/4 \"\n", " "), "3/4\"\n");
        assert_eq!(without("\u{FEFF}top 1\nb", "top 1"), "\u{FEFF}b");
    }
}
