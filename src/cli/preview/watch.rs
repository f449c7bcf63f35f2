//! When to look at the files again.
//!
//! Folders are watched, not files: most editors write another file and put it in the place of the old one. What happened
//! is not believed, only that something did; whoever waits compares the texts. Where the system tells nothing (a shared
//! folder of the network) the files are looked at every now and then.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

use notify::{EventKind, RecommendedWatcher, RecursiveMode, Watcher, recommended_watcher};

/// A save is several events; this long after the last of them it is over.
const QUIET: Duration = Duration::from_millis(8);

/// So many events of one save are waited for, and no more.
const MOST_EVENTS: usize = 5;

/// How often files are looked at when the system tells of nothing.
const NOW_AND_THEN: Duration = Duration::from_secs(1);
const WITHOUT_WATCHER: Duration = Duration::from_millis(250);

/// The folders of a recipe and of what it uses.
pub(super) struct Watch {
    /// None where the system has no such thing, or no more of them.
    watcher: Option<RecommendedWatcher>,
    told: Receiver<()>,
    recipe: PathBuf,
    folders: BTreeSet<PathBuf>,
}

impl Watch {
    /// Of the recipe's own folder.
    pub(super) fn new(recipe: &Path) -> Self {
        let (tell, told) = channel();
        let watcher = recommended_watcher(move |event: notify::Result<notify::Event>| {
            // That a file was read is no news, least of all that we read it.
            let is_news = event.as_ref().map_or(true, |event| !matches!(event.kind, EventKind::Access(_)));
            if is_news {
                // Nobody listens only when the program ends.
                let _ = tell.send(());
            }
        });
        let mut watch = Self { watcher: watcher.ok(), told, recipe: recipe.to_owned(), folders: BTreeSet::new() };
        watch.also(&[]);
        watch
    }

    /// Also of the folders that hold `places`, from now on.
    pub(super) fn also(&mut self, places: &[PathBuf]) {
        let named = folder(&self.recipe);
        let wanted: BTreeSet<PathBuf> = places.iter().map(|place| folder(place)).chain([named]).collect();
        let Some(watcher) = &mut self.watcher else { return };
        if places.is_empty() {
            // The recipe is gone, perhaps with its folder; another of that name is to be watched anew.
            for folder in std::mem::take(&mut self.folders) {
                let _ = watcher.unwatch(&folder);
            }
        }
        for gone in self.folders.difference(&wanted) {
            let _ = watcher.unwatch(gone);
        }
        self.folders = wanted
            .into_iter()
            .filter(|folder| {
                self.folders.contains(folder) || watcher.watch(folder, RecursiveMode::NonRecursive).is_ok()
            })
            .collect();
    }

    /// Returns when something may have happened.
    pub(super) fn wait(&mut self) {
        let patience = if self.watcher.is_some() { NOW_AND_THEN } else { WITHOUT_WATCHER };
        match self.told.recv_timeout(patience) {
            Ok(()) => {
                for _ in 0..MOST_EVENTS {
                    if self.told.recv_timeout(QUIET).is_err() {
                        break;
                    }
                }
                // What else is told already is about the same.
                while self.told.try_recv().is_ok() {}
            }
            Err(RecvTimeoutError::Timeout) => self.look_after_folders(),
            Err(RecvTimeoutError::Disconnected) => thread::sleep(patience),
        }
    }

    /// A folder that was removed and made again is another one, of which nothing is told.
    fn look_after_folders(&mut self) {
        let Some(watcher) = &mut self.watcher else { return };
        let gone: Vec<PathBuf> = self.folders.iter().filter(|folder| !folder.is_dir()).cloned().collect();
        for folder in gone {
            let _ = watcher.unwatch(&folder);
            self.folders.remove(&folder);
        }
        let named = folder(&self.recipe);
        if !self.folders.contains(&named) && watcher.watch(&named, RecursiveMode::NonRecursive).is_ok() {
            self.folders.insert(named);
        }
    }
}

/// The folder that a file is in.
fn folder(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        Some(_) | None => PathBuf::from("."),
    }
}
