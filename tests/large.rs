//! Vessels of very many layers: what is written grows with them and no faster, and its size is known beforehand.

#![allow(clippy::cast_precision_loss, reason = "only compared")]

use std::collections::BTreeMap;

use ringwright::output::{documents, expected_bytes};

use crate::support::{compile_text, said};

/// Bytes by document, the drawings of layers left out, and how many were expected in all.
fn written(layers: usize, layer: &str) -> (BTreeMap<String, usize>, u64) {
    let height = 10 * layers;
    let text = format!(
        "units mm\nvessel \"Mast\" {{\n  outside {{ at 0 diameter 90   at {height} diameter 90 }}\n  wall 9\n  floor 10\n  body {{\n    \
         disc maple thick 10\n{}  }}\n}}\n",
        format!("    {layer} thick 10\n").repeat(layers - 1)
    );
    let (world, compiled) = compile_text(&text);
    let design = compiled.complete().unwrap_or_else(|| panic!("{:?}", said(&world, &compiled)));
    let documents = documents(&design, &world);
    let is_of_all = |name: &str| !name.starts_with("layer-");
    let bytes = documents.iter().filter(|document| is_of_all(&document.name));
    (bytes.map(|document| (document.name.to_string(), document.bytes.len())).collect(), expected_bytes(&design))
}

#[test]
fn documents_grow_with_the_layers_and_no_faster() {
    let (few, _) = written(150, "disc maple");
    let (many, _) = written(600, "disc maple");
    for (name, bytes) in many {
        let ratio = bytes as f64 / few[&name] as f64;
        assert!(ratio < 4.4, "{name} is {ratio:.1} times as large for four times the layers");
    }
}

#[test]
fn their_size_is_about_as_expected() {
    for (layers, layer) in [(300, "disc maple"), (100, "ring maple segments 12"), (30, "ring maple segments 48")] {
        let (documents, expected) = written(layers, layer);
        let share = expected as f64 / documents.values().sum::<usize>() as f64;
        assert!((0.5..2.0).contains(&share), "{layers} × {layer}: expected {share:.2} of what is written");
    }
}
