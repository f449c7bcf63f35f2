//! Edits of texts: made fit for their file, put together, applied, and places carried over them.

use std::ops::Range;

use crate::syntax::{comments, removal};

use super::FileKey;

/// One replacement in a file that may be changed.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Change {
    pub(super) file: FileKey,
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) text: String,
}

/// A place in a text, of a file that may be changed or of another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Place {
    pub(super) file: Option<FileKey>,
    pub(super) range: Range<usize>,
}

const MARK: &str = "\u{FEFF}";

/// The edit as it suits its file: behind a byte order mark, with the file's line ends, with the
/// blanks that would be left over. None when it is no edit of this text or would touch a comment.
pub(super) fn fit(file: FileKey, text: &str, range: Range<usize>, new: &str) -> Option<Change> {
    text.get(range.clone())?;
    let (mut start, mut end) = (range.start, range.end);
    if new.is_empty() {
        Range { start, end } = removal(text, range);
    } else if start == 0 && end == 0 && text.starts_with(MARK) {
        (start, end) = (MARK.len(), MARK.len());
    }
    let has_returns = text.matches("\r\n").count() * 2 > text.matches('\n').count();
    let new = if has_returns { new.replace("\r\n", "\n").replace('\n', "\r\n") } else { new.to_owned() };
    let is_new_line = new.starts_with(['\r', '\n']);
    let touches = |comment: &Range<usize>| {
        // Behind a comment only what begins a line of its own is not part of it.
        let is_behind = start == comment.end && !is_new_line && !(new.is_empty() && end > start);
        start < comment.end && end > comment.start || is_behind
    };
    if comments(text).iter().any(touches) || text.get(start..end) == Some(new.as_str()) {
        return None;
    }
    Some(Change { file, start, end, text: new })
}

/// Whether two edits cannot be made together in any order.
pub(super) fn collide(a: &Change, b: &Change) -> bool {
    let is_apart = a.start != b.start && (a.end <= b.start || b.end <= a.start);
    a.file == b.file && !is_apart
}

/// The text with all `changes` of `file`, which do not collide.
pub(super) fn applied(file: FileKey, text: &str, changes: &[Change]) -> String {
    let mut own: Vec<&Change> = changes.iter().filter(|change| change.file == file).collect();
    own.sort();
    let mut new = String::with_capacity(text.len() + own.len() * 16);
    let mut at = 0;
    for change in own {
        new.push_str(text.get(at..change.start).unwrap_or(""));
        new.push_str(&change.text);
        at = change.end;
    }
    new.push_str(text.get(at..).unwrap_or(""));
    new
}

/// Where `place` is once `changes` are made; what lay within a replaced stretch is all of the new one.
pub(super) fn carried(place: &Place, changes: &[Change]) -> Place {
    let Some(file) = place.file else { return place.clone() };
    let mut own: Vec<&Change> = changes.iter().filter(|change| change.file == file).collect();
    own.sort();
    let carry = |at: usize, is_end: bool| {
        let mut moved = at;
        for change in &own {
            let (gone, come) = (change.end - change.start, change.text.len());
            if change.end <= at && !(change.start == at && is_end) {
                moved = moved + come - gone;
            } else if change.start < at {
                // Within what is replaced: to the new stretch's end or start.
                let new_start = moved - (at - change.start);
                return if is_end { new_start + come } else { new_start };
            }
        }
        moved
    };
    let (start, end) = (carry(place.range.start, false), carry(place.range.end, true));
    Place { file: place.file, range: start..end.max(start) }
}

/// The change itself, once others are made that do not collide with it.
pub(super) fn carried_change(change: &Change, changes: &[Change]) -> Change {
    let shift = |at: usize| {
        let before = changes.iter().filter(|other| other.file == change.file && other.start < at && other.end <= at);
        before.fold(at, |at, other| at + other.text.len() - (other.end - other.start))
    };
    let start = shift(change.start);
    Change { start, end: start + (change.end - change.start), ..change.clone() }
}

/// Whether every comment of `before` stands unchanged in `after`, in the same order.
pub(super) fn keeps_comments(before: &str, after: &str) -> bool {
    let mut now = comments(after).into_iter();
    comments(before).into_iter().all(|old| now.any(|new| before.get(old.clone()) == after.get(new)))
}

#[cfg(test)]
mod tests {
    use super::{Change, Place, applied, carried, collide, fit, keeps_comments};
    use crate::mend::FileKey;

    const FILE: FileKey = FileKey(0);

    fn change(start: usize, end: usize, text: &str) -> Change {
        Change { file: FILE, start, end, text: text.to_owned() }
    }

    #[test]
    fn an_edit_suits_its_file() {
        assert_eq!(fit(FILE, "\u{FEFF}a\r\nb\r\n", 0..0, "units in\n"), Some(change(3, 3, "units in\r\n")));
        assert_eq!(fit(FILE, "a # b\nc", 3..4, ""), None, "in a comment");
        assert_eq!(fit(FILE, "a # b\nc", 5..5, " x"), None, "would become part of a comment");
        assert_eq!(fit(FILE, "a # b", 5..5, "\n}"), Some(change(5, 5, "\n}")));
        assert_eq!(fit(FILE, "a # b\nc", 2..2, "x "), Some(change(2, 2, "x ")));
        assert_eq!(fit(FILE, "ab", 0..1, "a"), None, "changes nothing");
        assert_eq!(fit(FILE, "½", 0..1, "a"), None, "no border of a character");
    }

    #[test]
    fn edits_at_one_place_collide() {
        assert!(collide(&change(3, 5, "x"), &change(4, 6, "y")));
        assert!(collide(&change(3, 3, "x"), &change(3, 3, "y")));
        assert!(collide(&change(3, 3, "x"), &change(3, 5, "y")));
        assert!(!collide(&change(3, 5, "x"), &change(5, 6, "y")));
        assert!(!collide(&change(1, 2, "x"), &Change { file: FileKey(1), ..change(1, 2, "y") }));
    }

    #[test]
    fn places_are_carried_over_edits() {
        let changes = [change(2, 4, "xyz"), change(6, 6, "!!")];
        assert_eq!(applied(FILE, "0123456789", &changes), "01xyz45!!6789");
        let carry = |start, end| carried(&Place { file: Some(FILE), range: start..end }, &changes).range;
        assert_eq!(carry(0, 2), 0..2);
        assert_eq!(carry(2, 4), 2..5);
        assert_eq!(carry(3, 5), 2..6);
        assert_eq!(carry(4, 6), 5..7);
        assert_eq!(carry(7, 9), 10..12);
    }

    #[test]
    fn no_comment_may_be_lost() {
        assert!(keeps_comments("# a\nb # c", "# a\nx # c\n# more"));
        assert!(!keeps_comments("# a\n# c", "# c"));
    }
}
