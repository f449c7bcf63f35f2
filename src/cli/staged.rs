//! Files that are written whole or not at all: first beside their place, then renamed.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::Failure;

/// A text beside the place where it shall go; removed again when it does not get there.
#[derive(Debug)]
pub(super) struct Staged {
    beside: PathBuf,
    place: PathBuf,
    is_in_place: bool,
}

impl Staged {
    /// Writes `bytes` beside `folder/name`.
    ///
    /// # Errors
    /// [`Failure::CannotWrite`].
    pub(super) fn write(folder: &Path, name: &str, bytes: &[u8]) -> Result<Self, Failure> {
        let place = folder.join(name);
        let (beside, mut file) = Self::create(folder, name).map_err(|cause| cannot(&place, cause))?;
        let staged = Self { beside, place, is_in_place: false };
        file.write_all(bytes).map_err(|cause| cannot(&staged.place, cause))?;
        Ok(staged)
    }

    /// A new file: never one that is there, never one behind a link.
    fn create(folder: &Path, name: &str) -> io::Result<(PathBuf, File)> {
        let process = std::process::id();
        let mut attempt = 0;
        loop {
            let path = folder.join(format!(".{}.{process}-{attempt}.tmp", name.trim_start_matches('.')));
            match OpenOptions::new().write(true).create_new(true).open(&path) {
                Ok(file) => return Ok((path, file)),
                Err(error) if error.kind() == ErrorKind::AlreadyExists && attempt < 100 => attempt += 1,
                Err(error) => return Err(error),
            }
        }
    }

    /// With the permissions of the file that it shall replace, and on the disk to stay.
    ///
    /// # Errors
    /// [`Failure::CannotWrite`].
    pub(super) fn like(self, about: &Metadata) -> Result<Self, Failure> {
        let settled = File::open(&self.beside).and_then(|file| {
            file.sync_all()?;
            fs::set_permissions(&self.beside, about.permissions())
        });
        settled.map_err(|cause| cannot(&self.place, cause))?;
        Ok(self)
    }

    /// Puts it in its place.
    ///
    /// # Errors
    /// [`Failure::CannotWrite`].
    pub(super) fn rename(mut self) -> Result<(), Failure> {
        fs::rename(&self.beside, &self.place).map_err(|cause| cannot(&self.place, cause))?;
        self.is_in_place = true;
        Ok(())
    }
}

impl Drop for Staged {
    fn drop(&mut self) {
        if !self.is_in_place {
            let _ = fs::remove_file(&self.beside);
        }
    }
}

/// The name of the file that one called so was written to become; none when it is no such file.
pub(super) fn place_of(name: &str) -> Option<&str> {
    let (place, marks) = name.strip_prefix('.')?.strip_suffix(".tmp")?.rsplit_once('.')?;
    let (process, attempt) = marks.split_once('-')?;
    let is_number = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    (is_number(process) && is_number(attempt)).then_some(place)
}

fn cannot(path: &Path, cause: io::Error) -> Failure {
    Failure::CannotWrite { path: path.to_string_lossy().into_owned(), cause }
}
