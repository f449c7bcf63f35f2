//! What resolving has to say of the outlines, each sentence once.

use crate::finding::{Finding, catalog};
use crate::source::Span;

pub(super) fn heights_not_rising(span: Span, height: &str, below: &str, first: Span) -> Finding {
    Finding::new(
        &catalog::SHAPE_HEIGHTS_NOT_RISING,
        span,
        format!("this point at {height} lies below the one before it, at {below}"),
    )
    .also(first, "the point before it")
    .help("write the points from the bench upward; two points at one height make a step")
}

pub(super) fn base_not_at_zero(span: Span, height: &str) -> Finding {
    Finding::new(
        &catalog::SHAPE_BASE_NOT_AT_ZERO,
        span,
        format!("the outside starts at {height}; it has to start on the bench, at 0"),
    )
    .help("make the first point `at 0`, or take this height off every point")
}

pub(super) fn too_few_points(span: Span, word: &str, points: usize) -> Finding {
    let have = if points == 0 { "no point".to_owned() } else { format!("{points} point") };
    let (article, from) = if word == "outside" { ("an outside", "0") } else { ("an inside", "1/2") };
    Finding::new(
        &catalog::SHAPE_TOO_FEW_POINTS,
        span,
        format!("{article} wants two points or more, one above the other; it has {have}"),
    )
    .help(format!("for example `{word} {{ at {from} diameter 4   at 3 diameter 5 }}`"))
}

pub(super) fn no_height(span: Span, word: &str) -> Finding {
    Finding::new(
        &catalog::SHAPE_TOO_FEW_POINTS,
        span,
        format!("every point of the {word} is at one height; the vessel has none"),
    )
    .help("add a point higher up, at the rim")
}

pub(super) fn no_width(span: Span, word: &str) -> Finding {
    let what = if word == "outside" { "there is no wood in it" } else { "there is no room in it" };
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, format!("every diameter of the {word} is zero; {what}"))
}

pub(super) fn inside_without_floor(span: Span) -> Finding {
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, "the inside begins on the bench, so there is no floor")
        .help("let the inside begin as high as the floor is thick")
}

pub(super) fn two_kinds(span: Span, first: Span) -> Finding {
    Finding::new(&catalog::WORD_TWICE, span, "the span up to this point is said to be both `straight` and `smooth`")
        .also(first, "`straight` is said here")
        .help("keep one of the two")
}

pub(super) fn point_in_path(span: Span, path: Span) -> Finding {
    Finding::new(&catalog::WORD_EXTRA, span, "the path gives the whole curve; a point has no place in it")
        .also(path, "the path")
        .help("write the point into the path, or the whole curve with `at`")
}

pub(super) fn path_without_word(span: Span, word: &str) -> Finding {
    Finding::new(&catalog::WORD_EXTRA, span, format!("`{word}` takes a text only behind `path`"))
        .help(format!("write `{word} path \"…\"`"))
}

pub(super) fn path_missing(span: Span, word: &str) -> Finding {
    Finding::new(&catalog::WORD_MISSING, span, format!("`{word} path` wants path data in double quotes")).help(format!(
        "for example `{word} path \"M 40 0 L 52 30 C 56 45 54 60 48 72\"`: x is the radius, y the height"
    ))
}

pub(super) fn taper_wrong(span: Span) -> Finding {
    Finding::new(&catalog::WORD_WRONG_KIND, span, "`wall` wants a length, or one at the base and one at the rim")
        .help("write `wall 3/8`, or `wall 3/8 at base .. 1/4 at rim`")
}

pub(super) fn wall_and_inside(span: Span, first: Span) -> Finding {
    Finding::new(&catalog::WORD_TWICE, span, "`wall` and `inside` both say where the inside runs")
        .also(first, "the other one is here")
        .help("keep one of the two")
}
