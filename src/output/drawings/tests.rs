//! Drawings of every recipe, and of the numbers behind them.

use std::fs;
use std::path::{Path, PathBuf};

use kurbo::{BezPath, PathEl, Point, Shape as _};

use crate::cli::DiskWorld;
use crate::compile::{Compiled, compile};
use crate::geometry::LayerShape;
use crate::output::picture::{Mark, Picture};
use crate::output::sheet::Sheet;
use crate::view;

use super::{cells, elevation, layer, section, unrolled};

/// Every recipe that is a vessel, compiled.
fn recipes() -> Vec<(String, Compiled)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let mut names: Vec<PathBuf> = fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    names.sort();
    let compiled = names.into_iter().map(|path| {
        let (world, root) = DiskWorld::open_root(&path).unwrap();
        (path.file_stem().unwrap().to_string_lossy().into_owned(), compile(&world, root))
    });
    compiled.filter(|(_, compiled)| !compiled.is_library).collect()
}

fn pictures(sheet: &Sheet<'_>) -> Vec<(String, Picture)> {
    let mut all = vec![
        ("elevation".to_owned(), elevation(sheet)),
        ("section".to_owned(), section(sheet)),
        ("unrolled".to_owned(), unrolled(sheet)),
    ];
    all.extend((0..sheet.layers().len()).map(|at| (format!("layer-{}", at + 1), layer(sheet, at).unwrap())));
    all
}

/// What the drawn chords may take of a silhouette, a share of it.
const CHORDS: f64 = 2e-3;

/// What faces the viewer is covered once: pieces and gaps together are the silhouette, of closed layers the pieces alone.
#[test]
fn projected_pieces_fill_the_silhouette() {
    for (name, compiled) in recipes() {
        let (recipe, vessel) = (compiled.recipe.as_ref().unwrap(), compiled.vessel.as_ref().unwrap());
        let seen = view::elevation::elevation(recipe, vessel);
        let is_open =
            |layer: usize| matches!(&vessel.layers[layer].shape, LayerShape::Ring(ring) if ring.gap.is_some());
        let closed = seen.facets.iter().filter(|facet| !is_open(facet.layer)).map(|facet| facet.outline.area().abs());
        let open: f64 = seen.open.iter().map(|gaps| gaps.area().abs()).sum();
        let silhouette = seen.outline.area().abs();
        let covered = closed.sum::<f64>() + open;
        assert!((covered / silhouette - 1.0).abs() < CHORDS, "{name}: {covered} of {silhouette}");
    }
}

/// Pappus: a face sawn along the axis, revolved, is the layer's wood. Both sides of the axis are halves of it.
#[test]
fn sawn_faces_revolve_to_the_finished_wood() {
    for (name, compiled) in recipes() {
        let (recipe, vessel) = (compiled.recipe.as_ref().unwrap(), compiled.vessel.as_ref().unwrap());
        let cut = view::section::section(recipe, vessel);
        for (at, layer) in vessel.layers.iter().enumerate() {
            if matches!(&layer.shape, LayerShape::Ring(ring) if ring.gap.is_some()) {
                continue;
            }
            let faces = cut.cuts.iter().filter(|face| face.layer == at && face.is_right);
            let revolved: f64 = faces.map(|face| std::f64::consts::TAU * moment(&face.outline).abs()).sum();
            // The closed form, between the profiles of the parts that the layer becomes.
            let bands = view::bands::bands(vessel);
            let wood: f64 = bands
                .iter()
                .filter(|band| band.layer == at)
                .map(|band| {
                    let part = band.part;
                    part.outside.volume(band.from, band.to).mm3() - part.inside.volume(band.from, band.to).mm3()
                })
                .sum();
            // A chord strays from its curve by 0.02 mm at most, along two profiles that are longer than the layer is tall.
            let tall = (layer.z1.value - layer.z0.value).mm();
            let stray = 2.0 * 0.02 * 1.5 * tall * std::f64::consts::TAU * layer.outer_radius.value.mm();
            assert!((revolved - wood).abs() < stray, "{name} {}: {revolved}, not {wood}", layer.id);
        }
    }
}

/// ∫ x dA of a polygon.
fn moment(outline: &BezPath) -> f64 {
    let corners: Vec<Point> = outline.elements().iter().filter_map(PathEl::end_point).collect();
    let pairs = corners.iter().zip(corners.iter().cycle().skip(1));
    pairs.map(|(a, b)| (a.x + b.x) * (a.x * b.y - b.x * a.y)).sum::<f64>() / 6.0
}

/// usvg lays the text out; what stands on the page is where it says.
#[test]
fn every_recipes_drawings_show_something_and_no_words_overlap() {
    let mut options = resvg::usvg::Options::default();
    for file in fonts(Path::new("/usr/share/fonts")) {
        options.fontdb_mut().load_font_data(fs::read(file).unwrap());
    }
    options.fontdb_mut().set_sans_serif_family("DejaVu Sans");
    let has_fonts = options.fontdb.faces().next().is_some();
    for (name, compiled) in recipes() {
        let design = compiled.complete().unwrap();
        let sheet = Sheet::new(&design);
        for (what, picture) in pictures(&sheet) {
            let text = String::from_utf8(crate::output::svg::bytes(&picture)).unwrap();
            let tree = resvg::usvg::Tree::from_str(&text, &options).unwrap();
            let mut pixels = resvg::tiny_skia::Pixmap::new(170, 220).unwrap();
            let shrink = resvg::tiny_skia::Transform::from_scale(0.25, 0.25);
            resvg::render(&tree, shrink, &mut pixels.as_mut());
            let dark = pixels.pixels().iter().filter(|pixel| pixel.alpha() > 0 && pixel.green() < 240).count();
            assert!(dark > 200, "{name} {what}: only {dark} points are drawn");
            let mut boxes = Vec::new();
            words(tree.root(), &mut boxes);
            assert!(!has_fonts || boxes.len() > 3, "{name} {what}: no words");
            for (at, (one, text)) in boxes.iter().enumerate() {
                assert!(
                    one.left() >= 0.0
                        && one.right() <= tree.size().width()
                        && one.top() >= 0.0
                        && one.bottom() <= tree.size().height(),
                    "{name} {what}: “{text}” leaves the page"
                );
                for (other, others) in &boxes[..at] {
                    let apart = one.left() >= other.right()
                        || other.left() >= one.right()
                        || one.top() >= other.bottom()
                        || other.top() >= one.bottom();
                    assert!(apart, "{name} {what}: “{text}” lies on “{others}”");
                }
            }
        }
    }
}

/// The widest sans-serif in common use, where it is installed; without it only the areas are looked at.
fn fonts(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let paths = entries.filter_map(|entry| Some(entry.ok()?.path()));
    let found = paths.flat_map(|path| if path.is_dir() { fonts(&path) } else { vec![path] });
    found
        .filter(|path| path.file_name().is_some_and(|name| name == "DejaVuSans.ttf" || name == "DejaVuSans-Bold.ttf"))
        .collect()
}

/// Boxes of the letters' own outlines.
fn words(group: &resvg::usvg::Group, boxes: &mut Vec<(resvg::tiny_skia::Rect, String)>) {
    for node in group.children() {
        match node {
            resvg::usvg::Node::Group(inner) => words(inner, boxes),
            resvg::usvg::Node::Text(text) => {
                let said = text.chunks().iter().map(resvg::usvg::TextChunk::text).collect();
                boxes.push((text.flattened().abs_bounding_box(), said));
            }
            resvg::usvg::Node::Path(_) | resvg::usvg::Node::Image(_) => {}
        }
    }
}

/// Names are ids: no name twice in a picture.
#[test]
fn every_name_is_there_once() {
    fn names(marks: &[Mark], all: &mut Vec<String>) {
        for mark in marks {
            if let Mark::Group(group) = mark {
                all.extend(group.name.clone());
                names(&group.marks, all);
            }
        }
    }
    for (name, compiled) in recipes() {
        let design = compiled.complete().unwrap();
        for (what, picture) in pictures(&Sheet::new(&design)) {
            let mut all = Vec::new();
            names(&picture.marks, &mut all);
            let count = all.len();
            all.sort();
            all.dedup();
            assert_eq!(all.len(), count, "{name} {what}");
        }
    }
}

#[test]
fn a_terminal_shows_the_vessel_as_wide_and_tall_as_it_is() {
    for (name, compiled) in recipes() {
        let design = compiled.complete().unwrap();
        let rows = cells(&elevation(&Sheet::new(&design)), (60, 24));
        let columns = rows.iter().map(Vec::len).max().unwrap();
        assert!(rows.len() <= 24 && columns <= 60, "{name}: {} rows, {columns} columns", rows.len());
        assert!(rows.len() == 24 || columns >= 59, "{name}: fills neither way");
        assert!(rows.iter().all(|row| row.iter().any(|cell| cell.0.is_some() || cell.1.is_some())), "{name}");
    }
}
