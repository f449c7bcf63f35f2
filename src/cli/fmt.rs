//! `fmt`: recipes in their one layout, written, named or shown.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use crate::finding::Finding;
use crate::finding::render::one_line;
use crate::format::format;
use crate::source::{FileId, World};
use crate::syntax::parse;

use super::args::Output;
use super::baseline::Baseline;
use super::disk::by_steps;
use super::levels::Weights;
use super::many::each_in_order;
use super::patch::unified;
use super::paths::{Found, Input, recipes};
use super::progress::Progress;
use super::reporter::Reporter;
use super::rewrite::{Rewrite, write};
use super::terminal::{Failures, Stream, print, say};
use super::{DiskWorld, Failure, Outcome};

/// What is done with a text that is laid out otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mode {
    /// The file is written; standard input goes to standard output in any case.
    Write,
    /// Its file is named.
    Check,
    /// The difference is shown.
    Diff,
}

impl Mode {
    /// As the flags of the command line say.
    pub(super) fn of(is_check: bool, is_diff: bool) -> Self {
        match (is_check, is_diff) {
            (_, true) => Self::Diff,
            (true, false) => Self::Check,
            (false, false) => Self::Write,
        }
    }
}

/// One recipe as it was read, and as it should be.
struct Formatted {
    input: Input,
    world: DiskWorld,
    root: FileId,
    before: String,
    after: String,
    findings: Vec<Finding>,
}

/// How many recipes there were.
#[derive(Debug, Default)]
struct Counted {
    changed: usize,
    unchanged: usize,
}

/// Formats all recipes that `paths` mean. One that cannot be read does not keep the others from being formatted.
pub(super) fn run(paths: &[PathBuf], mode: Mode, output: Output) -> Result<Outcome, Failure> {
    let Found { recipes: inputs, closed } = recipes(paths)?;
    let denial = Weights::default().denial()?;
    // Where the texts themselves, names or patches are the product, findings are not.
    let is_product = mode == Mode::Write && !inputs.contains(&Input::Stdin) && !output.is_for_people();
    let stream = if is_product { Stream::Stdout } else { Stream::Stderr };
    let mut reporter = Reporter::new(output, stream, &denial, Baseline::default());
    let mut failures = Failures::of(closed, output);
    let mut progress = Progress::of(inputs.len());
    let mut counted = Counted::default();
    let mut seen = BTreeSet::new();
    each_in_order(&inputs, formatted, |result| {
        progress.step();
        let settled = result.and_then(|mut formatted| {
            let findings = std::mem::take(&mut formatted.findings);
            if !findings.is_empty() {
                progress.aside(|| reporter.add(findings, &formatted.world))?;
            }
            progress.aside(|| formatted.settle(mode, &mut seen, &mut counted, output))
        });
        match settled {
            Err(error @ Failure::CannotPrint { .. }) => return Err(error),
            Err(error) => progress.aside(|| failures.add(error, output)),
            Ok(()) => {}
        }
        Ok(())
    })?;
    drop(progress);
    let is_denied = reporter.finish()?.is_denied;
    if inputs != [Input::Stdin] {
        counted.tell(mode, output);
    }
    failures.end()?;
    let is_other = mode != Mode::Write && counted.changed > 0;
    Ok(if is_denied || is_other { Outcome::Denied } else { Outcome::Clean })
}

fn formatted(input: &Input) -> Result<Formatted, Failure> {
    let (world, root) = input.open()?;
    let file = world.file(root);
    let parsed = parse(&file);
    let after = format(&parsed.value);
    Ok(Formatted { input: input.clone(), world, root, before: file.text.clone(), after, findings: parsed.findings })
}

impl Formatted {
    /// Writes, names or shows it, once for each file however it is named.
    fn settle(
        &self,
        mode: Mode,
        seen: &mut BTreeSet<PathBuf>,
        counted: &mut Counted,
        output: Output,
    ) -> Result<(), Failure> {
        let canonical = self.world.place(self.root);
        if canonical.as_ref().is_some_and(|canonical| !seen.insert(canonical.clone())) {
            return Ok(());
        }
        let is_changed = self.before != self.after;
        let settled = match (mode, &self.input) {
            (Mode::Write, Input::Stdin) => print(self.after.as_bytes()),
            _ if !is_changed => Ok(()),
            (Mode::Write, Input::File(path)) => self.write(path, canonical),
            (Mode::Check, input) => print(format!("{}\n", one_line(&input.name())).as_bytes()),
            (Mode::Diff, input) => {
                let path = by_steps(Path::new(&input.name()));
                print(unified(&path, &self.before, &self.after, output.has_color_on(Stream::Stdout)).as_bytes())
            }
        };
        if settled.is_ok() {
            *(if is_changed { &mut counted.changed } else { &mut counted.unchanged }) += 1;
        }
        settled
    }

    fn write(&self, path: &Path, canonical: Option<PathBuf>) -> Result<(), Failure> {
        let canonical = canonical.ok_or_else(|| Failure::NotFound { path: self.input.name() })?;
        let is_link_outside = !self.world.is_in_project(&canonical);
        let (before, after) = (self.before.as_str(), self.after.as_str());
        write(&[Rewrite { path, canonical: &canonical, is_link_outside, before, after }])
    }
}

impl Counted {
    fn tell(&self, mode: Mode, output: Output) {
        let recipes = |count: usize| format!("{count} recipe{}", if count == 1 { "" } else { "s" });
        let Self { changed, unchanged } = *self;
        match mode {
            Mode::Write => say(&format!("{} formatted, {unchanged} as before", recipes(changed)), output),
            Mode::Check if changed == 0 => say(&format!("{} checked: formatted", recipes(unchanged)), output),
            Mode::Check => {
                let all = recipes(changed + unchanged);
                say(&format!("{all} checked: {changed} to be formatted by `ringwright fmt`"), output);
            }
            Mode::Diff => {}
        }
    }
}
