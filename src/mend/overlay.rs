//! A world with some of its texts mended.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use crate::source::{FileId, SourceFile, UseError, World};

use super::{FileKey, Recipe};

/// Texts of the files that may be changed, as far as any was.
pub(super) type Texts = BTreeMap<FileKey, Arc<str>>;

/// What a recipe is compiled in: its own world, but for the texts that were mended.
pub struct Overlay<'w> {
    recipe: Recipe<'w>,
    texts: Texts,
    /// Every file that was asked for, with the text that was given.
    given: RefCell<BTreeMap<FileId, Arc<SourceFile>>>,
}

impl<'w> Overlay<'w> {
    pub(super) fn new(recipe: Recipe<'w>, texts: Texts) -> Self {
        let overlay = Self { recipe, texts, given: RefCell::default() };
        overlay.file(recipe.root);
        overlay
    }

    /// What a file that may be changed is known by.
    pub(super) fn key(&self, id: FileId) -> Option<FileKey> {
        (self.recipe.key)(id)
    }

    /// The text of a file that was opened here.
    pub(super) fn text(&self, key: FileKey) -> Option<Arc<str>> {
        let given = self.given.borrow();
        given.iter().find(|(id, _)| self.key(**id) == Some(key)).map(|(_, file)| Arc::from(file.text.as_str()))
    }

    /// Whether the file was opened here.
    pub(super) fn has(&self, key: FileKey) -> bool {
        self.given.borrow().keys().any(|id| self.key(*id) == Some(key))
    }
}

impl World for Overlay<'_> {
    fn open(&self, from: FileId, path: &str) -> Result<FileId, UseError> {
        let id = self.recipe.world.open(from, path)?;
        self.file(id);
        Ok(id)
    }

    fn file(&self, id: FileId) -> Arc<SourceFile> {
        if let Some(file) = self.given.borrow().get(&id) {
            return Arc::clone(file);
        }
        let file = self.recipe.world.file(id);
        let mended = self.key(id).and_then(|key| self.texts.get(&key));
        let file = match mended {
            Some(text) => Arc::new(SourceFile { id, name: file.name.clone(), text: text.to_string() }),
            None => file,
        };
        self.given.borrow_mut().insert(id, Arc::clone(&file));
        file
    }
}
