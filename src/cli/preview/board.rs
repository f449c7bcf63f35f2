//! What is shown at the moment, for all who look and all who wait for the next.

use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::time::Duration;

/// The page as it is now.
#[derive(Debug, Default)]
pub(super) struct Board {
    shown: Mutex<Shown>,
    changed: Condvar,
}

#[derive(Debug, Default, Clone)]
struct Shown {
    version: u64,
    page: Arc<String>,
}

impl Board {
    /// Shows `page` from now on.
    pub(super) fn show(&self, version: u64, page: String) {
        let mut shown = self.shown.lock().unwrap_or_else(PoisonError::into_inner);
        *shown = Shown { version, page: Arc::new(page) };
        drop(shown);
        self.changed.notify_all();
    }

    /// The page.
    pub(super) fn page(&self) -> Arc<String> {
        Arc::clone(&self.shown.lock().unwrap_or_else(PoisonError::into_inner).page)
    }

    /// The version, as soon as it is another than `known`; nothing when that takes longer than `patience`.
    pub(super) fn another_than(&self, known: Option<u64>, patience: Duration) -> Option<u64> {
        let shown = self.shown.lock().unwrap_or_else(PoisonError::into_inner);
        let is_known = |shown: &mut Shown| Some(shown.version) == known;
        let waited = self.changed.wait_timeout_while(shown, patience, is_known);
        let (shown, _) = waited.unwrap_or_else(PoisonError::into_inner);
        (Some(shown.version) != known).then_some(shown.version)
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::Board;

    #[test]
    fn who_knows_the_version_waits_and_who_does_not_is_told_at_once() {
        let board = Board::default();
        board.show(3, "page".to_owned());
        assert_eq!(board.another_than(Some(2), Duration::ZERO), Some(3));
        assert_eq!(board.another_than(None, Duration::ZERO), Some(3));
        assert_eq!(board.another_than(Some(3), Duration::from_millis(1)), None);
        assert_eq!(*board.page(), "page");
    }
}
