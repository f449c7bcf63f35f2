//! Woods beside each other in one ring of which one moves so much more that a step comes up between them.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::quantity::Length;

use super::air::Air;
use super::stuff::{Grain, Range, grain, range};

pub(super) const CHECK: Check = Check { code: &catalog::MOVEMENT_UNLIKE_WOODS, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(air) = Air::of(design.recipe) else { return };
    let limit = limits::STEP_FELT.get();
    for (_, said, built) in design.layers() {
        let Some(lies) = grain(built).filter(|lies| *lies != Grain::Solid) else { continue };
        // Plies lie over each other all round: no step between them.
        let Some(woods) = range(design.recipe, said).filter(|_| has_neighbors(said)) else { continue };
        let wall = design.level_wall(built).unwrap_or(Length::ZERO);
        // The wall grows to both sides of its middle; the height counts whole, since a ring lies on its lower face.
        let in_wall = step(air, woods, wall) / 2.0;
        let in_height = if lies == Grain::Round { step(air, woods, said.thick.value) } else { Length::ZERO };
        let (step, what, size) =
            if in_height > in_wall { (in_height, "height", said.thick.value) } else { (in_wall, "wall", wall) };
        if step <= limit {
            continue;
        }
        let message = format!(
            "in the {what} of {} ({}) {} moves {} more than {} beside it, {}; a finger feels {}",
            built.id,
            design.show(size),
            woods.greatest.name,
            design.show_fine(step),
            woods.least.name,
            air.words(),
            design.show_fine(limit)
        );
        let smaller = design.show(size * (limit / step));
        let help = format!(
            "put woods side by side that move alike, keep the {what} under {smaller}, or sand it in the season it will be seen in"
        );
        found.push(Finding::new(CHECK.code, said.head, message).help(help).rank(step.mm()));
    }
}

/// Whether segments of several stuffs stand side by side.
fn has_neighbors(said: &crate::resolve::Layer) -> bool {
    match &said.kind {
        crate::resolve::LayerKind::Ring(ring) => {
            ring.pattern.motif.first().is_some_and(|first| ring.pattern.motif.iter().any(|wood| wood != first))
        }
        crate::resolve::LayerKind::Disc { .. } | crate::resolve::LayerKind::Slant(_) => false,
    }
}

/// How much more of a size one wood gains than the other.
fn step(air: Air, woods: Range<'_>, size: Length) -> Length {
    let swelling = |movement| air.strain(movement).value();
    (size * (swelling(woods.greatest.movement) - swelling(woods.least.movement))).abs()
}

#[cfg(test)]
mod tests {
    use super::step;
    use crate::checks::movement::air::Air;
    use crate::checks::movement::stuff::{Moves, Range};
    use crate::finding::limits;
    use crate::quantity::Length;
    use crate::tables::find_wood;

    fn between(less: &'static str, more: &'static str, size: f64) -> f64 {
        let moves = |name: &'static str| {
            let movement = find_wood(name).unwrap().tangential_movement().unwrap().value;
            Moves { name, movement }
        };
        let air = Air::test(11.0, 7.0);
        step(air, Range { least: moves(less), greatest: moves(more) }, Length::from_mm(size)).mm()
    }

    #[test]
    fn usual_woods_at_usual_sizes_are_calm() {
        let limit = limits::STEP_FELT.get().mm();
        // By hand: 19 × (0.00353 − 0.00248) × 4 = 0.080 mm.
        assert!((between("black-cherry", "hard-maple", 19.0) - 0.0798).abs() < 1e-9);
        assert!(between("black-cherry", "hard-maple", 25.0) < limit);
        assert!(between("black-walnut", "hard-maple", 25.0) < limit);
        // 25 × (0.00431 − 0.00162) × 4 = 0.27 mm.
        assert!(between("eastern-redcedar", "american-beech", 25.0) > limit);
    }
}
