//! An output folder: documents are written whole or not at all, and nothing is overwritten that no
//! build wrote.
//!
//! What a build wrote it remembers in `.ringwright-build`, a line for each document in the form of
//! `sha256sum`. A file whose hash is not there is somebody's work. Everything is checked before
//! anything is written; all texts are written beside their places before the first is renamed.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
use std::path::{Component, Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::compile::Complete;
use crate::output::{self, Document, Paper};

use super::lock::Lock;
use super::staged::{self, Staged};
use super::{DiskWorld, Failure};

/// The most that the documents of one vessel may be in all. The most segments that a vessel may have come to 1.3 GB; discs, of
/// which it may have more, to 2 GiB at some 90,000 by the estimate. The lengths within a `.glb` end at twice that.
const MOST_BYTES: u64 = 2 << 30;

/// The file that says what a build wrote.
const MANIFEST: &str = ".ringwright-build";

/// More than the manifest of any design has: a line of a hundred bytes for each layer's drawing.
const MANIFEST_LIMIT: u64 = 1 << 28;

/// Documents that may be written: every place was looked at.
#[derive(Debug)]
pub(super) struct Writing {
    folder: PathBuf,
    documents: Vec<Document>,
    seen: Look,
    force: bool,
}

/// How a folder stands to the documents that go there.
#[derive(Debug)]
struct Look {
    /// Which of them are not yet there as they shall be.
    new: Vec<usize>,
    /// What earlier builds wrote and nobody touched, but this one does not write.
    stale: Vec<String>,
    before: Manifest,
    after: Manifest,
}

/// What was done.
#[derive(Debug)]
pub(super) struct Written {
    pub(super) folder: PathBuf,
    /// How many documents were written.
    pub(super) new: usize,
    /// How many were there already, byte for byte.
    pub(super) unchanged: usize,
    /// Documents of earlier builds that were removed.
    pub(super) removed: Vec<String>,
    /// What is called as a document but is none of this design: somebody has edited it, so it stays.
    pub(super) strange: Vec<String>,
}

/// Hashes and names, and a hash of all that they were made from, where that is known. After a build that was broken off a
/// name may have two.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
struct Manifest(BTreeSet<(String, String)>, Option<String>);

/// What a manifest has before the hash of what all was made from; `sha256sum` passes over such a line.
const MADE_FROM: &str = "# made from ";

/// What all in the folder was made from, if it holds just what a build made, as it made it.
pub(super) fn built_from(folder: &Path) -> Option<String> {
    let manifest = Manifest::read(&folder.join(MANIFEST)).ok()??;
    let is_there =
        |(hash, name): &(String, String)| existing(&folder.join(name)).is_ok_and(|there| there.as_ref() == Some(hash));
    (!manifest.0.is_empty() && manifest.0.iter().all(is_there)).then_some(manifest.1)?
}

/// Whether a build has written into `folder`.
pub(super) fn is_built(folder: &Path) -> bool {
    matches!(Manifest::read(&folder.join(MANIFEST)), Ok(Some(manifest)) if !manifest.0.is_empty())
}

impl Writing {
    /// Looks at every place that would be written; writes nothing.
    ///
    /// # Errors
    /// [`Failure`]: there is more than [`MOST_BYTES`]; the folder is a file; a link, folder or device is in a document's place; without
    /// `force` also a file that no build wrote or that was edited since.
    pub(super) fn prepare(folder: &Path, documents: Vec<Document>, force: bool) -> Result<Self, Failure> {
        within(MOST_BYTES, folder, documents.iter().map(|document| document.bytes.len() as u64).sum())?;
        let seen = if folder.is_dir() {
            // In the midst of another build nothing is as any manifest says.
            let _lock = Lock::on(folder)?;
            Look::at(folder, &documents, force)?
        } else {
            match Look::at(folder, &documents, force) {
                // Another build has made the folder meanwhile.
                Err(Failure::WouldOverwrite { .. } | Failure::NotReplaceable { .. }) if folder.is_dir() => {
                    let _lock = Lock::on(folder)?;
                    Look::at(folder, &documents, force)?
                }
                seen => seen?,
            }
        };
        Ok(Self { folder: folder.to_owned(), documents, seen, force })
    }

    /// The same, where it is known what all was made from.
    pub(super) fn made_from(mut self, from: Option<String>) -> Self {
        self.seen.after.1 = from;
        self
    }

    /// Writes them. When that fails before the first rename, the folder is as it was.
    ///
    /// # Errors
    /// [`Failure::CannotWrite`], [`Failure::Busy`]; those of [`Self::prepare`] when another build came between.
    pub(super) fn write(self) -> Result<Written, Failure> {
        let is_new = !self.folder.exists();
        let folder = self.folder.clone();
        let written = self.write_alone();
        if written.is_err() && is_new {
            // Only succeeds when it is empty, as it was when we made it.
            let _ = fs::remove_dir(&folder);
        }
        written
    }

    fn write_alone(mut self) -> Result<Written, Failure> {
        if let Err(cause) = fs::create_dir_all(&self.folder) {
            return Err(if self.folder.is_symlink() && !self.folder.exists() {
                Failure::NotReplaceable { path: shown(&self.folder), what: "a link that leads nowhere" }
            } else {
                cannot(&self.folder, cause)
            });
        }
        let _lock = Lock::on(&self.folder)?;
        self.look_again()?;
        self.sweep();
        self.write_all()?;
        let new = self.seen.new.len();
        let unchanged = self.documents.len() - new;
        let strange = strange(&self.folder, &self.documents);
        Ok(Written { folder: self.folder, new, unchanged, removed: self.seen.stale, strange })
    }

    /// Looks once more if another build has written to the folder since.
    fn look_again(&mut self) -> Result<(), Failure> {
        let path = self.folder.join(MANIFEST);
        let on_disk = if existing(&path)?.is_some() { Manifest::read(&path)? } else { None };
        if on_disk.unwrap_or_default() != self.seen.before {
            let from = self.seen.after.1.take();
            self.seen = Look::at(&self.folder, &self.documents, self.force)?;
            self.seen.after.1 = from;
        }
        Ok(())
    }

    /// Takes away what builds that were broken off have left beside the places of documents. Whoever holds the lock writes
    /// nothing of the kind at this moment. What it was building may have been another design, and no manifest may tell of it.
    fn sweep(&self) {
        let names: BTreeSet<&str> = self
            .seen
            .before
            .0
            .union(&self.seen.after.0)
            .map(|(_, name)| name.as_str())
            .chain([MANIFEST.trim_start_matches('.')])
            .collect();
        let Ok(entries) = fs::read_dir(&self.folder) else { return };
        for entry in entries.flatten() {
            if entry
                .file_name()
                .to_str()
                .and_then(staged::place_of)
                .is_some_and(|place| names.contains(place) || output::is_document(place))
            {
                // What cannot be taken away harms nobody.
                let _ = fs::remove_file(entry.path());
            }
        }
    }

    fn write_all(&self) -> Result<(), Failure> {
        let mut staged = Vec::new();
        for document in self.seen.new.iter().map(|&at| &self.documents[at]) {
            staged.push(Staged::write(&self.folder, &document.name, &document.bytes)?);
        }
        // The old and the new hashes first: so a build that is broken off between two renames
        // leaves nothing behind that the next one would take for somebody's work.
        let both = Manifest(self.seen.before.0.union(&self.seen.after.0).cloned().collect(), None);
        if both.0 != self.seen.before.0 {
            self.write_manifest(&both)?;
        }
        for file in staged {
            file.rename()?;
        }
        for name in &self.seen.stale {
            let path = self.folder.join(name);
            fs::remove_file(&path).map_err(|cause| cannot(&path, cause))?;
        }
        if both != self.seen.after {
            self.write_manifest(&self.seen.after)?;
        }
        Ok(())
    }

    fn write_manifest(&self, manifest: &Manifest) -> Result<(), Failure> {
        Staged::write(&self.folder, MANIFEST, manifest.text().as_bytes())?.rename()
    }
}

impl Look {
    fn at(folder: &Path, documents: &[Document], force: bool) -> Result<Self, Failure> {
        match fs::metadata(folder) {
            Ok(about) if !about.is_dir() => return Err(Failure::NotAFolder { path: shown(folder) }),
            Err(error) if error.kind() == ErrorKind::NotADirectory => {
                return Err(Failure::CannotWrite { path: shown(folder), cause: error });
            }
            Ok(_) | Err(_) => {}
        }
        let mut foreign = Vec::new();
        let manifest_path = folder.join(MANIFEST);
        let before = match existing(&manifest_path)? {
            None => Manifest::default(),
            Some(_) => match Manifest::read(&manifest_path)? {
                Some(manifest) => manifest,
                None if force => Manifest::default(),
                None => {
                    foreign.push(shown(&manifest_path));
                    Manifest::default()
                }
            },
        };
        let mut after = Manifest::default();
        let mut new = Vec::new();
        for (at, document) in documents.iter().enumerate() {
            let path = folder.join(&*document.name);
            let hash = hash(&document.bytes);
            let present = existing(&path)?;
            if present.as_ref() != Some(&hash) {
                let is_ours = |present: &str| before.has(present, &document.name) && !is_protected(&path);
                if present.is_some_and(|present| !force && !is_ours(&present)) {
                    foreign.push(shown(&path));
                }
                new.push(at);
            }
            after.0.insert((hash, document.name.clone().into_owned()));
        }
        if !foreign.is_empty() {
            return Err(Failure::WouldOverwrite { paths: foreign });
        }
        let stale = before.untouched_besides(&after, folder);
        Ok(Self { new, stale, before, after })
    }
}

impl Manifest {
    /// The manifest at `path`; none when the file there is not one.
    fn read(path: &Path) -> Result<Option<Self>, Failure> {
        let mut text = String::new();
        let read = File::open(path).and_then(|file| file.take(MANIFEST_LIMIT).read_to_string(&mut text));
        match read {
            Ok(_) => Ok(Self::parse(&text)),
            Err(error) if error.kind() == ErrorKind::InvalidData => Ok(None),
            Err(cause) => Err(Failure::CannotRead { path: shown(path), cause }),
        }
    }

    fn parse(text: &str) -> Option<Self> {
        let entry = |line: &str| {
            let (hash, name) = line.split_once("  ")?;
            let is_hash = hash.len() == 64 && hash.bytes().all(|byte| byte.is_ascii_hexdigit());
            // A name with folders in it would reach out of ours.
            let mut steps = Path::new(name).components();
            let is_name = matches!((steps.next(), steps.next()), (Some(Component::Normal(step)), None) if step == name);
            (is_hash && is_name).then(|| (hash.to_owned(), name.to_owned()))
        };
        let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
        let from = first.strip_prefix(MADE_FROM).map(str::to_owned);
        let lines = if from.is_some() { rest } else { text };
        lines.lines().map(entry).collect::<Option<_>>().map(|files| Self(files, from))
    }

    fn text(&self) -> String {
        let mut by_name: Vec<_> = self.0.iter().collect();
        by_name.sort_by_key(|(_, name)| name);
        let first = self.1.as_ref().map_or_else(String::new, |from| format!("{MADE_FROM}{from}\n"));
        by_name.into_iter().fold(first, |mut text, (hash, name)| {
            let _ = writeln!(text, "{hash}  {name}");
            text
        })
    }

    fn has(&self, hash: &str, name: &str) -> bool {
        self.0.contains(&(hash.to_owned(), name.to_owned()))
    }

    /// Files that are as they were written but that `after` does not write.
    fn untouched_besides(&self, after: &Self, folder: &Path) -> Vec<String> {
        let written: BTreeSet<&String> = after.0.iter().map(|(_, name)| name).collect();
        let is_stale = |entry: &&(String, String)| {
            let (hash, name) = entry;
            let path = folder.join(name);
            let is_there = || existing(&path).is_ok_and(|present| present.as_ref() == Some(hash));
            !written.contains(name) && is_there() && !is_protected(&path)
        };
        self.0.iter().filter(is_stale).map(|(_, name)| name.clone()).collect()
    }
}

/// Whether somebody has said that the file shall stay as it is. To put another in its place would not ask for that.
fn is_protected(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|about| about.permissions().readonly())
}

/// What lies in `folder` under the name of a document and is none of `documents`, ordered.
fn strange(folder: &Path, documents: &[Document]) -> Vec<String> {
    let own: BTreeSet<&str> = documents.iter().map(|document| &*document.name).collect();
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let names = entries.filter_map(|entry| entry.file_name().into_string().ok());
    let strange: BTreeSet<String> =
        names.filter(|name| output::is_document(name) && !own.contains(name.as_str())).collect();
    strange.into_iter().collect()
}

/// All documents of a design for this folder. What would be far too much is refused before it fills the memory.
///
/// # Errors
/// [`Failure::TooMuch`].
pub(super) fn documents(
    design: &Complete<'_>,
    world: &DiskWorld,
    paper: Option<Paper>,
    folder: &Path,
) -> Result<Vec<Document>, Failure> {
    within(MOST_BYTES, folder, output::expected_bytes(design))?;
    Ok(output::documents_on(design, world, paper))
}

/// Refuses more bytes than `most`.
fn within(most: u64, folder: &Path, bytes: u64) -> Result<(), Failure> {
    if bytes > most {
        return Err(Failure::TooMuch { path: shown(folder), bytes, most });
    }
    Ok(())
}

/// The hash of the plain file at `path`, if there is anything.
///
/// # Errors
/// [`Failure::NotReplaceable`] for all that is not a plain file, [`Failure::CannotRead`].
pub(super) fn existing(path: &Path) -> Result<Option<String>, Failure> {
    let unreadable = |cause| Failure::CannotRead { path: shown(path), cause };
    let about = match fs::symlink_metadata(path) {
        Ok(about) => about,
        Err(error) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => return Ok(None),
        Err(error) => return Err(unreadable(error)),
    };
    let what = if about.is_symlink() {
        "a link"
    } else if about.is_dir() {
        "a folder"
    } else if about.is_file() {
        let mut hasher = Sha256::new();
        let mut file = File::open(path).map_err(unreadable)?;
        io::copy(&mut file, &mut hasher).map_err(unreadable)?;
        return Ok(Some(hex(&hasher.finalize())));
    } else {
        "not a plain file"
    };
    Err(Failure::NotReplaceable { path: shown(path), what })
}

fn hash(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

pub(super) fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

fn cannot(path: &Path, cause: io::Error) -> Failure {
    Failure::CannotWrite { path: shown(path), cause }
}

fn shown(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}

#[cfg(test)]
mod tests;
