//! Rings whose turning allowance the errors of saw and stop would use up.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::quantity::{at_least, show_angle};

pub(super) const CHECK: Check = Check { code: &catalog::SAW_ALLOWANCE_SHORT, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    for budget in &design.plan.error_budgets {
        let Some((needed, length)) = budget.needed.zip(budget.length) else { continue };
        if needed.value <= budget.allowance.value {
            continue;
        }
        let Some(head) = super::head(design, budget.layer) else { continue };
        let message = format!(
            "with every cut {} and every long edge {} off, flattened halves of {} segments lose {} of their radius; {} \
             is left for turning",
            show_angle(budget.angle_error.value),
            design.show_fine(length.error.value),
            budget.segments.value.0,
            design.show_fine(needed.value),
            design.show_fine(budget.allowance.value)
        );
        let allowance = budget.allowance.origin.span().filter(|span| *span != head);
        let finding = Finding::new(CHECK.code, head, message)
            .also_maybe(allowance, "the allowance is set here")
            .also_maybe(budget.angle_error.origin.span(), "the error of the saw is set here")
            .help(format!(
                "leave `allow {}` or more, or set the saw finer with a test ring and say so with `angle-error`",
                design.show(at_least(needed.value, design.recipe.units))
            ))
            .rank((needed.value - budget.allowance.value).mm());
        found.push(finding);
    }
}
