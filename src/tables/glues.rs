//! Glues: open and closed assembly time, clamp time, cure, temperature.

use std::sync::{LazyLock, OnceLock};

use serde::Deserialize;

use crate::quantity::{Duration, Mass};
use crate::workings::{Known, Origin, TableRow};

/// One row of `glues.csv`; its columns and sources are described in `SOURCES.md` beside it.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Glue {
    /// The name a recipe writes: `pva-d2`.
    pub key: String,
    /// What it is.
    pub name: String,
    /// Durability class by the standard named in it.
    pub class: String,
    /// From spreading to touching, minutes.
    pub open_assembly_min: f64,
    /// From touching to full pressure, minutes.
    pub closed_assembly_min: f64,
    /// Under pressure, minutes.
    pub clamp_min: f64,
    /// To full strength, hours.
    pub full_cure_h: f64,
    /// Grams for a square meter of joint.
    pub spread_g_per_m2: f64,
    /// Lowest temperature of wood and glue, °C.
    pub min_use_temp_c: f64,
    /// `yes`, `no` or `unknown`; the maker's declaration decides.
    pub food_safe_when_cured: String,
    /// What to know of it.
    pub notes: String,
    /// What it is made of.
    pub kind: GlueKind,
    /// How much wetting it stands.
    pub water: WaterClass,
    /// Keys into `SOURCES.md`.
    pub source: String,
    #[serde(skip)]
    row: OnceLock<TableRow>,
}

/// What a glue is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum GlueKind {
    /// Polyvinyl acetate, white or yellow.
    Pva,
    /// Animal glue.
    Hide,
    /// One-part, foaming.
    Polyurethane,
    /// Resin and hardener.
    Epoxy,
    /// Instant glue.
    Cyanoacrylate,
    /// Urea-formaldehyde.
    Urea,
    /// Resorcinol-formaldehyde.
    Resorcinol,
    /// Melted sticks.
    HotMelt,
}

/// How much wetting a glued joint stands; for the glues that EN 204 classes, after its conditions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WaterClass {
    /// None worth the name: EN 204 D1 and D2, hide glue.
    No,
    /// Short and frequent: EN 204 D3.
    Short,
    /// Long: EN 204 D4, slow epoxy, polyurethane, resorcinol.
    Long,
}

static GLUES: LazyLock<Vec<Glue>> = LazyLock::new(|| super::read(include_str!("glues.csv")));

/// All glues, in the order of the table.
#[must_use]
pub fn glues() -> &'static [Glue] {
    &GLUES
}

/// The glue with exactly that key.
#[must_use]
pub fn find_glue(key: &str) -> Option<&'static Glue> {
    GLUES.iter().find(|glue| glue.key == key)
}

impl Glue {
    /// From spreading the glue to touching the parts.
    #[must_use]
    pub fn open_time(&'static self) -> Known<Duration> {
        self.known(self.open_assembly_min)
    }

    /// Under pressure.
    #[must_use]
    pub fn clamp_time(&'static self) -> Known<Duration> {
        self.known(self.clamp_min)
    }

    /// What a square meter of joint takes.
    #[must_use]
    pub fn for_a_square_meter(&'static self) -> Known<Mass> {
        Known::new(Mass::from_grams(self.spread_g_per_m2), self.origin())
    }

    fn known(&'static self, minutes: f64) -> Known<Duration> {
        Known::new(Duration::from_minutes(minutes), self.origin())
    }

    fn origin(&'static self) -> Origin {
        Origin::Table(self.row.get_or_init(|| TableRow { table: "glues", row: &self.key, source: &self.source }))
    }
}

#[cfg(test)]
mod tests {
    use super::{GlueKind, WaterClass, find_glue, glues};

    #[test]
    fn what_stands_wetting_is_what_its_class_says() {
        for glue in glues() {
            // EN 204: D3 for frequent short wetting, D4 for long; a glue that may be either is the lower.
            let by_class = [("D2", WaterClass::No), ("D3", WaterClass::Short), ("EN 204 D4", WaterClass::Long)];
            if let Some((_, class)) = by_class.iter().find(|(name, _)| glue.class.contains(name)) {
                assert_eq!(glue.water, *class, "{}", glue.key);
            }
            assert_eq!(glue.key.starts_with("pva"), glue.kind == GlueKind::Pva, "{}", glue.key);
        }
        assert_eq!(find_glue("epoxy-slow").map(|glue| glue.water), Some(WaterClass::Long));
    }

    #[test]
    fn the_table_is_whole_and_its_default_row_is_there() {
        assert!(super::find_glue("pva-d2").is_some());
        for glue in glues() {
            assert!(glue.open_assembly_min > 0.0 && glue.clamp_min > 0.0 && glue.spread_g_per_m2 > 0.0, "{}", glue.key);
            assert!(glue.closed_assembly_min >= glue.open_assembly_min, "{}", glue.key);
            assert!(!glue.source.is_empty(), "{}", glue.key);
        }
    }
}
