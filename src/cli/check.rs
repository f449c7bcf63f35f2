//! `check`: what is wrong with recipes.

use std::path::PathBuf;

use crate::compile::compile;
use crate::finding::Finding;

use super::args::{Output, Tolerance};
use super::baseline::Baseline;
use super::many::each_in_order;
use super::paths::{Input, recipes};
use super::progress::Progress;
use super::reporter::{Reported, Reporter};
use super::terminal::{Stream, fail, say, tell};
use super::{DiskWorld, Failure, Outcome};

/// Checks all recipes that `paths` mean. One that cannot be read does not keep the others from being checked.
pub(super) fn run(
    paths: &[PathBuf],
    deny_warnings: bool,
    tolerance: &Tolerance,
    output: Output,
) -> Result<Outcome, Failure> {
    let baseline = Baseline::open(tolerance.baseline.as_deref(), tolerance.write_baseline.as_deref())?;
    let inputs = recipes(paths)?;
    // For a script the findings are the product.
    let stream = if output.is_for_people() { Stream::Stderr } else { Stream::Stdout };
    let mut reporter = Reporter::new(output, stream, baseline);
    let mut failure = None;
    let mut progress = Progress::of(inputs.len());
    each_in_order(&inputs, checked, |checked| {
        progress.step();
        match checked {
            Ok((world, findings)) => {
                reporter.saw(world.names());
                if !findings.is_empty() {
                    progress.aside(|| reporter.add(findings, &world))?;
                }
            }
            Err(error) => {
                if let Some(earlier) = failure.replace(error) {
                    progress.aside(|| fail(&earlier, output));
                }
            }
        }
        Ok(())
    })?;
    drop(progress);
    let Reported { tally, baseline } = reporter.finish()?;
    if let Some(failure) = failure {
        return Err(failure);
    }
    if let Some(line) = baseline.finish()? {
        tell(&line);
    }
    if inputs.len() > 1 || tally.is_empty() {
        let plural = if inputs.len() == 1 { "" } else { "s" };
        say(&format!("{} recipe{plural} checked: {tally}", inputs.len()), output);
    }
    let is_too_much = tolerance.max_findings.is_some_and(|most| tally.all() > most);
    if let (true, Some(most)) = (is_too_much, tolerance.max_findings) {
        let plural = if tally.all() == 1 { " is" } else { "s are" };
        tell(&format!("{} finding{plural} more than the {most} that --max-findings allows", tally.all()));
    }
    let is_denied = tally.errors > 0 || (deny_warnings && tally.warnings > 0) || is_too_much;
    Ok(if is_denied { Outcome::Denied } else { Outcome::Clean })
}

/// What is said of one recipe, and the texts it is said of; the design itself is dropped here.
fn checked(input: &Input) -> Result<(DiskWorld, Vec<Finding>), Failure> {
    let (world, root) = input.open()?;
    let findings = compile(&world, root).findings;
    Ok((world, findings))
}
