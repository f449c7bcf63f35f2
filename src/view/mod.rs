//! What there is to see of a vessel, as numbers: outlines on a plane and solids in space. Knows no words, no color, no
//! paper.
//!
//! Millimeters. In space the axis is z and goes up from the bench, x to the right; the rotation of a layer is counted from
//! x, counterclockwise seen from above. An elevation is seen against +y: x to the right, height upward.

pub mod bands;
pub mod elevation;
pub mod layer;
pub mod pieces;
pub mod section;
pub mod solid;
pub mod unrolled;
