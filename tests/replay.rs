//! Every cutting plan cut by cut and every glue schedule step by step: of the bundled recipes, of any cup, and of plans
//! that are spoiled on purpose. `support/replay.rs` does the cutting and gluing.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]
#![allow(clippy::disallowed_methods, reason = "what a test reads is its own")]

use std::fs;
use std::path::Path;

use crate::support::replay::{cut, glue, list, number, text};
use proptest::prelude::*;
use ringwright::compile::{Options, compile_with};
use ringwright::output;
use ringwright::plan::Asked;
use ringwright::quantity::Date;
use ringwright::source::MapWorld;
use serde_json::{Value, json};

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
