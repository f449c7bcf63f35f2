//! Woods whose movement nobody has measured.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::geometry::BuiltLayer;
use crate::quantity::Length;
use crate::resolve::RecipeWood;
use crate::tables::{Wood, woods};

use super::air::Air;
use super::stuff::{Grain, grain, woods_of};

pub(super) const CHECK: Check = Check { code: &catalog::MOVEMENT_UNKNOWN, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let is_unknown = |used: &RecipeWood| used.wood().is_some_and(|wood| wood.tangential_movement().is_none());
    if !design.recipe.woods.iter().any(is_unknown) {
        return;
    }
    let Some(air) = Air::of(design.recipe) else { return };
    let Some((worst, movement)) = worst() else { return };
    let mut widest: Vec<Option<(Length, &BuiltLayer)>> = vec![None; design.recipe.woods.len()];
    for (_, said, built) in design.layers() {
        let size = moving_size(design, built);
        for wood in woods_of(design.recipe, said) {
            if let Some(known) = widest.get_mut(wood)
                && known.is_none_or(|(known, _)| size > known)
            {
                *known = Some((size, built));
            }
        }
    }
    let used = design.recipe.woods.iter().zip(widest).filter(|(used, _)| is_unknown(used));
    for (used, (size, built)) in used.filter_map(|(used, widest)| Some((used, widest?))) {
        let message = format!(
            "nobody has measured how {} moves, so no check of movement counts it; across the {} that {} has across the \
             grain, the wood that moves most ({}) would move {}, {}",
            used.name,
            design.show(size),
            built.id,
            worst.key,
            design.show_fine((size * air.strain(movement).value()).abs()),
            air.words()
        );
        let help = format!("use {} in narrow pieces alone, or a wood whose movement is known", used.name);
        found.push(Finding::new(CHECK.code, used.span, message).help(help).rank(size.mm()));
    }
}

/// How much wood of a layer lies side by side across the grain.
fn moving_size(design: Design<'_>, built: &BuiltLayer) -> Length {
    match grain(built) {
        Some(Grain::Round) | None => design.level_wall(built).unwrap_or(Length::ZERO),
        Some(Grain::Solid | Grain::Upright) => built.outer_radius.value * 2.0,
    }
}

/// The wood of the table that moves most, and how much.
fn worst() -> Option<(&'static Wood, crate::quantity::Movement)> {
    let known = woods().iter().filter_map(|wood| Some((wood, wood.tangential_movement()?.value)));
    known.max_by(|a, b| a.1.strain_per_percent().total_cmp(&b.1.strain_per_percent()))
}

#[cfg(test)]
mod tests {
    use super::worst;

    #[test]
    fn madrone_moves_most() {
        // Wood Handbook (FPL-GTR-190) table 13-5: Pacific madrone, 0.00451.
        let (wood, movement) = worst().unwrap();
        assert_eq!(wood.key, "pacific-madrone");
        assert!((movement.strain_per_percent() - 0.004_51).abs() < 1e-9);
    }
}
