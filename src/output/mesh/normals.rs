//! A surface to vertices with normals: smooth over what is round, creased where planes meet.

use crate::view::solid::Mesh;

/// Faces that turn by less than this (its cosine) go on smoothly: 30°.
const SMOOTH: f64 = 0.866;

/// A vertex for every normal that a point has.
#[derive(Debug, Default)]
pub(super) struct Shaded {
    /// Point of the mesh and normal, of length 1.
    pub vertices: Vec<(u32, [f32; 3])>,
    /// Three of them each.
    pub faces: Vec<[u32; 3]>,
}

pub(super) fn shaded(mesh: &Mesh) -> Shaded {
    // Normals as long as twice the faces' areas, so that large faces count for more.
    let across: Vec<[f64; 3]> = mesh.faces.iter().map(|face| across(mesh, face)).collect();
    let ways: Vec<[f64; 3]> = across.iter().map(|across| scaled(*across)).collect();
    // The faces round each point, one after the other in one list.
    let mut starts = vec![0_usize; mesh.points.len() + 1];
    for corner in mesh.faces.iter().flatten() {
        starts[*corner as usize + 1] += 1;
    }
    for at in 1..starts.len() {
        starts[at] += starts[at - 1];
    }
    let (mut next, mut round) = (starts.clone(), vec![0_usize; mesh.faces.len() * 3]);
    for (at, face) in mesh.faces.iter().enumerate() {
        for corner in face {
            round[next[*corner as usize]] = at;
            next[*corner as usize] += 1;
        }
    }
    let mut shaded =
        Shaded { vertices: Vec::with_capacity(mesh.points.len() * 2), faces: vec![[0; 3]; mesh.faces.len()] };
    for (point, bounds) in (0_u32..).zip(starts.windows(2)) {
        let first = shaded.vertices.len();
        for face in &round[bounds[0]..bounds[1]] {
            let alike = round[bounds[0]..bounds[1]].iter().filter(|other| dot(ways[*face], ways[**other]) >= SMOOTH);
            let sum = alike.fold([0.0; 3], |[x, y, z], other| {
                let [a, b, c] = across[*other];
                [x + a, y + b, z + c]
            });
            let normal = single(scaled(sum));
            let known = shaded.vertices[first..]
                .iter()
                .position(|(_, other)| other.map(f32::to_bits) == normal.map(f32::to_bits));
            let vertex = known.map_or(shaded.vertices.len(), |known| first + known);
            if known.is_none() {
                shaded.vertices.push((point, normal));
            }
            for (corner, place) in mesh.faces[*face].iter().zip(&mut shaded.faces[*face]) {
                if *corner == point {
                    *place = u32::try_from(vertex).unwrap_or(u32::MAX);
                }
            }
        }
    }
    shaded
}

/// Square to a face, outward.
pub(super) fn across(mesh: &Mesh, face: &[u32; 3]) -> [f64; 3] {
    let [a, b, c] = face.map(|corner| mesh.points[corner as usize]);
    let ([ux, uy, uz], [vx, vy, vz]) = (from(a, b), from(a, c));
    [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]
}

/// To length 1; what has none points upward.
pub(super) fn scaled(way: [f64; 3]) -> [f64; 3] {
    let long = dot(way, way).sqrt();
    if long > 0.0 { way.map(|along| along / long) } else { [0.0, 0.0, 1.0] }
}

#[allow(clippy::cast_possible_truncation, reason = "the files are in single precision")]
pub(super) fn single(point: [f64; 3]) -> [f32; 3] {
    // Adding zero makes zero of minus zero.
    point.map(|along| along as f32 + 0.0)
}

fn from([ax, ay, az]: [f64; 3], [bx, by, bz]: [f64; 3]) -> [f64; 3] {
    [bx - ax, by - ay, bz - az]
}

fn dot([ax, ay, az]: [f64; 3], [bx, by, bz]: [f64; 3]) -> f64 {
    ax * bx + ay * by + az * bz
}
