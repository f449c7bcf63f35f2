//! Lengths and money in the whole numbers of the search, and back.

use crate::quantity::{Length, Money, Volume};
use crate::search::cutting::Um;

/// Figures that differ by less are one: what adding up in binary leaves behind.
const HAIR: f64 = 1e-3;

const UM_PER_MM: f64 = 1e3;
const PER_MONEY: f64 = 1e3;

/// What is wanted is rounded up.
#[allow(
    clippy::cast_possible_truncation,
    reason = "no board has 2^63 micrometers; beyond, it is the greatest there is"
)]
pub(super) fn wanted(length: Length) -> Um {
    Um((length.mm() * UM_PER_MM - HAIR).ceil() as i64)
}

/// What is there is rounded down.
#[allow(
    clippy::cast_possible_truncation,
    reason = "no board has 2^63 micrometers; beyond, it is the greatest there is"
)]
pub(super) fn there(length: Length) -> Um {
    Um((length.mm() * UM_PER_MM + HAIR).floor() as i64)
}

/// Back again.
#[allow(clippy::cast_precision_loss, reason = "a board is shorter than 2^53 micrometers")]
pub(super) fn length(um: Um) -> Length {
    Length::from_mm(um.0 as f64 / UM_PER_MM)
}

/// In thousandths.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the nearest there is")]
pub(super) fn thousandths(money: Money) -> u64 {
    (money.0 * PER_MONEY).round() as u64
}

/// From thousandths.
#[allow(clippy::cast_precision_loss, reason = "a price is told to its hundredths")]
pub(super) fn money(thousandths: u64) -> Money {
    Money(thousandths as f64 / PER_MONEY)
}

/// To the nearest cubic centimeter; no board is nothing.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the nearest there is")]
pub(super) fn cubic_centimeters(volume: Volume) -> u64 {
    (volume.cm3().round() as u64).max(1)
}

/// From cubic centimeters.
#[allow(clippy::cast_precision_loss, reason = "a pile is smaller than 2^53 cubic centimeters")]
pub(super) fn volume(cm3: u64) -> Volume {
    Volume::from_mm3(cm3 as f64 * 1e3)
}

#[cfg(test)]
mod tests {
    use super::{cubic_centimeters, length, money, there, thousandths, wanted};
    use crate::quantity::{Length, Money, Volume};
    use crate::search::cutting::Um;

    #[test]
    fn wants_are_rounded_up_and_boards_down() {
        let mm = Length::from_mm;
        assert_eq!((wanted(mm(25.0004)), there(mm(25.0004))), (Um(25_001), Um(25_000)));
        // 18 + 2 · 0.4 is no whole number in binary.
        assert_eq!((wanted(mm(18.0 + 0.4 + 0.4)), there(mm(18.0 + 0.4 + 0.4))), (Um(18_800), Um(18_800)));
        assert_eq!(wanted(Length::from_inches(0.75)), Um(19_050));
        assert_eq!(length(Um(19_050)), mm(19.05));
        assert_eq!((thousandths(Money(12.5)), money(12_500)), (12_500, Money(12.5)));
        assert_eq!(cubic_centimeters(Volume::from_mm3(1_499_999.0)), 1500);
        assert_eq!(cubic_centimeters(Volume::from_mm3(10.0)), 1);
    }
}
