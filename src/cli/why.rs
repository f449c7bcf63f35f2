//! `why`: where a figure of a design comes from.

use std::path::Path;

use crate::compile::compile;
use crate::finding::render::Format;
use crate::output::Reasons;

use super::args::Output;
use super::baseline::Baseline;
use super::levels::Weights;
use super::paths::Input;
use super::reporter::Reporter;
use super::terminal::{self, Stream};
use super::{Failure, Outcome};

/// Tells of `subject`; without one what can be asked for.
pub(super) fn run(recipe: &Path, subject: Option<&str>, output: Output) -> Result<Outcome, Failure> {
    let input = Input::of(recipe);
    let (world, root) = input.open()?;
    let compiled = compile(&world, root);
    let Some(design) = compiled.complete() else {
        if !compiled.has_errors() {
            return Err(Failure::NothingToBuild { path: input.name() });
        }
        let denial = Weights::default().denial()?;
        let mut reporter = Reporter::new(output, Stream::Stderr, &denial, Baseline::default());
        reporter.add(compiled.findings.clone(), &world)?;
        reporter.finish()?;
        return Ok(Outcome::Denied);
    };
    let reasons = Reasons::of(&design, &world);
    let text = match subject {
        None => reasons.list(),
        Some(subject) => {
            let told = if output.format == Format::Json { reasons.json(subject) } else { reasons.tell(subject) };
            told.map_err(|none| Failure::NoSubject { asked: subject.to_owned(), near: none.near })?
        }
    };
    terminal::print(text.as_bytes())?;
    Ok(Outcome::Clean)
}
