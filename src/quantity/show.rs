//! Lengths and angles as they are printed. Rounding happens here and nowhere else.

use super::{Angle, Length};

/// Which system of length a recipe is written in; the other one is shown beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum System {
    /// Inches, as reduced fractions of 1/64.
    Inch,
    /// Millimeters, to a tenth.
    Millimeter,
}

impl System {
    /// A bare number of this system, as a length.
    #[must_use]
    pub fn length(self, number: f64) -> Length {
        match self {
            Self::Inch => Length::from_inches(number),
            Self::Millimeter => Length::from_mm(number),
        }
    }

    /// As `units` names it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Millimeter => "mm",
        }
    }
}

/// The nearest 1/64 in as a reduced fraction: `3 15/16"`, `-1/2"`, `0"`.
#[must_use]
#[allow(clippy::cast_possible_truncation, reason = "no vessel has 2^63 sixty-fourths")]
pub fn show_inches(length: Length) -> String {
    let sixty_fourths = (length.inches().abs() * 64.0).round() as i64;
    if sixty_fourths == 0 && length.inches().abs() >= 2e-3 {
        // Thousandths, as a feeler gauge has them.
        return format!("{:.3}\"", length.inches());
    }
    let sign = if length.inches() < 0.0 && sixty_fourths > 0 { "-" } else { "" };
    let (whole, mut above, mut below) = (sixty_fourths / 64, sixty_fourths % 64, 64);
    while above > 0 && above % 2 == 0 {
        above /= 2;
        below /= 2;
    }
    match (whole, above) {
        (whole, 0) => format!("{sign}{whole}\""),
        (0, _) => format!("{sign}{above}/{below}\""),
        _ => format!("{sign}{whole} {above}/{below}\""),
    }
}

/// A hair away from zero, so that 3/4 in, which is 19.05 mm less one bit, rounds as on paper.
const HAIR: f64 = 1.0 + 1e-12;

/// Millimeters with one decimal, two below 10 mm: `53.6 mm`, `0.40 mm`.
#[must_use]
pub fn show_millimeters(length: Length) -> String {
    let mm = length.mm() * HAIR;
    if mm == 0.0 {
        return "0 mm".to_owned();
    }
    if mm.abs() < 9.995 { format!("{mm:.2} mm") } else { format!("{mm:.1} mm") }
}

/// In the recipe's own system: `3 15/16"` or `100.0 mm`.
#[must_use]
pub fn show_length(length: Length, system: System) -> String {
    match system {
        System::Inch if length.mm() != 0.0 && length.inches().abs() < 1.0 / 64.0 => format!("{:.4}\"", length.inches()),
        System::Inch => show_inches(length),
        System::Millimeter => show_millimeters(length),
    }
}

/// Differences that a caliper reads, whatever the size: `0.028"` or `0.70 mm`.
#[must_use]
pub fn show_fine(length: Length, system: System) -> String {
    match system {
        System::Inch => format!("{:.3}\"", length.inches() * HAIR),
        System::Millimeter => format!("{:.2} mm", length.mm() * HAIR),
    }
}

/// The same without a unit but with decimals, for setting a scale: `3.938` or `100.02`.
#[must_use]
pub fn show_decimal(length: Length, system: System) -> String {
    match system {
        System::Inch => format!("{:.3}", length.inches()),
        System::Millimeter => format!("{:.2}", length.mm()),
    }
}

/// Own system first, the other beside it: `3 15/16" (3.938 in, 100.0 mm)` or `100.0 mm (3 15/16")`.
#[must_use]
pub fn show_both(length: Length, system: System) -> String {
    match system {
        System::Inch => {
            format!("{} ({:.3} in, {})", show_length(length, system), length.inches(), show_millimeters(length))
        }
        System::Millimeter => format!("{} ({})", show_millimeters(length), show_inches(length)),
    }
}

/// The next length up that the printed digits can tell: a 1/64 in or a tenth of a millimeter, so that
/// who rips to the print never rips too narrow.
#[must_use]
pub fn at_least(length: Length, system: System) -> Length {
    let step = match system {
        System::Inch => Length::from_inches(1.0 / 64.0),
        System::Millimeter => Length::from_mm(0.1),
    };
    // A width that is a whole number of steps stays what it is.
    step * (length / step - 1e-6).ceil()
}

/// The last length down that the printed digits can tell, so that what is printed as the most is not
/// more than that; a length under all digits stays what it is.
#[must_use]
pub fn at_most(length: Length, system: System) -> Length {
    let step = match system {
        System::Inch => Length::from_inches(1.0 / 64.0),
        System::Millimeter if length.mm() < 10.0 => Length::from_mm(0.01),
        System::Millimeter => Length::from_mm(0.1),
    };
    let held = step * (length / step + 1e-6).floor();
    if held > Length::ZERO { held } else { length }
}

/// Degrees to a hundredth, without needless zeros: `15°`, `11.25°`, `25.71°`.
#[must_use]
pub fn show_angle(angle: Angle) -> String {
    let text = format!("{:.2}", angle.degrees());
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{}°", if text == "-0" { "0" } else { text })
}

#[cfg(test)]
mod tests {
    use super::{
        Angle, Length, System, at_least, at_most, show_angle, show_both, show_inches, show_length, show_millimeters,
    };

    #[test]
    fn a_length_prints_as_the_nearest_reduced_sixty_fourth() {
        // 100 mm is 3.9370 in; 15/16 = 0.9375 is the nearest 1/64.
        assert_eq!(show_inches(Length::from_mm(100.0)), "3 15/16\"");
        assert_eq!(show_inches(Length::from_inches(63.6 / 64.0)), "1\"");
        assert_eq!(show_inches(Length::from_inches(-0.5)), "-1/2\"");
        assert_eq!(show_inches(Length::from_inches(-0.001)), "0\"");
        assert_eq!(show_inches(Length::from_mm(0.19)), "0.007\"");
        // WOOD magazine, "Staves and Segments": hexagon of 24 in across flats, side 13-55/64 in.
        assert_eq!(show_inches(Length::from_inches(13.856_41)), "13 55/64\"");
    }

    #[test]
    fn both_systems_stand_side_by_side() {
        assert_eq!(show_both(Length::from_inches(0.75), System::Inch), "3/4\" (0.750 in, 19.1 mm)");
        assert_eq!(show_both(Length::from_mm(19.0), System::Millimeter), "19.0 mm (3/4\")");
        assert_eq!(show_length(Length::from_inches(0.004), System::Inch), "0.0040\"");
    }

    #[test]
    fn a_width_to_rip_is_never_printed_too_narrow() {
        // 0.9120 in lies nearer to 29/32 (0.9063) than to 59/64 (0.9219).
        assert_eq!(show_inches(at_least(Length::from_inches(0.912), System::Inch)), "59/64\"");
        assert_eq!(show_inches(at_least(Length::from_inches(0.75), System::Inch)), "3/4\"");
        assert_eq!(show_millimeters(at_least(Length::from_mm(25.31), System::Millimeter)), "25.4 mm");
        assert_eq!(show_millimeters(at_least(Length::from_mm(25.3), System::Millimeter)), "25.3 mm");
        assert_eq!(show_inches(at_most(Length::from_inches(0.912), System::Inch)), "29/32\"");
        assert_eq!(show_inches(at_most(Length::from_inches(0.75), System::Inch)), "3/4\"");
        assert_eq!(show_millimeters(at_most(Length::from_mm(24.16), System::Millimeter)), "24.1 mm");
        assert_eq!(show_millimeters(at_most(Length::from_mm(4.0 - 1e-9), System::Millimeter)), "4.00 mm");
        assert_eq!(show_millimeters(at_most(Length::from_mm(0.004), System::Millimeter)), "0.00 mm");
    }

    #[test]
    fn an_angle_keeps_only_the_digits_it_needs() {
        assert_eq!(show_angle(Angle::from_degrees(15.0)), "15°");
        assert_eq!(show_angle(Angle::from_degrees(180.0 / 7.0)), "25.71°");
        assert_eq!(show_angle(Angle::from_degrees(-0.001)), "0°");
    }
}
