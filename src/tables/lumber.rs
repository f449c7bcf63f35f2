//! Lumber as it is sold: the thickness by name, and what is left of it after surfacing.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::quantity::Length;

/// One row of `lumber.csv` that names a thickness; columns and sources are described in `SOURCES.md`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct LumberSize {
    /// `nominal-hardwood` or `metric-sawn`; other kinds of row are not sizes.
    kind: String,
    /// As the dealer calls it: `5/4`, `27 mm`.
    pub name: String,
    rough_mm: Option<f64>,
    s2s_mm: Option<f64>,
    /// Keys into `SOURCES.md`.
    pub source: String,
}

static ROWS: LazyLock<Vec<LumberSize>> = LazyLock::new(|| super::read(include_str!("lumber.csv")));

static SIZES: LazyLock<Vec<LumberSize>> = LazyLock::new(|| {
    ROWS.iter().filter(|row| row.kind == "nominal-hardwood" || row.kind == "metric-sawn").cloned().collect()
});

/// What flattening and planing take off each face of a rough board.
#[must_use]
pub fn planing_allowance() -> Length {
    ROWS.iter().find(|row| row.name.starts_with("planing allowance")).map_or(Length::ZERO, LumberSize::rough)
}

/// All thicknesses that are sold, in the order of the table.
#[must_use]
pub fn lumber_sizes() -> &'static [LumberSize] {
    &SIZES
}

impl LumberSize {
    /// As sawn; nothing in a row that gives none.
    #[must_use]
    pub fn rough(&self) -> Length {
        Length::from_mm(self.rough_mm.unwrap_or(0.0))
    }

    /// Surfaced on two sides; of the metric series the table gives none.
    #[must_use]
    pub fn surfaced(&self) -> Option<Length> {
        self.s2s_mm.map(Length::from_mm)
    }

    /// What is left of it to saw from, both faces planed.
    #[must_use]
    pub fn planed(&self) -> Length {
        self.surfaced().unwrap_or(self.rough() - planing_allowance() * 2.0)
    }

    /// Whether it is of the series that is sold in millimeters.
    #[must_use]
    pub fn is_metric(&self) -> bool {
        self.kind == "metric-sawn"
    }
}

#[cfg(test)]
mod tests {
    use super::{lumber_sizes, planing_allowance};

    #[test]
    fn a_sixteenth_goes_off_each_face() {
        // The table's rule, 1/16 in, to its own tenth of a millimeter; a board sawn 27 mm leaves 23.8.
        assert!((planing_allowance().mm() - 1.6).abs() < 1e-9);
        let sawn = lumber_sizes().iter().find(|size| size.name == "27 mm").unwrap();
        assert!((sawn.planed().mm() - 23.8).abs() < 1e-9);
    }

    #[test]
    fn every_size_is_rough_and_loses_by_surfacing() {
        assert_eq!(lumber_sizes().len(), 20);
        for size in lumber_sizes() {
            assert!(size.rough().mm() > 0.0, "{}", size.name);
            assert!(size.surfaced().is_none_or(|surfaced| surfaced < size.rough()), "{}", size.name);
            assert!(size.planed() < size.rough(), "{}", size.name);
            assert_eq!(size.surfaced().is_none(), size.is_metric(), "{}", size.name);
        }
    }
}
