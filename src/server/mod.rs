//! The language server: recipes in editors, over the Language Server Protocol.
//!
//! Knows messages, open texts and positions as editors count them. What is to be said of a place in a recipe is
//! `lookup`'s to know, what is wrong with it `compile`'s; both are asked again after each edit, from the whole text.
//! One thread does the work, in the order of the messages; another one reads, so that a request can be canceled while
//! it waits. The disk is the command line's: it is asked through [`Disk`].

mod diagnose;
mod document;
mod inbox;
mod session;
mod setup;
mod uri;
mod wire;

use std::collections::BTreeMap;
use std::io::{BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, mpsc};
use std::thread;

use crate::source::{FileId, World};

use inbox::Inbox;
use session::Session;

/// The texts that an editor holds, by their paths without links.
pub type Buffers = Arc<BTreeMap<PathBuf, Arc<str>>>;

/// The machine that the server runs on.
pub trait Disk {
    /// The recipe at `path` with all it may use; what `buffers` hold wins over the disk. `None` when neither has it.
    fn open(&self, path: &Path, buffers: &Buffers) -> Option<(Box<dyn Placed>, FileId)>;

    /// All recipes below a folder.
    fn recipes(&self, folder: &Path) -> Vec<PathBuf>;

    /// The path without links; as it is, when there is no such file.
    fn without_links(&self, path: &Path) -> PathBuf;
}

/// A world whose files have places.
pub trait Placed: World {
    /// The path without links of a file that was opened.
    fn place(&self, id: FileId) -> Option<PathBuf>;
}

/// How a session ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// The editor took its leave.
    Cleanly,
    /// It went without a word.
    BrokenOff,
}

/// Serves an editor until it leaves.
pub fn serve(disk: &dyn Disk, input: impl Read + Send + 'static, output: impl Write) -> Ended {
    let (sender, stream) = mpsc::channel();
    // It ends with the stream, or with the process.
    thread::spawn(move || {
        let mut input = BufReader::new(input);
        while let Ok(Some(incoming)) = wire::read(&mut input) {
            if sender.send(incoming).is_err() {
                return;
            }
        }
    });
    Session::new(disk, output).run(&mut Inbox::new(stream))
}
