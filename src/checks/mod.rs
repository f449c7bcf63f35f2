//! What goes wrong in the shop, found in the finished plan: movement, strength, speed, saw, glue, health, stock, cost.
//!
//! A check is one function of a [`Design`] in a file of its own and one row of its family's table. It compares
//! figures that the phases before it have computed with limits that stand in [`crate::finding::limits`] or in the
//! shop, and says what it found; it mends nothing and formats no paper.

pub mod climate;
mod economy;
mod faces;
mod fitting;
mod glue;
mod health;
mod movement;
mod saw;
mod sawn;
mod shape;
mod speed;
mod stock;
mod strength;
mod stuff;

use crate::finding::{Code, Finding};
use crate::geometry::{BuiltLayer, Vessel};
use crate::plan::Plan;
use crate::quantity::Length;
use crate::resolve::{Layer, Recipe};

/// All that a check may look at.
#[derive(Debug, Clone, Copy)]
pub struct Design<'a> {
    /// As said.
    pub recipe: &'a Recipe,
    /// As built.
    pub vessel: &'a Vessel,
    /// As planned.
    pub plan: &'a Plan,
}

/// One check: the code that it gives and how it looks for it.
#[derive(Debug)]
pub struct Check {
    /// What it finds; a check that finds two kinds of thing is two checks.
    pub code: &'static Code,
    /// Looks at the design and says what it found.
    pub run: fn(Design<'_>, &mut Vec<Finding>),
}

/// Every check, family by family.
pub static CHECKS: &[&[Check]] = &[
    shape::CHECKS,
    fitting::CHECKS,
    movement::CHECKS,
    strength::CHECKS,
    saw::CHECKS,
    speed::CHECKS,
    glue::CHECKS,
    health::CHECKS,
    stock::CHECKS,
    economy::CHECKS,
];

/// Runs every check on a design. Time grows in step with the layers.
#[must_use]
pub fn check(recipe: &Recipe, vessel: &Vessel, plan: &Plan) -> Vec<Finding> {
    let design = Design { recipe, vessel, plan };
    let mut found = Vec::new();
    for check in CHECKS.iter().copied().flatten() {
        (check.run)(design, &mut found);
    }
    found
}

impl<'a> Design<'a> {
    /// Every built layer with its index and its statement, bench upward.
    pub fn layers(self) -> impl Iterator<Item = (usize, &'a Layer, &'a BuiltLayer)> {
        let mut said = self.recipe.layers();
        self.vessel.layers.iter().enumerate().filter_map(move |(at, built)| {
            let (_, _, layer) = said.find(|(part, index, _)| (*part, *index) == (built.part, built.index))?;
            Some((at, layer, built))
        })
    }

    /// A small difference as the recipe's own units show it, to what a caliper reads.
    #[must_use]
    pub fn show_fine(self, length: Length) -> String {
        crate::quantity::show_fine(length, self.recipe.units)
    }

    /// A length as the recipe's own units show it.
    #[must_use]
    pub fn show(self, length: Length) -> String {
        crate::quantity::show_length(length, self.recipe.units)
    }
}
