//! A solid round glued to a ring of segments: it widens across its grain, the ring hardly.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};

use super::mismatch;
use super::stuff::Grain;

pub(super) const CHECK: Check = Check { code: &catalog::MOVEMENT_SOLID_FLOOR, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    mismatch::find(design, Grain::Solid, CHECK.code, found);
}
