//! Searches over whole numbers, each with a bound that no answer can beat. They know nothing of wood or glue, no
//! clock and no chance: the same question and the same effort give the same answer on every machine.

pub mod cutting;
pub mod scheduling;

/// How long to look, in steps of the search, never in time.
#[derive(Clone, Copy)]
pub struct Effort<'a> {
    /// 1 is what a build takes without being asked; the budget of steps grows with it.
    pub factor: u32,
    /// Told now and then how many of the steps of one search are done; nobody need listen.
    pub watch: Option<&'a (dyn Fn(Progress) + Sync)>,
}

/// How far a search has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Steps taken.
    pub done: u64,
    /// Steps after which it stops at the latest.
    pub budget: u64,
}

impl Effort<'_> {
    /// So many times `steps`, which are taken at effort 1.
    #[must_use]
    pub fn budget(&self, steps: u64) -> u64 {
        steps.saturating_mul(u64::from(self.factor.max(1)))
    }

    /// Tells who listens.
    pub fn tell(&self, progress: Progress) {
        if let Some(watch) = self.watch {
            watch(progress);
        }
    }
}

impl Default for Effort<'_> {
    fn default() -> Self {
        Self { factor: 1, watch: None }
    }
}

impl std::fmt::Debug for Effort<'_> {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.debug_struct("Effort").field("factor", &self.factor).finish_non_exhaustive()
    }
}
