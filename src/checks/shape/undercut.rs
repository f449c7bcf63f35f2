//! Insides that no tool reaches through the mouth.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::quantity::Length;
use crate::resolve::PartKind;

use super::hollow::{Hollow, Station, Tool, hollows};

pub(super) const CHECK: Check = Check { code: &catalog::SHAPE_UNDERCUT, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    if design.recipe.is_partial {
        return;
    }
    let tool = Tool {
        shaft: limits::HOLLOWING_SHAFT.get(),
        bent: limits::BENT_TOOL.get(),
        share: limits::SHAFT_IN_MOUTH.get().value(),
    };
    for hollow in hollows(design) {
        let reached = hollow.stations.iter().map(|station| (*station, hollow.reach(*station, tool)));
        let lack = |(station, reach): &(Station, Length)| station.greatest - *reach;
        let worst = reached.max_by(|a, b| lack(a).mm().total_cmp(&lack(b).mm()));
        if let Some((station, reach)) = worst.filter(|worst| lack(worst) > limits::FINEST_SETTING.get()) {
            found.push(told(design, &hollow, station, reach));
        }
    }
}

fn told(design: Design<'_>, hollow: &Hollow, station: Station, reach: Length) -> Finding {
    let recipe = design.recipe;
    let opening = match (hollow.part, hollow.halves_at) {
        (PartKind::Body, None) => "its mouth",
        (PartKind::Lid, None) => "its opening",
        (_, Some(_)) => "its opening and the last joint",
    };
    let message = format!(
        "the {} is {} across inside, {} up; through {opening} a bent tool cuts no more than {} there",
        hollow.part.word(),
        design.show(station.greatest * 2.0),
        design.show(station.height),
        design.show(reach * 2.0)
    );
    let halves = hollow.halves_at.and_then(|layer| design.layers().find(|(at, ..)| *at == layer));
    let help = format!(
        "make it {} across inside or less there, widen the mouth, or glue it up in parts that are hollowed one by one",
        design.show(reach * 2.0)
    );
    let place = recipe.inside.as_ref().map_or(recipe.outside.span, |inside| inside.span);
    Finding::new(CHECK.code, place, message)
        .also_maybe(halves.map(|(_, said, _)| said.head), "two halves would be glued together over this layer")
        .help(help)
        .rank((station.greatest - reach).mm())
}
