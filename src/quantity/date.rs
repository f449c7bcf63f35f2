//! Days of the calendar and hours of the day.

use chrono::{Datelike, Days, NaiveDate};

use super::Duration;

/// A day of the Gregorian calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date(NaiveDate);

impl Date {
    /// From `2027-03-01`; `None` when that is no day.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let is_written_so = text.len() == 10
            && text.bytes().enumerate().all(|(at, byte)| match at {
                4 | 7 => byte == b'-',
                _ => byte.is_ascii_digit(),
            });
        is_written_so.then(|| NaiveDate::parse_from_str(text, "%Y-%m-%d").ok().map(Self)).flatten()
    }

    /// So many days later; the last day there is when that leaves the calendar.
    #[must_use]
    pub fn plus_days(self, days: u64) -> Self {
        Self(self.0.checked_add_days(Days::new(days)).unwrap_or(NaiveDate::MAX))
    }

    /// Which day of the week.
    #[must_use]
    pub fn weekday(self) -> Weekday {
        WEEK[self.0.weekday().num_days_from_monday() as usize]
    }

    /// Year, month from 1, day from 1.
    #[must_use]
    pub fn parts(self) -> (i32, u32, u32) {
        (self.0.year(), self.0.month(), self.0.day())
    }
}

impl std::fmt::Display for Date {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.fmt(out)
    }
}

/// A day of the week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs, reason = "each is told by its name")]
pub enum Weekday {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

/// Monday first.
pub const WEEK: [Weekday; 7] = [
    Weekday::Monday,
    Weekday::Tuesday,
    Weekday::Wednesday,
    Weekday::Thursday,
    Weekday::Friday,
    Weekday::Saturday,
    Weekday::Sunday,
];

impl Weekday {
    /// 0 for Monday.
    #[must_use]
    pub fn number(self) -> usize {
        self as usize
    }

    /// As recipes and sheets write it: `mon`.
    #[must_use]
    pub fn word(self) -> &'static str {
        ["mon", "tue", "wed", "thu", "fri", "sat", "sun"][self.number()]
    }
}

/// The hours of a day in which work is done, counted from midnight; the first is earlier than the last.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hours {
    /// When it begins.
    pub from: Duration,
    /// When it ends, 24 h at the latest.
    pub to: Duration,
}

/// An amount of money, in whatever currency the shop counts.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Money(pub f64);

#[cfg(test)]
mod tests {
    use super::{Date, Weekday};

    #[test]
    fn days_are_those_of_the_calendar() {
        // ISO 8601's own example of a calendar date, 1985-04-12, was a Friday (from memory).
        let day = Date::parse("1985-04-12").unwrap();
        assert_eq!((day.weekday(), day.parts()), (Weekday::Friday, (1985, 4, 12)));
        // 2028 is a leap year: divisible by four and no century.
        assert_eq!(Date::parse("2028-02-28").unwrap().plus_days(2).to_string(), "2028-03-01");
        for wrong in ["2027-02-29", "2027-2-01", "27-02-01", "2027-13-01", "today", "", "2027-02-01T00"] {
            assert_eq!(Date::parse(wrong), None, "{wrong}");
        }
    }
}
