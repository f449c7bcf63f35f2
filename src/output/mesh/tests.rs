//! Both files read again, against the model that they were written from.

use std::collections::BTreeSet;

use serde_json::Value;

use super::*;
use crate::compile::compile;
use crate::source::MapWorld;

const JAR: &str = "units mm\nvessel \"Jar\" {\n outside { at 0 diameter 80  at 100 diameter 96 }\n wall 9\n floor 10\n \
     body { disc walnut thick 10\n ring 8 [maple walnut] thick 30 spacer cherry 2\n ring 6 maple thick 40 }\n \
     lid { ring 12 [walnut maple] thick 10\n disc maple thick 10 }\n}\n";

fn with_jar(look: impl FnOnce(&Sheet<'_>, &Model)) {
    let (world, root) = MapWorld::of("jar.vessel", JAR);
    let compiled = compile(&world, root);
    let design = compiled.complete().unwrap_or_else(|| panic!("{:?}", compiled.findings));
    let sheet = Sheet::new(&design);
    look(&sheet, &model(sheet.recipe, design.vessel, Fineness::default()));
}

fn word(bytes: &[u8], at: usize) -> usize {
    u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()) as usize
}

fn number(bytes: &[u8], at: usize) -> f64 {
    f64::from(f32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()))
}

fn volume(corners: impl Iterator<Item = [[f64; 3]; 3]>) -> f64 {
    let of = |[[ax, ay, az], [bx, by, bz], [cx, cy, cz]]: [[f64; 3]; 3]| {
        ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
    };
    corners.map(of).sum::<f64>() / 6.0
}

#[test]
fn a_piece_has_a_name_of_its_own() {
    with_jar(|sheet, model| {
        let names = names(sheet, model);
        assert_eq!(names.iter().collect::<BTreeSet<_>>().len(), names.len());
        for name in ["body.disc-1", "body.ring-2.segment-8", "body.ring-2.spacer-1", "lid.ring-1.segment-12"] {
            assert!(names.iter().any(|other| other == name), "{name} in {names:?}");
        }
    });
}

/// By the glTF 2.0 specification: sections 4.4 (chunks), 3.6.2 (alignment, bounds), 3.7.2 (attributes).
#[test]
fn a_glb_holds_every_piece_in_its_place() {
    with_jar(|sheet, model| {
        let bytes = glb::write(sheet, model);
        assert_eq!(&bytes[..4], b"glTF");
        assert_eq!((word(&bytes, 4), word(&bytes, 8)), (2, bytes.len()));
        let long = word(&bytes, 12);
        assert_eq!((long % 4, &bytes[16..20]), (0, &b"JSON"[..]));
        let json: Value = serde_json::from_slice(&bytes[20..20 + long]).unwrap();
        let bin = &bytes[28 + long..];
        assert_eq!((word(&bytes, 20 + long), &bytes[24 + long..28 + long]), (bin.len(), &b"BIN\0"[..]));
        assert_eq!(json["buffers"][0]["byteLength"], bin.len());

        let at = |value: &Value| usize::try_from(value.as_u64().unwrap()).unwrap();
        let begins = |accessor: &Value| {
            let view = &json["bufferViews"][at(&accessor["bufferView"])];
            let from = at(&view["byteOffset"]) + at(&accessor["byteOffset"]);
            assert_eq!((from % 4, at(&view["byteOffset"]) % 4), (0, 0));
            from
        };
        let nodes = json["nodes"].as_array().unwrap();
        let pieces: Vec<&Value> = nodes.iter().filter(|node| node["mesh"].is_u64()).collect();
        assert_eq!(pieces.len(), model.pieces.len());
        for (node, piece) in pieces.iter().zip(&model.pieces) {
            let primitive = &json["meshes"][at(&node["mesh"])]["primitives"][0];
            let wood = &json["materials"][at(&primitive["material"])];
            assert_eq!(wood["name"], node["extras"]["wood"]);
            let accessor = |key: &Value| &json["accessors"][at(key)];
            let points = accessor(&primitive["attributes"]["POSITION"]);
            let normals = accessor(&primitive["attributes"]["NORMAL"]);
            let faces = accessor(&primitive["indices"]);
            assert_eq!(points["count"], normals["count"]);
            let triple = |from: usize, at: usize| [0, 4, 8].map(|by| number(bin, from + at * 12 + by));
            let all: Vec<[f64; 3]> = (0..at(&points["count"])).map(|at| triple(begins(points), at)).collect();
            for axis in 0..3 {
                let along = |pick: fn(f64, f64) -> f64| all.iter().map(|point| point[axis]).reduce(pick).unwrap();
                assert_eq!(points["min"][axis], along(f64::min));
                assert_eq!(points["max"][axis], along(f64::max));
            }
            for normal in 0..at(&normals["count"]) {
                let long: f64 = triple(begins(normals), normal).iter().map(|along| along * along).sum();
                assert!((long - 1.0).abs() < 1e-6);
            }
            assert_eq!(faces["componentType"], 5123);
            let corner = |place: usize| {
                let from = begins(faces) + place * 2;
                all[usize::from(u16::from_le_bytes([bin[from], bin[from + 1]]))]
            };
            let triangles = (0..at(&faces["count"]) / 3).map(|face| [0, 1, 2].map(|by| corner(face * 3 + by)));
            let off = volume(triangles) * 1e9 / piece.volume.mm3() - 1.0;
            assert!(off.abs() < 1e-6, "{}: {off}", node["name"]);
            // Its middle is where its points are.
            let first = piece.mesh.points[0];
            let near = all.iter().any(|point| {
                (0..3).all(|axis| {
                    let along = point[axis] + node["translation"][axis].as_f64().unwrap();
                    (along * 1e3 - first[axis]).abs() < 1e-5
                })
            });
            assert!(near, "{}", node["name"]);
        }
    });
}

/// sRGB's curve at its ends and at 50 % gray, which is 21.4 % of the light.
#[test]
fn colors_are_linear() {
    with_jar(|sheet, model| {
        let text = String::from_utf8_lossy(&glb::write(sheet, model)).into_owned();
        let from = text.find("\"baseColorFactor\":[").unwrap();
        let color: Vec<f64> =
            text[from + 19..].split(']').next().unwrap().split(',').map(|of| of.parse().unwrap()).collect();
        assert!(color.len() == 4 && color[..3].iter().all(|of| (0.0..1.0).contains(of)) && color[3] >= 1.0);
    });
    assert!((glb::linear(188) - 0.502_886).abs() < 1e-5 && glb::linear(0) <= 0.0 && glb::linear(255) >= 1.0);
}

/// Facets of the round wall have the normals of the circle, level faces their own: the crease stays sharp.
#[test]
fn normals_are_smooth_where_it_is_round_and_creased_where_it_is_not() {
    with_jar(|_, model| {
        let disc = &model.pieces[0];
        let shaded = normals::shaded(&disc.mesh);
        let (mut level, mut round) = (0, 0);
        for (point, [x, y, z]) in &shaded.vertices {
            let [px, py, _] = disc.mesh.points[*point as usize];
            let far = (px * px + py * py).sqrt();
            if z.abs() > 0.99 {
                level += 1;
            } else {
                round += 1;
                let along = (f64::from(*x) * px + f64::from(*y) * py) / far / f64::from(x.hypot(*y));
                assert!(along > 0.99, "{along}");
            }
        }
        assert!(level > 0 && round > 0, "{level} {round}");
    });
}

#[test]
fn an_stl_holds_every_triangle_in_millimeters() {
    with_jar(|_, model| {
        let bytes = stl::write(model);
        let count = word(&bytes, 80);
        assert_eq!(bytes.len(), 84 + count * 50);
        assert!(!bytes.starts_with(b"solid"));
        let corner =
            |face: usize, corner: usize| [0, 4, 8].map(|by| number(&bytes, 84 + face * 50 + 12 + corner * 12 + by));
        let held = volume((0..count).map(|face| [0, 1, 2].map(|at| corner(face, at))));
        let wood: f64 = model.pieces.iter().map(|piece| piece.volume.mm3()).sum();
        assert!((held / wood - 1.0).abs() < 1e-6, "{held} {wood}");
        // The normal told is the normal of the corners.
        for face in 0..count {
            let [a, b, c] = [0, 1, 2].map(|at| corner(face, at));
            let normal = [0, 4, 8].map(|by| number(&bytes, 84 + face * 50 + by));
            let cross = [
                (b[1] - a[1]) * (c[2] - a[2]) - (b[2] - a[2]) * (c[1] - a[1]),
                (b[2] - a[2]) * (c[0] - a[0]) - (b[0] - a[0]) * (c[2] - a[2]),
                (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]),
            ];
            assert!(cross.iter().zip(normal).map(|(a, b)| a * b).sum::<f64>() > 0.0);
        }
    });
}
