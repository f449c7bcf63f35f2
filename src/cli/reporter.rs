//! Findings of several recipes on their way out: each once, in one format, on one stream.

use std::collections::BTreeSet;

use crate::finding::render::{Format, JsonFinding, SarifLog, SarifTexts, Tally, json_items, render, write_json};
use crate::finding::{Finding, Fingerprints, portable_name};
use crate::source::World;

use super::Failure;
use super::args::Output;
use super::baseline::{Baseline, Entry};
use super::levels::Denial;
use super::terminal::{Stream, here};

/// Writes findings recipe by recipe; JSON and SARIF at the end, as one text.
#[derive(Debug)]
pub(super) struct Reporter<'d> {
    format: Format,
    color: bool,
    stream: Stream,
    /// A file that several recipes use is reported on once.
    seen: BTreeSet<(String, u32, u32, &'static str, String)>,
    json: Vec<JsonFinding>,
    sarif: SarifLog,
    fingerprints: Fingerprints,
    /// The folder from which files are named where names are kept.
    here: String,
    baseline: Baseline,
    denial: &'d Denial,
    is_denied: bool,
    tally: Tally,
}

/// What a run came to.
#[derive(Debug)]
pub(super) struct Reported {
    /// What was told.
    pub(super) tally: Tally,
    /// Whether any of it denies.
    pub(super) is_denied: bool,
    /// What was known and not told.
    pub(super) baseline: Baseline,
}

impl<'d> Reporter<'d> {
    /// One that writes to `stream` all that is not in `baseline`.
    pub(super) fn new(output: Output, stream: Stream, denial: &'d Denial, baseline: Baseline) -> Self {
        Self {
            format: output.format,
            color: output.has_color_on(stream),
            stream,
            seen: BTreeSet::new(),
            json: Vec::new(),
            sarif: SarifLog::default(),
            fingerprints: Fingerprints::default(),
            here: here(),
            baseline,
            denial,
            is_denied: false,
            tally: Tally::default(),
        }
    }

    /// Writes what one recipe's findings add.
    ///
    /// # Errors
    /// [`Failure::CannotPrint`].
    pub(super) fn add(&mut self, findings: Vec<Finding>, world: &dyn World) -> Result<(), Failure> {
        let is_sarif = self.format == Format::Sarif;
        let here = self.here.clone();
        let mut texts = SarifTexts::new(world, &here);
        let mut new = Vec::new();
        for finding in findings {
            if !self.is_new(&finding, world) {
                continue;
            }
            if is_sarif || self.baseline.is_used() {
                let fingerprint = self.fingerprints.of(&finding, world, &here);
                if self.baseline.has(|| entry(&finding, &fingerprint, world, &here), &fingerprint) {
                    continue;
                }
                if is_sarif {
                    self.sarif.add(&finding, fingerprint, &mut texts);
                }
            }
            new.push(finding);
        }
        self.is_denied |= self.denial.denies_any(&new);
        self.tally = self.tally.and(Tally::of(&new));
        match self.format {
            Format::Sarif => return Ok(()),
            Format::Json => {
                self.json.extend(json_items(&new, world));
                return Ok(());
            }
            Format::Human | Format::Narrated | Format::Short => {}
        }
        let mut text = Vec::new();
        render(self.format, &new, world, self.color, &mut text).map_err(|cause| Failure::CannotPrint { cause })?;
        self.stream.write(&text)
    }

    /// Notes that a recipe could not be looked at, so that no log takes it for one without findings.
    pub(super) fn failed(&mut self, failure: &Failure) {
        if self.format == Format::Sarif {
            self.sarif.failed(failure.name(), &failure.to_string());
        }
    }

    /// Notes that a recipe and what it uses were looked at.
    pub(super) fn saw(&mut self, files: Vec<String>) {
        for file in files {
            self.baseline.saw(portable_name(&file, &self.here));
        }
    }

    fn is_new(&mut self, finding: &Finding, world: &dyn World) -> bool {
        let span = finding.place.span;
        let name = world.file(span.file).name.clone();
        self.seen.insert((name, span.start, span.end, finding.code.name, finding.message.clone()))
    }

    /// Writes what could not be written before, and tells how much was found.
    ///
    /// # Errors
    /// [`Failure::CannotPrint`].
    pub(super) fn finish(self) -> Result<Reported, Failure> {
        let mut text = Vec::new();
        let written = match self.format {
            Format::Json => write_json(&self.json, &mut text),
            Format::Sarif => self.sarif.write(&mut text),
            Format::Human | Format::Narrated | Format::Short => Ok(()),
        };
        written.map_err(|cause| Failure::CannotPrint { cause })?;
        self.stream.write(&text)?;
        Ok(Reported { tally: self.tally, is_denied: self.is_denied, baseline: self.baseline })
    }
}

fn entry(finding: &Finding, fingerprint: &str, world: &dyn World, here: &str) -> Entry {
    Entry {
        fingerprint: fingerprint.to_owned(),
        code: finding.code.name.to_owned(),
        file: portable_name(&world.file(finding.place.span.file).name, here),
        message: finding.message.clone(),
    }
}
