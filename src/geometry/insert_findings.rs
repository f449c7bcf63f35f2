//! What the geometry has to say of inserts, worded.

use crate::finding::{Finding, Fix, catalog};
use crate::quantity::{Angle, Diameter, Length, show_angle, show_length};
use crate::resolve::{Insert, PartKind, Recipe, Seat};
use crate::source::Span;
use crate::workings::{Known, Origin};

use super::insert::LEAST_LEFT;
use super::inserts::LEAST_SHOULDER;
use super::{BuiltInsert, Vessel};

fn show(recipe: &Recipe, length: Length) -> String {
    show_length(length, recipe.units)
}

/// Of a length that must not be exceeded: rounding up would.
fn show_at_most(recipe: &Recipe, length: Length) -> String {
    let step = match recipe.units {
        crate::quantity::System::Inch => Length::from_inches(1.0 / 64.0),
        crate::quantity::System::Millimeter => Length::from_mm(0.1),
    };
    let steps = (length / step + 1e-9).floor().max(0.0);
    show(recipe, step * steps)
}

/// What the depth is written in, or the insert.
fn depth_span(insert: &Insert) -> Span {
    let written = insert.hole_depth.or(insert.form.length()).and_then(|length| length.origin.span());
    written.unwrap_or(insert.head)
}

/// The place is not there.
pub(super) fn no_seat(recipe: &Recipe, vessel: &Vessel, insert: &Insert) -> Finding {
    let has_lid = vessel.layers.iter().any(|layer| layer.part == PartKind::Lid);
    let (lacks, has) = match (insert.seat, has_lid) {
        (Seat::LidTop | Seat::LidInside, false) => ("has no lid", "`body base`, `body inside` and `body side`"),
        (Seat::LidInside, true) => ("has a lid that is solid: it has no inside", "`lid top`"),
        (Seat::BodyInside, _) => ("has no cavity in its body", "`body base` and `body side`"),
        (Seat::LidTop | Seat::BodyBase | Seat::BodySide { .. }, _) => ("has no such place", "`body base`"),
    };
    let message = format!("insert `{}` sits in `{}`, and the vessel {lacks}", insert.name.value, insert.seat.words());
    let lid = recipe.parts.iter().find(|part| part.kind == PartKind::Lid);
    Finding::new(&catalog::INSERT_NO_SEAT, insert.head, message)
        .also_maybe(lid.map(|lid| lid.span), "the lid")
        .help(format!("put it in {has}, or build what is missing"))
}

/// Deeper than there is wood.
pub(super) fn through(recipe: &Recipe, insert: &Insert, built: &BuiltInsert, thickness: Length) -> Finding {
    let message = format!(
        "a hole {} deep and {} across goes through: at the thinnest place under it there are {}",
        show(recipe, built.hole_depth.value),
        show(recipe, built.hole_diameter.value),
        show(recipe, thickness)
    );
    let most = thickness - LEAST_LEFT;
    let help = if most > Length::ZERO {
        format!("drill no deeper than {}, so that {} stay", show_at_most(recipe, most), show(recipe, LEAST_LEFT))
    } else {
        format!("make the wood thicker there: {} have to stay under a hole", show(recipe, LEAST_LEFT))
    };
    Finding::new(&catalog::INSERT_THROUGH, depth_span(insert), message).help(help)
}

/// Little is left.
pub(super) fn thin_left(recipe: &Recipe, insert: &Insert, built: &BuiltInsert, thickness: Length) -> Finding {
    let message = format!(
        "a hole {} deep leaves {} of {}, under the {} that should stay",
        show(recipe, built.hole_depth.value),
        show(recipe, built.left.value),
        show(recipe, thickness),
        show(recipe, LEAST_LEFT)
    );
    let most = thickness - LEAST_LEFT;
    let help = if most > Length::ZERO {
        format!("drill no deeper than {}, or make the wood thicker there", show_at_most(recipe, most))
    } else {
        "make the wood thicker there".to_owned()
    };
    Finding::new(&catalog::INSERT_THIN_LEFT, depth_span(insert), message)
        .rank((LEAST_LEFT - built.left.value).mm())
        .help(help)
}

/// The nearest bit makes another tenon than was asked for.
pub(super) fn no_bit(
    recipe: &Recipe,
    insert: &Insert,
    bit: Diameter,
    tenon: Diameter,
    bits: Option<Origin>,
) -> Finding {
    let wanted = insert.form.diameter();
    let message = format!(
        "no bit makes a hole of {}: the nearest is {}, and so the tenon becomes {}",
        show(recipe, wanted.value),
        show(recipe, bit.across()),
        show(recipe, tenon.across())
    );
    let example = show(recipe, wanted.value);
    Finding::new(&catalog::INSERT_NO_BIT, wanted.origin.span().unwrap_or(insert.head), message)
        .also_maybe(bits.and_then(Origin::span), "the bits are listed here")
        .help(format!("ask for the bit's size, or turn the recess: `hole diameter {example}`"))
        .fix_maybe(wanted.origin.span().map(|span| {
            // Nothing else is made than without it: the bit decides on the hole, and the hole on the tenon.
            let bit = show(recipe, bit.across());
            Fix::ask(format!("write `{bit}`"), span, bit)
        }))
}

/// A given hole is narrower than what goes in.
pub(super) fn hole_narrow(recipe: &Recipe, insert: &Insert, hole: Diameter) -> Finding {
    let wanted = insert.form.diameter();
    let message = format!(
        "a {} of {} does not go into a hole of {}",
        insert.form.word(),
        show(recipe, wanted.value),
        show(recipe, hole.across())
    );
    let span = insert.hole_diameter.and_then(|hole| hole.origin.span());
    Finding::new(&catalog::INSERT_HOLE_TOO_SMALL, span.unwrap_or(insert.head), message)
        .also_maybe(wanted.origin.span(), "what goes in")
        .help("take `hole diameter` out, and bits and glue clearance decide")
        .fix_maybe(insert.said_hole.diameter.map(|span| Fix::ask("take the hole's `diameter` out", span, "")))
}

/// A hole is shallower than its tenon is long.
pub(super) fn hole_shallow(recipe: &Recipe, insert: &Insert, depth: Known<Length>, long: Length) -> Finding {
    let message = format!(
        "a tenon {} long does not go into a hole {} deep: its shoulder stays open",
        show(recipe, long),
        show(recipe, depth.value)
    );
    Finding::new(&catalog::INSERT_HOLE_TOO_SMALL, depth.origin.span().unwrap_or(insert.head), message)
        .also_maybe(insert.form.length().and_then(|length| length.origin.span()), "the tenon")
        .help("take `deep` out: then the hole is 1.5 mm deeper than the tenon is long")
        .fix_maybe(insert.said_hole.deep.map(|span| Fix::ask("take `deep` out", span, "")))
}

/// The hole is wider than what it is made in.
pub(super) fn too_wide(recipe: &Recipe, insert: &Insert, hole: Diameter) -> Finding {
    let where_to = match insert.seat {
        Seat::BodySide { at, .. } => format!("the body at height {}", show(recipe, at.value)),
        Seat::LidTop | Seat::LidInside | Seat::BodyBase | Seat::BodyInside => insert.seat.words().to_owned(),
    };
    let message = format!("a hole {} across has no wood all round it in {where_to}", show(recipe, hole.across()));
    let span = insert.hole_diameter.unwrap_or(insert.form.diameter()).origin.span();
    Finding::new(&catalog::INSERT_TOO_WIDE, span.unwrap_or(insert.head), message)
        .also(insert.head, "for this insert")
        .help("make it narrower, or put it where the vessel is wider")
}

/// A liner that wood will shrink on to, or that does not go in at all.
pub(super) fn liner_tight(recipe: &Recipe, insert: &Insert, room: Diameter, head: Span) -> Finding {
    let liner = insert.form.diameter();
    let gap = (room.across() - liner.value) / 2.0;
    let message = format!(
        "a liner {} across in a room of {} has {} all round; wood moves, and 1 to 2 mm have to stay",
        show(recipe, liner.value),
        show(recipe, room.across()),
        show(recipe, gap.max(Length::ZERO))
    );
    Finding::new(&catalog::INSERT_LINER_TIGHT, liner.origin.span().unwrap_or(head), message)
        .help("take a narrower liner, a thinner wall or a wider vessel where it is narrowest")
}

/// A solid round that moves more than its glue allows.
pub(super) fn wide_round(recipe: &Recipe, insert: &Insert, most: Length) -> Finding {
    let across = insert.form.diameter();
    let message = format!(
        "a solid {} {} across moves with the seasons more than a glued one of over {} should",
        insert.form.word(),
        show(recipe, across.value),
        show(recipe, most)
    );
    Finding::new(&catalog::INSERT_WIDE_ROUND, across.origin.span().unwrap_or(insert.head), message)
        .help("float it in a groove, glue it at its middle only, or make it of segments")
}

/// A hole on the axis ends close to a glue line.
pub(super) fn floor_near_glue_line(
    recipe: &Recipe,
    insert: &Insert,
    built: &BuiltInsert,
    off: Length,
    least: Length,
) -> Finding {
    let message = format!(
        "a hole {} deep ends {} from a glue line; within {} a skin of wood breaks out",
        show(recipe, built.hole_depth.value),
        show(recipe, off),
        show(recipe, least)
    );
    Finding::new(&catalog::INSERT_NEAR_GLUE_LINE, depth_span(insert), message)
        .help(format!("make the hole {} shallower or deeper", show(recipe, least)))
}

/// A side hole's edge is close to a glue line between layers, or crosses it.
pub(super) fn side_near_glue_line(
    recipe: &Recipe,
    insert: &Insert,
    built: &BuiltInsert,
    face: Length,
    least: Length,
) -> Finding {
    let half = built.hole_diameter.value / 2.0;
    let message = format!(
        "the hole reaches from height {} to {}, and a glue line lies at {}",
        show(recipe, built.rim - half),
        show(recipe, built.rim + half),
        show(recipe, face)
    );
    let span = if let Seat::BodySide { at, .. } = insert.seat { at.origin.span() } else { None };
    Finding::new(&catalog::INSERT_NEAR_GLUE_LINE, span.unwrap_or(insert.head), message)
        .help(format!("keep {} of one layer on both sides: move `at`, or make that layer thicker", show(recipe, least)))
}

/// A side hole lies on a joint between segments.
pub(super) fn on_a_joint(
    recipe: &Recipe,
    insert: &Insert,
    built: &BuiltInsert,
    near: Length,
    better: Option<Angle>,
) -> Finding {
    let facing = built.facing.unwrap_or(Angle::ZERO);
    let message = format!(
        "a hole {} across facing {} has a joint between segments {} from its middle",
        show(recipe, built.hole_diameter.value),
        show_angle(facing),
        show(recipe, near)
    );
    let span = match insert.seat {
        Seat::BodySide { facing: Some(facing), .. } => facing.origin.span(),
        Seat::BodySide { .. } | Seat::LidTop | Seat::LidInside | Seat::BodyBase | Seat::BodyInside => None,
    };
    let help = match better {
        Some(better) => format!("face it {}: the middle of a segment", show_angle(better)),
        None => "no segment there is wide enough: make the hole narrower or the segments fewer".to_owned(),
    };
    let fix = span.zip(better).map(|(span, better)| {
        let better = show_angle(better);
        Fix::ask(format!("write `{better}`"), span, better)
    });
    Finding::new(&catalog::INSERT_ON_A_JOINT, span.unwrap_or(insert.head), message).help(help).fix_maybe(fix)
}

/// Two holes share wood.
pub(super) fn overlap(first: &Insert, second: &Insert) -> Finding {
    let message = format!("the holes of `{}` and `{}` run into each other", first.name.value, second.name.value);
    Finding::new(&catalog::INSERT_OVERLAP, second.head, message)
        .also(first.head, "the other one")
        .help("move one of them; what is drilled into an insert that sits already must be narrower and come later")
}

/// A blank that is too narrow.
pub(super) fn blank_narrow(recipe: &Recipe, insert: &Insert, has: Known<Length>, needs: Length) -> Finding {
    let message = format!(
        "a blank {} square is narrower than the {} that it takes",
        show(recipe, has.value),
        show(recipe, needs)
    );
    Finding::new(&catalog::INSERT_BLANK_SMALL, has.origin.span().unwrap_or(insert.head), message)
        .help("3 mm over the finished diameter are for turning it round")
}

/// A blank that is too short.
pub(super) fn blank_short(recipe: &Recipe, insert: &Insert, has: Known<Length>, needs: Length) -> Finding {
    let message =
        format!("a blank {} long is shorter than the {} that it takes", show(recipe, has.value), show(recipe, needs));
    Finding::new(&catalog::INSERT_BLANK_SMALL, has.origin.span().unwrap_or(insert.head), message)
        .help("what is seen, the tenon, 20 mm for the chuck, 3 mm to part and 2 mm to face each end")
}

/// What is seen is hardly wider than the hole.
pub(super) fn no_shoulder(recipe: &Recipe, insert: &Insert, seen: Known<Length>, hole: Diameter) -> Finding {
    let shoulder = (seen.value - hole.across()) / 2.0;
    let message = format!(
        "{} across over a hole of {} has a shoulder of {}, under {}",
        show(recipe, seen.value),
        show(recipe, hole.across()),
        show(recipe, shoulder.max(Length::ZERO)),
        show(recipe, LEAST_SHOULDER)
    );
    Finding::new(&catalog::INSERT_NO_SHOULDER, seen.origin.span().unwrap_or(insert.head), message)
        .help("take a thinner tenon, or let the part flare out over its hole")
}
