//! Every cutting plan cut by cut and every glue schedule step by step, from `design.json` alone: this knows nothing
//! of how they were found, and lays each piece out with its slanting ends and its kerfs.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]
#![allow(clippy::cast_precision_loss, reason = "counts of a shop are small")]
#![allow(clippy::disallowed_methods, reason = "the trigonometry of the standard library is the other opinion")]

use std::collections::BTreeMap;

use ringwright::quantity::Date;
use serde_json::Value;

/// Rounding of wants and boards to micrometers, and a little for sums of them.
const HAIR: f64 = 0.02;

pub fn number(of: &Value, key: &str) -> f64 {
    of[key].as_f64().unwrap_or_else(|| panic!("{key} in {of}"))
}

pub fn text<'a>(of: &'a Value, key: &str) -> &'a str {
    of[key].as_str().unwrap_or_else(|| panic!("{key} in {of}"))
}

pub fn list<'a>(of: &'a Value, key: &str) -> &'a [Value] {
    of[key].as_array().unwrap_or_else(|| panic!("{key} in {of}"))
}

macro_rules! holds {
    ($what:expr, $($why:tt)*) => {
        let is_so: bool = $what;
        if !is_so {
            return Err(format!($($why)*));
        }
    };
}

/// A piece as it lies on the board: where it begins and ends at the near and at the far edge of its lane.
#[derive(Clone, Copy)]
struct Laid {
    near: (f64, f64),
    far: (f64, f64),
    /// Of the kerf on either side of it, along the board.
    kerf: f64,
}

impl Laid {
    fn from(self) -> f64 {
        self.near.0.min(self.far.0)
    }

    fn to(self) -> f64 {
        self.near.1.max(self.far.1)
    }
}

/// Replays the cutting plan.
pub fn cut(design: &Value) -> Result<(), String> {
    let plan = &design["cutting_plan"];
    let kerf = number(plan, "kerf_mm");
    let mut made: BTreeMap<String, u64> = BTreeMap::new();
    for board in list(plan, "boards") {
        let label = text(board, "label");
        let (long, wide) = (number(board, "long_mm"), number(board, "wide_mm"));
        let trim = number(board, "end_trim_mm");
        let is_rough = board["is_rough"].as_bool().unwrap();
        let end = if is_rough { long - trim } else { long };
        let edge = number(board, "jointing_mm");
        let mut free = trim;
        for section in list(board, "sections") {
            let (from, to) = (number(section, "from_mm"), number(section, "to_mm"));
            holds!(
                from >= free - HAIR && to > from && to <= end + HAIR,
                "{label}: section {from}..{to} of {free}..{end}"
            );
            free = to + kerf;
            let mut across = edge;
            for lane in list(section, "lanes") {
                let at = number(lane, "from_mm");
                holds!(at >= across - HAIR, "{label}: a lane at {at}, and the last reaches to {across}");
                across = at + number(lane, "width_mm") + kerf;
                holds!(across - kerf <= wide - edge + HAIR, "{label}: lanes to {}, {wide} wide", across - kerf);
                along(design, board, (from, to), lane, &mut made)?;
            }
        }
    }
    for pile in list(plan, "piles") {
        let boards = list(pile, "boards").len() as f64;
        holds!(
            number(pile, "least_boards") <= boards || !list(pile, "lacks").is_empty(),
            "fewer boards than the bound"
        );
        holds!(
            number(pile, "least_wood_cm3") <= number(pile, "wood_cm3") + 1.0 || !list(pile, "lacks").is_empty(),
            "less wood than the bound"
        );
        for lack in list(pile, "lacks") {
            *made.entry(text(lack, "cut").to_owned()).or_default() += lack["count"].as_u64().unwrap();
        }
    }
    everything_is_made(design, &made)
}

/// What is cut from boards, or from boards that are glued up of plies, and how often.
fn everything_is_made(design: &Value, made: &BTreeMap<String, u64>) -> Result<(), String> {
    let laminated: Vec<&str> = list(design, "boards").iter().map(|board| text(board, "name")).collect();
    let parts = |label: &str| {
        let panels = list(&design["cutting_plan"], "panels");
        panels.iter().find(|panel| text(panel, "of") == label).map_or(1, |panel| panel["parts"].as_u64().unwrap())
    };
    for row in list(design, "cut_list") {
        let (label, kind, wood) = (text(row, "label"), text(row, "kind"), text(row, "wood"));
        if ["spacers", "sheet"].contains(&kind) || laminated.contains(&wood) {
            continue;
        }
        let wanted = row["count"].as_u64().unwrap() * parts(label);
        let got = made.get(label).copied().unwrap_or(0);
        holds!(got == wanted, "{wanted} of {label} are wanted, and {got} are cut");
    }
    Ok(())
}

/// One lane, piece by piece.
fn along(
    design: &Value,
    board: &Value,
    (from, to): (f64, f64),
    lane: &Value,
    made: &mut BTreeMap<String, u64>,
) -> Result<(), String> {
    let plan = &design["cutting_plan"];
    let (kerf, width, of) = (number(plan, "kerf_mm"), number(lane, "width_mm"), text(lane, "of"));
    let strip = list(plan, "strips").iter().find(|strip| text(strip, "label") == of);
    let planed = number(board, "planed_mm");
    if let Some(strip) = strip {
        holds!(width >= number(strip, "width_mm") - HAIR, "{of} is ripped {width} wide");
        holds!(planed >= number(strip, "thickness_mm") - 0.06, "{of} is thicker than {planed}");
    }
    let rows = list(design, "cut_list");
    let mut last: Option<Laid> = None;
    let mut pieces = 0_u64;
    for run in list(lane, "cuts") {
        let (cut, count) = (text(run, "cut"), run["count"].as_u64().unwrap());
        *made.entry(cut.to_owned()).or_default() += count;
        let row = rows.iter().find(|row| text(row, "label") == cut);
        let start = number(run, "from_mm");
        let pitch = (number(run, "to_mm") - start) / count as f64;
        for number_of in 0..count {
            let at = start + pitch * number_of as f64;
            // The strip is turned over after each cut, whatever piece comes next.
            let turned = pieces;
            pieces += 1;
            let laid = match (row, strip) {
                (Some(row), Some(strip)) => segment(row, strip, (at, width, kerf), turned),
                _ => Laid { near: (at, at + pitch - kerf), far: (at, at + pitch - kerf), kerf },
            };
            if let (Some(row), None) = (row, strip) {
                let wanted = ["diameter_mm", "length_mm"].iter().find_map(|key| row[*key].as_f64()).unwrap();
                let parts = list(plan, "panels").iter().find(|panel| text(panel, "of") == cut);
                let parts = parts.map_or(1.0, |panel| number(panel, "parts"));
                let across = row["diameter_mm"].as_f64().or_else(|| row["long_edge_mm"].as_f64()).unwrap() / parts;
                holds!(width >= across - HAIR, "{cut} is {across} wide, and its lane {width}");
                holds!(pitch - kerf >= wanted - HAIR, "{cut} is {wanted} long, and gets {}", pitch - kerf);
            }
            // The first cut of a lane takes a kerf off the section's start; between two pieces there is the wider kerf.
            let before = last.map_or((from, from), |last| {
                let kerf = last.kerf.max(laid.kerf);
                (last.near.1 + kerf, last.far.1 + kerf)
            });
            holds!(
                laid.near.0 >= before.0 - HAIR && laid.far.0 >= before.1 - HAIR,
                "{cut} number {number_of} on {of} begins at {:?}, and {before:?} is free",
                (laid.near.0, laid.far.0)
            );
            for stretch in list(board, "avoid") {
                let (bad, good) = (number(stretch, "from_mm"), number(stretch, "to_mm"));
                holds!(laid.to() <= bad + HAIR || laid.from() >= good - HAIR, "{cut} lies over {bad}..{good}");
            }
            last = Some(laid);
        }
    }
    let Some(last) = last else { return Err(format!("a lane of {of} for nothing")) };
    holds!(last.to() <= to + HAIR, "{of} ends at {}, its section at {to}", last.to());
    if let Some(strip) = strip {
        let tail = to - last.to();
        holds!(pieces == 0 || tail >= number(strip, "hold_mm") - HAIR, "{of}: only {tail} stay under the clamp");
    }
    Ok(())
}

/// A segment, by its edges and its angle: the strip is turned over after each cut where that may be.
fn segment(row: &Value, strip: &Value, (at, width, kerf): (f64, f64, f64), turned: u64) -> Laid {
    let angle = number(row, "miter_deg").to_radians();
    let (long, kerf) = (number(row, "long_edge_mm"), kerf / angle.cos());
    // From a strip that is a hair wider the long edge is as the stop is set, and the slant is the wider one.
    let slant = width * angle.tan();
    if !strip["may_be_turned_over"].as_bool().unwrap() {
        return Laid { near: (at, at + long), far: (at + slant, at + long - slant), kerf };
    }
    let (outer, inner) = ((at - slant, at + long - slant), (at, at + long - 2.0 * slant));
    if turned.is_multiple_of(2) {
        Laid { near: outer, far: inner, kerf }
    } else {
        Laid { near: inner, far: outer, kerf }
    }
}

/// Replays the glue schedule, to the second.
pub fn glue(design: &Value) -> Result<(), String> {
    let schedule = &design["glue_schedule"];
    let seconds = |of: &Value, key: &str| (number(of, key) * 60.0).round();
    let (opens, closes) = (seconds(schedule, "opens_min"), seconds(schedule, "closes_min"));
    let steps = list(schedule, "steps");
    let start = schedule["start_date"].as_str().and_then(Date::parse);
    let first_day = start.map_or(0, |date| date.weekday().number());
    let week = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
    let off: Vec<&str> = list(schedule, "days_off").iter().map(|day| day.as_str().unwrap()).collect();
    let mut end = seconds(schedule, "begin_min");
    for (at, step) in steps.iter().enumerate() {
        let id = text(step, "id");
        let (from, on, out) = (seconds(step, "start_min"), seconds(step, "clamped_min"), seconds(step, "ready_min"));
        let hands = (number(step, "hands_min") + number(step, "spread_min")) * 60.0;
        holds!((on - from - hands).abs() <= 1.5, "{id}: {hands} s of work in {}", on - from);
        holds!((out - on - seconds(step, "clamp_min")).abs() <= 1.5, "{id} is not in its clamp as long as it must be");
        let (day, of_day) = ((from / 86_400.0).floor(), from % 86_400.0);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number of days")]
        let day_number = day as usize;
        holds!(of_day >= opens && on - day * 86_400.0 <= closes || hands > closes - opens, "{id}: work out of hours");
        let weekday = week[(first_day + day_number) % 7];
        holds!(!off.contains(&weekday), "{id}: work on {weekday}");
        for before in list(step, "after") {
            let before = steps.iter().find(|other| other["id"] == *before).ok_or("waits for nothing")?;
            holds!(seconds(before, "ready_min") <= from, "{id} begins before {} is out", text(before, "id"));
        }
        for other in &steps[..at] {
            let (begin, off) = (seconds(other, "start_min"), seconds(other, "clamped_min"));
            holds!(off <= from || on <= begin, "hands at {id} and {}", text(other, "id"));
        }
        if let Some(clamp) = step["clamp"].as_u64() {
            let holds_it = |other: &&Value| {
                other["clamp"].as_u64() == Some(clamp)
                    && seconds(other, "start_min") <= from
                    && from < seconds(other, "ready_min")
            };
            let there = &list(schedule, "clamps")[usize::try_from(clamp).unwrap()];
            let in_use = steps.iter().filter(holds_it).count() as u64;
            holds!(in_use <= there["count"].as_u64().unwrap(), "{in_use} clamps {} at {id}", text(there, "kind"));
            if let (Some(from), Some(to), Some(round)) =
                (there["from_mm"].as_f64(), there["to_mm"].as_f64(), step["round_mm"].as_f64())
            {
                holds!((from..=to).contains(&round), "{id} goes round {round}, its band from {from} to {to}");
            }
        }
        end = end.max(out);
    }
    let (begin, makespan) = (seconds(schedule, "begin_min"), seconds(schedule, "makespan_min"));
    holds!(steps.is_empty() || (end - begin - makespan).abs() <= 1.0, "the last is out at {end}");
    holds!(seconds(schedule, "bound_min") <= makespan, "shorter than the bound");
    Ok(())
}
