//! A stretch that the grammar refused, how far it got in it, and what stands around that place.

use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};

use crate::finding::Edit;
use crate::source::{SourceFile, Span};
use crate::syntax::convert::span_of;
use crate::syntax::depth::Brackets;
use crate::syntax::grammar::{Grammar, Rule};
use crate::syntax::scan::{Quoted, line_end, quoted};

/// A stretch that the grammar refused.
#[derive(Debug, Clone, Copy)]
pub(in crate::syntax) struct Stretch<'a> {
    /// The file that is read.
    pub(in crate::syntax) source: &'a SourceFile,
    /// Its brackets.
    pub(in crate::syntax) brackets: &'a Brackets,
    /// First byte of the stretch.
    pub(in crate::syntax) start: usize,
    /// One past its last byte.
    pub(in crate::syntax) end: usize,
    /// How many blocks stand open around it.
    pub(in crate::syntax) depth: usize,
}

/// A stretch with what the strict rule says of it. Offsets count from the start of the file.
pub(super) struct Line<'a> {
    pub(super) stretch: Stretch<'a>,
    pub(super) text: &'a str,
    /// Where the strict rule got stuck.
    pub(super) at: usize,
    /// What it would have taken there.
    pub(super) expected: Vec<Rule>,
    /// Brackets open at that place with their own places, the innermost last.
    pub(super) open: Vec<(usize, char)>,
}

impl<'a> Line<'a> {
    pub(super) fn read(stretch: Stretch<'a>) -> Self {
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
    pub(super) fn rest(&self) -> &'a str {
        &self.text[self.at..self.stretch.end]
    }

    pub(super) fn next(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// What stands before that place, without blanks at its end.
    pub(super) fn before(&self) -> &'a str {
        self.text[self.stretch.start..self.at].trim_end_matches([' ', '\t'])
    }

    /// The last word before that place.
    pub(super) fn word_before(&self) -> &'a str {
        last_word(self.before())
    }

    /// The piece at that place, as far as a reader takes it for one.
    pub(super) fn piece(&self) -> &'a str {
        let rest = self.rest();
        let ends = |character: char| character.is_whitespace() || "{}[]()\",;:=#".contains(character);
        let first = rest.chars().next().map_or(0, char::len_utf8);
        let length = rest[first..].find(ends).map_or(rest.len(), |length| first + length);
        if rest.starts_with(ends) { &rest[..first] } else { &rest[..length] }
    }

    /// The piece at that place, up to a blank, a bracket or a brace.
    pub(super) fn run(&self) -> &'a str {
        let rest = self.rest();
        let ends = |character: char| character.is_whitespace() || "{}[]()".contains(character);
        &rest[..rest.find(ends).unwrap_or(rest.len())]
    }

    pub(super) fn span(&self, start: usize, end: usize) -> Span {
        span_of(self.stretch.source.id, start, end)
    }

    pub(super) fn here(&self, length: usize) -> Span {
        self.span(self.at, self.at + length)
    }

    pub(super) fn edit(&self, start: usize, end: usize, text: &str) -> Edit {
        Edit { span: self.span(start, end), text: text.to_owned() }
    }

    /// The characters of the stretch that are in no text and no comment; an unclosed text and a
    /// comment of another language end them.
    pub(super) fn outside_texts(&self) -> OutsideTexts<'a> {
        OutsideTexts { text: self.text, at: self.stretch.start, end: self.stretch.end }
    }

    pub(super) fn unclosed_brackets(&self) -> &'a [u32] {
        let all = &self.stretch.brackets.unclosed;
        let from = all.partition_point(|at| (*at as usize) < self.stretch.start);
        let to = all.partition_point(|at| (*at as usize) < self.stretch.end);
        &all[from..to]
    }

    /// The function's name when that place is within a call that stands outside of parentheses.
    pub(super) fn bare_call(&self) -> Option<&'a str> {
        let (at, _) = self.open.first().filter(|(_, bracket)| *bracket == '(')?;
        let before = &self.text[self.stretch.start..*at];
        let name = last_word(before);
        (!name.is_empty()
            && name.len() < before.len()
            && name.starts_with(|first: char| first.is_ascii_lowercase())
            && !self.expected.contains(&Rule::comparator))
        .then_some(name)
    }

    /// `sign` with a blank before it, when there is none yet.
    pub(super) fn sign_with_blank(&self, sign: &str) -> String {
        let has_blank = self.text[self.stretch.start..self.at].ends_with([' ', '\t']);
        if has_blank { sign.to_owned() } else { format!(" {sign}") }
    }

    /// The sign of `length` bytes at that place with what it takes to remove it: its place, with the
    /// blanks behind it when there are some before it, and the blank that may have to take its place.
    pub(super) fn removal(&self, length: usize) -> Edit {
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
    pub(super) fn run_start(&self) -> usize {
        let is_fraction = |character: char| matches!(character, '¼'..='¾' | '⅐'..='⅞');
        let is_joined =
            |character: char| is_of_word(character) || is_fraction(character) || ".°%\"'″′".contains(character);
        if !self.next().is_some_and(is_joined) {
            return self.at;
        }
        let before = &self.text[self.stretch.start..self.at];
        let is_of_run = |character: char| is_joined(character) || character == '/';
        let length =
            before.chars().rev().take_while(|character| is_of_run(*character)).map(char::len_utf8).sum::<usize>();
        let run = &before[before.len() - length..];
        self.at - run.rfind("..").map_or(length, |dots| length - dots - 2)
    }

    /// The same stretch, stuck at another place.
    pub(super) fn stuck_at(&self, at: usize) -> Self {
        Self { at, expected: self.expected.clone(), open: self.open.clone(), ..*self }
    }

    pub(super) fn in_list(&self) -> bool {
        self.open.iter().any(|(_, bracket)| *bracket == '[')
    }
}

/// See [`Line::outside_texts`].
pub(super) struct OutsideTexts<'a> {
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

/// Whether `character` may be meant for one of a word.
pub(super) fn is_of_word(character: char) -> bool {
    character.is_alphabetic() || character.is_ascii_digit() || matches!(character, '-' | '_')
}

/// The word that `text` ends with; empty when it ends with something else.
fn last_word(text: &str) -> &str {
    &text[text.trim_end_matches(is_of_word).len()..]
}
