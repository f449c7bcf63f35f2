//! glTF 2.0 in one binary file: a node and a mesh for each piece, a material for each wood. Meters, y upward under the root
//! node; each piece's own points count from its middle, so that single precision tells its thickness.

use serde_json::{Value, json};

use crate::output::sheet::Sheet;
use crate::quantity::trig;
use crate::resolve::{PartKind, RecipeWood};
use crate::view::solid::{Model, PieceOf, Solid};

use super::normals::{shaded, single};
use super::{name, names};

/// `glTF` as a number.
const MAGIC: u32 = 0x4654_6C67;
const JSON_CHUNK: u32 = 0x4E4F_534A;
const BIN_CHUNK: u32 = 0x004E_4942;

/// Types of numbers and uses of buffers, as glTF counts them.
const UNSIGNED_SHORT: u32 = 5123;
const UNSIGNED_INT: u32 = 5125;
const FLOAT: u32 = 5126;
const ARRAY_BUFFER: u32 = 34962;
const ELEMENT_ARRAY_BUFFER: u32 = 34963;

/// Turns z upward to y upward: a quarter turn about x, as x, y, z, w.
const UPWARD: [f64; 4] = [-std::f64::consts::FRAC_1_SQRT_2, 0.0, 0.0, std::f64::consts::FRAC_1_SQRT_2];

/// Steps of the middles of pieces, per meter: such numbers are exact in single precision.
const STEPS: f64 = 16384.0;

/// Turned and oiled wood.
const ROUGHNESS: f64 = 0.6;

/// Where no color is known: a middling brown.
const PLAIN: [u8; 3] = [0xb5, 0x8a, 0x60];

#[derive(Default)]
struct Buffers {
    points: Vec<u8>,
    normals: Vec<u8>,
    faces: Vec<u8>,
    accessors: Vec<Value>,
}

pub(super) fn write(sheet: &Sheet<'_>, model: &Model) -> Vec<u8> {
    let mut woods: Vec<usize> = model.pieces.iter().map(|piece| piece.wood).collect();
    woods.sort_unstable();
    woods.dedup();
    let (mut buffers, mut meshes) = (Buffers::default(), Vec::with_capacity(model.pieces.len()));
    // The root, its parts, their pieces.
    let parts: Vec<PartKind> = [PartKind::Body, PartKind::Lid]
        .into_iter()
        .filter(|part| model.pieces.iter().any(|piece| piece.part == *part))
        .collect();
    let mut children = vec![Vec::new(); parts.len()];
    let mut pieces = Vec::with_capacity(model.pieces.len());
    for (piece, name) in model.pieces.iter().zip(names(sheet, model)) {
        let middle = middle(piece);
        let material = woods.iter().position(|wood| *wood == piece.wood);
        let mut primitive = buffers.add(piece, middle);
        primitive["material"] = json!(material);
        let node = 1 + parts.len() + pieces.len();
        if let Some(part) = parts.iter().position(|part| *part == piece.part) {
            children[part].push(node);
        }
        let mut extras = json!({
            "part": piece.part.word(),
            "wood": sheet.wood(piece.wood),
            "volume_mm3": piece.volume.mm3(),
        });
        if let Some(layer) = layer(piece.is) {
            extras["layer"] = json!(sheet.layers().get(layer).map(|layer| layer.id.as_str()));
        }
        pieces.push(json!({ "name": name, "mesh": meshes.len(), "translation": middle, "extras": extras }));
        meshes.push(json!({ "name": name, "primitives": [primitive] }));
    }
    let mut nodes = vec![json!({ "name": sheet.name(), "rotation": UPWARD, "extras": lacks(sheet, model) })];
    if !parts.is_empty() {
        nodes[0]["children"] = json!((1..=parts.len()).collect::<Vec<_>>());
    }
    let of_parts = parts.iter().zip(children);
    nodes.extend(of_parts.map(|(part, children)| json!({ "name": part.word(), "children": children })));
    nodes.extend(pieces);
    let mut root = json!({
        "asset": { "version": "2.0", "generator": concat!("ringwright ", env!("CARGO_PKG_VERSION")) },
        "scene": 0,
        "scenes": [{ "name": sheet.name(), "nodes": [0] }],
        "nodes": nodes,
    });
    if model.pieces.is_empty() {
        return framed(&root, &[]);
    }
    let views = [(&buffers.points, Some(12), ARRAY_BUFFER), (&buffers.normals, Some(12), ARRAY_BUFFER)];
    let mut from = 0;
    let mut view = |bytes: &Vec<u8>, stride: Option<u32>, target: u32| {
        let mut view = json!({ "buffer": 0, "byteOffset": from, "byteLength": bytes.len(), "target": target });
        if let Some(stride) = stride {
            view["byteStride"] = json!(stride);
        }
        from += bytes.len();
        view
    };
    let mut told: Vec<Value> = views.iter().map(|(bytes, stride, target)| view(bytes, *stride, *target)).collect();
    told.push(view(&buffers.faces, None, ELEMENT_ARRAY_BUFFER));
    let bin = [buffers.points, buffers.normals, buffers.faces].concat();
    root["meshes"] = Value::Array(meshes);
    root["materials"] = woods.iter().map(|wood| material(sheet, *wood)).collect();
    root["accessors"] = Value::Array(buffers.accessors);
    root["bufferViews"] = Value::Array(told);
    root["buffers"] = json!([{ "byteLength": bin.len() }]);
    framed(&root, &bin)
}

impl Buffers {
    /// Adds a piece and tells its primitive.
    fn add(&mut self, piece: &Solid, middle: [f64; 3]) -> Value {
        let shaded = shaded(&piece.mesh);
        let count = shaded.vertices.len();
        let (mut least, mut greatest) = ([f32::INFINITY; 3], [f32::NEG_INFINITY; 3]);
        let points_from = self.points.len();
        for (point, normal) in &shaded.vertices {
            let at = single(meters(piece.mesh.points[*point as usize], middle));
            for (axis, along) in at.iter().enumerate() {
                least[axis] = least[axis].min(*along);
                greatest[axis] = greatest[axis].max(*along);
                self.points.extend_from_slice(&along.to_le_bytes());
            }
            for along in normal {
                self.normals.extend_from_slice(&along.to_le_bytes());
            }
        }
        let faces_from = self.faces.len();
        let corners = shaded.faces.iter().flatten();
        let is_short = count < usize::from(u16::MAX);
        if is_short {
            self.faces.extend(corners.flat_map(|corner| u16::try_from(*corner).unwrap_or(u16::MAX).to_le_bytes()));
        } else {
            self.faces.extend(corners.flat_map(|corner| corner.to_le_bytes()));
        }
        self.faces.resize(self.faces.len().next_multiple_of(4), 0);
        let first = self.accessors.len();
        self.accessors.push(json!({
            "bufferView": 0, "byteOffset": points_from, "componentType": FLOAT, "count": count, "type": "VEC3",
            "min": least, "max": greatest,
        }));
        self.accessors.push(json!({
            "bufferView": 1, "byteOffset": points_from, "componentType": FLOAT, "count": count, "type": "VEC3",
        }));
        self.accessors.push(json!({
            "bufferView": 2, "byteOffset": faces_from, "componentType": if is_short { UNSIGNED_SHORT } else { UNSIGNED_INT },
            "count": shaded.faces.len() * 3, "type": "SCALAR",
        }));
        json!({ "attributes": { "POSITION": first, "NORMAL": first + 1 }, "indices": first + 2 })
    }
}

/// From millimeters, counted from a piece's middle.
fn meters(point: [f64; 3], middle: [f64; 3]) -> [f64; 3] {
    let [x, y, z] = point;
    [x / 1e3 - middle[0], y / 1e3 - middle[1], z / 1e3 - middle[2]]
}

/// Near the middle of its bounds, meters.
fn middle(piece: &Solid) -> [f64; 3] {
    [0, 1, 2].map(|axis| {
        let along = piece.mesh.points.iter().map(|point| point[axis]);
        let (least, greatest) =
            along.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, greatest), at| (least.min(at), greatest.max(at)));
        (f64::midpoint(least, greatest) / 1e3 * STEPS).round() / STEPS + 0.0
    })
}

fn layer(is: PieceOf) -> Option<usize> {
    match is {
        PieceOf::Segment { layer, .. }
        | PieceOf::Spacer { layer, .. }
        | PieceOf::Plug { layer }
        | PieceOf::Whole { layer } => Some(layer),
        PieceOf::Insert { .. } => None,
    }
}

/// What the file does not show, by name.
fn lacks(sheet: &Sheet<'_>, model: &Model) -> Value {
    let part = |is: PieceOf| match is {
        PieceOf::Insert { insert } => {
            let built = sheet.design.vessel.inserts.get(insert);
            let said = built.and_then(|built| sheet.recipe.fittings.inserts.get(built.said));
            said.map_or(PartKind::Body, |said| said.seat.part())
        }
        PieceOf::Segment { layer, .. }
        | PieceOf::Spacer { layer, .. }
        | PieceOf::Plug { layer }
        | PieceOf::Whole { layer } => sheet.layers().get(layer).map_or(PartKind::Body, |layer| layer.part),
    };
    let named = |is: PieceOf| name(sheet, is, part(is));
    let absent: Vec<String> = model.absent.iter().map(|is| named(*is)).collect();
    let tenons: Vec<String> = model.unshown.iter().map(|insert| named(PieceOf::Insert { insert: *insert })).collect();
    json!({ "absent": absent, "tenon_alone": tenons })
}

fn material(sheet: &Sheet<'_>, wood: usize) -> Value {
    let row = sheet.recipe.woods.get(wood).and_then(RecipeWood::wood);
    let [red, green, blue] = row.and_then(|row| rgb(&row.color_srgb)).unwrap_or(PLAIN).map(linear);
    json!({
        "name": sheet.wood(wood),
        "pbrMetallicRoughness": {
            "baseColorFactor": [red, green, blue, 1.0],
            "metallicFactor": 0.0,
            "roughnessFactor": ROUGHNESS,
        },
    })
}

/// Of `#rrggbb`.
fn rgb(color: &str) -> Option<[u8; 3]> {
    let number = u32::from_str_radix(color.strip_prefix('#').filter(|digits| digits.len() == 6)?, 16).ok()?;
    let [_, red, green, blue] = number.to_be_bytes();
    Some([red, green, blue])
}

/// Light of a share of sRGB, by the curve of IEC 61966-2-1.
pub(super) fn linear(of_255: u8) -> f64 {
    let share = f64::from(of_255) / 255.0;
    if share <= 0.04045 { share / 12.92 } else { trig::pow((share + 0.055) / 1.055, 2.4) }
}

/// Header, JSON, and bytes, each a multiple of four long.
fn framed(root: &Value, bin: &[u8]) -> Vec<u8> {
    let mut json = root.to_string().into_bytes();
    json.resize(json.len().next_multiple_of(4), b' ');
    let whole = 12 + 8 + json.len() + if bin.is_empty() { 0 } else { 8 + bin.len() };
    let mut bytes = Vec::with_capacity(whole);
    let word = |bytes: &mut Vec<u8>, number: u32| bytes.extend_from_slice(&number.to_le_bytes());
    let long = |length: usize| u32::try_from(length).unwrap_or(u32::MAX);
    for number in [MAGIC, 2, long(whole), long(json.len()), JSON_CHUNK] {
        word(&mut bytes, number);
    }
    bytes.extend_from_slice(&json);
    if !bin.is_empty() {
        word(&mut bytes, long(bin.len()));
        word(&mut bytes, BIN_CHUNK);
        bytes.extend_from_slice(bin);
    }
    bytes
}
