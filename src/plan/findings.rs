//! The words for what a plan has to warn of.

use crate::finding::{Finding, Fix, catalog};
use crate::geometry::{RingShape, SegmentCut};
use crate::quantity::{Count, Length, System, Unit, at_least, show_length};
use crate::resolve::{Expectation, Recipe, Subject};
use crate::source::Span;
use crate::syntax::Comparator;
use crate::tables::glues;
use crate::workings::Known;

use super::Planned;
use super::glue::{GlueStep, GlueWork};

/// A segment's long edge is under the shop's least; `fewer` segments would do. `is_for_all`: every ring
/// whose count is set in the same place is as bad.
pub(super) fn short_segment(
    layer: Planned<'_>,
    (ring, size): (&RingShape, &SegmentCut),
    segments: Known<Count>,
    least: Known<Length>,
    (fewer, is_for_all): (Option<u32>, bool),
    recipe: &Recipe,
) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let (long, safe) = (show(size.long_edge.value), show(least.value));
    let message = if ring.cuts.len() > 1 {
        format!(
            "the smallest of {} segments are {long} long at the outside, under the {safe} that is safe to saw",
            segments.value.0
        )
    } else {
        format!("{} segments are {long} long at the outside, under the {safe} that is safe to saw", segments.value.0)
    };
    let help = match fewer {
        Some(count) => {
            format!("use `segments {count}`, or hold each piece in a clamp on a sled and set `safe-piece` lower")
        }
        None => "hold each piece in a clamp on a sled and set `safe-piece` lower, or make the ring a `disc`".to_owned(),
    };
    let place = segments.origin.span().unwrap_or(layer.said.head);
    let fix = fewer.filter(|_| is_for_all).and_then(|count| {
        let edit = layer.said.say_segments(segments.origin, count)?;
        Some(Fix::ask(format!("use {count} segments"), edit.span, edit.text))
    });
    Finding::new(&catalog::SAW_SHORT_SEGMENT, place, message)
        .also_maybe((place != layer.said.head).then_some(layer.said.head), "for this ring")
        .rank((least.value - size.long_edge.value).mm())
        .also_maybe(least.origin.span(), "the least is set here")
        .help(help)
        .fix_maybe(fix)
}

/// A laminated board that the layer's thickness cannot come from.
pub(super) fn thin_board(
    layer: Planned<'_>,
    (name, board): (&str, Span),
    (has, wanted): (Length, Length),
    recipe: &Recipe,
) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let message = format!(
        "the plies of `{name}` make {}, and this layer wants {} before its faces are flattened",
        show(has),
        show(at_least(wanted, recipe.units))
    );
    Finding::new(&catalog::BOARD_TOO_THIN, layer.said.head, message)
        .also(board, "the board is made here")
        .rank((wanted - has).mm())
        .help(format!(
            "make a ply thicker by {} or more, or the layer thinner",
            show(at_least(wanted - has, recipe.units))
        ))
}

/// A segment's inner edge is so short that the piece ends nearly in a point.
pub(super) fn pointed_segment(layer: Planned<'_>, size: &SegmentCut, least: Length, recipe: &Recipe) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let message = format!(
        "a segment ends nearly in a point: its short edge is {}, its long edge {}",
        show(size.short_edge.value.max(Length::ZERO)),
        show(size.long_edge.value),
    );
    Finding::new(&catalog::SAW_POINTED_SEGMENT, layer.said.head, message)
        .also_maybe(recipe.wall.origin.span(), "the wall is set here")
        .help(format!(
            "check the wall; fewer segments, a thinner wall or a smaller `allow` make the short edge longer than {}",
            show(least)
        ))
        .rank((least - size.short_edge.value).mm())
}

/// A glue-up takes longer to spread and close than its glue stays open.
pub(super) fn open_time(layer: Planned<'_>, step: &GlueStep, recipe: &Recipe) -> Finding {
    let key = recipe.glues.get(step.glue).map_or("", |used| used.glue.key.as_str());
    let what = match step.work {
        GlueWork::Board { .. } => "gluing its laminated board",
        GlueWork::Panel { .. } => "gluing boards edge to edge",
        GlueWork::Spacers { .. } => "gluing spacers to segments",
        GlueWork::Plug => "gluing the plug in",
        GlueWork::SetOpen { .. } => "setting an open segment",
        GlueWork::Run { .. } => "gluing a run of segments",
        GlueWork::Half { .. } => "gluing a half ring",
        GlueWork::Close => "closing the ring",
        GlueWork::WholeRing { .. } => "gluing the ring in one go",
        GlueWork::Stack { .. } => "gluing it to the layer below",
    };
    let message = format!(
        "{what} takes {} to spread and close, and `{key}` stays open for {}",
        show_minutes(step.wet.value.minutes()),
        show_minutes(step.open.value.minutes()),
    );
    Finding::new(&catalog::GLUE_OPEN_TIME, layer.said.head, message)
        .also_maybe(layer.said.glue.origin.span(), "the glue is chosen here")
        .help_maybe(slower_than(step).map(|glue| format!("set a glue that stays open longer, such as `glue {glue}`")))
}

/// The glue with the shortest open time that suffices.
fn slower_than(step: &GlueStep) -> Option<&'static str> {
    let needed = step.wet.value.minutes();
    let enough = glues().iter().filter(|glue| glue.open_assembly_min >= needed);
    enough.min_by(|a, b| a.open_assembly_min.total_cmp(&b.open_assembly_min)).map(|glue| glue.key.as_str())
}

fn show_minutes(minutes: f64) -> String {
    if minutes < 2.0 { format!("{:.0} s", minutes * 60.0) } else { format!("{minutes:.1} min") }
}

/// What the boards cost is promised, and nobody said what they cost.
pub(super) fn cost_unknown(expect: &Expectation) -> Finding {
    let message = "boards are to be bought whose price is not known, so the promised cost cannot be kept".to_owned();
    Finding::new(&catalog::EXPECT_BROKEN, expect.bound_span, message)
        .here("promised here")
        .help("name the boards that are sold, with their prices, in `shop { for-sale { … } }`")
}

/// A promise does not hold; `actual` in the base unit of the subject.
pub(super) fn expect_broken(expect: &Expectation, actual: f64, units: System) -> Finding {
    let (actual_shown, bound_shown) = show_pair(expect.subject, actual, expect.bound, units);
    let is_low = actual < expect.bound;
    let (name, help) = match (expect.subject, is_low) {
        (Subject::Capacity, true) => ("capacity", "widen or raise the outside, or make the wall or the floor thinner"),
        (Subject::Capacity, false) => {
            ("capacity", "narrow or lower the outside, or make the wall or the floor thicker")
        }
        (Subject::Mass, true) => ("mass", "make the wall or the floor thicker, or choose a heavier wood"),
        (Subject::Mass, false) => ("mass", "make the wall or the floor thinner, or choose a lighter wood"),
        (Subject::Height, true) => ("height", "raise the last point of the outside and add a layer"),
        (Subject::Height, false) => ("height", "lower the last point of the outside and leave out a layer"),
        (Subject::Diameter, true) => ("diameter", "widen the outside at its widest point"),
        (Subject::Diameter, false) => ("diameter", "narrow the outside at its widest point"),
        (Subject::Pieces, true) => ("count of pieces", "use more segments or more layers"),
        (Subject::Pieces, false) => ("count of pieces", "use fewer segments or fewer layers"),
        (Subject::Cost, true) => ("cost of boards", "correct the promise"),
        (Subject::Cost, false) => {
            ("cost of boards", "choose a cheaper wood, or use boards that are at hand: name them in `boards`")
        }
        (Subject::Days, true) => ("time from first glue-up to last", "correct the promise"),
        (Subject::Days, false) => {
            ("time from first glue-up to last", "work with more clamps, a faster glue or fewer layers")
        }
        (Subject::BoardFeet, true) => ("wood to saw", "correct the promise, or allow more for turning"),
        (Subject::BoardFeet, false) => {
            ("wood to saw", "use thinner layers on slanting walls, or allow less for turning")
        }
    };
    let wanted = match expect.comparator {
        Comparator::AtLeast => "at least",
        Comparator::AtMost => "at most",
        Comparator::Above => "more than",
        Comparator::Below => "less than",
        Comparator::Equal => "exactly",
    };
    let message = format!("the {name} comes to {actual_shown}, and {wanted} {bound_shown} is promised");
    Finding::new(&catalog::EXPECT_BROKEN, expect.bound_span, message).here("promised here").help(help)
}

/// Both numbers in the recipe's units, with as many digits as it takes to tell them apart.
fn show_pair(subject: Subject, actual: f64, bound: f64, units: System) -> (String, String) {
    let pair = |digits| (show(subject, actual, digits, units), show(subject, bound, digits, units));
    let apart = (0..9).map(pair).find(|(actual, bound)| actual != bound);
    apart.unwrap_or_else(|| pair(0))
}

fn show(subject: Subject, value: f64, digits: usize, units: System) -> String {
    match (subject, units) {
        (Subject::Pieces, _) => format!("{value:.0}"),
        // A promise may be of half a day.
        (Subject::Days, _) => match value.to_string().as_str() {
            "1" => "1 day".to_owned(),
            days => format!("{days} days"),
        },
        (Subject::Cost, _) => {
            let digits = digits.max(2);
            format!("{value:.digits$}")
        }
        (Subject::BoardFeet, _) => {
            let digits = digits + 2;
            format!("{value:.digits$} board feet")
        }
        (Subject::Height | Subject::Diameter, _) if digits == 0 => show_length(Length::from_mm(value), units),
        (Subject::Height | Subject::Diameter, _) => in_unit(units.word(), value, digits + 2),
        (Subject::Capacity, System::Millimeter) => in_unit("ml", value, digits),
        (Subject::Capacity, System::Inch) => {
            format!("{} ({})", in_unit("floz", value, digits + 1), in_unit("ml", value, digits))
        }
        (Subject::Mass, System::Millimeter) => in_unit("g", value, digits),
        (Subject::Mass, System::Inch) => {
            format!("{} ({})", in_unit("lb", value, digits + 2), in_unit("g", value, digits))
        }
    }
}

/// `value`, in the base unit, as so many of the unit that recipes write so.
fn in_unit(spelling: &str, value: f64, digits: usize) -> String {
    let factor = Unit::find(spelling).map_or(1.0, |unit| unit.factor);
    format!("{:.digits$} {spelling}", value / factor)
}
