//! What the geometry has to say, each sentence once.

use crate::finding::{Finding, catalog};
use crate::quantity::{Length, show_length, show_millimeters};
use crate::resolve::{Layer, Recipe, Ring, Stagger};
use crate::source::Span;
use crate::workings::{Known, Origin};

use super::joints::LineUp;
use super::vessel::BuiltLayer;

/// A strip that is there already, and what it comes to.
pub(super) struct Strip {
    pub(super) given: Known<Length>,
    /// What wall and allowance need.
    pub(super) needed: Length,
    /// Where its hole's corners lie.
    pub(super) corner: Length,
    /// The least finished inside radius.
    pub(super) inner: Length,
}

fn show(recipe: &Recipe, length: Length) -> String {
    show_length(length, recipe.units)
}

/// Where a value comes from, for a second place.
fn said_here(known: Origin) -> &'static str {
    match known {
        Origin::Every(_) => "for every such layer, here",
        Origin::Shop(_) => "set in the shop, here",
        Origin::Written(_) | Origin::Default(_) | Origin::Table(_) | Origin::Figure(_) => "set here",
    }
}

pub(super) fn no_cavity_height(recipe: &Recipe, height: Length) -> Finding {
    let place = recipe.floor.origin.span().or(recipe.wall.origin.span()).unwrap_or(recipe.outside.span);
    let solid = match recipe.top {
        Some(top) => format!("floor and top take {} together", show(recipe, recipe.floor.value + top.value)),
        None => format!("the floor takes {}", show(recipe, recipe.floor.value)),
    };
    Finding::new(
        &catalog::WALL_THICKER_THAN_RADIUS,
        place,
        format!("{solid} of a height of {}: there is no cavity", show(recipe, height)),
    )
    .also_maybe(recipe.top.and_then(|top| top.origin.span()), "the top is set here")
    .help("make the floor thinner or the shape taller")
}

pub(super) fn wall_closes(recipe: &Recipe, height: Length, across: Length) -> Finding {
    let place = recipe.wall.origin.span().unwrap_or(recipe.outside.span);
    let message = format!(
        "a wall of {} leaves no cavity at a height of {}, where the vessel is {} across",
        show(recipe, recipe.wall.value),
        show(recipe, height),
        show(recipe, across)
    );
    Finding::new(&catalog::WALL_THICKER_THAN_RADIUS, place, message)
        .also(recipe.outside.span, "the outside is drawn here")
        .help("make the wall thinner, the shape wider there, or the floor or top thick enough to take that part in")
}

pub(super) fn thin(recipe: &Recipe, thickness: Known<Length>, word: &str) -> Option<Finding> {
    let place = thickness.origin.span()?;
    let least = recipe.shop.least_wall;
    let message = format!(
        "a {word} of {} is thinner than the shop's least of {}",
        show(recipe, thickness.value),
        show(recipe, least.value)
    );
    Some(
        Finding::new(&catalog::WALL_THIN, place, message)
            .also_maybe(least.origin.span(), said_here(least.origin))
            .help("make it thicker, or set `least-wall` in the shop if this bench turns so thin"),
    )
}

fn count(n: u32) -> String {
    if n == 1 { "1 segment".to_owned() } else { format!("{n} segments") }
}

pub(super) fn does_not_close(recipe: &Recipe, ring: &Ring) -> Finding {
    let motif = &ring.pattern.motif;
    let (length, segments) = (motif.len(), ring.segments.value.0 as usize);
    let wood = |at: usize| {
        let wood = motif.get(at).and_then(|wood| recipe.woods.get(*wood));
        wood.map_or("", |wood| wood.name.as_str())
    };
    let (last, first) = (wood((segments - 1) % length), wood(0));
    let seam = if last == first {
        format!("at the seam two `{first}` meet")
    } else {
        format!("at the seam `{last}` meets `{first}`, {} segments into the pattern", segments % length)
    };
    let below = segments / length * length;
    let closing: Vec<String> =
        [below, below + length].into_iter().filter(|count| *count >= 3).map(|count| count.to_string()).collect();
    Finding::new(
        &catalog::PATTERN_DOES_NOT_CLOSE,
        ring.pattern.span,
        format!("a pattern of {length} does not close in {}: {seam}", count(ring.segments.value.0)),
    )
    .also_maybe(ring.segments.origin.span(), said_here(ring.segments.origin))
    .help(format!("{} segments would close it", closing.join(" or ")))
}

pub(super) fn must_be_solid(
    recipe: &Recipe,
    layer: &Layer,
    ring: &Ring,
    faces: (Length, Length),
    solid: (&str, Length),
) -> Finding {
    let (word, at) = solid;
    let place = layer.head.to(ring.pattern.span);
    let wood = ring.pattern.motif.first().and_then(|wood| recipe.woods.get(*wood));
    let wood = wood.map_or("maple", |wood| wood.name.as_str());
    let (reach, ends) = if word == "floor" {
        (format!("begins at {}", show(recipe, faces.0)), "ends")
    } else {
        (format!("ends at {}", show(recipe, faces.1)), "begins")
    };
    let setting = if word == "floor" { Some(recipe.floor) } else { recipe.top };
    Finding::new(
        &catalog::RING_MUST_BE_SOLID,
        place,
        format!("this ring {reach}, and the {word} {ends} at {}: the layer has to be solid", show(recipe, at)),
    )
    .also_maybe(setting.and_then(|setting| setting.origin.span()), &format!("the {word} is set here"))
    .help(format!("use `disc {wood}` here, or let the {word} end where a layer does"))
}

pub(super) fn does_not_cover(recipe: &Recipe, layer: &Layer, strip: &Strip, height: Length) -> Finding {
    let message = format!(
        "a ring from a strip of {} does not cover the wall: its hole's corners reach {}, the inside is at {}, so {} are missing",
        show(recipe, strip.given.value),
        show(recipe, strip.corner),
        show(recipe, strip.inner),
        short(recipe, strip.corner - strip.inner)
    );
    Finding::new(&catalog::RING_DOES_NOT_COVER, strip.given.origin.span().unwrap_or(layer.head), message)
        .also(layer.head, format!("for this ring, narrowest at a height of {}", show(recipe, height)))
        .help(format!("rip the strip {} wide, or take more segments or a thinner layer", up(recipe, strip.needed)))
}

pub(super) fn allowance_short(recipe: &Recipe, layer: &Layer, strip: &Strip) -> Finding {
    let left = strip.inner - strip.corner;
    let message = format!(
        "a ring from a strip of {} covers the wall but leaves only {} of the {} for turning inside",
        show(recipe, strip.given.value),
        short(recipe, left),
        show(recipe, layer.allow.value)
    );
    Finding::new(&catalog::RING_ALLOWANCE_SHORT, strip.given.origin.span().unwrap_or(layer.head), message)
        .also_maybe(layer.allow.origin.span(), said_here(layer.allow.origin))
        .help(format!(
            "rip the strip {} wide, or center the rings with care and say so with `allow`",
            up(recipe, strip.needed)
        ))
}

pub(super) fn strip_past_center(recipe: &Recipe, layer: &Layer, given: Known<Length>, outer: Length) -> Finding {
    let message = format!(
        "a strip of {} is wider than the blank's radius of {}: its segments would meet before they are through",
        show(recipe, given.value),
        show(recipe, outer)
    );
    Finding::new(&catalog::RING_STRIP_PAST_CENTER, given.origin.span().unwrap_or(layer.head), message)
        .help("rip it narrower, leave `strip` out to have it computed, or use a `disc`")
}

/// Small lengths in millimeters too: a sixty-fourth hides what is missing.
fn short(recipe: &Recipe, length: Length) -> String {
    let own = show(recipe, length);
    let millimeters = show_millimeters(length);
    if own == millimeters { own } else { format!("{own} ({millimeters})") }
}

/// A width to rip: at least what is needed when it is read off a rule.
fn up(recipe: &Recipe, length: Length) -> String {
    let step = match recipe.units {
        crate::quantity::System::Inch => Length::from_inches(1.0 / 64.0),
        crate::quantity::System::Millimeter => Length::from_mm(0.1),
    };
    show(recipe, step * (length / step - 1e-9).ceil())
}

pub(super) fn joints_line_up(
    recipe: &Recipe,
    layer: &Layer,
    ring: &Ring,
    below: Span,
    line_up: LineUp,
    distance: Length,
) -> Finding {
    let stagger = match ring.stagger.value {
        Stagger::Half => "as far apart as the two counts allow",
        Stagger::None => "`stagger none`",
        Stagger::Share(_) | Stagger::By(_) => "the stagger chosen",
    };
    let which = if line_up.near.0 == ring.segments.value.0 {
        format!("all {} joints", line_up.near.0)
    } else {
        format!("{} of {} joints", line_up.near.0, ring.segments.value.0)
    };
    let how = if distance.mm() < 0.005 { "over".to_owned() } else { format!("within {} of", short(recipe, distance)) };
    let message = format!("{which} of this ring lie {how} joints of the ring below ({stagger})");
    let finding = Finding::new(&catalog::RING_JOINTS_LINE_UP, layer.head, message)
        .also(below, "the ring below")
        .also_maybe(ring.stagger.origin.span(), said_here(ring.stagger.origin));
    match ring.stagger.value {
        Stagger::Half => finding.help("give both rings counts of which one divides the other"),
        Stagger::None | Stagger::Share(_) | Stagger::By(_) => finding.help("use `stagger half`"),
    }
}

pub(super) fn apart(recipe: &Recipe, below: (&BuiltLayer, Span), above: (&BuiltLayer, Span), gap: Length) -> Finding {
    Finding::new(
        &catalog::RING_APART,
        above.1,
        format!("this layer does not touch the one below: {} are missing between their blanks", short(recipe, gap)),
    )
    .also(below.1, format!("the layer below, {} across as glued", show(recipe, below.0.blank_outer_radius.value * 2.0)))
    .help("make the wall thicker, the layers thinner, or set a larger `allow`")
}

pub(super) fn narrow_overlap(recipe: &Recipe, below: Span, above: Span, radii: (Length, Length)) -> Finding {
    let least = recipe.shop.least_glue;
    let message = format!(
        "the glue face to the layer below is {} wide, under the shop's least of {}: it runs from {} to {} from the axis",
        show(recipe, radii.0 - radii.1),
        show(recipe, least.value),
        show(recipe, radii.1),
        show(recipe, radii.0)
    );
    Finding::new(&catalog::RING_NARROW_OVERLAP, above, message)
        .also(below, "the layer below")
        .also_maybe(least.origin.span(), said_here(least.origin))
        .help("make the wall thicker, the layers thinner, or set a larger `allow`")
}

pub(super) fn stack_too_short(
    recipe: &Recipe,
    part: Span,
    lacks: Length,
    top: Length,
    height: Known<Length>,
    last: Length,
) -> Finding {
    let one_more = (lacks - last).abs() < Length::from_mm(0.05);
    let finding = Finding::new(
        &catalog::STACK_TOO_SHORT,
        part,
        format!(
            "the layers end at {}, and the shape at {}: {} are missing",
            show(recipe, top),
            show(recipe, height.value),
            show(recipe, lacks)
        ),
    )
    .also_maybe(height.origin.span(), "the rim is here");
    if one_more {
        finding.help(format!("one more layer of {} would do", show(recipe, last)))
    } else {
        finding.help(format!("add {} of layers, or make the shape as tall as they are", show(recipe, lacks)))
    }
}

pub(super) fn stack_too_tall(
    recipe: &Recipe,
    layer: Span,
    over: Length,
    top: Length,
    height: Known<Length>,
) -> Finding {
    Finding::new(
        &catalog::STACK_TOO_TALL,
        layer,
        format!(
            "the layers end at {}, and the shape at {}: {} of this layer are turned away",
            show(recipe, top),
            show(recipe, height.value),
            show(recipe, over)
        ),
    )
    .also_maybe(height.origin.span(), "the rim is here")
    .help("make this layer thinner, or the shape as tall as the layers are")
}

pub(super) fn layer_beyond_shape(recipe: &Recipe, layer: Span, z0: Length, height: Known<Length>) -> Finding {
    Finding::new(
        &catalog::STACK_LAYER_BEYOND_SHAPE,
        layer,
        format!(
            "this layer begins at {}, and the shape ends at {}: nothing of it would be left",
            show(recipe, z0),
            show(recipe, height.value)
        ),
    )
    .also_maybe(height.origin.span(), "the rim is here")
    .help("take the layer out, or make the shape taller")
}
