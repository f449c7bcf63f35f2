//! Definition, references and renaming, over all recipes that are known.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use gen_lsp_types as lsp;
use lsp_server::ErrorCode;
use serde_json::Value;

use crate::compile::glance;
use crate::finding::{Finding, Severity};
use crate::lookup::Role;
use crate::lookup::names::{Found, Project, is_word};
use crate::source::{FileId, Span};

use super::asked::Known;
use super::diagnose::Places;
use super::session::{Refused, Session, read, written};
use super::worker::Haste;
use super::{Buffers, Placed};

/// Where a name is defined, for all recipes alike.
struct Target {
    path: PathBuf,
    start: u32,
    end: u32,
}

/// Where a name stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Place {
    path: PathBuf,
    start: u32,
    end: u32,
}

impl<W: Write> Session<'_, W> {
    pub(super) fn definition(&mut self, params: Value) -> Result<Value, Refused> {
        let params: lsp::TextDocumentPositionParams = read(params)?;
        let path = self.open_path(&params.text_document, Haste::Typing)?;
        let known = self.known(&path)?;
        let offset = known.document.text.offset(params.position);
        let Some(client) = &self.client else { return Ok(Value::Null) };
        let mut places = Places::new(&*known.seen.world, client, &self.uris);
        if let Some(used) = used_file(&known, offset) {
            return written(&places.location(Span::new(used, 0, 0)));
        }
        let found = known.project.definition_at(known.seen.root, offset);
        let span = found.and_then(|found| Some(found.definition()?.span));
        written(&span.map(|span| places.location(span)))
    }

    pub(super) fn references(&mut self, params: Value) -> Result<Value, Refused> {
        let params: lsp::ReferenceParams = read(params)?;
        let place = params.text_document_position_params;
        let path = self.open_path(&place.text_document, Haste::Typing)?;
        let known = self.known(&path)?;
        let Some(target) = target(&known, known.document.text.offset(place.position)) else { return Ok(Value::Null) };
        let mut found = self.places_of(&target, &self.buffers, params.context.include_declaration);
        found.sort();
        written(&self.locations(&found))
    }

    pub(super) fn highlights(&mut self, params: Value) -> Result<Value, Refused> {
        let params: lsp::TextDocumentPositionParams = read(params)?;
        let path = self.open_path(&params.text_document, Haste::Typing)?;
        let known = self.known(&path)?;
        let Some(found) = known.project.definition_at(known.seen.root, known.document.text.offset(params.position))
        else {
            return Ok(Value::Null);
        };
        let Some(definition) = found.definition() else { return Ok(Value::Null) };
        let uses = known.project.uses_of(definition.span);
        let own = uses.iter().map(|span| (span, lsp::DocumentHighlightKind::Read));
        let all = own.chain([(&definition.span, lsp::DocumentHighlightKind::Write)]);
        let all = all.filter(|(span, _)| span.file == known.seen.root);
        let highlight = |(span, kind): (&Span, _)| lsp::DocumentHighlight {
            range: known.document.text.range(*span),
            kind: Some(kind),
        };
        written(&all.map(highlight).collect::<Vec<_>>())
    }

    pub(super) fn prepare_rename(&mut self, params: Value) -> Result<Value, Refused> {
        let params: lsp::TextDocumentPositionParams = read(params)?;
        let path = self.open_path(&params.text_document, Haste::Typing)?;
        let known = self.known(&path)?;
        let offset = known.document.text.offset(params.position);
        let (span, name) = own_name(&known, offset)?;
        let range = known.document.text.range(span);
        written(&lsp::PrepareRenamePlaceholder { range, placeholder: name })
    }

    pub(super) fn rename(&mut self, params: Value) -> Result<Value, Refused> {
        let params: lsp::RenameParams = read(params)?;
        let place = params.text_document_position_params;
        let path = self.open_path(&place.text_document, Haste::Typing)?;
        let known = self.known(&path)?;
        let offset = known.document.text.offset(place.position);
        own_name(&known, offset)?;
        let new = params.new_name.trim();
        if !is_word(new) {
            let why = format!("`{new}` is no name: a name is of lower-case letters and digits, with hyphens between");
            return Err(Refused::new(ErrorCode::RequestFailed, why));
        }
        let Some(target) = target(&known, offset) else { return Ok(Value::Null) };
        let found = self.places_of(&target, &self.buffers, true);
        self.keeps_meaning(&target, &found, new)?;
        let mut changes: HashMap<lsp::Uri, Vec<lsp::TextEdit>> = HashMap::new();
        for lsp::Location { uri, range } in self.locations(&found) {
            changes.entry(uri).or_default().push(lsp::TextEdit { range, new_text: new.to_owned() });
        }
        written(&lsp::WorkspaceEdit { changes: Some(changes), ..lsp::WorkspaceEdit::default() })
    }

    /// Every recipe that is known and made of this file.
    fn users(&self, path: &Path) -> BTreeSet<PathBuf> {
        let mut users = self.recipes_with(path);
        users.insert(path.to_owned());
        users
    }

    fn places_of(&self, target: &Target, buffers: &Buffers, with_definition: bool) -> Vec<Place> {
        let mut found = BTreeSet::new();
        for user in self.users(&target.path) {
            let Some((world, root)) = self.disk.open(&user, buffers) else { continue };
            let project = Project::new(&*world, root);
            let files = project.files();
            let place_of = |file: FileId| if file == root { Some(user.clone()) } else { world.place(file) };
            let Some(file) = files.into_iter().find(|file| place_of(*file).as_ref() == Some(&target.path)) else {
                continue;
            };
            let definition = Span::new(file, target.start, target.end);
            for span in project.uses_of(definition) {
                found.extend(place_of(span.file).map(|path| Place { path, start: span.start, end: span.end }));
            }
        }
        if with_definition {
            found.insert(Place { path: target.path.clone(), start: target.start, end: target.end });
        }
        found.into_iter().collect()
    }

    /// Refuses a name that would be taken for something else.
    fn keeps_meaning(&self, target: &Target, found: &[Place], new: &str) -> Result<(), Refused> {
        let mut buffers = self.buffers.as_ref().clone();
        let files: BTreeSet<&PathBuf> = found.iter().map(|place| &place.path).collect();
        for path in files {
            let Some((world, root)) = self.disk.open(path, &self.buffers) else { continue };
            let mut text = world.file(root).text.clone();
            let mut places: Vec<&Place> = found.iter().filter(|place| place.path == *path).collect();
            places.sort_by_key(|place| std::cmp::Reverse(place.start));
            for place in places {
                text.replace_range(place.start as usize..place.end as usize, new);
            }
            buffers.insert(path.clone(), text.into());
        }
        let buffers = Arc::new(buffers);
        for user in self.users(&target.path) {
            let errors = |buffers: &Buffers| {
                let (world, root) = self.disk.open(&user, buffers)?;
                Some(errors(&*world, root))
            };
            let (before, after) = (errors(&self.buffers).unwrap_or_default(), errors(&buffers).unwrap_or_default());
            for (code, (count, message)) in after {
                if count > before.get(code).map_or(0, |(count, _)| *count) {
                    let why = format!("`{new}` cannot be the name: {message}");
                    return Err(Refused::new(ErrorCode::RequestFailed, why));
                }
            }
        }
        let shift = |place: &Place| {
            let before = found.iter().filter(|other| other.path == place.path && other.start < place.start).count();
            let moved = place.start as usize + before * new.len() - before * (place.end - place.start) as usize;
            u32::try_from(moved).unwrap_or(u32::MAX)
        };
        let own = Place { path: target.path.clone(), start: target.start, end: target.end };
        let start = shift(&own);
        let length = u32::try_from(new.len()).unwrap_or(u32::MAX);
        let renamed = Target { path: target.path.clone(), start, end: start + length };
        if self.places_of(&renamed, &buffers, true).len() == found.len() {
            return Ok(());
        }
        let why = format!("`{new}` is another name already, in reach of this one");
        Err(Refused::new(ErrorCode::RequestFailed, why))
    }

    /// As the editor names places, which are in the order of their files.
    fn locations(&self, places: &[Place]) -> Vec<lsp::Location> {
        let Some(client) = &self.client else { return Vec::new() };
        let mut locations = Vec::with_capacity(places.len());
        for of_file in places.chunk_by(|a, b| a.path == b.path) {
            let opened = of_file.first().and_then(|place| self.disk.open(&place.path, &self.buffers));
            let Some((world, root)) = opened else { continue };
            let mut texts = Places::new(&*world, client, &self.uris);
            locations.extend(of_file.iter().map(|place| texts.location(Span::new(root, place.start, place.end))));
        }
        locations
    }
}

/// How many errors there are of each code, and what the first says.
fn errors(world: &dyn Placed, root: FileId) -> BTreeMap<&'static str, (usize, String)> {
    let mut errors: BTreeMap<&'static str, (usize, String)> = BTreeMap::new();
    let is_error = |finding: &&Finding| finding.severity() == Severity::Error;
    for finding in glance(world, root).findings.iter().filter(is_error) {
        errors.entry(finding.code.name).or_insert_with(|| (0, finding.message.clone())).0 += 1;
    }
    errors
}

/// The file whose `use` stands at a place.
fn used_file(known: &Known<'_>, offset: u32) -> Option<FileId> {
    let reading = known.project.root();
    let mark = reading.mark_at(offset).filter(|mark| mark.role == Role::Path)?;
    let (_, path) = reading.uses.iter().find(|(span, _)| *span == mark.span)?;
    known.project.used(known.seen.root, path)
}

fn target(known: &Known<'_>, offset: u32) -> Option<Target> {
    let found = known.project.definition_at(known.seen.root, offset)?;
    let span = found.definition()?.span;
    let path = known.seen.world.place(span.file);
    let path = path.unwrap_or_else(|| super::uri::path(&known.document.uri));
    Some(Target { path, start: span.start, end: span.end })
}

/// The name at a place, if the writer gave it.
fn own_name(known: &Known<'_>, offset: u32) -> Result<(Span, String), Refused> {
    let refused = |why: String| Refused::new(ErrorCode::RequestFailed, why);
    let reading = known.project.root();
    let Some(mark) = reading.mark_at(offset) else { return Err(refused("there is no name here".to_owned())) };
    let word = reading.tree.text(mark.span).to_owned();
    let found: Option<Found> = known.project.definition_at(known.seen.root, offset);
    match (mark.role, found) {
        (Role::Definition(_) | Role::Use(..), Some(_)) => Ok((mark.span, word)),
        (Role::Use(..), None) => Err(refused(format!("`{word}` is no name that this recipe gives"))),
        _ => Err(refused(format!("`{word}` is a word of the language, not a name of this recipe"))),
    }
}
