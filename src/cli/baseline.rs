//! The findings that are known of old designs and are not told again: a file in the project.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::Failure;
use super::folder::existing;
use super::staged::Staged;

/// The form of the file; another form takes another number.
const VERSION: u32 = 1;

/// More than any baseline has.
const SIZE_LIMIT: u64 = 64 << 20;

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct BaselineFile {
    version: u32,
    entries: Vec<Entry>,
}

/// One known finding. The fingerprint alone decides; the rest is for those who read the file.
/// The order of the fields is that of the file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Entry {
    /// As [`crate::finding::Fingerprints`] makes it.
    pub(super) fingerprint: String,
    /// Its code.
    pub(super) code: String,
    /// The file it is in, seen from the current folder.
    pub(super) file: String,
    /// What it said when it was written down.
    pub(super) message: String,
}

/// What a run knows, meets and writes down.
#[derive(Debug, Default)]
pub(super) struct Baseline {
    read: Option<Known>,
    write: Option<PathBuf>,
    /// What is found by a run that writes a baseline of its own.
    found: Vec<Entry>,
    /// How many findings were left out.
    left_out: usize,
}

/// A baseline that was read.
#[derive(Debug)]
struct Known {
    path: PathBuf,
    entries: BTreeMap<String, Entry>,
    /// Fingerprints that occurred.
    met: BTreeSet<String>,
    /// Files that were looked at.
    files: BTreeSet<String>,
}

impl Baseline {
    /// Reads the baseline at `read`, and sees that one may be written to `write`.
    ///
    /// # Errors
    /// [`Failure`]: it is not there, cannot be read, or is no baseline; what is in the place to write to is neither.
    pub(super) fn open(read: Option<&Path>, write: Option<&Path>) -> Result<Self, Failure> {
        if let Some(path) = write
            && existing(path)?.is_some()
        {
            entries_of(path)?;
        }
        let known = |path: &Path| -> Result<Known, Failure> {
            let entries = entries_of(path)?.into_iter().map(|entry| (entry.fingerprint.clone(), entry)).collect();
            Ok(Known { path: path.to_owned(), entries, met: BTreeSet::new(), files: BTreeSet::new() })
        };
        Ok(Self { read: read.map(known).transpose()?, write: write.map(Path::to_owned), ..Self::default() })
    }

    /// Whether a run needs fingerprints.
    pub(super) fn is_used(&self) -> bool {
        self.read.is_some() || self.write.is_some()
    }

    /// Notes that a file was looked at.
    pub(super) fn saw(&mut self, file: String) {
        if let Some(known) = &mut self.read {
            known.files.insert(file);
        }
    }

    /// Whether this finding is known, or is from now on; then it is not told.
    pub(super) fn has(&mut self, entry: impl FnOnce() -> Entry, fingerprint: &str) -> bool {
        let is_known = match &mut self.read {
            Some(known) => {
                let is_known = known.entries.contains_key(fingerprint);
                if is_known {
                    known.met.insert(fingerprint.to_owned());
                }
                is_known
            }
            None if self.write.is_some() => {
                self.found.push(entry());
                true
            }
            None => false,
        };
        self.left_out += usize::from(is_known);
        is_known
    }

    /// Writes the file that was asked for, and says in a line what was left out.
    ///
    /// # Errors
    /// [`Failure::CannotWrite`].
    pub(super) fn finish(self) -> Result<Option<String>, Failure> {
        let left_out = self.left_out;
        let Some(known) = self.read else {
            let Some(path) = &self.write else { return Ok(None) };
            write(path, self.found)?;
            let line = format!("{} written to {}: not told from now on", findings(left_out), path.display());
            return Ok(Some(line));
        };
        let gone: BTreeSet<&str> = known.gone().collect();
        let shown = known.path.display();
        if let Some(path) = &self.write {
            let kept = known.entries.values().filter(|entry| !gone.contains(entry.fingerprint.as_str()));
            write(path, kept.cloned().collect())?;
            let line = format!(
                "{} of {shown} left out; {} that no longer occur{} taken out of {}",
                findings(left_out),
                entries(gone.len()),
                if gone.len() == 1 { "s is" } else { " are" },
                path.display()
            );
            return Ok(Some(line));
        }
        let told = format!("{} of {shown} left out", findings(left_out));
        Ok(match gone.len() {
            0 if left_out == 0 => None,
            0 => Some(told),
            count => Some(format!(
                "{told}; {} no longer occur{} (run with --write-baseline to shrink it)",
                entries(count),
                if count == 1 { "s" } else { "" }
            )),
        })
    }
}

impl Known {
    /// Entries that were not met though their file was looked at, or is not there any more.
    fn gone(&self) -> impl Iterator<Item = &str> {
        self.entries.values().filter_map(|entry| {
            let is_looked_at = self.files.contains(&entry.file) || fs::symlink_metadata(&entry.file).is_err();
            let is_gone = is_looked_at && !self.met.contains(&entry.fingerprint);
            is_gone.then_some(entry.fingerprint.as_str())
        })
    }
}

/// The entries of the baseline at `path`.
fn entries_of(path: &Path) -> Result<Vec<Entry>, Failure> {
    let shown = path.to_string_lossy().into_owned();
    let foreign = |reason: String| Failure::NotABaseline { path: shown.clone(), reason };
    let unreadable = |cause| Failure::CannotRead { path: shown.clone(), cause };
    match fs::metadata(path) {
        Ok(about) if about.is_file() => {}
        Ok(_) => return Err(Failure::NotAFile { path: shown }),
        Err(error) if error.kind() == ErrorKind::NotFound => return Err(Failure::NotFound { path: shown }),
        Err(error) => return Err(unreadable(error)),
    }
    let mut bytes = Vec::new();
    File::open(path).and_then(|file| file.take(SIZE_LIMIT).read_to_end(&mut bytes)).map_err(unreadable)?;
    // The number first: a later form may have other fields.
    let value: serde_json::Value = serde_json::from_slice(&bytes).map_err(|error| foreign(error.to_string()))?;
    match value.get("version").and_then(serde_json::Value::as_u64) {
        None => return Err(foreign("it has no `version`".to_owned())),
        Some(version) if version != u64::from(VERSION) => {
            return Err(foreign(format!("it is of version {version}, and this program knows {VERSION} alone")));
        }
        Some(_) => {}
    }
    let file: BaselineFile = serde_json::from_value(value).map_err(|error| foreign(error.to_string()))?;
    Ok(file.entries)
}

/// Writes a baseline whole or not at all, ordered so that two of them can be compared line by line.
fn write(path: &Path, mut entries: Vec<Entry>) -> Result<(), Failure> {
    entries.sort_by(|a, b| {
        let key =
            |entry: &Entry| (entry.file.clone(), entry.code.clone(), entry.message.clone(), entry.fingerprint.clone());
        key(a).cmp(&key(b))
    });
    let cannot = |cause: std::io::Error| Failure::CannotWrite { path: path.to_string_lossy().into_owned(), cause };
    let file = BaselineFile { version: VERSION, entries };
    let mut bytes = serde_json::to_vec_pretty(&file).map_err(|error| cannot(error.into()))?;
    bytes.push(b'\n');
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned());
    let Some(name) = name else { return Err(cannot(ErrorKind::InvalidInput.into())) };
    Staged::write(path.parent().unwrap_or(Path::new("")), &name, &bytes)?.rename()
}

fn findings(count: usize) -> String {
    format!("{count} finding{}", if count == 1 { "" } else { "s" })
}

fn entries(count: usize) -> String {
    format!("{count} entr{}", if count == 1 { "y" } else { "ies" })
}
