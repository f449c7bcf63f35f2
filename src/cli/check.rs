//! `check`: what is wrong with recipes.

use std::path::PathBuf;

use crate::compile::compile_with;
use crate::finding::render::Tally;

use super::args::Output;
use super::levels::Weights;
use super::paths::recipes;
use super::reporter::Reporter;
use super::terminal::{Stream, fail, say};
use super::{Failure, Outcome};

/// Checks all recipes that `paths` mean. One that cannot be read does not keep the others from being checked.
pub(super) fn run(paths: &[PathBuf], weights: &Weights, output: Output) -> Result<Outcome, Failure> {
    let (levels, denial) = (weights.levels()?, weights.denial()?);
    let inputs = recipes(paths)?;
    // For a script the findings are the product.
    let stream = if output.is_for_people() { Stream::Stderr } else { Stream::Stdout };
    let mut reporter = Reporter::new(output, stream);
    let mut failure = None;
    let mut is_denied = false;
    for input in &inputs {
        match input.open() {
            Ok((world, root)) => {
                let compiled = compile_with(&world, root, &levels);
                is_denied |= denial.denies_any(&compiled.findings);
                reporter.add(&compiled, &world)?;
            }
            Err(error) => {
                if let Some(earlier) = failure.replace(error) {
                    fail(&earlier, output);
                }
            }
        }
    }
    let tally = reporter.finish()?;
    if let Some(failure) = failure {
        return Err(failure);
    }
    Ok(concluded(inputs.len(), tally, is_denied, output))
}

/// Tells how many recipes were checked where that says more than the findings, and what it comes to.
pub(super) fn concluded(recipes: usize, tally: Tally, is_denied: bool, output: Output) -> Outcome {
    if recipes > 1 || tally.is_empty() {
        let plural = if recipes == 1 { "" } else { "s" };
        say(&format!("{recipes} recipe{plural} checked: {tally}"), output);
    }
    if is_denied { Outcome::Denied } else { Outcome::Clean }
}
