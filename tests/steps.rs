//! A step of the outside, all the way to the calipers, and several rings that one strip is too narrow for.

use crate::support::{compile_text, said};
use ringwright::finding::Severity;

const STEPPED: &str = "units mm\nvessel \"Stepped\" {\n  outside { at 0 diameter 90   at 46 diameter 90   at 46 diameter 104   at 100 diameter 104 }\n  \
                       wall 9\n  floor 10\n  every ring { segments 12  thick 18 }\n  \
                       body { disc walnut thick 10   repeat 5 { ring maple } }\n}\n";

#[test]
fn a_step_has_two_stations_with_the_diameters_that_are_turned() {
    let (world, compiled) = compile_text(STEPPED);
    assert!(!compiled.has_errors(), "{:?}", said(&world, &compiled));
    let plan = compiled.plan.expect("a plan");
    let at_step: Vec<f64> = plan
        .turning
        .stations
        .iter()
        .filter(|station| (station.z.mm() - 46.0).abs() < 1e-9)
        .map(|station| station.outer_radius.mm() * 2.0)
        .collect();
    assert_eq!(at_step.len(), 2);
    assert!((at_step[0] - 90.0).abs() < 1e-9 && (at_step[1] - 104.0).abs() < 1e-9, "{at_step:?}");
}

#[test]
fn the_advice_for_several_rings_serves_the_worst_of_them() {
    // The wall leans, so every ring needs another width; the advice must do for all of them.
    let leaning = |strip: &str| {
        format!(
            "units in\nvessel \"Leaning\" {{\n  outside {{ at 0 diameter 4   at 4 diameter 6 }}\n  wall 3/8\n  floor 1\n  \
             every ring {{ segments 12  thick 3/4  {strip} }}\n  body {{ disc walnut thick 1   repeat 4 {{ ring maple }} }}\n}}\n"
        )
    };
    let (_, compiled) = compile_text(&leaning("strip 5/8"));
    let finding =
        compiled.findings.iter().find(|finding| finding.code.name == "ring/does-not-cover").expect("too narrow");
    assert!(finding.message.ends_with("; 3 more like it"), "{}", finding.message);
    let help = finding.help.clone().expect("a way out");
    let width = help.strip_prefix("use a strip of ").and_then(|rest| rest.split('"').next()).expect("a width");
    let (world, mended) = compile_text(&leaning(&format!("strip {width}\"")));
    let still: Vec<_> = mended.findings.iter().filter(|finding| finding.severity() != Severity::Note).collect();
    assert!(still.is_empty(), "{:?}", said(&world, &mended));
}
