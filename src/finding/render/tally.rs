//! How many findings of each weight.

use std::fmt;

use crate::finding::{Finding, Severity};

/// Counts by severity; shown as "2 errors, 1 warning", or "no findings".
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tally {
    /// Those that deny the design.
    pub errors: usize,
    /// Those that mean trouble in the shop.
    pub warnings: usize,
    /// Those worth knowing.
    pub notes: usize,
}

impl Tally {
    /// Counts `findings`.
    #[must_use]
    pub fn of(findings: &[Finding]) -> Self {
        let mut tally = Self::default();
        for finding in findings {
            match finding.severity() {
                Severity::Error => tally.errors += 1,
                Severity::Warning => tally.warnings += 1,
                Severity::Note => tally.notes += 1,
            }
        }
        tally
    }

    /// Both together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            errors: self.errors + other.errors,
            warnings: self.warnings + other.warnings,
            notes: self.notes + other.notes,
        }
    }

    /// How many of all weights.
    #[must_use]
    pub fn all(self) -> usize {
        self.errors + self.warnings + self.notes
    }

    /// Whether there is nothing to tell.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self == Self::default()
    }
}

impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let counts = [(self.errors, Severity::Error), (self.warnings, Severity::Warning), (self.notes, Severity::Note)];
        let mut separator = "";
        for (count, severity) in counts {
            if count > 0 {
                let plural = if count == 1 { "" } else { "s" };
                write!(f, "{separator}{count} {}{plural}", severity.word())?;
                separator = ", ";
            }
        }
        if separator.is_empty() { f.write_str("no findings") } else { Ok(()) }
    }
}
