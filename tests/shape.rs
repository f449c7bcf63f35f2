//! Outlines through the whole compiler: the same shape written in several ways, known solids, and what is said of
//! lines that make no shape.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]
#![allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]

use std::f64::consts::PI;

use crate::support::{compile_text, said};
use ringwright::geometry::Vessel;

/// A vessel 100 mm high in five rings of 18 mm on a disc of 10 mm.
fn recipe(units: &str, shape: &str) -> String {
    format!(
        "units {units}\nvessel \"Shape\" {{\n  {shape}\n  every ring {{ segments 12  thick 18 mm }}\n  \
         body {{ disc walnut thick 10 mm   repeat 5 {{ ring maple }} }}\n}}\n"
    )
}

#[track_caller]
fn vessel(units: &str, shape: &str) -> Vessel {
    let (world, compiled) = compile_text(&recipe(units, shape));
    assert!(!compiled.has_errors(), "{:?}", said(&world, &compiled));
    compiled.vessel.expect("geometry")
}

#[track_caller]
fn assert_same(a: &Vessel, b: &Vessel) {
    let near = |a: f64, b: f64| assert!((a - b).abs() <= 1e-9 * a.abs().max(1.0), "{a} and {b}");
    near(a.capacity.value.mm3(), b.capacity.value.mm3());
    near(a.finish_area.value.mm2(), b.finish_area.value.mm2());
    assert_eq!(a.layers.len(), b.layers.len());
    for (a, b) in a.layers.iter().zip(&b.layers) {
        near(a.outer_radius.value.mm(), b.outer_radius.value.mm());
        near(a.inner_radius.value.mm(), b.inner_radius.value.mm());
        near(a.finished_volume.value.mm3(), b.finished_volume.value.mm3());
    }
}

#[track_caller]
fn assert_capacity(vessel: &Vessel, mm3: f64) {
    let got = vessel.capacity.value.mm3();
    assert!((got / mm3 - 1.0).abs() < 1e-6, "{got}, not {mm3}");
}

#[test]
fn a_path_and_its_points_are_one_shape() {
    let points = vessel(
        "mm",
        "outside { at 0 diameter 80  at 40 diameter 110  at 40 diameter 100  at 100 diameter 90 } wall 8 floor 10",
    );
    assert_same(&points, &vessel("mm", "outside path \"M 40 0 L 55 40 H 50 L 45 100\"  wall 8  floor 10"));
    assert_same(&points, &vessel("mm", "outside path \"m40,0 l15 40 h-5 l-5 60\"  wall 8  floor 10"));
}

#[test]
fn inches_and_millimeters_draw_one_shape() {
    let parts = |l: &dyn Fn(f64) -> String, d: &dyn Fn(f64) -> String| {
        format!(
            "outside path \"M {} 0 C {} {} {} {} {} {} V {}\" {{ foot diameter {} tall {}   bead at {} tall {}   cove at {} tall {} deep {} }}\n  \
             wall {} at base .. {} at rim\n  floor {}",
            d(1.5),
            d(2.5),
            d(0.5),
            d(2.25),
            d(1.5),
            d(2.0),
            d(2.0),
            d(100.0 / 25.4),
            l(2.5),
            l(0.25),
            l(2.5),
            l(0.25),
            l(3.0),
            l(0.3),
            l(0.1),
            l(0.4),
            l(0.3),
            l(10.0 / 25.4)
        )
    };
    let inches = vessel("in", &parts(&|inches| format!("{inches}"), &|inches| format!("{inches}")));
    let metric = |inches: f64| format!("{}", inches * 25.4);
    assert_same(&inches, &vessel("mm", &parts(&metric, &metric)));
    let unlike = vessel("mm", &parts(&|inches| format!("{inches} in"), &metric));
    assert_same(&inches, &unlike);
}

#[test]
fn a_tapering_wall_leaves_a_cone() {
    // Radius 45, wall 9 at the base and 5 at the rim over 100: the inside is a line (45 − T(z) / √(1 − 0.04²)).
    let tapered = vessel("mm", "outside { at 0 diameter 90  at 100 diameter 90 } wall 9 at base .. 5 at rim floor 10");
    let inside = |z: f64| 45.0 - (9.0 - 0.04 * z) / (1.0_f64 - 0.0016).sqrt();
    let (a, b) = (inside(10.0), inside(100.0));
    assert_capacity(&tapered, PI * 90.0 / 3.0 * (a * a + a * b + b * b));
    assert!((tapered.layers[1].inner_radius.value.mm() - a).abs() < 1e-9);
    let even = "outside { at 0 diameter 90  at 100 diameter 90 } wall 9 floor 10";
    assert_same(&vessel("mm", even), &vessel("mm", &even.replace("wall 9", "wall 9 at base .. 9 at rim")));
}

#[test]
fn an_inside_of_its_own_is_taken_as_it_is_written() {
    let outside = "outside { at 0 diameter 90  at 100 diameter 90 }";
    let cone = vessel("mm", &format!("{outside}\n  inside {{ at 10 diameter 60  at 100 diameter 78 }}"));
    assert_capacity(&cone, PI * 90.0 / 3.0 * (30.0 * 30.0 + 30.0 * 39.0 + 39.0 * 39.0));
    let path = vessel("mm", &format!("{outside}\n  inside path \"M 30 10 L 39 100\"\n  floor 10"));
    assert_same(&cone, &path);
    // Written as the wall would leave it, it is the same vessel.
    let wall = vessel("mm", &format!("{outside}\n  wall 7\n  floor 10"));
    assert_same(&wall, &vessel("mm", &format!("{outside}\n  inside {{ at 10 diameter 76  at 100 diameter 76 }}")));
}

#[test]
fn moldings_and_foot_add_what_they_are() {
    let plain = "outside { at 0 diameter 90  at 100 diameter 90";
    let wood = |more: &str| {
        let layers =
            vessel("mm", &format!("{plain}\n {more}\n }} inside {{ at 10 diameter 60  at 100 diameter 60 }}")).layers;
        layers.iter().map(|layer| layer.finished_volume.value.mm3()).sum::<f64>()
    };
    let base = wood("");
    let near = |got: f64, wanted: f64| assert!((got - wanted).abs() < 1e-6 * wanted.abs(), "{got}, not {wanted}");
    // Half a disk of radius 4 round a circle of radius 45: π² q² R ± 4/3 π q³.
    near(wood("bead at 80 tall 8") - base, PI * PI * 16.0 * 45.0 + 4.0 / 3.0 * PI * 64.0);
    near(wood("cove at 80 tall 8") - base, -(PI * PI * 16.0 * 45.0 - 4.0 / 3.0 * PI * 64.0));
    near(wood("foot diameter 70 tall 6") - base, PI * (35.0 * 35.0 - 45.0 * 45.0) * 6.0);
    near(wood("foot diameter 100 tall 6") - base, PI * (50.0 * 50.0 - 45.0 * 45.0) * 6.0);
}

#[test]
fn what_is_said_of_lines_that_make_no_shape() {
    let outside = "outside { at 0 diameter 90  at 100 diameter 90 }";
    let of = |line: &str| format!("outside {{ at 0 diameter 90\n {line}\n at 100 diameter 90 }} wall 9 floor 10");
    let walled = |wall: &str| format!("{outside} {wall} floor 10");
    let inside = |inside: &str| format!("{outside} {inside}");
    let rows: Vec<(String, &str, &str)> = vec![
        (of("at 50 diameter 90 straight smooth"), "word/twice", "said to be both `straight` and `smooth`"),
        (of("at 50 diameter 90 round"), "word/missing", "`round` wants a length"),
        (of("bead tall 4"), "word/missing", "`bead` wants `at` and a height"),
        (of("bead at"), "word/missing", "`bead` wants `at` and a height"),
        (of("bead at 50"), "word/missing", "`bead` lacks `tall`"),
        (of("bead at 50 tall 4 deep 1"), "word/unknown", "`bead` has no `deep`"),
        (of("foot tall 4"), "word/missing", "`foot` lacks `diameter`"),
        (of("foot diameter 80 tall 4\n foot diameter 70 tall 3"), "word/twice", "`foot` is said twice"),
        (of("cove at 97 tall 8"), "shape/detail-does-not-fit", "reaches beyond the curve"),
        (walled("wall 9 at base"), "word/wrong-kind", "one at the base and one at the rim"),
        (walled("wall 9 at rim .. 5 at base"), "word/wrong-kind", "one at the base and one at the rim"),
        (walled("wall 9 at base .. 2 at rim"), "wall/thin", "a wall of 2.00 mm is thinner"),
        (
            walled("wall 9 at base .. 120 at rim"),
            "quantity/out-of-range",
            "changes by 111.0 mm in a height of 100.0 mm",
        ),
        (
            walled("wall 60 at base .. 50 at rim"),
            "wall/thicker-than-radius",
            "60.0 mm at the base and 50.0 mm at the rim",
        ),
        (walled("wall 9  inside { at 10 diameter 60  at 100 diameter 60 }"), "word/twice", "`wall` and `inside` both"),
        (inside("inside { at 10 diameter 60 }"), "shape/too-few-points", "an inside wants two points or more"),
        (inside("inside { at 0 diameter 60  at 100 diameter 60 }"), "quantity/out-of-range", "there is no floor"),
        (
            inside("inside { at 10 diameter 60  at 90 diameter 60 }"),
            "shape/inside-ends",
            "the inside ends at height 90.0 mm; the rim is at 100.0 mm",
        ),
        (
            inside("inside { at 10 diameter 60  at 100 diameter 92 }"),
            "shape/inside-crosses",
            "at height 100.0 mm the inside is 46.0 mm",
        ),
        (
            inside("inside { at 10 diameter 60  at 50 diameter 86  at 100 diameter 60 }"),
            "wall/thin",
            "at height 50.0 mm the inside leaves a wall of 2.00 mm",
        ),
        (
            inside("inside { at 10 diameter 60  at 100 diameter 60\n bead at 50 tall 4 }"),
            "word/unknown",
            "no statement in an inside begins with `bead`",
        ),
        (inside("inside path \"M 30 10 L 30 100\""), "word/missing", "lacks `floor`: an `inside path` begins on it"),
        ("outside path  wall 9 floor 10".to_owned(), "word/missing", "`outside path` wants path data"),
        ("outside smooth  wall 9 floor 10".to_owned(), "word/missing", "`outside` wants a block in braces"),
        ("outside \"M 40 0 L 40 100\"  wall 9 floor 10".to_owned(), "word/extra", "takes a text only behind `path`"),
        (
            "outside path \"M 40 0 L 40 100\" { at 50 diameter 80 }  wall 9 floor 10".to_owned(),
            "word/extra",
            "a point has no place in it",
        ),
        (
            "outside path \"M 40 0 L 40 1e9\"  wall 9 floor 10".to_owned(),
            "quantity/out-of-range",
            "larger than anything",
        ),
    ];
    for (shape, code, words) in rows {
        let (world, compiled) = compile_text(&recipe("mm", &shape));
        let all = said(&world, &compiled);
        let found = all.iter().find(|finding| finding.0 == code && finding.2.contains(words));
        assert!(found.is_some(), "{shape}\n{all:#?}");
        let others: Vec<_> = all.iter().filter(|finding| finding.0.starts_with("word/") && finding.0 != code).collect();
        assert!(others.is_empty(), "{shape}\n{others:#?}");
    }
    let unitless =
        "vessel \"Bare\" { outside path \"M 40 0 L 40 100\"  wall 9 mm  floor 9 mm  body { disc maple thick 100 mm } }";
    let (world, compiled) = compile_text(unitless);
    assert_eq!(said(&world, &compiled)[0].0, "units/missing");
}

#[test]
fn two_pieces_that_use_all_of_it_are_clean() {
    for shape in [
        // A pot with a turned foot, a bead under the shoulder, and a wall that thins toward the rim.
        "outside straight {\n at 0 diameter 84\n at 30 diameter 110 smooth\n at 62 diameter 112 smooth\n at 84 diameter 100 smooth\n \
         at 84 diameter 92 round 2\n at 100 diameter 92\n foot diameter 78 tall 5\n bead at 93 tall 5\n }\n \
         wall 10 at base .. 7 at rim\n floor 10",
        // A drawn outside and a drawn inside.
        "outside path \"M 38 0 H 42 A 60 60 0 0 1 52 48 C 52 70 46 80 46 100\"\n inside smooth { at 10 diameter 56  at 48 diameter 84  at 100 diameter 76 }",
    ] {
        let (world, compiled) = compile_text(&recipe("mm", shape));
        assert!(compiled.findings.is_empty(), "{:#?}", said(&world, &compiled));
    }
}

/// Read in the other system it is a thimble or a pond, and the finding says what it would be.
#[test]
fn a_slip_of_units_is_asked_about() {
    let starter = include_str!("../src/cli/starter.vessel");
    let asked = |text: &str| {
        let (world, compiled) = compile_text(text);
        let told = said(&world, &compiled);
        let found = compiled.findings.iter().find(|finding| finding.code.name == "shape/out-of-scale");
        found.map(|finding| (finding.message.clone(), finding.help.clone().unwrap())).ok_or(told)
    };
    assert!(asked(starter).is_err());
    let (small, help) = asked(&starter.replace("units in", "units mm")).unwrap();
    assert!(small.contains("6.00 mm across") && help.contains("with `units in` it would be 6\""), "{small} {help}");
    let wide = "outside { at 0 diameter 90 at 100 diameter 90 }\n  wall 9\n  floor 10";
    let (large, help) = asked(&recipe("in", wide).replace(" mm", "")).unwrap();
    assert!(large.contains("90\" across") && help.contains("with `units mm` it would be 90.0 mm"), "{large} {help}");
}

/// With a tenon of 6 mm the layers are worth 6 mm less than they measure.
#[test]
fn what_stands_in_the_joint_is_told_where_the_layers_do_not_add_up() {
    let text = "units mm\nvessel \"Tin\" {\n  outside { at 0 diameter 90   at 84 diameter 90 }\n  wall 10\n  floor 9\n  top 9\n  \
                every ring { segments 12  thick 18  stagger half }\n  body { disc walnut thick 9   repeat 3 { ring maple } }\n  \
                lid { ring maple   disc walnut thick 9 }\n  joint tenon { on body  long 6 }\n}\n";
    let (world, compiled) = compile_text(text);
    let told = said(&world, &compiled);
    // 9 + 4 × 18 + 9 = 90, less 6 in the joint.
    assert!(told.iter().all(|(code, ..)| !code.starts_with("stack/")), "{told:?}");
    let (world, compiled) = compile_text(&text.replace("at 84", "at 87"));
    let told = said(&world, &compiled);
    let found = compiled.findings.iter().find(|finding| finding.code.name == "stack/too-short").expect("short");
    assert!(
        found.message.contains("3.00 mm under")
            && found.message.ends_with("; of their 90.0 mm in all, 6.00 mm stand in each other at the lid's joint"),
        "{} {told:?}",
        found.message
    );
}
