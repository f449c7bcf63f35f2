//! Edits that mend a finding.

use crate::source::Span;

/// Whether an edit may be made unasked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grade {
    /// Says the same thing rightly; nothing else changes.
    Safe,
    /// Changes the design; the turner should agree.
    Ask,
}

/// One replacement of text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// What is replaced; empty to insert.
    pub span: Span,
    /// By what.
    pub text: String,
}

/// A set of edits that mends one finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fix {
    /// What it does, as a short command: "add `units in`".
    pub title: String,
    /// Whether it may be made unasked.
    pub grade: Grade,
    /// The edits; none overlaps another.
    pub edits: Vec<Edit>,
}

impl Fix {
    /// One safe replacement.
    #[must_use]
    pub fn safe(title: impl Into<String>, span: Span, text: impl Into<String>) -> Self {
        Self { title: title.into(), grade: Grade::Safe, edits: vec![Edit { span, text: text.into() }] }
    }

    /// Several replacements that the turner should agree to.
    #[must_use]
    pub fn ask_all(title: impl Into<String>, edits: Vec<Edit>) -> Self {
        Self { title: title.into(), grade: Grade::Ask, edits }
    }

    /// One replacement that the turner should agree to.
    #[must_use]
    pub fn ask(title: impl Into<String>, span: Span, text: impl Into<String>) -> Self {
        Self { title: title.into(), grade: Grade::Ask, edits: vec![Edit { span, text: text.into() }] }
    }
}
