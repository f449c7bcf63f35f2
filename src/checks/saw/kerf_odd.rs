//! A kerf that no usual blade cuts.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};

pub(super) const CHECK: Check = Check { code: &catalog::SAW_KERF_ODD, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let kerf = design.recipe.shop.kerf;
    let (least, most) = (limits::THIN_KERF.get(), limits::WIDE_KERF.get());
    let Some(span) = kerf.origin.span() else { return };
    if (least..=most).contains(&kerf.value) {
        return;
    }
    let message = format!(
        "the kerf is {}; usual blades cut between {} and {}",
        design.show_fine(kerf.value),
        design.show_fine(least),
        design.show_fine(most)
    );
    let help = "look at the unit; a bandsaw cuts about 1 mm, a thin blade 2.4 mm, a full one 3.2 mm (1/8 in)";
    found.push(Finding::new(CHECK.code, span, message).help(help));
}
