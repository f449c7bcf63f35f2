//! Binary STL: one list of triangles, millimeters, z upward. Piece after piece, in the order of the model.

use crate::view::solid::Model;

use super::normals::{across, scaled, single};

/// The header is free, but "solid" would promise text.
const HEADER: &[u8] = b"ringwright binary STL, millimeters, z up";

pub(super) fn write(model: &Model) -> Vec<u8> {
    let triangles: usize = model.pieces.iter().map(|piece| piece.mesh.faces.len()).sum();
    let mut bytes = Vec::with_capacity(84 + triangles * 50);
    bytes.extend_from_slice(HEADER);
    bytes.resize(80, b' ');
    bytes.extend_from_slice(&u32::try_from(triangles).unwrap_or(u32::MAX).to_le_bytes());
    for piece in &model.pieces {
        for face in &piece.mesh.faces {
            let corners = face.map(|corner| single(piece.mesh.points[corner as usize]));
            let normal = single(scaled(across(&piece.mesh, face)));
            for number in normal.iter().chain(corners.iter().flatten()) {
                bytes.extend_from_slice(&number.to_le_bytes());
            }
            bytes.extend_from_slice(&[0, 0]);
        }
    }
    bytes
}
