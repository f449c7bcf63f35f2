//! `lsp`: starts the language server on the process's own streams.

use std::fs;
use std::io::{self, BufWriter};
use std::path::{Path, PathBuf};

use crate::server::{Buffers, Disk, Ended, Placed, serve};
use crate::source::FileId;

use super::paths::in_folder;
use super::{DiskWorld, Outcome};

/// Serves the editor that started the process, until it leaves.
pub(super) fn run() -> Outcome {
    // The lock cannot be kept, as reading is another thread's.
    match serve(&OwnDisk, io::stdin(), BufWriter::new(io::stdout().lock())) {
        Ended::Cleanly => Outcome::Clean,
        Ended::BrokenOff => Outcome::Denied,
    }
}

/// The machine's own disk.
struct OwnDisk;

impl Disk for OwnDisk {
    fn open(&self, path: &Path, buffers: &Buffers) -> Option<(Box<dyn Placed>, FileId)> {
        let (world, root) = DiskWorld::open_root_among(path, buffers).ok()?;
        Some((Box::new(world), root))
    }

    fn recipes(&self, folder: &Path) -> Vec<PathBuf> {
        in_folder(folder).recipes
    }

    fn without_links(&self, path: &Path) -> PathBuf {
        fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
    }
}

impl Placed for DiskWorld {
    fn place(&self, id: FileId) -> Option<PathBuf> {
        self.place(id)
    }
}
