//! What does harm to who turns the wood and who eats from it, as far as tables know.
//!
//! Every wood of a layer counts as touching what the vessel holds: which of them reach the inside a turner sees, and a
//! finish carries what is under it.

mod finish_and_food;
mod glue_and_food;
mod nut_oil;
mod open_pores;
mod poisonous_wood;
mod sensitizer;
mod stands_wet;
mod wood_and_food;

use super::Check;

/// Every check of health.
pub(super) static CHECKS: &[Check] = &[
    poisonous_wood::CHECK,
    sensitizer::CHECK,
    wood_and_food::AVOID,
    wood_and_food::CARE,
    open_pores::CHECK,
    glue_and_food::CHECK,
    finish_and_food::CHECK,
    nut_oil::CHECK,
    stands_wet::CHECK,
];
