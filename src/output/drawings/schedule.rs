//! The glue schedule to pin up: a panel for each day, all on the same scale of hours, and in it a bar for each glue-up
//! of that day and for what still stands in clamps from the days before.

use kurbo::{BezPath, Point, Rect, Shape as _};

use crate::output::glue_words::how_good;
use crate::output::hours::Days;
use crate::output::picture::{Anchor, Color, Group, Label, Mark, Picture};
use crate::output::sheet::{Sheet, counted, listed};
use crate::output::timetable::{Row, rows};
use crate::quantity::{Date, Duration, WEEK, Weekday};

use super::dress::{GRAY, INK, THIN};
use super::lettering;
use super::marks::{MARGIN, Page, ROW, TYPE, WIDE, area, filled, group, label, line, outline, plain, stroke};

const DAY: u64 = 86_400;
const HOUR: u64 = 3_600;

// Places of the columns, from the left.
const NUMBER: f64 = 36.0;
const WORDS: f64 = 43.0;
const LEFT: f64 = 206.0;
const RIGHT: f64 = 500.0;
const NOTES: f64 = RIGHT + 11.0;
const END: f64 = WIDE - MARGIN;

/// One glue-up: its name, and its clamp below it.
const TALL: f64 = 29.0;
/// Name of the day and hours above its rows.
const HEAD: f64 = 38.0;
const CLOSED_DAY: f64 = 22.0;
const GAP: f64 = 16.0;
const SMALL: f64 = 9.0;
/// What a bar keeps from the lines of its row.
const AIR: f64 = 7.0;
/// Of the arrow where a bar goes on.
const TIP: f64 = 7.0;

const HANDS: Color = Color(51, 51, 51);
const CLAMPED: Color = Color(213, 213, 213);
const CLOSED: Color = Color(239, 239, 239);
const RULE: Color = Color(204, 204, 204);

/// `glue-schedule.svg`: all days below one another.
pub(in crate::output) fn schedule(sheet: &Sheet<'_>) -> Picture {
    let rows = rows(sheet);
    if rows.is_empty() {
        let said = "Nothing is glued before this vessel is turned.";
        let page = Page::new(sheet, "glue schedule", said.to_owned(), said);
        let end = page.top;
        return page.end(end);
    }
    let chart = Chart::of(sheet, &rows);
    let about = format!("{} {}", chart.about(), chart.how_good);
    let lead = format!("{about} Numbers as in glue-schedule.md; “needs 3”: number 3 must be out of its clamp before.");
    let mut page = Page::new(sheet, "glue schedule", about, &lead);
    let mut top = legend(&mut page) + GAP;
    for panel in &chart.panels() {
        page.marks.push(chart.panel(panel, top));
        top += panel.tall() + GAP;
    }
    page.end(top - GAP)
}

/// Each day as a picture of its own; before them what the bars mean.
pub(in crate::output) fn each_day(sheet: &Sheet<'_>) -> Vec<Picture> {
    let rows = rows(sheet);
    if rows.is_empty() {
        return Vec::new();
    }
    let chart = Chart::of(sheet, &rows);
    let mut key = Page::bare("What the bars mean".to_owned(), "Shades of hands, clamps and closed hours.".to_owned());
    key.top = 2.0;
    let end = legend(&mut key);
    let mut pictures = vec![key.end(end - MARGIN + 2.0)];
    pictures.extend(chart.panels().iter().map(|panel| Picture {
        title: chart.days.name(panel.day),
        about: format!("{} on this day.", counted(panel.rows.len(), "glue-up", "glue-ups")),
        size: (WIDE, panel.tall() + 4.0),
        unit_mm: None,
        marks: vec![chart.panel(panel, 0.0)],
    }));
    pictures
}

/// What all panels share.
struct Chart<'a> {
    days: Days<'a>,
    rows: &'a [Row<'a>],
    /// The hours shown, in seconds after midnight: those of work and an hour on either side.
    shown: (u64, u64),
    begin: Duration,
    end: Duration,
    how_good: String,
}

/// One day.
struct Panel<'a> {
    day: u64,
    is_off: bool,
    rows: Vec<&'a Row<'a>>,
}

impl Panel<'_> {
    fn tall(&self) -> f64 {
        if self.is_off {
            return CLOSED_DAY;
        }
        #[allow(clippy::cast_precision_loss, reason = "a day has few glue-ups")]
        let rows = self.rows.len() as f64;
        HEAD + TALL * rows
    }
}

impl<'a> Chart<'a> {
    fn of(sheet: &Sheet<'a>, rows: &'a [Row<'a>]) -> Self {
        let schedule = &sheet.plan.glue;
        let (opens, closes) = (schedule.calendar.opens.seconds(), schedule.calendar.closes.seconds());
        let shown = ((opens / HOUR).saturating_sub(1) * HOUR, ((closes.div_ceil(HOUR) + 1) * HOUR).min(DAY));
        Self {
            days: Days(&schedule.calendar),
            rows,
            shown,
            begin: schedule.begin,
            end: schedule.end,
            how_good: how_good(schedule),
        }
    }

    fn about(&self) -> String {
        format!(
            "{}, from {} to {}; hours of work {}.",
            counted(self.rows.len(), "glue-up", "glue-ups"),
            self.days.moment(self.begin),
            self.days.moment(self.end),
            self.days.hours(),
        )
    }

    /// Every day from the first to the last of which something can be seen.
    fn panels(&self) -> Vec<Panel<'a>> {
        let last = self.rows.iter().map(|row| Days::day(row.step.ready())).max().unwrap_or(0);
        let panel = |day| Panel {
            day,
            is_off: self.is_off(day),
            rows: self.rows.iter().filter(|row| self.is_seen(row, day)).collect(),
        };
        (0..=last).map(panel).filter(|panel| panel.is_off && panel.day < last || !panel.rows.is_empty()).collect()
    }

    fn is_off(&self, day: u64) -> bool {
        let calendar = self.days.0;
        let first = calendar.start.map_or(Weekday::Monday, Date::weekday).number() as u64;
        WEEK.iter().zip(0_u64..).any(|(of, at)| at == (first + day) % 7 && calendar.days_off.contains(of))
    }

    /// Whether its bar comes into the hours that are shown of a day.
    fn is_seen(&self, row: &Row<'_>, day: u64) -> bool {
        let (from, to) = (day * DAY + self.shown.0, day * DAY + self.shown.1);
        Days::day(row.step.start) == day || row.step.start.seconds() < to && row.step.ready().seconds() > from
    }

    fn panel(&self, panel: &Panel<'_>, top: f64) -> Mark {
        let name = self.days.name(panel.day);
        let mut marks = Vec::new();
        if panel.is_off {
            let inside = listed(panel.rows.iter().map(|row| row.number.to_string()));
            let still = if panel.rows.is_empty() { String::new() } else { format!("; still in clamps: {inside}") };
            marks.push(filled(Rect::new(MARGIN, top, END, top + CLOSED_DAY).to_path(0.1), plain(CLOSED)));
            let said = lettering::fitted(&format!("{name}: no work{still}"), TYPE, false, END - MARGIN - 16.0);
            marks.push(Mark::Text(label((MARGIN + 8.0, top + 15.0), &said)));
        } else {
            marks.push(Mark::Text(Label { size: 13.0, is_bold: true, ..label((MARGIN, top + 14.0), &name) }));
            self.hours(&mut marks, panel, top);
            for (row, place) in panel.rows.iter().zip(0_u32..) {
                marks.push(self.row(row, panel.day, top + HEAD + TALL * f64::from(place)));
            }
        }
        group(&format!("day-{}", panel.day + 1), &name, marks)
    }

    /// The closed hours shaded, a rule and a number at every full hour.
    fn hours(&self, marks: &mut Vec<Mark>, panel: &Panel<'_>, top: f64) {
        let (head, foot) = (top + HEAD, top + panel.tall());
        let calendar = self.days.0;
        let midnight = panel.day * DAY;
        let (opens, closes) = (calendar.opens.seconds(), calendar.closes.seconds());
        for (from, to) in [(self.shown.0, opens), (closes, self.shown.1)] {
            let (left, right) = (self.across(panel.day, midnight + from), self.across(panel.day, midnight + to));
            if right > left {
                marks.push(filled(Rect::new(left, head, right, foot).to_path(0.1), plain(CLOSED)));
            }
        }
        // More than a number every 20 points would run together.
        let step = if self.shown.1 - self.shown.0 > 14 * HOUR { 2 } else { 1 };
        for hour in self.shown.0 / HOUR..=self.shown.1 / HOUR {
            let x = self.across(panel.day, midnight + hour * HOUR);
            marks.push(outline(line(Point::new(x, head - 4.0), Point::new(x, foot)), stroke(RULE, THIN)));
            if hour % step == 0 {
                let said = label((x, head - 7.0), &hour.to_string());
                marks.push(Mark::Text(Label { size: SMALL, anchor: Anchor::Middle, color: GRAY, ..said }));
            }
        }
        marks.push(outline(line(Point::new(MARGIN, head), Point::new(END, head)), stroke(GRAY, THIN)));
    }

    fn row(&self, row: &Row<'_>, day: u64, top: f64) -> Mark {
        let (upper, lower) = (top + 12.5, top + 24.0);
        let is_carried = Days::day(row.step.start) < day;
        let clamp = row.clamp.as_deref().unwrap_or("rubbed on");
        let rule = line(Point::new(MARGIN, top + TALL), Point::new(END, top + TALL));
        let mut marks = vec![outline(rule, stroke(RULE, THIN))];
        let number = label((NUMBER, upper), &row.number.to_string());
        marks.push(Mark::Text(Label { anchor: Anchor::End, is_bold: true, ..number }));
        let mut say = |(x, y): (f64, f64), size: f64, text: &str, room: f64, color: Color| {
            let text = lettering::fitted(text, size, false, room);
            marks.push(Mark::Text(Label { size, color, ..label((x, y), &text) }));
        };
        let words = LEFT - WORDS - TIP - 3.0;
        // What only goes on from a day before stands back.
        say((WORDS, upper), TYPE, &row.words, words, if is_carried { GRAY } else { INK });
        say((WORDS, lower), SMALL, clamp, words, GRAY);
        let out = format!("out {}", self.days.seen_from(day, row.step.ready()));
        say((NOTES, upper), TYPE, &out, END - NOTES, INK);
        if !is_carried && !row.after.is_empty() {
            let needs = format!("needs {}", listed(row.after.iter().map(usize::to_string)));
            say((NOTES, lower), SMALL, &needs, END - NOTES, GRAY);
        }
        self.bar(&mut marks, row, day, top);
        let title = format!("{}. {}, {clamp}", row.number, row.words);
        Mark::Group(Group { name: None, title: Some(title), marks })
    }

    /// Hands, then clamp; an arrow where it comes from before or goes on behind what is shown.
    fn bar(&self, marks: &mut Vec<Mark>, row: &Row<'_>, day: u64, top: f64) {
        let (start, clamped, ready) =
            (row.step.start.seconds(), row.step.clamped().seconds(), row.step.ready().seconds());
        let (upper, lower) = (top + AIR, top + TALL - AIR);
        for (from, to, fill) in [(clamped, ready, CLAMPED), (start, clamped, HANDS)] {
            let (left, right) = (self.across(day, from), self.across(day, to));
            if right > left {
                marks.push(area(Rect::new(left, upper, right, lower).to_path(0.1), plain(fill), stroke(HANDS, THIN)));
            }
        }
        let mut arrow = |x: f64| {
            let mut path = BezPath::new();
            path.move_to((x, upper));
            path.line_to((x + TIP, f64::midpoint(upper, lower)));
            path.line_to((x, lower));
            path.close_path();
            marks.push(filled(path, plain(HANDS)));
        };
        let (from, to) = (day * DAY + self.shown.0, day * DAY + self.shown.1);
        if start < from {
            arrow(LEFT - TIP);
        }
        if ready > to {
            arrow(RIGHT);
        }
    }

    /// Where a moment stands in the panel of a day; what is not shown of it ends at the edge.
    #[allow(clippy::cast_precision_loss, reason = "seconds of a day")]
    fn across(&self, day: u64, seconds: u64) -> f64 {
        let (from, to) = (day * DAY + self.shown.0, day * DAY + self.shown.1);
        let share = (seconds.clamp(from, to) - from) as f64 / (to - from).max(1) as f64;
        LEFT + (RIGHT - LEFT) * share
    }
}

/// What the shades mean, and the arrow; where it ends.
fn legend(page: &mut Page) -> f64 {
    let top = page.top;
    let shades = [
        (plain(HANDS), "hands: make ready, spread, close"),
        (plain(CLAMPED), "in its clamp, hands free"),
        (plain(CLOSED), "nobody works"),
    ];
    let end = page.legend(&[], &std::collections::BTreeSet::new(), &shades, top);
    let said = "A point at a bar's end: it goes on another day. Gray words: begun on a day before.";
    page.marks.push(Mark::Text(Label { color: GRAY, ..label((MARGIN, end + ROW), said) }));
    end + ROW
}
