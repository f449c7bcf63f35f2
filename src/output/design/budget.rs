//! The error budgets, poured into the types of the JSON.

use crate::compile::Complete;

use super::ErrorBudget;
use super::fill::layer_id;
use super::origin::{named, traces};

/// One for each ring of which something can be said.
pub(super) fn budgets<'a>(complete: &Complete<'a>) -> Vec<ErrorBudget<'a>> {
    let budget = |budget: &crate::plan::ErrorBudget| {
        let mut workings = traces([
            named("worst_opening", &budget.worst.opening),
            named("worst_gap", &budget.worst.gap),
            named("likely_opening", &budget.likely.opening),
            named("likely_gap", &budget.likely.gap),
            named("shared_gap", &budget.shared),
        ]);
        if let Some(length) = budget.length {
            workings.extend(traces([
                named("worst_diameter_by_length", &length.worst),
                named("likely_diameter_by_length", &length.likely),
            ]));
        }
        workings.extend(budget.half_ring.iter().flat_map(|half| traces([named("diameter_lost", &half.diameter_lost)])));
        workings.extend(budget.needed.iter().flat_map(|needed| traces([named("needed_allowance", needed)])));
        ErrorBudget {
            layer: layer_id(complete, budget.layer),
            segments: budget.segments.value.0,
            angle_error_deg: budget.angle_error.value.degrees(),
            worst_opening_deg: budget.worst.opening.value.degrees(),
            worst_gap_mm: budget.worst.gap.value.mm(),
            likely_opening_deg: budget.likely.opening.value.degrees(),
            likely_gap_mm: budget.likely.gap.value.mm(),
            shared_gap_mm: budget.shared.value.mm(),
            worst_diameter_by_length_mm: budget.length.map(|length| length.worst.value.mm()),
            likely_diameter_by_length_mm: budget.length.map(|length| length.likely.value.mm()),
            has_flat_halves: budget.has_flat_halves,
            diameter_lost_mm: budget.half_ring.map(|half| half.diameter_lost.value.mm()),
            needed_allowance_mm: budget.needed.map(|needed| needed.value.mm()),
            allowance_mm: budget.allowance.value.mm(),
            workings,
        }
    };
    complete.plan.error_budgets.iter().map(budget).collect()
}
