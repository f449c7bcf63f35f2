//! Numbers as turners write them: `3/4`, `1 1/2`, `1-1/2`, `0.75`, `½`.

/// A number as written; its value is exact up to one division.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Number {
    /// `12`, `0.75`: what stands there.
    Decimal(f64),
    /// `3/4`, `1 1/2`, `1-1/2`, `½`: a whole part and a fraction.
    Mixed {
        /// The whole part, 0 for a plain fraction.
        whole: u64,
        /// Above the line.
        numerator: u64,
        /// Under the line, never 0.
        denominator: u64,
        /// Written with a leading minus.
        negative: bool,
    },
}

/// Why a number could not be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NumberError {
    /// Nothing can be divided by zero.
    ZeroDenominator,
    /// More digits than any vessel needs.
    TooLarge,
    /// Not a number at all.
    Unreadable,
}

/// Largest magnitude a recipe may write; in millimeters this is a thousand kilometers.
const LARGEST: f64 = 1e12;

/// The single-character fractions of Unicode (Number Forms and Latin-1 blocks).
const VULGAR: [(char, u64, u64); 18] = [
    ('½', 1, 2),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('¼', 1, 4),
    ('¾', 3, 4),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('⅐', 1, 7),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
];

impl Number {
    /// Reads a number without its unit. The grammar has made sure of the shape; spaces or one
    /// hyphen may stand between whole part and fraction.
    ///
    /// # Errors
    /// [`NumberError`] when the denominator is zero or the number is too large.
    pub fn read(text: &str) -> Result<Self, NumberError> {
        let (negative, text) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        if let Some((at, numerator, denominator)) = vulgar(text) {
            let before = text[..at].trim_end_matches([' ', '\t', '-']);
            let whole = if before.is_empty() { 0 } else { integer(before)? };
            return mixed(whole, numerator, denominator, negative);
        }
        if let Some((above, below)) = text.split_once('/') {
            let denominator = integer(below.trim())?;
            let above = above.trim();
            let (whole, numerator) = match above.rsplit_once([' ', '\t', '-']) {
                Some((whole, numerator)) => (integer(whole.trim_end_matches([' ', '\t', '-']))?, integer(numerator)?),
                None => (0, integer(above)?),
            };
            return mixed(whole, numerator, denominator, negative);
        }
        // The one place outside `unit` where text becomes a float.
        let value: f64 = text.parse().map_err(|_| NumberError::Unreadable)?;
        bounded(if negative { -value } else { value }).map(Self::Decimal)
    }

    /// Its value.
    #[must_use]
    #[allow(clippy::cast_precision_loss, reason = "both parts are bounded far below 2^53")]
    pub fn value(self) -> f64 {
        match self {
            Self::Decimal(value) => value,
            Self::Mixed { whole, numerator, denominator, negative } => {
                let value = (whole * denominator + numerator) as f64 / denominator as f64;
                if negative { -value } else { value }
            }
        }
    }

    /// The number as a count, when it is a whole one written without fraction or point.
    #[must_use]
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked to be a whole number in range")]
    pub fn whole(self) -> Option<u32> {
        let value = self.value();
        let is_count = value >= 0.0 && value <= f64::from(u32::MAX) && value.fract().abs() < f64::EPSILON;
        is_count.then_some(value as u32)
    }
}

fn vulgar(text: &str) -> Option<(usize, u64, u64)> {
    let (at, last) = text.char_indices().next_back()?;
    VULGAR.iter().find(|(sign, ..)| *sign == last).map(|(_, numerator, denominator)| (at, *numerator, *denominator))
}

fn integer(digits: &str) -> Result<u64, NumberError> {
    if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(NumberError::Unreadable);
    }
    if digits.len() > 9 { Err(NumberError::TooLarge) } else { digits.parse().map_err(|_| NumberError::TooLarge) }
}

fn mixed(whole: u64, numerator: u64, denominator: u64, negative: bool) -> Result<Number, NumberError> {
    if denominator == 0 {
        return Err(NumberError::ZeroDenominator);
    }
    Ok(Number::Mixed { whole, numerator, denominator, negative })
}

fn bounded(value: f64) -> Result<f64, NumberError> {
    if value.abs() <= LARGEST { Ok(value) } else { Err(NumberError::TooLarge) }
}

#[cfg(test)]
mod tests {
    use super::{Number, NumberError};

    #[test]
    fn reads_every_way_a_turner_writes_a_number() {
        let cases = [
            ("3/4", 0.75),
            ("1 1/2", 1.5),
            ("1-1/2", 1.5),
            ("1   3/8", 1.375),
            ("0.75", 0.75),
            (".5", 0.5),
            ("12", 12.0),
            ("½", 0.5),
            ("1½", 1.5),
            ("1 ½", 1.5),
            ("1-½", 1.5),
            ("-1/4", -0.25),
            ("63/64", 0.984_375),
        ];
        for (text, value) in cases {
            let read = Number::read(text).map(Number::value);
            assert_eq!(read, Ok(value), "{text}");
        }
    }

    #[test]
    fn refuses_what_is_no_number() {
        assert_eq!(Number::read("1/0"), Err(NumberError::ZeroDenominator));
        assert_eq!(Number::read("9999999999/3"), Err(NumberError::TooLarge));
        assert_eq!(Number::read("1e999").map(Number::value), Err(NumberError::TooLarge));
        assert_eq!(Number::read("1/2/3"), Err(NumberError::Unreadable));
    }

    #[test]
    fn a_count_has_no_fraction() {
        assert_eq!(Number::read("12").unwrap().whole(), Some(12));
        assert_eq!(Number::read("24/2").unwrap().whole(), Some(12));
        assert_eq!(Number::read("12.5").unwrap().whole(), None);
        assert_eq!(Number::read("-3").unwrap().whole(), None);
    }
}
