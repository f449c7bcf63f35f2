//! Recipes that are written anew: whole or not at all, and only as long as they are what was read.

use std::fs::{self, Metadata, OpenOptions};
use std::io;
use std::path::Path;

use super::Failure;
use super::disk::still_holds;
use super::staged::Staged;

/// A file and what it shall hold.
#[derive(Debug)]
pub(super) struct Rewrite<'a> {
    /// As the user wrote it.
    pub(super) path: &'a Path,
    /// Without links.
    pub(super) canonical: &'a Path,
    pub(super) is_link_outside: bool,
    /// What was read.
    pub(super) before: &'a str,
    pub(super) after: &'a str,
}

/// Writes all files, or none when one of them cannot be.
///
/// # Errors
/// [`Failure::CannotWrite`], [`Failure::LinkOutside`], [`Failure::ChangedMeanwhile`].
pub(super) fn write(files: &[Rewrite<'_>]) -> Result<(), Failure> {
    let mut staged = Vec::new();
    for file in files {
        let about = file.writable()?;
        let cannot = |cause| Failure::CannotWrite { path: file.shown(), cause };
        let (Some(folder), Some(name)) = (file.canonical.parent(), file.canonical.file_name()) else {
            return Err(cannot(io::Error::from(io::ErrorKind::InvalidInput)));
        };
        let Some(name) = name.to_str() else {
            return Err(cannot(io::Error::from(io::ErrorKind::InvalidInput)));
        };
        staged.push(Staged::write(folder, name, file.after.as_bytes())?.like(&about)?);
    }
    // The latest moment at which nothing of what others write is lost.
    for file in files {
        file.writable()?;
    }
    for file in staged {
        file.rename()?;
    }
    Ok(())
}

impl Rewrite<'_> {
    /// Whether the file may be replaced: it is writable and as it was read. A rename alone would replace
    /// a read-only file too.
    fn writable(&self) -> Result<Metadata, Failure> {
        if self.is_link_outside {
            return Err(Failure::LinkOutside { path: self.shown() });
        }
        let cannot = |cause| Failure::CannotWrite { path: self.shown(), cause };
        let about = fs::metadata(self.canonical).map_err(cannot)?;
        if about.permissions().readonly() {
            return Err(cannot(io::Error::new(io::ErrorKind::PermissionDenied, "the file is read-only")));
        }
        OpenOptions::new().write(true).open(self.canonical).map_err(cannot)?;
        if !still_holds(self.canonical, self.before).map_err(cannot)? {
            return Err(Failure::ChangedMeanwhile { path: self.shown() });
        }
        Ok(about)
    }

    fn shown(&self) -> String {
        self.path.to_string_lossy().into_owned()
    }
}
