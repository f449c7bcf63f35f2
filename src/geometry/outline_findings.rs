//! What the geometry has to say of outlines, worded: one constructor a finding.

use kurbo::Point;

use crate::finding::{Finding, catalog};
use crate::quantity::{Length, System, at_most, show_length};
use crate::resolve::{Detail, Foot, Outside, OutsidePath, OutsidePoint, Recipe};
use crate::workings::Known;

use super::detail::Misfit;
use super::inside::Thinnest;
use super::path::{Fall, Unreadable};

/// Path data that is no outline.
pub(super) fn path_unreadable(path: &OutsidePath, why: Unreadable) -> Finding {
    let (why, help) = match why {
        Unreadable::Number => (
            "something else stands where a number belongs".to_owned(),
            "behind each letter stand plain numbers, decimals with a point: `M 40 0 L 52.5 30`".to_owned(),
        ),
        Unreadable::Ends => (
            "it ends in the middle of a command".to_owned(),
            "`M`, `L` want a radius and a height, `C` three pairs, `Q` two, `H` and `V` one number".to_owned(),
        ),
        Unreadable::Command(letter) => (
            format!("there is no command `{letter}`"),
            "the commands are M, L, H, V, C, S, Q, T and A, or the small letters for steps from where the path is"
                .to_owned(),
        ),
        Unreadable::NoStart => {
            ("it does not say where it begins".to_owned(), "begin with `M` and the radius of the base: `M 40 0`".into())
        }
        Unreadable::Empty => {
            ("it draws nothing".to_owned(), "go on from the first point, for example `M 40 0 L 52 80`".into())
        }
        Unreadable::SecondStroke => (
            "it lifts the pen: a second `M` begins another line".to_owned(),
            "draw the outline in one go, from the base to the rim".to_owned(),
        ),
        Unreadable::Huge => (
            "a number in it is larger than anything that can be turned".to_owned(),
            "check the digits and the exponents of its numbers".to_owned(),
        ),
        Unreadable::Closed => (
            "it is closed by a `Z`".to_owned(),
            "leave the `Z` away: the outline goes from the base to the rim and ends there".to_owned(),
        ),
    };
    Finding::new(&catalog::SHAPE_PATH_UNREADABLE, path.text.span, format!("this path cannot be read: {why}")).help(help)
}

/// A coordinate beyond all reason.
pub(super) fn path_too_large(path: &OutsidePath, at: Point, units: System) -> Finding {
    let message =
        format!("a point of the path at {} is larger than anything that can be turned", place(at.x, at.y, units));
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, path.text.span, message)
        .help("check the numbers of the path; the most is 10 km")
}

/// A path that does not begin on the bench.
pub(super) fn path_not_on_bench(path: &OutsidePath, start: Length, units: System) -> Finding {
    Finding::new(
        &catalog::SHAPE_BASE_NOT_AT_ZERO,
        path.text.span,
        format!("the path begins at height {}; it has to begin on the bench, at 0", show_length(start, units)),
    )
    .help("write 0 as the second number behind `M`; y is the height above the bench and grows upward")
}

/// A path that goes beyond the axis.
pub(super) fn path_past_axis(path: &OutsidePath, least: Length, units: System) -> Finding {
    Finding::new(
        &catalog::QUANTITY_OUT_OF_RANGE,
        path.text.span,
        format!("the path reaches a radius of {}, beyond the axis", show_length(least, units)),
    )
    .help("x is the radius, from the axis outward: keep it at 0 or more")
}

/// A path that leans back over itself.
pub(super) fn overhang(path: &OutsidePath, fall: Fall, units: System) -> Finding {
    let message = format!(
        "the path falls from {} to {}, so there are two radii at one height",
        place(fall.from.x, fall.from.y, units),
        place(fall.to.x, fall.to.y, units)
    );
    Finding::new(&catalog::SHAPE_OVERHANG, path.text.span, message)
        .help("let the height grow or stay all along; a level line makes a step")
}

fn place(x: f64, y: f64, units: System) -> String {
    let show = |mm| show_length(Length::from_mm(mm), units);
    format!("radius {}, height {}", show(x), show(y))
}

/// A fillet with no second span.
pub(super) fn round_at_end(point: &OutsidePoint, radius: Known<Length>) -> Finding {
    round(point, radius, "a fillet lies between two spans; the first and the last point have only one".to_owned())
        .help("take `round` away, or put the point between two others")
}

/// A fillet beside a smooth span.
pub(super) fn round_beside_smooth(point: &OutsidePoint, radius: Known<Length>) -> Finding {
    round(point, radius, "a fillet lies between two straight spans; beside this point one is smooth".to_owned())
        .help("write `straight` behind this point and the next, or take `round` away")
}

/// A fillet that takes more of a span than there is.
pub(super) fn round_too_large(
    point: &OutsidePoint,
    wants: Length,
    has: Length,
    largest: Length,
    units: System,
) -> Finding {
    let show = |length| show_length(length, units);
    let Some(radius) = point.round else {
        return Finding::new(&catalog::SHAPE_ROUND_DOES_NOT_FIT, point.span, "the fillet does not fit");
    };
    let message =
        format!("a fillet of {} takes {} of a span that is {} long", show(radius.value), show(wants), show(has));
    let finding = round(point, radius, message);
    if largest > Length::ZERO {
        finding.help(format!("`round` {} would fit", show(at_most(largest, units))))
    } else {
        finding.help("the fillets at the two ends of the span take all of it: make both smaller")
    }
}

fn round(point: &OutsidePoint, radius: Known<Length>, message: String) -> Finding {
    Finding::new(&catalog::SHAPE_ROUND_DOES_NOT_FIT, radius.origin.span().unwrap_or(point.span), message)
}

/// A foot as high as the vessel.
pub(super) fn foot_too_tall(foot: &Foot, height: Length, units: System) -> Finding {
    let show = |length| show_length(length, units);
    Finding::new(
        &catalog::SHAPE_DETAIL_DOES_NOT_FIT,
        foot.span,
        format!("a foot {} tall leaves nothing of a vessel {} high", show(foot.tall.value), show(height)),
    )
    .help("make the foot lower than the vessel")
}

/// Two details in one place.
pub(super) fn details_overlap(upper: &Detail, start: Length, lower: &Detail, end: Length, units: System) -> Finding {
    let show = |length| show_length(length, units);
    let (word, under) = (upper.kind.word(), lower.kind.word());
    Finding::new(
        &catalog::SHAPE_DETAIL_DOES_NOT_FIT,
        upper.span,
        format!("this {word} begins at height {}, the {under} under it ends at {}", show(start), show(end)),
    )
    .also(lower.span, format!("the {under} under it"))
    .help(format!("move them {} apart, or make one less tall", show(end - start)))
}

/// A detail that has no place.
pub(super) fn detail_misfit(detail: &Detail, (low, high): (Length, Length), misfit: Misfit, units: System) -> Finding {
    let show = |length| show_length(length, units);
    let (word, clause) = (detail.kind.word(), detail.kind.depth_word());
    let span = format!("a {word} from height {} to {}", show(low), show(high));
    let (message, help) = match misfit {
        Misfit::BeyondEnds(bottom, top) => (
            format!("{span} reaches beyond the curve, which goes from {} to {}", show(bottom), show(top)),
            format!("move the {word} or make it less tall"),
        ),
        Misfit::NoRun(Some((from, to))) => (
            format!("{span} wants a straight run; the one at its middle goes from {} to {}", show(from), show(to)),
            format!("move the {word} or make it less tall"),
        ),
        Misfit::NoRun(None) => (
            format!("{span} wants a straight run; the curve bends there"),
            "write `straight` behind the point over it, or move it to a straight span".to_owned(),
        ),
        Misfit::Overhangs(most) => (
            format!(
                "a {word} {clause} by {} leans back over itself on this run; the most is {}",
                detail.depth.map_or_else(String::new, |depth| show(depth.value)),
                show(at_most(most, units))
            ),
            format!("leave `{clause}` away for the roundest {word} that fits, or write a smaller one"),
        ),
        Misfit::PastAxis => {
            (format!("{span} goes in so deep that it reaches the axis"), format!("make `{clause}` less"))
        }
    };
    let place = match misfit {
        Misfit::Overhangs(_) | Misfit::PastAxis => detail.depth.and_then(|depth| depth.origin.span()),
        Misfit::BeyondEnds(..) | Misfit::NoRun(_) => None,
    };
    Finding::new(&catalog::SHAPE_DETAIL_DOES_NOT_FIT, place.unwrap_or(detail.span), message).help(help)
}

/// An inside that does not begin on the floor.
pub(super) fn inside_off_floor(recipe: &Recipe, inside: &Outside, begins: Length) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let message =
        format!("the inside begins at height {}, the floor is {} thick", show(begins), show(recipe.floor.value));
    Finding::new(&catalog::SHAPE_INSIDE_ENDS, curve_place(inside), message)
        .also_maybe(recipe.floor.origin.span(), "the floor is set here")
        .help(format!("begin the inside at {}, or set `floor` to {}", show(recipe.floor.value), show(begins)))
}

/// An inside that ends under or over the rim, or the top of a lidded vessel.
pub(super) fn inside_off_rim(
    recipe: &Recipe,
    inside: &Outside,
    ends: Length,
    wanted: Length,
    height: Length,
) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let (what, help) = match recipe.top {
        Some(_) => {
            let top = height - ends;
            let other = if top > Length::ZERO { format!(", or set `top` to {}", show(top)) } else { String::new() };
            ("the cavity ends under the top", format!("end the inside at {}{other}", show(wanted)))
        }
        None => ("the rim is", format!("end the inside at {}, the height of the outside", show(wanted))),
    };
    let message = format!("the inside ends at height {}; {what} at {}", show(ends), show(wanted));
    Finding::new(&catalog::SHAPE_INSIDE_ENDS, curve_place(inside), message)
        .also_maybe(recipe.top.and_then(|top| top.origin.span()), "the top is set here")
        .also(recipe.outside.span, "the outside is given here")
        .help(help)
}

/// An inside that reaches the outside or beyond it.
pub(super) fn inside_crosses(recipe: &Recipe, inside: &Outside, thinnest: Thinnest, outside: Length) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let message = format!(
        "at height {} the inside is {} in radius and the outside {}: there is no wood between them",
        show(thinnest.at.height),
        show(thinnest.at.radius),
        show(outside)
    );
    Finding::new(&catalog::SHAPE_INSIDE_CROSSES, inside.span, message)
        .also(recipe.outside.span, "the outside is given here")
        .help(format!("make the inside narrower there, or the outside wider, by more than {}", show(-thinnest.wall)))
}

/// An inside that leaves less than the shop's least wall.
pub(super) fn inside_leaves_thin_wall(recipe: &Recipe, inside: &Outside, thinnest: Thinnest) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let least = recipe.shop.least_wall;
    let message = format!(
        "at height {} the inside leaves a wall of {}, thinner than the shop's least, {}",
        show(thinnest.at.height),
        show(thinnest.wall),
        show(least.value)
    );
    Finding::new(&catalog::WALL_THIN, inside.span, message)
        .also_maybe(least.origin.span(), "the shop's least is set here")
        .help(format!(
            "make the inside {} narrower there, or set a smaller `least-wall`",
            show(least.value - thinnest.wall)
        ))
}

/// A wall that tapers faster than it rises.
pub(super) fn taper_too_steep(recipe: &Recipe, rim: Known<Length>, height: Length) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let message = format!(
        "a wall from {} at the base to {} at the rim changes by {} in a height of {}",
        show(recipe.wall.value),
        show(rim.value),
        show((rim.value - recipe.wall.value).abs()),
        show(height)
    );
    let span = recipe.wall.origin.span().unwrap_or(recipe.outside.span);
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, span, message)
        .also_maybe(rim.origin.span(), "the wall at the rim")
        .help("let the two differ by less than nine tenths of the height")
}

/// Where a curve's first or last point is written.
fn curve_place(curve: &Outside) -> crate::source::Span {
    curve.path.as_ref().map_or(curve.span, |path| path.text.span)
}
