//! Layers of which hardly anything stays.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::geometry::{LayerShape, shares};
use crate::quantity::{Ratio, Volume};

pub(super) const CHECK: Check = Check { code: &catalog::ECONOMY_WASTE, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    for (_, said, built) in design.layers() {
        let is_usual = match &built.shape {
            LayerShape::Disc { is_sheet, .. } => !is_sheet,
            LayerShape::Ring(ring) => ring.cuts.iter().all(|cut| shares::can_be_sawn(cut.sweep)),
            LayerShape::Slant(_) => true,
        };
        let (finished, blank) = (built.finished_volume.value, built.blank_volume.value);
        let Some(lost) = chips(finished, blank).filter(|lost| is_usual && *lost > limits::CHIPS.get()) else {
            continue;
        };
        let message = format!(
            "{:.0} % of {} ends as chips: {:.0} of {:.0} cm³ of its blank stay",
            lost.value() * 100.0,
            built.id,
            finished.cm3(),
            blank.cm3()
        );
        let finding = Finding::new(CHECK.code, said.head, message)
            .help(format!(
                "make it two layers where the shape runs flat, each with a ring of its own, or leave less than {} for turning",
                design.show(said.allow.value)
            ))
            .rank(lost.value());
        found.push(finding);
    }
}

/// The share of a blank that is turned away; `None` of a layer that the shape does not reach, which is told as that.
fn chips(finished: Volume, blank: Volume) -> Option<Ratio> {
    (blank.mm3() > 0.0 && finished.mm3() > 0.0).then(|| Ratio::of((blank.mm3() - finished.mm3()) / blank.mm3()))
}

#[cfg(test)]
mod tests {
    use super::chips;
    use crate::quantity::Volume;

    #[test]
    fn chips_are_what_does_not_stay() {
        let cm3 = |value: f64| Volume::from_mm3(value * 1000.0);
        assert!((chips(cm3(20.0), cm3(200.0)).unwrap().value() - 0.9).abs() < 1e-12);
        assert!(chips(cm3(0.0), cm3(0.0)).is_none() && chips(cm3(0.0), cm3(9.0)).is_none());
    }
}
