//! The saw: what it can reach, what it can hold, and what its error adds up to.

mod allowance_short;
mod closing_gap;
mod kerf_odd;
mod narrow_rip;
mod thin_stock;
mod tilt;
mod too_thick;

use super::{Check, Design};
use crate::plan::Strip;
use crate::source::Span;

/// Every check of the saw that looks at the finished plan.
pub(super) static CHECKS: &[Check] = &[
    tilt::CHECK,
    narrow_rip::CHECK,
    kerf_odd::CHECK,
    too_thick::CHECK,
    thin_stock::CHECK,
    closing_gap::CHECK,
    allowance_short::CHECK,
];

/// Where the layer with that index is said.
fn head(design: Design<'_>, layer: usize) -> Option<Span> {
    design.layers().find(|(at, ..)| *at == layer).map(|(_, said, _)| said.head)
}

/// Where the first layer is said that something of a strip is for.
fn first_served(design: Design<'_>, strip: &Strip) -> Option<Span> {
    let row = design.plan.cut_list.rows.get(*strip.rows.first()?)?;
    head(design, row.serves.first()?.layer)
}
