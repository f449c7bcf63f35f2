//! Whether the wood that is wanted is sold, is at hand, and is as dry as it should be.

mod drier;
mod not_so_thick;
mod too_narrow;
mod too_short;
mod too_thin;

use crate::finding::limits;
use crate::quantity::Length;
use crate::resolve::StockBoard;

use super::Check;

/// Every check of stock.
pub(super) static CHECKS: &[Check] =
    &[drier::DAMP, drier::DRY, not_so_thick::CHECK, too_thin::CHECK, too_narrow::CHECK, too_short::CHECK];

/// Whether so much can be sawn from the board's thickness.
fn is_thick_enough(board: &StockBoard, thick: Length) -> bool {
    board.planed() >= thick - limits::FINEST_SETTING.get()
}

/// Whether a piece so wide can be sawn from it.
fn is_wide_enough(board: &StockBoard, wide: Length) -> bool {
    board.wide.value >= wide - limits::FINEST_SETTING.get()
}
