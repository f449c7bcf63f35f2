//! Findings of several recipes on their way out: each once, in one format, on one stream.

use std::collections::BTreeSet;

use crate::compile::Compiled;
use crate::finding::Finding;
use crate::finding::render::{Format, JsonFinding, Tally, json_items, render, write_json};
use crate::source::World;

use super::Failure;
use super::args::Output;
use super::terminal::Stream;

/// Writes findings recipe by recipe; JSON at the end, as one array.
#[derive(Debug)]
pub(super) struct Reporter {
    format: Format,
    color: bool,
    stream: Stream,
    /// A file that several recipes use is reported on once.
    seen: BTreeSet<(String, u32, u32, &'static str, String)>,
    json: Vec<JsonFinding>,
    tally: Tally,
}

impl Reporter {
    /// One that writes to `stream`.
    pub(super) fn new(output: Output, stream: Stream) -> Self {
        Self {
            format: output.format,
            color: output.has_color_on(stream),
            stream,
            seen: BTreeSet::new(),
            json: Vec::new(),
            tally: Tally::default(),
        }
    }

    /// Writes what one recipe's findings add.
    ///
    /// # Errors
    /// [`Failure::CannotPrint`].
    pub(super) fn add(&mut self, compiled: &Compiled, world: &dyn World) -> Result<(), Failure> {
        let new: Vec<Finding> =
            compiled.findings.iter().filter(|finding| self.is_new(finding, world)).cloned().collect();
        self.tally = self.tally.and(Tally::of(&new));
        if self.format == Format::Json {
            self.json.extend(json_items(&new, world));
            return Ok(());
        }
        let mut text = Vec::new();
        render(self.format, &new, world, self.color, &mut text).map_err(|cause| Failure::CannotPrint { cause })?;
        self.stream.write(&text)
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
    pub(super) fn finish(self) -> Result<Tally, Failure> {
        if self.format == Format::Json {
            let mut text = Vec::new();
            write_json(&self.json, &mut text).map_err(|cause| Failure::CannotPrint { cause })?;
            self.stream.write(&text)?;
        }
        Ok(self.tally)
    }
}
