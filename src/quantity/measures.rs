//! The other measures, and what they have in common.

use super::length::MM_PER_INCH;
use super::{Angle, Diameter, Dimension, Length};

/// Anything the compiler computes with: a number in the base unit of its dimension.
pub trait Measure: Copy {
    /// What it measures.
    const DIMENSION: Dimension;

    /// The number in the base units named at [`Dimension`]'s fields.
    fn base(self) -> f64;
}

macro_rules! measure {
    ($(#[$doc:meta])* $name:ident, $dimension:expr, $from:ident, $to:ident, $from_doc:literal, $to_doc:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            #[doc = $from_doc]
            #[must_use]
            pub const fn $from(value: f64) -> Self {
                Self(if value.is_nan() { 0.0 } else { value })
            }

            #[doc = $to_doc]
            #[must_use]
            pub const fn $to(self) -> f64 {
                self.0
            }
        }

        impl Measure for $name {
            const DIMENSION: Dimension = $dimension;

            fn base(self) -> f64 {
                self.0
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self::$from(self.0 + other.0)
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self::$from(self.0 - other.0)
            }
        }

        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, by: f64) -> Self {
                Self::$from(self.0 * by)
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
                Self(values.fold(0.0, |sum, value| sum + value.0))
            }
        }
    };
}

measure!(
    /// An area.
    Area, Dimension::AREA, from_mm2, mm2, "From square millimeters.", "In square millimeters."
);
measure!(
    /// A volume.
    Volume, Dimension::VOLUME, from_mm3, mm3, "From cubic millimeters.", "In cubic millimeters."
);
measure!(
    /// A mass.
    Mass, Dimension::MASS, from_grams, grams, "From grams.", "In grams."
);
measure!(
    /// A density.
    Density, Dimension::DENSITY, from_g_per_mm3, g_per_mm3, "From grams a cubic millimeter.", "In grams a cubic millimeter."
);
measure!(
    /// A stretch of time.
    Duration, Dimension::TIME, from_minutes, minutes, "From minutes.", "In minutes."
);
measure!(
    /// A pure number.
    Ratio, Dimension::NONE, of, value, "The number itself.", "The number itself."
);
measure!(
    /// A temperature, a point on the scale.
    Temperature, Dimension::TEMPERATURE, from_celsius, celsius, "From degrees Celsius.", "In degrees Celsius."
);
measure!(
    /// Relative humidity of the air.
    Humidity, Dimension::HUMIDITY, from_percent, percent, "From percent.", "In percent."
);
measure!(
    /// Water in wood, as a share of its oven-dry mass. May be negative where it is a change.
    MoistureContent, Dimension::MOISTURE, from_percent, percent, "From percent.", "In percent."
);
measure!(
    /// How much a wood moves: strain for each percent of moisture content.
    Movement, Dimension::MOVEMENT, per_percent, strain_per_percent, "Strain for one percent.", "Strain for one percent."
);
measure!(
    /// Turns of a lathe.
    Speed, Dimension::SPEED, from_rpm, rpm, "From turns a minute.", "In turns a minute."
);
measure!(
    /// Threads along a length.
    ThreadCount, Dimension::PITCH, per_mm, threads_per_mm, "Threads in a millimeter.", "Threads in a millimeter."
);

measure!(
    /// A push or a pull.
    Force, Dimension::FORCE, from_newtons, newtons, "From newtons.", "In newtons."
);
measure!(
    /// A push or a pull over an area.
    Stress, Dimension::STRESS, from_n_per_mm2, n_per_mm2, "From newtons a square millimeter, which are megapascals.",
    "In newtons a square millimeter."
);

impl Duration {
    /// From whole seconds.
    #[must_use]
    #[allow(clippy::cast_precision_loss, reason = "no work takes more than some hundred million years")]
    pub fn from_seconds(seconds: u64) -> Self {
        Self::from_minutes(seconds as f64 / 60.0)
    }

    /// In whole seconds: what is begun is counted, a millionth of a second is not. Nothing is less than nothing.
    #[must_use]
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "below zero it is zero")]
    pub fn seconds(self) -> u64 {
        (self.minutes() * 60.0 - 1e-6).ceil().max(0.0) as u64
    }
}

impl Temperature {
    /// From degrees Fahrenheit.
    #[must_use]
    pub fn from_fahrenheit(degrees: f64) -> Self {
        Self::from_celsius((degrees - 32.0) / 1.8)
    }

    /// In degrees Fahrenheit.
    #[must_use]
    pub fn fahrenheit(self) -> f64 {
        self.celsius() * 1.8 + 32.0
    }
}

impl ThreadCount {
    /// So many threads an inch.
    #[must_use]
    pub fn per_inch(threads: f64) -> Self {
        Self::per_mm(threads / MM_PER_INCH)
    }
}

/// One board foot is 144 cubic inches of wood, by definition.
const MM3_PER_BOARD_FOOT: f64 = 144.0 * MM_PER_INCH * MM_PER_INCH * MM_PER_INCH;

impl Volume {
    /// In cubic centimeters.
    #[must_use]
    pub fn cm3(self) -> f64 {
        self.mm3() / 1e3
    }

    /// In milliliters, which are cubic centimeters.
    #[must_use]
    pub fn ml(self) -> f64 {
        self.cm3()
    }

    /// In liters.
    #[must_use]
    pub fn liters(self) -> f64 {
        self.mm3() / 1e6
    }

    /// In board feet (144 cubic inches).
    #[must_use]
    pub fn board_feet(self) -> f64 {
        self.mm3() / MM3_PER_BOARD_FOOT
    }
}

impl Length {
    /// The rectangle on two sides.
    #[must_use]
    pub fn by(self, other: Self) -> Area {
        Area::from_mm2(self.mm() * other.mm())
    }
}

impl Area {
    /// The prism of this area over a height.
    #[must_use]
    pub fn over(self, height: Length) -> Volume {
        Volume::from_mm3(self.mm2() * height.mm())
    }
}

impl Volume {
    /// What so much of a wood of that density weighs.
    #[must_use]
    pub fn mass(self, density: Density) -> Mass {
        Mass::from_grams(self.mm3() * density.g_per_mm3())
    }
}

/// A count of things.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Count(pub u32);

impl Measure for Count {
    const DIMENSION: Dimension = Dimension::NONE;

    fn base(self) -> f64 {
        f64::from(self.0)
    }
}

impl Measure for Length {
    const DIMENSION: Dimension = Dimension::LENGTH;

    fn base(self) -> f64 {
        self.mm()
    }
}

impl Measure for Diameter {
    const DIMENSION: Dimension = Dimension::LENGTH;

    fn base(self) -> f64 {
        self.across().mm()
    }
}

impl Measure for Angle {
    const DIMENSION: Dimension = Dimension::ANGLE;

    fn base(self) -> f64 {
        self.degrees()
    }
}
