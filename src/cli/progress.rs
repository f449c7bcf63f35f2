//! How far a long run has come, for a person who waits at a terminal.

use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::search;

use super::terminal::Stream;

/// A run that ends sooner is not worth a line.
const PATIENCE: Duration = Duration::from_millis(500);

/// A bar on standard error. It appears when the run has become long, and is gone when the run ends.
#[derive(Debug)]
pub(super) struct Progress {
    /// None where nobody watches.
    bar: Option<ProgressBar>,
    is_shown: bool,
}

impl Progress {
    /// Of so many recipes.
    pub(super) fn of(recipes: usize) -> Self {
        let bar = Stream::Stderr.is_watched().then(|| {
            let bar = ProgressBar::with_draw_target(Some(recipes as u64), ProgressDrawTarget::hidden());
            let style = ProgressStyle::with_template("{bar:30} {pos} of {len} recipes");
            style.map_or_else(|_| bar.clone(), |style| bar.clone().with_style(style))
        });
        Self { bar, is_shown: false }
    }

    /// One more is done.
    pub(super) fn step(&mut self) {
        let Some(bar) = &self.bar else { return };
        bar.inc(1);
        if !self.is_shown && bar.elapsed() >= PATIENCE {
            bar.set_draw_target(ProgressDrawTarget::stderr());
            self.is_shown = true;
        }
    }

    /// Does what writes to the terminal, with the bar out of its way.
    pub(super) fn aside<T>(&self, write: impl FnOnce() -> T) -> T {
        match &self.bar {
            Some(bar) if self.is_shown => bar.suspend(write),
            _ => write(),
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
    }
}

/// A bar of the search for a plan, on standard error; a spell of patience as the other, and gone when the search ends.
/// A search tells of itself from wherever it runs, so that this one is shared.
#[derive(Debug)]
pub(super) struct Search {
    /// None where nobody watches.
    bar: Option<ProgressBar>,
}

impl Search {
    /// Of a search that was asked to take longer; at effort 1 nobody waits.
    pub(super) fn of(effort: u32) -> Self {
        let bar = (effort > 1 && Stream::Stderr.is_watched()).then(|| {
            let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
            let style = ProgressStyle::with_template("{bar:30} {percent} % of the search for a plan");
            style.map_or_else(|_| bar.clone(), |style| bar.clone().with_style(style))
        });
        Self { bar }
    }

    /// So far it has come. One search follows another, and the bar begins anew with each.
    pub(super) fn tell(&self, progress: search::Progress) {
        let Some(bar) = &self.bar else { return };
        bar.set_length(progress.budget);
        bar.set_position(progress.done.min(progress.budget));
        if bar.is_hidden() && bar.elapsed() >= PATIENCE {
            bar.set_draw_target(ProgressDrawTarget::stderr());
        }
    }

    /// Out of the way of what is written next.
    pub(super) fn finish(&self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
    }
}

impl Drop for Search {
    /// Also when a recipe cannot be read.
    fn drop(&mut self) {
        self.finish();
    }
}
