//! Every piece of wood of the finished vessel as a closed solid.

use crate::quantity::Volume;
use crate::resolve::PartKind;

/// All pieces, body before lid, bench upward, counterclockwise in each layer; inserts last.
#[derive(Debug, Clone, Default)]
pub struct Model {
    /// The pieces.
    pub pieces: Vec<Solid>,
}

/// One piece of wood.
#[derive(Debug, Clone)]
pub struct Solid {
    /// What it is.
    pub is: PieceOf,
    /// Which part it turns with.
    pub part: PartKind,
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Its surface.
    pub mesh: Mesh,
    /// Of the wood, in closed form: what the mesh comes close to.
    pub volume: Volume,
}

/// What a piece is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PieceOf {
    /// A segment, stave or wedge of a layer, from 0 counterclockwise.
    Segment {
        /// Index into the vessel's layers.
        layer: usize,
        /// Which.
        segment: usize,
    },
    /// A strip on the joint before a segment.
    Spacer {
        /// Index into the vessel's layers.
        layer: usize,
        /// The segment behind it.
        segment: usize,
    },
    /// The round over the points of wedges.
    Plug {
        /// Index into the vessel's layers.
        layer: usize,
    },
    /// A disc, a sheet, or a ring of a cone: a layer of one piece.
    Whole {
        /// Index into the vessel's layers.
        layer: usize,
    },
    /// Let in.
    Insert {
        /// Index into the vessel's inserts.
        insert: usize,
    },
}

/// A closed surface of triangles, counterclockwise seen from outside. Each edge belongs to two of them, once each way.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Mesh {
    /// Millimeters.
    pub points: Vec<[f64; 3]>,
    /// Three of `points` each.
    pub faces: Vec<[u32; 3]>,
}
