//! What a vessel is of and for: glue, food, wet, boards at hand, what could be saved; and what documents say of it.

#![allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use crate::support::{codes, compile_text, said};
use ringwright::compile::Compiled;
use ringwright::output;

/// A cup of three rings on a disc, in millimeters, 64 high.
fn cup(shop: &str, inside: &str, layers: &str) -> String {
    format!(
        "units mm\nshop {{\n{shop}\n}}\nvessel \"Cup\" {{\n  {inside}\n  outside {{ at 0 diameter 90   at 64 diameter 90 }}\n  \
         wall 9\n  floor 10\n  every ring {{ segments 12  thick 18 }}\n  body {{ {layers} }}\n}}\n"
    )
}

const PLAIN: &str = "disc walnut thick 10\n repeat 3 { ring maple }";

fn of_family(text: &str, family: &str) -> Vec<&'static str> {
    codes(text).into_iter().filter(|code| code.starts_with(family)).collect()
}

fn sheet(text: &str, name: &str) -> String {
    let (world, compiled) = compile_text(text);
    let Some(design) = compiled.complete() else { panic!("{:?}", said(&world, &compiled)) };
    let documents = output::documents(&design, &world);
    let document = documents.iter().find(|document| document.name == name).unwrap();
    String::from_utf8(document.bytes.clone()).unwrap()
}

fn messages(compiled: &Compiled, code: &str) -> Vec<String> {
    let of_code = compiled.findings.iter().filter(|finding| finding.code.name == code);
    of_code.map(|finding| finding.message.clone()).collect()
}

#[test]
fn a_plain_cup_is_calm_whatever_it_holds_dry() {
    for holds in ["", "holds display", "holds dry-goods", "holds dry-food"] {
        let found = codes(&cup("", holds, PLAIN));
        assert_eq!(found, Vec::<&str>::new(), "{holds}");
    }
    assert_eq!(codes(&cup("glue pva-d3", "holds food", PLAIN)), Vec::<&str>::new());
}

#[test]
fn a_glue_or_a_wood_is_told_once_however_many_layers_it_has() {
    let teak = cup("", "", "disc teak thick 10\n ring teak\n ring teak\n ring teak");
    assert_eq!(of_family(&teak, "glue/"), ["glue/oily-wood"]);
    // Two glues, two findings; epoxy is none.
    let two = cup("", "", "disc teak thick 10\n ring teak glue epoxy-slow\n ring teak glue polyurethane\n ring maple");
    let (_, compiled) = compile_text(&two);
    assert_eq!(messages(&compiled, "glue/oily-wood").len(), 2, "{:?}", compiled.findings);
}

#[test]
fn plies_of_a_board_are_woods_and_joints_too() {
    let board = "units mm\nshop { glue epoxy-slow }\nboard stripe { teak 9.4  maple 9.4  glue pva-d2 }\nvessel \"Cup\" {\n  \
                 outside { at 0 diameter 90   at 28 diameter 90 }\n  wall 9\n  floor 10\n  holds dry-food\n  \
                 body { disc walnut thick 10\n ring 12 stripe thick 18 }\n}\n";
    let found = codes(board);
    assert!(found.contains(&"glue/oily-wood") && found.contains(&"health/wood-and-food-care"), "{found:?}");
}

#[test]
fn behind_a_liner_the_wood_is_dry() {
    let liner = "insert glass { into body inside\n liner diameter 60 tall 50 }";
    for holds in ["drink", "water", "food"] {
        let bare = of_family(&cup("", &format!("holds {holds}"), PLAIN), "");
        assert!(bare.contains(&"glue/not-waterproof"), "{holds}: {bare:?}");
        assert_eq!(bare.contains(&"health/stands-wet"), holds != "food", "{holds}");
        let lined = codes(&cup("", &format!("holds {holds}\n{liner}"), PLAIN));
        assert_eq!(lined, Vec::<&str>::new(), "{holds}");
    }
}

#[test]
fn an_assumed_temperature_or_moisture_says_nothing() {
    // Hot hide glue wants 21 °C, one more than is assumed.
    assert_eq!(of_family(&cup("glue hide-hot", "", PLAIN), "glue/too-cold"), Vec::<&str>::new());
    assert_eq!(of_family(&cup("glue hide-hot\n temperature 20 degC", "", PLAIN), "glue/too-cold"), ["glue/too-cold"]);
    assert_eq!(of_family(&cup("", "lives 60%rh .. 80%rh", PLAIN), "stock/"), Vec::<&str>::new());
}

#[test]
fn two_points_of_moisture_are_borne_and_more_are_not() {
    let at = |moisture: &str, lives: &str| of_family(&cup(&format!("moisture {moisture}"), lives, PLAIN), "stock/");
    // Nobody says where: 8 % (Wood Handbook, figure 13-1).
    assert_eq!((at("10%mc", ""), at("6%mc", "")), (vec![], vec![]));
    assert_eq!((at("10.1%mc", ""), at("5.9%mc", "")), (vec!["stock/too-damp"], vec!["stock/too-dry"]));
    // 50 and 65 % at 68 °F are 9.2 and 12.0 % (Wood Handbook, table 4-2): 10.6 in the middle.
    let lives = "lives 50%rh .. 65%rh";
    assert_eq!((at("12.5%mc", lives), at("8.7%mc", lives)), (vec![], vec![]));
    assert_eq!((at("12.8%mc", lives), at("8.4%mc", lives)), (vec!["stock/too-damp"], vec!["stock/too-dry"]));
}

#[test]
fn boards_are_asked_for_thickness_width_and_length() {
    let stock = |boards: &str| of_family(&cup(&format!("boards {{ {boards} }}"), "", PLAIN), "stock/");
    // Rings of 18 mm are sawn 18 + 2 · 0.4 mm thick, the disc 96 mm across.
    assert_eq!(stock("maple thick 18.8 wide 60 long 2000"), Vec::<&str>::new());
    assert_eq!(stock("maple thick 18.7 wide 60 long 2000"), ["stock/too-thin"]);
    assert_eq!(stock("maple thick 21.9 wide 60 long 2000 rough"), ["stock/too-thin"], "3.2 mm go in planing");
    assert_eq!(stock("maple thick 22 wide 60 long 2000 rough"), Vec::<&str>::new());
    // A wide board that is too thin helps nothing.
    assert_eq!(stock("maple thick 20 wide 12 long 2000\n maple thick 10 wide 200 long 2000"), ["stock/too-narrow"]);
    assert_eq!(stock("walnut thick 12 wide 95.9 long 2000"), ["stock/too-narrow"]);
    assert_eq!(stock("walnut thick 12 wide 96 long 2000"), Vec::<&str>::new());
    assert_eq!(stock("cherry thick 3 wide 3 long 3"), Vec::<&str>::new(), "of a wood that is not used");
}

#[test]
fn what_is_too_short_cannot_be_cut() {
    // Twelve pieces a ring, the strip turned over: (25.72 + 17.08) / 2 + 3.175 / cos 15° = 24.69 mm each. Three strips of
    // 16.2 mm come from a board 60 mm wide, each with twelve pieces (296.3 mm), the first cut (16.2 · tan 15° + 3.3 mm)
    // and the tail (150 mm): 453.9 mm, and the squared end takes 3.2 mm.
    let short = |length: f64, count: u32| {
        let boards = format!("boards {{ maple thick 20 wide 60 long {length} count {count} }}");
        !of_family(&cup(&boards, "", PLAIN), "stock/too-short").is_empty()
    };
    assert!(short(456.5, 1) && !short(457.5, 1));
    // Six pieces a strip of two boards: 148.1 + 7.6 + 150 mm.
    assert!(short(308.5, 2) && !short(309.5, 2), "two boards are counted");
    // A board shorter than 300 mm is not ripped, however many there are.
    assert!(short(299.0, 20));
}

#[test]
fn what_it_is_for_and_its_finish_are_in_the_design() {
    let text = cup("glue pva-d3", "holds food\n finish pure-tung-oil", PLAIN);
    let design: serde_json::Value = serde_json::from_str(&sheet(&text, "design.json")).unwrap();
    assert_eq!(design["recipe"]["holds"], "food");
    assert_eq!(design["recipe"]["finish"]["key"], "pure-tung-oil");
    assert_eq!(design["recipe"]["finish"]["self_heating_rags"], true);
    assert_eq!(design["recipe"]["finish"]["cure_days"], 30.0);
    let schema: serde_json::Value = serde_json::from_str(&output::schema()).unwrap();
    assert!(jsonschema::draft202012::new(&schema).unwrap().is_valid(&design));
    let plain: serde_json::Value = serde_json::from_str(&sheet(&cup("", "", PLAIN), "design.json")).unwrap();
    assert!(plain["recipe"].get("holds").is_none() && plain["recipe"].get("finish").is_none());
}

#[test]
fn the_turning_sheet_names_the_finish_and_its_rags() {
    let finish = |inside: &str| {
        let text = sheet(&cup("glue pva-d3", inside, PLAIN), "turning.md");
        text.lines().find(|line| line.starts_with("- **Finish")).unwrap().to_owned()
    };
    insta::assert_snapshot!(
        [
            finish(""),
            finish("finish pure-tung-oil"),
            finish("finish pure-tung-oil\n holds display"),
            finish("finish mineral-oil"),
            finish("finish friction-polish"),
            finish("finish wiping-varnish\n holds food"),
            finish("finish bare-wood"),
        ]
        .join("\n")
    );
}

#[test]
fn what_no_food_touches_gets_no_words_on_food() {
    let layers = "disc purpleheart thick 10\n repeat 3 { ring maple }";
    let about = |holds: &str| {
        let text = sheet(&cup("", holds, layers), "turning.md");
        text.lines().filter(|line| line.contains("food") && !line.starts_with("- **Finish")).count()
    };
    // The wood and the glue.
    assert_eq!((about(""), about("holds dry-food")), (2, 2));
    assert_eq!((about("holds display"), about("holds dry-goods"), about("holds water")), (0, 0, 0));
}

#[test]
fn boards_at_hand_change_nothing_of_a_design() {
    let json = |shop: &str| sheet(&cup(shop, "", PLAIN), "design.json");
    let with = json("boards { olive thick 27 wide 150 long 900\n maple thick 27 wide 150 long 1900 }");
    let strip = |text: String| {
        let mut design: serde_json::Value = serde_json::from_str(&text).unwrap();
        design.as_object_mut().unwrap().remove("workings");
        // Where the wood comes from is the one thing that they do change.
        let plan = design.as_object_mut().unwrap().remove("cutting_plan").unwrap();
        (design, plan["strips"].clone(), plan["boards"].clone())
    };
    let (with, without) = (strip(with), strip(json("")));
    assert_eq!((&with.0, &with.1), (&without.0, &without.1), "woods at hand are no woods of the vessel");
    let at_hand = |boards: &serde_json::Value| boards.as_array().unwrap().iter().any(|one| one["supply"] == "at_hand");
    assert!(at_hand(&with.2) && !at_hand(&without.2));
}

#[test]
fn a_miter_error_out_of_all_reason_is_told_with_its_bounds() {
    let (_, compiled) = compile_text(&cup("angle-error 20 deg", "", PLAIN));
    let told = messages(&compiled, "quantity/out-of-range");
    assert_eq!(told, ["`angle-error 20 deg` is out of all reason; it can be 0 to 2 °"]);
    assert_eq!(of_family(&cup("angle-error 2 deg", "", PLAIN), "quantity/"), Vec::<&str>::new());
}

/// A sheet of veneer between a wide round and what stands on it changes nothing of how they move.
#[test]
fn veneer_is_looked_through() {
    let vessel = |layers: &str| {
        format!(
            "units mm\nshop {{ moisture 8%mc }}\nvessel \"Bowl\" {{\n  outside {{ at 0 diameter 180   at 66 diameter 180 }}\n  \
             wall 12\n  floor 10\n  every ring {{ segments 16  thick 18 }}\n  body {{ {layers} }}\n}}\n"
        )
    };
    for (between, height) in [
        ("", "thick 12"),
        ("sheet walnut thick 2", "thick 10"),
        ("sheet walnut thick 1\n sheet maple thick 1", "thick 10"),
    ] {
        let text = vessel(&format!("disc maple {height}\n {between}\n repeat 3 {{ ring maple }}"));
        assert_eq!(of_family(&text, "movement/solid-floor"), ["movement/solid-floor"], "{between}");
    }
}
