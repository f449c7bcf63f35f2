//! Numbers with their source beside them. Data, and the finding of a row; nothing is computed.

pub mod drill_bits;
pub mod emc;
mod finishes;
mod glues;
mod lumber;
mod woods;

use serde::de::DeserializeOwned;

pub use finishes::{Finish, find_finish, finishes};
pub use glues::{Glue, GlueKind, WaterClass, find_glue, glues};
pub use lumber::{LumberSize, lumber_sizes, planing_allowance};
pub use woods::{Wood, WoodName, find_wood, short_names, woods};

/// The rows of a table that is compiled in; the unit tests of each table hold that none is lost.
fn read<T: DeserializeOwned>(text: &str) -> Vec<T> {
    csv::Reader::from_reader(text.as_bytes()).into_deserialize().filter_map(Result::ok).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn no_row_is_lost() {
        for (text, rows) in [
            (include_str!("woods.csv"), super::woods().len()),
            (include_str!("glues.csv"), super::glues().len()),
            (include_str!("drill_bits.csv"), super::drill_bits::drill_bits().len()),
            (include_str!("finishes.csv"), super::finishes().len()),
            (include_str!("emc.csv"), super::emc::cells()),
            (include_str!("wood-names.csv"), super::short_names().len()),
        ] {
            assert_eq!(csv::Reader::from_reader(text.as_bytes()).records().count(), rows);
        }
    }
}
