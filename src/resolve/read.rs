//! One argument to one typed value, or the finding that says why not.

use crate::finding::{Finding, nearest};
use crate::quantity::{Angle, Count, Dimension, Length, Ratio, System, show_length};
use crate::source::Span;
use crate::syntax::{Item, ItemKind};
use crate::vocabulary::{Bound, CONTEXTS, MADE, MADE_OF_LID, PATTERN_WORDS, STAGGERS};

use super::expression::{Names, evaluate, literal};
use super::recipe::{Gap, Stagger};
use super::scope::Scope;
use super::split::word_of;
use super::value::{Bare, NotLength, Value};
use super::{findings, layer_findings};

/// A thousand meters: no vessel is larger, and squares and cubes of it stay far from overflow.
const LARGEST_MM: f64 = 1e6;
/// What a caliper still reads; smaller lengths are slips of the unit.
pub(super) const LEAST_MM: f64 = 0.01;

/// What a quantity is worth, whatever its dimension. `word` is the clause or head it belongs to.
pub(super) fn value(scope: &Scope, item: &Item, word: &str, wants: &str) -> Result<Value, Finding> {
    match &item.kind {
        ItemKind::Quantity(number) => Ok(literal(number, scope.bare)),
        ItemKind::Word => scope.value(item.span).map_err(|finding| {
            // A name that is nearly known says more than what the clause wants.
            if finding.help.is_some() {
                return finding;
            }
            let name = scope.tree.text(item.span);
            finding.help(format!("`{word}` wants {wants}: write a number, or name one before with `let {name} = …`"))
        }),
        ItemKind::Expression(expression) | ItemKind::Assign(expression) => evaluate(expression, scope),
        ItemKind::Text(_)
        | ItemKind::Code
        | ItemKind::List(_)
        | ItemKind::Group(_)
        | ItemKind::Range(..)
        | ItemKind::Comparison(..) => Err(findings::wrong_kind(item, word, wants)),
    }
}

pub(super) fn length(scope: &Scope, item: &Item, word: &str, bound: Bound) -> Result<Length, Finding> {
    let value = value(scope, item, word, "a length")?;
    let mm = value.length_mm().map_err(|why| not_length(scope, item.span, word, value, why))?;
    if mm > LARGEST_MM {
        return Err(findings::too_large(item.span, word, scope.tree.text(item.span)));
    }
    match bound {
        Bound::NotNegative if mm < 0.0 => Err(findings::negative(item.span, word, scope.tree.text(item.span))),
        Bound::Positive if mm < LEAST_MM => Err(findings::too_small(item.span, word, scope.tree.text(item.span))),
        Bound::NotNegative | Bound::Positive => Ok(Length::from_mm(mm)),
    }
}

fn not_length(scope: &Scope, span: Span, word: &str, value: Value, why: NotLength) -> Finding {
    let text = scope.tree.text(span);
    match why {
        NotLength::Dimension => findings::wrong_dimension(span, word, "a length", text, value.words()),
        NotLength::NoUnits => findings::units_missing(span, word, text, scope.meant_units()),
        NotLength::Mixed => findings::mixed_units(span, word, text),
    }
}

pub(super) fn count(scope: &Scope, item: &Item, word: &str) -> Result<Count, Finding> {
    let value = value(scope, item, word, "a count")?;
    let text = scope.tree.text(item.span);
    let Value::Bare(number, _) = value else {
        return Err(findings::wrong_dimension(item.span, word, "a count", text, value.words()));
    };
    // Arithmetic may leave a count a hair beside the whole number.
    let whole = number.round();
    if (number - whole).abs() > 1e-9 * whole.abs().max(1.0) {
        return Err(findings::not_whole(item.span, word, text));
    }
    if whole < 0.0 {
        return Err(findings::negative(item.span, word, text));
    }
    // Counts beyond any use saturate; what they count says that it is too many.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded and not negative")]
    let whole = whole.min(f64::from(u32::MAX)) as u32;
    Ok(Count(whole))
}

pub(super) fn stagger(scope: &Scope, item: &Item) -> Result<Stagger, Finding> {
    match word_of(&scope.tree, item) {
        Some("half") => return Ok(Stagger::Half),
        Some("none") => return Ok(Stagger::None),
        Some(word) if scope.value(item.span).is_err() && !nearest(word, STAGGERS.iter().copied()).is_empty() => {
            return Err(findings::no_such_choice(item.span, "stagger", word, STAGGERS));
        }
        Some(_) | None => {}
    }
    let wants = "`half`, `none`, a share of a segment or an angle";
    match value(scope, item, "stagger", wants)? {
        Value::Of(degrees, Dimension::ANGLE) if degrees.abs() <= 360.0 => Ok(Stagger::By(Angle::from_degrees(degrees))),
        Value::Bare(share, _) | Value::Of(share, Dimension::NONE) if share.abs() <= 1.0 => {
            Ok(Stagger::Share(Ratio::of(share)))
        }
        Value::Bare(..) | Value::Of(_, Dimension::NONE | Dimension::ANGLE) => {
            Err(findings::stagger_too_large(item.span, scope.tree.text(item.span)))
        }
        other @ Value::Of(..) => {
            let text = scope.tree.text(item.span);
            Err(findings::wrong_dimension(item.span, "stagger", wants, text, other.words()))
        }
    }
}

/// An angle, or a share of the angle from one segment to the next; more than nothing, and for the rest as it comes.
pub(super) fn gap(scope: &Scope, item: &Item) -> Result<Gap, Finding> {
    let wants = "an angle or a share of the angle from one segment to the next";
    let text = scope.tree.text(item.span);
    match value(scope, item, "gap", wants)? {
        Value::Of(degrees, Dimension::ANGLE) if degrees > 0.0 => Ok(Gap::Angle(Angle::from_degrees(degrees))),
        Value::Bare(share, _) | Value::Of(share, Dimension::NONE) if share > 0.0 => Ok(Gap::Share(Ratio::of(share))),
        Value::Bare(..) | Value::Of(_, Dimension::NONE | Dimension::ANGLE) => {
            Err(layer_findings::no_gap(item.span, text))
        }
        other @ Value::Of(..) => Err(findings::wrong_dimension(item.span, "gap", wants, text, other.words())),
    }
}

/// A length in the units of the file, for a sentence.
pub(super) fn shown(scope: &Scope, length: Length) -> String {
    let system = match scope.bare {
        Bare::In(system) => system,
        Bare::NoUnits | Bare::Mixed => System::Millimeter,
    };
    show_length(length, system)
}

/// One of these words.
pub(super) fn choice(
    scope: &Scope,
    item: &Item,
    word: &str,
    words: &'static [&'static str],
) -> Result<&'static str, Finding> {
    let Some(written) = word_of(&scope.tree, item) else {
        return Err(findings::wrong_kind(item, word, &crate::finding::or_list(words)));
    };
    match words.iter().find(|known| **known == written) {
        Some(known) => Ok(known),
        None => Err(findings::no_such_choice(item.span, word, written, words)),
    }
}

/// A new name.
pub(super) fn name<'a>(scope: &'a Scope, item: &Item, word: &str) -> Result<&'a str, Finding> {
    let Some(name) = word_of(&scope.tree, item) else {
        return Err(findings::wrong_kind(item, word, "a name in lower-case letters"));
    };
    if is_reserved(name) { Err(findings::reserved(item.span, name)) } else { Ok(name) }
}

/// Whether the language uses the word itself, so that a line with such a name could not be read.
fn is_reserved(name: &str) -> bool {
    // What was measured is named by words that are free elsewhere: `let height = …`.
    let contexts = CONTEXTS.iter().filter(|context| ***context != MADE && ***context != MADE_OF_LID);
    let mut heads = contexts.flat_map(|context| context.heads);
    PATTERN_WORDS.contains(&name) || heads.any(|head| head.word == name || head.clause(name).is_some())
}

/// A text in double quotes.
pub(super) fn text<'a>(item: &'a Item, word: &str) -> Result<&'a str, Finding> {
    match &item.kind {
        ItemKind::Text(text) => Ok(text),
        ItemKind::Word
        | ItemKind::Code
        | ItemKind::Quantity(_)
        | ItemKind::List(_)
        | ItemKind::Group(_)
        | ItemKind::Range(..)
        | ItemKind::Comparison(..)
        | ItemKind::Expression(_)
        | ItemKind::Assign(_) => Err(findings::wrong_kind(item, word, "a text in double quotes")),
    }
}
