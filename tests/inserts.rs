//! Holes for inserts against the solid itself: a drill that is pushed in until a point of it comes out.

#![allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use crate::support::{compile_text, said};
use ringwright::geometry::Vessel;
use ringwright::output;
use ringwright::quantity::Length;

/// Lidded, round on all sides, with whatever stands in `inserts`.
fn jar(inserts: &str) -> String {
    jar_of([70, 96, 90, 40], 16, inserts)
}

/// The same with these diameters and this wall.
fn jar_of([foot, belly, shoulder, top]: [u32; 4], wall: u32, inserts: &str) -> String {
    format!(
        "units mm\nvessel \"Jar\" {{\n  outside smooth {{ at 0 diameter {foot}   at 30 diameter {belly}   at 62 diameter {shoulder}   at 80 diameter {top} }}\n  \
         wall {wall}\n  floor 16\n  top 22\n  every ring {{ segments 12  thick 18 }}\n  body {{ disc walnut thick 16   repeat 2 {{ ring maple }} }}\n  \
         lid {{ disc walnut thick 28 }}\n{inserts}}}\n"
    )
}

fn vessel(text: &str) -> Vessel {
    let (world, compiled) = compile_text(text);
    assert!(!compiled.has_errors(), "{:?}", said(&world, &compiled));
    compiled.vessel.unwrap()
}

/// Whether a point of the closed vessel's wood, `along` the axis and `off` it.
fn is_wood(vessel: &Vessel, along: f64, off: f64) -> bool {
    let z = Length::from_mm(along);
    let within = |low: f64, high: f64| along > low && along < high;
    let cavity = within(vessel.cavity_bottom.value.mm(), vessel.cavity_top.value.mm());
    within(0.0, vessel.height.value.mm())
        && off < vessel.outside.above(z).mm()
        && !(cavity && off < vessel.inside.above(z).mm())
}

/// The depth at which the first point of a drill on the axis comes out of the wood again; where the
/// surface is hollow the drill's middle starts in the air.
fn first_out(vessel: &Vessel, rim: f64, radius: f64, direction: f64) -> f64 {
    let step = 0.005;
    let out_at = |off: f64| {
        let depths = (0..20_000).map(|i| 0.001 + step * f64::from(i));
        let mut in_wood = depths.skip_while(|depth| !is_wood(vessel, rim + direction * depth, off));
        in_wood.find(|depth| !is_wood(vessel, rim + direction * depth, off)).unwrap_or(f64::INFINITY)
    };
    (0..=60).map(|i| out_at(radius * f64::from(i) / 60.0)).fold(f64::INFINITY, f64::min)
}

#[test]
fn what_is_left_on_the_axis_is_what_a_drill_finds() {
    // Seat, and which way the drill goes.
    let seats = [("lid top", -1.0), ("lid inside", 1.0), ("body base", 1.0), ("body inside", -1.0)];
    for (shape, wall) in [([70, 96, 90, 40], 16), ([60, 110, 70, 16], 12), ([30, 100, 96, 30], 20)] {
        for ((into, direction), across) in seats.into_iter().flat_map(|seat| [8, 20, 28].map(|across| (seat, across))) {
            let plug = format!("  insert round {{ wood olive  into {into}  plug diameter {across} thick 3 }}\n");
            let built = vessel(&jar_of(shape, wall, &plug));
            let insert = &built.inserts[0];
            let found = first_out(&built, insert.rim.mm(), f64::from(across) / 2.0, direction);
            let told = insert.left.value.mm() + insert.hole_depth.value.mm();
            assert!((found - told).abs() < 0.02, "{into} {across} of {shape:?}: a drill finds {found}, told {told}");
        }
    }
}

#[test]
fn what_is_left_of_a_wall_is_what_a_level_drill_finds() {
    let text = jar("  insert pin { wood olive  into body side at 25  tenon diameter 8 long 8 }\n");
    let built = vessel(&text);
    let insert = &built.inserts[0];
    let start = built.outside.above(Length::from_mm(25.0)).mm();
    let radius = insert.hole_diameter.value.mm() / 2.0;
    let comes_out = |depth: f64| {
        (0..60).flat_map(|i| (0..60).map(move |j| (i, j))).any(|(i, j)| {
            let turn = std::f64::consts::TAU * f64::from(i) / 60.0;
            let off = radius * f64::from(j) / 59.0;
            let (aside, up) = (off * turn.cos(), off * turn.sin());
            let z = Length::from_mm(25.0 + up);
            (start - depth).hypot(aside) < built.inside.above(z).mm()
        })
    };
    let mut depth = 1.0;
    while !comes_out(depth) {
        depth += 0.005;
    }
    let told = insert.left.value.mm() + insert.hole_depth.value.mm();
    assert!((depth - told).abs() < 0.05, "a drill finds {depth}, told {told}");
}

#[test]
fn a_hole_that_may_be_just_so_deep_may_not_be_deeper() {
    let deep = |deep: f64| {
        jar(&format!("  insert knob {{ wood olive  into lid top  tenon diameter 12 long 4  hole deep {deep} }}\n"))
    };
    let built = vessel(&deep(6.0));
    let thickness = built.inserts[0].left.value.mm() + 6.0;
    let codes = |text: &str| {
        let (_, compiled) = compile_text(text);
        compiled.findings.iter().map(|finding| finding.code.name).collect::<Vec<_>>()
    };
    assert!(codes(&deep(thickness + 0.001)).contains(&"insert/through"));
    assert!(codes(&deep(thickness - 0.001)).contains(&"insert/thin-left"));
    assert!(!codes(&deep(thickness - 4.001)).contains(&"insert/thin-left"));
}

#[test]
fn without_facing_a_side_hole_lies_in_the_middle_of_a_segment() {
    for at in [25.0, 43.0] {
        let text = jar(&format!("  insert pin {{ wood olive  into body side at {at}  tenon diameter 6 long 8 }}\n"));
        let (_, compiled) = compile_text(&text);
        assert!(!compiled.findings.iter().any(|finding| finding.code.name == "insert/on-a-joint"), "{at}");
        let facing = compiled.vessel.unwrap().inserts[0].facing.unwrap().degrees();
        // Rings of 12: middles lie 15° from joints, and those on multiples of 15°.
        assert!((facing / 15.0 - (facing / 15.0).round()).abs() < 1e-9, "{facing}");
    }
}

/// A drum 100 mm across of rings of 12, 15 mm thick; the second lies from 30 to 45 mm, with joints on 15°, 45° …
fn drum(inserts: &str) -> Vec<&'static str> {
    crate::support::codes(&format!(
        "units mm\nvessel \"Drum\" {{\n  outside {{ at 0 diameter 100   at 60 diameter 100 }}\n  wall 16\n  floor 15\n  every ring {{ thick 15 }}\n  \
         body {{ disc walnut thick 15   repeat 3 {{ ring maple }} }}\n{inserts}}}\n"
    ))
}

#[test]
fn a_side_hole_keeps_half_its_width_and_two_millimeters_from_joints_and_glue_lines() {
    let pin = |at: f64, facing: f64| {
        drum(&format!(
            "  insert pin {{ wood olive  into body side at {at} facing {facing}deg  tenon diameter 8 long 9 }}\n"
        ))
    };
    // 4 + 2 mm on a radius of 50 mm are 6.8755°.
    for (off, is_told) in [(0.0, true), (6.87, true), (6.88, false), (15.0, false), (23.12, false), (23.13, true)] {
        assert_eq!(pin(37.5, 15.0 + off).contains(&"insert/on-a-joint"), is_told, "{off}° from a joint");
    }
    for (at, is_told) in [(35.9, true), (36.1, false), (38.9, false), (39.1, true), (45.0, true)] {
        assert_eq!(pin(at, 30.0).contains(&"insert/near-glue-line"), is_told, "at {at}");
    }
}

#[test]
fn holes_that_share_wood_are_told_and_others_are_not() {
    let side = |name: &str, at: f64, facing: f64| {
        format!(
            "  insert {name} {{ wood olive  into body side at {at} facing {facing}deg  tenon diameter 8 long 9 }}\n"
        )
    };
    let base = |name: &str, across: u32, thick: u32| {
        format!("  insert {name} {{ wood olive  into body base  plug diameter {across} thick {thick} }}\n")
    };
    for (first, second, is_told) in [
        // Side by side: 8 mm on a radius of 50 mm are 9.167°.
        (side("a", 37.5, 30.0), side("b", 37.5, 39.1), true),
        (side("a", 37.5, 30.0), side("b", 37.5, 39.3), false),
        (side("a", 37.5, 355.0), side("b", 37.5, 3.0), true),
        (side("a", 37.5, 30.0), side("b", 45.0, 30.0), true),
        (side("a", 37.5, 30.0), side("b", 46.0, 30.0), false),
        // One in the other: the narrower later.
        (base("a", 40, 6), base("b", 20, 6), false),
        (base("a", 20, 6), base("b", 40, 6), true),
        (base("a", 85, 8), side("b", 10.0, 30.0), true),
        (base("a", 40, 8), side("b", 10.0, 30.0), false),
    ] {
        assert_eq!(drum(&(first.clone() + &second)).contains(&"insert/overlap"), is_told, "{first}{second}");
    }
}

#[test]
fn bits_are_of_the_recipes_own_scale() {
    let hole = |units: &str, tenon: &str| {
        let text = format!(
            "units {units}\nvessel \"Drum\" {{\n  outside {{ at 0 mm diameter 100 mm   at 60 mm diameter 100 mm }}\n  wall 16 mm\n  floor 15 mm\n  \
             every ring {{ thick 15 mm }}\n  body {{ disc walnut thick 15 mm   repeat 3 {{ ring maple }} }}\n  \
             insert knob {{ wood olive  into body inside  tenon diameter {tenon} long 5 mm }}\n}}\n"
        );
        vessel(&text).inserts[0].hole_diameter.value.mm()
    };
    // Not 13 mm for half an inch, not 3/8 in for 10 mm: half a millimeter of play holds nothing (common practice).
    for (units, tenon, across) in [("in", "1/2", 12.7), ("in", "3/8", 9.525), ("mm", "10", 10.0), ("mm", "11", 11.0)] {
        assert!((hole(units, tenon) - across).abs() < 1e-9, "{tenon} {units}");
    }
}

/// One line or several, in any order: the same insert.
#[test]
fn an_insert_reads_the_same_on_one_line_and_on_several() {
    let one = jar(
        "  insert knob { wood olive  into lid top  tenon diameter 12 long 12  shows diameter 25 tall 30  glue hide-hot }\n",
    );
    let several = jar(
        "  insert knob {\n    glue hide-hot\n    shows {\n      tall 30\n      diameter 25\n    }\n    tenon long 12  diameter 12\n    into lid top\n    wood olive\n  }\n",
    );
    let json = |text: &str| {
        let (world, compiled) = compile_text(text);
        let design = compiled.complete().unwrap_or_else(|| panic!("{:?}", said(&world, &compiled)));
        let documents = output::documents(&design, &world);
        let bytes = &documents.iter().find(|document| document.name == "design.json").unwrap().bytes;
        serde_json::from_slice::<serde_json::Value>(bytes).unwrap()["inserts"].clone()
    };
    let (mut one, mut several) = (json(&one), json(&several));
    assert_eq!(one[0]["blank_mm"].as_array().unwrap().len(), 3);
    // The order in which figures are computed may not differ, and what they are must not.
    for inserts in [&mut one, &mut several] {
        inserts[0].as_object_mut().unwrap().remove("workings");
    }
    assert_eq!(one, several);
}

/// Inserts and mounts written in inches and in millimeters are one design.
#[test]
fn inches_and_millimeters_give_the_same_inserts_and_mounts() {
    let recipe = |units: &str, length: &dyn Fn(f64) -> String| {
        let l = length;
        format!(
            "units {units}\nshop {{ bits [{} {} {}]  faceplates [{} {}]  screws {} }}\nvessel \"Twin\" {{\n  \
             outside smooth {{ at {} diameter {}   at {} diameter {}   at {} diameter {} }}\n  wall {}\n  floor {}\n  top {}\n  \
             every ring {{ segments 12  thick {} }}\n  body {{ disc walnut thick {}   repeat 2 {{ ring maple }} }}\n  lid {{ disc walnut thick {} }}\n  \
             insert knob {{ wood olive  into lid top  tenon diameter {} long {}  blank square {} long {} }}\n  \
             insert base {{ wood cherry  into body base  plug diameter {} thick {} }}\n  \
             insert pin {{ wood olive  into body side at {}  tenon diameter {} long {} }}\n  \
             mount body {{ block maple thick {} diameter {}  faceplate {} thick {}  screws {} }}\n}}\n",
            l(0.25),
            l(0.375),
            l(0.5),
            l(3.0),
            l(4.0),
            l(0.75),
            l(0.0),
            l(3.0),
            l(1.5),
            l(4.0),
            l(3.25),
            l(2.5),
            l(0.625),
            l(0.625),
            l(1.0),
            l(0.75),
            l(0.625),
            l(1.125),
            l(0.5),
            l(0.5),
            l(1.25),
            l(3.5),
            l(1.5),
            l(0.125),
            l(1.0),
            l(0.25),
            l(0.3125),
            l(1.0),
            l(3.5),
            l(3.0),
            l(0.25),
            l(0.75),
        )
    };
    let design = |text: &str| {
        let (world, compiled) = compile_text(text);
        let design = compiled.complete().unwrap_or_else(|| panic!("{:?}", said(&world, &compiled)));
        let documents = output::documents(&design, &world);
        let bytes = &documents.iter().find(|document| document.name == "design.json").unwrap().bytes;
        serde_json::from_slice::<serde_json::Value>(bytes).unwrap()
    };
    let inches = design(&recipe("in", &|inches| format!("{inches}")));
    let millimeters = design(&recipe("mm", &|inches| format!("{}", inches * 25.4)));
    let mut compared = 0;
    for key in ["inserts", "mounting"] {
        compare(key, &inches[key], &millimeters[key], &mut compared);
    }
    assert!(compared > 40, "only {compared} numbers compared");
}

fn compare(path: &str, a: &serde_json::Value, b: &serde_json::Value, compared: &mut usize) {
    use serde_json::Value;
    match (a, b) {
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64().unwrap(), b.as_f64().unwrap());
            assert!((a - b).abs() <= 1e-9 * a.abs().max(1.0), "{path}: {a} and {b}");
            *compared += 1;
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len(), "{path}");
            for (at, (a, b)) in a.iter().zip(b).enumerate() {
                compare(&format!("{path}[{at}]"), a, b, compared);
            }
        }
        (Value::Object(a), Value::Object(b)) => {
            assert_eq!(a.keys().collect::<Vec<_>>(), b.keys().collect::<Vec<_>>(), "{path}");
            for (key, a) in a {
                compare(&format!("{path}.{key}"), a, &b[key], compared);
            }
        }
        (a, b) => assert_eq!(a, b, "{path}"),
    }
}

/// What the bench reads of the two recipes with inserts, and how they are held.
#[test]
fn the_pages_of_two_recipes_with_inserts() {
    let workshop = include_str!("../recipes/workshop.vessel");
    let recipes = [
        ("salt-cellar", include_str!("../recipes/salt-cellar.vessel")),
        ("tube-vase", include_str!("../recipes/tube-vase.vessel")),
    ];
    for (name, text) in recipes {
        let (world, compiled) =
            crate::support::compile_files(&[("recipe.vessel", text), ("workshop.vessel", workshop)]);
        assert_eq!(said(&world, &compiled), [], "{name}");
        let design = compiled.complete().unwrap();
        let documents = output::documents(&design, &world);
        let page = |name: &str| {
            let document = documents.iter().find(|document| document.name == name).unwrap();
            String::from_utf8(document.bytes.clone()).unwrap()
        };
        let section = |page: &str, head: &str| {
            let rest = page.split_once(&format!("## {head}\n")).map_or("", |(_, rest)| rest);
            format!("## {head}\n{}", rest.split("\n## ").next().unwrap_or(""))
        };
        let turning = page("turning.md");
        let all = [
            section(&turning, "Mounting"),
            section(&turning, "Inserts"),
            section(&page("cut-list.md"), "Inserts"),
            section(&page("glue-schedule.md"), "After turning"),
        ];
        insta::assert_snapshot!(format!("pages-{name}"), all.join("\n"));
    }
}
