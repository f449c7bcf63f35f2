//! Lines that are too long are broken within brackets: one pair on lines of its own, and between them as much on
//! each line as it holds.

use super::lines::{Line, plain};
use super::tokens::{Breaks, Token, TokenKind};
use super::words::Kin;
use super::{INDENT, WIDTH};

/// Columns that brackets hold at least before they are broken over lines.
const WORTH_BREAKING: usize = WIDTH / 4;

/// Appends the lines that `tokens` need at `depth`; `kin` is the line's when it stays one.
pub(super) fn wrap(tokens: Vec<Token>, depth: usize, kin: Kin, lines: &mut Vec<Line>) {
    let broken = to_break(&tokens, depth);
    if broken.is_empty() {
        lines.push(plain(tokens, depth, kin));
        return;
    }
    let mut current = Vec::new();
    let mut at = 0;
    for (open, close) in broken {
        current.extend_from_slice(tokens.get(at..=open).unwrap_or(&[]));
        lines.push(plain(std::mem::take(&mut current), depth, Kin::Alone));
        fill(tokens.get(open + 1..close).unwrap_or(&[]), depth + 1, lines);
        at = close;
    }
    current.extend_from_slice(tokens.get(at..).unwrap_or(&[]));
    lines.push(plain(current, depth, Kin::Alone));
}

/// Columns that tokens take on one line.
pub(super) fn width(tokens: &[Token]) -> usize {
    tokens.iter().enumerate().map(|(at, token)| token.width + if at == 0 { 0 } else { token.before }).sum()
}

/// Whether something among the tokens has to begin or to end a line.
pub(super) fn has_forced_break(tokens: &[Token]) -> bool {
    tokens.iter().any(|token| token.breaks == Breaks::Must || token.kind == TokenKind::Comment)
}

/// The outermost pairs of brackets that have to be on lines of their own: those that hold a forced break, or the
/// widest when the whole is too wide.
fn to_break(tokens: &[Token], depth: usize) -> Vec<(usize, usize)> {
    let pairs = outermost(tokens);
    let inside = |(open, close): (usize, usize)| tokens.get(open + 1..close).unwrap_or(&[]);
    let forced: Vec<_> = pairs.iter().copied().filter(|pair| has_forced_break(inside(*pair))).collect();
    if !forced.is_empty() || depth * INDENT + width(tokens) <= WIDTH {
        return forced;
    }
    // One thing alone is no shorter on a line of its own, and where little stands in brackets it is not they that are long.
    let can_break = |pair: &(usize, usize)| {
        let inside = inside(*pair);
        width(inside) > WORTH_BREAKING && inside.iter().skip(1).any(|token| token.breaks == Breaks::May)
    };
    pairs.into_iter().filter(can_break).max_by_key(|pair| width(inside(*pair))).into_iter().collect()
}

fn outermost(tokens: &[Token]) -> Vec<(usize, usize)> {
    let (mut pairs, mut first, mut open) = (Vec::new(), 0, 0_usize);
    for (at, token) in tokens.iter().enumerate() {
        match token.kind {
            TokenKind::Open => {
                if open == 0 {
                    first = at;
                }
                open += 1;
            }
            TokenKind::Close => {
                open = open.saturating_sub(1);
                if open == 0 {
                    pairs.push((first, at));
                }
            }
            TokenKind::Plain | TokenKind::Comment => {}
        }
    }
    pairs
}

/// Appends what stands between brackets, as much on each line as it holds.
fn fill(tokens: &[Token], depth: usize, lines: &mut Vec<Line>) {
    let mut current: Vec<Token> = Vec::new();
    let settle = |current: &mut Vec<Token>, lines: &mut Vec<Line>| {
        if !current.is_empty() {
            wrap(std::mem::take(current), depth, Kin::Alone, lines);
        }
    };
    for piece in pieces(tokens) {
        let Some(first) = piece.first() else { continue };
        if first.kind == TokenKind::Comment {
            settle(&mut current, lines);
            match lines.last_mut() {
                Some(line) if first.breaks != Breaks::Must && line.comment.is_none() => {
                    line.comment = Some(first.clone());
                }
                _ => lines.push(Line { comment: Some(first.clone()), ..plain(Vec::new(), depth, Kin::Alone) }),
            }
            continue;
        }
        let is_broken = |tokens: &[Token]| tokens.split_first().is_some_and(|(_, rest)| has_forced_break(rest));
        let is_apart = first.breaks == Breaks::Must || is_broken(piece) || is_broken(&current);
        if is_apart || depth * INDENT + width(&current) + first.before + width(piece) > WIDTH {
            settle(&mut current, lines);
        }
        current.extend_from_slice(piece);
    }
    settle(&mut current, lines);
}

/// Stretches within which no line ends, unless they are too long themselves; comments each for itself.
fn pieces(tokens: &[Token]) -> Vec<&[Token]> {
    let (mut pieces, mut start, mut open) = (Vec::new(), 0, 0_usize);
    for (at, token) in tokens.iter().enumerate() {
        let begins = open == 0
            && token.kind != TokenKind::Close
            && (token.breaks != Breaks::Never || token.kind == TokenKind::Comment);
        if begins && at > start {
            pieces.push(tokens.get(start..at).unwrap_or(&[]));
            start = at;
        }
        match token.kind {
            TokenKind::Open => open += 1,
            TokenKind::Close => open = open.saturating_sub(1),
            TokenKind::Plain | TokenKind::Comment => {}
        }
    }
    pieces.push(tokens.get(start..).unwrap_or(&[]));
    pieces
}
