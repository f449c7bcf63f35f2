//! What the geometry has to say, worded: one constructor a finding.

use crate::finding::{Code, Edit, Finding, Fix, catalog, limits};
use crate::quantity::{Count, Length, System, at_least, show_length};
use crate::resolve::{Layer, LayerKind, OutsidePoint, Recipe, Ring};
use crate::source::Span;
use crate::workings::{Known, Origin};

use super::layers::Solid;
use super::pattern::{Seam, does_pattern_close};
use super::profile::ProfilePoint;
use super::shape::{Closed, Shape};
use super::vessel::Contact;

/// A size of the outside that is beyond all reason.
pub(super) fn shape_too_large(point: &OutsidePoint, units: System) -> Finding {
    let (height, across) = (point.height.value, point.diameter.value.across());
    let message = format!(
        "a point {} across at height {} is larger than anything that can be turned",
        show_length(across, units),
        show_length(height, units)
    );
    Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, point.span, message)
        .help("check the units of this point; the most is 10 km")
}

/// An outside that has no height or no width.
pub(super) fn no_shape(outside: Span) -> Finding {
    Finding::new(&catalog::SHAPE_TOO_FEW_POINTS, outside, "the points of `outside` enclose nothing")
        .help("give at least two points of different height, one of them with a diameter")
}

/// A wall as thick as the vessel's half.
pub(super) fn wall_beyond_radius(recipe: &Recipe, widest: Length) -> Finding {
    let units = recipe.units;
    let message = format!(
        "a wall of {} leaves no cavity: the outside is {} in radius where it is widest",
        wall_words(recipe),
        show_length(widest, units)
    );
    wall_finding(recipe, message).help(format!("make `wall` much thinner than {}", show_length(widest, units)))
}

/// Floor and top that meet.
pub(super) fn no_cavity_height(recipe: &Recipe, height: Length) -> Finding {
    let units = recipe.units;
    let show = |length| show_length(length, units);
    let (message, solid) = match recipe.top {
        Some(top) => (
            format!(
                "a floor of {} and a top of {} leave no cavity in a height of {}",
                show(recipe.floor.value),
                show(top.value),
                show(height)
            ),
            "`floor` and `top`",
        ),
        None => (
            format!("a floor of {} leaves no cavity in a height of {}", show(recipe.floor.value), show(height)),
            "`floor`",
        ),
    };
    let span = recipe.floor.origin.span().or(recipe.wall.origin.span()).unwrap_or(recipe.outside.span);
    Finding::new(&catalog::WALL_THICKER_THAN_RADIUS, span, message)
        .also_maybe(recipe.top.and_then(|top| top.origin.span()), "the top is set here")
        .help(format!("make {solid} thinner, together less than {}", show(height)))
}

/// A stretch of height in which the wall takes all there is.
pub(super) fn wall_closes_cavity(recipe: &Recipe, shape: &Shape, closed: Closed, narrowest: ProfilePoint) -> Finding {
    let units = recipe.units;
    let show = |length| show_length(length, units);
    let message = format!(
        "a wall of {}, square to the outside, leaves no cavity from height {} to {}; the outside is {} in radius at height {}",
        wall_words(recipe),
        show(closed.from),
        show(closed.to),
        show(narrowest.radius),
        show(narrowest.height)
    );
    let (is_bottom, is_top) = (closed.from <= shape.inside.bottom(), closed.to >= shape.inside.top());
    let help = if is_bottom && !is_top {
        format!("raise `floor` to {} or make `wall` thinner", show_at_least(closed.to, units))
    } else if is_top && !is_bottom && shape.is_closed {
        let top = shape.height.value - closed.from;
        format!("raise `top` to {} or make `wall` thinner", show_at_least(top, units))
    } else {
        "make `wall` thinner or the outside wider there".to_owned()
    };
    wall_finding(recipe, message).help(help)
}

/// `8.00 mm`, or of a tapering wall both ends.
fn wall_words(recipe: &Recipe) -> String {
    let base = show_length(recipe.wall.value, recipe.units);
    match recipe.wall_rim {
        Some(rim) => format!("{base} at the base and {} at the rim", show_length(rim.value, recipe.units)),
        None => base,
    }
}

fn wall_finding(recipe: &Recipe, message: String) -> Finding {
    let span = recipe.wall.origin.span();
    Finding::new(&catalog::WALL_THICKER_THAN_RADIUS, span.unwrap_or(recipe.outside.span), message)
        .also_maybe(span.map(|_| recipe.outside.span), "the outside is given here")
}

/// A wall, floor or top (`what`) under the shop's least.
pub(super) fn wall_thin(recipe: &Recipe, what: &'static str, thickness: Known<Length>) -> Finding {
    let (units, least) = (recipe.units, recipe.shop.least_wall);
    let message = format!(
        "a {what} of {} is thinner than the shop's least, {}",
        show_length(thickness.value, units),
        show_length(least.value, units)
    );
    let finding = Finding::new(&catalog::WALL_THIN, thickness.origin.span().unwrap_or(recipe.outside.span), message);
    set_here(finding, least.origin, "the shop's least")
        .help(format!("make `{what}` {} or more, or set a smaller `least-wall`", show_at_least(least.value, units)))
}

/// A ring from `z0` to `z1` where the vessel is solid.
pub(super) fn must_be_solid(
    recipe: &Recipe,
    shape: &Shape,
    layer: &Layer,
    wood: Option<usize>,
    (z0, z1): (Length, Length),
    solid: Solid,
) -> Finding {
    let units = recipe.units;
    let show = |length| show_length(length, units);
    let wood = wood.map_or("WOOD", |wood| wood_name(recipe, wood));
    let (reaches, bound, origin, what) = match solid {
        Solid::Floor => {
            let floor = shape.cavity_bottom;
            (format!("solid up to {}", show(floor.value)), floor.value, floor.origin, "the floor")
        }
        Solid::Top => {
            let top = shape.cavity_top.value;
            (format!("solid from {} up", show(top)), top, recipe.top.unwrap_or(recipe.floor).origin, "the top")
        }
    };
    let verb = match solid {
        Solid::Floor => "begins",
        Solid::Top => "ends",
    };
    let message = format!("a ring from height {} to {}, where the vessel is {reaches}", show(z0), show(z1));
    let finding = Finding::new(&catalog::RING_MUST_BE_SOLID, layer.head, message);
    set_here(finding, origin, what).help(format!(
        "use `disc {wood}` or `wedges` here, or choose thicknesses so that a ring {verb} at {}",
        show(bound)
    ))
}

/// A strip that is there already, against what its ring needs.
pub(super) struct StripCase<'a> {
    pub(super) strip: Known<Length>,
    pub(super) needed: Length,
    /// Where the hole's corners lie.
    pub(super) hole: Length,
    /// The wall's inside where it is nearest to the axis.
    pub(super) inner: ProfilePoint,
    pub(super) allow: Known<Length>,
    pub(super) layer: &'a Layer,
    pub(super) units: System,
}

impl StripCase<'_> {
    fn show(&self, length: Length) -> String {
        show_length(length, self.units)
    }

    fn finding(&self, code: &'static Code, message: String) -> Finding {
        let finding = Finding::new(code, self.strip.origin.span().unwrap_or(self.layer.head), message);
        match self.strip.origin {
            Origin::Written(_) => finding,
            Origin::Every(_)
            | Origin::Shop(_)
            | Origin::Made(_)
            | Origin::Default(_)
            | Origin::Table(_)
            | Origin::Figure(_) => finding.also(self.layer.head, "for this ring"),
        }
    }

    /// The strip that covers wall and allowance.
    fn fix(&self) -> Option<Fix> {
        let clause = format!("strip {}", show_at_least(self.needed, self.units));
        let edit = self.layer.say(Some(self.strip.origin), &clause)?;
        Some(Fix::ask(format!("write `{clause}`"), edit.span, edit.text))
    }
}

/// A strip whose hole leaves wood missing in the wall.
pub(super) fn does_not_cover(case: &StripCase<'_>) -> Finding {
    let message = format!(
        "a strip of {} does not cover the wall: the hole's corners lie {} from the axis, the wall's inside {} at height {}, \
         so {} is missing",
        case.show(case.strip.value),
        case.show(case.hole),
        case.show(case.inner.radius),
        case.show(case.inner.height),
        case.show(case.hole - case.inner.radius)
    );
    let needed = show_at_least(case.needed, case.units);
    case.finding(&catalog::RING_DOES_NOT_COVER, message)
        .help(format!("use a strip of {needed} or more, which covers the wall and the turning allowance"))
        .fix_maybe(case.fix())
        .rank(case.needed.mm())
}

/// A strip that covers the wall but not all of the turning allowance.
pub(super) fn allowance_short(case: &StripCase<'_>) -> Finding {
    let message = format!(
        "a strip of {} leaves {} of turning allowance inside, {} is wanted: the hole's corners lie {} from the axis, the \
         wall's inside {} at height {}",
        case.show(case.strip.value),
        case.show((case.inner.radius - case.hole).max(Length::ZERO)),
        case.show(case.allow.value),
        case.show(case.hole),
        case.show(case.inner.radius),
        case.show(case.inner.height)
    );
    let finding = case.finding(&catalog::RING_ALLOWANCE_SHORT, message);
    set_here(finding, case.allow.origin, "the allowance")
        .help(format!("use a strip of {} or more", show_at_least(case.needed, case.units)))
        .fix_maybe(case.fix())
        .rank(case.needed.mm())
}

/// A strip wider than the blank's radius.
pub(super) fn strip_past_center(case: &StripCase<'_>, outer: Length) -> Finding {
    let message = format!(
        "a strip of {} is wider than the ring's blank is in radius, {}",
        case.show(case.strip.value),
        case.show(outer)
    );
    let help = format!(
        "rip it to {}, which covers wall and allowance; the widest that fits is {}",
        show_at_least(case.needed, case.units),
        case.show(outer)
    );
    case.finding(&catalog::RING_STRIP_PAST_CENTER, message).help(help).fix_maybe(case.fix())
}

/// Two layers whose blanks do not touch.
pub(super) fn apart(recipe: &Recipe, contact: &Contact, (under, over): (&Layer, &Layer)) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let message = format!(
        "this layer and the one below do not touch at height {}: one is {} in radius, the other's hole {}",
        show(contact.z),
        show(contact.outer_radius),
        show(contact.inner_radius)
    );
    Finding::new(&catalog::RING_APART, over.head, message)
        .also(under.head, "the layer below")
        .help(more_overlap(recipe, contact, under, over))
        .rank((contact.inner_radius - contact.outer_radius).mm() + LARGEST)
}

/// Two layers that share less than the shop's least glue face.
pub(super) fn narrow_overlap(recipe: &Recipe, contact: &Contact, (under, over): (&Layer, &Layer)) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let least = recipe.shop.least_glue;
    let message = format!(
        "this layer and the one below share a glue face {} wide at height {}, less than the shop's least of {}",
        show(contact.outer_radius - contact.inner_radius),
        show(contact.z),
        show(least.value)
    );
    let finding = Finding::new(&catalog::RING_NARROW_OVERLAP, over.head, message).also(under.head, "the layer below");
    set_here(finding, least.origin, "the shop's least")
        .help(more_overlap(recipe, contact, under, over))
        .fix_maybe(wider_allowance(recipe, contact, under, over))
        .rank((contact.inner_radius - contact.outer_radius).mm() + LARGEST)
}

/// Added to a lack, which may be negative, so that ranks are not.
const LARGEST: f64 = 1e6;

/// The allowance that makes a glue face wide enough, on both layers; it alone leaves the turned shape
/// as it is.
fn wider_allowance(recipe: &Recipe, contact: &Contact, under: &Layer, over: &Layer) -> Option<Fix> {
    let has_strip = |layer: &Layer| matches!(&layer.kind, LayerKind::Ring(ring) if ring.strip.is_some());
    if has_strip(under) || has_strip(over) {
        return None;
    }
    let lack = recipe.shop.least_glue.value - (contact.outer_radius - contact.inner_radius);
    let allow = under.allow.value.min(over.allow.value) + lack / 2.0;
    let clause = format!("allow {}", show_at_least(allow, recipe.units));
    let mut edits: Vec<Edit> = Vec::with_capacity(2);
    for layer in [under, over] {
        let edit = layer.say(Some(layer.allow.origin), &clause)?;
        if !edits.contains(&edit) {
            edits.push(edit);
        }
    }
    Some(Fix::ask_all(format!("write `{clause}`"), edits))
}

/// What makes a glue face wide enough.
fn more_overlap(recipe: &Recipe, contact: &Contact, under: &Layer, over: &Layer) -> String {
    let lack = recipe.shop.least_glue.value - (contact.outer_radius - contact.inner_radius);
    let has_strip = |layer: &Layer| matches!(&layer.kind, LayerKind::Ring(ring) if ring.strip.is_some());
    if has_strip(under) || has_strip(over) {
        return format!("use a strip wider by {} or more", show_at_least(lack, recipe.units));
    }
    let allow = under.allow.value.min(over.allow.value) + lack / 2.0;
    let allow = show_at_least(allow, recipe.units);
    format!("make the wall thicker or the layers thinner, or give both layers `allow {allow}`")
}

/// Joints of two rings that come near each other.
pub(super) struct LineUpCase {
    pub(super) near: Count,
    pub(super) upper: Count,
    pub(super) lower: Count,
    /// Between the nearest two, at the outside of the face.
    pub(super) distance: Length,
    /// The most that a turn of the ring can make of it.
    pub(super) at_best: Length,
    /// Nearer is too near.
    pub(super) limit: Length,
}

/// Joints that lie over joints.
pub(super) fn joints_line_up(recipe: &Recipe, case: &LineUpCase, ring: &Ring, layers: (&Layer, &Layer)) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let (near, upper, lower) = (case.near.0, case.upper.0, case.lower.0);
    let of_them = if near == upper { format!("all {upper}") } else { format!("{near} of the {upper}") };
    let mut message = format!("{of_them} joints of this ring lie over joints of the ring below");
    if case.distance > Length::from_mm(0.005) {
        message = format!("{message}, {} apart at the outside", show(case.distance));
    }
    let help = if case.at_best > case.limit {
        format!("`stagger half` would keep them {} apart", show(case.at_best))
    } else if upper == lower {
        format!(
            "no turn keeps {upper} joints more than {} from as many others; take fewer segments",
            show(case.at_best)
        )
    } else {
        format!(
            "no turn keeps joints of {upper} and {lower} segments more than {} apart; choose equal counts, or one twice the \
             other",
            show(case.at_best)
        )
    };
    // All rings that one stagger turns are one mistake: it is told where the stagger is said.
    let place = ring.stagger.origin.span().unwrap_or(layers.1.head);
    let is_written = matches!(ring.stagger.origin, Origin::Written(_) | Origin::Every(_));
    let fix = (is_written && case.at_best > case.limit)
        .then(|| layers.1.say(Some(ring.stagger.origin), "stagger half"))
        .flatten()
        .map(|edit| Fix::ask("write `stagger half`", edit.span, edit.text));
    let mut finding = Finding::new(&catalog::RING_JOINTS_LINE_UP, place, message).fix_maybe(fix);
    if place != layers.1.head {
        finding = finding.also(layers.1.head, "this ring");
    }
    if layers.0.head != layers.1.head {
        finding = finding.also(layers.0.head, "the ring below");
    }
    finding.help(help).rank(f64::from(near))
}

/// A pattern with a seam.
pub(super) fn does_not_close(recipe: &Recipe, layer: &Layer, ring: &Ring, seam: &Seam) -> Finding {
    let Seam { motif, segments, left, .. } = seam;
    let (last, first) = (wood_name(recipe, seam.last), wood_name(recipe, seam.first));
    let meet =
        if seam.last == seam.first { format!("two of `{first}` meet") } else { format!("`{last}` meets `{first}`") };
    let message = if motif > segments {
        format!("a pattern of {motif} is longer than a ring of {segments} segments: at its seam {meet}")
    } else {
        let are = if *left == 1 { "is" } else { "are" };
        format!(
            "a pattern of {motif} does not close round {segments} segments: {left} {are} left, and at the seam {meet}"
        )
    };
    let counts: Vec<String> = seam.closing.iter().map(ToString::to_string).collect();
    let finding = Finding::new(&catalog::PATTERN_DOES_NOT_CLOSE, ring.pattern.span, message);
    let fix = seam.nearest().filter(|count| serves_all(recipe, ring, *count)).and_then(|count| {
        let edit = layer.say_segments(ring.segments.origin, count)?;
        Some(Fix::ask(format!("use {count} segments"), edit.span, edit.text))
    });
    let finding = set_here(finding, ring.segments.origin, "the count").fix_maybe(fix);
    if counts.is_empty() { finding } else { finding.help(format!("{} segments would close", counts.join(" or "))) }
}

/// Whether every pattern whose count is set in the same place as this ring's would close round `count`.
fn serves_all(recipe: &Recipe, ring: &Ring, count: u32) -> bool {
    let rings = recipe.layers().filter_map(|(_, _, layer)| match &layer.kind {
        LayerKind::Ring(ring) => Some(ring),
        LayerKind::Disc { .. } | LayerKind::Slant(_) => None,
    });
    let is_set_together =
        |other: &&Ring| ring.segments.origin.span().is_some() && other.segments.origin == ring.segments.origin;
    rings.filter(is_set_together).all(|other| {
        !other.pattern.is_scattered && does_pattern_close(&other.pattern.motif, &other.pattern.shares, Count(count))
    })
}

/// What a stack is lower than its layers added up: a tenon stands in its mortise.
fn in_each_other(recipe: &Recipe, stack: Length) -> String {
    let all: Length = recipe.layers().map(|(_, _, layer)| layer.thick.value).sum();
    let within = all - stack;
    if within < limits::FINEST_SETTING.get() {
        return String::new();
    }
    let show = |length| show_length(length, recipe.units);
    format!("; of their {} in all, {} stand in each other at the lid's joint", show(all), show(within))
}

/// Layers that end under the shape's top.
pub(super) fn stack_too_short(
    recipe: &Recipe,
    last: &Layer,
    stack: Length,
    height: Length,
    tolerance: Length,
) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let lack = height - stack;
    let message = format!(
        "the layers end at height {}, {} under the shape's top at {}{}",
        show(stack),
        show(lack),
        show(height),
        in_each_other(recipe, stack)
    );
    let help = if (last.thick.value - lack).abs() <= tolerance {
        format!("one more layer of {} would do", show(last.thick.value))
    } else if last.thick.value > lack {
        format!("make a layer {} thicker, or add one of {}", show(lack), show(lack))
    } else {
        format!("add layers of {} in all", show(lack))
    };
    top_of_shape(Finding::new(&catalog::STACK_TOO_SHORT, last.head, message), recipe).help(help)
}

/// A last layer that ends above the shape.
pub(super) fn stack_too_tall(recipe: &Recipe, last: &Layer, stack: Length, height: Length) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let over = stack - height;
    let message = format!(
        "the layers end at height {}, {} over the shape's top at {}{}",
        show(stack),
        show(over),
        show(height),
        in_each_other(recipe, stack)
    );
    let left = show(last.thick.value - over);
    let is_one_of_many = recipe.layers().filter(|(_, _, layer)| layer.head == last.head).nth(1).is_some();
    let help = if is_one_of_many {
        format!("make the last layer {left} thick, written for itself behind the others, or turn the rest away")
    } else {
        format!("make this layer {left} thick, or turn the rest away")
    };
    top_of_shape(Finding::new(&catalog::STACK_TOO_TALL, last.head, message), recipe).help(help)
}

/// The first of `count` layers that lie wholly above the shape.
pub(super) fn layer_beyond_shape(recipe: &Recipe, layer: &Layer, z0: Length, height: Length, count: usize) -> Finding {
    let show = |length| show_length(length, recipe.units);
    let more = match count {
        0 | 1 => String::new(),
        2 => "; so does the layer after it".to_owned(),
        _ => format!("; so do the {} layers after it", count - 1),
    };
    let message =
        format!("this layer begins at height {}, where the shape has ended at {}{more}", show(z0), show(height));
    top_of_shape(Finding::new(&catalog::STACK_LAYER_BEYOND_SHAPE, layer.head, message), recipe)
        .help("take it away, make layers thinner, or let the outside go higher")
}

fn top_of_shape(finding: Finding, recipe: &Recipe) -> Finding {
    let end = recipe.outside.points.last().map(|point| point.span);
    finding.also_maybe(end.or(recipe.outside.path.as_ref().map(|path| path.text.span)), "the shape ends here")
}

/// Points to where a value was set, unless nobody set it.
pub(super) fn set_here(finding: Finding, origin: Origin, what: &str) -> Finding {
    match origin {
        Origin::Written(span) => finding.also(span, format!("{what} is set here")),
        Origin::Every(span) => finding.also(span, format!("{what} is set here, for every layer")),
        Origin::Shop(span) => finding.also(span, format!("{what} is set here, for the shop")),
        Origin::Made(span) => finding.also(span, format!("{what} was measured")),
        Origin::Default(_) | Origin::Table(_) | Origin::Figure(_) => finding,
    }
}

fn wood_name(recipe: &Recipe, wood: usize) -> &str {
    recipe.woods.get(wood).map_or("WOOD", |wood| &wood.name)
}

/// A length to ask for: the next setting up, so that what is printed is enough.
pub(super) fn show_at_least(length: Length, units: System) -> String {
    show_length(at_least(length, units), units)
}
