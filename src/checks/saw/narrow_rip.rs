//! Strips too narrow to be ripped between fence and blade by hand.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

pub(super) const CHECK: Check = Check { code: &catalog::SAW_NARROW_RIP, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let least = design.recipe.shop.narrow_rip;
    for strip in design.plan.cut_list.strips.iter().filter(|strip| strip.width.value < least.value) {
        let Some(head) = super::first_served(design, strip) else { continue };
        let message = format!(
            "a strip is ripped {} wide; the shop rips {} without a jig",
            design.show(strip.width.value),
            design.show(least.value)
        );
        let finding = Finding::new(CHECK.code, head, message)
            .also_maybe(least.origin.span(), "the least is set here")
            .help(format!(
                "give the ring `strip {}`, of which the rest is turned away, or rip with a thin-strip jig and set `narrow-rip` to what it takes",
                design.show(least.value)
            ))
            .rank((least.value - strip.width.value).mm());
        found.push(finding);
    }
}
