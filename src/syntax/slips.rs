//! Why a stretch of text is not in the language: first the slips that people make, each with its own
//! sentence, then what the grammar itself knows.
//!
//! The grammar's strict rule is run once more on the stretch alone; how far it got is where most
//! slips are looked for.

use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};

use crate::finding::{Edit, Finding, nearest};
use crate::quantity::UNITS;
use crate::source::{SourceFile, Span};

use super::convert::span_of;
use super::depth::Brackets;
use super::findings;
use super::grammar::{Grammar, Rule};
use super::look_alike::{is_curly_quote, is_forbidden_in_text, is_hidden, stand_in};
use super::rule_names::phrase;
use super::scan::{Quoted, ends_with_number, line_end, quoted};

/// A stretch that the grammar refused.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretch<'a> {
    /// The file that is read.
    pub source: &'a SourceFile,
    /// Its brackets.
    pub brackets: &'a Brackets,
    /// First byte of the stretch.
    pub start: usize,
    /// One past its last byte.
    pub end: usize,
    /// How many blocks stand open around it.
    pub depth: usize,
}

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

/// A stretch with what the strict rule says of it. Offsets count from the start of the file.
struct Line<'a> {
    stretch: Stretch<'a>,
    text: &'a str,
    /// Where the strict rule got stuck.
    at: usize,
    /// What it would have taken there.
    expected: Vec<Rule>,
    /// Brackets open at that place with their own places, the innermost last.
    open: Vec<(usize, char)>,
}

impl<'a> Line<'a> {
    fn read(stretch: Stretch<'a>) -> Self {
        let text = stretch.source.text.as_str();
        let (at, expected) = match Grammar::parse(Rule::whole_line, &text[stretch.start..stretch.end]) {
            Ok(_) => (stretch.end, Vec::new()),
            Err(error) => {
                let (InputLocation::Pos(at) | InputLocation::Span((at, _))) = error.location;
                let expected = match error.variant {
                    ErrorVariant::ParsingError { positives, .. } => positives,
                    ErrorVariant::CustomError { .. } => Vec::new(),
                };
                (stretch.start + at, expected)
            }
        };
        let mut line = Self { stretch, text, at, expected, open: Vec::new() };
        let mut open = Vec::new();
        for (place, character) in line.outside_texts().take_while(|(place, _)| *place < at) {
            match character {
                '(' | '[' => open.push((place, character)),
                ')' | ']' => {
                    open.pop();
                }
                _ => {}
            }
        }
        line.open = open;
        line
    }

    /// From where the strict rule got stuck.
    fn rest(&self) -> &'a str {
        &self.text[self.at..self.stretch.end]
    }

    fn next(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// What stands before that place, without blanks at its end.
    fn before(&self) -> &'a str {
        self.text[self.stretch.start..self.at].trim_end_matches([' ', '\t'])
    }

    /// The last word before that place.
    fn word_before(&self) -> &'a str {
        let before = self.before();
        let start = before
            .rfind(|character| !is_of_word(character))
            .map_or(0, |at| at + before[at..].chars().next().map_or(1, char::len_utf8));
        &before[start..]
    }

    /// The piece at that place, as far as a reader takes it for one.
    fn piece(&self) -> &'a str {
        let rest = self.rest();
        let ends = |character: char| character.is_whitespace() || "{}[]()\",;:=#".contains(character);
        let first = rest.chars().next().map_or(0, char::len_utf8);
        let length = rest[first..].find(ends).map_or(rest.len(), |length| first + length);
        if rest.starts_with(ends) { &rest[..first] } else { &rest[..length] }
    }

    /// The piece at that place, up to a blank, a bracket or a brace.
    fn run(&self) -> &'a str {
        let rest = self.rest();
        let ends = |character: char| character.is_whitespace() || "{}[]()".contains(character);
        &rest[..rest.find(ends).unwrap_or(rest.len())]
    }

    fn span(&self, start: usize, end: usize) -> Span {
        span_of(self.stretch.source.id, start, end)
    }

    fn here(&self, length: usize) -> Span {
        self.span(self.at, self.at + length)
    }

    fn edit(&self, start: usize, end: usize, text: &str) -> Edit {
        Edit { span: self.span(start, end), text: text.to_owned() }
    }

    /// The characters of the stretch that are in no text and no comment; an unclosed text and a
    /// comment of another language end them.
    fn outside_texts(&self) -> OutsideTexts<'a> {
        OutsideTexts { text: self.text, at: self.stretch.start, end: self.stretch.end }
    }

    fn unclosed_brackets(&self) -> &'a [u32] {
        let all = &self.stretch.brackets.unclosed;
        let from = all.partition_point(|at| (*at as usize) < self.stretch.start);
        let to = all.partition_point(|at| (*at as usize) < self.stretch.end);
        &all[from..to]
    }

    /// The function's name when that place is within a call that stands outside of parentheses.
    fn bare_call(&self) -> Option<&'a str> {
        let (at, _) = self.open.first().filter(|(_, bracket)| *bracket == '(')?;
        let before = &self.text[self.stretch.start..*at];
        let name = &before[before.rfind(|character| !is_of_word(character)).map_or(0, |at| at + 1)..];
        (!name.is_empty()
            && name.len() < before.len()
            && name.starts_with(|first: char| first.is_ascii_lowercase())
            && !self.expected.contains(&Rule::comparator))
        .then_some(name)
    }

    /// `sign` with a blank before it, when there is none yet.
    fn sign_with_blank(&self, sign: &str) -> String {
        let has_blank = self.text[self.stretch.start..self.at].ends_with([' ', '\t']);
        if has_blank { sign.to_owned() } else { format!(" {sign}") }
    }

    /// The sign of `length` bytes at that place with what it takes to remove it: its place, with the
    /// blanks behind it when there are some before it, and the blank that may have to take its place.
    fn removal(&self, length: usize) -> Edit {
        let behind = &self.rest()[length..];
        let blanks = behind.len() - behind.trim_start_matches([' ', '\t']).len();
        let has_blank = self.text[self.stretch.start..self.at].ends_with([' ', '\t']);
        match (has_blank, blanks) {
            (true, blanks) => self.edit(self.at, self.at + length + blanks, ""),
            (false, 0) => self.edit(self.at, self.at + length, " "),
            (false, _) => self.edit(self.at, self.at + length, ""),
        }
    }

    /// The place, moved back to the start of the word or number that it stands in the middle of.
    fn run_start(&self) -> usize {
        let is_joined = |character: char| is_of_word(character) || ".°%\"'″′½".contains(character);
        if !self.next().is_some_and(is_joined) {
            return self.at;
        }
        let before = &self.text[self.stretch.start..self.at];
        let is_of_run = |character: char| is_joined(character) || matches!(character, '/' | '¼'..='¾' | '⅐'..='⅞');
        let length =
            before.chars().rev().take_while(|character| is_of_run(*character)).map(char::len_utf8).sum::<usize>();
        let run = &before[before.len() - length..];
        self.at - run.rfind("..").map_or(length, |dots| length - dots - 2)
    }

    /// The same stretch, stuck at another place.
    fn stuck_at(&self, at: usize) -> Self {
        Self { at, expected: self.expected.clone(), open: self.open.clone(), ..*self }
    }

    fn in_list(&self) -> bool {
        self.open.iter().any(|(_, bracket)| *bracket == '[')
    }
}

struct OutsideTexts<'a> {
    text: &'a str,
    at: usize,
    end: usize,
}

impl Iterator for OutsideTexts<'_> {
    type Item = (usize, char);

    fn next(&mut self) -> Option<(usize, char)> {
        loop {
            let rest = self.text.get(self.at..self.end)?;
            let character = rest.chars().next()?;
            let at = self.at;
            if rest.starts_with("//") {
                self.at = self.end;
                return None;
            }
            if character == '#' {
                self.at = line_end(self.text, at).min(self.end);
                continue;
            }
            self.at += character.len_utf8();
            if character == '"' {
                match quoted(self.text, at) {
                    Quoted::InchMark => {}
                    Quoted::Closed(end) => {
                        self.at = end;
                        continue;
                    }
                    Quoted::Unclosed(_) => {
                        self.at = self.end;
                        return None;
                    }
                }
            }
            return Some((at, character));
        }
    }
}

fn is_of_word(character: char) -> bool {
    character.is_alphabetic() || character.is_ascii_digit() || matches!(character, '-' | '_')
}

/// Control characters, and others that cannot be seen.
fn hidden(line: &Line<'_>) -> Option<Finding> {
    let stretch = &line.text[line.stretch.start..line.stretch.end];
    let outside = line.outside_texts().find(|(_, character)| is_hidden(*character));
    let anywhere = || {
        let inside = stretch.char_indices().find(|(_, found)| *found != '\n' && is_forbidden_in_text(*found));
        inside.map(|(at, found)| (line.stretch.start + at, found))
    };
    let (at, first) = outside.or_else(anywhere).filter(|(at, first)| {
        // The `\r` of a line end within brackets is nothing hidden.
        *first != '\r' || line.text.as_bytes().get(at + 1) != Some(&b'\n')
    })?;
    let run = line.text[at..line.stretch.end].chars().take_while(|character| is_hidden(*character));
    let (count, length) = run.fold((0, 0), |(count, length), character| (count + 1, length + character.len_utf8()));
    let instead = match first {
        '\r' | '\u{85}' | '\u{2028}' | '\u{2029}' if outside.is_some() => "\n",
        '\u{B}' | '\u{C}' if outside.is_some() => " ",
        _ => "",
    };
    Some(findings::hidden(first, count, line.span(at, at + length), instead))
}

/// Signs that look like those of the language; all of the line are mended at once.
fn look_alike(line: &Line<'_>) -> Option<Finding> {
    let mut edits = Vec::new();
    let mut first = None;
    let mut text_ends = 0;
    for (at, found) in line.outside_texts() {
        let Some(stand_in) = stand_in(found).filter(|_| at >= text_ends) else { continue };
        let end = at + found.len_utf8();
        first.get_or_insert((found, stand_in, line.span(at, end)));
        edits.push(line.edit(at, end, &stand_in.plain.to_string()));
        if is_curly_quote(found) {
            // What stands between two such quotes is a text and stays as it is.
            let inner = &line.text[end..line.stretch.end];
            let closing = inner.find(|character| is_curly_quote(character) || character == '"' || character == '\n');
            text_ends = closing.map_or(line.stretch.end, |length| end + length);
        }
    }
    let (found, stand_in, place) = first?;
    Some(findings::look_alike(found, stand_in, place, edits))
}

/// A text that goes to the end of the line, or an inch mark apart from its number.
fn unclosed_text(line: &Line<'_>) -> Option<Finding> {
    let at = line.at;
    if line.next() != Some('"') || !matches!(quoted(line.text, at), Quoted::Unclosed(_)) {
        return None;
    }
    let inner = &line.rest()[1..];
    if inner.trim().is_empty() && ends_with_number(line.before().as_bytes()) {
        let number_ends = line.stretch.start + line.before().len();
        return Some(findings::mark_apart('"', line.here(1), line.span(number_ends, at)));
    }
    if let Some((offset, quote)) = inner.char_indices().find(|(_, character)| is_curly_quote(*character)) {
        let start = at + 1 + offset;
        let end = start + quote.len_utf8();
        let edits = vec![line.edit(start, end, "\"")];
        return stand_in(quote).map(|stand_in| findings::look_alike(quote, stand_in, line.span(start, end), edits));
    }
    Some(findings::unclosed_text(line.span(at, line.stretch.end)))
}

/// A backslash before something that needs none.
fn escape(line: &Line<'_>) -> Option<Finding> {
    if line.next() != Some('"') {
        return None;
    }
    let mut characters = line.rest().char_indices().skip(1);
    while let Some((offset, character)) = characters.next() {
        if character == '"' {
            return None;
        }
        if character == '\\' {
            let (_, escaped) = characters.next()?;
            if !matches!(escaped, '"' | '\\') {
                let length = 1 + escaped.len_utf8();
                let place = line.span(line.at + offset, line.at + offset + length);
                return Some(findings::escape(&line.rest()[offset..offset + length], place));
            }
        }
    }
    None
}

/// `//` and `/*`
fn foreign_comment(line: &Line<'_>) -> Option<Finding> {
    // In an expression the grammar takes the first `/` for a division and is stuck behind it.
    let is_stuck_behind = line.text[line.stretch.start..line.at].ends_with('/');
    let start = if is_stuck_behind { line.at - 1 } else { line.at };
    let rest = &line.text[start..line.stretch.end];
    let mark = ["//", "/*"].into_iter().find(|mark| rest.starts_with(mark))?;
    Some(findings::foreign_comment(mark, line.span(start, start + 2), mark == "//"))
}

/// `1,5`
fn decimal_comma(line: &Line<'_>) -> Option<Finding> {
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

/// `thick: 3/4`
fn colon(line: &Line<'_>) -> Option<Finding> {
    let word = line.word_before();
    (line.next() == Some(':') && !word.is_empty()).then(|| findings::colon(word, line.here(1), line.removal(1)))
}

/// `'Caddy'`, or a foot mark apart from its number.
fn foreign_quote(line: &Line<'_>) -> Option<Finding> {
    let quote = line.next().filter(|character| matches!(character, '\'' | '`'))?;
    let inner = &line.rest()[1..];
    let closing = inner.find(quote);
    if quote == '\'' && closing.is_none() && ends_with_number(line.before().as_bytes()) {
        let number_ends = line.stretch.start + line.before().len();
        return Some(findings::mark_apart('\'', line.here(1), line.span(number_ends, line.at)));
    }
    let mut quotes = vec![line.here(1)];
    quotes.extend(closing.map(|offset| line.span(line.at + 1 + offset, line.at + 2 + offset)));
    let length = closing.map_or(1, |offset| offset + 2);
    Some(findings::foreign_quote(quote, line.here(length), &quotes))
}

/// `12x`, `3mmm`, `20 degc`, `2'6"`, `3in-1/8in`
fn number(line: &Line<'_>) -> Option<Finding> {
    let line = &line.stuck_at(line.run_start());
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
    let is_fraction = fraction.contains('/') || fraction.chars().any(|character| !character.is_ascii());
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

/// `Maple`, `hard_maple`, `maple-`, `érable`, `use"file"`
fn word_form(line: &Line<'_>) -> Option<Finding> {
    let line = &line.stuck_at(line.run_start());
    let rest = line.rest();
    let length = rest.find(|character| !is_of_word(character)).unwrap_or(rest.len());
    let word = &rest[..length];
    let place = line.here(length);
    if !word.chars().any(char::is_alphabetic) {
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
