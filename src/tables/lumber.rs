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

static SIZES: LazyLock<Vec<LumberSize>> = LazyLock::new(|| {
    let rows: Vec<LumberSize> = super::read(include_str!("lumber.csv"));
    rows.into_iter().filter(|row| row.kind == "nominal-hardwood" || row.kind == "metric-sawn").collect()
});

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

    /// Whether it is of the series that is sold in millimeters.
    #[must_use]
    pub fn is_metric(&self) -> bool {
        self.kind == "metric-sawn"
    }
}

#[cfg(test)]
mod tests {
    use super::lumber_sizes;

    #[test]
    fn every_size_is_rough_and_loses_by_surfacing() {
        assert_eq!(lumber_sizes().len(), 20);
        for size in lumber_sizes() {
            assert!(size.rough().mm() > 0.0, "{}", size.name);
            assert!(size.surfaced().is_none_or(|surfaced| surfaced < size.rough()), "{}", size.name);
            assert_eq!(size.surfaced().is_none(), size.is_metric(), "{}", size.name);
        }
    }
}
