//! A shop too cold for the glue.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::quantity::Temperature;
use crate::tables::{Glue, GlueKind, glues};

pub(super) const CHECK: Check = Check { code: &catalog::GLUE_TOO_COLD, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let shop = design.recipe.shop.temperature;
    // A temperature that is only assumed shows nothing.
    let Some(place) = shop.origin.span() else { return };
    for used in design.glues(|used| used.glue.min_use_temp_c > shop.value.celsius()) {
        let least = Temperature::from_celsius(used.glue.min_use_temp_c);
        let message = format!(
            "`{}` wants {} or more to set; the shop has {}",
            used.glue.key,
            design.show_temperature(least),
            design.show_temperature(shop.value)
        );
        let warmer =
            format!("warm shop, wood and glue to {}, through the time in clamps", design.show_temperature(least));
        let help = match sets_at(shop.value, used.glue) {
            Some(other) => format!(
                "{warmer}, or take `{}`, which sets from {}",
                other.key,
                design.show_temperature(Temperature::from_celsius(other.min_use_temp_c))
            ),
            None => warmer,
        };
        let finding = Finding::new(CHECK.code, place, message)
            .also(used.place, "the glue is used here")
            .help(help)
            .rank(used.glue.min_use_temp_c - shop.value.celsius());
        found.push(finding);
    }
}

/// The first of the table's usual glues for rings that sets in that cold and is no weaker in the wet.
fn sets_at(cold: Temperature, instead_of: &Glue) -> Option<&'static Glue> {
    let sets = |glue: &&Glue| {
        glue.min_use_temp_c <= cold.celsius()
            && glue.water >= instead_of.water
            && matches!(glue.kind, GlueKind::Pva | GlueKind::Polyurethane)
    };
    glues().iter().find(sets)
}

#[cfg(test)]
mod tests {
    use super::sets_at;
    use crate::quantity::Temperature;
    use crate::tables::find_glue;

    #[test]
    fn what_is_proposed_sets_in_the_cold() {
        let white = find_glue("pva-d2").unwrap();
        let at = |celsius: f64| sets_at(Temperature::from_celsius(celsius), white).map(|glue| glue.key.as_str());
        // The least temperatures of the table: 10 for the fast yellow, 8 for D4.
        assert_eq!((at(13.0), at(9.0), at(5.0)), (Some("pva-yellow-fast"), Some("pva-d4"), None));
    }
}
