//! `check`: what is wrong with recipes.

use std::path::PathBuf;

use crate::compile::compile_with;
use crate::finding::Finding;
use crate::finding::policy::Levels;
use crate::finding::render::Tally;

use super::args::{Output, Tolerance};
use super::baseline::Baseline;
use super::levels::Weights;
use super::many::each_in_order;
use super::paths::{Found, Input, recipes};
use super::progress::Progress;
use super::reporter::{Reported, Reporter};
use super::terminal::{Failures, Stream, say, tell};
use super::{DiskWorld, Failure, Outcome};

/// Checks all recipes that `paths` mean. One that cannot be read does not keep the others from being checked.
pub(super) fn run(
    paths: &[PathBuf],
    weights: &Weights,
    tolerance: &Tolerance,
    output: Output,
) -> Result<Outcome, Failure> {
    let (levels, denial) = (weights.levels()?, weights.denial()?);
    let baseline = Baseline::open(tolerance.baseline.as_deref(), tolerance.write_baseline.as_deref())?;
    let Found { recipes: inputs, closed } = recipes(paths)?;
    // For a script the findings are the product.
    let stream = if output.is_for_people() { Stream::Stderr } else { Stream::Stdout };
    let mut reporter = Reporter::new(output, stream, &denial, baseline);
    for failure in &closed {
        reporter.failed(failure);
    }
    let mut failures = Failures::of(closed, output);
    let mut progress = Progress::of(inputs.len());
    each_in_order(
        &inputs,
        |input| checked(input, &levels),
        |checked| {
            progress.step();
            match checked {
                Ok((world, findings)) => {
                    reporter.saw(world.names());
                    if !findings.is_empty() {
                        progress.aside(|| reporter.add(findings, &world))?;
                    }
                }
                Err(failure) => {
                    reporter.failed(&failure);
                    progress.aside(|| failures.add(failure, output));
                }
            }
            Ok(())
        },
    )?;
    drop(progress);
    let Reported { tally, is_denied, baseline } = reporter.finish()?;
    failures.end()?;
    if let Some(line) = baseline.finish()? {
        tell(&line);
    }
    let outcome = concluded(inputs.len(), tally, is_denied, output);
    match tolerance.max_findings {
        Some(most) if tally.all() > most => {
            let plural = if tally.all() == 1 { " is" } else { "s are" };
            tell(&format!("{} finding{plural} more than the {most} that --max-findings allows", tally.all()));
            Ok(Outcome::Denied)
        }
        Some(_) | None => Ok(outcome),
    }
}

/// Tells how many recipes were checked where that says more than the findings, and what it comes to.
pub(super) fn concluded(recipes: usize, tally: Tally, is_denied: bool, output: Output) -> Outcome {
    if recipes > 1 || tally.is_empty() {
        let plural = if recipes == 1 { "" } else { "s" };
        say(&format!("{recipes} recipe{plural} checked: {tally}"), output);
    }
    if is_denied { Outcome::Denied } else { Outcome::Clean }
}

/// What is said of one recipe, and the texts it is said of; the design itself is dropped here.
fn checked(input: &Input, levels: &Levels) -> Result<(DiskWorld, Vec<Finding>), Failure> {
    let (world, root) = input.open()?;
    let findings = compile_with(&world, root, &levels.clone().into()).findings;
    Ok((world, findings))
}
