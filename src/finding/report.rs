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
    /// Its stable name and page.
    pub code: &'static Code,
    /// How much it weighs: as its code says, unless the recipe, the shop or the command line say otherwise.
    pub severity: Severity,
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
    /// Of several that differ in numbers alone, the one with the highest rank is told.
    pub rank: u64,
}

impl Finding {
    /// A finding of `code` at `span`.
    #[must_use]
    pub fn new(code: &'static Code, span: Span, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: code.severity,
            message: message.into(),
            place: Label { span, message: String::new() },
            related: Vec::new(),
            help: None,
            fix: None,
            rank: 0,
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

    /// Adds the edit that mends it, if there is one right edit.
    #[must_use]
    pub fn fix_maybe(mut self, fix: Option<Fix>) -> Self {
        self.fix = fix.or(self.fix);
        self
    }

    /// Says how bad it is among findings of its kind: a bad case's advice serves the others too.
    #[must_use]
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and the greatest rank")]
    pub fn rank(mut self, badness: f64) -> Self {
        // Thousandths are fine enough to tell two lengths apart.
        self.rank = (badness * 1000.0).clamp(0.0, 1e15) as u64;
        self
    }

    /// How much it weighs.
    #[must_use]
    pub fn severity(&self) -> Severity {
        self.severity
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

/// Orders findings by file and place. What differs from another finding of its place in nothing but
/// numbers, as with the layers that one line makes, is told once: the worst, with how many more there are.
pub fn sort_and_dedupe(findings: &mut Vec<Finding>) {
    findings.sort_by_key(|finding| (finding.place.span, std::cmp::Reverse(finding.severity()), finding.code.name));
    let mut kept: Vec<Told> = Vec::with_capacity(findings.len());
    for finding in findings.drain(..) {
        let wording = wording(&finding.message);
        let here = kept.iter_mut().rev().take_while(|told| told.finding.place.span == finding.place.span);
        match here.into_iter().find(|told| told.finding.code == finding.code && told.wording == wording) {
            Some(told) => {
                told.more += 1;
                if finding.rank > told.finding.rank {
                    told.finding = finding;
                }
            }
            None => kept.push(Told { finding, wording, more: 0 }),
        }
    }
    findings.extend(kept.into_iter().map(|told| {
        let mut finding = told.finding;
        if told.more > 0 {
            finding.message = format!("{}; {} more like it", finding.message, told.more);
        }
        finding
    }));
}

/// A finding that is kept, and how many more there are of its place and wording.
struct Told {
    finding: Finding,
    wording: String,
    more: usize,
}

/// A message without its numbers.
pub(super) fn wording(message: &str) -> String {
    message.chars().filter(|c| !(c.is_ascii_digit() || matches!(c, '.' | '/' | '"' | ' ' | '-'))).collect()
}

#[cfg(test)]
mod tests {
    use super::{Finding, sort_and_dedupe};
    use crate::finding::catalog;
    use crate::source::{FileId, Span};

    fn at(start: u32, message: &str) -> Finding {
        Finding::new(&catalog::WALL_THIN, Span::new(FileId(0), start, start + 1), message)
    }

    fn told(mut findings: Vec<Finding>) -> Vec<String> {
        sort_and_dedupe(&mut findings);
        findings.into_iter().map(|finding| finding.message).collect()
    }

    #[test]
    fn what_differs_in_numbers_alone_is_told_once_and_at_its_worst() {
        let thin = |size: &str, badness| at(5, &format!("wall of {size} thin")).rank(badness);
        let many = vec![thin("3 1/2\"", 2.0), thin("1\"", 9.0), thin("1\"", 9.0), at(2, "first")];
        assert_eq!(told(many), ["first", "wall of 1\" thin; 2 more like it"]);
    }

    #[test]
    fn what_differs_in_words_or_place_is_told_each_time() {
        let apart = vec![at(1, "lacks `wall`"), at(1, "lacks `body`"), at(7, "lacks `wall`")];
        assert_eq!(told(apart), ["lacks `wall`", "lacks `body`", "lacks `wall`"]);
    }
}
