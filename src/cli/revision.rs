//! A recipe and what it uses as git had them at some revision.

use std::cell::RefCell;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

use crate::source::{FileId, SourceFile, UseError, World};

use super::Failure;
use super::disk::{SIZE_LIMIT, by_steps};

/// The files of a commit; a `use` finds nothing outside of the repository.
pub(super) struct Revision {
    /// Where git is asked.
    folder: PathBuf,
    /// The commit, as a number that can be nothing else.
    commit: String,
    /// As it was asked for.
    shown: String,
    /// The files that were read, each with its place in the repository.
    opened: RefCell<Vec<(PathBuf, Arc<SourceFile>)>>,
}

impl Revision {
    /// The recipe at `path` as it was at `revision`.
    ///
    /// # Errors
    /// [`Failure::Git`]: no git, no repository, no such revision, the recipe was not there, or is no text.
    pub(super) fn root(revision: &str, path: &Path) -> Result<(Self, FileId), Failure> {
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let failed = |said: String| Failure::Git { said };
        let ask = |args: &[&str]| git(folder, args).map_err(failed);
        let prefix = ask(&["rev-parse", "--show-prefix"])?;
        let named = format!("{revision}^{{commit}}");
        let commit = ask(&["rev-parse", "--verify", "--quiet", "--end-of-options", &named])
            .map_err(|_| Failure::Git { said: format!("there is no revision `{revision}`") })?;
        let world = Self {
            folder: folder.to_owned(),
            commit: commit.trim().to_owned(),
            shown: revision.to_owned(),
            opened: RefCell::new(Vec::new()),
        };
        let name = path.file_name().unwrap_or(OsStr::new(""));
        let place = by_steps(&Path::new(prefix.trim_end_matches('\n')).join(name));
        let text = world.text(&place).map_err(|error| Failure::Git {
            said: match error {
                UseError::Unreadable(reason) => format!("{} at {revision}: {reason}", path.display()),
                UseError::NotFound | UseError::OutsideProject(_) => {
                    format!("{} was not there at `{revision}`", path.display())
                }
            },
        })?;
        let id = world.keep(place, text);
        Ok((world, id))
    }

    fn keep(&self, place: PathBuf, text: String) -> FileId {
        let mut opened = self.opened.borrow_mut();
        let id = FileId(u32::try_from(opened.len()).unwrap_or(u32::MAX));
        let name = format!("{}:{}", self.shown, place.display());
        opened.push((place, Arc::new(SourceFile { id, name, text })));
        id
    }

    fn text(&self, place: &Path) -> Result<String, UseError> {
        let blob = format!("{}:{}", self.commit, place.display());
        let size = git(&self.folder, &["cat-file", "-s", &blob]).map_err(|_| UseError::NotFound)?;
        if size.trim().parse::<u64>().is_ok_and(|size| size > SIZE_LIMIT) {
            return Err(UseError::Unreadable(format!("it is larger than {} MiB", SIZE_LIMIT >> 20)));
        }
        git(&self.folder, &["cat-file", "blob", &blob]).map_err(UseError::Unreadable)
    }
}

impl World for Revision {
    fn open(&self, from: FileId, path: &str) -> Result<FileId, UseError> {
        if path.is_empty() {
            return Err(UseError::NotFound);
        }
        let folder = match self.opened.borrow().get(from.0 as usize) {
            Some((place, _)) => place.parent().unwrap_or(Path::new("")).to_owned(),
            None => return Err(UseError::NotFound),
        };
        let place = by_steps(&folder.join(path));
        if place.is_absolute() || place.starts_with("..") {
            return Err(UseError::OutsideProject("the repository".to_owned()));
        }
        if let Some((_, known)) = self.opened.borrow().iter().find(|(known, _)| *known == place) {
            return Ok(known.id);
        }
        let text = self.text(&place)?;
        Ok(self.keep(place, text))
    }

    fn file(&self, id: FileId) -> Arc<SourceFile> {
        let opened = self.opened.borrow();
        match opened.get(id.0 as usize) {
            Some((_, file)) => Arc::clone(file),
            None => Arc::new(SourceFile { id, name: String::new(), text: String::new() }),
        }
    }
}

/// The files below `folder` that git knows and that are called `name`, as paths from there; none where there is no git.
pub(super) fn known_files(folder: &Path, name: &str) -> Vec<PathBuf> {
    let listed = git(folder, &["ls-files", "-z"]).unwrap_or_default();
    let is_called_so = |path: &&str| Path::new(path).file_name().is_some_and(|file| file == name);
    listed.split('\0').filter(is_called_so).map(PathBuf::from).collect()
}

/// What git prints.
fn git(folder: &Path, args: &[&str]) -> Result<String, String> {
    let ran = Command::new("git").arg("-C").arg(folder).args(args).stdin(Stdio::null()).output();
    let ran = ran.map_err(|error| format!("git cannot be run: {error}"))?;
    if !ran.status.success() {
        let said = String::from_utf8_lossy(&ran.stderr);
        let said = said.lines().next().unwrap_or("it says no more").trim_start_matches("fatal: ").to_owned();
        return Err(said);
    }
    String::from_utf8(ran.stdout).map_err(|_| "it is not UTF-8 text".to_owned())
}
