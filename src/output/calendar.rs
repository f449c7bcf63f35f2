//! The glue schedule as an iCalendar file (RFC 5545): when the hands work, and when something comes out of its clamp.
//!
//! Times are floating: they mean the clock on the wall of the shop, wherever that is.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use ics::properties::{Description, DtEnd, DtStart, Summary, Transp};
use ics::{Event, ICalendar, escape_text};

use crate::quantity::Date;

use super::glue_words::what;
use super::hours::Days;
use super::sheet::{Sheet, stretch};
use super::timetable::{Row, rows};

/// RFC 5545, section 3.1: octets of a line, its end not counted.
const LINE: usize = 75;
const DAY: u64 = 86_400;
/// Opening a clamp takes no time to speak of, but an event without length is hidden by many calendars.
const TO_OPEN: u64 = 300;

/// One entry, its texts as they shall be read.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Entry {
    /// What tells it from all others.
    uid: String,
    /// Seconds from midnight before the first day.
    from: u64,
    to: u64,
    summary: String,
    description: String,
    /// Whether the hands are busy.
    is_busy: bool,
}

/// The file; none without a first day.
pub(super) fn calendar(sheet: &Sheet<'_>) -> Option<Vec<u8>> {
    let start = sheet.plan.glue.calendar.start?;
    let entries: Vec<Entry> = {
        let mut known = BTreeSet::new();
        rows(sheet).iter().flat_map(|row| entries(sheet, row, &mut known)).collect()
    };
    Some(written(start, &entries).into_bytes())
}

fn entries(sheet: &Sheet<'_>, row: &Row<'_>, known: &mut BTreeSet<String>) -> [Entry; 2] {
    let step = row.step;
    let days = Days(&sheet.plan.glue.calendar);
    let vessel = sheet.name();
    let uid = unique(&format!("{}.{}", plain(&vessel), plain(&sheet.step(step))), known);
    let (start, clamped, ready) = (step.start, step.clamped(), step.ready());
    let out = days.moment(ready);
    let mut work = format!("{}\n", what(sheet, step).replace("**", ""));
    let glue = sheet.glue(step.glue).map_or("", |glue| &glue.key);
    let _ = writeln!(
        work,
        "Make ready: {}. Then spread {glue} and close: {}.",
        stretch(step.hands.value),
        stretch(step.spread.value)
    );
    let _ = match &row.clamp {
        Some(clamp) => write!(work, "In at {}: {clamp}. Out: {out}.", Days::clock(clamped)),
        None => write!(work, "Rubbed on; leave it alone until {out}."),
    };
    if !row.after.is_empty() {
        let numbers: Vec<String> = row.after.iter().map(usize::to_string).collect();
        let _ = write!(work, "\nMust be dry before: {}.", numbers.join(", "));
    }
    let (is_out, done) = match &row.clamp {
        Some(clamp) => ("out of its clamp", format!("May come out of its clamp ({clamp}) from {out} on.")),
        None => ("dry", format!("May be worked on from {out} on.")),
    };
    // Whatever is dry at night waits for somebody who is there.
    let there = days.at_work(ready).seconds();
    [
        Entry {
            uid: format!("{uid}.glue@ringwright"),
            from: start.seconds(),
            to: clamped.seconds(),
            summary: format!("{vessel} {}: {}", row.number, row.words),
            description: work,
            is_busy: true,
        },
        Entry {
            uid: format!("{uid}.out@ringwright"),
            from: there,
            to: there + TO_OPEN,
            summary: format!("{vessel} {} {is_out}: {}", row.number, row.words),
            description: done,
            is_busy: false,
        },
    ]
}

/// All of the file. The time stamp is the first day's midnight: a clock would give other bytes for the same recipe at
/// every build, and a plan is as old as the day it is made for.
fn written(start: Date, entries: &[Entry]) -> String {
    let mut calendar = ICalendar::new("2.0", "-//ringwright//glue schedule//EN");
    let stamp = format!("{}Z", moment(start, 0));
    for entry in entries {
        let mut event = Event::new(escape_text(entry.uid.as_str()), stamp.clone());
        event.push(DtStart::new(moment(start, entry.from)));
        event.push(DtEnd::new(moment(start, entry.to)));
        event.push(Summary::new(escape_text(clean(&entry.summary))));
        event.push(Description::new(escape_text(clean(&entry.description))));
        event.push(if entry.is_busy { Transp::opaque() } else { Transp::transparent() });
        calendar.add_event(event);
    }
    folded(&calendar.to_string())
}

/// The lines of a file folded anew: those that the writer folds are an octet too long, for it does not count the space
/// that a line goes on with.
fn folded(text: &str) -> String {
    let mut all = String::with_capacity(text.len() + text.len() / LINE * 3);
    for line in text.replace("\r\n ", "").split_inclusive("\r\n") {
        let (mut rest, mut room) = (line.trim_end_matches("\r\n"), LINE);
        while rest.len() > room {
            let cut = (1..=room).rev().find(|at| rest.is_char_boundary(*at)).unwrap_or(rest.len());
            let (head, tail) = rest.split_at(cut);
            all.push_str(head);
            all.push_str("\r\n ");
            (rest, room) = (tail, LINE - 1);
        }
        all.push_str(rest);
        all.push_str("\r\n");
    }
    all
}

/// `20270301T091200`.
fn moment(start: Date, seconds: u64) -> String {
    let (year, month, day) = start.plus_days(seconds / DAY).parts();
    let of_day = seconds % DAY;
    format!("{year:04}{month:02}{day:02}T{:02}{:02}{:02}", of_day / 3600, of_day / 60 % 60, of_day % 60)
}

/// A text may hold line ends and nothing else that steers.
fn clean(text: &str) -> String {
    text.chars().map(|sign| if sign.is_control() && sign != '\n' { ' ' } else { sign }).collect()
}

/// Letters, digits, points and hyphens as they are, all else by its octets: `Sch_c3_bcssel`. No two names become one.
fn plain(name: &str) -> String {
    name.bytes().fold(String::new(), |mut text, byte| {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'.' | b'-') {
            text.push(char::from(byte));
        } else {
            let _ = write!(text, "_{byte:02x}");
        }
        text
    })
}

/// Numbered where another has the name already.
fn unique(name: &str, known: &mut BTreeSet<String>) -> String {
    let mut free = name.to_owned();
    let mut number = 2_usize;
    while known.contains(&free) {
        free = format!("{name}+{number}");
        number += 1;
    }
    known.insert(free.clone());
    free
}

#[cfg(test)]
mod tests {
    use icalendar::{Calendar, CalendarDateTime, Component, DatePerhapsTime};
    use proptest::prelude::*;

    use super::{Entry, LINE, moment, plain, unique, written};
    use crate::quantity::Date;

    fn start() -> Date {
        Date::parse("2027-03-01").unwrap()
    }

    fn told(time: Option<&DatePerhapsTime>) -> String {
        let Some(DatePerhapsTime::DateTime(CalendarDateTime::Floating(time))) = time else {
            panic!("no floating time: {time:?}")
        };
        time.format("%Y%m%dT%H%M%S").to_string()
    }

    #[test]
    fn times_run_over_midnight_month_and_leap_day() {
        assert_eq!(moment(start(), 9 * 3600 + 12 * 60 + 5), "20270301T091205");
        assert_eq!(moment(start(), 31 * 86_400), "20270401T000000");
        assert_eq!(moment(Date::parse("2028-02-28").unwrap(), 86_400), "20280229T000000");
    }

    #[test]
    fn names_stay_apart() {
        let names = ["Schüssel", "Schussel", "Sch_c3_bcssel", "a b", "a_b", "a-b"].map(plain);
        let apart: std::collections::BTreeSet<&String> = names.iter().collect();
        assert_eq!((names[0].as_str(), apart.len()), ("Sch_c3_bcssel", names.len()));
        let mut known = std::collections::BTreeSet::new();
        let twice = ["a", "a", "a"].map(|name| unique(name, &mut known));
        assert_eq!(twice, ["a", "a+2", "a+3"]);
    }

    proptest! {
        /// Read again by an outside parser.
        #[test]
        fn what_is_written_is_read_again(
            texts in prop::collection::vec(("[ -~äöüßÄé木老虎🪵\n]{0,200}", "[a-zÀ-ÿ,;:\\\\\n\" ]{0,120}"), 1..6),
            from in 0_u64..40_000_000,
            long in 1_u64..1_000_000,
        ) {
            let entries: Vec<Entry> = texts.iter().zip(0_u64..).map(|((summary, description), at)| Entry {
                uid: format!("bowl.step-{at}.glue@ringwright"),
                from: from + at,
                to: from + at + long,
                summary: format!("s{summary}."),
                description: format!("d{description}."),
                is_busy: at % 2 == 0,
            }).collect();
            let text = written(start(), &entries);
            prop_assert!(text.ends_with("END:VCALENDAR\r\n"));
            for line in text.split_terminator("\r\n") {
                prop_assert!(line.len() <= LINE, "{} octets: {line}", line.len());
                prop_assert!(!line.contains(['\r', '\n']));
            }
            let read: Calendar = text.parse().unwrap();
            let events: Vec<_> = read.components.iter().filter_map(|part| part.as_event()).collect();
            prop_assert_eq!(events.len(), entries.len());
            for (event, entry) in events.iter().zip(&entries) {
                prop_assert_eq!(event.get_uid(), Some(entry.uid.as_str()));
                prop_assert_eq!(event.get_summary(), Some(entry.summary.as_str()));
                prop_assert_eq!(event.get_description(), Some(entry.description.as_str()));
                prop_assert_eq!(told(event.get_start().as_ref()), moment(start(), entry.from));
                prop_assert_eq!(told(event.get_end().as_ref()), moment(start(), entry.to));
                prop_assert_eq!(event.property_value("DTSTAMP"), Some("20270301T000000Z"));
            }
        }
    }
}
