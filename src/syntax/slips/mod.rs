//! Why a stretch of text is not in the language: first the slips that people make, each with its own
//! sentence, then what the grammar itself knows.
//!
//! The grammar's strict rule is run once more on the stretch alone; how far it got is where most
//! slips are looked for.

mod characters;
mod line;
mod numbers;
mod words;

use crate::finding::{Edit, Finding};
use crate::source::Span;

use super::Tree;
use super::findings;
use super::grammar::Rule;
use super::rule_names::phrase;

use characters::{escape, foreign_comment, foreign_quote, hidden, look_alike, unclosed_text};
use line::{Line, is_of_word};
use numbers::{decimal_comma, number};
use words::word_form;

pub(super) use line::Stretch;

/// The one finding of a stretch.
pub(super) fn diagnose(stretch: &Stretch<'_>) -> Finding {
    let line = Line::read(*stretch);
    [
        hidden,
        look_alike,
        unclosed_text,
        escape,
        foreign_comment,
        decimal_comma,
        comma,
        semicolon,
        naming,
        comparison,
        equals,
        colon,
        foreign_quote,
        number,
        word_form,
        bracket,
        arithmetic,
    ]
    .iter()
    .find_map(|slip| slip(&line))
    .unwrap_or_else(|| unexpected(&line))
}

/// A comma between arguments or elements.
fn comma(line: &Line<'_>) -> Option<Finding> {
    if line.next() != Some(',') {
        return None;
    }
    if let Some(name) = line.bare_call() {
        let start = line.open.first().map_or(line.at, |(at, _)| *at) - name.len();
        return Some(findings::bare_call(name, line.span(start, start + name.len())));
    }
    if !line.in_list() && !line.open.is_empty() {
        return None;
    }
    let bytes = line.text.as_bytes();
    let is_blank = |at: usize| matches!(bytes.get(at), Some(b' ' | b'\t' | b'\n' | b'\r') | None);
    let is_decimal = |at: usize| bytes[at - 1].is_ascii_digit() && bytes.get(at + 1).is_some_and(u8::is_ascii_digit);
    let commas = line.outside_texts().filter(|(at, character)| *character == ',' && *at >= line.at);
    let commas = commas.filter(|(at, _)| *at == line.at || !is_decimal(*at));
    let edits = commas.map(|(at, _)| line.edit(at, at + 1, if is_blank(at + 1) { "" } else { " " })).collect();
    Some(findings::comma(line.in_list(), line.here(1), edits))
}

/// `;` at the end of a statement or between two.
fn semicolon(line: &Line<'_>) -> Option<Finding> {
    if line.next() != Some(';') {
        return None;
    }
    // The margin of the line, when the stretch is the first on it.
    let before = &line.text[..line.stretch.start];
    let up_to_blanks = before.trim_end_matches([' ', '\t']);
    let is_first = up_to_blanks.is_empty() || up_to_blanks.ends_with('\n');
    let margin = if is_first { &before[up_to_blanks.len()..] } else { "" };
    let edits = line.outside_texts().filter(|(_, character)| *character == ';').map(|(at, _)| {
        let behind = &line.text[at + 1..line.stretch.end];
        let blanks = behind.len() - behind.trim_start_matches([' ', '\t']).len();
        let is_last = behind[blanks..].is_empty() || behind[blanks..].starts_with(';');
        let end = if is_last { at + 1 } else { at + 1 + blanks };
        line.edit(at, end, &if is_last { String::new() } else { format!("\n{margin}") })
    });
    Some(findings::semicolon(line.here(1), edits.collect()))
}

/// `let rim 3/4`, `let rim: 3/4`, `let rim`
fn naming(line: &Line<'_>) -> Option<Finding> {
    let behind = line.before().strip_prefix("let").filter(|behind| behind.starts_with([' ', '\t']))?.trim();
    let (name, has_sign) = match behind.strip_suffix('=') {
        Some(name) => (name.trim_end(), true),
        None => (behind, false),
    };
    if name.is_empty() || !name.chars().all(is_of_word) {
        return None;
    }
    match line.next() {
        None => Some(findings::let_without_value(name, line.span(line.stretch.start, line.stretch.end))),
        Some(_) if has_sign => None,
        Some(':') => {
            let length = if line.rest().starts_with(":=") { 2 } else { 1 };
            Some(findings::let_without_equals(name, line.here(length), line.here(length), line.sign_with_blank("=")))
        }
        Some('=') if line.rest().starts_with("==") => {
            Some(findings::let_without_equals(name, line.here(2), line.here(2), "="))
        }
        Some(_) if line.expected.contains(&Rule::assign) => {
            let piece = line.here(line.piece().len());
            Some(findings::let_without_equals(name, piece, line.here(0), "= "))
        }
        Some(_) => None,
    }
}

/// `=>` and `=<`
fn comparison(line: &Line<'_>) -> Option<Finding> {
    let pairs = [("=>", ">="), ("=<", "<="), ("≥", ">="), ("≤", "<=")];
    let (found, better) = pairs.into_iter().find(|(found, _)| line.rest().starts_with(found))?;
    Some(findings::swapped_comparison(found, better, line.here(found.len())))
}

/// `thick = 3/4`
fn equals(line: &Line<'_>) -> Option<Finding> {
    let behind = line.rest().strip_prefix('=')?;
    let word = line.word_before();
    let is_word = word.starts_with(|first: char| first.is_ascii_lowercase()) && word != "let";
    if !is_word || behind.starts_with('=') || !line.open.is_empty() {
        return None;
    }
    let is_head = word.len() == line.before().len();
    if is_head && line.stretch.depth == 0 {
        let head = line.span(line.stretch.start, line.stretch.start + word.len());
        return Some(findings::equals_without_let(word, line.here(1), head));
    }
    Some(findings::equals_in_clause(word, line.here(1), line.removal(1)))
}

/// `thick = half`, which reads like the key of a chart and stands where none can; `equals` is the sign with
/// the word behind it, and `names_value` says that the line may have been meant for a `let`.
#[must_use]
pub fn stray_equals(tree: &Tree, word: Span, equals: Span, names_value: bool) -> Finding {
    let name = tree.text(word);
    let sign = Span { end: equals.start + 1, ..equals };
    if names_value {
        return findings::equals_without_let(name, sign, word);
    }
    let behind = tree.text(Span { start: sign.end, ..equals });
    let blanks = u32::try_from(behind.len() - behind.trim_start_matches([' ', '\t']).len()).unwrap_or(0);
    let has_blank = word.end < equals.start;
    let removed = if has_blank { Span { end: sign.end + blanks, ..sign } } else { sign };
    let text = if has_blank || blanks > 0 { "" } else { " " };
    findings::equals_in_clause(name, sign, Edit { span: removed, text: text.to_owned() })
}

/// `at rim/base`, which reads like the code of a finding and stands where none can.
#[must_use]
pub fn stray_division(tree: &Tree, code: Span) -> Finding {
    let before = tree.text(code).find('/').and_then(|at| u32::try_from(at).ok()).unwrap_or(0);
    let start = code.start + before;
    findings::bare_arithmetic('/', Span { start, end: start + 1, ..code })
}

/// `thick: 3/4`
fn colon(line: &Line<'_>) -> Option<Finding> {
    let word = line.word_before();
    (line.next() == Some(':') && !word.is_empty()).then(|| findings::colon(word, line.here(1), line.removal(1)))
}

/// Brackets that do not pair.
fn bracket(line: &Line<'_>) -> Option<Finding> {
    let next = line.next();
    if next.is_none() || matches!(next, Some(')' | ']')) {
        let unclosed = line.unclosed_brackets().iter().rev().map(|at| *at as usize).find(|at| *at < line.at);
        if let Some((at, bracket)) = unclosed.and_then(|at| Some((at, line.text[at..].chars().next()?))) {
            let all = line.open.iter().rev().map(|(_, bracket)| findings::closer_of(*bracket)).collect();
            let closers = if next.is_none() { all } else { findings::closer_of(bracket).to_string() };
            return Some(findings::unclosed_bracket(bracket, line.span(at, at + 1), line.here(0), closers));
        }
    }
    match next {
        Some(bracket @ (')' | ']')) if line.open.is_empty() => Some(findings::stray_bracket(bracket, line.here(1))),
        Some('*') if line.expected.contains(&Rule::times) => Some(findings::times_without_count(line.here(1))),
        Some('[') if line.in_list() => Some(findings::list_in_list(line.here(1))),
        Some(_) | None => None,
    }
}

/// `at rim + 1`
fn arithmetic(line: &Line<'_>) -> Option<Finding> {
    let sign = line.next().filter(|character| matches!(character, '+' | '-' | '*' | '/'))?;
    let is_argument = line.open.is_empty() && line.expected.contains(&Rule::comparator) && !line.before().is_empty();
    is_argument.then(|| findings::bare_arithmetic(sign, line.here(1)))
}

/// What no slip explains.
fn unexpected(line: &Line<'_>) -> Finding {
    let piece = line.piece();
    let place = line.here(piece.len());
    if line.at == line.stretch.start {
        return findings::no_head(piece, place);
    }
    if line.open.is_empty() && line.expected.contains(&Rule::comparator) && !piece.is_empty() {
        return findings::unexpected_argument(piece, place);
    }
    // A closer may stand behind any element of a list, but only behind an operand of an expression.
    let may_close = line.in_list() || line.expected.contains(&Rule::operator);
    let closer = line.open.last().filter(|_| may_close).map(|(_, bracket)| findings::closer_of(*bracket));
    findings::unexpected(piece, &phrase(&line.expected, closer), place)
}
