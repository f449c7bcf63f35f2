//! Solids against the closed forms of the layers, on recipes with every kind of layer.

use std::collections::BTreeMap;

use proptest::prelude::*;

use super::sweep::held;
use super::*;
use crate::compile::{Compiled, compile};
use crate::source::MapWorld;

fn compiled(text: &str) -> Compiled {
    let (world, root) = MapWorld::of("a.vessel", text);
    compile(&world, root)
}

fn model_of(compiled: &Compiled) -> Model {
    model(compiled.recipe.as_ref().unwrap(), compiled.vessel.as_ref().unwrap(), Fineness::default())
}

/// Each edge once each way, no triangle without a face, wood inside.
fn assert_closed(solid: &Solid) {
    let mut ways: BTreeMap<(u32, u32), i32> = BTreeMap::new();
    for [a, b, c] in &solid.mesh.faces {
        for (from, to) in [(a, b), (b, c), (c, a)] {
            assert!(ways.insert((*from, *to), 1).is_none(), "{:?}: an edge twice the same way", solid.is);
        }
    }
    for (from, to) in ways.keys() {
        assert!(ways.contains_key(&(*to, *from)), "{:?}: an open edge", solid.is);
    }
    let used: std::collections::BTreeSet<u32> = solid.mesh.faces.iter().flatten().copied().collect();
    assert_eq!(used.len(), solid.mesh.points.len(), "{:?}: points for nothing", solid.is);
    assert!(solid.volume.mm3() > 0.0);
    let off = (held(&solid.mesh) / solid.volume.mm3() - 1.0).abs();
    assert!(off < 1e-6, "{:?}: {off}", solid.is);
}

/// The pieces of a layer hold together what the geometry reckons for the layer, in another way, and each wood its share.
fn assert_whole(compiled: &Compiled) -> Model {
    assert!(compiled.vessel.is_some(), "{:?}", compiled.findings);
    let (recipe, vessel) = (compiled.recipe.as_ref().unwrap(), compiled.vessel.as_ref().unwrap());
    let model = model_of(compiled);
    model.pieces.iter().for_each(assert_closed);
    let has_holes = !recipe.fittings.inserts.is_empty();
    for (at, layer) in vessel.layers.iter().enumerate() {
        let of_layer = |solid: &&Solid| match solid.is {
            PieceOf::Segment { layer, .. }
            | PieceOf::Spacer { layer, .. }
            | PieceOf::Plug { layer }
            | PieceOf::Whole { layer } => layer == at,
            PieceOf::Insert { .. } => false,
        };
        let sum: f64 = model.pieces.iter().filter(of_layer).map(|solid| held(&solid.mesh)).sum();
        let reckoned = layer.finished_volume.value.mm3();
        let is_so = if has_holes { sum <= reckoned * (1.0 + 1e-6) } else { (sum - reckoned).abs() <= 1e-6 * reckoned };
        assert!(is_so, "{}: {sum} of {reckoned}", layer.id);
    }
    model
}

/// The cavity ends a hair above the lower face of the lid's layer, as a path in inches with four digits has it.
#[test]
fn a_plug_over_a_cavity_that_ends_a_hair_higher_is_there() {
    let model = assert_whole(&compiled(
        "units mm\nvessel \"Box\" { outside { at 0 diameter 120 at 70.00001 diameter 120 }\n wall 12\n floor 10\n top 16\n\
         every ring { thick 22 }\n body { disc walnut thick 10 \n ring maple \n ring maple }\n\
         lid { wedges 12 maple thick 16 plug walnut 23 } }",
    ));
    assert!(model.absent.is_empty(), "{:?}", model.absent);
    assert!(model.pieces.iter().any(|solid| matches!(solid.is, PieceOf::Plug { layer: 3 })));
}

/// A strip is as wide as it is at every corner, also where the outside was set out.
#[test]
fn strips_and_segments_share_planes() {
    let model = assert_whole(&compiled(&cup(
        "body { disc walnut thick 10 \n ring 12 maple thick 40 spacer walnut 3 \n ring 10 cherry thick 30 spacer walnut 3 }",
    )));
    // Its middle tells where its joint lies.
    let strips = model.pieces.iter().filter(|solid| matches!(solid.is, PieceOf::Spacer { layer: 1, .. }));
    for strip in strips {
        let (x, y) = strip.mesh.points.iter().fold((0.0, 0.0), |(x, y), [px, py, _]| (x + px, y + py));
        let far = trig::hypot(x, y);
        let beside = strip.mesh.points.iter().map(|[px, py, _]| (x * py - y * px) / far);
        let (least, most) = beside.fold((0.0_f64, 0.0_f64), |(least, most), at| (least.min(at), most.max(at)));
        assert!((most - 1.5).abs() < 1e-9 && (least + 1.5).abs() < 1e-9, "{least} {most}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Vessels of any shape: every piece is closed, and the layers hold what the geometry reckons.
    #[test]
    fn vessels_of_any_shape(
        diameters in prop::collection::vec(60.0..160.0_f64, 3), wall in 5.0..14.0_f64,
        segments in prop::collection::vec(5_u32..20, 2), strip in prop::option::of(0.5..3.0_f64),
        is_smooth in any::<bool>(), stagger in any::<bool>(),
    ) {
        let strip = strip.map_or(String::new(), |strip| format!(" spacer walnut {strip:.2}"));
        let text = format!(
            "units mm\nvessel \"Any\" {{\n outside {} {{ at 0 diameter {:.1}  at 35 diameter {:.1}  at 70 diameter {:.1} }}\n wall {wall:.1}\n floor 10\n \
             {} body {{ disc walnut thick 10\n ring {} [maple cherry] thick 25{strip}\n ring {} maple thick 35 }}\n}}\n",
            if is_smooth { "smooth" } else { "" },
            diameters[0], diameters[1], diameters[2],
            if stagger { "every ring { stagger half }\n" } else { "" },
            segments[0], segments[1],
        );
        let compiled = compiled(&text);
        prop_assume!(compiled.vessel.is_some());
        let model = assert_whole(&compiled);
        prop_assert!(model.absent.is_empty(), "{:?}", model.absent);
    }
}

fn cup(more: &str) -> String {
    format!(
        "units mm\nvessel \"Cup\" {{\n outside smooth {{ at 0 diameter 80  at 40 diameter 110  at 80 diameter 90 }}\n wall 8\n floor 10\n {more}\n}}\n"
    )
}

#[test]
fn rings_of_equal_and_of_unequal_segments() {
    let model = assert_whole(&compiled(&cup(
        "body { disc walnut thick 10 \n ring 12 [maple walnut] thick 20 \n ring 16 maple thick 25 \n ring 9 maple thick 25 }",
    )));
    assert_eq!(model.pieces.len(), 1 + 12 + 16 + 9);
    assert!(model.absent.is_empty());
}

#[test]
fn every_recipe_that_is_shipped() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let mut files: Vec<_> = std::fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let mut built = 0;
    for file in files {
        let text = std::fs::read_to_string(&file).unwrap();
        if !text.lines().any(|line| line.starts_with("vessel ")) {
            continue;
        }
        let mut world = MapWorld::default();
        world.add("recipe.vessel", &text);
        world.add("workshop.vessel", &std::fs::read_to_string(folder.join("workshop.vessel")).unwrap());
        let root = world.root("recipe.vessel").unwrap();
        let model = assert_whole(&compile(&world, root));
        assert!(!model.pieces.is_empty());
        built += 1;
    }
    assert!(built > 20);
}

/// Coarser only where a vessel would have too many chords, and then by as much as brings them down to what is wanted.
#[test]
fn a_great_vessel_is_drawn_more_coarsely() {
    let discs = "disc maple thick 10\n".repeat(40);
    let compiled = compiled(&format!(
        "units mm\nvessel \"Mast\" {{\n outside {{ at 0 diameter 90  at 400 diameter 90 }}\n wall 9\n floor 10\n body {{\n{discs}}}\n}}\n"
    ));
    let (recipe, vessel) = (compiled.recipe.as_ref().unwrap(), compiled.vessel.as_ref().unwrap());
    let fine = Fineness::default();
    assert_eq!(fine.within(1_000_000, vessel), fine);
    let faces = |fineness: Fineness| -> f64 {
        let faces: usize = model(recipe, vessel, fineness).pieces.iter().map(|piece| piece.mesh.faces.len()).sum();
        f64::from(u32::try_from(faces).unwrap())
    };
    // A round of 90 mm has 106 chords of 0.02 mm: acos(1 − 0.02 / 45) is 1.708°.
    let all = fine.within(40 * 106, vessel);
    let half = fine.within(40 * 53, vessel);
    assert!((all.0.mm() - 0.02).abs() < 0.001 && (half.0.mm() - 0.08).abs() < 0.003, "{all:?}, {half:?}");
    let ratio = faces(half) / faces(all);
    assert!((0.45..0.55).contains(&ratio), "{ratio}");
}
