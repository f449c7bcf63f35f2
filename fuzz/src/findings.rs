//! What holds of all findings.

use ringwright::finding::Finding;
use ringwright::finding::render::{Format, render};
use ringwright::source::{Span, World};

/// Every place lies in its text, every edit between characters; and they can be shown in all ways.
pub fn check(findings: &[Finding], world: &dyn World) {
    for finding in findings {
        assert!(!finding.message.is_empty(), "{} says nothing", finding.code.name);
        place(finding.place.span, world, finding);
        for label in &finding.related {
            place(label.span, world, finding);
        }
        for edit in finding.fix.iter().flat_map(|fix| &fix.edits) {
            place(edit.span, world, finding);
        }
    }
    for format in [Format::Human, Format::Narrated, Format::Short, Format::Json, Format::Sarif] {
        let mut shown = Vec::new();
        let written = render(format, findings, world, true, &mut shown);
        assert!(written.is_ok(), "{format:?}: {written:?}");
    }
}

fn place(span: Span, world: &dyn World, finding: &Finding) {
    let file = world.file(span.file);
    let is_there = file.text.get(span.range()).is_some();
    assert!(is_there, "{span:?} is no place in {} bytes of {}: {finding:?}", file.text.len(), file.name);
}
