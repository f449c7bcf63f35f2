//! Names across files: where one is defined, where it is used.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use crate::source::{FileId, Span, World};
use crate::syntax::parse;

use super::reading::{Definition, Kind, Reading, Role};

/// A recipe with the files that it uses, each read when it is asked for.
pub struct Project<'w> {
    world: &'w dyn World,
    root: FileId,
    readings: RefCell<BTreeMap<FileId, Rc<Reading>>>,
}

/// A definition, as something that two recipes can agree on.
#[derive(Debug, Clone)]
pub struct Found {
    /// The file it stands in.
    pub reading: Rc<Reading>,
    /// Index into its definitions.
    pub index: usize,
}

impl Found {
    /// What is defined.
    #[must_use]
    pub fn definition(&self) -> Option<&Definition> {
        self.reading.definitions.get(self.index)
    }
}

impl<'w> Project<'w> {
    /// The recipe whose file is `root`.
    #[must_use]
    pub fn new(world: &'w dyn World, root: FileId) -> Self {
        Self { world, root, readings: RefCell::default() }
    }

    /// The recipe's own file.
    #[must_use]
    pub fn root(&self) -> Rc<Reading> {
        self.reading(self.root)
    }

    /// One file of it.
    #[must_use]
    pub fn reading(&self, file: FileId) -> Rc<Reading> {
        if let Some(known) = self.readings.borrow().get(&file) {
            return Rc::clone(known);
        }
        let reading = Rc::new(Reading::of(Rc::new(parse(&self.world.file(file)).value)));
        self.readings.borrow_mut().insert(file, Rc::clone(&reading));
        reading
    }

    /// The file that a `use` names.
    #[must_use]
    pub fn used(&self, from: FileId, path: &str) -> Option<FileId> {
        self.world.open(from, path).ok()
    }

    /// All its files, its own first.
    #[must_use]
    pub fn files(&self) -> Vec<FileId> {
        self.files_from(self.root)
    }

    /// `file` and all that it uses, those that come first before those that they use.
    fn files_from(&self, file: FileId) -> Vec<FileId> {
        let mut files = vec![file];
        let mut at = 0;
        while let Some(file) = files.get(at).copied() {
            at += 1;
            for (_, path) in &self.reading(file).uses {
                if let Some(used) = self.used(file, path).filter(|used| !files.contains(used)) {
                    files.push(used);
                }
            }
        }
        files
    }

    /// What the name at a byte of `file` is, whether it is given or used there.
    #[must_use]
    pub fn definition_at(&self, file: FileId, offset: u32) -> Option<Found> {
        let reading = self.reading(file);
        let mark = reading.mark_at(offset)?;
        match mark.role {
            Role::Definition(index) | Role::Use(_, Some(index)) => Some(Found { reading, index }),
            Role::Use(kind, None) => self.exported(file, kind, reading.tree.text(mark.span)),
            Role::Head(_)
            | Role::Clause(..)
            | Role::Choice(_)
            | Role::Pattern
            | Role::Glue
            | Role::Finish
            | Role::Code
            | Role::Function
            | Role::Number
            | Role::Text
            | Role::Path => None,
        }
    }

    /// What the files that `file` uses give by that name.
    fn exported(&self, file: FileId, kind: Kind, name: &str) -> Option<Found> {
        if matches!(kind, Kind::Layer | Kind::Key | Kind::Insert) {
            return None;
        }
        self.files_from(file).into_iter().skip(1).find_map(|used| {
            let reading = self.reading(used);
            let is_it = |known: &Definition| known.is_exported && known.kind == kind && known.name == name;
            let index = reading.definitions.iter().position(is_it)?;
            Some(Found { reading, index })
        })
    }

    /// The names of a kind that may be used in `file`, each with the place of its definition.
    #[must_use]
    pub fn known(&self, file: FileId, kind: Kind) -> Vec<Found> {
        let mut seen = BTreeSet::new();
        let mut known = Vec::new();
        for (at, used) in self.files_from(file).into_iter().enumerate() {
            let reading = self.reading(used);
            for (index, definition) in reading.definitions.iter().enumerate() {
                let is_within_reach = definition.kind == kind && (at == 0 || definition.is_exported);
                if is_within_reach && seen.insert(definition.name.clone()) {
                    known.push(Found { reading: Rc::clone(&reading), index });
                }
            }
        }
        known
    }

    /// Every place of this recipe where the name defined at `definition` stands, but for its definition.
    #[must_use]
    pub fn uses_of(&self, definition: Span) -> Vec<Span> {
        let mut uses = Vec::new();
        let Some(name) = self.name_at(definition) else { return uses };
        for file in self.files() {
            let reading = self.reading(file);
            for mark in &reading.marks {
                if !matches!(mark.role, Role::Use(..)) || reading.tree.text(mark.span) != name {
                    continue;
                }
                let found = self.definition_at(file, mark.span.start);
                if found.and_then(|found| Some(found.definition()?.span)) == Some(definition) {
                    uses.push(mark.span);
                }
            }
        }
        uses
    }

    fn name_at(&self, span: Span) -> Option<String> {
        self.files().contains(&span.file).then(|| self.reading(span.file).tree.text(span).to_owned())
    }
}

/// Every word of a file that makes a good name: lower-case letters and digits, with single hyphens between.
#[must_use]
pub fn is_word(name: &str) -> bool {
    name.starts_with(|c: char| c.is_ascii_lowercase())
        && name
            .split('-')
            .all(|part| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit()))
}
