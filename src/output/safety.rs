//! Cautions in words. They are reminders for someone who knows the machines, not a course.

use std::fmt::Write as _;

use crate::plan::{Caution, WIDE_DISC};
use crate::resolve::RecipeWood;

use super::sheet::Sheet;

/// Who has the last word.
pub(super) const DEFER: &str = "These are reminders, not instructions. What the makers of machine, blade, glue and finish say comes first, \
and so do the rules of your place and the advice of someone trained; leave out what you are not sure of.";

/// For small parts at the saw.
pub(super) const SAW: [&str; 8] = [
    "Unplug the saw to change the blade. Guard and riving knife stay on wherever the cut allows.",
    "Hold the strip with a clamp or hold-down on a sled, never with fingers near the blade. Stop when the tail is as short as the hold length.",
    "Use a zero-clearance insert, and a stop that does not trap the piece between itself and the blade.",
    "Let the blade come to rest before you take a piece away.",
    "Brush the sawdust off the stop before each cut: a grain of dust is a wrong angle and a wrong length.",
    "Do not shape a short piece that can be cut from a longer one.",
    "Nothing shorter than its maker allows goes through a planer, often 300 mm or 12 in: it is thrown back.",
    "Wear eye and ear protection, draw off the dust at the saw, keep sleeves and cords out of the way.",
];

/// For gluing.
pub(super) const GLUE: [&str; 5] = [
    "Read the label: its times and temperatures hold, these are typical.",
    "Dry-fit everything before a bottle is opened. Hold the joint to the light.",
    "Gloves and fresh air for epoxy, polyurethane and cyanoacrylate; eye protection when glue may splash.",
    "Oily woods: wipe with the solvent that the glue's maker names, let it dry, then glue at once; mind fumes and flames.",
    "Solvents and their rags: away from flames, and to the bin that your fire code asks for.",
];

impl Sheet<'_> {
    /// A caution as a line of the turning sheet.
    pub(super) fn caution(&self, caution: Caution) -> String {
        match caution {
            Caution::FullCure { glue } => {
                let (key, hours) = self.glue(glue).map_or(("", 0.0), |glue| (glue.key.as_str(), glue.full_cure_h));
                format!(
                    "**Cured first.** `{key}` needs {hours} h to full strength. Look at every joint, tap it and twist it \
                     before it spins. A blank with a joint that has opened does not go on the lathe."
                )
            }
            Caution::SpeedByCorners => {
                "**Speed by the corners.** The speeds above go by the glued blank's corners. A vacuum chuck or jaws may allow less: their marking decides."
                    .to_owned()
            }
            Caution::RoughSlowly => {
                "**Rough slowly.** Tailstock up, no faster than the lower speed, light cuts until it runs true. Turn it by hand once before you start."
                    .to_owned()
            }
            Caution::StandAside => {
                "**Stand aside** of the line of the blank whenever the lathe starts. Stop and look after every catch and every new sound."
                    .to_owned()
            }
            Caution::FaceShield => {
                "**Full face shield**, impact rated (ANSI Z87.1 with `+`, EN 166 B or its successor). It does not stop a heavy piece: prevention does."
                    .to_owned()
            }
            Caution::Dust => {
                "**Dust and fumes.** Wood dust harms the lungs and is known to cause cancer of the nose. Draw it off where it is made, and wear a fitted mask (FFP2, N95 or better) when sanding."
                    .to_owned()
            }
            Caution::WoodDust { wood } => {
                let hazard = self.recipe.woods.get(wood).and_then(RecipeWood::wood).map_or("", |row| row.dust_hazard.as_str());
                let known = match hazard {
                    "toxic" => "its dust is toxic",
                    "strong-sensitizer" => "its dust sets off allergies in many who work it, and they stay",
                    "sensitizer" => "its dust can set off an allergy that stays",
                    _ => "its dust irritates skin, eyes or airways",
                };
                format!("**{}**: {known}.", self.wood(wood))
            }
            Caution::WoodAndFood { wood } => {
                let row = self.recipe.woods.get(wood).and_then(RecipeWood::wood);
                let (verdict, reason) = row.map_or(("", ""), |row| (row.food_contact.as_str(), row.food_reason.as_str()));
                let verdict = if verdict == "avoid" { "keep it away from food" } else { "food only with care" };
                format!("**{}**: {verdict} ({reason}).", self.wood(wood))
            }
            Caution::GlueAndFood { glue } => {
                let glue = self.glue(glue);
                let key = glue.map_or("", |glue| glue.key.as_str());
                if glue.is_some_and(|glue| glue.food_safe_when_cured == "no") {
                    format!("**`{key}`** is not for ware that food touches.")
                } else {
                    format!("**`{key}`** and food: only if the maker declares it.")
                }
            }
            Caution::Finish => self.finish(),
            Caution::OpenSegments => {
                "**Open segments** catch the tool and throw chips: the lower speed, light cuts with a sharp tool, from the solid toward the gap. \
                 Keep fingers and cloth out of the gaps; sand by hand with the lathe at rest."
                    .to_owned()
            }
            Caution::Staves => {
                "**Staves.** Their corners swing wide and strike: rough at the lower speed until it is round. Leave the bands on, or tape round it, for the first cuts."
                    .to_owned()
            }
            Caution::Sheet { layer } => format!(
                "**{}** is a thin sheet across the grain of its neighbors: a sharp tool and light cuts, or its edge chips. \
                 It covers the hole until it is turned through.",
                self.layer(layer)
            ),
            Caution::WideDisc { layer } => {
                let across = self.layers().get(layer).map_or(String::new(), |built| self.pair(built.outer_radius.value * 2.0));
                format!(
                    "**{}** is solid wood {across} across. It moves across its grain and the rings glued to it do not; above about {} many crack. \
                     Use dry wood of one moisture with the rest. What `check` says of it holds for the air that the recipe states.",
                    self.layer(layer),
                    self.pair(WIDE_DISC)
                )
            }
        }
    }

    /// What is said of the finish: of the one that the recipe names, or of any.
    fn finish(&self) -> String {
        let Some(finish) = self.recipe.finish else {
            return format!("**Finish** inside and out alike, or it warps. {ANY_FILM} {RAGS}");
        };
        let row = finish.value;
        if row.cure_days <= 0.0 && row.recoat_h <= 0.0 {
            return format!("**Finish:** none, `{}`. {}", row.key, row.notes);
        }
        let mut text = format!(
            "**Finish:** {}, `{}`, inside and out alike, or it warps. {} between coats, {}.",
            row.name,
            row.key,
            hours(row.recoat_h),
            cured(row.cure_days)
        );
        let has_food = self.recipe.holds.is_none_or(|holds| holds.value.touches_food());
        if has_food {
            text.push_str(match row.food_contact.as_str() {
                "ok" if row.cure_days <= 0.0 => " Counts as safe for food; the maker's word decides.",
                "ok" => " Counts as safe for food once it is through; the maker's word decides.",
                _ => " For food only if its maker declares it.",
            });
        }
        if !row.allergen.is_empty() && has_food {
            let _ = write!(text, " It comes from a {}: tell those who use the vessel.", row.allergen);
        }
        if row.has_self_heating_rags() {
            let _ = write!(text, " {RAGS}");
        }
        text.push_str(" The times are typical; those on the can hold.");
        text
    }
}

const ANY_FILM: &str =
    "A film or oil counts as safe for food once it is fully cured, which can take weeks; the maker's word decides.";

const RAGS: &str = "Oily rags heat themselves and burn: spread them flat outdoors to dry, or keep them under water in a closed metal can.";

fn hours(hours: f64) -> String {
    if hours < 1.0 {
        return format!("{:.0} minutes", hours * 60.0);
    }
    format!("{hours:.0} {}", if hours < 1.5 { "hour" } else { "hours" })
}

fn cured(days: f64) -> String {
    if days <= 0.0 {
        return "it never hardens: put it on again when the wood looks dry".to_owned();
    }
    format!("{days:.0} {} until it has cured through", if days < 1.5 { "day" } else { "days" })
}

#[cfg(test)]
mod tests {
    use super::{cured, hours};

    #[test]
    fn times_are_told_in_words() {
        assert_eq!([hours(0.1), hours(1.0), hours(24.0)], ["6 minutes", "1 hour", "24 hours"]);
        assert_eq!(cured(1.0), "1 day until it has cured through");
        assert!(cured(0.0).starts_with("it never hardens"));
    }
}
