//! A glue face that turning leaves narrower than the wall: at a step, a cove or a mortise that ends on it.

use crate::checks::faces::SAME;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::quantity::Length;

pub(super) const CHECK: Check = Check { code: &catalog::STRENGTH_THIN_GLUE_FACE, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let recipe = design.recipe;
    let least = recipe.shop.least_wall.value.min(recipe.shop.least_glue.value / 2.0);
    // A wall that is meant to be thin all over is told as such.
    let wall = recipe.wall_rim.map_or(recipe.wall.value, |rim| rim.value.min(recipe.wall.value));
    for line in design.glue_lines() {
        let face = line.under.face.shared(line.over.face);
        let width = face.width();
        if face.inner <= Length::ZERO || width >= least.min(wall) - SAME {
            continue;
        }
        let message = format!(
            "after turning, {} and {} share a glue face {} wide; the least is {}",
            line.under.built.id,
            line.over.built.id,
            design.show(width.max(Length::ZERO)),
            design.show(least)
        );
        let help = format!(
            "move the glue line away from the step with a thicker or thinner layer, or leave {} more wood there",
            design.show(least - width)
        );
        found.push(Finding::new(CHECK.code, line.over.said.head, message).help(help).rank((least - width).mm()));
    }
}
