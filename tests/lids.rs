//! Lids: joints in numbers, stacks that are parted, seasons, and what was made. From text to geometry.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use std::f64::consts::PI;

use crate::support::{codes, compile_text, said};
use ringwright::compile::Compiled;
use ringwright::geometry::{LidJoint, TurnedPart, Vessel, season};
use ringwright::output;
use ringwright::quantity::{Length, Ratio};
use ringwright::resolve::PartKind;

/// A straight box 90 mm across, walls 12, floor and top 10; `more` are lines of the vessel.
fn straight(height: f64, body: &str, lid: &str, more: &str) -> String {
    let lid = if lid.is_empty() { String::new() } else { format!("lid {{ {lid} }}") };
    format!(
        "units mm\nvessel \"Box\" {{\n outside {{ at 0 diameter 90   at {height} diameter 90 }}\n wall 12\n floor 10\n top 10\n \
         every ring {{ segments 12  thick 18 }}\n body {{ {body} }}\n {lid}\n {more}\n}}\n"
    )
}

fn boxed(more: &str) -> String {
    straight(84.0, "disc walnut thick 10   repeat 3 { ring maple }", "ring maple   disc walnut thick 10", more)
}

#[track_caller]
fn clean(text: &str) -> Compiled {
    let (world, compiled) = compile_text(text);
    assert!(!compiled.has_errors(), "{:#?}", said(&world, &compiled));
    compiled
}

#[track_caller]
fn vessel(text: &str) -> Vessel {
    clean(text).vessel.unwrap()
}

#[track_caller]
fn joint(text: &str) -> LidJoint {
    vessel(text).joint.unwrap()
}

#[track_caller]
fn assert_figure(got: Length, wanted: f64) {
    assert!((got.mm() - wanted).abs() <= 1e-5 * wanted.abs(), "{}, not {wanted}", got.mm());
}

#[test]
fn a_tenon_as_tabled() {
    // Reference rows (closed form to six digits, measured on drawn circles): outside 80, mortise 66, clearance 0.2, bore 54.
    let text = boxed("joint tenon { long 8  wall 5.9  fit 0.2 }")
        .replace("diameter 90", "diameter 80")
        .replace("wall 12", "wall 13");
    let joint = joint(&text);
    assert_figure(joint.bore.value, 54.0);
    assert_figure(joint.mortise.value, 66.0);
    assert_figure(joint.tenon.value, 65.8);
    assert_figure(joint.mortise_wall.value, 7.0);
    assert_figure(joint.tenon_wall.value, 5.9);
    assert_figure(joint.shoulder.value, 56.0);
    assert_figure(joint.end.value, 64.0);
    assert_figure(joint.mortise_depth.value, 8.75);
}

#[test]
fn a_thread_as_tabled() {
    // Reference rows (ISO 68-1's proportions, closed form to six digits): major 50, pitch 2, bore 38.
    let text = boxed("joint thread { pitch 2 mm  turns 3  long 8  wall 4.77313  fit 0 }")
        .replace("diameter 90", "diameter 62");
    let joint = joint(&text);
    let thread = joint.thread.unwrap();
    assert_figure(joint.tenon.value, 50.0);
    assert_figure(thread.depth.value, 1.226_87);
    assert_figure(thread.root.value, 47.5463);
    assert_figure(thread.depth_inside.value, 1.082_53);
    assert_figure(joint.mortise.value, 47.8349);
    assert_figure(joint.tenon_wall.value, 4.773_13);
    assert_figure(thread.engagement.value, 6.0);
    // 16 threads an inch, one start, a turn and a half, and a pitch to run out: 2.5/16 in.
    let by_default = self::joint(&straight(
        88.031_25,
        "disc walnut thick 10   repeat 3 { ring maple }",
        "ring maple   disc walnut thick 10",
        "joint thread",
    ));
    assert_figure(by_default.long.value, 25.4 * 2.5 / 16.0);
}

#[test]
fn walls_are_shared_and_the_lid_lies_at_its_closed_height() {
    let built = vessel(&boxed("joint tenon { long 8 }"));
    let joint = built.joint.as_ref().unwrap();
    assert!((joint.mortise_wall.value - joint.tenon_wall.value).abs().mm() < 1e-9);
    // 0.15 mm at 50 mm of mortise, 0.3 mm at 100 mm (common practice), on the mortise before clearance, 78 mm.
    assert_figure(joint.clearance.value, 0.234);
    let lid: Vec<_> = built.layers.iter().filter(|layer| layer.part == PartKind::Lid).collect();
    assert_figure(lid[0].z0.value, 56.0);
    assert_figure(lid[1].z1.value, 84.0);
    // The uppermost ring of the body holds shoulder and tenon: outside to 45, bored to 33.
    let upper = &built.layers[3];
    assert_figure(upper.outer_radius.value, 45.0);
    assert_figure(upper.inner_radius.value, 33.0);
    // A ring that is nothing but tenon is no wider than that.
    let thin = vessel(&straight(
        84.0,
        "disc walnut thick 10   ring maple   ring maple   ring maple thick 10   ring maple thick 8",
        "ring maple   disc walnut thick 10",
        "joint tenon { long 8 }",
    ));
    assert_figure(thin.layers[4].outer_radius.value, thin.joint.as_ref().unwrap().tenon.value.mm() / 2.0);
    assert!(codes(&boxed("joint tenon { long 8 }")).is_empty());
}

/// At every height the outside's disk is wood, cavity or play; so are the sums.
#[test]
fn wood_and_cavity_and_play_fill_the_outside() {
    let smooth = |text: String| {
        text.replace("outside {", "outside smooth {").replace("at 0 diameter 90", "at 0 diameter 80  at 40 diameter 94")
    };
    let parted = "disc walnut thick 10  repeat 4 { ring maple thick 18.4 }  disc walnut thick 10";
    for text in [
        boxed("joint tenon { long 8 }"),
        smooth(boxed("joint tenon { long 8 }")),
        smooth(straight(
            84.0,
            "disc walnut thick 10   repeat 3 { ring maple }",
            "ring maple   disc walnut thick 10",
            "joint tenon { on lid  long 8 }",
        )),
        smooth(boxed("joint over { long 8 }")),
        straight(
            64.0,
            "disc walnut thick 10   repeat 3 { ring maple }",
            "disc walnut thick 10",
            "joint inset { long 10 }",
        ),
        smooth(straight(84.0, parted, "", "parted at 52  kerf 1.6  \n joint tenon { long 8 }")),
    ] {
        let built = vessel(&text);
        let joint = built.joint.as_ref().unwrap();
        let wood: f64 = built.layers.iter().map(|layer| layer.finished_volume.value.mm3()).sum();
        let (m, t) = (joint.mortise.value.mm() / 2.0, joint.tenon.value.mm() / 2.0);
        let play = PI * (m * m - t * t) * joint.long.value.mm();
        let all = built.outside.volume(Length::ZERO, built.height.value).mm3();
        let sum = wood + built.capacity.value.mm3() + play;
        assert!((sum / all - 1.0).abs() < 1e-9, "{sum} of {all}: {text}");
        // The same wood by thin slices of both parts.
        let sliced: f64 = built.bodies.iter().map(sliced).sum();
        assert!((sliced / wood - 1.0).abs() < 1e-4, "{sliced}, not {wood}: {text}");
    }
}

fn sliced(part: &TurnedPart) -> f64 {
    let (low, high) = (part.outside.bottom().mm(), part.outside.top().mm());
    let steps = 40_000;
    let thick = (high - low) / f64::from(steps);
    let area = |i: i32| {
        let z = Length::from_mm(low + thick * (f64::from(i) + 0.5));
        let outside = part.outside.above(z).mm();
        let is_hollow = z >= part.inside.bottom() && z <= part.inside.top();
        let inside = if is_hollow { part.inside.above(z).mm() } else { 0.0 };
        PI * (outside * outside - inside * inside)
    };
    (0..steps).map(area).sum::<f64>() * thick
}

#[test]
fn one_stack_parted_gives_the_parts_that_two_stacks_give() {
    let two = vessel(&boxed("joint tenon { long 8 }"));
    // The line is that of the two stacks, 56; the ring that is cut has 8 mm of tenon, the kerf and the lid's 18 more.
    let one = vessel(&straight(
        84.0,
        "disc walnut thick 10  repeat 2 { ring maple }  ring maple thick 37.6  disc walnut thick 10",
        "",
        "parted at 56 kerf 1.6\n joint tenon { long 8 }",
    ));
    let (a, b) = (two.joint.as_ref().unwrap(), one.joint.as_ref().unwrap());
    for (a, b) in [(a.mortise, b.mortise), (a.tenon, b.tenon), (a.shoulder, b.shoulder), (a.end, b.end)] {
        assert_figure(b.value, a.value.mm());
    }
    assert_eq!(two.bodies.len(), one.bodies.len());
    let wood = |vessel: &Vessel| vessel.layers.iter().map(|layer| layer.finished_volume.value.mm3()).sum::<f64>();
    assert!((wood(&two) / wood(&one) - 1.0).abs() < 1e-9);
    let parting = one.parting.unwrap();
    assert_figure(parting.cut.value, 64.0);
    assert_figure(parting.lost.value, 9.6);
    assert_figure(parting.stack.value, 93.6);
    assert_eq!((parting.under, parting.over), (3, 3));
    let slices = &one.layers[3].slices;
    assert_eq!(slices.iter().map(|slice| slice.part).collect::<Vec<_>>(), [PartKind::Body, PartKind::Lid]);
    assert_figure(slices[0].to, 64.0);
    assert_figure(slices[1].from, 65.6);
    assert_figure(slices[1].from - slices[1].raise, 56.0);
}

#[test]
fn a_parted_stack_may_have_a_top_and_must_be_higher_by_kerf_and_tenon() {
    let text = |rings: &str, more: &str| {
        straight(
            84.0,
            &format!("disc walnut thick 10  repeat 4 {{ ring maple thick {rings} }}  disc walnut thick 10"),
            "",
            more,
        )
    };
    assert_eq!(codes(&text("18.4", "parted at 52 kerf 1.6\n joint tenon { long 8 }")), ["parted/pattern-break"]);
    assert!(codes(&text("16", "parted at 52 kerf 1.6\n joint tenon { long 8 }")).contains(&"stack/too-short"));
    // Without a joint only the kerf is taken. Rings sawn 17.2 mm thick are 0.4 mm over what a 20 mm board gives.
    let codes_of = codes(&text("16.4", "parted at 52 kerf 1.6"));
    assert_eq!(codes_of, ["economy/next-thickness", "parted/pattern-break"]);
}

#[test]
fn damp_closes_a_ring_in_a_ring_and_sticks_a_solid_one() {
    let rings = joint(&boxed("joint tenon { long 8 }\n lives 60%rh .. 35%rh"));
    let [dry, damp] = rings.seasons.unwrap().clearance.map(|clearance| clearance.value.mm());
    let planned = rings.clearance.value.mm();
    assert!(damp < planned && planned < dry, "{damp} {planned} {dry}");
    // Wood Handbook, table 4-2 (FPL-GTR-190): at 20 °C wood stands at 8.9 % in 47.5 % humidity and 11.0 % in 60 %.
    let seasons = rings.seasons.unwrap();
    assert!(
        (seasons.fitted.value.percent() - 8.9).abs() < 0.15
            && (seasons.moisture[1].value.percent() - 11.0).abs() < 0.15
    );
    // By the rule of the thin ring: both walls' swelling off, hard maple's 0.00353 a percent, less the small way round.
    let change = seasons.moisture[1].value.percent() - seasons.fitted.value.percent();
    let wanted = (rings.mortise_wall.value + rings.tenon_wall.value).mm() * 0.003_53 * change;
    assert!(((planned - damp) / wanted - 1.0).abs() < 0.06, "{} {wanted}", planned - damp);
    // And as elastic rings, which knows no thin walls.
    let (across, along) = (Ratio::of(0.003_53 * change), Ratio::of(season::LONGITUDINAL.strain_per_percent() * change));
    let (mortise, tenon) = (rings.mortise.value / 2.0, rings.tenon.value / 2.0);
    let hole = season::elastic_ring(mortise + rings.mortise_wall.value, mortise, across, along).hole;
    let outside = season::elastic_ring(tenon, rings.bore.value / 2.0, across, along).outside;
    let elastic = (rings.clearance.value + hole - outside).mm();
    assert!((damp - elastic).abs() < 0.01, "{damp}, not {elastic}");
    let solid = straight(
        74.0,
        "disc walnut thick 10   repeat 3 { ring maple }",
        "disc maple thick 18",
        "joint tenon { on lid  long 8 }\n lives 30%rh .. 75%rh",
    )
    .replace("top 10", "top 18");
    assert_eq!(joint(&solid).bore.value, Length::ZERO);
    assert!(codes(&solid).contains(&"joint/binds"));
    assert!(!codes(&solid.replace("tenon { on lid", "tenon { fit 2  on lid")).contains(&"joint/binds"));
}

#[test]
fn what_was_made_takes_the_place_of_what_was_planned() {
    let tenon = joint(&boxed("joint tenon { long 8  fit 0.2 }\n made { tenon diameter 76.5 }"));
    assert_figure(tenon.tenon.value, 76.5);
    assert_figure(tenon.mortise.value, 76.7);
    let mortise = joint(&boxed("joint tenon { long 8  fit 0.2 }\n made { mortise diameter 79 }"));
    assert_figure(mortise.tenon.value, 78.8);
    let both = joint(&boxed("joint tenon { long 8 }\n made { mortise diameter 79  \n tenon diameter 78.6 }"));
    assert_figure(both.clearance.value, 0.4);
    // A height is shared by the layers that were not measured: 1.2 mm less one ring's 0.2 over 46 mm of disc and rings.
    let text = boxed("joint tenon { long 8 }") + "made { ring 2 thick 17.8\n body height 62.8 }\n";
    let compiled = clean(&text);
    let built = compiled.vessel.unwrap();
    let thick = |at: usize| built.layers[at].z1.value - built.layers[at].z0.value;
    assert_figure(thick(0), 10.0 * 45.0 / 46.0);
    assert_figure(thick(1), 17.8);
    assert_figure(thick(2), 18.0 * 45.0 / 46.0);
    assert_figure(built.layers[3].z1.value, 62.8);
    assert_figure(built.joint.unwrap().shoulder.value, 54.8);
    assert!(compiled.findings.iter().any(|finding| finding.code.name == "made/stack-off"));
}

#[test]
fn the_way_out_of_a_stack_that_is_off_leads_back() {
    let text = boxed("joint tenon { long 8 }\n made { ring 2 thick 16.5 }");
    let (_, compiled) = compile_text(&text);
    let finding = compiled.findings.iter().find(|finding| finding.code.name == "made/stack-off").unwrap();
    assert!(finding.help.as_ref().unwrap().contains("body.ring-3 19.50 mm"), "{finding:?}");
    assert!(codes(&text.replace("thick 16.5", "thick 16.5  ring 3 thick 19.5")).is_empty());
}

#[test]
fn a_joint_says_what_is_missing() {
    for (more, code) in [
        ("joint inset { on body  long 8 }", "word/unknown"),
        ("joint tenon { turns 2 }", "word/unknown"),
        ("joint tenon { fit tight }", "word/unknown"),
        ("lives 35%rh", "word/wrong-kind"),
        ("lives 2%rh .. 50%rh", "quantity/out-of-range"),
        ("joint thread { starts 0 }", "quantity/out-of-range"),
        ("parted kerf 2", "word/missing"),
        ("made { tenon diameter 70 }", "made/unknown"),
        ("made { body thick 4 }", "word/unknown"),
    ] {
        assert!(codes(&boxed(more)).contains(&code), "{more}: {:?}", codes(&boxed(more)));
    }
    // A joint that cannot be read raises no alarm over heights that nobody can know.
    assert_eq!(codes(&boxed("joint tenon { fit tight }")), ["word/unknown"]);
}

#[test]
fn a_joint_without_room_is_told_alone_and_its_way_out_leads_out() {
    for more in [
        "joint tenon { long 200 }",
        "joint tenon { on lid  long 200 }",
        "joint inset { long 100 }",
        "joint thread { turns 50 }",
    ] {
        let found = codes(&boxed(more));
        assert!(!found.is_empty() && found.iter().all(|code| *code == "joint/no-room"), "{more}: {found:?}");
    }
    // A lid that is a disc of 10: over a mortise 0.75 deeper than the tenon is long, the least wall of 3 stays.
    let text = |long: &str, height: f64| {
        straight(
            height,
            "disc walnut thick 10   repeat 3 { ring maple }",
            "disc walnut thick 10",
            &format!("joint tenon {{ long {long} }}"),
        )
    };
    let (_, compiled) = compile_text(&text("8", 66.0));
    assert!(compiled.findings[0].help.as_ref().unwrap().contains("`long 6.2 mm` or less"), "{:?}", compiled.findings);
    assert!(codes(&text("6.2", 67.8)).is_empty(), "{:?}", codes(&text("6.2", 67.8)));
}

/// The same box in inches and in millimeters: the same joint, to the last figure.
#[test]
fn twins_in_inches_and_millimeters() {
    let recipe = |units: &str, length: &dyn Fn(f64) -> String| {
        let l = length;
        format!(
            "units {units}\nvessel \"Twin\" {{\n lives 35%rh .. 60%rh\n outside smooth {{ at 0 diameter {}  at {} diameter {}  at {} diameter {} }}\n \
             wall {}\n floor {}\n top {}\n every ring {{ segments 12  thick {} }}\n body {{ disc walnut thick {}  repeat 3 {{ ring maple }} }}\n \
             lid {{ ring maple  disc walnut thick {} }}\n joint thread {{ pitch {}  turns 2  long {}  fit {} }}\n}}\n",
            l(3.5),
            l(1.5),
            l(4.0),
            l(3.75),
            l(3.25),
            l(0.5),
            l(0.5),
            l(0.5),
            l(0.75),
            l(0.5),
            l(0.5),
            l(0.0625),
            l(0.25),
            l(0.012)
        )
    };
    let inches = joint(&recipe("in", &|length| format!("{length}")));
    let millimeters = joint(&recipe("mm", &|length| format!("{}", length * 25.4)));
    for of in [
        |joint: &LidJoint| joint.tenon.value,
        |joint: &LidJoint| joint.mortise.value,
        |joint: &LidJoint| joint.shoulder.value,
        |joint: &LidJoint| joint.mortise_wall.value,
        |joint: &LidJoint| joint.tenon_wall.value,
        |joint: &LidJoint| joint.thread.unwrap().root.value,
        |joint: &LidJoint| joint.seasons.unwrap().clearance[1].value,
    ] {
        assert!((of(&inches) - of(&millimeters)).abs().mm() < 1e-9);
    }
}

#[test]
fn the_turning_sheet_of_a_lidded_box() {
    let text = boxed("joint thread { pitch 16 tpi  turns 3  long 8 }\n lives 35%rh .. 60%rh");
    let (world, compiled) = compile_text(&text);
    let design = compiled.complete().unwrap_or_else(|| panic!("{:?}", said(&world, &compiled)));
    let documents = output::documents(&design, &world);
    let page = documents.iter().find(|document| document.name == "turning.md").unwrap();
    let page = String::from_utf8(page.bytes.clone()).unwrap();
    let joint = page.split("## Depth").nth(1).and_then(|rest| rest.split("## Mind").next()).unwrap();
    insta::assert_snapshot!("turning-of-a-lidded-box", joint);
}

#[test]
fn the_design_tells_joint_and_parting_within_its_schema() {
    let schema: serde_json::Value = serde_json::from_str(&output::schema()).unwrap();
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    let parted = "disc walnut thick 10  repeat 4 { ring maple thick 18.4 }  disc walnut thick 10";
    for text in [
        boxed("joint thread { pitch 16 tpi  turns 3  long 8 }\n lives 35%rh .. 60%rh"),
        straight(84.0, parted, "", "parted at 52  kerf 1.6  \n joint tenon { long 8 }"),
        boxed("joint tenon { long 8 }\n made { ring 2 thick 18 }"),
    ] {
        let (world, compiled) = compile_text(&text);
        let documents = output::documents(&compiled.complete().unwrap(), &world);
        let json = documents.iter().find(|document| document.name == "design.json").unwrap();
        let design: serde_json::Value = serde_json::from_slice(&json.bytes).unwrap();
        let wrong: Vec<String> = validator.iter_errors(&design).map(|error| error.to_string()).collect();
        assert!(wrong.is_empty(), "{wrong:?}");
        let (told, joint) = (&design["joints"][0], compiled.vessel.as_ref().unwrap().joint.as_ref().unwrap());
        assert_eq!(told["tenon_diameter_mm"].as_f64(), Some(joint.tenon.value.mm()));
        assert_eq!(told["walls_mm"][1].as_f64(), Some(joint.tenon_wall.value.mm()));
        assert_eq!(told["thread"].is_object(), joint.thread.is_some());
        assert_eq!(design["turning"]["parting"].is_object(), compiled.vessel.as_ref().unwrap().parting.is_some());
    }
}

#[test]
fn floor_and_top_follow_the_layers_that_were_made() {
    // The floor's disc came out thin and the lid's ring thick: hollowing goes by the glue lines, and no ring must be solid.
    let text =
        boxed("joint tenon { long 8 }\n made { disc 1 thick 9.4   ring 2 thick 18.6  \n lid { ring 1 thick 18.5 } }");
    let compiled = clean(&text);
    let vessel = compiled.vessel.unwrap();
    assert_figure(vessel.cavity_bottom.value, 9.4);
    let under_the_top = vessel.layers.iter().rfind(|layer| layer.id == "lid.ring-1").unwrap().z1.value;
    assert_figure(vessel.cavity_top.value, under_the_top.mm());
}

/// An inset lid that is drawn as wide as the body is turned to the recess: so is its surface, by hand.
#[test]
fn the_surface_is_that_of_the_lid_that_is_turned() {
    let text = "units mm\nvessel \"Inset\" {\n  outside { at 0 diameter 90   at 84 diameter 90 }\n  wall 12\n  floor 10\n  top 10\n  \
        every ring { segments 12  thick 18 }\n  body { disc walnut thick 10   repeat 3 { ring maple } }\n  \
        lid { ring maple   disc walnut thick 10 }\n  joint inset { long 8 }\n}\n";
    let (_, compiled) = compile_text(text);
    let vessel = compiled.vessel.unwrap();
    let lid = vessel.joint.as_ref().unwrap().tenon.value.mm() / 2.0;
    let pi = std::f64::consts::PI;
    let outside = 2.0 * pi * 45.0 * 64.0 + pi * (45.0 * 45.0 - lid * lid) + 2.0 * pi * lid * 20.0 + pi * lid * lid;
    let cavity = 2.0 * pi * 33.0 * 64.0 + 2.0 * pi * 33.0 * 33.0;
    let whole = outside + pi * 45.0 * 45.0 + cavity;
    assert!((vessel.finish_area.value.mm2() - whole).abs() < 1e-6 * whole, "{}", vessel.finish_area.value.mm2());
}

/// A lid's `fill` reaches its height on the closed vessel, whether the joint is said before it or after.
#[test]
fn a_lids_fill_knows_its_joint() {
    let joint = "joint tenon { on body long 8 }";
    let text = |before: &str, after: &str| {
        format!(
            "units mm\nvessel \"Jar\" {{\n  outside {{ at 0 diameter 100   at 74 diameter 100 }}\n  wall 14\n  floor 10\n  top 10\n  \
             every ring {{ segments 12  thick 18 }}\n  {before}\n  body {{ disc walnut thick 10   fill to 46 {{ ring cherry }} }}\n  \
             lid {{ fill to 64 {{ ring cherry }}   disc maple thick 10 }}\n  {after}\n}}\n"
        )
    };
    for text in [text(joint, ""), text("", joint)] {
        let (world, compiled) = compile_text(&text);
        assert!(!said(&world, &compiled).iter().any(|(code, ..)| code.starts_with("stack/")));
        let lid: f64 = compiled
            .vessel
            .unwrap()
            .layers
            .iter()
            .filter(|layer| layer.part == PartKind::Lid && layer.id.contains("ring"))
            .map(|layer| layer.z1.value.mm() - layer.z0.value.mm())
            .sum();
        assert!((lid - 26.0).abs() < 1e-9, "{lid}");
    }
}
