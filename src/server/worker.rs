//! Looks at recipes as `check` does, beside the thread that answers.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender};

use crate::compile::{Compiled, compile, glance_after};
use crate::source::FileId;
use crate::syntax::Trees;

use super::diagnose::{Places, Told};
use super::setup::Client;
use super::wire::Incoming;
use super::{Buffers, Disk, Placed};

/// A recipe to look at, and what is to be taken for true.
pub(super) struct Job {
    pub(super) path: PathBuf,
    pub(super) buffers: Buffers,
    pub(super) client: Arc<Client>,
    pub(super) uris: Arc<BTreeMap<PathBuf, String>>,
    /// Which state of the texts this is.
    pub(super) revision: u64,
}

/// What a job gave.
pub(super) struct Report {
    pub(super) path: PathBuf,
    pub(super) revision: u64,
    /// None when the recipe cannot be read, or something happened that should not.
    pub(super) looked: Option<Looked>,
}

/// A recipe that was looked at, and what it told.
pub(super) struct Looked {
    pub(super) seen: Seen,
    /// The files it is made of, its own first.
    pub(super) files: Vec<PathBuf>,
    /// What is known as soon as it is typed.
    pub(super) early: Told,
    /// What only the plan shows.
    pub(super) late: Told,
}

/// A recipe as it was understood.
pub(super) struct Seen {
    pub(super) world: Box<dyn Placed>,
    pub(super) root: FileId,
    pub(super) compiled: Compiled,
    /// Whether the plan was looked at too.
    pub(super) is_whole: bool,
}

/// Does the jobs in their order until no more can come.
pub(super) fn work(disk: &dyn Disk, jobs: &Receiver<Job>, reports: &Sender<Incoming>) {
    while let Ok(job) = jobs.recv() {
        let looked = catch_unwind(AssertUnwindSafe(|| {
            look(disk, &job.path, &job.buffers, &job.client, &job.uris, Haste::None, &Trees::default())
        }));
        let report = Report { path: job.path, revision: job.revision, looked: looked.ok().flatten() };
        if reports.send(Incoming::Report(Box::new(report))).is_err() {
            return;
        }
    }
}

/// Whether the plan can wait.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Haste {
    /// It is typed this moment.
    Typing,
    /// Nobody waits.
    None,
}

/// Looks at one recipe, whose files had these `trees` before; none when it cannot be read.
pub(super) fn look(
    disk: &dyn Disk,
    path: &Path,
    buffers: &Buffers,
    client: &Client,
    uris: &BTreeMap<PathBuf, String>,
    haste: Haste,
    trees: &Trees,
) -> Option<Looked> {
    let (world, root) = disk.open(path, buffers)?;
    let early = glance_after(&*world, root, trees);
    let whole = (haste == Haste::None).then(|| compile(&*world, root));
    let mut places = Places::new(&*world, client, uris);
    let (first, rest) = match &whole {
        Some(whole) => whole.findings.iter().partition(|finding| early.findings.contains(finding)),
        None => (early.findings.iter().collect::<Vec<_>>(), Vec::new()),
    };
    let (first, rest) = (places.told(first), places.told(rest));
    let files = files(&*world, root, path);
    let is_whole = whole.is_some();
    let seen = Seen { world, root, compiled: whole.unwrap_or(early), is_whole };
    Some(Looked { seen, files, early: first, late: rest })
}

/// The places of all files of a world.
fn files(world: &dyn Placed, root: FileId, path: &Path) -> Vec<PathBuf> {
    let used = (root.0 + 1..).map_while(|id| world.place(FileId(id)));
    std::iter::once(path.to_owned()).chain(used).collect()
}
