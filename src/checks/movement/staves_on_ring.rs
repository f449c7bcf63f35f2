//! Staves glued to a ring or a board: their round widens all ways, what they stand on hardly.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

use super::mismatch;
use super::stuff::Grain;

pub(super) const CHECK: Check = Check { code: &catalog::MOVEMENT_STAVES_ON_RING, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    mismatch::find(design, Grain::Upright, CHECK.code, found);
}
