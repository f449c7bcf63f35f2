//! A skin of a layer so thin that it flakes: over a glue line in the floor, under one in the top, at an end.

use crate::checks::faces::{GlueLine, SAME, Side};
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::geometry::LayerShape;
use crate::quantity::Length;
use crate::resolve::PartKind;
use crate::workings::Known;

pub(super) const CHECK: Check = Check { code: &catalog::STRENGTH_THIN_SKIN, run };

/// Thinner than any tool leaves: nothing is there.
const NOTHING: Length = limits::CALIPER.get();

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    for line in design.glue_lines() {
        under_cavity(design, &line, found);
        over_cavity(design, &line, found);
    }
    slivers(design, found);
}

fn is_thin(skin: Length) -> bool {
    skin > NOTHING && skin < limits::LEAST_SKIN.get()
}

fn is_sheet(side: &Side<'_>) -> bool {
    matches!(&side.built.shape, LayerShape::Disc { is_sheet: true, .. })
}

fn under_cavity(design: Design<'_>, line: &GlueLine<'_>, found: &mut Vec<Finding>) {
    let inside = &line.part.inside;
    let skin = inside.bottom() - line.z;
    if line.part.part == PartKind::Body && !inside.is_empty() && is_thin(skin) && !is_sheet(&line.over) {
        let floor = design.recipe.floor;
        found.push(skin_of(design, ("floor", "over"), (&line.over, &line.under), skin, floor));
    }
}

fn over_cavity(design: Design<'_>, line: &GlueLine<'_>, found: &mut Vec<Finding>) {
    let (inside, Some(top)) = (&line.part.inside, design.recipe.top) else { return };
    let skin = line.z - inside.top();
    if line.part.part == PartKind::Lid && !inside.is_empty() && is_thin(skin) && !is_sheet(&line.under) {
        found.push(skin_of(design, ("top", "under"), (&line.under, &line.over), skin, top));
    }
}

/// Of the layer that is cut nearly through, left on the other.
fn skin_of(
    design: Design<'_>,
    (word, lies): (&str, &str),
    (cut, other): (&Side<'_>, &Side<'_>),
    skin: Length,
    set: Known<Length>,
) -> Finding {
    let least = limits::LEAST_SKIN.get();
    let message = format!(
        "the `{word}` leaves {} of {} {lies} its glue line with {}; a skin thinner than {} flakes",
        design.show_fine(skin),
        cut.built.id,
        other.built.id,
        design.show_fine(least)
    );
    let help = format!(
        "set `{word}` to {}, so that the glue line is cut away, or to {} or more",
        design.show(set.value - skin),
        design.show(set.value + least - skin)
    );
    let finding = Finding::new(CHECK.code, cut.said.head, message).help(help).rank((least - skin).mm());
    match set.origin.span() {
        Some(span) => finding.also(span, format!("`{word}` is set here")),
        None => finding,
    }
}

/// Layers of which turning leaves hardly anything, at the rim or beside a saw cut.
fn slivers(design: Design<'_>, found: &mut Vec<Finding>) {
    let least = limits::LEAST_SKIN.get();
    for (_, said, built) in design.layers() {
        for (_, from, to) in design.left(built) {
            let (left, thick) = (to - from, built.z1.value - built.z0.value);
            if !is_thin(left) || left >= thick - NOTHING - SAME {
                continue;
            }
            let message = format!(
                "of {}, {} thick, {} is left in the finished vessel; a skin thinner than {} flakes",
                built.id,
                design.show_fine(thick),
                design.show_fine(left),
                design.show_fine(least)
            );
            let help = format!(
                "leave the layer away and end {} lower, or leave {} or more of it",
                design.show_fine(left),
                design.show_fine(least)
            );
            found.push(Finding::new(CHECK.code, said.head, message).help(help).rank((least - left).mm()));
        }
    }
}
