//! How long the model and its files take: of a vessel of 20 layers as it is built, and drawn so finely that it has over a
//! million triangles. And how long all documents take, from the compiled design to the bytes.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]

use std::time::Instant;

use ringwright::compile::compile;
use ringwright::output;
use ringwright::quantity::Length;
use ringwright::source::MapWorld;
use ringwright::view::solid::{Fineness, Model, model};

fn main() {
    let text = vessel(20);
    let (world, root) = MapWorld::of("bench.vessel", &text);
    let compiled = compile(&world, root);
    let design = compiled.complete().expect("a design");
    let triangles = |model: &Model| model.pieces.iter().map(|piece| piece.mesh.faces.len()).sum::<usize>();
    let mut bytes = 0;
    let all = median(|| {
        bytes = output::documents(&design, &world).iter().map(|document| document.bytes.len()).sum();
    });
    println!("20 layers, all documents: {all:.1} ms, {:.1} MB", megabytes(bytes));
    for (name, fineness) in [("as built", Fineness::default()), ("fine", Fineness(Length::from_mm(1e-3)))] {
        let made = model(design.recipe, design.vessel, fineness);
        let solids = median(|| drop(model(design.recipe, design.vessel, fineness)));
        let (mut glb, mut stl) = (0, 0);
        let all = median(|| {
            let [one, other] = output::models(&design, fineness);
            (glb, stl) = (one.bytes.len(), other.bytes.len());
        });
        println!(
            "20 layers, {name}: {} pieces, {} triangles; solids {solids:.1} ms, with GLB ({:.1} MB) and STL ({:.1} MB) {all:.1} ms",
            made.pieces.len(),
            triangles(&made),
            megabytes(glb),
            megabytes(stl)
        );
    }
}

#[allow(clippy::cast_precision_loss, reason = "to print")]
fn megabytes(bytes: usize) -> f64 {
    bytes as f64 / 1e6
}

/// Milliseconds, the middle one of five runs.
fn median(mut run: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..5)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[2]
}

/// A belly of rings in several woods on a disc.
fn vessel(layers: usize) -> String {
    let woods = ["maple", "walnut", "cherry"];
    let rings: Vec<String> =
        (1..layers).map(|at| format!("ring [{} {}] thick 16\n", woods[at % 3], woods[(at + 1) % 3])).collect();
    let tall = 10 + 16 * (layers - 1);
    format!(
        "units mm\nvessel \"Bench\" {{\n outside smooth {{ at 0 diameter 110  at {} diameter 220  at {tall} diameter 160 }}\n wall 10\n floor 10\n \
         every ring {{ segments 12  stagger half }}\n body {{\n disc walnut thick 10\n{} }}\n}}\n",
        tall / 2,
        rings.concat()
    )
}
