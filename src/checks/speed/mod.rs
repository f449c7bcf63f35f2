//! What turns: whether it fits over the bed, and how fast its rim goes.

mod beyond_swing;
mod lathe_too_fast;
mod unbalanced;

use super::Check;

/// Every check of speed and swing.
pub(super) static CHECKS: &[Check] = &[beyond_swing::CHECK, lathe_too_fast::CHECK, unbalanced::CHECK];
