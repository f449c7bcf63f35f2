//! Lines to edits of the white space between tokens.

use std::ops::Range;

use crate::finding::Edit;
use crate::source::Span;
use crate::syntax::Tree;

use super::INDENT;
use super::kept::Kept;
use super::lines::Line;
use super::tokens::TokenKind;

/// What should stand between two tokens.
#[derive(Debug, Clone, Copy)]
enum Wanted {
    Nothing,
    Blanks(usize),
    /// Line ends, and the blanks before what follows.
    Lines {
        ends: usize,
        indent: usize,
    },
}

/// The white space between two tokens of the text, or before the first or behind the last.
#[derive(Debug)]
struct Gap {
    range: Range<usize>,
    wanted: Wanted,
    /// Whether the line before it, and that behind it, keep their bytes.
    keeps: (bool, bool),
}

/// The edits that turn the text of `tree` into `lines`, which hold all its tokens in order.
pub(super) fn edits(tree: &Tree, lines: &[Line]) -> Vec<Edit> {
    let text = tree.source.text.as_str();
    let gaps = gaps(text, lines, &Kept::of(tree));
    let line_end = line_end(text, &gaps);
    gaps.iter().filter_map(|gap| gap.edit(tree, line_end)).collect()
}

/// All gaps that may be changed.
fn gaps(text: &str, lines: &[Line], kept: &Kept) -> Vec<Gap> {
    let mut gaps = Gaps { text, kept, end: if text.starts_with('\u{FEFF}') { 3 } else { 0 }, found: Vec::new() };
    let mut is_first = true;
    for line in lines {
        let tokens = line.tokens.iter().chain(&line.comment);
        let mut is_behind_comment = false;
        for (at, token) in tokens.enumerate() {
            let wanted = match at {
                0 if is_first => Wanted::Nothing,
                0 => Wanted::Lines { ends: 1 + usize::from(line.has_blank_before), indent: line.depth * INDENT },
                _ if token.before == 0 => Wanted::Nothing,
                _ => Wanted::Blanks(token.before),
            };
            // Within a bracket that cannot be wrapped, as something behind it cannot be read, a comment still ends its
            // line: what stands under it would become a part of it.
            if !is_behind_comment {
                gaps.take(token.range.start, wanted);
            }
            is_behind_comment = token.kind == TokenKind::Comment;
            gaps.end = token.range.end;
            is_first = false;
        }
    }
    gaps.take(text.len(), if is_first { Wanted::Nothing } else { Wanted::Lines { ends: 1, indent: 0 } });
    gaps.found
}

struct Gaps<'a> {
    text: &'a str,
    kept: &'a Kept,
    /// One past the last token.
    end: usize,
    found: Vec<Gap>,
}

impl Gaps<'_> {
    /// Notes the gap that ends at byte `end`, if it may be changed.
    fn take(&mut self, end: usize, wanted: Wanted) {
        let range = self.end..end;
        let Some(space) = self.text.get(range.clone()) else { return };
        // A brace without a head has no place in the tree; what stands round it is left alone.
        if !space.replace("\r\n", "\n").bytes().all(|byte| matches!(byte, b' ' | b'\t' | b'\n')) {
            return;
        }
        let (before, behind) = (self.kept.around(range.start), self.kept.around(range.end));
        let before = before.filter(|_| range.start > 0);
        let is_within = before.is_some() && before == behind;
        let is_end = end == self.text.len();
        let is_joined = !space.contains('\n') || !matches!(wanted, Wanted::Lines { .. });
        if is_within || (before.is_some() || behind.is_some() && !is_end) && is_joined {
            return;
        }
        self.found.push(Gap { range, wanted, keeps: (before.is_some(), behind.is_some() && !is_end) });
    }
}

/// The line end that most lines have, of those that do not keep theirs.
fn line_end(text: &str, gaps: &[Gap]) -> &'static str {
    let (mut all, mut with_return) = (0, 0);
    for gap in gaps {
        let space = text.get(gap.range.clone()).unwrap_or("");
        let own = if gap.keeps.0 { space.find('\n').and_then(|at| space.get(at + 1..)).unwrap_or("") } else { space };
        all += own.matches('\n').count();
        with_return += own.matches("\r\n").count();
    }
    if with_return * 2 > all { "\r\n" } else { "\n" }
}

impl Gap {
    fn edit(&self, tree: &Tree, line_end: &str) -> Option<Edit> {
        let old = tree.source.text.get(self.range.clone())?;
        let new = match self.wanted {
            Wanted::Nothing => String::new(),
            Wanted::Blanks(blanks) => " ".repeat(blanks),
            Wanted::Lines { ends, indent } => {
                // A kept line has its own line end too: a lone return before it would be taken for part of another.
                let first_end = old.find('\n').filter(|_| self.keeps.0).map(|at| at + 1);
                let kept_before = first_end.and_then(|end| old.get(..end)).unwrap_or("");
                let kept_behind = old.rfind('\n').and_then(|at| old.get(at + 1..)).filter(|_| self.keeps.1);
                let ends = ends - usize::from(first_end.is_some());
                let indent = " ".repeat(indent);
                [kept_before, &line_end.repeat(ends), kept_behind.unwrap_or(&indent)].concat()
            }
        };
        if old == new {
            return None;
        }
        let (mut start, mut end) = (self.range.start, self.range.end);
        let mut text = new.as_str();
        let same = old.bytes().zip(new.bytes()).take_while(|(old, new)| old == new).count();
        start += same;
        text = text.get(same..)?;
        let rest = old.get(same..)?;
        let same = rest.bytes().rev().zip(text.bytes().rev()).take_while(|(old, new)| old == new).count();
        end -= same;
        text = text.get(..text.len() - same)?;
        let place = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
        Some(Edit { span: Span::new(tree.source.id, place(start), place(end)), text: text.to_owned() })
    }
}
