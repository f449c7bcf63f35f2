//! Angles.

use std::ops::{Add, Div, Mul, Neg, Sub};

use super::trig;

/// An angle, kept in degrees because saws are marked so. Its `tan` and `cos` go through libm.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Angle(f64);

impl Angle {
    /// No turn.
    pub const ZERO: Self = Self(0.0);

    /// From degrees. Not a number becomes zero: an angle is never NaN.
    #[must_use]
    pub const fn from_degrees(degrees: f64) -> Self {
        Self(if degrees.is_nan() { 0.0 } else { degrees })
    }

    /// In degrees.
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0
    }

    /// In radians.
    #[must_use]
    pub fn radians(self) -> f64 {
        self.0.to_radians()
    }

    /// Sine.
    #[must_use]
    pub fn sin(self) -> f64 {
        trig::sin(self.radians())
    }

    /// Cosine.
    #[must_use]
    pub fn cos(self) -> f64 {
        trig::cos(self.radians())
    }

    /// Tangent.
    #[must_use]
    pub fn tan(self) -> f64 {
        trig::tan(self.radians())
    }

    /// The same direction, in 0 ≤ angle < 360°.
    #[must_use]
    pub fn normalized(self) -> Self {
        let turned = self.0.rem_euclid(360.0);
        Self(if turned >= 360.0 { 0.0 } else { turned })
    }
}

impl Add for Angle {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::from_degrees(self.0 + other.0)
    }
}

impl Sub for Angle {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::from_degrees(self.0 - other.0)
    }
}

impl Neg for Angle {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Angle {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self::from_degrees(self.0 * by)
    }
}

impl Div<f64> for Angle {
    type Output = Self;
    fn div(self, by: f64) -> Self {
        Self::from_degrees(self.0 / by)
    }
}
