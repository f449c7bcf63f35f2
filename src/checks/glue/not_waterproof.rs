//! Glue that does not stand the wetting that the vessel gets.

use crate::checks::stuff::because;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::resolve::Use;
use crate::tables::WaterClass;

pub(super) const CHECK: Check = Check { code: &catalog::GLUE_NOT_WATERPROOF, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(holds) = design.holds() else { return };
    // Behind glass or metal the wood stays as dry as any.
    let Some(need) = needs(holds.value).filter(|_| !design.has_liner()) else { return };
    for used in design.glues(|used| used.glue.water < need) {
        let (key, use_word) = (&used.glue.key, holds.value.word());
        let stands = match used.glue.water {
            WaterClass::Short => "stands short wetting but no liquid",
            WaterClass::No | WaterClass::Long => "is made for dry use",
        };
        let (gets, way_out) = match need {
            WaterClass::Long => (
                format!("{use_word} stands in the vessel"),
                "take `pva-d4`, `polyurethane` or `epoxy-slow`, or let a liner hold the liquid",
            ),
            WaterClass::No | WaterClass::Short => (
                format!("a vessel that holds {use_word} is washed"),
                "take `pva-d3`, which stands short and frequent wetting, or one that stands more: for all layers, `shop { glue pva-d3 }`",
            ),
        };
        let class = if used.glue.class == "n/a" { String::new() } else { format!(" ({})", used.glue.class) };
        let message = format!("`{key}`{class} {stands}; {gets}");
        found.push(because(Finding::new(CHECK.code, used.place, message), holds).help(way_out));
    }
}

/// What the joints have to stand; nothing where the vessel stays dry.
fn needs(holds: Use) -> Option<WaterClass> {
    if holds.holds_liquid() {
        return Some(WaterClass::Long);
    }
    holds.gets_wet().then_some(WaterClass::Short)
}

#[cfg(test)]
mod tests {
    use super::needs;
    use crate::resolve::Use;
    use crate::tables::{WaterClass, find_glue};

    #[test]
    fn washing_wants_d3_and_standing_liquid_d4() {
        // EN 204:2016, the conditions of use of its classes.
        let fits = |key: &str, holds| needs(holds).is_none_or(|need| find_glue(key).unwrap().water >= need);
        for (key, food, drink) in [
            ("pva-d2", false, false),
            ("hide-hot", false, false),
            ("pva-d3", true, false),
            ("pva-d4", true, true),
            ("polyurethane", true, true),
            ("epoxy-slow", true, true),
        ] {
            assert_eq!((fits(key, Use::Food), fits(key, Use::Drink)), (food, drink), "{key}");
            assert!(fits(key, Use::DryFood) && fits(key, Use::Display), "{key}");
        }
        assert_eq!(needs(Use::Water), Some(WaterClass::Long));
    }
}
