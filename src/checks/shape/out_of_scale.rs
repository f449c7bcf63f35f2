//! Vessels larger than lathes are, most often by a slip of the units.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::quantity::{Length, System, show_length};

pub(super) const CHECK: Check = Check { code: &catalog::SHAPE_OUT_OF_SCALE, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let (across, high) = (design.vessel.max_diameter.value, design.vessel.height.value);
    let most = limits::LARGEST_TURNED.get();
    // Whoever states the lathe's swing knows how wide it may be, and the blanks are held against it.
    let wide = (across > most && design.recipe.shop.swing.is_none()).then_some((across, "across"));
    let Some((size, way)) = wide.or_else(|| (high > most).then_some((high, "high"))) else { return };
    let message = format!(
        "the vessel is {} {way}; few lathes take more than {}: are its units right?",
        design.show(size),
        design.show(most)
    );
    found.push(Finding::new(CHECK.code, design.recipe.outside.span, message).help(way_out(
        design,
        size,
        wide.is_some(),
    )));
}

/// Figures of an inch file that were meant as millimeters give a vessel of a likely size.
fn way_out(design: Design<'_>, size: Length, is_wide: bool) -> String {
    let meant = Length::from_mm(size.inches());
    if design.recipe.units == System::Inch {
        format!("with `units mm` it would be {}", show_length(meant, System::Millimeter))
    } else if is_wide {
        "make the vessel narrower; where it is meant so, state what the lathe takes: `swing` in `shop`".to_owned()
    } else {
        "make the vessel lower; where it is meant so, `accept` this".to_owned()
    }
}
