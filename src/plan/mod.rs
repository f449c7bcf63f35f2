//! Vessel to plan: cuts, glue-ups and turning in shop order. Knows no paper.

mod balance;
mod boards;
mod budget;
mod checks;
mod cones;
mod cut_list;
pub mod cutting;
mod findings;
#[cfg(test)]
pub(crate) mod fixture;
mod glue;
mod half_ring;
mod inserts;
mod lid;
mod mounting;
mod mounting_checks;
mod round_the_ring;
mod rounds;
mod spacers;
mod staves;
mod strips;
mod sub_assembly;
#[cfg(test)]
pub(crate) mod tests;
mod totals;
mod turning;

use crate::finding::WithFindings;
use crate::geometry::{BuiltLayer, LayerShape, RingShape, Vessel};
use crate::quantity::Date;
use crate::resolve::{Layer, Recipe};
use crate::search::Effort;
use crate::workings::Ledger;

pub use balance::{Balance, balance, rim_in_a_second};
pub use boards::{BoardRow, PlyRow};
pub use budget::{ErrorBudget, LengthEffect, Miss};
pub use cones::{ConeRing, ConeRow};
pub use cut_list::{Closing, CutList, CutRow, LayerCut, Letters, Serving, Setup};
pub use cutting::CuttingPlan;
pub use glue::{
    ClampKind, Clamps, GlueNeed, GlueSchedule, GlueStep, GlueWork, Preparation, RingGlue, WorkDays, bands_round,
};
pub use half_ring::HalfRingCost;
pub use inserts::InsertBlank;
pub use mounting::{LastJoint, PartMount, Plate};
pub use round_the_ring::{Place, PlaceKind, round_the_ring};
pub use rounds::{DiscRow, RoundKind};
pub use spacers::SpacerRow;
pub use staves::StaveRow;
pub use strips::{Strip, ripped};
pub use totals::{Totals, WoodTotal};
pub use turning::{Caution, Mark, SpeedRange, Station, Turning, WIDE_DISC};

/// All that is to be done, in shop order.
#[derive(Debug, Clone)]
pub struct Plan {
    /// At the saw.
    pub cut_list: CutList,
    /// Which board gives what, and what to buy.
    pub cutting: CuttingPlan,
    /// Wood, mass, pieces.
    pub totals: Totals,
    /// What the errors of the saw add up to, of each ring of which it can be said, bench upward.
    pub error_budgets: Vec<ErrorBudget>,
    /// At the bench.
    pub glue: GlueSchedule,
    /// At the lathe.
    pub turning: Turning,
    /// What is cut for inserts, in the order of the recipe.
    pub insert_blanks: Vec<InsertBlank>,
    /// What holds each part on the lathe, the body first.
    pub mounting: Vec<PartMount>,
}

/// What is asked of a plan from outside the recipe.
#[derive(Debug, Clone, Copy, Default)]
pub struct Asked<'a> {
    /// How long the best plan is looked for.
    pub effort: Effort<'a>,
    /// The day on which the work begins; `None`: some Monday.
    pub start: Option<Date>,
}

/// Plans the work on a vessel. Same recipe, vessel and effort, same plan.
#[must_use]
pub fn plan(recipe: &Recipe, vessel: &Vessel, asked: Asked<'_>, ledger: &mut Ledger) -> WithFindings<Plan> {
    let layers = planned_layers(recipe, vessel);
    let budgets = budget::budgets(recipe, &layers, ledger);
    let cut_list = cut_list::cut_list(recipe, vessel, &layers, &budgets, ledger);
    let insert_blanks = inserts::blanks(recipe, vessel, ledger);
    let cutting = cutting::plan(recipe, &layers, &cut_list, &insert_blanks, &asked.effort);
    let faces = glue::GluedFaces::of(vessel, &cut_list, ledger);
    let totals = totals::totals(recipe, vessel, &layers, (&cut_list, &faces), &insert_blanks, cutting.cost(), ledger);
    let to_glue = glue::ToGlue {
        recipe,
        vessel,
        layers: &layers,
        budgets: &budgets,
        cuts: &cut_list,
        panels: &cutting.panels,
        faces: &faces,
    };
    let glue = glue::schedule(to_glue, asked, ledger);
    let turning = turning::turning(recipe, vessel, &totals, ledger);
    let mut findings = checks::thin_boards(recipe, &layers);
    findings.extend(checks::short_segments(recipe, &layers));
    findings.extend(checks::pointed_segments(recipe, &layers));
    findings.extend(checks::open_times(recipe, &layers, &glue));
    findings.extend(checks::expectations(recipe, vessel, (&totals, &cutting, &glue)));
    let mounting = mounting::mounting(recipe, vessel, ledger, &mut findings);
    let error_budgets = budgets.into_iter().flatten().collect();
    WithFindings {
        value: Plan { cut_list, cutting, totals, error_budgets, glue, turning, insert_blanks, mounting },
        findings,
    }
}

/// A layer as said and as built.
#[derive(Debug, Clone, Copy)]
struct Planned<'a> {
    said: &'a Layer,
    built: &'a BuiltLayer,
}

impl<'a> Planned<'a> {
    /// Its segments, when it is a ring.
    fn ring(self) -> Option<&'a RingShape> {
        match &self.built.shape {
            LayerShape::Ring(ring) => Some(ring),
            LayerShape::Disc { .. } | LayerShape::Slant(_) => None,
        }
    }
}

/// Every built layer beside its statement, in the order of [`Vessel::layers`].
fn planned_layers<'a>(recipe: &'a Recipe, vessel: &'a Vessel) -> Vec<Planned<'a>> {
    let mut said = recipe.layers();
    vessel
        .layers
        .iter()
        .filter_map(|built| {
            let (_, _, layer) = said.find(|(part, index, _)| (*part, *index) == (built.part, built.index))?;
            Some(Planned { said: layer, built })
        })
        .collect()
}

/// A count as the formulas take it.
fn to_u32(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
