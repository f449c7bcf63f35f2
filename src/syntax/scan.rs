//! Byte scans that must agree with the grammar: texts, inch marks, and how far a broken stretch goes.

/// Whether `bytes` end with a digit or a fraction that is one character, so that `"` is an inch mark.
pub(super) fn ends_with_number(bytes: &[u8]) -> bool {
    matches!(bytes, [.., b'0'..=b'9'] | [.., 0xC2, 0xBC..=0xBE] | [.., 0xE2, 0x85, 0x90..=0x9E])
}

/// A stretch of text in double quotes, as far as it goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Quoted {
    /// The mark behind a number.
    InchMark,
    /// A text; one past its closing quote.
    Closed(usize),
    /// A text that its line does not close; one past what can belong to it.
    Unclosed(usize),
}

/// What the `"` at byte `at` begins.
pub(super) fn quoted(text: &str, at: usize) -> Quoted {
    let bytes = text.as_bytes();
    if ends_with_number(&bytes[..at]) {
        return Quoted::InchMark;
    }
    let mut next = at + 1;
    loop {
        match bytes.get(next) {
            Some(b'"') => return Quoted::Closed(next + 1),
            Some(b'\\') if bytes.get(next + 1).is_some_and(|byte| *byte != b'\n') => next += 2,
            Some(b'\n') | None => return Quoted::Unclosed(before_last_braces(bytes, at + 1, next)),
            Some(_) => next += 1,
        }
    }
}

/// Where the braces begin that end the line `from..to`: they belong to the blocks around an unclosed
/// text rather than to the text.
fn before_last_braces(bytes: &[u8], from: usize, to: usize) -> usize {
    let kept = bytes[from..to].iter().rposition(|byte| !matches!(byte, b' ' | b'\t' | b'\r' | b'{' | b'}'));
    kept.map_or(from, |last| from + last + 1)
}

/// One past the last byte of the line that holds `at`, its line end not counted.
pub(super) fn line_end(text: &str, at: usize) -> usize {
    text.as_bytes()[at..].iter().position(|byte| *byte == b'\n').map_or(text.len(), |length| at + length)
}

/// How far the broken stretch that begins at `start` goes: to its line end, to a brace or to a
/// comment; over line ends only within brackets that are closed. `unclosed` are the places of
/// brackets that are not, in order.
pub(super) fn broken_end(text: &str, start: usize, unclosed: &[u32]) -> usize {
    let bytes = text.as_bytes();
    let mut depth = 0_usize;
    let mut at = start;
    while let Some(byte) = bytes.get(at) {
        at = match byte {
            b'{' | b'}' => break,
            b'\n' | b'#' if depth == 0 => break,
            b'#' => line_end(text, at),
            b'/' if bytes.get(at + 1) == Some(&b'/') => line_end(text, at),
            b'"' => match quoted(text, at) {
                Quoted::InchMark => at + 1,
                Quoted::Closed(end) => end,
                Quoted::Unclosed(end) => {
                    at = end;
                    break;
                }
            },
            b'(' | b'[' => {
                let is_unclosed = u32::try_from(at).is_ok_and(|at| unclosed.binary_search(&at).is_ok());
                depth += usize::from(!is_unclosed);
                at + 1
            }
            b')' | b']' => {
                depth = depth.saturating_sub(1);
                at + 1
            }
            _ => at + 1,
        };
    }
    without_blanks(text, start, at)
}

/// `end`, moved back over blanks and the `\r` of a line end, but not before `start` and one character.
pub(super) fn without_blanks(text: &str, start: usize, end: usize) -> usize {
    let stretch = text.get(start..end).unwrap_or("");
    let at_line_end = text.as_bytes().get(end) == Some(&b'\n');
    let stretch = if at_line_end { stretch.strip_suffix('\r').unwrap_or(stretch) } else { stretch };
    start + stretch.trim_end_matches([' ', '\t']).len()
}

#[cfg(test)]
mod tests {
    use super::{Quoted, broken_end, quoted};

    #[test]
    fn a_quote_behind_a_number_is_an_inch_mark() {
        for text in ["3\"", "3/4\" x \"label\"", "½\" ", "1⅜\""] {
            let at = text.find('"').unwrap();
            assert_eq!(quoted(text, at), Quoted::InchMark, "{text}");
        }
        assert_eq!(quoted("3/4\" x \"label\"", 7), Quoted::Closed(14));
        assert_eq!(quoted(r#""a \" b" c"#, 0), Quoted::Closed(8));
    }

    #[test]
    fn an_unclosed_text_leaves_the_last_braces_alone() {
        assert_eq!(quoted("\"Crock {\nwall", 0), Quoted::Unclosed(6));
        assert_eq!(quoted("\"Crock } }", 0), Quoted::Unclosed(6));
        assert_eq!(quoted("\"{ not } the end", 0), Quoted::Unclosed(16));
        assert_eq!(quoted("\" {", 0), Quoted::Unclosed(1));
        assert_eq!(quoted("\"a\\", 0), Quoted::Unclosed(3));
    }

    #[test]
    fn a_broken_stretch_ends_with_its_line_or_at_a_brace() {
        let end = |text: &'static str| &text[..broken_end(text, 0, &[])];
        assert_eq!(end("a, b  \r\nc"), "a, b");
        assert_eq!(end("a, b } c"), "a, b");
        assert_eq!(end("a, b # c"), "a, b");
        assert_eq!(end("a, [b\n c] d\ne"), "a, [b\n c] d");
        assert_eq!(end("// a { b }\nc"), "// a { b }");
        assert_eq!(&"a, [b\n c"[..broken_end("a, [b\n c", 0, &[3])], "a, [b");
    }
}
