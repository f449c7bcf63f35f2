//! Finishes: whether food may touch them, how long they cure, whether their rags heat themselves.

use std::sync::LazyLock;

use serde::Deserialize;

/// One row of `finishes.csv`; its columns and sources are described in `SOURCES.md` beside it.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Finish {
    /// The name a recipe writes: `walnut-oil`.
    pub key: String,
    /// What it is.
    pub name: String,
    /// `ok` or `caution`, a judgment made for this table; the maker's declaration decides.
    pub food_contact: String,
    /// Section of the US food code that names it, in words.
    pub cfr: String,
    /// Between coats, hours.
    pub recoat_h: f64,
    /// Until it has hardened through, days; 0 where it never hardens.
    pub cure_days: f64,
    /// `yes` or `no`: whether rags with it heat themselves.
    pub self_heating_rags: String,
    /// What to know of it.
    pub notes: String,
    /// What some people must not eat that may be left of it: `tree nut`; else empty.
    pub allergen: String,
    /// Keys into `SOURCES.md`.
    pub source: String,
}

static FINISHES: LazyLock<Vec<Finish>> = LazyLock::new(|| super::read(include_str!("finishes.csv")));

/// All finishes, in the order of the table.
#[must_use]
pub fn finishes() -> &'static [Finish] {
    &FINISHES
}

/// The finish with exactly that key.
#[must_use]
pub fn find_finish(key: &str) -> Option<&'static Finish> {
    FINISHES.iter().find(|finish| finish.key == key)
}

impl Finish {
    /// Whether rags with it heat themselves and burn.
    #[must_use]
    pub fn has_self_heating_rags(&self) -> bool {
        self.self_heating_rags == "yes"
    }
}

#[cfg(test)]
mod tests {
    use super::finishes;

    #[test]
    fn the_table_is_whole() {
        for finish in finishes() {
            assert!(["ok", "caution"].contains(&finish.food_contact.as_str()), "{}", finish.key);
            assert!(["yes", "no"].contains(&finish.self_heating_rags.as_str()), "{}", finish.key);
            assert!(finish.recoat_h >= 0.0 && finish.cure_days >= 0.0 && !finish.source.is_empty(), "{}", finish.key);
        }
    }
}
