//! The phase as a whole: recipes in, vessels and findings out.

mod kinds;

use std::f64::consts::PI;

use proptest::prelude::*;

use super::sample::{WALL_AT, disc, lidded, mm, open, ring, with_ring, written};
use super::{LayerShape, RingShape, Vessel, build};
use crate::finding::{Finding, WithFindings};
use crate::quantity::{Angle, Diameter, Length, Ratio};
use crate::resolve::{Detail, DetailKind, Foot, Layer, OutsideKind, Recipe, Stagger};
use crate::source::{FileId, Span, Spanned};
use crate::workings::{Ledger, Origin};

use OutsideKind::{Smooth, Straight};

fn built(recipe: &Recipe) -> WithFindings<Option<Vessel>> {
    build(recipe, &mut Ledger::new())
}

#[track_caller]
fn clean(recipe: &Recipe) -> Vessel {
    let built = built(recipe);
    assert!(built.findings.is_empty(), "{:#?}", built.findings);
    built.value.expect("a vessel")
}

fn codes(recipe: &Recipe) -> Vec<&'static str> {
    built(recipe).findings.iter().map(|finding| finding.code.name).collect()
}

/// The only finding of a recipe, which has this code.
#[track_caller]
fn only(recipe: &Recipe, code: &str) -> Finding {
    let mut findings = built(recipe).findings;
    assert_eq!(findings.iter().map(|finding| finding.code.name).collect::<Vec<_>>(), [code]);
    findings.remove(0)
}

#[track_caller]
fn assert_near(got: f64, wanted: f64) {
    assert!((got - wanted).abs() <= 1e-9 * wanted.abs().max(1.0), "{got}, not {wanted}");
}

fn ring_of(vessel: &Vessel, layer: usize) -> &RingShape {
    match &vessel.layers[layer].shape {
        LayerShape::Ring(ring) => ring,
        LayerShape::Disc { .. } | LayerShape::Slant(_) => panic!("layer {layer} is a disc"),
    }
}

/// 80 mm across, 57 mm high, wall and floor 8 mm.
fn beaker(layers: Vec<Layer>) -> Recipe {
    open(Straight, &[(0.0, 80.0), (57.0, 80.0)], 8.0, layers)
}

fn stacked() -> Vec<Layer> {
    vec![disc(8.0), ring(12, 24.5), ring(12, 24.5)]
}

#[test]
fn a_beaker_worked_by_hand() {
    let vessel = clean(&beaker(stacked()));
    assert_near(vessel.height.value.mm(), 57.0);
    assert_near(vessel.max_diameter.value.mm(), 80.0);
    assert_near(vessel.capacity.value.mm3(), PI * 32.0 * 32.0 * 49.0);
    let area = 2.0 * PI * (40.0 * 57.0 + 32.0 * 49.0) + PI * (40.0 * 40.0 + 32.0 * 32.0 + 40.0 * 40.0 - 32.0 * 32.0);
    assert_near(vessel.finish_area.value.mm2(), area);

    let floor = &vessel.layers[0];
    assert_eq!(floor.id, "body.disc-1");
    assert_near(floor.inner_radius.value.mm(), 0.0);
    assert_near(floor.finished_volume.value.mm3(), PI * 1600.0 * 8.0);
    assert_near(floor.blank_volume.value.mm3(), PI * 43.0 * 43.0 * 8.8);
    let LayerShape::Disc { wood, blank_diameter, .. } = &floor.shape else { panic!("a disc") };
    assert_eq!(*wood, 1);
    assert_near(blank_diameter.value.mm(), 86.0);

    let wall = &vessel.layers[2];
    let sawn = ring_of(&vessel, 2);
    assert_eq!((wall.id.as_str(), wall.index), ("body.ring-3", 3));
    assert_near(wall.z0.value.mm(), 32.5);
    assert_near(wall.rough_thickness.value.mm(), 25.3);
    assert_near(wall.finished_volume.value.mm3(), PI * (1600.0 - 1024.0) * 24.5);
    // Blank radii 43 and 29, N = 12: w = 43 − 29 cos 15° = 14.98815, L = 86 tan 15° = 23.04363,
    // l = 58 sin 15° = 15.01151, corners at 43 / cos 15° = 44.51688.
    for (got, wanted) in [
        (sawn.needed_width.value, 14.988_15),
        (sawn.strip_width.value, 14.988_15),
        (sawn.cuts[0].long_edge.value, 23.043_63),
        (sawn.cuts[0].short_edge.value, 15.011_51),
        (sawn.corner_radius.value, 44.516_88),
    ] {
        assert!((got.mm() - wanted).abs() < 1e-5, "{} {wanted}", got.mm());
    }
    assert_eq!(sawn.woods, [0; 12]);
    assert_near(vessel.layers[1].rotation.degrees(), 0.0);
    assert_near(wall.rotation.degrees(), 15.0);

    let faces: Vec<(f64, f64)> =
        vessel.contacts.iter().map(|contact| (contact.outer_radius.mm(), contact.inner_radius.mm())).collect();
    assert_eq!(faces.len(), 2);
    for (outer, inner) in faces {
        assert_near(outer, 43.0);
        assert_near(inner, 29.0);
    }
    assert_near(vessel.contacts[0].area.mm2(), PI * (43.0 * 43.0 - 29.0 * 29.0));
}

#[test]
fn a_figure_remembers_the_wall_it_was_made_of() {
    let mut ledger = Ledger::new();
    let vessel = build(&beaker(stacked()), &mut ledger).value.unwrap();
    let Origin::Figure(width) = ring_of(&vessel, 1).needed_width.origin else { panic!("computed") };
    let inner = ledger.inputs_of(width).find(|(name, _)| *name == "inside radius of the blank").unwrap().1.origin;
    let Origin::Figure(inner) = inner else { panic!("computed") };
    let radius = ledger.inputs_of(inner).find(|(name, _)| *name == "least inside radius").unwrap().1.origin;
    let Origin::Figure(radius) = radius else { panic!("computed") };
    let wall = ledger.inputs_of(radius).find(|(name, _)| *name == "wall").unwrap().1;
    assert_eq!(wall.origin, Origin::Written(Span::new(FileId(0), WALL_AT, WALL_AT + 4)));
    assert_near(wall.value, 8.0);
}

#[test]
fn an_extremum_within_a_layer_decides_its_radii() {
    // The widest point, 45, lies within the one ring over the floor; its ends are 40 and 38 in radius.
    let belly = [(0.0, 80.0), (30.0, 90.0), (60.0, 76.0)];
    let vessel = clean(&open(Smooth, &belly, 8.0, vec![disc(8.0), ring(12, 52.0)]));
    assert_near(vessel.layers[1].outer_radius.value.mm(), 45.0);
    assert!(vessel.layers[1].inner_radius.value.mm() < 38.0 - 8.0 + 1e-9);
}

#[test]
fn a_step_on_a_face_spares_the_layer_under_it() {
    let shoulder = [(0.0, 80.0), (20.0, 80.0), (20.0, 100.0), (40.0, 100.0)];
    let vessel = clean(&open(Straight, &shoulder, 10.0, vec![disc(10.0), ring(12, 10.0), ring(12, 20.0)]));
    assert_near(vessel.layers[1].outer_radius.value.mm(), 40.0);
    assert_near(vessel.layers[2].outer_radius.value.mm(), 50.0);
    // Over the shoulder the wall bends round its inner edge (40, 20): 30 at height 20, then outward.
    assert!((vessel.layers[2].inner_radius.value.mm() - 30.0).abs() < 1e-5);
}

#[test]
fn a_ring_in_the_floor_or_the_top_is_an_error_and_a_face_on_their_heights_is_none() {
    let finding = only(&beaker(vec![disc(7.0), ring(12, 25.5), ring(12, 24.5)]), "ring/must-be-solid");
    assert_eq!(finding.message, "a ring from height 7.00 mm to 32.5 mm, where the vessel is solid up to 8.00 mm");
    assert_eq!(
        finding.help.unwrap(),
        "use `disc maple` or `wedges` here, or choose thicknesses so that a ring begins at 8.00 mm"
    );
    // Ten times 0.8 is not 8 in binary, but it is on the bench.
    let mut thin: Vec<Layer> = (0..10).map(|_| disc(0.8)).collect();
    thin.extend([ring(12, 24.5), ring(12, 24.5)]);
    clean(&beaker(thin));

    let lid = |layers| lidded(beaker(vec![disc(8.0), ring(12, 24.5)]), layers);
    assert_eq!(codes(&lid(vec![ring(12, 24.5)])), ["ring/must-be-solid"]);
    clean(&lid(vec![ring(12, 16.5), disc(8.0)]));
}

#[test]
fn a_disc_over_the_floor_is_hollowed_from_a_solid_blank() {
    let vessel = clean(&beaker(vec![disc(20.0), disc(12.5), ring(12, 24.5)]));
    let hollowed = &vessel.layers[1];
    assert_near(hollowed.inner_radius.value.mm(), 32.0);
    assert_near(hollowed.blank_inner_radius.value.mm(), 0.0);
    // The first disc reaches 12 mm over the floor: solid, hollowed from there.
    assert_near(vessel.layers[0].inner_radius.value.mm(), 0.0);
    assert_near(vessel.layers[0].finished_volume.value.mm3(), PI * (1600.0 * 20.0 - 1024.0 * 12.0));
    assert_near(vessel.contacts[0].inner_radius.mm(), 0.0);
}

#[test]
fn a_strip_that_is_there_already_is_checked() {
    let given = |width| {
        let ring = with_ring(ring(12, 24.5), |ring| ring.strip = Some(written(mm(width), 700)));
        beaker(vec![disc(8.0), ring, self::ring(12, 24.5)])
    };
    // N 12, R_o 43: the hole's corners lie at (43 − W) / cos 15°; the wall's inside at 32, blank's at 29.
    clean(&given(15.0));
    let short = only(&given(13.0), "ring/allowance-short");
    assert!(
        short.message.starts_with("a strip of 13.0 mm leaves 0.94 mm of turning allowance inside, 3.00 mm is wanted")
    );
    assert_eq!(short.help.as_deref(), Some("use a strip of 15.0 mm or more"));
    // (43 − 12) / cos 15° = 32.09 > 32.
    let missing = only(&given(12.0), "ring/does-not-cover");
    assert!(missing.message.contains("the hole's corners lie 32.1 mm from the axis"), "{}", missing.message);
    assert!(missing.message.ends_with("so 0.09 mm is missing"), "{}", missing.message);
    assert_eq!(missing.place.span.start, 700);
    assert_eq!(codes(&given(44.0)), ["ring/strip-past-center"]);
    let wide = built(&given(20.0)).value.unwrap();
    // l = L − 2W tan θ, and the hole's corners lie farther in.
    assert_near(ring_of(&wide, 1).cuts[0].short_edge.value.mm(), 2.0 * (43.0 - 20.0) * Angle::from_degrees(15.0).tan());
    assert_near(wide.contacts[1].inner_radius.mm(), 29.0);
}

#[test]
fn a_pattern_shows_its_seam() {
    let of = |motif: &[usize]| {
        beaker(vec![disc(8.0), with_ring(ring(12, 49.0), |ring| ring.pattern.motif = motif.to_vec())])
    };
    let finding = only(&of(&[0, 0, 0, 0, 1]), "pattern/does-not-close");
    assert_eq!(
        finding.message,
        "a pattern of 5 does not close round 12 segments: 2 are left, and at the seam two of `maple` meet"
    );
    assert_eq!(finding.help.as_deref(), Some("10 or 15 segments would close"));
    let vessel = clean(&of(&[0, 0, 1]));
    assert_eq!(ring_of(&vessel, 1).woods, [0, 0, 1, 0, 0, 1, 0, 0, 1, 0, 0, 1]);
    let long: Vec<usize> = (0..14).map(|at| usize::from(at % 3 == 1)).collect();
    assert!(only(&of(&long), "pattern/does-not-close").message.contains("is longer than a ring of 12"));
}

#[test]
fn joints_over_joints_are_told_with_the_way_out() {
    let of = |stagger| {
        let ring = with_ring(ring(12, 24.5), |ring| ring.stagger = written(stagger, 710));
        beaker(vec![disc(8.0), self::ring(12, 24.5), ring])
    };
    let finding = only(&of(Stagger::None), "ring/joints-line-up");
    assert!(finding.message.starts_with("all 12 joints of this ring lie over joints of the ring below"));
    // 15° at the blank's radius of 43 mm.
    assert_eq!(finding.help.as_deref(), Some("`stagger half` would keep them 11.3 mm apart"));
    clean(&of(Stagger::Share(Ratio::of(0.25))));
    assert_eq!(codes(&of(Stagger::By(Angle::from_degrees(30.5)))), ["ring/joints-line-up"]);
}

#[test]
fn the_turn_goes_on_through_discs_and_from_body_into_lid() {
    let body = vec![disc(8.0), ring(12, 12.0), disc(2.0), ring(12, 12.0)];
    let vessel = clean(&lidded(beaker(body), vec![ring(12, 15.0), disc(8.0)]));
    let turns: Vec<f64> = vessel.layers.iter().map(|layer| layer.rotation.degrees()).collect();
    for (got, wanted) in turns.iter().zip([0.0, 0.0, 0.0, 15.0, 30.0, 0.0]) {
        assert_near(*got, wanted);
    }
    assert_eq!(
        vessel.contacts.iter().map(|contact| contact.is_opening).collect::<Vec<_>>(),
        [false, false, false, true, false]
    );
}

#[test]
fn faces_too_narrow_or_apart() {
    let narrow = |allow: f64| {
        let thin = |mut layer: Layer| {
            layer.allow.value = mm(allow);
            layer
        };
        let layers = vec![disc(8.0), thin(ring(12, 24.5)), thin(ring(12, 24.5))];
        let mut recipe = beaker(layers);
        recipe.wall.value = mm(4.0);
        recipe.shop.least_wall.value = mm(1.0);
        recipe
    };
    // 4 mm of wall and 0.5 mm on either side share 5 mm; the least is 6.
    assert_eq!(codes(&narrow(0.5)), ["ring/narrow-overlap"; 2]);
    let finding = built(&narrow(0.5)).findings.remove(1);
    assert!(finding.message.contains("share a glue face 5.00 mm wide at height 32.5 mm"), "{}", finding.message);
    assert!(finding.help.unwrap().ends_with("give both layers `allow 1.00 mm`"));
    clean(&narrow(1.0));
    // A shoulder wider than wall and allowance: the ring above sits in the air.
    let shoulder = [(0.0, 80.0), (32.5, 80.0), (32.5, 140.0), (57.0, 140.0)];
    let mut recipe = open(Straight, &shoulder, 8.0, stacked());
    recipe.parts[0].layers[2] = with_ring(ring(12, 24.5), |ring| ring.strip = Some(written(mm(12.0), 700)));
    assert!(codes(&recipe).contains(&"ring/apart"), "{:?}", codes(&recipe));
    // Body and lid are not glued.
    let mut opening = lidded(beaker(vec![disc(8.0), ring(12, 24.5)]), vec![ring(12, 16.5), disc(8.0)]);
    opening.shop.least_glue.value = mm(40.0);
    assert_eq!(codes(&opening).iter().filter(|code| **code == "ring/narrow-overlap").count(), 2);
}

#[test]
fn the_stack_must_be_as_high_as_the_shape() {
    let short = only(&beaker(vec![disc(8.0), ring(12, 24.5)]), "stack/too-short");
    assert_eq!(short.message, "the layers end at height 32.5 mm, 24.5 mm under the shape's top at 57.0 mm");
    assert_eq!(short.help.as_deref(), Some("one more layer of 24.5 mm would do"));
    let tall = only(&beaker(vec![disc(8.0), ring(12, 24.5), ring(12, 26.0)]), "stack/too-tall");
    assert_eq!(tall.help.as_deref(), Some("make this layer 24.5 mm thick, or turn the rest away"));
    clean(&beaker(vec![disc(8.0), ring(12, 24.5), ring(12, 24.54)]));
    let mut beyond = stacked();
    beyond.extend([ring(12, 5.0), ring(12, 5.0)]);
    let built = built(&beaker(beyond));
    assert_eq!(built.findings[0].code.name, "stack/layer-beyond-shape");
    assert!(built.findings[0].message.ends_with("; so does the layer after it"));
    let vessel = built.value.unwrap();
    assert_near(vessel.layers[4].outer_radius.value.mm(), 40.0);
    assert_near(vessel.layers[4].inner_radius.value.mm(), 32.0);
    assert_near(vessel.layers[4].finished_volume.value.mm3(), 0.0);
}

#[test]
fn walls_that_leave_no_cavity() {
    let with = |change: fn(&mut Recipe)| {
        let mut recipe = beaker(stacked());
        change(&mut recipe);
        recipe
    };
    let walled = |wall: f64| open(Straight, &[(0.0, 80.0), (57.0, 80.0)], wall, vec![disc(57.0)]);
    assert_eq!(codes(&walled(40.0)), ["wall/thicker-than-radius"]);
    assert_eq!(codes(&walled(1e9)), ["wall/thicker-than-radius"]);
    assert_eq!(codes(&with(|recipe| recipe.floor.value = mm(60.0)))[0], "wall/thicker-than-radius");
    // A neck of radius 7 with a wall of 8.
    let neck = open(Straight, &[(0.0, 80.0), (30.0, 14.0), (57.0, 80.0)], 8.0, stacked());
    let finding = built(&neck).findings.remove(0);
    assert_eq!(finding.code.name, "wall/thicker-than-radius");
    assert!(finding.message.contains("the outside is 7.00 mm in radius at height 30.0 mm"), "{}", finding.message);
    // A cone that stands on its tip: wall 8 square to a slope of 45° closes up to 8 √2.
    let cone = open(Straight, &[(0.0, 0.0), (60.0, 120.0)], 8.0, vec![disc(60.0)]);
    assert_eq!(
        only(&cone, "wall/thicker-than-radius").help.unwrap(),
        "raise `floor` to 11.4 mm or make `wall` thinner"
    );
    assert_eq!(codes(&with(|recipe| recipe.wall.value = mm(2.9)))[0], "wall/thin");
    let floor = with(|recipe| recipe.floor = written(mm(2.0), 720));
    assert_eq!(only(&floor, "wall/thin").message, "a floor of 2.00 mm is thinner than the shop's least, 3.00 mm");
}

#[test]
fn every_layer_has_a_name_of_its_own() {
    let mut named = ring(12, 5.0);
    named.name = Some(Spanned::new("band".to_owned(), named.span));
    let mut layers = vec![disc(8.0)];
    layers.extend(std::iter::repeat_n(named, 3));
    layers.push(ring(12, 34.0));
    let ids: Vec<String> = clean(&beaker(layers)).layers.into_iter().map(|layer| layer.id).collect();
    assert_eq!(ids, ["body.disc-1", "body.band", "body.band-2", "body.band-3", "body.ring-5"]);
}

#[test]
fn shapes_that_are_none() {
    assert_eq!(codes(&open(Smooth, &[(0.0, 80.0)], 8.0, stacked())), ["shape/too-few-points"]);
    assert_eq!(codes(&open(Smooth, &[(0.0, 0.0), (9.0, 0.0)], 8.0, stacked())), ["shape/too-few-points"]);
    assert_eq!(codes(&open(Smooth, &[(0.0, 80.0), (1e12, 80.0)], 8.0, stacked())), ["quantity/out-of-range"]);
    assert!(built(&open(Smooth, &[], 8.0, stacked())).value.is_none());
}

/// A closed vessel whose shape, layers and lid can be turned upside down.
fn closed_vessels() -> impl Strategy<Value = (OutsideKind, Vec<(f64, f64)>, f64, Vec<f64>)> {
    let kind = prop_oneof![Just(Straight), Just(Smooth)];
    let rises = proptest::collection::vec((5.0..40.0, 60.0..160.0), 2..7);
    (kind, 60.0..160.0, rises, 3.0..12.0, proptest::collection::vec(1.0..3.0, 3..12)).prop_map(
        |(kind, first, rises, wall, shares)| {
            let mut points = vec![(0.0, first)];
            for (rise, diameter) in rises {
                let height = points[points.len() - 1].0 + rise;
                points.push((height, diameter));
            }
            let height = points[points.len() - 1].0;
            let total: f64 = shares.iter().sum();
            (kind, points, wall, shares.iter().map(|share| height * share / total).collect())
        },
    )
}

fn vessel_of(kind: OutsideKind, points: &[(f64, f64)], wall: f64, thicknesses: &[f64], scale: f64) -> Vessel {
    let points: Vec<(f64, f64)> = points.iter().map(|(height, diameter)| (height * scale, diameter * scale)).collect();
    let mut layers: Vec<Layer> = thicknesses.iter().map(|thick| ring(12, thick * scale)).collect();
    for layer in &mut layers {
        layer.allow.value = mm(3.0 * scale);
    }
    let lid = layers.split_off(layers.len() / 2);
    let mut recipe = lidded(open(kind, &points, wall * scale, layers), lid);
    recipe.shop.sanding.value = mm(0.4 * scale);
    built(&recipe).value.expect("a vessel")
}

fn lengths_of(vessel: &Vessel) -> Vec<Length> {
    let mut lengths = vec![vessel.height.value, vessel.max_diameter.value];
    for (at, layer) in vessel.layers.iter().enumerate() {
        let sawn = ring_of(vessel, at);
        lengths.extend([layer.z1.value, layer.outer_radius.value, layer.inner_radius.value]);
        lengths.extend([layer.rough_thickness.value, layer.blank_inner_radius.value]);
        lengths.extend([
            sawn.strip_width.value,
            sawn.cuts[0].long_edge.value,
            sawn.cuts[0].short_edge.value,
            sawn.corner_radius.value,
        ]);
    }
    lengths
}

/// To the accuracy of the inside curve, which is 1e-5 mm square to itself.
fn is_close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-5 * a.abs().max(b.abs())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn upside_down_the_radii_are_the_same((kind, points, wall, thicknesses) in closed_vessels()) {
        let top = points[points.len() - 1].0;
        let flipped: Vec<(f64, f64)> = points.iter().rev().map(|(height, diameter)| (top - height, *diameter)).collect();
        let reversed: Vec<f64> = thicknesses.iter().rev().copied().collect();
        let vessel = vessel_of(kind, &points, wall, &thicknesses, 1.0);
        let mirrored = vessel_of(kind, &flipped, wall, &reversed, 1.0);
        for (layer, twin) in vessel.layers.iter().zip(mirrored.layers.iter().rev()) {
            prop_assert!((layer.outer_radius.value - twin.outer_radius.value).mm().abs() < 1e-6);
            prop_assert!((layer.inner_radius.value - twin.inner_radius.value).mm().abs() < 1e-4);
            let volumes = (layer.finished_volume.value.mm3(), twin.finished_volume.value.mm3());
            prop_assert!((volumes.0 - volumes.1).abs() < 1e-5 * volumes.0.abs().max(1e3), "{volumes:?}");
        }
        prop_assert!(is_close(vessel.capacity.value.mm3(), mirrored.capacity.value.mm3()));
    }

    #[test]
    fn a_scaled_twin_has_scaled_figures(
        (kind, points, wall, thicknesses) in closed_vessels(), scale in prop_oneof![Just(25.4), 0.2..5.0],
    ) {
        let vessel = vessel_of(kind, &points, wall, &thicknesses, 1.0);
        let twin = vessel_of(kind, &points, wall, &thicknesses, scale);
        for (ours, theirs) in lengths_of(&vessel).iter().zip(lengths_of(&twin)) {
            prop_assert!((ours.mm() * scale - theirs.mm()).abs() < 1e-4 * scale.max(1.0), "{} {}", ours.mm(), theirs.mm());
        }
        for (layer, twin) in vessel.layers.iter().zip(&twin.layers) {
            prop_assert!(is_close(layer.joint_area.value.mm2() * scale.powi(2), twin.joint_area.value.mm2()));
            prop_assert!(is_close(layer.blank_volume.value.mm3() * scale.powi(3), twin.blank_volume.value.mm3()));
            prop_assert!((layer.rotation - twin.rotation).degrees().abs() < 1e-9);
        }
        prop_assert!(is_close(vessel.capacity.value.mm3() * scale.powi(3), twin.capacity.value.mm3()));
        prop_assert!(is_close(vessel.finish_area.value.mm2() * scale.powi(2), twin.finish_area.value.mm2()));
    }

    #[test]
    fn the_layers_wood_and_the_cavity_fill_the_outside((kind, points, wall, thicknesses) in closed_vessels()) {
        let vessel = vessel_of(kind, &points, wall, &thicknesses, 1.0);
        let wood: f64 = vessel.layers.iter().map(|layer| layer.finished_volume.value.mm3()).sum();
        let whole = vessel.outside.volume(Length::ZERO, vessel.height.value).mm3();
        prop_assert!((wood + vessel.capacity.value.mm3() - whole).abs() < 1e-9 * whole);
    }
}

/// Numbers as a slip of the finger makes them.
fn silly() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => -10.0..200.0,
        1 => Just(0.0),
        1 => Just(1e-7),
        1 => Just(-1.0),
        1 => Just(1e7),
        1 => Just(1e12),
        1 => Just(f64::INFINITY),
        1 => Just(f64::NEG_INFINITY),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_outline_is_too_silly(
        points in proptest::collection::vec((silly(), silly(), any::<bool>(), proptest::option::of(silly())), 2..8),
        details in proptest::collection::vec((silly(), 0.01..60.0_f64, proptest::option::of(0.01..60.0_f64), any::<bool>()), 0..4),
        foot in proptest::option::of((silly(), silly())),
        inside in proptest::option::of(proptest::collection::vec((silly(), silly()), 2..6)),
        (wall, rim, floor) in (silly(), silly(), silly()),
    ) {
        let rising = |mut points: Vec<(f64, f64)>| {
            points.sort_by(|a, b| a.0.total_cmp(&b.0));
            points
        };
        let at = rising(points.iter().map(|(height, across, ..)| (*height, *across)).collect());
        let mut recipe = open(Straight, &at, wall, vec![disc(10.0), ring(12, 20.0)]);
        for (point, (.., is_smooth, round)) in recipe.outside.points.iter_mut().zip(&points) {
            point.kind = if *is_smooth { Smooth } else { Straight };
            point.round = round.map(|radius| written(mm(radius), 740));
        }
        recipe.outside.details = details.iter().map(|(middle, tall, depth, is_bead)| Detail {
            kind: if *is_bead { DetailKind::Bead } else { DetailKind::Cove },
            middle: written(mm(*middle), 750),
            tall: written(mm(*tall), 760),
            depth: depth.map(|depth| written(mm(depth), 770)),
            span: Span::new(FileId(0), 750, 780),
        }).collect();
        recipe.outside.foot = foot.map(|(across, tall)| Foot {
            diameter: written(Diameter::new(mm(across)), 790),
            tall: written(mm(tall), 800),
            span: Span::new(FileId(0), 790, 810),
        });
        recipe.wall_rim = Some(written(mm(rim), 820));
        recipe.floor.value = mm(floor);
        recipe.inside = inside.map(|points| open(Smooth, &rising(points), wall, Vec::new()).outside);
        let built = built(&recipe);
        if let Some(vessel) = built.value {
            prop_assert!(vessel.capacity.value.mm3() >= 0.0);
            prop_assert!(vessel.outside.pieces().windows(2).all(|pair| pair[0].end().y <= pair[1].start().y + 1e-3));
        } else {
            prop_assert!(!built.findings.is_empty());
        }
    }

    #[test]
    fn no_recipe_is_too_silly(
        is_smooth in any::<bool>(),
        points in proptest::collection::vec((silly(), silly()), 0..8),
        rises in any::<bool>(),
        sizes in proptest::collection::vec((silly(), silly(), silly(), 0..2000_u32, 0..5_usize), 0..8),
        (wall, floor, top, least) in (silly(), silly(), proptest::option::of(silly()), silly()),
    ) {
        let mut points = points;
        if rises {
            points.sort_by(|a, b| a.0.total_cmp(&b.0));
        }
        let layers = sizes.iter().map(|(thick, allow, strip, count, motif)| {
            let mut layer = if *count == 7 { disc(*thick) } else { with_ring(ring(*count, *thick), |ring| {
                ring.strip = (*motif == 1).then(|| written(mm(*strip), 700));
                ring.pattern.motif = (0..*motif).collect();
                ring.stagger.value = [Stagger::Half, Stagger::None, Stagger::By(Angle::from_degrees(*strip))][motif % 3];
            }) };
            layer.allow.value = mm(*allow);
            layer
        }).collect();
        let mut recipe = open(if is_smooth { Smooth } else { Straight }, &points, wall, layers);
        recipe.floor.value = mm(floor);
        if let Some(top) = top {
            recipe = lidded(recipe, vec![ring(12, top)]);
            recipe.top = Some(written(mm(top), 730));
        }
        recipe.shop.least_glue.value = mm(least);
        if let Some(vessel) = built(&recipe).value {
            prop_assert_eq!(vessel.layers.len(), recipe.layers().count());
            prop_assert!(vessel.layers.iter().all(|layer| layer.inner_radius.value >= Length::ZERO));
        }
    }
}
