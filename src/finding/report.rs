//! One thing to tell the turner.

use crate::source::Span;

use super::{Code, Fix};

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Worth knowing; never stops anything.
    Note,
    /// Likely to cause trouble in the shop; documents are still written.
    Warning,
    /// Wrong: no document is written.
    Error,
}

impl Severity {
    /// As printed.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// A place with what is to be said of it; an empty message only points.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What of it.
    pub message: String,
}

/// One thing to tell the turner. Built by the phase that knows the numbers, dressed elsewhere.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// Its stable name, with severity and page.
    pub code: &'static Code,
    /// What is, what is wanted, the numbers that decide.
    pub message: String,
    /// Required: no finding without a place.
    pub place: Label,
    /// "The count is set here"; may lie in another file.
    pub related: Vec<Label>,
    /// One sentence that can be acted on.
    pub help: Option<String>,
    /// The edit that mends it, where there is one right edit.
    pub fix: Option<Fix>,
}

impl Finding {
    /// A finding of `code` at `span`.
    #[must_use]
    pub fn new(code: &'static Code, span: Span, message: impl Into<String>) -> Self {
        Self {
            code,
            message: message.into(),
            place: Label { span, message: String::new() },
            related: Vec::new(),
            help: None,
            fix: None,
        }
    }

    /// Says something of the place itself.
    #[must_use]
    pub fn here(mut self, message: impl Into<String>) -> Self {
        self.place.message = message.into();
        self
    }

    /// Adds a second place.
    #[must_use]
    pub fn also(mut self, span: Span, message: impl Into<String>) -> Self {
        self.related.push(Label { span, message: message.into() });
        self
    }

    /// Adds a second place when there is one.
    #[must_use]
    pub fn also_maybe(self, span: Option<Span>, message: &str) -> Self {
        match span {
            Some(span) => self.also(span, message),
            None => self,
        }
    }

    /// Adds what to do about it.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Adds what to do about it, if anything is known.
    #[must_use]
    pub fn help_maybe(mut self, help: Option<String>) -> Self {
        self.help = help.or(self.help);
        self
    }

    /// Adds the edit that mends it.
    #[must_use]
    pub fn fix(mut self, fix: Fix) -> Self {
        self.fix = Some(fix);
        self
    }

    /// How much it weighs.
    #[must_use]
    pub fn severity(&self) -> Severity {
        self.code.severity
    }
}

/// What a phase made, with all it has to say about it; `value` is as whole as the input allowed.
#[derive(Debug, Clone)]
pub struct WithFindings<T> {
    /// What was made.
    pub value: T,
    /// What is to be said.
    pub findings: Vec<Finding>,
}

/// Orders findings by file and place and drops repetitions (a `repeat` says all things anew).
pub fn sort_and_dedupe(findings: &mut Vec<Finding>) {
    findings.sort_by(|a, b| {
        let key = |finding: &Finding| (finding.place.span, std::cmp::Reverse(finding.severity()), finding.code.name);
        key(a).cmp(&key(b)).then_with(|| a.message.cmp(&b.message))
    });
    findings.dedup_by(|a, b| a.code.name == b.code.name && a.place.span == b.place.span && a.message == b.message);
}
