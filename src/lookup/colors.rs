//! The colors of woods where they are named.

use crate::source::{FileId, Span};
use crate::tables::Wood;

use super::names::Project;
use super::reading::{Kind, Role};
use super::words::known_wood;

/// Red, green and blue.
pub type Color = [u8; 3];

/// Every place of a file where a wood is named, with its color.
#[must_use]
pub fn of(project: &Project<'_>, file: FileId) -> Vec<(Span, Color)> {
    let reading = project.reading(file);
    let woods = reading.marks.iter().filter(|mark| matches!(mark.role, Role::Use(Kind::Wood, _)));
    woods.filter_map(|mark| Some((mark.span, color(wood_at(project, file, mark.span)?)?))).collect()
}

/// The wood of the table that a word comes down to; a board has no color of its own.
fn wood_at(project: &Project<'_>, file: FileId, span: Span) -> Option<&'static Wood> {
    let Some(found) = project.definition_at(file, span.start) else {
        return known_wood(project.reading(file).tree.text(span));
    };
    // `wood pale { like hard-maple }` names one wood: that one.
    let definition = found.definition()?;
    let within = |mark: &&super::reading::Mark| {
        definition.whole.contains(mark.span) && matches!(mark.role, Role::Use(Kind::Wood, None))
    };
    let mut named = found.reading.marks.iter().filter(within);
    let (first, second) = (named.next()?, named.next());
    second.is_none().then(|| known_wood(found.reading.tree.text(first.span))).flatten()
}

/// `#c8a27d`
fn color(wood: &Wood) -> Option<Color> {
    let digits = wood.color_srgb.strip_prefix('#')?;
    let part = |at: usize| u8::from_str_radix(digits.get(at..at + 2)?, 16).ok();
    Some([part(0)?, part(2)?, part(4)?])
}
