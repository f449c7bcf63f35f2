//! A sheet with one block of every kind, and a model of two rings and a lid.

use kurbo::{BezPath, PathEl};

use super::super::super::picture::{Color, Fill, Mark, Picture, Shape};
use super::super::super::shop_sheet::{Block, Chapter, Column, Row, ShopSheet, Table};
use super::super::{Contents, page};

/// A name that does harm wherever it is taken for anything but a name.
pub(super) const NAME: &str = "</script><script>document.title=\"harm\"</script> 'Bowl' & \"Co\" <!-- ";

pub(super) fn sheet() -> ShopSheet {
    let cut = |name: &str, pieces: &str, wood: &str, layers: &[&str]| Row {
        name: name.to_owned(),
        cells: [name, pieces, wood, "2 39/64\" (66.3 mm)", "2 5/32\" (54.8 mm)"].map(str::to_owned).to_vec(),
        layers: layers.iter().map(|layer| (*layer).to_owned()).collect(),
    };
    let columns = [("Cut", false), ("Pieces", true), ("Wood", false), ("Long edge", true), ("Short edge", true)];
    ShopSheet {
        title: NAME.to_owned(),
        subtitle: "3 1/2\" high, 6\" across, 24 segments of maple and walnut".to_owned(),
        chapters: vec![
            Chapter {
                name: "cover",
                heading: "The vessel".to_owned(),
                blocks: vec![
                    Block::Text("Two rings of 8 segments and a lid. <b>Not bold</b>.".to_owned()),
                    Block::Figure(picture(200.0, 160.0), "From the front.".to_owned()),
                ],
            },
            Chapter {
                name: "cut-list",
                heading: "Cut list".to_owned(),
                blocks: vec![
                    Block::Heading("Setting 1: miter 22.5°".to_owned()),
                    Block::Table(Table {
                        name: "cut-list",
                        columns: columns
                            .map(|(heading, is_number)| Column { heading: heading.to_owned(), is_number })
                            .to_vec(),
                        rows: vec![
                            cut("A", "8", "maple", &["body.ring-1"]),
                            cut("B", "8", "walnut", &["body.ring-2"]),
                            cut("C \"<i>\"", "1", "walnut", &[]),
                        ],
                        has_boxes: true,
                    }),
                    Block::List(vec!["Longest first.".to_owned(), "Mark each bag & letter.".to_owned()]),
                ],
            },
            Chapter {
                name: "cutting-plan",
                heading: "Cutting plan".to_owned(),
                blocks: vec![Block::Figure(picture(900.0, 120.0), "Board 1.".to_owned())],
            },
            Chapter {
                name: "templates",
                heading: "Templates".to_owned(),
                blocks: vec![Block::Template(
                    picture(150.0, 150.0),
                    "Ring 1.".to_owned(),
                    vec!["8 segments".to_owned()],
                )],
            },
            Chapter {
                name: "cautions",
                heading: "Cautions".to_owned(),
                blocks: vec![Block::Cautions(vec!["Small pieces: clamp them, keep the fingers away.".to_owned()])],
            },
        ],
    }
}

fn picture(wide: f64, tall: f64) -> Picture {
    let mut path = BezPath::new();
    path.move_to((10.0, 10.0));
    path.line_to((wide - 10.0, 10.0));
    path.line_to((wide * 0.6, tall - 10.0));
    path.line_to((wide * 0.4, tall - 10.0));
    path.close_path();
    let fill = Some(Fill { color: Color(200, 170, 120), hatch: None });
    Picture {
        title: "A \"front\"".to_owned(),
        about: "A shape".to_owned(),
        size: (wide, tall),
        unit_mm: None,
        marks: vec![Mark::Shape(Shape { path, fill, stroke: None })],
    }
}

/// As a file of its own, with a prolog that has no place in a page.
pub(super) fn figure(picture: &Picture, prefix: &str) -> String {
    let (wide, tall) = picture.size;
    let paths: String = picture
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Shape(shape) => Some(format!("<path fill=\"#c8aa78\" stroke=\"#000\" d=\"{}\"/>", d(&shape.path))),
            Mark::Text(_) | Mark::Group(_) => None,
        })
        .collect();
    format!(
        "<?xml version=\"1.0\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"{prefix}all\" \
         viewBox=\"0 0 {wide} {tall}\" width=\"{wide}\" height=\"{tall}\">{paths}</svg>\n"
    )
}

fn d(path: &BezPath) -> String {
    path.elements()
        .iter()
        .map(|element| match element {
            PathEl::MoveTo(to) => format!("M{} {}", to.x, to.y),
            PathEl::LineTo(to) => format!("L{} {}", to.x, to.y),
            PathEl::QuadTo(..) | PathEl::CurveTo(..) | PathEl::ClosePath => "Z".to_owned(),
        })
        .collect()
}

pub(super) fn sample_page(sheet: &ShopSheet, model: Option<&[u8]>) -> String {
    page(&Contents { sheet, model, figure: &figure })
}

/// Binary glTF of two rings of 8 segments, the lower one of maple, and a disc for a lid; z upward, turned by the root.
pub(super) fn model() -> Vec<u8> {
    let mut pieces = Vec::new();
    for (ring, wood, low) in [(1, 0, 0.0), (2, 1, 0.02)] {
        for segment in 0..8 {
            let name = format!("body.ring-{ring}.segment-{}", segment + 1);
            pieces.push((name, wood, block(f64::from(segment) * 45.0, 45.0, 0.05, 0.075, low, low + 0.02)));
        }
    }
    pieces.push(("lid.disc-1".to_owned(), 1, block(0.0, 360.0, 0.0, 0.075, 0.04, 0.05)));
    let (mut bytes, mut views, mut accessors, mut meshes, mut nodes) =
        (Vec::new(), Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let children: Vec<usize> = (1..=pieces.len()).collect();
    nodes.push(serde_json::json!({
        "name": "vessel", "children": children, "matrix": [1, 0, 0, 0, 0, 0, -1, 0, 0, 1, 0, 0, 0, 0, 0, 1]
    }));
    for (at, (name, wood, corners)) in pieces.iter().enumerate() {
        views.push(serde_json::json!({ "buffer": 0, "byteOffset": bytes.len(), "byteLength": corners.len() * 12 }));
        for number in corners.iter().flatten() {
            #[allow(clippy::cast_possible_truncation, reason = "glTF has no longer numbers")]
            bytes.extend((*number as f32).to_le_bytes());
        }
        accessors.push(serde_json::json!({
            "bufferView": at, "componentType": 5126, "count": corners.len(), "type": "VEC3"
        }));
        meshes.push(serde_json::json!({ "primitives": [{ "attributes": { "POSITION": at }, "material": wood }] }));
        let (part, _) = name.split_once('.').unwrap();
        let layer = name.split(".segment").next();
        nodes.push(serde_json::json!({ "name": name, "mesh": at, "extras": { "part": part, "layer": layer } }));
    }
    let material = |name: &str, color: [f64; 4]| serde_json::json!({ "name": name, "pbrMetallicRoughness": { "baseColorFactor": color } });
    let mut json = serde_json::json!({
        "asset": { "version": "2.0" }, "scene": 0, "scenes": [{ "nodes": [0] }], "nodes": nodes, "meshes": meshes,
        "materials": [material("maple", [0.76, 0.58, 0.35, 1.0]), material("walnut", [0.16, 0.08, 0.04, 1.0])],
        "accessors": accessors, "bufferViews": views, "buffers": [{ "byteLength": bytes.len() }]
    })
    .to_string()
    .into_bytes();
    json.resize(json.len().next_multiple_of(4), b' ');
    let word = |number: usize| u32::try_from(number).unwrap().to_le_bytes();
    let mut glb = b"glTF\x02\0\0\0".to_vec();
    glb.extend(word(28 + json.len() + bytes.len()));
    glb.extend(word(json.len()));
    glb.extend(b"JSON");
    glb.extend(json);
    glb.extend(word(bytes.len()));
    glb.extend(b"BIN\0");
    glb.extend(bytes);
    glb
}

/// The corners of the triangles of a part of a ring: from `start` degrees on, between two radii and two heights, meters.
fn block(start: f64, sweep: f64, inner: f64, outer: f64, low: f64, high: f64) -> Vec<[f64; 3]> {
    let steps = 6_u32.max(if sweep > 90.0 { 48 } else { 6 });
    let at = |step: u32, radius: f64, height: f64| {
        let angle = (start + sweep * f64::from(step) / f64::from(steps)).to_radians();
        [radius * libm::cos(angle), radius * libm::sin(angle), height]
    };
    let mut corners = Vec::new();
    let mut face = |a: [f64; 3], b: [f64; 3], c: [f64; 3], d: [f64; 3]| corners.extend([a, b, c, a, c, d]);
    for step in 0..steps {
        let next = step + 1;
        face(at(step, outer, low), at(next, outer, low), at(next, outer, high), at(step, outer, high));
        face(at(next, inner, low), at(step, inner, low), at(step, inner, high), at(next, inner, high));
        face(at(step, inner, high), at(step, outer, high), at(next, outer, high), at(next, inner, high));
        face(at(next, inner, low), at(next, outer, low), at(step, outer, low), at(step, inner, low));
    }
    if sweep < 360.0 {
        face(at(0, inner, low), at(0, outer, low), at(0, outer, high), at(0, inner, high));
        face(at(steps, outer, low), at(steps, inner, low), at(steps, inner, high), at(steps, outer, high));
    }
    corners
}
