//! What resolving has to say of joints, partings and measurements.

use crate::finding::{Finding, catalog, or_list};
use crate::source::Span;

use super::fittings::JointKind;
use super::recipe::PartKind;

pub(super) fn not_of_kind(span: Span, kind: JointKind, word: &str) -> Finding {
    Finding::new(&catalog::WORD_UNKNOWN, span, format!("a joint of the kind `{}` has no `{word}`", kind.word()))
        .help("only `joint thread` has `pitch`, `starts` and `turns`")
}

pub(super) fn other_part(span: Span, kind: JointKind, only: PartKind) -> Finding {
    let message = format!("`joint {}` always has its tenon on the {}", kind.word(), only.word());
    Finding::new(&catalog::WORD_UNKNOWN, span, message)
        .help("take `on` away, or use `joint tenon`, which can have it on either part")
}

pub(super) fn no_pitch(span: Span, text: &str) -> Finding {
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, format!("`pitch {text}` is no thread that can be cut in wood"))
        .help("chasers have 10 to 20 threads an inch: `pitch 16 tpi`")
}

pub(super) fn turns_out_of_range(span: Span, text: &str) -> Finding {
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, format!("`turns {text}` closes no lid"))
        .help("one and a half to four turns are usual: `turns 1.5`")
}

pub(super) fn humidity_out_of_range(span: Span, text: &str) -> Finding {
    let message = format!("what wood does at {text} is not known: the table goes from 5 to 95 %");
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, message)
        .help("heated rooms have about 30 to 60 %: `35%rh .. 60%rh`")
}

pub(super) fn joint_without_lid(span: Span) -> Finding {
    let message = "a joint is where lid and body meet, and this vessel has no lid";
    Finding::new(&catalog::JOINT_WITHOUT_LID, span, message)
        .help("add `lid { … }`, or `parted at HEIGHT` to saw one stack apart, or take the joint away")
}

pub(super) fn parted_with_lid(span: Span, lid: Span) -> Finding {
    Finding::new(
        &catalog::PARTED_WITH_LID,
        span,
        "`parted` makes the lid of the body's stack, and there is a `lid` too",
    )
    .also(lid, "the lid's own stack")
    .help("take one of the two away: with `parted`, all layers stand in `body`")
}

/// Something measured that is no part of the vessel; `known` is what there is.
pub(super) fn made_unknown(span: Span, what: &str, known: &str) -> Finding {
    Finding::new(&catalog::MADE_UNKNOWN, span, what.to_owned()).help(known.to_owned())
}

pub(super) fn no_such_layer(span: Span, stack: &str, text: &str, layers: usize, names: &[&str]) -> Finding {
    let what = format!("the {stack} has no layer `{text}`");
    let named = if names.is_empty() { String::new() } else { format!(", and the names {}", or_list(names)) };
    made_unknown(span, &what, &format!("it has the layers 1 to {layers}, counted from the bench{named}"))
}

/// Layers that were all measured, and a height that they do not add up to.
pub(super) fn made_heights_disagree(span: Span, stack: &str, height: &str, sum: &str) -> Finding {
    let message = format!("the {stack} was measured as {height} high, and its layers, all measured, add up to {sum}");
    Finding::new(&catalog::MADE_HEIGHTS_DISAGREE, span, message)
        .help("measure again; until then the layers' own thicknesses hold")
}
