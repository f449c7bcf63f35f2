//! A section of the saw's page: what its error adds up to, ring by ring.

use std::fmt::Write as _;

use crate::plan::ErrorBudget;
use crate::quantity::show_angle;

use super::page::Page;
use super::sheet::{Sheet, listed};
use super::table::Table;

/// The section; nothing where no ring is closed.
pub(super) fn section(page: &mut Page, sheet: &Sheet<'_>) {
    let budgets = &sheet.plan.error_budgets;
    if budgets.is_empty() {
        return;
    }
    let shop = &sheet.recipe.shop;
    page.push_str("## What the saw's error does\n\n");
    let _ = writeln!(
        page,
        "Reckoned with every cut off by up to {}, long edges by up to {} (`angle-error` and `length-error` of the shop).\n",
        show_angle(shop.angle_error.value),
        sheet.own(shop.length_error.value),
    );
    let mut table = Table::new(
        "error-budget",
        &["ring", ">segments", ">gap at worst", ">likely gap", ">⌀ lost by sanding", ">radius used", ">left to turn"],
    );
    // Rings of which the same is to be said share a line.
    let mut lines: Vec<([String; 6], Vec<usize>)> = Vec::new();
    for budget in budgets {
        let cells = cells(sheet, budget);
        match lines.iter_mut().find(|(known, _)| *known == cells) {
            Some((_, layers)) => layers.push(budget.layer),
            None => lines.push((cells, vec![budget.layer])),
        }
    }
    for (cells, layers) in lines {
        let rings = listed(layers.into_iter().map(|layer| sheet.layer(layer).to_owned()));
        table.row(std::iter::once(rings).chain(cells));
    }
    page.table(table);
    page.push_str(
        "\n- Gap: at the outer corners, all of it in one joint. At worst every cut is off the same way: the test cut finds that. \
         Likely is off by chance; 19 rings of 20 do better.\n\
         - ⌀ lost: the largest circle, when the ends of two halves are sanded flat with every cut off the same way.\n\
         - Radius used: half of that, and what short edges take. What the allowance has over centers the ring: 1/16\" is usual.\n",
    );
    if budgets.iter().any(|budget| budget.needed.is_none()) {
        page.push_str("- —: not closed from halves of like segments. A gap there has to be mended at the saw.\n");
    }
    page.push('\n');
}

fn cells(sheet: &Sheet<'_>, budget: &ErrorBudget) -> [String; 6] {
    let or_dash = |length: Option<String>| length.unwrap_or_else(|| "—".to_owned());
    [
        budget.segments.value.0.to_string(),
        sheet.pair(budget.worst.gap.value),
        sheet.pair(budget.likely.gap.value),
        or_dash(budget.half_ring.map(|half| sheet.pair(half.diameter_lost.value))),
        or_dash(budget.needed.map(|needed| sheet.pair(needed.value))),
        sheet.pair(budget.allowance.value),
    ]
}
