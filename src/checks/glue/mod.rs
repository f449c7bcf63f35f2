//! Whether a glue suits its wood, the shop and what the vessel is for.

mod brittle;
mod hot_melt;
mod no_band;
mod not_waterproof;
mod oily_wood;
mod too_cold;

use super::Check;

/// Every check of glue.
pub(super) static CHECKS: &[Check] =
    &[brittle::CHECK, hot_melt::CHECK, no_band::CHECK, not_waterproof::CHECK, oily_wood::CHECK, too_cold::CHECK];
