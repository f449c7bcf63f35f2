//! One design written twice: in inches and in millimeters, as it is and scaled. The figures must agree.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use crate::support::{compile_text, said};
use ringwright::output;
use serde_json::Value;

/// A recipe whose every length passes through `length`, in a file of the given units.
fn recipe(units: &str, length: &dyn Fn(f64) -> String) -> String {
    let l = length;
    format!(
        "units {units}\nshop {{ kerf {}  sanding {}  allowance {}  safe-piece {}  hold {}  least-glue {}  least-wall {} }}\n\
         vessel \"Twin\" {{\n  outside smooth {{ at {} diameter {}   at {} diameter {}   at {} diameter {} }}\n  wall {}\n  floor {}\n  \
         every ring {{ segments 12  thick {}  stagger half }}\n  \
         body {{ disc walnut thick {}   ring maple   ring [maple*2 walnut]   ring walnut segments 18 thick {}   ring mirror [maple walnut cherry] }}\n  \
         lid {{ ring [walnut maple] strip {}   disc walnut thick {} }}\n}}\n",
        l(0.125),
        l(0.0156),
        l(0.125),
        l(0.5),
        l(6.0),
        l(0.2),
        l(0.1),
        l(0.0),
        l(4.0),
        l(1.75),
        l(4.875),
        l(4.5),
        l(3.5),
        l(0.4),
        l(0.5),
        l(0.75),
        l(0.5),
        l(0.25),
        l(1.5),
        l(0.75),
    )
}

fn design(text: &str) -> Value {
    let (world, compiled) = compile_text(text);
    let design = compiled.complete().unwrap_or_else(|| panic!("{:?}", said(&world, &compiled)));
    let documents = output::documents(&design, &world);
    let json = documents.iter().find(|document| document.name == "design.json").expect("a design");
    serde_json::from_slice(&json.bytes).expect("JSON")
}

/// Compares all numbers, each scaled by the power of `scale` that its key's unit asks for.
fn compare(path: &str, a: &Value, b: &Value, scale: f64, within: f64, compared: &mut usize) {
    match (a, b) {
        (Value::Number(a), Value::Number(b)) => {
            let power = if path.ends_with("_mm") || path.contains("_mm[") || path.contains("_mm.") {
                1
            } else if path.ends_with("_mm2") {
                2
            } else if ["_cm3", "_ml", "_g", "board_feet"].iter().any(|unit| path.ends_with(unit)) {
                3
            } else {
                0
            };
            let (a, b) = (a.as_f64().unwrap() * scale.powi(power), b.as_f64().unwrap());
            assert!((a - b).abs() <= within * a.abs().max(b.abs()).max(1e-6), "{path}: {a} and {b}");
            *compared += 1;
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len(), "{path}");
            for (at, (a, b)) in a.iter().zip(b).enumerate() {
                compare(&format!("{path}[{at}]"), a, b, scale, within, compared);
            }
        }
        (Value::Object(a), Value::Object(b)) => {
            assert_eq!(a.keys().collect::<Vec<_>>(), b.keys().collect::<Vec<_>>(), "{path}");
            for (key, a) in a {
                compare(&format!("{path}.{key}"), a, &b[key], scale, within, compared);
            }
        }
        (a, b) => assert_eq!(a, b, "{path}"),
    }
}

fn compare_designs(a: &Value, b: &Value, scale: f64, within: f64) {
    let mut compared = 0;
    for part in ["totals", "woods", "parts", "cut_list"] {
        compare(part, &a[part], &b[part], scale, within, &mut compared);
    }
    assert!(compared > 300, "only {compared} numbers compared");
}

#[test]
fn inches_and_millimeters_give_one_design() {
    let inches = design(&recipe("in", &|inches| format!("{inches}")));
    let millimeters = design(&recipe("mm", &|inches| format!("{}", inches * 25.4)));
    compare_designs(&inches, &millimeters, 1.0, 1e-9);
    let unlike = design(&recipe("mm", &|inches| format!("{inches} in")));
    compare_designs(&inches, &unlike, 1.0, 1e-9);
    // The clock of the glue-ups does not know the unit either.
    let mut compared = 0;
    compare("glue_schedule", &inches["glue_schedule"], &millimeters["glue_schedule"], 1.0, 1e-9, &mut compared);
    assert!(compared > 20);
}

#[test]
fn a_scaled_recipe_gives_a_scaled_design() {
    let small = design(&recipe("mm", &|inches| format!("{}", inches * 25.4)));
    let large = design(&recipe("mm", &|inches| format!("{}", inches * 25.4 * 3.0)));
    // The inside keeps to the true offset within a fixed 1e-6 mm, which does not scale along.
    compare_designs(&small, &large, 3.0, 1e-6);
}

#[test]
fn a_mirrored_outside_needs_mirrored_rings() {
    // Only the outside counts here: with a wall so thick that no ring is hollowed by its neighbor's slope.
    let up = "at 0 diameter 80   at 40 diameter 110   at 120 diameter 90";
    let down = "at 0 diameter 90   at 80 diameter 110   at 120 diameter 80";
    let rings = |points: &str| {
        let text = format!(
            "units mm\nvessel \"Mirror\" {{ outside smooth {{ {points} }} wall 8 floor 20\n every ring {{ thick 20 }}\n \
             body {{ disc maple thick 20   repeat 5 {{ ring maple }} }} }}"
        );
        let (world, compiled) = compile_text(&text);
        assert!(!compiled.has_errors(), "{:?}", said(&world, &compiled));
        let layers = compiled.vessel.expect("geometry").layers;
        layers.iter().map(|layer| (layer.outer_radius.value.mm(), layer.inner_radius.value.mm())).collect::<Vec<_>>()
    };
    let (up, mut down) = (rings(up), rings(down));
    down.reverse();
    for (at, (a, b)) in up.iter().zip(&down).enumerate() {
        assert!((a.0 - b.0).abs() < 1e-6, "outside of layer {at}: {a:?} {b:?}");
        // The floor makes the lowest layer solid; the mirrored vessel has its rim there.
        if at > 0 && at < 5 {
            assert!((a.1 - b.1).abs() < 1e-3, "inside of layer {at}: {a:?} {b:?}");
        }
    }
}
