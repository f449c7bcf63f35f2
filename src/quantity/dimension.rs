//! What kind of thing a number measures.

/// Exponents of the base dimensions; a volume is a length to the third.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Dimension {
    /// Length, base unit millimeter.
    pub length: i8,
    /// Angle, base unit degree.
    pub angle: i8,
    /// Mass, base unit gram.
    pub mass: i8,
    /// Time, base unit minute.
    pub time: i8,
    /// Temperature, base unit degree Celsius (a point on the scale).
    pub temperature: i8,
    /// Relative humidity, base unit percent.
    pub humidity: i8,
    /// Moisture content, base unit percent.
    pub moisture: i8,
}

impl Dimension {
    /// A pure number that was written as one: a share or a slope.
    pub const NONE: Self = Self { length: 0, angle: 0, mass: 0, time: 0, temperature: 0, humidity: 0, moisture: 0 };
    /// Millimeters.
    pub const LENGTH: Self = Self { length: 1, ..Self::NONE };
    /// Square millimeters.
    pub const AREA: Self = Self { length: 2, ..Self::NONE };
    /// Cubic millimeters.
    pub const VOLUME: Self = Self { length: 3, ..Self::NONE };
    /// Degrees.
    pub const ANGLE: Self = Self { angle: 1, ..Self::NONE };
    /// Grams.
    pub const MASS: Self = Self { mass: 1, ..Self::NONE };
    /// Minutes.
    pub const TIME: Self = Self { time: 1, ..Self::NONE };
    /// Degrees Celsius.
    pub const TEMPERATURE: Self = Self { temperature: 1, ..Self::NONE };
    /// Percent relative humidity.
    pub const HUMIDITY: Self = Self { humidity: 1, ..Self::NONE };
    /// Percent moisture content.
    pub const MOISTURE: Self = Self { moisture: 1, ..Self::NONE };
    /// Grams a cubic millimeter.
    pub const DENSITY: Self = Self { mass: 1, length: -3, ..Self::NONE };
    /// Turns a minute (a turn is a pure number).
    pub const SPEED: Self = Self { time: -1, ..Self::NONE };
    /// Threads a length.
    pub const PITCH: Self = Self { length: -1, ..Self::NONE };
    /// Strain for each percent of moisture content.
    pub const MOVEMENT: Self = Self { moisture: -1, ..Self::NONE };

    /// Newtons; no recipe writes one, so that the factor to the base units is never asked for.
    pub const FORCE: Self = Self { mass: 1, length: 1, time: -2, ..Self::NONE };
    /// Newtons a square millimeter.
    pub const STRESS: Self = Self { mass: 1, length: -1, time: -2, ..Self::NONE };

    /// The dimension of a product, or `None` when an exponent leaves all reason.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        self.combine(other, i8::checked_add)
    }

    /// The dimension of a quotient, or `None` when an exponent leaves all reason.
    #[must_use]
    pub fn per(self, other: Self) -> Option<Self> {
        self.combine(other, i8::checked_sub)
    }

    fn combine(self, other: Self, with: fn(i8, i8) -> Option<i8>) -> Option<Self> {
        Some(Self {
            length: with(self.length, other.length)?,
            angle: with(self.angle, other.angle)?,
            mass: with(self.mass, other.mass)?,
            time: with(self.time, other.time)?,
            temperature: with(self.temperature, other.temperature)?,
            humidity: with(self.humidity, other.humidity)?,
            moisture: with(self.moisture, other.moisture)?,
        })
    }

    /// Half of every exponent, for a square root; `None` when one is odd.
    #[must_use]
    pub fn root(self) -> Option<Self> {
        let all = [self.length, self.angle, self.mass, self.time, self.temperature, self.humidity, self.moisture];
        if all.iter().any(|exponent| exponent % 2 != 0) {
            return None;
        }
        Some(Self {
            length: self.length / 2,
            angle: self.angle / 2,
            mass: self.mass / 2,
            time: self.time / 2,
            temperature: self.temperature / 2,
            humidity: self.humidity / 2,
            moisture: self.moisture / 2,
        })
    }

    /// With its article, for a sentence: "a length".
    #[must_use]
    pub fn words(self) -> &'static str {
        const NAMED: [(Dimension, &str); 14] = [
            (Dimension::NONE, "a share"),
            (Dimension::LENGTH, "a length"),
            (Dimension::AREA, "an area"),
            (Dimension::VOLUME, "a volume"),
            (Dimension::ANGLE, "an angle"),
            (Dimension::MASS, "a mass"),
            (Dimension::TIME, "a time"),
            (Dimension::TEMPERATURE, "a temperature"),
            (Dimension::HUMIDITY, "a relative humidity"),
            (Dimension::MOISTURE, "a moisture content"),
            (Dimension::DENSITY, "a density"),
            (Dimension::SPEED, "a speed"),
            (Dimension::PITCH, "a thread pitch"),
            (Dimension::MOVEMENT, "a movement coefficient"),
        ];
        NAMED.iter().find(|(dimension, _)| *dimension == self).map_or("a mixed quantity", |(_, words)| words)
    }
}
