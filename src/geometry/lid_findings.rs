//! What a lid's joint, a parting and what was measured give reason to say.

use crate::finding::{Finding, Fix, catalog};
use crate::quantity::{Length, System, at_least, show_length};
use crate::resolve::{Joint, JointKind, Layer, MadeDiameter, PartKind, Recipe};
use crate::source::Span;
use crate::workings::Known;

use super::fitted::{LidJoint, ThreadShape};
use super::lid_joint::Face;

fn place(recipe: &Recipe) -> Span {
    recipe.fittings.joint.map_or(recipe.outside.span, |joint| joint.head)
}

fn show(recipe: &Recipe, length: Length) -> String {
    show_length(length, recipe.units)
}

/// A clearance as it is written: fine enough to be told, in thousandths of an inch or hundredths of a millimeter.
fn play(length: Length, units: System) -> String {
    match units {
        System::Inch => format!("{:.3} in", (length.inches() * 1000.0 - 1e-6).ceil() / 1000.0),
        System::Millimeter => format!("{:.2} mm", (length.mm() * 100.0 - 1e-6).ceil() / 100.0),
    }
}

/// A length that may not be more, rounded down.
fn at_most(length: Length, units: System) -> String {
    match units {
        System::Inch => format!("{:.2} in", (length.inches() * 100.0 + 1e-6).floor() / 100.0),
        System::Millimeter => format!("{:.1} mm", (length.mm() * 10.0 + 1e-6).floor() / 10.0),
    }
}

/// A wall or a ledge as a caliper shows it, so that two that differ are printed differently.
fn measured(length: Length, units: System) -> String {
    match units {
        System::Inch => format!("{:.3} in", length.inches()),
        System::Millimeter => show_length(length, units),
    }
}

/// A line beyond the cavity's floor or the vessel's top.
pub(super) fn nothing_parted(recipe: &Recipe, at: Known<Length>, floor: Length, height: Length) -> Finding {
    let message = format!(
        "parting at height {} leaves no body or no lid: the cavity begins at {} and the vessel ends at {}",
        show(recipe, at.value),
        show(recipe, floor),
        show(recipe, height)
    );
    let span = at.origin.span().unwrap_or(recipe.outside.span);
    Finding::new(&catalog::PARTED_NO_PART, span, message)
        .also(recipe.outside.span, "the outside is given here")
        .help(format!("choose a height between {} and {}", show(recipe, floor), show(recipe, height)))
}

/// Nothing left where the joint needs wood.
pub(super) fn no_wood(recipe: &Recipe, what: &str, has: Length, least: Length, way_out: &str) -> Finding {
    let has = if has <= Length::ZERO { format!("{} are missing", show(recipe, -has)) } else { show(recipe, has) };
    let message = format!("there is no wood for the joint: {what}: {has}, and {} should stay", show(recipe, least));
    Finding::new(&catalog::JOINT_NO_ROOM, place(recipe), message)
        .also_maybe(recipe.wall.origin.span(), "the wall is set here")
        .help(way_out.to_owned())
}

/// A tenon longer than the part that it goes into, or than the part it is turned on.
pub(super) fn too_long(recipe: &Recipe, joint: &Joint, part: PartKind, needs: Length, has: Length) -> Finding {
    let message = format!(
        "the joint needs {} of the {}'s height, and the {} is {} high",
        show(recipe, needs),
        part.word(),
        part.word(),
        show(recipe, has.max(Length::ZERO))
    );
    let longest = has - (needs - joint.long.value);
    // Shorter than this a joint holds nothing.
    let help = if longest < Length::from_mm(2.0) {
        format!("make the {} higher by {} or more, or move the line", part.word(), show(recipe, needs - has))
    } else {
        format!("make the joint shorter: `long {}` or less", at_most(longest, recipe.units))
    };
    let span = joint.long.origin.span().unwrap_or(joint.head);
    Finding::new(&catalog::JOINT_NO_ROOM, span, message).help(help)
}

/// Little left on one side of the joint.
pub(super) fn thin_wall(recipe: &Recipe, what: &str, wall: Length, least: Length) -> Finding {
    let message = format!(
        "{what} is {} thick, and {} is the least on either side of a lid joint",
        measured(wall, recipe.units),
        measured(least, recipe.units)
    );
    let more = at_least((least - wall) * 2.0, recipe.units);
    Finding::new(&catalog::JOINT_THIN_WALL, place(recipe), message)
        .also_maybe(recipe.wall.origin.span(), "the wall is set here")
        .help(format!(
            "a wall {} thicker at the joint would do; both sides together share what is there",
            show(recipe, more)
        ))
        .rank((least - wall).mm())
}

/// Little to bear on.
pub(super) fn narrow_shoulder(recipe: &Recipe, joint: &LidJoint, least: Length) -> Finding {
    let what = if joint.kind == JointKind::Inset { "ledge" } else { "shoulder" };
    let message = format!(
        "the lid bears on a {what} {} wide, and under {} it tips or crushes",
        measured(joint.shoulder_width.value, recipe.units),
        measured(least, recipe.units)
    );
    let help = if joint.kind == JointKind::Inset {
        format!("give the ledge its width: `wall {}`, or make the vessel's wall thicker there", show(recipe, least))
    } else {
        "make the tenon's `wall` thinner, or the vessel's wall thicker at the joint".to_owned()
    };
    Finding::new(&catalog::JOINT_NARROW_SHOULDER, place(recipe), message).help(help)
}

/// An inset lid under an outside that goes on wider.
pub(super) fn inset_overhang(recipe: &Recipe, lid: Length, outside: Length) -> Finding {
    let message = format!(
        "the lid that drops in is {} across, and the outside is drawn {} across just over the rim",
        show(recipe, lid),
        show(recipe, outside)
    );
    Finding::new(&catalog::JOINT_INSET_OVERHANG, place(recipe), message)
        .also(recipe.outside.span, "the outside is given here")
        .help(format!(
            "draw the lid: two points of `outside` at the rim's height, the upper one `diameter {}`; or let the outside end at the rim",
            show(recipe, lid)
        ))
}

/// A face of the joint at a glue line; `between` names the layers.
pub(super) struct NearGlueLine<'a> {
    pub(super) face: Face,
    pub(super) off: Length,
    pub(super) least: Length,
    pub(super) between: (&'a str, &'a str),
    pub(super) layer: &'a Layer,
}

pub(super) fn near_glue_line(recipe: &Recipe, joint: Option<&Joint>, case: &NearGlueLine<'_>) -> Finding {
    let what = match (case.face, joint) {
        (Face::Shoulder, Some(_)) => "the joint's shoulder",
        (Face::Shoulder, None) => "the parting line",
        (Face::TenonEnd, _) => "the tenon's end",
        (Face::MortiseEnd, _) => "the mortise's end",
    };
    let (lower, upper) = case.between;
    let off = if case.off < Length::from_mm(0.01) {
        format!("{what} lies on the glue line between {lower} and {upper}")
    } else {
        format!("{what} lies {} from the glue line between {lower} and {upper}", show(recipe, case.off))
    };
    let span =
        joint.map_or(recipe.fittings.parted.map_or(recipe.outside.span, |parted| parted.span), |joint| joint.head);
    let message = format!("{off}; nearer than {} it leaves a feather edge on the glue", show(recipe, case.least));
    let way_out = match (case.face, joint) {
        (Face::Shoulder, Some(_)) => "change `long`, or the thickness of the layers by the joint",
        (Face::Shoulder | Face::TenonEnd, _) => "change where it is parted, or the thickness of the layers there",
        (Face::MortiseEnd, _) => "change `long`, or the thickness of the layers over the joint",
    };
    Finding::new(&catalog::JOINT_NEAR_GLUE_LINE, span, message)
        .also(case.layer.head, format!("{upper} begins there"))
        .help(way_out)
        .rank((case.least - case.off).mm())
}

/// Turns that do not hold, or more than any lid needs.
pub(super) fn engagement(recipe: &Recipe, thread: &ThreadShape, turns: f64, (least, most): (f64, f64)) -> Finding {
    let place = thread.turns.origin.span().unwrap_or(place(recipe));
    let (engaged, pitch) = (show(recipe, thread.engagement.value), show(recipe, thread.pitch.value));
    let threads = thread.engagement.value / thread.pitch.value;
    let (message, help) = if threads < least {
        (
            format!(
                "{threads:.1} threads of {pitch} are in mesh over {engaged}: fewer than {least:.0} do not hold a lid"
            ),
            "more `turns`, or a finer `pitch` with more of them".to_owned(),
        )
    } else {
        (
            format!("the lid takes {turns:.1} turns to open, over {engaged}: three or four are plenty"),
            format!("set `turns {most:.0}` or fewer, or more `starts`"),
        )
    };
    Finding::new(&catalog::JOINT_THREAD_ENGAGEMENT, place, message).help(help)
}

/// A thread in soft wood.
pub(super) fn thread_wood(recipe: &Recipe, part: PartKind, wood: &str, gravity: f64, least: f64) -> Finding {
    let message = format!(
        "the {}'s thread would be cut in {wood}, whose specific gravity is {gravity:.2}; chased threads want {least:.2} or more and close pores",
        part.word()
    );
    Finding::new(&catalog::JOINT_THREAD_WOOD, place(recipe), message)
        .also_maybe(
            recipe.woods.iter().find(|used| used.name == wood).map(|used| used.span),
            "the wood is first used here",
        )
        .help("let in a collar of dense wood, use a dense wood for the layers at the joint, or take `joint tenon`")
        .rank(least - gravity)
}

/// A lid that will stick.
pub(super) fn binds(recipe: &Recipe, joint: &LidJoint, worst: Length, is_damp: bool, would_do: Length) -> Finding {
    let units = recipe.units;
    let message = format!(
        "the lid sticks in the {} weeks: planned with {} to spare on the diameter, it then lacks {}",
        if is_damp { "dampest" } else { "driest" },
        play(joint.clearance.value, units),
        play(-worst, units)
    );
    let said = recipe.fittings.joint;
    let fit = format!("fit {}", play(would_do, units));
    let fix = said.map(|said| match said.fit.origin.span() {
        Some(span) => Fix::ask(format!("write `{fit}`"), span, fit.as_str()),
        None => Fix::ask(format!("add `{fit}`"), said.tail, format!(" {fit}")),
    });
    let span = said.and_then(|said| said.fit.origin.span()).unwrap_or(place(recipe));
    Finding::new(&catalog::JOINT_BINDS, span, message)
        .fix_maybe(fix)
        .also_maybe(recipe.fittings.lives.map(|lives| lives.span), "it lives in this air")
        .help(format!("fit it looser: `{fit}`; or, where a part of it is one solid round, build that as a ring"))
        .rank((-worst).mm())
}

/// A lid that will be loose.
pub(super) fn rattles(recipe: &Recipe, joint: &LidJoint, most: Length, is_damp: bool) -> Finding {
    let units = recipe.units;
    let message = format!(
        "the lid is loose in the {} weeks: planned with {} on the diameter, it then has {}",
        if is_damp { "dampest" } else { "driest" },
        play(joint.clearance.value, units),
        play(most, units)
    );
    let span = recipe.fittings.joint.and_then(|said| said.fit.origin.span()).unwrap_or(place(recipe));
    Finding::new(&catalog::JOINT_RATTLES, span, message)
        .also_maybe(recipe.fittings.lives.map(|lives| lives.span), "it lives in this air")
        .help(
            "nothing needs to be done if it may be loose then; a tighter `fit` or rings in place of a solid disc help",
        )
}

/// The pattern's break at a parting line.
pub(super) fn pattern_break(recipe: &Recipe, span: Span, lost: Length, (under, over): (&str, &str)) -> Finding {
    let meet = if under == over {
        format!("{under} goes on over the line, that much of it lost")
    } else {
        format!("{under} meets {over}")
    };
    let message = format!("between what shows of body and lid {} of the stack are lost: {meet}", show(recipe, lost));
    Finding::new(&catalog::PARTED_PATTERN_BREAK, span, message)
        .help("let the line lie in a plain ring that is thicker by as much, or make the break a feature")
}

/// A stack of measured layers that is no longer as high as the shape.
pub(super) struct StackOff<'a> {
    pub(super) stack: Length,
    pub(super) height: Length,
    /// The measurement that is told of.
    pub(super) measured: Span,
    /// The next layer that is not made yet, with its name.
    pub(super) next: Option<(&'a Layer, &'a str)>,
}

pub(super) fn stack_off(recipe: &Recipe, case: &StackOff<'_>) -> Finding {
    let off = case.stack - case.height;
    let (by, word) = if off < Length::ZERO { (-off, "short") } else { (off, "tall") };
    let message = format!(
        "with what was measured, the layers end at height {}, {} too {word} for the shape's {}",
        show(recipe, case.stack),
        play(by, recipe.units),
        show(recipe, case.height)
    );
    let wanted = case.next.map(|(layer, name)| (layer, name, layer.thick.value - off));
    let finding = Finding::new(&catalog::MADE_STACK_OFF, case.measured, message);
    match wanted {
        Some((layer, name, thick)) if thick > Length::from_mm(0.5) => finding
            .also(layer.head, format!("{name} is the next to be made"))
            .help(format!("make {name} {} thick to come back to the drawing", play(thick, recipe.units))),
        Some(_) | None => finding.help("all layers are made: let the shape end where they do, or add a thin ring"),
    }
}

/// A glued layer that came out smaller than the shape is there.
pub(super) fn made_too_small(recipe: &Recipe, made: &MadeDiameter, needs: Length, name: &str) -> Finding {
    let message = format!(
        "{name} was measured as {} across the flats, and the shape is {} across there",
        show(recipe, made.diameter.value),
        show(recipe, needs)
    );
    let span = made.diameter.origin.span().unwrap_or(recipe.outside.span);
    Finding::new(&catalog::MADE_TOO_SMALL, span, message)
        .also(recipe.outside.span, "the outside is given here")
        .help("make the ring again, or draw the outside narrower there")
}
