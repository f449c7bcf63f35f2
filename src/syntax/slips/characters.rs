//! Slips of single characters: hidden ones, look-alikes, quotes and the comments of other languages.

use crate::finding::Finding;
use crate::syntax::findings;
use crate::syntax::look_alike::{is_curly_quote, is_forbidden_in_text, is_hidden, stand_in};
use crate::syntax::scan::{Quoted, ends_with_number, quoted};

use super::line::Line;

/// Control characters, and others that cannot be seen.
pub(super) fn hidden(line: &Line<'_>) -> Option<Finding> {
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
pub(super) fn look_alike(line: &Line<'_>) -> Option<Finding> {
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
pub(super) fn unclosed_text(line: &Line<'_>) -> Option<Finding> {
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
pub(super) fn escape(line: &Line<'_>) -> Option<Finding> {
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
pub(super) fn foreign_comment(line: &Line<'_>) -> Option<Finding> {
    // In an expression the grammar takes the first `/` for a division and is stuck behind it.
    let is_stuck_behind = line.text[line.stretch.start..line.at].ends_with('/');
    let start = if is_stuck_behind { line.at - 1 } else { line.at };
    let rest = &line.text[start..line.stretch.end];
    let mark = ["//", "/*"].into_iter().find(|mark| rest.starts_with(mark))?;
    Some(findings::foreign_comment(mark, line.span(start, start + 2), mark == "//"))
}

/// `'Crock'`, or a foot mark apart from its number.
pub(super) fn foreign_quote(line: &Line<'_>) -> Option<Finding> {
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
