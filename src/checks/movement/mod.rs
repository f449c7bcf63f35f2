//! What the year's moisture does to glued wood: how it moves, what opens, what cups.

mod air;
mod cup;
mod laminate_cups;
mod mismatch;
mod miters_open;
mod solid_floor;
mod staves_on_ring;
mod stuff;
mod unknown;
mod unlike_woods;

use super::Check;

/// Every check of movement.
pub(super) static CHECKS: &[Check] = &[
    solid_floor::CHECK,
    staves_on_ring::CHECK,
    miters_open::CHECK,
    unlike_woods::CHECK,
    laminate_cups::CHECK,
    unknown::CHECK,
];
