//! How good a recipe is, and whether it became better.

use crate::finding::{Finding, Severity};

/// The families whose errors keep a statement from being read. What they hide of the later phases is
/// not held against the fix that brings it to light.
pub(super) const READING: [&str; 12] =
    ["units", "quantity", "word", "name", "use", "repeat", "wood", "glue", "finish", "board", "chart", "vessel"];

/// Counts of findings, the weightiest first; less is better, and the first that differs decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Measure {
    /// Errors of syntax.
    unreadable: usize,
    /// Errors of words, names and quantities.
    misread: usize,
    errors: usize,
    warnings: usize,
    notes: usize,
}

impl Measure {
    pub(super) fn of(findings: &[Finding]) -> Self {
        let mut measure = Self { unreadable: 0, misread: 0, errors: 0, warnings: 0, notes: 0 };
        for finding in findings {
            match finding.severity() {
                Severity::Error => {
                    measure.errors += 1;
                    let family = finding.code.name.split('/').next().unwrap_or("");
                    measure.unreadable += usize::from(family == "syntax");
                    measure.misread += usize::from(READING.contains(&family));
                }
                Severity::Warning => measure.warnings += 1,
                Severity::Note => measure.notes += 1,
            }
        }
        measure
    }
}

#[cfg(test)]
mod tests {
    use super::{Measure, READING};
    use crate::finding::catalog::{self, CODES};
    use crate::finding::{Code, Finding};
    use crate::source::{FileId, Span};

    fn of(codes: &[&'static Code]) -> Measure {
        let finding = |code: &&'static Code| Finding::new(code, Span::new(FileId(0), 0, 0), "");
        Measure::of(&codes.iter().map(finding).collect::<Vec<_>>())
    }

    #[test]
    fn the_first_count_that_differs_decides() {
        let (syntax, wood) = (&catalog::SYNTAX_UNREADABLE, &catalog::WOOD_UNKNOWN);
        let (cover, thin) = (&catalog::RING_DOES_NOT_COVER, &catalog::WALL_THIN);
        assert!(of(&[wood, wood, thin]) < of(&[syntax]));
        assert!(of(&[cover, cover]) < of(&[wood]), "errors that the wood has hidden");
        assert!(of(&[thin, thin]) < of(&[cover]));
        assert!(of(&[thin]) < of(&[thin, thin]));
        assert!(of(&[&catalog::GLUE_OPEN_TIME]) < of(&[thin]));
        assert!(of(&[]) < of(&[&catalog::GLUE_OPEN_TIME]));
    }

    #[test]
    fn every_family_of_reading_is_in_the_catalog() {
        for family in READING {
            let has = CODES.iter().any(|code| code.name.split('/').next() == Some(family));
            assert!(has, "{family}");
        }
    }
}
