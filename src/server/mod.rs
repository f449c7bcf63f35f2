//! The language server: recipes in editors, over the Language Server Protocol.
//!
//! Knows messages, open texts and positions as editors count them. What is to be said of a place in a recipe is
//! `lookup`'s to know, what is wrong with it `compile`'s; both are asked again after each edit, from the whole text.
//! One thread answers, in the order of the messages. Another one reads, so that a request can be canceled while it
//! waits; a third one makes the plans, which take longer than a key stroke may. The disk is the command line's: it is
//! asked through [`Disk`].

mod asked;
mod diagnose;
mod document;
mod explained;
mod inbox;
mod layout;
mod mending;
mod naming;
mod outlined;
mod session;
mod setup;
mod uri;
mod wire;
mod worker;

use std::collections::BTreeMap;
use std::io::{BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, mpsc};
use std::thread;

use crate::source::{FileId, World};

use inbox::Inbox;
use session::Session;
use wire::Incoming;

/// The texts that an editor holds, by their paths without links.
pub type Buffers = Arc<BTreeMap<PathBuf, Arc<str>>>;

/// The machine that the server runs on.
pub trait Disk: Sync {
    /// The recipe at `path` with all it may use; what `buffers` hold wins over the disk. `None` when neither has it.
    fn open(&self, path: &Path, buffers: &Buffers) -> Option<(Box<dyn Placed>, FileId)>;

    /// All recipes below a folder.
    fn recipes(&self, folder: &Path) -> Vec<PathBuf>;

    /// The path without links; as it is, when there is no such file.
    fn without_links(&self, path: &Path) -> PathBuf;
}

/// A world whose files have places.
pub trait Placed: World + Send {
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

/// As much as a program's first thread has, on which deep recipes are known to be read.
const STACK: usize = 8 << 20;

/// Serves an editor until it leaves.
pub fn serve(disk: &dyn Disk, input: impl Read + Send + 'static, output: impl Write) -> Ended {
    let (sender, stream) = mpsc::channel();
    let reports = sender.clone();
    // It ends with the stream, or with the process.
    thread::spawn(move || {
        let mut input = BufReader::new(input);
        while let Ok(Some(incoming)) = wire::read(&mut input) {
            if sender.send(incoming).is_err() {
                return;
            }
        }
        let _ = sender.send(Incoming::Closed);
    });
    thread::scope(|scope| {
        let (jobs, to_do) = mpsc::channel();
        let work = move || worker::work(disk, &to_do, &reports);
        // Where no thread can be had, what takes longer is left undone.
        let _ = thread::Builder::new().stack_size(STACK).spawn_scoped(scope, work);
        Session::new(disk, output, jobs).run(&mut Inbox::new(stream))
    })
}
