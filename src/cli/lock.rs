//! One build at a time writes to a folder.

use std::fs::{File, TryLockError};
use std::path::Path;
use std::thread;
use std::time::Duration;

use super::Failure;

/// How often it is tried, and how long is waited between. A build holds a folder for some hundredths of a second.
const TRIES: u32 = 400;
const WAIT: Duration = Duration::from_millis(25);

/// Held while it lives; the system lets go of it whatever happens to the process.
#[derive(Debug)]
pub(super) struct Lock {
    _held: Option<File>,
}

impl Lock {
    /// Waits for its turn to write to `folder`. Where the file system knows no locks, there is none.
    ///
    /// # Errors
    /// [`Failure::Busy`] when another build does not come to an end.
    pub(super) fn on(folder: &Path) -> Result<Self, Failure> {
        let Some(file) = handle(folder) else { return Ok(Self { _held: None }) };
        for _ in 0..TRIES {
            match file.try_lock() {
                Ok(()) => return Ok(Self { _held: Some(file) }),
                Err(TryLockError::WouldBlock) => thread::sleep(WAIT),
                Err(TryLockError::Error(_)) => return Ok(Self { _held: None }),
            }
        }
        Err(Failure::Busy { path: folder.to_string_lossy().into_owned() })
    }
}

/// The folder itself can be locked, so that no file is left behind.
#[cfg(unix)]
fn handle(folder: &Path) -> Option<File> {
    File::open(folder).ok()
}

/// Folders are no files there: one that says nothing stands for it.
#[cfg(not(unix))]
fn handle(folder: &Path) -> Option<File> {
    let path = folder.join(".ringwright-lock");
    std::fs::OpenOptions::new().create(true).truncate(false).write(true).open(path).ok()
}
