//! Equilibrium moisture content: what wood comes to when it stands long enough in air.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::quantity::{Humidity, MoistureContent, Temperature};
use crate::workings::Formula;

/// How [`equilibrium`] is told.
pub static EQUILIBRIUM: Formula = Formula {
    gives: "moisture content of the wood",
    words: "read from the Wood Handbook's table 4-2 (FPL-GTR-190), in a straight line between its rows and columns",
    inputs: &["temperature", "relative humidity"],
};

#[derive(Debug, Clone, Copy, Deserialize)]
struct Cell {
    temp_f: f64,
    rh_pct: f64,
    emc_pct: f64,
}

/// One temperature of the table: humidities rising, each with its moisture content.
#[derive(Debug)]
struct Row {
    temp_f: f64,
    cells: Vec<Cell>,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    let cells: Vec<Cell> = super::read(include_str!("emc.csv"));
    let same_row = |a: &Cell, b: &Cell| a.temp_f.total_cmp(&b.temp_f).is_eq();
    cells.chunk_by(same_row).map(|cells| Row { temp_f: cells[0].temp_f, cells: cells.to_vec() }).collect()
});

/// The moisture content that wood comes to; `None` outside the table (30 to 130 °F, 5 to 95 %), where
/// nothing is known rather than the nearest edge.
#[must_use]
pub fn equilibrium(temperature: Temperature, humidity: Humidity) -> Option<MoistureContent> {
    let warm = temperature.fahrenheit();
    let (low, high, share) = between(&ROWS, |row| row.temp_f, warm)?;
    let at = |row: &Row| {
        let (low, high, share) = between(&row.cells, |cell| cell.rh_pct, humidity.percent())?;
        Some(low.emc_pct + share * (high.emc_pct - low.emc_pct))
    };
    let (low, high) = (at(low)?, at(high)?);
    Some(MoistureContent::from_percent(low + share * (high - low)))
}

/// How many figures the table has.
#[must_use]
pub fn cells() -> usize {
    ROWS.iter().map(|row| row.cells.len()).sum()
}

/// The two neighbors of `at` and how far it lies from the first to the second.
fn between<T>(rows: &[T], key: impl Fn(&T) -> f64, at: f64) -> Option<(&T, &T, f64)> {
    // A degree Fahrenheit that was written in Celsius comes back a hair beyond the last row.
    const HAIR: f64 = 1e-9;
    let upper = rows.partition_point(|row| key(row) < at - HAIR);
    let high = rows.get(upper)?;
    if (key(high) - at).abs() <= HAIR {
        return Some((high, high, 0.0));
    }
    let low = rows.get(upper.checked_sub(1)?)?;
    Some((low, high, (at - key(low)) / (key(high) - key(low))))
}

#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
#[cfg(test)]
mod tests {
    use super::{Cell, equilibrium};
    use crate::quantity::{Humidity, MoistureContent, Temperature};

    fn at(fahrenheit: f64, humidity: f64) -> Option<f64> {
        equilibrium(Temperature::from_fahrenheit(fahrenheit), Humidity::from_percent(humidity))
            .map(MoistureContent::percent)
    }

    /// Wood Handbook (FPL-GTR-190) equation 4-5 with the coefficients in °C of Simpson, "Equilibrium moisture
    /// content of wood in outdoor locations" (FPL-RN-0268, 1998).
    fn equation(celsius: f64, humidity: f64) -> f64 {
        let h = humidity / 100.0;
        let poly = |a: f64, b: f64, c: f64| a + b * celsius + c * celsius * celsius;
        let (w, k) = (poly(349.0, 1.29, 0.0135), poly(0.805, 0.000_736, -0.000_002_73));
        let (k1, k2) = (poly(6.27, -0.00938, -0.000_303), poly(1.91, 0.0407, -0.000_293));
        let (first, second) = (k1 * k * h, k1 * k2 * k * k * h * h);
        1800.0 / w * (k * h / (1.0 - k * h) + (first + 2.0 * second) / (1.0 + first + second))
    }

    #[test]
    fn cells_are_as_printed() {
        // Wood Handbook table 4-2.
        for (f, h, wanted) in [
            (70.0, 30.0, 6.2),
            (70.0, 50.0, 9.2),
            (70.0, 65.0, 12.0),
            (70.0, 80.0, 16.0),
            (30.0, 50.0, 9.5),
            (130.0, 50.0, 7.9),
            (90.0, 40.0, 7.4),
            (60.0, 45.0, 8.6),
        ] {
            assert!((at(f, h).unwrap() - wanted).abs() < 1e-9, "{f} °F {h} %");
        }
        // Gene Wengert's rule of thumb for rooms (FDMC magazine): 30 % is 6, 50 is 9, 65 is 12, 80 is 16.
        for (h, wanted) in [(30.0, 6.0), (50.0, 9.0), (65.0, 12.0), (80.0, 16.0)] {
            assert!((at(68.0, h).unwrap() - wanted).abs() < 0.4, "{h} %");
        }
    }

    #[test]
    fn the_equation_runs_through_the_table() {
        let cells: Vec<Cell> = super::super::read(include_str!("emc.csv"));
        let mut worst = 0.0_f64;
        for cell in &cells {
            let celsius = (cell.temp_f - 32.0) / 1.8;
            worst = worst.max((equation(celsius, cell.rh_pct) - cell.emc_pct).abs());
        }
        assert!(worst < 0.065, "a printed figure is rounded to 0.1; the equation strays by {worst}");
    }

    #[test]
    fn between_the_cells_the_equation_is_nearly_as_near() {
        for i in 0..=100 {
            for j in 0..=90 {
                let (f, h) = (30.0 + f64::from(i), 5.0 + f64::from(j));
                let strays = (at(f, h).unwrap() - equation((f - 32.0) / 1.8, h)).abs();
                assert!(strays < 0.2, "{f} °F, {h} %: {strays}");
            }
        }
    }

    #[test]
    fn outside_the_table_nothing_is_known() {
        for (f, h) in [(29.0, 50.0), (131.0, 50.0), (70.0, 4.0), (70.0, 96.0)] {
            assert_eq!(at(f, h), None, "{f} °F {h} %");
        }
        assert!(at(130.0, 95.0).is_some() && at(30.0, 5.0).is_some());
    }
}
