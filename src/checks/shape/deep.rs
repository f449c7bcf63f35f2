//! Insides so deep that the tool hangs far over its rest.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};

use super::hollow::hollows;

pub(super) const CHECK: Check = Check { code: &catalog::SHAPE_DEEP, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    if design.recipe.is_partial {
        return;
    }
    let most = limits::DEEPEST_HOLLOW.get();
    for hollow in hollows(design) {
        let depths = hollow.stations.iter().map(|station| hollow.depth(station.height));
        let Some(deepest) = depths.max_by(|a, b| a.mm().total_cmp(&b.mm())).filter(|deepest| *deepest > most) else {
            continue;
        };
        let message = format!(
            "the {} is hollowed {} deep; a tool that hangs more than {} over its rest chatters and catches",
            hollow.part.word(),
            design.show(deepest),
            design.show(most)
        );
        let place = design.recipe.inside.as_ref().map_or(design.recipe.outside.span, |inside| inside.span);
        let help = format!("glue it up in parts no deeper than {}, or take a captured bar", design.show(most));
        found.push(Finding::new(CHECK.code, place, message).help(help).rank(deepest.mm()));
    }
}
