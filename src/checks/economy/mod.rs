//! Where wood or work could be saved.

mod lone_setting;
mod next_thickness;
mod waste;

use super::Check;

/// Every check of economy.
pub(super) static CHECKS: &[Check] = &[lone_setting::CHECK, next_thickness::CHECK, waste::CHECK];
