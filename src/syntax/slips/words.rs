//! Slips in words: `Maple`, `hard_maple`, `maple-`.

use crate::finding::Finding;
use crate::syntax::findings;

use super::line::{Line, is_of_word};

/// `Maple`, `hard_maple`, `maple-`, `érable`, `use"file"`
pub(super) fn word_form(line: &Line<'_>) -> Option<Finding> {
    let line = &line.stuck_at(line.run_start());
    let rest = line.rest();
    let length = rest.find(|character| !is_of_word(character)).unwrap_or(rest.len());
    let word = &rest[..length];
    let place = line.here(length);
    let runs_into_number = rest[length..].starts_with(|next: char| matches!(next, '.' | '¼'..='¾' | '⅐'..='⅞'));
    if !word.chars().any(char::is_alphabetic) || runs_into_number {
        return None;
    }
    let better = kebab(word);
    if better == word {
        let quote = line.span(line.at + length, line.at + length);
        return rest[length..].starts_with('"').then(|| findings::glued_text(word, place, quote));
    }
    Some(findings::word_form(word, &better, place))
}

/// `hard-maple` for `HardMaple`, `HARD_MAPLE` and `hard--maple-`; empty when there are other letters.
fn kebab(word: &str) -> String {
    if !word.is_ascii() {
        return String::new();
    }
    let mut better = String::with_capacity(word.len());
    let mut before = '-';
    for character in word.chars() {
        let is_joint = matches!(character, '-' | '_');
        let is_hump = character.is_ascii_uppercase() && (before.is_ascii_lowercase() || before.is_ascii_digit());
        if (is_joint || is_hump) && !better.is_empty() && !better.ends_with('-') {
            better.push('-');
        }
        if !is_joint {
            better.push(character.to_ascii_lowercase());
        }
        before = character;
    }
    better.trim_end_matches('-').trim_start_matches(|character: char| !character.is_ascii_lowercase()).to_owned()
}
