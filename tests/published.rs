//! The whole way from a recipe's text to its figures, against figures that others have printed.

use crate::support::{compile_text, said};
use ringwright::geometry::{BuiltLayer, LayerShape, RingShape};

/// The last ring of a straight vessel without allowance.
fn ring(diameter: &str, wall: &str, segments: u32) -> (BuiltLayer, RingShape) {
    let text = format!(
        "units in\nshop {{ safe-piece 0  least-glue 0  angle-error 0 deg  length-error 0 }}\nvessel \"Published\" {{\n\
         outside {{ at 0 diameter {diameter}   at 2 diameter {diameter} }}\nwall {wall}\nfloor 1/2\nlives 45%rh .. 46%rh\n\
         every ring {{ segments {segments}  allow 0 }}\nbody {{ disc maple thick 1/2   repeat 2 {{ ring maple thick 3/4 }} }}\n}}\n"
    );
    let (world, compiled) = compile_text(&text);
    assert_eq!(said(&world, &compiled), []);
    let layer = compiled.vessel.and_then(|vessel| vessel.layers.last().cloned()).expect("a layer");
    match layer.shape.clone() {
        LayerShape::Ring(ring) => (layer, ring),
        LayerShape::Disc { .. } | LayerShape::Slant(_) => panic!("the last layer is a ring"),
    }
}

fn close(value: f64, printed: f64, within: f64) {
    assert!((value - printed).abs() <= within, "{value} is not {printed} within {within}");
}

#[test]
fn twelve_segments_six_inches_outside_four_inside() {
    // "Segmenting 101", American Association of Woodturners, 2014-2016: miter 15°, width 1.068,
    // long edge 1.608, short edge 1.035 in.
    let (_, ring) = ring("6", "1", 12);
    close(ring.cuts[0].miter.value.degrees(), 15.0, 1e-12);
    close(ring.strip_width.value.inches(), 1.068, 0.0005);
    close(ring.cuts[0].long_edge.value.inches(), 1.608, 0.0005);
    close(ring.cuts[0].short_edge.value.inches(), 1.035, 0.0005);
}

#[test]
fn side_from_diameter_across_flats() {
    // "Staves and Segments", WOOD magazine: diameter across flats over side, and a hexagon of
    // 24 in across flats whose side is 13.85641 in.
    for (segments, factor) in [(6, 1.73205), (8, 2.41421), (10, 3.07768), (12, 3.73205), (16, 5.02734)] {
        let (_, ring) = ring("10", "1", segments);
        close(10.0 / ring.cuts[0].long_edge.value.inches(), factor, 0.000_01);
    }
    let (_, hexagon) = ring("24", "1", 6);
    close(hexagon.cuts[0].long_edge.value.inches(), 13.856_41, 0.000_01);
}

#[test]
fn miters_of_a_table_saw_manuals_chart() {
    // Compound miter chart of a table saw's owner's manual, row of pitch 0 (a flat ring).
    for (segments, miter) in [(4, 45.0), (5, 36.0), (6, 30.0), (7, 25.71), (8, 22.5), (9, 20.0), (10, 18.0)] {
        let (_, ring) = ring("12", "1", segments);
        close(ring.cuts[0].miter.value.degrees(), miter, 0.005);
    }
}

#[test]
fn an_eight_segment_bowl_of_a_magazine() {
    // Woodworker's Journal, June 1993: 8 segments of 3-5/16 in, cut at 22.5°, turn to a little under 8 in.
    let (_, ring) = ring("8", "1", 8);
    close(ring.cuts[0].long_edge.value.inches(), 3.0 + 5.0 / 16.0, 1.0 / 64.0);
}

#[test]
fn the_circumference_rule_comes_out_small() {
    // A club's page takes π·10/12 = 2.618 in for a 10 in ring of 12; across flats it needs 2.679 in.
    let (_, ring) = ring("10", "1", 12);
    close(ring.cuts[0].long_edge.value.inches(), 2.679, 0.0005);
    assert!(ring.cuts[0].long_edge.value.inches() > 2.618);
}

#[test]
fn six_rings_of_twelve_and_a_foot_are_seventy_three_pieces() {
    // Published vase: six rings of twelve segments and a foot disc, 73 pieces, 6 in high, 4.5 in across.
    let text = "units in\nvessel \"Seventy-three\" {\n  outside smooth { at 0 diameter 2 3/4   at 3 1/2 diameter 4 1/2   at 6 diameter 3 1/4 }\n  \
                wall 3/8\n  floor 1/2\n  every ring { segments 12  thick 11/12 }\n  \
                body { disc walnut thick 1/2   repeat 6 { ring maple } }\n  expect pieces == 73\n  expect height == 6\n  \
                expect diameter == 4 1/2\n}\n";
    let (world, compiled) = compile_text(text);
    let errors: Vec<_> = said(&world, &compiled).into_iter().filter(|(code, ..)| code == "expect/broken").collect();
    assert_eq!(errors, []);
    assert!(!compiled.has_errors(), "{:?}", compiled.findings);
}
