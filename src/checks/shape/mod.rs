//! The finished shape: whether it stands, and whether tools get inside.

mod balance;
mod deep;
mod hollow;
mod out_of_scale;
mod tips;
mod undercut;

use super::Check;

/// Every check of the shape as a whole.
pub(super) static CHECKS: &[Check] = &[out_of_scale::CHECK, tips::CHECK, undercut::CHECK, deep::CHECK];
