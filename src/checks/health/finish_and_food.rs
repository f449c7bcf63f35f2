//! Finishes that touch food only by their maker's word.

use crate::checks::stuff::because;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::tables::Finish;

pub(super) const CHECK: Check = Check { code: &catalog::HEALTH_FINISH_AND_FOOD, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let (Some(holds), Some(finish)) = (design.holds_food(), design.finish()) else { return };
    if finish.value.food_contact == "ok" {
        return;
    }
    let Finish { key, cfr, cure_days, .. } = finish.value;
    let message = format!("`{key}` is for food only by its maker's word; food code: {cfr}");
    let finding = because(Finding::new(CHECK.code, finish.place, message), holds).help(format!(
        "ask its maker, and leave it {cure_days} days to cure; of `mineral-oil`, `pure-tung-oil` and waxes less is to be asked"
    ));
    found.push(finding);
}
