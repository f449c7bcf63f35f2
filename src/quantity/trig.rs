//! Trigonometry and powers through libm, so that the last digits are the same on every machine.

/// Sine of radians.
#[must_use]
pub fn sin(radians: f64) -> f64 {
    libm::sin(radians)
}

/// Cosine of radians.
#[must_use]
pub fn cos(radians: f64) -> f64 {
    libm::cos(radians)
}

/// Tangent of radians.
#[must_use]
pub fn tan(radians: f64) -> f64 {
    libm::tan(radians)
}

/// The angle, in radians, of the point (x, y).
#[must_use]
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}

/// Square root; correctly rounded everywhere by IEEE 754.
#[must_use]
pub fn sqrt(value: f64) -> f64 {
    libm::sqrt(value)
}

/// Length of the hypotenuse.
#[must_use]
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}

/// The angle, in radians, whose sine is `value`; of what lies beyond ±1, that of the nearer end.
#[must_use]
pub fn asin(value: f64) -> f64 {
    libm::asin(value.clamp(-1.0, 1.0))
}

/// `base` to the power of `exponent`.
#[must_use]
pub fn pow(base: f64, exponent: f64) -> f64 {
    libm::pow(base, exponent)
}
