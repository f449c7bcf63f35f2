//! Lengths and diameters.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// 1 in is 25.4 mm by definition (international yard and pound agreement, 1959).
pub(super) const MM_PER_INCH: f64 = 25.4;

/// A length, kept in millimeters. May be negative where it is an offset; never NaN.
/// The bare number leaves only through `mm()` or `inches()`, so the unit is always on the page.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Length(f64);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0.0);

    /// From millimeters. Not a number becomes zero: a length is never NaN.
    #[must_use]
    pub const fn from_mm(mm: f64) -> Self {
        Self(if mm.is_nan() { 0.0 } else { mm })
    }

    /// From inches.
    #[must_use]
    pub const fn from_inches(inches: f64) -> Self {
        Self::from_mm(inches * MM_PER_INCH)
    }

    /// In millimeters.
    #[must_use]
    pub const fn mm(self) -> f64 {
        self.0
    }

    /// In inches.
    #[must_use]
    pub fn inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// The greater of the two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }

    /// The lesser of the two.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// Without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::from_mm(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::from_mm(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self::from_mm(self.0 * by)
    }
}

impl Div<f64> for Length {
    type Output = Self;
    fn div(self, by: f64) -> Self {
        Self::from_mm(self.0 / by)
    }
}

impl std::iter::Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

/// Length over length is a pure number.
impl Div for Length {
    type Output = f64;
    fn div(self, by: Self) -> f64 {
        self.0 / by.0
    }
}

/// Turners write diameters, formulas want radii: two types, so that no factor of two slips by.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Diameter(Length);

impl Diameter {
    /// A circle this wide.
    #[must_use]
    pub const fn new(across: Length) -> Self {
        Self(across)
    }

    /// Across the circle.
    #[must_use]
    pub const fn across(self) -> Length {
        self.0
    }

    /// From the center to the circle.
    #[must_use]
    pub fn radius(self) -> Length {
        self.0 / 2.0
    }
}

/// Wider by a length across, not on each side.
impl Add<Length> for Diameter {
    type Output = Self;
    fn add(self, wider: Length) -> Self {
        Self(self.0 + wider)
    }
}

/// Narrower by a length across, not on each side.
impl Sub<Length> for Diameter {
    type Output = Self;
    fn sub(self, narrower: Length) -> Self {
        Self(self.0 - narrower)
    }
}

/// The play between two circles, across.
impl Sub for Diameter {
    type Output = Length;
    fn sub(self, other: Self) -> Length {
        self.0 - other.0
    }
}
