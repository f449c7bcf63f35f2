//! The form for screen readers, told by miette. It knows one text a report, so places in other files
//! are told in reports of their own behind it.

use std::fmt;
use std::io::{self, Write};
use std::sync::Arc;

use miette::{
    Diagnostic, LabeledSpan, NamedSource, NarratableReportHandler, Severity as Weight, SourceCode, SourceSpan,
};

use crate::finding::{Finding, Label, Severity};
use crate::source::{FileId, SourceFile, World};

pub(super) fn narrate(findings: &[Finding], world: &dyn World, out: &mut dyn Write) -> io::Result<()> {
    let handler = NarratableReportHandler::new().with_context_lines(1);
    for finding in findings {
        let report = Told::of(finding, world);
        let mut text = String::new();
        if handler.render_report(&mut text, &report).is_err() {
            text = format!("{}: {}: {}\n", finding.severity().word(), finding.code.name, finding.message);
        }
        out.write_all(text.as_bytes())?;
    }
    Ok(())
}

/// One report of miette: places of one file, with further files behind.
struct Told {
    code: &'static str,
    message: String,
    weight: Weight,
    help: Option<String>,
    source: NamedSource<Shared>,
    labels: Vec<LabeledSpan>,
    elsewhere: Vec<Told>,
}

impl Told {
    fn of(finding: &Finding, world: &dyn World) -> Self {
        let own = finding.place.span.file;
        let weight = match finding.severity() {
            Severity::Error => Weight::Error,
            Severity::Warning => Weight::Warning,
            Severity::Note => Weight::Advice,
        };
        let mut labels = vec![mark(&finding.place, "here")];
        labels
            .extend(finding.related.iter().filter(|label| label.span.file == own).map(|label| mark(label, "see also")));
        let mut files: Vec<FileId> =
            finding.related.iter().map(|label| label.span.file).filter(|file| *file != own).collect();
        files.dedup();
        let elsewhere = files.into_iter().map(|file| Self::elsewhere(finding, file, world)).collect();
        Self {
            code: finding.code.name,
            message: finding.message.clone(),
            weight,
            help: super::reported::advice(finding).map(ToOwned::to_owned),
            source: source(own, world),
            labels,
            elsewhere,
        }
    }

    fn elsewhere(finding: &Finding, file: FileId, world: &dyn World) -> Self {
        let labels =
            finding.related.iter().filter(|label| label.span.file == file).map(|label| mark(label, "see also"));
        Self {
            code: finding.code.name,
            message: "see also".to_owned(),
            weight: Weight::Advice,
            help: None,
            source: source(file, world),
            labels: labels.collect(),
            elsewhere: Vec::new(),
        }
    }
}

fn mark(label: &Label, otherwise: &str) -> LabeledSpan {
    let text = if label.message.is_empty() { otherwise } else { &label.message };
    let range = label.span.range();
    LabeledSpan::new(Some(text.to_owned()), range.start, range.len())
}

fn source(file: FileId, world: &dyn World) -> NamedSource<Shared> {
    let file = world.file(file);
    NamedSource::new(file.name.clone(), Shared(file))
}

/// A text that many reports look into.
#[derive(Debug, Clone)]
struct Shared(Arc<SourceFile>);

impl SourceCode for Shared {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn miette::SpanContents<'a> + 'a>, miette::MietteError> {
        self.0.text.read_span(span, before, after)
    }
}

impl fmt::Debug for Told {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.message)
    }
}

impl fmt::Display for Told {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.message)
    }
}

impl std::error::Error for Told {}

impl Diagnostic for Told {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(self.code))
    }

    fn severity(&self) -> Option<Weight> {
        Some(self.weight)
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help.as_ref().map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.source)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().cloned()))
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        if self.elsewhere.is_empty() {
            return None;
        }
        Some(Box::new(self.elsewhere.iter().map(|told| told as &dyn Diagnostic)))
    }
}
