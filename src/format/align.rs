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

/// Aligns all columns of like lines, from the left.
fn align_like(lines: &mut [&mut Line]) {
    let before: Vec<Vec<usize>> =
        lines.iter().map(|line| line.tokens.iter().map(|token| token.before).collect()).collect();
    let cells = |line: &Line| -> Vec<usize> {
        (0..line.tokens.len()).filter(|at| line.tokens.get(*at).is_some_and(|token| token.begins_cell)).collect()
    };
    let columns = lines.iter().map(|line| cells(line).len()).max().unwrap_or(0);
    for column in 0..columns {
        let ends: Vec<Option<(usize, usize)>> = lines
            .iter()
            .map(|line| {
                let at = *cells(line).get(column)?;
                Some((at, width(line.tokens.get(..at)?)))
            })
            .collect();
        let start = lines
            .iter()
            .zip(&ends)
            .filter_map(|(line, end)| end.and_then(|(at, end)| Some(end + line.tokens.get(at)?.before)))
            .max()
            .unwrap_or(0);
        for (line, end) in lines.iter_mut().zip(ends) {
            if let Some((at, end)) = end
                && let Some(token) = line.tokens.get_mut(at)
            {
                token.before = start - end;
            }
        }
    }
    let is_wider = |line: &Line, before: &[usize]| {
        let plain: usize = before.iter().skip(1).sum();
        let now: usize = line.tokens.iter().skip(1).map(|token| token.before).sum();
        now > plain && length(line) > WIDTH
    };
    if lines.iter().zip(&before).any(|(line, before)| is_wider(line, before)) {
        for (line, before) in lines.iter_mut().zip(before) {
            line.tokens.iter_mut().zip(before).for_each(|(token, before)| token.before = before);
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
