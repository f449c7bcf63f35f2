//! Strips so thin that crosscutting shatters them.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::quantity::at_least;

pub(super) const CHECK: Check = Check { code: &catalog::SAW_THIN_STOCK, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let least = limits::THIN_STOCK.get();
    for strip in design.plan.cut_list.strips.iter().filter(|strip| strip.thickness.value < least) {
        let Some(head) = super::first_served(design, strip) else { continue };
        let thicker = at_least(least - design.recipe.shop.sanding.value * 2.0, design.recipe.units);
        let message = format!(
            "segments are crosscut from a strip {} thick; under {} it shatters at the blade",
            design.show(strip.thickness.value),
            design.show(least)
        );
        let finding = Finding::new(CHECK.code, head, message)
            .help(format!(
                "saw it between two strips of scrap, taped together, or make the layer `thick {}` or more",
                design.show(thicker)
            ))
            .rank((least - strip.thickness.value).mm());
        found.push(finding);
    }
}
