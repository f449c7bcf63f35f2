//! The units a recipe may write, each with its factor to the base unit.

use super::Dimension;
use super::length::MM_PER_INCH;

/// One unit: how it is written and what it is worth in the base unit of its dimension.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// Every spelling, the canonical one first.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// Base units in one of it.
    pub factor: f64,
    /// Added after the factor; zero for all but temperatures.
    pub offset: f64,
}

const fn unit(spellings: &'static [&'static str], dimension: Dimension, factor: f64) -> Unit {
    Unit { spellings, dimension, factor, offset: 0.0 }
}

/// Every unit of the language. The inch, pound and US fluid ounce are exact by definition
/// (NIST Special Publication 811, appendix B); a US gallon is 231 in³ and holds 128 fl oz.
pub static UNITS: &[Unit] = &[
    unit(&["in", "\"", "″", "inch", "inches"], Dimension::LENGTH, MM_PER_INCH),
    unit(&["ft", "'", "′", "feet", "foot"], Dimension::LENGTH, 12.0 * MM_PER_INCH),
    unit(&["mm"], Dimension::LENGTH, 1.0),
    unit(&["cm"], Dimension::LENGTH, 10.0),
    unit(&["m"], Dimension::LENGTH, 1000.0),
    unit(&["deg", "°"], Dimension::ANGLE, 1.0),
    unit(&["%"], Dimension::NONE, 0.01),
    unit(&["%rh"], Dimension::HUMIDITY, 1.0),
    unit(&["%mc"], Dimension::MOISTURE, 1.0),
    unit(&["s"], Dimension::TIME, 1.0 / 60.0),
    unit(&["min"], Dimension::TIME, 1.0),
    unit(&["h"], Dimension::TIME, 60.0),
    unit(&["d"], Dimension::TIME, 24.0 * 60.0),
    unit(&["degC", "°C"], Dimension::TEMPERATURE, 1.0),
    Unit { spellings: &["degF", "°F"], dimension: Dimension::TEMPERATURE, factor: 5.0 / 9.0, offset: -160.0 / 9.0 },
    unit(&["ml"], Dimension::VOLUME, 1e3),
    unit(&["l"], Dimension::VOLUME, 1e6),
    unit(&["floz"], Dimension::VOLUME, 231.0 / 128.0 * MM_PER_INCH * MM_PER_INCH * MM_PER_INCH),
    unit(&["g"], Dimension::MASS, 1.0),
    unit(&["kg"], Dimension::MASS, 1000.0),
    unit(&["oz"], Dimension::MASS, 453.592_37 / 16.0),
    unit(&["lb"], Dimension::MASS, 453.592_37),
    unit(&["tpi"], Dimension::PITCH, 1.0 / MM_PER_INCH),
    unit(&["rpm"], Dimension::SPEED, 1.0),
];

impl Unit {
    /// The unit written so, if there is one.
    #[must_use]
    pub fn find(spelling: &str) -> Option<&'static Unit> {
        UNITS.iter().find(|unit| unit.spellings.contains(&spelling))
    }

    /// `number` of this unit, in the base unit.
    #[must_use]
    pub fn to_base(&self, number: f64) -> f64 {
        number * self.factor + self.offset
    }
}
