//! The whole way: one or several files to findings, plans and all documents.

use ringwright::compile::compile;

use super::{files, whole};

/// Compiles the files.
pub fn target(bytes: &[u8]) {
    let (world, root) = files::world(bytes);
    whole::check(&compile(&world, root), &world);
}
