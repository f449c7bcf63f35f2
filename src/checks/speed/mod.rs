//! What turns: whether it fits over the bed, and how fast its rim goes.

mod beyond_swing;

use super::Check;

/// Every check of speed and swing.
pub(super) static CHECKS: &[Check] = &[beyond_swing::CHECK];
