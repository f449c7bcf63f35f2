//! A glue face that a step on it leaves narrower than the wood on either side.

use crate::checks::faces::SAME;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::quantity::Length;

pub(super) const CHECK: Check = Check { code: &catalog::STRENGTH_THIN_GLUE_FACE, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let shop = &design.recipe.shop;
    let least = shop.least_wall.value.max(shop.least_glue.value / 2.0);
    for line in design.glue_lines() {
        let (under, over) = (line.under.face, line.over.face);
        let face = under.shared(over);
        let width = face.width().max(Length::ZERO);
        // Where one side is no wider, the wall itself is thin, which is told of the wall.
        let is_step = width < under.width().min(over.width()) - SAME;
        if face.inner <= Length::ZERO || !is_step || width >= least - SAME {
            continue;
        }
        let message = format!(
            "after turning, {} and {} share a glue face {} wide, where both step; the least is {}",
            line.under.built.id,
            line.over.built.id,
            design.show(width),
            design.show(least)
        );
        let help = format!(
            "move the step away from the glue line, with a thicker or thinner layer under it, or leave {} more wood \
             behind it",
            design.show(least - width)
        );
        found.push(Finding::new(CHECK.code, line.over.said.head, message).help(help).rank((least - width).mm()));
    }
}
