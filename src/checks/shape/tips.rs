//! Vessels that a nudge knocks over.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::quantity::{Length, show_angle};
use crate::resolve::Seat;

use super::balance::{self, Weight};

pub(super) const CHECK: Check = Check { code: &catalog::SHAPE_TIPS, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    // Layers that could not be read have no weight.
    if design.recipe.is_partial {
        return;
    }
    let Some(empty) = balance::empty(design) else { return };
    let is_filled = design.recipe.holds.is_some_and(|holds| holds.value.gets_wet());
    let water = if is_filled { balance::water(design) } else { None };
    let full = Weight::sum([Some(empty), water].into_iter().flatten());
    let (foot, raised) = foot(design);
    let leans = |weight: Weight| balance::tipping_angle(foot, weight.height + raised);
    let filled = full.filter(|_| water.is_some()).filter(|full| leans(*full) < leans(empty));
    let (worst, how) = filled.map_or((empty, "empty"), |full| (full, "full"));
    let (angle, least) = (leans(worst), limits::TIPPING.get());
    if angle >= least {
        return;
    }
    let outside = &design.recipe.outside;
    let place = outside.points.first().map_or(outside.span, |point| point.span);
    let height = worst.height + raised;
    let message = format!(
        "it goes over when it leans by {}: its foot is {} across and its weight, {how}, lies {} up; {} is the least",
        show_angle(angle),
        design.show(foot * 2.0),
        design.show(height),
        show_angle(least)
    );
    let wide = height * (2.0 * least.tan());
    let holds = design.recipe.holds.filter(|_| how == "full");
    found.push(
        Finding::new(CHECK.code, place, message)
            .also_maybe(holds.and_then(|holds| holds.origin.span()), "it is filled, since it holds this")
            .help(format!("make the foot {} across or wider, or the vessel lower", design.show(wide))),
    );
}

/// Radius of what it stands on, and how much that lifts it.
fn foot(design: Design<'_>) -> (Length, Length) {
    let inserted = design.recipe.fittings.inserts.iter().filter(|insert| matches!(insert.seat, Seat::BodyBase));
    let shown =
        inserted.filter_map(|insert| insert.shows).max_by(|a, b| a.tall.value.mm().total_cmp(&b.tall.value.mm()));
    match shown {
        Some(shown) => (shown.diameter.value / 2.0, shown.tall.value),
        None => (design.vessel.outside.above(design.vessel.outside.bottom()), Length::ZERO),
    }
}
