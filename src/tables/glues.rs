//! Glues: open and closed assembly time, clamp time, cure, temperature.

use std::sync::{LazyLock, OnceLock};

use serde::Deserialize;

use crate::quantity::Duration;
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
    /// Lowest temperature of wood and glue, °C.
    pub min_use_temp_c: f64,
    /// `yes`, `no` or `unknown`; the maker's declaration decides.
    pub food_safe_when_cured: String,
    /// What to know of it.
    pub notes: String,
    /// Keys into `SOURCES.md`.
    pub source: String,
    #[serde(skip)]
    row: OnceLock<TableRow>,
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

    fn known(&'static self, minutes: f64) -> Known<Duration> {
        let row = self.row.get_or_init(|| TableRow { table: "glues", row: &self.key, source: &self.source });
        Known::new(Duration::from_minutes(minutes), Origin::Table(row))
    }
}

#[cfg(test)]
mod tests {
    use super::glues;

    #[test]
    fn the_table_is_whole_and_its_default_row_is_there() {
        assert!(super::find_glue("pva-d2").is_some());
        for glue in glues() {
            assert!(glue.open_assembly_min > 0.0 && glue.clamp_min > 0.0, "{}", glue.key);
            assert!(glue.closed_assembly_min >= glue.open_assembly_min, "{}", glue.key);
            assert!(!glue.source.is_empty(), "{}", glue.key);
        }
    }
}
