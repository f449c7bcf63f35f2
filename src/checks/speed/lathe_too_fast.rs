//! Lathes that do not turn slowly enough for the blank before it is true.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::plan::rim_in_a_second;
use crate::quantity::{Length, at_most};

pub(super) const CHECK: Check = Check { code: &catalog::SPEED_LATHE_TOO_FAST, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(speeds) = design.recipe.shop.speeds else { return };
    let slow = speeds.slow.value;
    for range in design.plan.turning.speeds.iter().filter(|range| slow > range.low.value) {
        let of_part = design.layers().filter(|(_, _, built)| built.part == range.part);
        let widest = of_part.max_by(|a, b| a.2.swing().mm().total_cmp(&b.2.swing().mm()));
        let Some((_, said, _)) = widest else { continue };
        let across = range.largest_blank.value;
        let even_trued = if slow > range.high.value {
            format!(", and no more than {:.0} rpm when it is trued", range.high.value.rpm())
        } else {
            String::new()
        };
        let message = format!(
            "the {} is {} across its corners and is roughed at {:.0} rpm or less{even_trued}; the lathe's slowest is \
             {:.0} rpm, at which its rim goes {:.1} m/s",
            range.part.word(),
            design.show(across),
            range.low.value.rpm(),
            slow.rpm(),
            rim_in_a_second(across, slow).mm() / 1000.0
        );
        let fits = Length::from_inches(limits::ROUGHING_RULE.get().value() / slow.rpm().max(1.0));
        let finding = Finding::new(CHECK.code, said.head, message)
            .also_maybe(speeds.slow.origin.span(), "the speeds are set here")
            .help(format!(
                "set a slower step of the belt, or keep blanks within {} across the corners",
                design.show(at_most(fits, design.recipe.units))
            ))
            .rank(slow.rpm() - range.low.value.rpm());
        found.push(finding);
    }
}
