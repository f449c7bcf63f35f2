//! Rings without flat halves whose joints would likely stand open by more than glue fills.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::plan::ErrorBudget;
use crate::quantity::{Angle, show_angle, trig};

pub(super) const CHECK: Check = Check { code: &catalog::SAW_CLOSING_GAP, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    // Halves that end in one plane are sanded flat there: what that costs is told by saw/allowance-short.
    for budget in design.plan.error_budgets.iter().filter(|budget| !budget.has_flat_halves) {
        let most = limits::OPEN_JOINT.get();
        if budget.shared.value <= most {
            continue;
        }
        let Some(head) = super::head(design, budget.layer) else { continue };
        let message = format!(
            "with cuts off by {}, this ring likely misses the circle by {}: each joint stands open by {} at one end, \
             and glue fills {}",
            show_angle(budget.angle_error.value),
            show_angle(budget.likely.opening.value),
            design.show_fine(budget.shared.value),
            design.show_fine(most)
        );
        let finding = Finding::new(CHECK.code, head, message)
            .also_maybe(budget.angle_error.origin.span(), "the error of the saw is set here")
            .help(format!(
                "set the saw to {} or better with a test ring, or take an even count of like segments: the ends of their \
                 halves can be sanded flat",
                show_angle(sufficient(budget))
            ))
            .rank(budget.shared.value.mm());
        found.push(finding);
    }
}

/// The error of each cut at which the joints would just be filled, rounded down to what is printed of an angle.
fn sufficient(budget: &ErrorBudget) -> Angle {
    let segments = f64::from(budget.segments.value.0);
    let of_joint = (budget.likely.opening.value / segments).sin();
    let wanted = (limits::OPEN_JOINT.get() / budget.shared.value * of_joint).clamp(-1.0, 1.0);
    let error = trig::asin(wanted).to_degrees() * segments / (2.0 * segments).sqrt();
    Angle::from_degrees((error * 100.0).floor() / 100.0)
}
