//! Blanks whose pattern puts the heavier woods on one side.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::plan::balance;

pub(super) const CHECK: Check = Check { code: &catalog::SPEED_UNBALANCED, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let most = limits::PULL_OF_UNBALANCE.get();
    for range in &design.plan.turning.speeds {
        let Some(balance) = balance(design.recipe, design.vessel, range.part) else { continue };
        let pull = balance.pull(range.rough.value);
        // A pattern that weighs less than how the blank was mounted is not what shakes the lathe.
        if pull <= most || balance.offset <= limits::OFF_CENTER.get() {
            continue;
        }
        let Some((_, said, _)) = design.layers().find(|(at, ..)| *at == balance.worst_layer) else { continue };
        let message = format!(
            "the heavier woods of the {} lie on one side: its center of mass is {} off the axis, and at {:.0} rpm that \
             pulls with {:.1} times its weight, over {}",
            range.part.word(),
            design.show(balance.offset),
            range.rough.value.rpm(),
            pull.value(),
            most.value()
        );
        let finding = Finding::new(CHECK.code, said.head, message)
            .help(format!(
                "rough it at {:.0} rpm or less, let the pattern come round the ring more than once, or turn such rings \
                 against each other",
                (balance.speed_of(most).rpm() / 10.0).floor() * 10.0
            ))
            .rank(pull.value());
        found.push(finding);
    }
}
