//! The hours of work as a line: when something fits into them, and how much of them lies between two moments.

use super::Calendar;

/// A day in seconds.
const DAY: u64 = 86_400;

/// Far beyond any schedule, and far from overflow.
pub(super) const NEVER: u64 = u64::MAX / 8;

/// A calendar that can be asked.
#[derive(Debug, Clone)]
pub(super) struct Hours {
    opens: u64,
    closes: u64,
    is_off: [bool; 7],
    /// Of a stretch of work without a break.
    longest: u64,
}

impl Hours {
    /// A calendar without any hours counts as round the clock.
    pub fn of(calendar: Calendar) -> Self {
        let mut is_off = [false; 7];
        for (day, off) in is_off.iter_mut().enumerate() {
            *off = calendar.days_off[(calendar.first_day % 7 + day) % 7];
        }
        let (mut opens, mut closes) = (calendar.opens, calendar.closes.min(DAY));
        if opens >= closes {
            (opens, closes) = (0, DAY);
        }
        if is_off.iter().all(|off| *off) {
            is_off = [false; 7];
        }
        let mut hours = Self { opens, closes, is_off, longest: closes - opens };
        let (mut at, mut longest) = (0, 0);
        while at < 14 * DAY {
            let (from, to) = hours.window(at);
            longest = longest.max(to - from);
            if to >= NEVER {
                break;
            }
            at = to;
        }
        hours.longest = longest;
        hours
    }

    fn works_on(&self, day: u64) -> bool {
        !self.is_off[usize::try_from(day % 7).unwrap_or(0)]
    }

    /// The first stretch of work that ends after `at`; days without a night between them are one.
    pub fn window(&self, at: u64) -> (u64, u64) {
        let mut day = at / DAY;
        while !(self.works_on(day) && day * DAY + self.closes > at) {
            day += 1;
        }
        let from = day * DAY + self.opens;
        if self.closes - self.opens < DAY {
            return (from, day * DAY + self.closes);
        }
        match (day + 1..day + 7).find(|next| !self.works_on(*next)) {
            Some(off) => (from, off * DAY),
            None => (from, NEVER),
        }
    }

    /// When the first day of work opens.
    pub fn begin(&self) -> u64 {
        self.window(0).0
    }

    /// The earliest moment from `at` on at which hands that are busy for `long` can begin. What is longer than a
    /// stretch of work begins at an opening.
    pub fn earliest(&self, at: u64, long: u64) -> u64 {
        let mut at = at;
        while at < NEVER {
            let (from, to) = self.window(at);
            let start = at.max(from);
            if long > self.longest {
                if start == from {
                    return start;
                }
            } else if start + long <= to {
                return start;
            }
            at = to;
        }
        NEVER
    }

    /// The latest moment at which hands busy for `long` can begin to be done by `by`; `None` when there is none.
    pub fn latest(&self, by: u64, long: u64) -> Option<u64> {
        let last = by.checked_sub(long)?;
        let mut day = last / DAY + 1;
        loop {
            // The window that holds this day, if work is done then.
            if self.works_on(day) {
                let (from, to) = self.window(day * DAY + self.opens);
                let from = self.start_of(from);
                let start = if long > self.longest { from } else { last.min(to.saturating_sub(long.max(1))) };
                if start >= from && start <= last && start < to {
                    return Some(start);
                }
            }
            day = day.checked_sub(1)?;
        }
    }

    /// Where the stretch of work without a break begins to which the opening `from` belongs.
    fn start_of(&self, from: u64) -> u64 {
        let mut from = from;
        if self.closes - self.opens == DAY {
            while let Some(before) = from.checked_sub(DAY)
                && self.works_on(before / DAY)
            {
                from = before;
            }
        }
        from
    }

    /// Seconds of work before `at`.
    pub fn worked(&self, at: u64) -> u64 {
        self.counted(at, 0)
    }

    /// Seconds before `at` in which a clamp can hold something that stays in it for `over` at most once the hands
    /// are off: in the hours of work, and so long after each of them.
    pub fn held(&self, at: u64, over: u64) -> u64 {
        self.counted(at, over)
    }

    fn counted(&self, at: u64, over: u64) -> u64 {
        let (mut sum, mut from) = (0, self.begin());
        while from < at {
            let (start, to) = self.window(from);
            let next = if to >= NEVER { NEVER } else { self.window(to).0 };
            sum += at.min(to) - start.min(at);
            if at > to {
                sum += (at.min(next) - to).min(over);
            }
            from = next;
        }
        sum
    }

    /// Of a stretch of work without a break.
    pub fn longest(&self) -> u64 {
        self.longest
    }
}

#[cfg(test)]
mod tests {
    use super::{DAY, Hours, NEVER};
    use crate::search::scheduling::Calendar;

    const HOUR: u64 = 3600;

    fn weekdays() -> Hours {
        let days_off = [false, false, false, false, false, true, true];
        Hours::of(Calendar { opens: 9 * HOUR, closes: 18 * HOUR, days_off, first_day: 4 })
    }

    #[test]
    fn a_friday_and_the_monday_after() {
        let hours = weekdays();
        assert_eq!(hours.begin(), 9 * HOUR);
        assert_eq!(hours.earliest(10 * HOUR, 8 * HOUR), 10 * HOUR);
        assert_eq!(hours.earliest(10 * HOUR + 1, 8 * HOUR), 3 * DAY + 9 * HOUR, "not on Saturday, not on Sunday");
        assert_eq!(hours.earliest(18 * HOUR, 0), 3 * DAY + 9 * HOUR);
        assert_eq!(hours.latest(3 * DAY + 8 * HOUR, HOUR), Some(17 * HOUR));
        assert_eq!(hours.latest(3 * DAY + 9 * HOUR, HOUR), Some(17 * HOUR));
        assert_eq!(hours.latest(3 * DAY + 10 * HOUR, HOUR), Some(3 * DAY + 9 * HOUR));
        assert_eq!(hours.latest(9 * HOUR, 1), None);
        assert_eq!(hours.worked(3 * DAY + 10 * HOUR), 10 * HOUR);
        assert_eq!(hours.held(3 * DAY + 10 * HOUR, 12 * HOUR), 22 * HOUR, "one weekend, and twelve hours of it");
    }

    #[test]
    fn longer_than_a_day_begins_at_an_opening() {
        let hours = weekdays();
        assert_eq!(hours.earliest(10 * HOUR, 10 * HOUR), 3 * DAY + 9 * HOUR);
        assert_eq!(hours.latest(3 * DAY + 19 * HOUR, 10 * HOUR), Some(3 * DAY + 9 * HOUR));
        assert_eq!(hours.latest(3 * DAY + 19 * HOUR - 1, 10 * HOUR), Some(9 * HOUR));
    }

    #[test]
    fn round_the_clock_has_no_nights() {
        let hours = Hours::of(Calendar::default());
        assert_eq!((hours.begin(), hours.longest()), (0, NEVER));
        assert_eq!(hours.earliest(23 * HOUR, 5 * HOUR), 23 * HOUR);
        assert_eq!(hours.latest(25 * HOUR, 5 * HOUR), Some(20 * HOUR));
        assert_eq!(hours.worked(50 * HOUR), 50 * HOUR);
        let none = Hours::of(Calendar { opens: 9, closes: 9, days_off: [true; 7], first_day: 12 });
        assert_eq!(none.earliest(77, 5), 77);
    }

    #[test]
    fn whole_days_with_days_off_are_one_stretch() {
        let days_off = [false, true, false, false, false, false, false];
        let hours = Hours::of(Calendar { opens: 0, closes: DAY, days_off, first_day: 0 });
        assert_eq!(hours.window(0), (0, DAY));
        assert_eq!(hours.window(DAY), (2 * DAY, 8 * DAY));
        assert_eq!(hours.earliest(DAY - 5, 6), 2 * DAY);
        assert_eq!(hours.latest(2 * DAY + 5, 6), Some(DAY - 6));
        assert_eq!(hours.latest(4 * DAY, DAY + 5), Some(3 * DAY - 5));
    }
}
