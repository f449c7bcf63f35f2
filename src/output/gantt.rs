//! The glue schedule as a drawing to pin up: a panel for each day, all on the same scale of hours, and in it a bar for
//! each glue-up of that day and for what still stands in clamps from the days before.

use svg::Document;
use svg::node::element::{Group, Polygon, Text, Title};

use crate::quantity::{Date, Duration, WEEK, Weekday};

use super::drawing::{GRAY, bytes, line, number, page, rectangle, shortened, words};
use super::glue_words::how_good;
use super::hours::Days;
use super::sheet::{Sheet, counted, listed};
use super::timetable::{Row, rows};

const DAY: u64 = 86_400;
const HOUR: u64 = 3_600;

// Places of the columns, from the left.
const NUMBER: f64 = 44.0;
const WORDS: f64 = 54.0;
const CLAMP: f64 = 232.0;
const LEFT: f64 = 380.0;
const RIGHT: f64 = 940.0;
const NOTES: f64 = RIGHT + 14.0;
const WIDE: f64 = 1200.0;

const ROW: f64 = 22.0;
/// Name of the day and hours above its rows.
const HEAD: f64 = 44.0;
const GAP: f64 = 18.0;
const TOP: f64 = 132.0;
/// What a bar keeps from the lines of its row.
const AIR: f64 = 4.0;
/// Of the arrow where a bar goes on.
const TIP: f64 = 7.0;

const HANDS: &str = "#333";
const CLAMPED: &str = "#d5d5d5";
const CLOSED: &str = "#efefef";
const RULE: &str = "#ccc";

/// The drawing as a file.
pub(super) fn drawing(sheet: &Sheet<'_>) -> Vec<u8> {
    let rows = rows(sheet);
    let title = format!("{}: glue schedule", sheet.name());
    if rows.is_empty() {
        let said = "Nothing is glued before this vessel is turned.";
        let drawing = page(WIDE, 90.0, &title, said)
            .add(words((20.0, 38.0), 22.0, &title).set("font-weight", "bold"))
            .add(words((20.0, 66.0), 15.0, said));
        return bytes(&drawing);
    }
    let chart = Chart::of(sheet, &rows);
    let panels = chart.panels();
    let tall = panels.iter().fold(TOP, |sum, panel| sum + panel.tall() + GAP);
    let about = chart.about();
    let mut drawing =
        page(WIDE, tall, &title, &about).add(words((20.0, 38.0), 22.0, &title).set("font-weight", "bold"));
    drawing = legend(drawing.add(words((20.0, 62.0), 14.0, &about)));
    let mut top = TOP;
    for panel in &panels {
        drawing = drawing.add(chart.panel(panel, top));
        top += panel.tall() + GAP;
    }
    bytes(&drawing)
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
            return ROW;
        }
        #[allow(clippy::cast_precision_loss, reason = "a day has few glue-ups")]
        let rows = self.rows.len() as f64;
        HEAD + ROW * rows
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
            "{}, from {} to {}; hours of work {}. {}",
            counted(self.rows.len(), "glue-up", "glue-ups"),
            self.days.moment(self.begin),
            self.days.moment(self.end),
            self.days.hours(),
            self.how_good,
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

    fn panel(&self, panel: &Panel<'_>, top: f64) -> Group {
        let name = self.days.name(panel.day);
        if panel.is_off {
            let inside = listed(panel.rows.iter().map(|row| row.number.to_string()));
            let still = if panel.rows.is_empty() { String::new() } else { format!("; still in clamps: {inside}") };
            return Group::new().add(rectangle((20.0, top), (WIDE - 40.0, ROW)).set("fill", CLOSED)).add(words(
                (28.0, top + 15.5),
                13.0,
                &format!("{name}: no work{still}"),
            ));
        }
        let mut group = Group::new().add(words((20.0, top + 18.0), 16.0, &name).set("font-weight", "bold"));
        group = self.hours(group, panel, top);
        for (row, place) in panel.rows.iter().zip(0_u32..) {
            group = group.add(self.row(row, panel.day, top + HEAD + ROW * f64::from(place)));
        }
        group
    }

    /// The closed hours shaded, a rule and a number at every full hour.
    fn hours(&self, mut group: Group, panel: &Panel<'_>, top: f64) -> Group {
        let (head, foot) = (top + HEAD, top + panel.tall());
        let calendar = self.days.0;
        let midnight = panel.day * DAY;
        let (opens, closes) = (calendar.opens.seconds(), calendar.closes.seconds());
        for (from, to) in [(self.shown.0, opens), (closes, self.shown.1)] {
            let (left, right) = (self.across(panel.day, midnight + from), self.across(panel.day, midnight + to));
            if right > left {
                group = group.add(rectangle((left, head), (right - left, foot - head)).set("fill", CLOSED));
            }
        }
        // More than a number every 40 points would run together.
        let step = if self.shown.1 - self.shown.0 > 14 * HOUR { 2 } else { 1 };
        for hour in self.shown.0 / HOUR..=self.shown.1 / HOUR {
            let x = self.across(panel.day, midnight + hour * HOUR);
            group = group.add(line((x, head - 4.0), (x, foot)).set("stroke", RULE));
            if hour % step == 0 {
                let label = words((x, head - 8.0), 11.0, &hour.to_string());
                group = group.add(label.set("text-anchor", "middle").set("fill", GRAY));
            }
        }
        group.add(line((20.0, head), (WIDE - 20.0, head)).set("stroke", GRAY))
    }

    fn row(&self, row: &Row<'_>, day: u64, top: f64) -> Group {
        let base = top + 15.5;
        let is_carried = Days::day(row.step.start) < day;
        let clamp = row.clamp.as_deref().unwrap_or("rubbed on");
        let label = |x: f64, size: f64, text: &str| words((x, base), size, text);
        let mut group = Group::new()
            .add(Title::new(super::drawing::clean(&format!("{}. {}, {clamp}", row.number, row.words))))
            .add(line((20.0, top + ROW), (WIDE - 20.0, top + ROW)).set("stroke", RULE).set("stroke-width", "0.5"))
            .add(label(NUMBER, 14.0, &row.number.to_string()).set("text-anchor", "end").set("font-weight", "bold"))
            .add(faded(label(WORDS, 13.0, &shortened(&row.words, 26)), is_carried))
            .add(label(CLAMP, 11.0, &shortened(clamp, 24)).set("fill", GRAY));
        group = self.bar(group, row, day, top);
        let out = format!("out {}", self.days.seen_from(day, row.step.ready()));
        let after = match row.after.as_slice() {
            [] => String::new(),
            _ if is_carried => String::new(),
            after => format!(" · needs {}", listed(after.iter().map(usize::to_string))),
        };
        group.add(label(NOTES, 12.0, &shortened(&format!("{out}{after}"), 38)))
    }

    /// Hands, then clamp; an arrow where it comes from before or goes on behind what is shown.
    fn bar(&self, mut group: Group, row: &Row<'_>, day: u64, top: f64) -> Group {
        let (start, clamped, ready) =
            (row.step.start.seconds(), row.step.clamped().seconds(), row.step.ready().seconds());
        let (upper, tall) = (top + AIR, ROW - 2.0 * AIR);
        for (from, to, fill) in [(clamped, ready, CLAMPED), (start, clamped, HANDS)] {
            let (left, right) = (self.across(day, from), self.across(day, to));
            if right > left {
                let bar = rectangle((left, upper), (right - left, tall)).set("fill", fill);
                group = group.add(bar.set("stroke", HANDS).set("stroke-width", "0.8"));
            }
        }
        let middle = upper + tall / 2.0;
        let arrow = |x: f64, tip: f64| {
            let corners = [(x, upper), (x + tip, middle), (x, upper + tall)];
            let points: Vec<String> = corners.iter().map(|(x, y)| format!("{},{}", number(*x), number(*y))).collect();
            Polygon::new().set("points", points.join(" ")).set("fill", HANDS)
        };
        let (from, to) = (day * DAY + self.shown.0, day * DAY + self.shown.1);
        if start < from {
            group = group.add(arrow(LEFT - TIP, TIP));
        }
        if ready > to {
            group = group.add(arrow(RIGHT, TIP));
        }
        group
    }

    /// Where a moment stands in the panel of a day; what is not shown of it ends at the edge.
    #[allow(clippy::cast_precision_loss, reason = "seconds of a day")]
    fn across(&self, day: u64, seconds: u64) -> f64 {
        let (from, to) = (day * DAY + self.shown.0, day * DAY + self.shown.1);
        let share = (seconds.clamp(from, to) - from) as f64 / (to - from).max(1) as f64;
        LEFT + (RIGHT - LEFT) * share
    }
}

/// What only goes on from the day before stands back.
fn faded(label: Text, is_carried: bool) -> Text {
    if is_carried { label.set("fill", GRAY).set("font-style", "italic") } else { label }
}

fn legend(drawing: Document) -> Document {
    let (upper, base) = (84.0, 96.0);
    let sign = |x: f64, fill: &str| {
        rectangle((x, upper), (34.0, 14.0)).set("fill", fill).set("stroke", HANDS).set("stroke-width", "0.8")
    };
    let said = |x: f64, text: &str| words((x, base), 12.0, text);
    drawing
        .add(sign(20.0, HANDS))
        .add(said(60.0, "dark: your hands make ready, spread, close"))
        .add(sign(340.0, CLAMPED))
        .add(said(380.0, "light: in its clamp, hands free"))
        .add(rectangle((590.0, upper), (34.0, 14.0)).set("fill", CLOSED))
        .add(said(630.0, "shaded: nobody works"))
        .add(said(780.0, "▸ goes on another day (slanted: from a day before)"))
        .add(
            words(
                (20.0, 118.0),
                12.0,
                "Numbers as in glue-schedule.md. “needs 3”: number 3 must be out of its clamp before.",
            )
            .set("fill", GRAY),
        )
}
