//! The vessel as pictures: from outside, sawn through, its pattern laid flat, each layer on the bench; its boards and its days.
//!
//! Pictures are made in points of 1/96 in and 680 wide, so that they fit between the margins of A4 and Letter as they are.

mod boards;
mod cells;
mod dress;
mod elevation;
mod layer;
mod lettering;
mod marks;
mod schedule;
mod section;
#[cfg(test)]
mod tests;
mod unrolled;

pub(super) use boards::{boards, each_board};
pub(super) use cells::{Cell, cells};
pub(super) use elevation::elevation;
pub(super) use layer::layer;
pub(super) use lettering::width;
pub(super) use schedule::{each_day, schedule};
pub(super) use section::section;
pub(super) use unrolled::unrolled;
