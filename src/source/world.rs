//! What compiling may ask of the outside: the text of a file, and the file that a `use` names.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::FileId;

/// One text with the name that people know it by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceFile {
    /// Its number in the world that opened it.
    pub id: FileId,
    /// The name to show: relative to where the user stands, never absolute in an output.
    pub name: String,
    /// The whole text.
    pub text: String,
}

/// Why a `use` could not be followed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum UseError {
    /// There is no such file.
    NotFound,
    /// The path leaves the recipe's project folder; the folder is named.
    OutsideProject(String),
    /// It is there but cannot be read as a recipe; the reason in words.
    Unreadable(String),
}

/// All that compiling may ask of the outside. The disk, open editors and test maps implement it.
pub trait World {
    /// Opens `path` as written in a `use` of `from`. The same file always gets the same id.
    ///
    /// # Errors
    /// [`UseError`]: not found, unreadable, or outside the project folder.
    fn open(&self, from: FileId, path: &str) -> Result<FileId, UseError>;

    /// A file that was opened before.
    fn file(&self, id: FileId) -> Arc<SourceFile>;
}

/// A world made of texts in memory, for tests, examples and standard input.
#[derive(Debug, Default)]
pub struct MapWorld {
    texts: BTreeMap<String, String>,
    opened: RefCell<Vec<Arc<SourceFile>>>,
}

impl MapWorld {
    /// A world whose only file is `root`, with its id.
    #[must_use]
    pub fn of(name: &str, text: &str) -> (Self, FileId) {
        let mut world = Self::default();
        world.add(name, text);
        let id = world.root(name).unwrap_or(FileId(0));
        (world, id)
    }

    /// Adds a file that a `use` can name.
    pub fn add(&mut self, name: &str, text: &str) -> &mut Self {
        self.texts.insert(name.to_owned(), text.to_owned());
        self
    }

    /// Opens `name` as the recipe to compile.
    #[must_use]
    pub fn root(&self, name: &str) -> Option<FileId> {
        self.open(FileId(0), name).ok()
    }
}

impl World for MapWorld {
    fn open(&self, _from: FileId, path: &str) -> Result<FileId, UseError> {
        if path.starts_with('/') || path.split('/').any(|step| step == "..") {
            return Err(UseError::OutsideProject("the project".to_owned()));
        }
        let mut opened = self.opened.borrow_mut();
        if let Some(file) = opened.iter().find(|file| file.name == path) {
            return Ok(file.id);
        }
        let text = self.texts.get(path).ok_or(UseError::NotFound)?.clone();
        let id = FileId(u32::try_from(opened.len()).unwrap_or(u32::MAX));
        opened.push(Arc::new(SourceFile { id, name: path.to_owned(), text }));
        Ok(id)
    }

    fn file(&self, id: FileId) -> Arc<SourceFile> {
        let opened = self.opened.borrow();
        opened
            .get(id.0 as usize)
            .cloned()
            .unwrap_or_else(|| Arc::new(SourceFile { id, name: String::new(), text: String::new() }))
    }
}
