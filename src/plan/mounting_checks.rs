//! What a mount that the recipe gives may hurt: the work, the tool, the grip.

use crate::finding::{Finding, Fix, catalog, limits};
use crate::geometry::mount::{LEAST_BLOCK, METAL_CLEARANCE, block_diameter};
use crate::quantity::{Length, show_length};
use crate::resolve::{Mount, Recipe};
use crate::source::Span;

use super::mounting::{PartMount, Plate};

/// A block this much wider than it need be is told.
const WIDER: Length = limits::BLOCK_WIDER.get();

/// All that is wrong with a given mount.
pub(super) fn check(recipe: &Recipe, said: &Mount, mount: &PartMount, found: &mut Vec<Finding>) {
    let show = |length| show_length(length, recipe.units);
    if let Some(thick) = said.thick.filter(|thick| thick.value < LEAST_BLOCK) {
        let message = format!("a waste block of {} is thinner than {}", show(thick.value), show(LEAST_BLOCK));
        found.push(
            at(&catalog::MOUNT_BLOCK_THIN, thick.origin.span(), said, message)
                .help("leave `thick` out, or make it thicker"),
        );
    }
    let enough = block_diameter(mount.foot.value).across();
    if let Some(across) = said.diameter.filter(|across| across.value > enough + WIDER) {
        let message = format!(
            "a waste block {} across on a foot of {} keeps the tool away: {} are enough",
            show(across.value),
            show(mount.foot.value.across()),
            show(enough)
        );
        let finding = at(&catalog::MOUNT_BLOCK_WIDE, across.origin.span(), said, message);
        let fix = across.origin.span().map(|span| Fix::ask(format!("write `{}`", show(enough)), span, show(enough)));
        found.push(
            finding.help(format!("saw it {} across, or turn it down to that first", show(enough))).fix_maybe(fix),
        );
    }
    if let Some(plate) = &mount.plate {
        check_plate(recipe, said, mount, plate, found);
    }
}

fn check_plate(recipe: &Recipe, said: &Mount, mount: &PartMount, plate: &Plate, found: &mut Vec<Finding>) {
    let show = |length| show_length(length, recipe.units);
    let widest = mount.block.value.across() - METAL_CLEARANCE * 2.0;
    if plate.diameter.value.across() > widest {
        let message = format!(
            "a faceplate of {} on a waste block of {}: it must stay {} within it all round",
            show(plate.diameter.value.across()),
            show(mount.block.value.across()),
            show(METAL_CLEARANCE)
        );
        let finding = at(&catalog::MOUNT_FACEPLATE_WIDE, plate.diameter.origin.span(), said, message);
        found.push(finding.help(format!("take a faceplate of {} or less, or a wider block", show(widest))));
    }
    let room = mount.thickness.value - plate.in_block.value;
    if room <= Length::ZERO {
        let message = format!(
            "screws of {} go {} into a block of {}: they reach the work",
            show(plate.screws.value),
            show(plate.in_block.value),
            show(mount.thickness.value)
        );
        let finding = at(&catalog::MOUNT_SCREWS_REACH_WORK, plate.screws.origin.span(), said, message);
        found.push(finding.help(longest(recipe, plate)));
    } else if plate.clearance.value < METAL_CLEARANCE {
        let message = format!(
            "screws of {} end {} from where the parting tool cuts, under {}",
            show(plate.screws.value),
            show(plate.clearance.value.max(Length::ZERO)),
            show(METAL_CLEARANCE)
        );
        let finding = at(&catalog::MOUNT_TOOL_NEAR_SCREWS, plate.screws.origin.span(), said, message);
        found.push(finding.help(longest(recipe, plate)));
    }
}

fn longest(recipe: &Recipe, plate: &Plate) -> String {
    if plate.longest.value > plate.thickness.value {
        format!("take screws of {} or less, or a thicker block", show_length(plate.longest.value, recipe.units))
    } else {
        "take a thicker block: no screw holds in this one".to_owned()
    }
}

/// At what is written, else at the statement.
fn at(code: &'static crate::finding::Code, written: Option<Span>, said: &Mount, message: String) -> Finding {
    Finding::new(code, written.unwrap_or(said.head), message).also_maybe(written.map(|_| said.head), "for this mount")
}

/// A mount for a part that the vessel does not have.
pub(super) fn no_part(said: &Mount) -> Finding {
    let part = said.part.word();
    Finding::new(&catalog::MOUNT_NO_PART, said.head, format!("the vessel has no {part} to hold"))
        .help(format!("take `mount {part}` out, or give the vessel a {part}"))
}
