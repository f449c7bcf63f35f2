//! A disk in memory, with one shop file on it.

use std::cell::RefCell;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use ringwright::server::{Buffers, Disk, Placed};
use ringwright::source::{FileId, SourceFile, UseError, World};

/// What lies on it.
pub const WORKSHOP: &str = include_str!("../../../recipes/workshop.vessel");

/// Where it lies.
pub const WORKSHOP_PATH: &str = "/bench/workshop.vessel";

/// The disk.
pub struct Memory;

impl Disk for Memory {
    fn open(&self, path: &Path, buffers: &Buffers) -> Option<(Box<dyn Placed>, FileId)> {
        let opened = Opened { buffers: Arc::clone(buffers), files: RefCell::default() };
        let id = opened.find(path)?;
        Some((Box::new(opened), id))
    }

    fn recipes(&self, folder: &Path) -> Vec<PathBuf> {
        let path = PathBuf::from(WORKSHOP_PATH);
        if path.starts_with(folder) { vec![path] } else { Vec::new() }
    }

    fn without_links(&self, path: &Path) -> PathBuf {
        path.to_owned()
    }
}

/// The files of one recipe.
struct Opened {
    buffers: Buffers,
    files: RefCell<Vec<(PathBuf, Arc<SourceFile>)>>,
}

impl Opened {
    fn find(&self, path: &Path) -> Option<FileId> {
        let mut files = self.files.borrow_mut();
        if let Some((_, file)) = files.iter().find(|(known, _)| known == path) {
            return Some(file.id);
        }
        let on_disk = (path == Path::new(WORKSHOP_PATH)).then(|| Arc::from(WORKSHOP));
        let text: Arc<str> = self.buffers.get(path).cloned().or(on_disk)?;
        let id = FileId(u32::try_from(files.len()).ok()?);
        let name = path.to_string_lossy().into_owned();
        files.push((path.to_owned(), Arc::new(SourceFile { id, name, text: text.to_string() })));
        Some(id)
    }
}

impl World for Opened {
    fn open(&self, from: FileId, path: &str) -> Result<FileId, UseError> {
        let place = self.place(from).unwrap_or_default();
        let folder = place.parent().unwrap_or(Path::new(""));
        self.find(&folder.join(path)).ok_or(UseError::NotFound)
    }

    fn file(&self, id: FileId) -> Arc<SourceFile> {
        let files = self.files.borrow();
        let known = files.get(id.0 as usize).map(|(_, file)| Arc::clone(file));
        known.unwrap_or_else(|| Arc::new(SourceFile { id, name: String::new(), text: String::new() }))
    }
}

impl Placed for Opened {
    fn place(&self, id: FileId) -> Option<PathBuf> {
        self.files.borrow().get(id.0 as usize).map(|(path, _)| path.clone())
    }
}
