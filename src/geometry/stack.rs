//! Whether the layers' heights add up to the shape's.

use crate::finding::{Finding, limits};
use crate::quantity::Length;
use crate::resolve::Recipe;

use super::vessel::BuiltLayer;
use super::{findings, lid_check};

/// Stack and shape may differ by so much: fractions of an inch written with decimals.
const TOLERANCE: Length = limits::FINEST_SETTING.get();

/// Compares the stack with the shape's height.
pub(super) fn check(recipe: &Recipe, layers: &[BuiltLayer], height: Length, found: &mut Vec<Finding>) {
    // With layers left out, the height of the rest says nothing.
    if recipe.is_partial {
        return;
    }
    let Some((last, (_, _, last_said))) = layers.last().zip(recipe.layers().last()) else { return };
    let stack = last.z1.value;
    if (stack - height).abs() > TOLERANCE
        && let Some(finding) = lid_check::stack_off(recipe, layers, stack, height)
    {
        found.push(finding);
        return;
    }
    if stack < height - TOLERANCE {
        found.push(findings::stack_too_short(recipe, last_said, stack, height, TOLERANCE));
    }
    // One finding for all that lies beyond: taking the layers away is one change.
    let beyond = layers.partition_point(|layer| layer.z0.value < height - TOLERANCE);
    if let Some((first, (_, _, said))) = layers.get(beyond).zip(recipe.layers().nth(beyond)) {
        found.push(findings::layer_beyond_shape(recipe, said, first.z0.value, height, layers.len() - beyond));
    } else if stack > height + TOLERANCE {
        found.push(findings::stack_too_tall(recipe, last_said, stack, height));
    }
}
