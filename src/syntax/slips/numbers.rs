//! Slips in numbers and units: `1,5`, `12x`, `20degc`, `2'6"`.

use crate::finding::{Finding, nearest};
use crate::quantity::UNITS;
use crate::syntax::findings;
use crate::syntax::scan::ends_with_number;

use super::line::{Line, is_of_word};

/// `1,5`
pub(super) fn decimal_comma(line: &Line<'_>) -> Option<Finding> {
    let behind = line.rest().strip_prefix(',')?;
    let is_digit = |character: char| character.is_ascii_digit();
    let digits_behind = behind.find(|character| !is_digit(character)).unwrap_or(behind.len());
    let before = &line.text[line.stretch.start..line.at];
    let digits_before = before.len() - before.trim_end_matches(is_digit).len();
    if digits_behind == 0 || digits_before == 0 || line.bare_call().is_some() {
        return None;
    }
    let (start, end) = (line.at - digits_before, line.at + 1 + digits_behind);
    Some(findings::decimal_comma(&line.text[start..end], line.span(start, end), line.here(1)))
}

/// `12x`, `3mmm`, `20 degc`, `2'6"`, `3in-1/8in`
pub(super) fn number(line: &Line<'_>) -> Option<Finding> {
    let start = line.run_start();
    if start == line.at {
        // The number is well formed, but nothing wants one here.
        return None;
    }
    let line = &line.stuck_at(start);
    let rest = line.rest();
    let length = number_length(rest);
    let (number, behind) = rest.split_at(length);
    if !ends_with_number(number.trim_end_matches('.').as_bytes()) {
        return None;
    }
    // A unit of letters may be followed by another sign; one of signs by letters: `°c`, `%x`.
    let signs = behind.find(|character: char| !"°%\"'″′µ".contains(character)).unwrap_or(behind.len());
    let letters = behind[signs..].find(|character: char| !is_of_word(character)).unwrap_or(behind.len() - signs);
    let unit = &behind[..signs + letters];
    let all = &rest[..length + unit.len()];
    let place = line.here(all.len());
    if unit.is_empty() {
        return Some(findings::not_a_number(number, line.here(length)));
    }
    let first = unit.split(|character: char| character.is_ascii_digit() || character == '-').next().unwrap_or("");
    let is_unit = |spelling: &str| UNITS.iter().any(|unit| unit.spellings.contains(&spelling));
    if first.len() < unit.len() && is_unit(first) {
        let piece = line.run();
        let is_subtraction = unit[first.len()..].starts_with('-');
        let constructor = if is_subtraction { findings::tight_subtraction } else { findings::glued_numbers };
        return Some(constructor(piece, line.here(piece.len())));
    }
    let near = near_units(unit);
    let unit_place = line.span(line.at + length, line.at + all.len());
    Some(findings::unknown_unit(all, unit, &near, place, unit_place))
}

/// How long the number at the start of `text` is, as a reader takes it.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let part = |from: usize| {
        let is_part =
            |character: char| character.is_ascii_digit() || matches!(character, '.' | '/' | '¼'..='¾' | '⅐'..='⅞');
        let rest = &text[from..];
        let end = rest.find(|character| !is_part(character)).unwrap_or(rest.len());
        from + rest[..end].find("..").unwrap_or(end)
    };
    let end = part(usize::from(text.starts_with('-')));
    // `1 1/2` and `1-1/2` go on; `1 - 1/2` does not.
    let joint = text[end..].find(|character| character != ' ' && character != '\t').unwrap_or(0);
    let joint = if bytes.get(end) == Some(&b'-') { 1 } else { joint };
    let next = part((end + joint).min(text.len()));
    let fraction = &text[(end + joint).min(next)..next];
    let is_fraction = fraction.contains('/') || !fraction.is_ascii();
    if joint > 0 && end > 0 && is_fraction && ends_with_number(fraction.as_bytes()) { next } else { end }
}

/// The units that `unit` may have been meant for.
fn near_units(unit: &str) -> Vec<&'static str> {
    const OTHER_NAMES: [(&str, &[&str]); 12] = [
        ("mm", &["millimeter", "millimeters", "millimetre", "millimetres"]),
        ("cm", &["centimeter", "centimeters", "centimetre", "centimetres"]),
        ("m", &["meter", "meters", "metre", "metres"]),
        ("in", &["ins", "zoll"]),
        ("deg", &["degs", "degree", "degrees"]),
        ("s", &["sec", "secs", "second", "seconds"]),
        ("min", &["mins", "minute", "minutes"]),
        ("h", &["hr", "hrs", "hour", "hours"]),
        ("d", &["day", "days"]),
        ("g", &["gr", "gram", "grams"]),
        ("lb", &["lbs", "pound", "pounds"]),
        ("l", &["liter", "liters", "litre", "litres"]),
    ];
    let lower = unit.to_lowercase();
    if let Some((known, _)) = OTHER_NAMES.iter().find(|(_, others)| others.contains(&lower.as_str())) {
        return vec![*known];
    }
    let spellings = || UNITS.iter().flat_map(|unit| unit.spellings).copied();
    let same = |spelling: &&str| spelling.to_lowercase() == lower;
    if let Some(known) = spellings().find(same) {
        return vec![known];
    }
    nearest(&lower, spellings().filter(|spelling| spelling.len() > 1))
}
