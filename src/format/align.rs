//! Columns: what like lines beside each other say of the same kind stands under each other, and so do the
//! comments behind them. A run that would become too wide is left without.

use super::lines::Line;
use super::tokens::Token;
use super::words::Kin;
use super::wrap::width;
use super::{INDENT, WIDTH};

/// Sets the columns of all runs of lines.
pub(super) fn align(lines: &mut [Line]) {
    for run in runs(lines) {
        align_cells(run);
        align_comments(run);
    }
}

/// Lines of one depth with nothing between them that parts them: no empty line, no comment of its own.
fn runs(lines: &mut [Line]) -> impl Iterator<Item = &mut [Line]> {
    lines.chunk_by_mut(|line, next| {
        line.depth == next.depth && !next.has_blank_before && can_align(line) && can_align(next)
    })
}

fn can_align(line: &Line) -> bool {
    !line.is_kept && !line.tokens.is_empty()
}

/// Aligns within a run what is of one kin.
fn align_cells(run: &mut [Line]) {
    let mut like: Vec<&mut Line> = Vec::new();
    for line in run.iter_mut().filter(|line| line.kin != Kin::Aside) {
        if like.last().is_some_and(|last| last.kin != line.kin || line.kin == Kin::Alone) {
            align_like(&mut like);
            like.clear();
        }
        like.push(line);
    }
    align_like(&mut like);
}

/// A line of which columns up to some token are aligned.
struct Aligning<'l> {
    line: &'l mut Line,
    /// The blanks before each token as they were.
    before: Vec<usize>,
    /// The next token that has no place yet, and the column at which it would stand without blanks before it.
    at: usize,
    end: usize,
}

impl Aligning<'_> {
    /// Moves on to the next token that begins a column; false when there is none.
    fn find_cell(&mut self) -> bool {
        while let Some(token) = self.line.tokens.get(self.at) {
            if token.begins_cell {
                return true;
            }
            self.end += token.width + if self.at == 0 { 0 } else { token.before };
            self.at += 1;
        }
        false
    }

    /// Lets the token at hand stand at column `start`.
    fn place(&mut self, start: usize) {
        if let Some(token) = self.line.tokens.get_mut(self.at) {
            token.before = start - self.end;
            self.end = start + token.width;
            self.at += 1;
        }
    }
}

/// Aligns all columns of like lines, from the left.
fn align_like(lines: &mut [&mut Line]) {
    if lines.len() < 2 {
        return;
    }
    let mut lines: Vec<Aligning<'_>> = lines
        .iter_mut()
        .map(|line| {
            let before = line.tokens.iter().map(|token| token.before).collect();
            Aligning { line, before, at: 0, end: 0 }
        })
        .collect();
    let mut open: Vec<&mut Aligning<'_>> = lines.iter_mut().collect();
    loop {
        open.retain_mut(|line| line.find_cell());
        let place = |line: &&mut Aligning<'_>| line.end + line.before.get(line.at).copied().unwrap_or(0);
        let Some(start) = open.iter().map(place).max() else { break };
        for line in &mut open {
            line.place(start);
        }
    }
    let is_wider = |line: &Aligning<'_>| {
        let now = line.line.tokens.iter().map(|token| token.before);
        now.ne(line.before.iter().copied()) && length(line.line) > WIDTH
    };
    if lines.iter().any(is_wider) {
        for line in &mut lines {
            line.line.tokens.iter_mut().zip(&line.before).for_each(|(token, before)| token.before = *before);
        }
    }
}

/// Aligns the comments behind lines, as far right as the longest of those lines needs.
fn align_comments(run: &mut [Line]) {
    let mut lines: Vec<&mut Line> = run.iter_mut().filter(|line| line.comment.is_some()).collect();
    let end_of = |comment: &Option<Token>| comment.as_ref().map_or(0, |comment| comment.width);
    let column = lines.iter().map(|line| length(line)).max().unwrap_or(0) + 2;
    let is_wider = |line: &&mut Line| {
        let own = length(line) + 2;
        own < column && column + end_of(&line.comment) > WIDTH && own + end_of(&line.comment) <= WIDTH
    };
    if lines.iter().any(is_wider) {
        return;
    }
    for line in &mut lines {
        let before = column - length(line);
        if let Some(comment) = &mut line.comment {
            comment.before = before;
        }
    }
}

/// Columns of a line without its comment.
fn length(line: &Line) -> usize {
    line.depth * INDENT + width(&line.tokens)
}
