//! Files written whole or not at all, and never over what a build did not write.

#![allow(clippy::disallowed_methods, reason = "what a build wrote is compared here, no recipe is read")]

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::output::Document;

use super::failure::Failure;

/// Beside the documents: a line `hash  name` for each that a build wrote.
const MANIFEST: &str = ".ringwright-build";

/// A folder that has been looked at and can take the documents.
pub(super) struct Folder {
    path: PathBuf,
    documents: Vec<Document>,
}

impl Folder {
    /// Looks whether every document can be written; writes nothing.
    pub(super) fn prepare(path: &Path, documents: Vec<Document>, force: bool) -> Result<Self, Failure> {
        if fs::symlink_metadata(path).is_ok() && !path.is_dir() {
            return Err(Failure::InTheWay(path.into(), "not a folder"));
        }
        let manifest = read_manifest(path);
        let mut foreign = Vec::new();
        for name in documents.iter().map(|document| document.name).chain([MANIFEST]) {
            let target = path.join(name);
            let Ok(data) = fs::symlink_metadata(&target) else { continue };
            if data.is_symlink() {
                return Err(Failure::InTheWay(target, "a link"));
            }
            if !data.is_file() {
                return Err(Failure::InTheWay(target, "not a plain file"));
            }
            if name != MANIFEST && !force {
                let bytes = fs::read(&target).map_err(|error| Failure::Read(target.clone(), error))?;
                // What would be written anyway can be nobody's loss.
                let is_same = documents.iter().any(|document| document.name == name && document.bytes == bytes);
                if !is_same && manifest.get(name) != Some(&hash(&bytes)) {
                    foreign.push(target);
                }
            }
        }
        if foreign.is_empty() { Ok(Self { path: path.into(), documents }) } else { Err(Failure::Overwrite(foreign)) }
    }

    /// Writes all documents; says which.
    pub(super) fn write(self) -> Result<String, Failure> {
        fs::create_dir_all(&self.path).map_err(|error| Failure::Write(self.path.clone(), error))?;
        // All bytes are on the disk under other names before the first document is replaced.
        let mut staged = Vec::new();
        let mut manifest = String::new();
        for document in &self.documents {
            let _ = writeln!(manifest, "{}  {}", hash(&document.bytes), document.name);
            staged.push(Staged::new(&self.path, document.name, &document.bytes)?);
        }
        staged.push(Staged::new(&self.path, MANIFEST, manifest.as_bytes())?);
        for file in staged {
            file.put()?;
        }
        let names: Vec<&str> = self.documents.iter().map(|document| document.name).collect();
        Ok(format!("\nwritten to {}: {}\n", self.path.display(), names.join(", ")))
    }
}

/// A file under a temporary name beside its target; taken away again unless it is put.
struct Staged {
    temporary: PathBuf,
    target: PathBuf,
    is_put: bool,
}

impl Staged {
    fn new(folder: &Path, name: &str, bytes: &[u8]) -> Result<Self, Failure> {
        let target = folder.join(name);
        let temporary = folder.join(format!(".{name}.{}.tmp", std::process::id()));
        let staged = Self { temporary, target, is_put: false };
        staged.fill(bytes).map_err(|error| Failure::Write(staged.target.clone(), error))?;
        Ok(staged)
    }

    fn fill(&self, bytes: &[u8]) -> io::Result<()> {
        // A new file only: a link that somebody laid under our name is not followed.
        let mut file = fs::OpenOptions::new().write(true).create_new(true).open(&self.temporary)?;
        file.write_all(bytes)?;
        file.flush()
    }

    fn put(mut self) -> Result<(), Failure> {
        fs::rename(&self.temporary, &self.target).map_err(|error| Failure::Write(self.target.clone(), error))?;
        self.is_put = true;
        Ok(())
    }
}

impl Drop for Staged {
    fn drop(&mut self) {
        if !self.is_put {
            let _ = fs::remove_file(&self.temporary);
        }
    }
}

/// Writes a new file whole; fails when there is one of that name.
pub(super) fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    if fs::symlink_metadata(path).is_ok() {
        return Err(Failure::Exists(path.into()));
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let name = path.file_name().ok_or_else(|| Failure::BadName(path.into()))?;
    Staged::new(folder, &name.to_string_lossy(), bytes)?.put()
}

/// The name of a recipe without its folder and extension.
pub(super) fn stem(recipe: &Path) -> PathBuf {
    if recipe == Path::new("-") {
        PathBuf::from("stdin")
    } else {
        recipe.file_stem().map(PathBuf::from).unwrap_or_default()
    }
}

fn read_manifest(folder: &Path) -> BTreeMap<String, String> {
    let text = fs::read_to_string(folder.join(MANIFEST)).unwrap_or_default();
    let rows = text.lines().filter_map(|line| line.split_once("  "));
    rows.map(|(hash, name)| (name.to_owned(), hash.to_owned())).collect()
}

fn hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold(String::with_capacity(64), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}
