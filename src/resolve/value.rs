//! Values with dimensions: what a number, a name or an expression is worth.

use crate::quantity::{Dimension, System};

/// What a bare number would mean as a length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bare {
    /// The `units` of the file it stands in.
    In(System),
    /// That file has no `units`.
    NoUnits,
    /// Numbers of an inch file and of a millimeter file went into it.
    Mixed,
}

/// A value of an expression.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Value {
    /// A number without a unit: a count, a share or a length, as its place wants.
    Bare(f64, Bare),
    /// A number with a dimension, in its base unit.
    Of(f64, Dimension),
}

impl Value {
    pub(super) fn number(self) -> f64 {
        match self {
            Self::Bare(number, _) | Self::Of(number, _) => number,
        }
    }

    /// The same kind of value with another number.
    pub(super) fn with(self, number: f64) -> Self {
        match self {
            Self::Bare(_, bare) => Self::Bare(number, bare),
            Self::Of(_, dimension) => Self::Of(number, dimension),
        }
    }

    /// For a sentence: "a length", "a bare number".
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Bare(..) => "a number without a unit",
            Self::Of(_, dimension) => dimension.words(),
        }
    }

    /// As a length in millimeters, if it can be one.
    pub(super) fn length_mm(self) -> Result<f64, NotLength> {
        match self {
            Self::Of(mm, Dimension::LENGTH) => Ok(mm),
            Self::Bare(number, Bare::In(system)) => Ok(system.length(number).mm()),
            // Nothing is nothing in every unit.
            Self::Bare(0.0, Bare::NoUnits) => Ok(0.0),
            Self::Bare(_, Bare::NoUnits) => Err(NotLength::NoUnits),
            Self::Bare(_, Bare::Mixed) => Err(NotLength::Mixed),
            Self::Of(..) => Err(NotLength::Dimension),
        }
    }
}

impl Bare {
    pub(super) fn join(self, other: Self) -> Self {
        if self == other { self } else { Self::Mixed }
    }
}

/// Why a value is no length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NotLength {
    /// It is something else.
    Dimension,
    /// A bare number in a file without `units`.
    NoUnits,
    /// A bare number that came from files of different `units`.
    Mixed,
}
