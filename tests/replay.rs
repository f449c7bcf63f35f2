//! Every cutting plan cut by cut and every glue schedule step by step, from `design.json` alone: this knows nothing
//! of how they were found, and lays each piece out with its slanting ends and its kerfs.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]
#![allow(clippy::cast_precision_loss, reason = "counts of a shop are small")]
#![allow(clippy::disallowed_methods, reason = "the trigonometry of the standard library is the other opinion")]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use proptest::prelude::*;
use ringwright::compile::{Options, compile_with};
use ringwright::output;
use ringwright::plan::Asked;
use ringwright::quantity::Date;
use ringwright::source::MapWorld;
use serde_json::{Value, json};

/// Rounding of wants and boards to micrometers, and a little for sums of them.
const HAIR: f64 = 0.02;

fn number(of: &Value, key: &str) -> f64 {
    of[key].as_f64().unwrap_or_else(|| panic!("{key} in {of}"))
}

fn text<'a>(of: &'a Value, key: &str) -> &'a str {
    of[key].as_str().unwrap_or_else(|| panic!("{key} in {of}"))
}

fn list<'a>(of: &'a Value, key: &str) -> &'a [Value] {
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
fn cut(design: &Value) -> Result<(), String> {
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
fn glue(design: &Value) -> Result<(), String> {
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

fn designed(files: &[(String, String)], start: Option<&str>) -> Value {
    let mut world = MapWorld::default();
    for (name, text) in files {
        world.add(name, text);
    }
    let root = world.root(&files[0].0).unwrap();
    let asked = Asked { start: start.and_then(Date::parse), ..Asked::default() };
    let compiled = compile_with(&world, root, &Options { asked, ..Options::default() });
    let complete = compiled.complete().unwrap_or_else(|| panic!("{:?}", compiled.findings));
    let documents = output::documents(&complete, &world);
    let json = documents.iter().find(|document| document.name == "design.json").unwrap();
    serde_json::from_slice(&json.bytes).unwrap()
}

#[track_caller]
fn replays(design: &Value, name: &str) {
    assert_eq!(cut(design), Ok(()), "{name}");
    assert_eq!(glue(design), Ok(()), "{name}");
}

fn recipes() -> Vec<(String, Vec<(String, String)>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let read = |name: &str| (name.to_owned(), fs::read_to_string(folder.join(name)).unwrap());
    let mut names: Vec<String> =
        fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.retain(|name| name.ends_with(".vessel") && name != "workshop.vessel");
    names.sort();
    names.into_iter().map(|name| (name.clone(), vec![read(&name), read("workshop.vessel")])).collect()
}

#[test]
fn the_plans_of_all_recipes_can_be_worked() {
    let all = recipes();
    assert!(all.len() > 20);
    for (name, files) in all {
        replays(&designed(&files, None), &name);
    }
}

/// A vessel whose shop says all that plans have to keep.
fn busy(boards: &str, shop: &str, layers: &str) -> Vec<(String, String)> {
    let text = format!(
        "units mm\nshop {{ kerf 2.4  clamps 2\n {shop}\n boards {{\n {boards}\n }} }}\nvessel \"Cup\" {{\n  \
         outside {{ at 0 diameter 120   at 64 diameter 120 }}\n  wall 10\n  floor 10\n  \
         every ring {{ segments 12  thick 18 }}\n  body {{\n {layers}\n }}\n}}\n"
    );
    vec![("cup.vessel".to_owned(), text)]
}

#[test]
fn knots_matches_bands_and_days_off_are_kept() {
    let boards = "maple thick 27 wide 140 long 1400 rough avoid 300 .. 340 avoid 700 .. 760\n \
                  walnut thick 25 wide 130 long 900 count 2";
    let shop = "hours 18 .. 21  days-off [sat sun]  cauls 1\n band-clamp 80 .. 200 count 1";
    let layers = "disc walnut thick 10\n ring maple match\n ring [maple walnut]\n ring walnut";
    let design = designed(&busy(boards, shop, layers), Some("2027-03-05"));
    replays(&design, "a busy shop");
    // It is a Friday: not all fits into that evening, and nothing is done until Monday.
    let starts: Vec<f64> =
        list(&design["glue_schedule"], "steps").iter().map(|step| number(step, "start_min") / 1440.0).collect();
    assert!(starts.iter().any(|day| *day < 1.0) && starts.iter().any(|day| *day >= 3.0), "{starts:?}");
    assert!(list(&design["cutting_plan"], "boards").iter().all(|board| text(board, "supply") == "at_hand"));
}

prop_compose! {
    /// Cups of all sorts: counts, walls, kerfs, clamps, hours, boards at hand, for sale or none.
    fn a_cup()(
        (segments, diameter, wall) in (prop::sample::select(vec![6_u32, 8, 10, 12, 18]), 90_u32..200, 6_u32..14),
        (kerf, hold, clamps) in (8_u32..40, 60_u32..180, 1_u32..5),
        (opens, long, glue) in (0_u32..20, 2_u32..6, prop::sample::select(vec!["pva-d2", "hide-liquid", "epoxy-fast"])),
        boards in prop::option::of((30_u32..60, 120_u32..200, 700_u32..2400, any::<bool>(), 100_u32..500)),
        layers in prop::collection::vec(prop::sample::select(vec![
            "ring maple", "ring [maple walnut]", "ring maple match", "ring 6 walnut", "staves walnut", "ring [maple*2 cherry]",
        ]), 2..6),
    ) -> Vec<(String, String)> {
        let boards = boards.map_or(String::new(), |(thick, wide, long, is_rough, knot)| {
            let rough = if is_rough { "rough" } else { "" };
            format!(
                "boards {{ walnut thick {thick} wide {wide} long {long} count 2 {rough} avoid {knot} .. {} }}\n \
                 for-sale {{ maple thick {thick} wide {wide} long {long} price 20 {rough}\n \
                 maple thick {thick} wide 150 long 900 price 11 rough }}\n",
                knot + 30
            )
        });
        let tall = 10 + 18 * layers.len();
        let text = format!(
            "units mm\nshop {{ kerf {}.{}  hold {hold}  clamps {clamps}  hours {opens} .. {}  days-off [wed]\n {boards} }}\n\
             vessel \"Cup\" {{\n  outside {{ at 0 diameter {diameter}   at {tall} diameter {diameter} }}\n  wall {wall}\n  floor 10\n  \
             every ring {{ segments {segments}  thick 18  glue {glue} }}\n  every staves {{ segments {segments}  tall 18 }}\n  \
             body {{\n  disc walnut thick 10\n  {}\n  }}\n}}\n",
            kerf / 10, kerf % 10, opens + long.min(24 - opens), layers.join("\n  ")
        );
        vec![("cup.vessel".to_owned(), text)]
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn the_plans_of_any_cup_can_be_worked(files in a_cup(), is_dated in any::<bool>()) {
        let design = designed(&files, is_dated.then_some("2027-03-02"));
        prop_assert_eq!(cut(&design), Ok(()));
        prop_assert_eq!(glue(&design), Ok(()));
    }
}

#[test]
fn what_is_wrong_with_a_plan_is_seen() {
    let layers = "disc walnut thick 10\n ring maple\n ring [maple walnut]\n ring walnut";
    let boards = "maple thick 27 wide 140 long 1400 rough avoid 300 .. 340\n walnut thick 25 wide 130 long 1400";
    let good = designed(&busy(boards, "", layers), None);
    replays(&good, "as it is");
    let spoiled = |spoil: &dyn Fn(&mut Value)| {
        let mut design = good.clone();
        spoil(&mut design);
        cut(&design)
    };
    let of_board = |key: &'static str, value: Value| {
        spoiled(&move |design: &mut Value| design["cutting_plan"]["boards"][0][key] = value.clone())
    };
    assert!(of_board("wide_mm", json!(60)).is_err());
    assert!(of_board("long_mm", json!(400)).is_err());
    assert!(of_board("planed_mm", json!(12)).is_err());
    assert!(of_board("end_trim_mm", json!(60)).is_err());
    assert!(of_board("avoid", json!([{ "from_mm": 100, "to_mm": 120 }])).is_err());
    let of_lane = |key: &'static str, by: f64| {
        spoiled(&move |design: &mut Value| {
            let lane = &mut design["cutting_plan"]["boards"][0]["sections"][0]["lanes"][0];
            if key == "width_mm" || key == "from_mm" {
                lane[key] = json!(number(lane, key) + by);
            } else {
                let run = &mut lane["cuts"][0];
                run[key] = match key {
                    "count" => json!(run["count"].as_u64().unwrap() - 1),
                    _ => json!(number(run, key) + by),
                };
            }
        })
    };
    assert!(of_lane("width_mm", -1.0).is_err() && of_lane("width_mm", 90.0).is_err());
    assert!(of_lane("from_mm", -4.0).is_err() && of_lane("from_mm", 90.0).is_err());
    assert!(of_lane("count", 0.0).is_err());
    // A kerf forgotten: every piece begins a little too soon.
    assert!(of_lane("to_mm", -2.4).is_err());
    let section = spoiled(&|design: &mut Value| {
        let section = &mut design["cutting_plan"]["boards"][0]["sections"][0];
        section["to_mm"] = json!(number(section, "to_mm") - 5.0);
    });
    assert!(section.is_err(), "less than the hold stays under the clamp");
}

#[test]
fn what_is_wrong_with_a_schedule_is_seen() {
    let layers = "disc walnut thick 10\n ring maple\n ring walnut\n ring maple";
    let good = designed(&busy("", "hours 9 .. 12  days-off [tue]", layers), None);
    assert_eq!(glue(&good), Ok(()));
    let steps = list(&good["glue_schedule"], "steps").len();
    let moved = |at: usize, by: f64| {
        let mut design = good.clone();
        let step = &mut design["glue_schedule"]["steps"][at];
        for key in ["start_min", "clamped_min", "ready_min"] {
            step[key] = json!(number(step, key) + by);
        }
        glue(&design)
    };
    assert!(moved(1, -1.0).is_err(), "hands in two places");
    assert!(moved(0, -30.0).is_err(), "before the shop opens");
    assert!(moved(steps - 1, -1.0).is_err() || moved(steps - 1, -60.0).is_err(), "before what it needs");
    assert!(moved(steps - 1, 24.0 * 60.0).is_err(), "later than the end that is told");
    let spoiled = |spoil: &dyn Fn(&mut Value)| {
        let mut design = good.clone();
        spoil(&mut design["glue_schedule"]);
        glue(&design)
    };
    assert!(spoiled(&|schedule| schedule["clamps"][0]["count"] = json!(1)).is_err());
    assert!(spoiled(&|schedule| schedule["days_off"] = json!(["mon"])).is_err());
    assert!(spoiled(&|schedule| schedule["bound_min"] = json!(1e6)).is_err());
    assert!(spoiled(&|schedule| schedule["steps"][0]["clamp_min"] = json!(600)).is_err());
}
