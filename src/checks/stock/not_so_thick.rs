//! Pieces thicker than any board that is sold.

use crate::checks::sawn::sawn;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::quantity::{Length, System};
use crate::tables::{LumberSize, lumber_sizes};

pub(super) const CHECK: Check = Check { code: &catalog::STOCK_NOT_SO_THICK, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(thickest) = thickest(design.recipe.units) else { return };
    for sawn in sawn(design) {
        // What is at hand need not be sold.
        if sawn.thick <= thickest.planed() || !design.boards_of(sawn.wood).is_empty() {
            continue;
        }
        for used in &sawn.uses {
            let message = format!(
                "{} is sawn {} thick; the thickest board that is usually sold, {}, planes to {}",
                design.used_for(*used),
                design.show(sawn.thick),
                thickest.name,
                design.show(thickest.planed())
            );
            let finding = Finding::new(CHECK.code, used.place, message)
                .help(format!(
                    "glue boards face on face first, as a `board` of plies, or make it of {} layers",
                    layers(sawn.thick, thickest.planed())
                ))
                .rank(sawn.thick.mm());
            found.push(finding);
        }
    }
}

/// Whether it is told as that.
pub(super) fn is_thicker_than_sold(design: Design<'_>, thick: Length) -> bool {
    thickest(design.recipe.units).is_some_and(|thickest| thick > thickest.planed())
}

/// Of the series that is sold in those units.
fn thickest(units: System) -> Option<&'static LumberSize> {
    let is_metric = units == System::Millimeter;
    let of_series = lumber_sizes().iter().filter(|size| size.is_metric() == is_metric);
    of_series.max_by(|a, b| a.planed().mm().total_cmp(&b.planed().mm()))
}

fn layers(thick: Length, board: Length) -> f64 {
    (thick / board).ceil()
}

#[cfg(test)]
mod tests {
    use super::{layers, thickest};
    use crate::quantity::{Length, System};

    #[test]
    fn the_thickest_are_sixteen_quarters_and_a_hundred_millimeters() {
        let of = |units| thickest(units).map(|size| (size.name.as_str(), size.planed().mm()));
        assert_eq!(of(System::Inch), Some(("16/4", 95.25)));
        let (name, planed) = of(System::Millimeter).unwrap();
        assert!(name == "100 mm" && (planed - 96.8).abs() < 1e-9);
        assert!((layers(Length::from_mm(120.0), Length::from_mm(96.8)) - 2.0).abs() < 1e-12);
    }
}
