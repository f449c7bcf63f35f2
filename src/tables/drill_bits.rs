//! Drill bits as the trade sells them.

use std::sync::{LazyLock, OnceLock};

use serde::Deserialize;

use crate::quantity::{Diameter, Length};
use crate::workings::{Known, Origin, TableRow};

/// How a bit cuts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum BitKind {
    /// Flat bottom, cut by its rim.
    Forstner,
    /// A center point and two spurs.
    BradPoint,
}

/// By which scale a bit is sized.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Series {
    /// In fractions of an inch.
    Inch,
    /// In millimeters.
    Metric,
}

/// One row of `drill_bits.csv`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct DrillBit {
    /// How it cuts.
    pub kind: BitKind,
    /// By which scale it is sized.
    pub series: Series,
    /// As stamped on it: `3/8`, `10`.
    pub nominal: String,
    /// In the unit of its series.
    diameter: f64,
    /// Keys into `SOURCES.md`.
    pub source: String,
    #[serde(skip)]
    row: OnceLock<TableRow>,
}

static BITS: LazyLock<Vec<DrillBit>> = LazyLock::new(|| super::read(include_str!("drill_bits.csv")));

/// All bits, in the order of the table: by kind and series, rising.
#[must_use]
pub fn drill_bits() -> &'static [DrillBit] {
    &BITS
}

impl DrillBit {
    /// The hole it cuts.
    #[must_use]
    pub fn diameter(&'static self) -> Known<Diameter> {
        let row = self.row.get_or_init(|| TableRow { table: "drill bits", row: &self.nominal, source: &self.source });
        let across = match self.series {
            Series::Inch => Length::from_inches(self.diameter),
            Series::Metric => Length::from_mm(self.diameter),
        };
        Known::new(Diameter::new(across), Origin::Table(row))
    }
}

#[cfg(test)]
mod tests {
    use super::{BitKind, Series, drill_bits};
    use crate::quantity::Number;

    #[test]
    fn a_bit_is_as_wide_as_is_stamped_on_it() {
        for bit in drill_bits() {
            let stamped = Number::read(&bit.nominal).unwrap().value();
            let across = bit.diameter().value.across();
            let read = if bit.series == Series::Inch { across.inches() } else { across.mm() };
            assert!((stamped - read).abs() < 1e-12, "{}", bit.nominal);
        }
    }

    #[test]
    fn bits_rise_within_kind_and_series() {
        for pair in drill_bits().windows(2) {
            if (pair[0].kind, pair[0].series) == (pair[1].kind, pair[1].series) {
                assert!(pair[0].diameter < pair[1].diameter, "{} {}", pair[0].nominal, pair[1].nominal);
            }
        }
        let count = |kind| drill_bits().iter().filter(|bit| bit.kind == kind).count();
        assert_eq!((count(BitKind::Forstner), count(BitKind::BradPoint)), (55, 29));
    }
}
