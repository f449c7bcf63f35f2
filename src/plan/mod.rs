//! Vessel to plan: cuts, glue-ups and turning in shop order. Knows no paper.

use crate::finding::WithFindings;
use crate::geometry::Vessel;
use crate::resolve::Recipe;
use crate::workings::Ledger;

/// All that is to be done, in shop order. (stub)
#[derive(Debug, Clone, Default)]
pub struct Plan {}

/// Plans the work on a vessel.
#[must_use]
pub fn plan(_recipe: &Recipe, _vessel: &Vessel, _ledger: &mut Ledger) -> WithFindings<Plan> {
    WithFindings { value: Plan::default(), findings: Vec::new() }
}
