//! `diff`: what two versions of a recipe differ in for the maker.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use crate::compile::{Compiled, compile};
use crate::finding::Severity;
use crate::finding::render::Format;
use crate::output::{self, Comparison};
use crate::source::World;

use super::args::Output;
use super::baseline::Baseline;
use super::levels::Weights;
use super::paths::Input;
use super::reporter::Reporter;
use super::revision::{self, Revision};
use super::terminal::{self, Stream};
use super::{DiskWorld, Failure, Outcome};

/// What git gives as the file of a side that is not there.
const NOWHERE: &str = "/dev/null";

/// Compares the files that are named: two, or what git hands to a program for external diffs. With `revision`, one file
/// with what it was then.
pub(super) fn run(
    paths: &[PathBuf],
    revision: Option<&str>,
    has_exit_code: bool,
    output: Output,
) -> Result<Outcome, Failure> {
    let sides = match (paths, revision) {
        ([recipe], Some(revision)) => [Revision::open(revision, recipe)?, opened(recipe)?].map(Some),
        ([before, after], None) => [opened(before)?, opened(after)?].map(Some),
        // Path, then file, hash and mode of either side; where it was renamed, the new path and what git says of that.
        ([path, old, _, _, new, _, _], None) => [side(path, old)?, side(path, new)?],
        ([path, old, _, _, new, _, _, renamed, _], None) => [side(path, old)?, side(renamed, new)?],
        (_, Some(_)) => return Err(Failure::DiffOf { count: paths.len(), wanted: 1 }),
        (_, None) => return Err(Failure::DiffOf { count: paths.len(), wanted: 2 }),
    };
    // Git takes any other exit code for a breakdown.
    let is_for_git = paths.len() > 2;
    match sides {
        [Some(before), Some(after)] => compared(&before, &after, (has_exit_code, is_for_git), output),
        [None, Some(after)] => whole(&after, "is new", is_for_git, output),
        [Some(before), None] => whole(&before, "is gone", is_for_git, output),
        [None, None] => Ok(Outcome::Clean),
    }
}

/// Prints one version as lines, of which git makes a difference. Git takes any exit code but 0 for a breakdown of the
/// whole, so a recipe with errors is its findings and then its own text.
pub(super) fn textconv(paths: &[PathBuf]) -> Result<Outcome, Failure> {
    let [file] = paths else { return Err(Failure::DiffOf { count: paths.len(), wanted: 1 }) };
    let place = recipe_named_as(file);
    let (world, root) = DiskWorld::open_as(place.as_deref().unwrap_or(file), file)?;
    let side = Side::of(world, root);
    let text = match side.compiled.complete() {
        Some(design) => output::as_text(&design),
        None => as_written(&side),
    };
    terminal::print(text.as_bytes())?;
    Ok(Outcome::Clean)
}

/// What cannot be built: what stands in the way, and the text as it is.
fn as_written(side: &Side) -> String {
    let source = side.world.file(side.compiled.root);
    let errors = side.compiled.findings.iter().filter(|finding| finding.severity() == Severity::Error);
    let mut text = String::new();
    for finding in errors {
        let _ = writeln!(text, "error[{}]: {}", finding.code.name, finding.message);
    }
    if !text.is_empty() {
        text.push('\n');
    }
    text + &source.text
}

/// Git writes a version of a recipe to a folder for the moment, under the recipe's own name, and asks from the top of the
/// work tree. What the version uses lies beside the one recipe there that is called so; of several none is meant.
fn recipe_named_as(file: &Path) -> Option<PathBuf> {
    let here = std::env::current_dir().ok()?;
    if fs::canonicalize(file).ok()?.starts_with(fs::canonicalize(&here).ok()?) {
        return None;
    }
    let name = file.file_name()?.to_str()?;
    let mut known = revision::known_files(&here, name).into_iter();
    let only = known.next()?;
    known.next().is_none().then_some(only)
}

/// One version, compiled.
struct Side {
    world: Box<dyn World>,
    compiled: Compiled,
    name: String,
}

impl Side {
    fn of(world: impl World + 'static, root: crate::source::FileId) -> Self {
        let compiled = compile(&world, root);
        let name = world.file(root).name.clone();
        Self { world: Box::new(world), compiled, name }
    }
}

fn opened(path: &Path) -> Result<Side, Failure> {
    let (world, root) = Input::of(path).open()?;
    Ok(Side::of(world, root))
}

/// What git wrote to `file` of the recipe at `path`; what it uses is that of the work tree.
fn side(path: &Path, file: &Path) -> Result<Option<Side>, Failure> {
    if file == Path::new(NOWHERE) {
        return Ok(None);
    }
    let (world, root) = DiskWorld::open_as(path, file)?;
    Ok(Some(Side::of(world, root)))
}

impl Revision {
    fn open(revision: &str, recipe: &Path) -> Result<Side, Failure> {
        let (world, root) = Self::root(revision, recipe)?;
        Ok(Side::of(world, root))
    }
}

fn compared(
    before: &Side,
    after: &Side,
    (has_exit_code, is_for_git): (bool, bool),
    output: Output,
) -> Result<Outcome, Failure> {
    let (Some(old), Some(new)) = (before.compiled.complete(), after.compiled.complete()) else {
        // The text is what cannot be compared; what is wrong with it is what changed.
        return broken([before, after].into_iter(), is_for_git, output);
    };
    let comparison = Comparison::of(&old, &new);
    let text = if output.format == Format::Json { comparison.json() } else { comparison.text() };
    terminal::print(text.as_bytes())?;
    Ok(if has_exit_code && !comparison.is_none() { Outcome::Denied } else { Outcome::Clean })
}

/// A version that has no other beside it.
fn whole(side: &Side, is: &str, is_for_git: bool, output: Output) -> Result<Outcome, Failure> {
    let Some(design) = side.compiled.complete() else {
        return broken(std::iter::once(side), is_for_git, output);
    };
    terminal::print(format!("{} {is}\n\n{}", side.name, output::summary(&design)).as_bytes())?;
    Ok(Outcome::Clean)
}

fn broken<'a>(sides: impl Iterator<Item = &'a Side>, is_for_git: bool, output: Output) -> Result<Outcome, Failure> {
    let denial = Weights::default().denial()?;
    let stream = if is_for_git { Stream::Stdout } else { Stream::Stderr };
    let mut reporter = Reporter::new(output, stream, &denial, Baseline::default());
    for side in sides.filter(|side| side.compiled.complete().is_none()) {
        if !side.compiled.has_errors() {
            return Err(Failure::NothingToBuild { path: side.name.clone() });
        }
        reporter.add(side.compiled.findings.clone(), side.world.as_ref())?;
    }
    reporter.finish()?;
    Ok(if is_for_git { Outcome::Clean } else { Outcome::Denied })
}
