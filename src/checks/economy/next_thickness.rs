//! Layers a hair thicker than what the next thinner board gives.

use std::collections::BTreeSet;

use crate::checks::sawn::{SawnKind, sawn};
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::geometry::BuiltLayer;
use crate::quantity::{Length, System, at_most, show_decimal, show_inches};
use crate::resolve::Layer;
use crate::tables::{LumberSize, lumber_sizes};
use crate::workings::Origin;

pub(super) const CHECK: Check = Check { code: &catalog::ECONOMY_NEXT_THICKNESS, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let units = design.recipe.units;
    let flattened = design.recipe.shop.sanding.value * 2.0;
    // What is glued and measured is paid for.
    let is_made =
        |(at, said, _): (usize, &Layer, &BuiltLayer)| matches!(said.thick.origin, Origin::Made(_)).then_some(at);
    let made: BTreeSet<usize> = design.layers().filter_map(is_made).collect();
    for sawn in sawn(design) {
        // Of staves and cones the shape decides the board, and what is at hand is paid for.
        let is_layer = matches!(sawn.kind, SawnKind::Strip | SawnKind::Round);
        if !is_layer || !design.boards_of(sawn.wood).is_empty() {
            continue;
        }
        let Some(thinner) = just_missed(sawn.thick, units) else { continue };
        let thick = at_most(thinner.planed() - flattened, units);
        for used in sawn.uses.iter().filter(|used| used.layer.is_none_or(|layer| !made.contains(&layer))) {
            let message = format!(
                "{} is sawn {} thick, {} more than a {} board planes to",
                design.used_for(*used),
                design.show(sawn.thick),
                design.show(sawn.thick - thinner.planed()),
                thinner.name
            );
            let finding = Finding::new(CHECK.code, used.place, message)
                .help(format!("with `thick {}` thinner and cheaper boards will do", written(thick, units)))
                .rank((sawn.thick - thinner.planed()).mm());
            found.push(finding);
        }
    }
}

/// The thickest board that is too thin by no more than nobody would notice.
fn just_missed(thick: Length, units: System) -> Option<&'static LumberSize> {
    let of_series = lumber_sizes().iter().filter(|size| size.is_metric() == (units == System::Millimeter));
    let missed = of_series.filter(|size| {
        let over = thick - size.planed();
        over > limits::FINEST_SETTING.get() && over <= limits::NEAR_THICKNESS.get()
    });
    missed.max_by(|a, b| a.planed().mm().total_cmp(&b.planed().mm()))
}

/// As a recipe writes it.
fn written(length: Length, units: System) -> String {
    match units {
        System::Inch => show_inches(length).trim_end_matches('"').to_owned(),
        System::Millimeter => show_decimal(length, units),
    }
}

#[cfg(test)]
mod tests {
    use super::{just_missed, written};
    use crate::quantity::{Length, System};

    #[test]
    fn only_a_hair_over_is_a_near_miss() {
        let name = |mm: f64, units| just_missed(Length::from_mm(mm), units).map(|size| size.name.as_str());
        // 27 mm sawn planes to 23.8, 4/4 to 13/16 in, 20.64 mm.
        assert_eq!(name(24.2, System::Millimeter), Some("27 mm"));
        assert_eq!(name(24.4, System::Millimeter), None);
        assert_eq!(name(23.8, System::Millimeter), None);
        assert_eq!(name(21.0, System::Inch), Some("4/4"));
        assert_eq!(name(19.8, System::Inch), None);
    }

    #[test]
    fn a_thickness_is_told_as_it_is_written() {
        assert_eq!(written(Length::from_inches(25.0 / 32.0), System::Inch), "25/32");
        assert_eq!(written(Length::from_mm(23.2), System::Millimeter), "23.20");
    }
}
