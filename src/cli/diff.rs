//! `diff`: what two versions of a recipe differ in for the maker.

use std::path::{Path, PathBuf};

use crate::compile::{Compiled, compile};
use crate::finding::render::Format;
use crate::output::{self, Comparison};
use crate::source::World;

use super::args::Output;
use super::baseline::Baseline;
use super::levels::Weights;
use super::paths::Input;
use super::reporter::Reporter;
use super::revision::Revision;
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
