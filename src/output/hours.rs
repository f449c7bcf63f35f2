//! Moments of the glue schedule as they are said: the day, and the clock of that day.

use crate::plan::WorkDays;
use crate::quantity::{Date, Duration, WEEK, Weekday};

use super::sheet::clock;

/// `45 min`, `15 h 30 min`: a length of time to the minute.
pub(super) fn long(time: Duration) -> String {
    let minutes = time.seconds().div_ceil(60);
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

const DAY: u64 = 86_400;
const DAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/// Moments told by the days of work.
#[derive(Debug, Clone, Copy)]
pub(super) struct Days<'a>(pub &'a WorkDays);

impl Days<'_> {
    /// Which day a moment falls on, from 0.
    pub(super) fn day(time: Duration) -> u64 {
        time.seconds() / DAY
    }

    /// `Day 1`, or where a first day was asked for `Mon 1 Mar 2027`.
    pub(super) fn name(self, day: u64) -> String {
        let Some(start) = self.0.start else { return format!("Day {}", day + 1) };
        let date = start.plus_days(day);
        let (year, month, of_month) = date.parts();
        let month = MONTHS.get(month.saturating_sub(1) as usize).copied().unwrap_or_default();
        format!("{} {of_month} {month} {year}", DAYS[date.weekday().number()])
    }

    /// The clock of its day: `9:00`.
    pub(super) fn clock(time: Duration) -> String {
        clock(Duration::from_seconds(time.seconds() % DAY))
    }

    /// `Day 2, 9:00`.
    pub(super) fn moment(self, time: Duration) -> String {
        format!("{}, {}", self.name(Self::day(time)), Self::clock(time))
    }

    /// As seen from a day: `10:12` on the same, else `day 2 9:00` or `Tue 9:00`; with the date when a week or more lies
    /// between.
    pub(super) fn seen_from(self, day: u64, time: Duration) -> String {
        let (of, clock) = (Self::day(time), Self::clock(time));
        match self.0.start {
            _ if of == day => clock,
            Some(start) if of < day + 7 => format!("{} {clock}", DAYS[start.plus_days(of).weekday().number()]),
            Some(_) => format!("{} {clock}", self.name(of)),
            None => format!("day {} {clock}", of + 1),
        }
    }

    /// The first moment from `time` on at which somebody is at work.
    pub(super) fn at_work(self, time: Duration) -> Duration {
        let first = self.0.start.map_or(Weekday::Monday, Date::weekday).number() as u64;
        let is_off = |day: u64| self.0.days_off.contains(&WEEK[((first + day) % 7) as usize]);
        let (opens, closes) = (self.0.opens.seconds(), self.0.closes.seconds());
        let mut day = Self::day(time);
        // No seven days in a row are free.
        while is_off(day) || time.seconds() > day * DAY + closes {
            day += 1;
        }
        Duration::from_seconds(time.seconds().max(day * DAY + opens))
    }

    /// `9:00 to 18:00, every day`.
    pub(super) fn hours(self) -> String {
        let off: Vec<&str> = self.0.days_off.iter().map(|day| DAYS[day.number()]).collect();
        let days = if off.is_empty() { ", every day".to_owned() } else { format!(", not on {}", off.join(", ")) };
        format!("{} to {}{days}", clock(self.0.opens), clock(self.0.closes))
    }
}

#[cfg(test)]
mod tests {
    use super::{Days, long};
    use crate::plan::WorkDays;
    use crate::quantity::{Date, Duration, Weekday};

    fn hours(hours: f64) -> Duration {
        Duration::from_minutes(60.0 * hours)
    }

    #[test]
    fn long_times_are_told_in_hours() {
        assert_eq!(
            [0.5, 45.0, 120.0, 929.6].map(|at| long(Duration::from_minutes(at))),
            ["1 min", "45 min", "2 h", "15 h 30 min"]
        );
    }

    #[test]
    fn moments_are_told_by_day_and_clock() {
        let mut days = WorkDays { opens: hours(9.0), closes: hours(18.0), days_off: Vec::new(), start: None };
        let told = |days: &WorkDays, at: f64| Days(days).moment(hours(at));
        assert_eq!((told(&days, 9.2), told(&days, 33.0)), ("Day 1, 9:12".to_owned(), "Day 2, 9:00".to_owned()));
        assert_eq!(Days(&days).seen_from(0, hours(33.0)), "day 2 9:00");
        // 1 March 2027 is a Monday: 6 March 2023 was one (ISO 8601 week dates), and 2024 was a leap year.
        days.start = Date::parse("2027-03-05");
        days.days_off = vec![Weekday::Saturday, Weekday::Sunday];
        assert_eq!(told(&days, 9.0), "Fri 5 Mar 2027, 9:00");
        assert_eq!(Days(&days).seen_from(0, hours(82.0)), "Mon 10:00");
        assert_eq!(Days(&days).seen_from(0, hours(9.0 + 7.0 * 24.0)), "Fri 12 Mar 2027 9:00");
        // Friday night waits for Monday morning; a moment of work stays itself.
        assert_eq!(Days(&days).at_work(hours(20.0)), hours(81.0));
        assert_eq!(Days(&days).at_work(hours(12.0)), hours(12.0));
        assert_eq!(Days(&days).at_work(hours(2.0)), hours(9.0));
        assert_eq!(Days(&days).hours(), "9:00 to 18:00, not on Sat, Sun");
    }
}
