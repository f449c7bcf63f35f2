//! What a command would change, as a patch.

use std::fmt::Write as _;
use std::path::Path;

use similar::{ChangeTag, TextDiff};

use crate::finding::render::one_line;
use crate::source::Platform;

/// Unchanged lines that a patch shows round a change, as `diff -u` does.
const CONTEXT: usize = 3;

/// What changed in one file, as `git apply` and `patch -p1` read it. Lines end with their line feed
/// alone: a carriage return before it is part of the line.
pub(super) fn unified(path: &Path, before: &str, after: &str, has_color: bool) -> String {
    let paint =
        |text: &str, color: &str| if has_color { format!("\u{1b}[{color}m{text}\u{1b}[0m") } else { text.to_owned() };
    let shown = Platform::HERE.slashed(&path.to_string_lossy());
    let shown = shown.trim_start_matches('/');
    let mut text = String::new();
    for (sign, side) in [("---", 'a'), ("+++", 'b')] {
        let _ = writeln!(text, "{}", paint(&format!("{sign} {}", named(&format!("{side}/{shown}"))), "1"));
    }
    let (old, new): (Vec<&str>, Vec<&str>) =
        (before.split_inclusive('\n').collect(), after.split_inclusive('\n').collect());
    let diff = TextDiff::configure().newline_terminated(true).diff_slices(&old, &new);
    for hunk in diff.unified_diff().context_radius(CONTEXT).iter_hunks() {
        let _ = writeln!(text, "{}", paint(&hunk.header().to_string(), "36"));
        for change in hunk.iter_changes() {
            let (sign, color) = match change.tag() {
                ChangeTag::Equal => (' ', None),
                ChangeTag::Delete => ('-', Some("31")),
                ChangeTag::Insert => ('+', Some("32")),
            };
            let line = change.value();
            let (body, has_end) = line.strip_suffix('\n').map_or((line, false), |body| (body, true));
            let body = format!("{sign}{body}");
            text.push_str(&color.map_or(body.clone(), |color| paint(&body, color)));
            text.push('\n');
            if !has_end {
                text.push_str("\\ No newline at end of file\n");
            }
        }
    }
    text
}

/// A name as a patch has it: between quotes, as Git writes it, where it holds what would end the line or steer a terminal.
fn named(name: &str) -> String {
    if one_line(name) == name && !name.contains(['"', '\\']) {
        // The tab tells `patch` where a name with blanks ends.
        return format!("{name}{}", if name.contains(' ') { "\t" } else { "" });
    }
    let quoted = name.bytes().fold(String::new(), |mut quoted, byte| {
        let _ = match byte {
            b'"' | b'\\' => write!(quoted, "\\{}", char::from(byte)),
            b' '..=b'~' => write!(quoted, "{}", char::from(byte)),
            _ => write!(quoted, "\\{byte:03o}"),
        };
        quoted
    });
    format!("\"{quoted}\"")
}

#[cfg(test)]
mod tests {
    use super::named;

    #[test]
    fn a_name_is_quoted_only_where_a_line_would_not_hold_it() {
        assert_eq!(named("a/bowl.vessel"), "a/bowl.vessel");
        assert_eq!(named("a/my bowl.vessel"), "a/my bowl.vessel\t");
        assert_eq!(named("a/schüssel.vessel"), "a/schüssel.vessel");
        assert_eq!(named("a/two\nlines.vessel"), r#""a/two\012lines.vessel""#);
        assert_eq!(named("a/say \"hi\".vessel"), r#""a/say \"hi\".vessel""#);
        assert_eq!(named("a/\u{202e}bowl"), r#""a/\342\200\256bowl""#);
    }
}
