//! Vessels larger or smaller than anybody turns, most often by a slip of the units.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::quantity::{Length, System, show_length};

pub(super) const CHECK: Check = Check { code: &catalog::SHAPE_OUT_OF_SCALE, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let (across, high) = (design.vessel.max_diameter.value, design.vessel.height.value);
    let (most, least) = (limits::LARGEST_TURNED.get(), limits::SMALLEST_TURNED.get());
    let show = |length| design.show(length);
    // Whoever states the lathe's swing knows how wide it may be, and the blanks are held against it.
    let is_wide = across > most && design.recipe.shop.swing.is_none();
    let (message, help) = if is_wide || high > most {
        let (size, way) = if is_wide { (across, "across") } else { (high, "high") };
        let message = format!("the vessel is {} {way}; few lathes take more than {}", show(size), show(most));
        let help = if is_wide {
            "make the vessel narrower; where it is meant so, state what the lathe takes: `swing` in `shop`"
        } else {
            "make the vessel lower; where it is meant so, `accept` this"
        };
        (message, in_other_units(design, size).unwrap_or_else(|| help.to_owned()))
    } else if across < least {
        let message =
            format!("the vessel is {} across; under {} hardly any is glued from segments", show(across), show(least));
        let help = in_other_units(design, across);
        (message, help.unwrap_or_else(|| "make the vessel wider; where it is meant so, `accept` this".to_owned()))
    } else {
        return;
    };
    let message = format!("{message}: are its units right?");
    found.push(Finding::new(CHECK.code, design.recipe.outside.span, message).help(help));
}

/// The same figure in the other system, where that is a likely size.
fn in_other_units(design: Design<'_>, size: Length) -> Option<String> {
    let (word, meant, system) = match design.recipe.units {
        System::Inch => ("mm", Length::from_mm(size.inches()), System::Millimeter),
        System::Millimeter => ("in", Length::from_inches(size.mm()), System::Inch),
    };
    let is_likely = meant >= limits::SMALLEST_TURNED.get() && meant <= limits::LARGEST_TURNED.get();
    is_likely.then(|| format!("with `units {word}` it would be {}", show_length(meant, system)))
}
