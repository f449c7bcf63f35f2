//! Woods: specific gravity, movement, hardness, color, hazards.

use std::collections::HashMap;
use std::sync::{LazyLock, OnceLock};

use serde::Deserialize;

use crate::quantity::{Density, Movement};
use crate::workings::{Known, Origin, TableRow};

/// One row of `woods.csv`; its columns and sources are described in `SOURCES.md` beside it.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Wood {
    /// The name a recipe writes: `hard-maple`.
    pub key: String,
    /// The name on the board at the dealer's.
    pub common_name: String,
    /// The botanical name.
    pub latin_name: String,
    /// Oven-dry mass over the volume at 12 % moisture content, a pure number.
    pub specific_gravity_12pct: f64,
    /// Strain across the rings for each percent of moisture content; none where no source gives it.
    pub c_radial: Option<f64>,
    /// Strain along the rings, across the grain, likewise.
    pub c_tangential: Option<f64>,
    /// Key into `SOURCES.md` of the two coefficients.
    pub source_dim: String,
    /// Hardness by the Janka test, newtons; none where no source gives it.
    pub janka_n: Option<f64>,
    /// `diffuse`, `ring`, `semi-ring` or `softwood`: how its pores lie.
    pub pore_type: String,
    /// What to know of it at the bench; may be empty.
    pub notes: String,
    /// Display color, `#rrggbb`.
    pub color_srgb: String,
    /// What its dust is known to do, one word: `toxic`, `strong-sensitizer`, `sensitizer`, `irritant`; `none` where
    /// no reaction was recorded.
    pub dust_hazard: String,
    /// `ok`, `caution` or `avoid`, a judgment made for this table.
    pub food_contact: String,
    /// Why.
    pub food_reason: String,
    /// `oily` or `resinous` where that keeps glues on a water base from wetting it; else empty.
    pub gluing: String,
    /// `yes` where pores stand open that take up what is washed out of the vessel; else empty.
    pub open_pores: String,
    /// Keys into `SOURCES.md`.
    pub source: String,
    #[serde(skip)]
    row: OnceLock<TableRow>,
    #[serde(skip)]
    movement_row: OnceLock<TableRow>,
}

/// A name in everyday use and the woods that may be meant by it.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct WoodName {
    /// As written: `maple`.
    pub name: String,
    /// Keys, separated by a space; one when it is clear what is meant.
    pub woods: String,
}

static WOODS: LazyLock<Vec<Wood>> = LazyLock::new(|| super::read(include_str!("woods.csv")));
static NAMES: LazyLock<Vec<WoodName>> = LazyLock::new(|| super::read(include_str!("wood-names.csv")));

/// All woods, in the order of the table.
#[must_use]
pub fn woods() -> &'static [Wood] {
    &WOODS
}

/// The everyday names, in the order of the table.
#[must_use]
pub fn short_names() -> &'static [WoodName] {
    &NAMES
}

/// The wood with exactly that key.
#[must_use]
pub fn find_wood(key: &str) -> Option<&'static Wood> {
    WOODS_BY_KEY.get(key).copied()
}

/// Woods are asked for by every segment of every pattern.
static WOODS_BY_KEY: LazyLock<HashMap<&str, &Wood>> =
    LazyLock::new(|| WOODS.iter().map(|wood| (wood.key.as_str(), wood)).collect());

impl WoodName {
    /// The keys of the woods that may be meant.
    pub fn candidates(&self) -> impl Iterator<Item = &str> {
        self.woods.split(' ')
    }
}

impl Wood {
    /// At 12 % moisture content: specific gravity there counts only the dry wood, the water adds 12 %.
    #[must_use]
    pub fn density(&'static self) -> Known<Density> {
        let row = self.row.get_or_init(|| TableRow { table: "woods", row: &self.key, source: &self.source });
        Known::new(Density::from_g_per_mm3(self.specific_gravity_12pct * 1.12 / 1000.0), Origin::Table(row))
    }

    /// Movement square to the growth rings (a quartersawn face); `None` where nobody has measured it.
    #[must_use]
    pub fn radial_movement(&'static self) -> Option<Known<Movement>> {
        self.c_radial.map(|strain| self.movement(strain))
    }

    /// Movement along the growth rings (a flatsawn face), the greater of the two.
    #[must_use]
    pub fn tangential_movement(&'static self) -> Option<Known<Movement>> {
        self.c_tangential.map(|strain| self.movement(strain))
    }

    fn movement(&'static self, strain: f64) -> Known<Movement> {
        let row =
            self.movement_row.get_or_init(|| TableRow { table: "woods", row: &self.key, source: &self.source_dim });
        Known::new(Movement::per_percent(strain), Origin::Table(row))
    }
}

#[cfg(test)]
mod tests {
    use super::{find_wood, short_names, woods};

    #[test]
    fn every_everyday_name_leads_to_rows_of_the_table_and_hides_none() {
        for name in short_names() {
            assert!(find_wood(&name.name).is_none(), "{}", name.name);
            for key in name.candidates() {
                assert!(find_wood(key).is_some(), "{} -> {key}", name.name);
            }
        }
    }

    #[test]
    fn the_table_is_whole() {
        assert!(woods().len() > 70);
        for wood in woods() {
            assert!((0.2..1.5).contains(&wood.specific_gravity_12pct), "{}", wood.key);
            assert!(["ok", "caution", "avoid"].contains(&wood.food_contact.as_str()), "{}", wood.key);
            let hazards = ["none", "irritant", "sensitizer", "strong-sensitizer", "toxic"];
            assert!(hazards.contains(&wood.dust_hazard.as_str()), "{}", wood.key);
            assert!(["", "oily", "resinous"].contains(&wood.gluing.as_str()), "{}", wood.key);
            assert!(["", "yes"].contains(&wood.open_pores.as_str()), "{}", wood.key);
            assert!(!wood.source.is_empty(), "{}", wood.key);
        }
    }

    #[test]
    fn movement_follows_from_shrinkage() {
        // Wood Handbook (FPL-GTR-190): shrinkage starts at 30 % and the coefficient is told on the size at 10 %, so
        // C = S / (3000 − 20 S) with S in percent. Hard maple of table 4-3: 4.8 radial, 9.9 tangential.
        let maple = find_wood("hard-maple").unwrap();
        for (coefficient, shrinkage) in [(maple.radial_movement(), 4.8), (maple.tangential_movement(), 9.9)] {
            let got = coefficient.unwrap().value.strain_per_percent();
            assert!((got - shrinkage / (3000.0 - 20.0 * shrinkage)).abs() < 1e-5, "{got}");
        }
        assert!(find_wood("plum").unwrap().tangential_movement().is_none());
        for wood in woods() {
            assert_eq!(wood.c_radial.is_some(), wood.c_tangential.is_some(), "{}", wood.key);
            let (Some(radial), Some(tangential)) = (wood.c_radial, wood.c_tangential) else { continue };
            assert!(0.0005 < radial && radial <= tangential && tangential < 0.006, "{}", wood.key);
        }
    }

    /// Woods whose coefficients do not follow from their own shrinkage: `SOURCES.md` tells why of the birch, the oaks,
    /// the woods that start at 22 %, teak and the mahoganies; of hickory, mesquite and apple the two figures are of
    /// different sources.
    const EXCEPTIONS: [&str; 11] = [
        "sweet-birch",
        "hickory",
        "red-oak",
        "white-oak",
        "honey-mesquite",
        "western-redcedar",
        "redwood",
        "apple",
        "teak",
        "genuine-mahogany",
        "african-mahogany",
    ];

    #[test]
    fn every_row_with_both_figures_holds_the_relation_or_is_a_known_exception() {
        // FPL-GTR-190: C = S / (3000 − 20 S), S in percent; both printed, C to 0.00001.
        let mut reader = csv::Reader::from_reader(include_str!("woods.csv").as_bytes());
        let headers = reader.headers().unwrap().clone();
        let column = |name: &str| headers.iter().position(|header| header == name).unwrap();
        let pairs = [("c_radial", "shrink_radial_pct"), ("c_tangential", "shrink_tangential_pct")]
            .map(|(coefficient, shrinkage)| (column(coefficient), column(shrinkage)));
        let (mut strays, mut compared): (Vec<String>, u32) = (Vec::new(), 0);
        for row in reader.records().map(Result::unwrap) {
            let number = |at: usize| row.get(at).and_then(|cell| cell.parse::<f64>().ok());
            for (coefficient, shrinkage) in pairs {
                let (Some(c), Some(s)) = (number(coefficient), number(shrinkage)) else { continue };
                compared += 1;
                if (c - s / (3000.0 - 20.0 * s)).abs() > 1.05e-5 {
                    strays.push(row.get(0).unwrap().to_owned());
                }
            }
        }
        strays.dedup();
        assert_eq!(strays, EXCEPTIONS);
        assert_eq!(compared, 144);
        // With a start at 22 % the two that need it hold: C = S / (2200 − 12 S).
        for (key, radial, tangential) in [("western-redcedar", 2.4_f64, 5.0_f64), ("redwood", 2.6, 4.4)] {
            let wood = find_wood(key).unwrap();
            for (got, s) in [(wood.radial_movement(), radial), (wood.tangential_movement(), tangential)] {
                let got = got.unwrap().value.strain_per_percent();
                assert!((got - s / (2200.0 - 12.0 * s)).abs() < 1.05e-5, "{key}: {got}");
            }
        }
    }

    #[test]
    fn density_of_hard_maple_is_the_handbooks() {
        // Wood Handbook (FPL-GTR-190) table 5-3: sugar maple 0.63 at 12 %; with its water 0.63 × 1.12 g/cm³.
        let density = find_wood("hard-maple").unwrap().density().value.g_per_mm3() * 1000.0;
        assert!((density - 0.63 * 1.12).abs() < 1e-9, "{density}");
    }
}
