//! One pass over the bytes before the grammar: how deep brackets nest, and which are never closed.
//!
//! Whatever walks the tree may recurse, since nothing deeper than [`DEEPEST`] ever gets into one.

use crate::finding::limits;

use super::scan::{Quoted, line_end, quoted};

/// Most brackets that may stand open at once.
pub(super) const DEEPEST: usize = limits::DEEPEST_BRACKETS.get().0 as usize;

/// What the pass found.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Brackets {
    /// Places of `(` and `[` that are not closed before the next brace, in order.
    pub unclosed: Vec<u32>,
    /// The bracket with which nesting got too deep; the pass ended there.
    pub too_deep: Option<usize>,
}

/// Reads the brackets of `text`, but not those in texts and comments.
pub(super) fn brackets(text: &str) -> Brackets {
    let bytes = text.as_bytes();
    let mut found = Brackets::default();
    let mut open: Vec<(u8, usize)> = Vec::new();
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'#' => {
                at = line_end(text, at);
                continue;
            }
            b'"' => {
                at = match quoted(text, at) {
                    Quoted::InchMark => at + 1,
                    Quoted::Closed(end) | Quoted::Unclosed(end) => end,
                };
                continue;
            }
            b'{' => {
                give_up(&mut open, &mut found.unclosed, 0);
                open.push((b'{', at));
            }
            b'}' => {
                give_up(&mut open, &mut found.unclosed, 0);
                open.pop();
            }
            b'(' | b'[' => open.push((*byte, at)),
            b')' | b']' => {
                let opener = if *byte == b')' { b'(' } else { b'[' };
                let pair = open.iter().rposition(|(bracket, _)| *bracket == opener || *bracket == b'{');
                if let Some(index) = pair.filter(|index| open[*index].0 == opener) {
                    give_up(&mut open, &mut found.unclosed, index + 1);
                    open.pop();
                }
            }
            _ => {}
        }
        if open.len() > DEEPEST {
            found.too_deep = Some(at);
            break;
        }
        at += 1;
    }
    give_up(&mut open, &mut found.unclosed, 0);
    found.unclosed.sort_unstable();
    found
}

/// Takes the brackets behind the last brace, but none before `from`, off the stack: they are not closed.
fn give_up(open: &mut Vec<(u8, usize)>, unclosed: &mut Vec<u32>, from: usize) {
    while open.len() > from
        && let Some((b'(' | b'[', at)) = open.last()
    {
        unclosed.push(u32::try_from(*at).unwrap_or(u32::MAX));
        open.pop();
    }
}

#[cfg(test)]
mod tests {
    use super::{DEEPEST, brackets};

    #[test]
    fn finds_brackets_that_are_not_closed() {
        assert_eq!(brackets("a [b (c] d").unclosed, [5]);
        assert_eq!(brackets("v { a [b\n c (d\n }\n e [f]").unclosed, [6, 12]);
        assert_eq!(brackets("a ) b ] { ( }").unclosed, [10]);
        assert_eq!(brackets("a ( { ) }").unclosed, [2]);
    }

    #[test]
    fn leaves_texts_and_comments_alone() {
        let text = "a \"((((\" 3\" (b) # [[[[\nc \"[[";
        assert!(brackets(text).unclosed.is_empty(), "{text}");
    }

    #[test]
    fn says_where_it_gets_too_deep() {
        for bracket in ["{", "(", "["] {
            assert_eq!(brackets(&bracket.repeat(DEEPEST)).too_deep, None);
            assert_eq!(brackets(&bracket.repeat(100_000)).too_deep, Some(DEEPEST));
        }
        assert_eq!(brackets(&"{".repeat(50).repeat(2)).too_deep, None);
        assert_eq!(brackets(&"a { b (c) }\n".repeat(1000)).too_deep, None);
    }
}
