//! `check --fix` and `check --diff`: what can be mended, written or shown.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::PathBuf;

use crate::finding::Grade;
use crate::finding::render::one_line;
use crate::mend::{Done, FileKey, Mended, MendedFile, Recipe, Wanted, left_elsewhere, mend};
use crate::source::FileId;

use super::args::{Asked, Output};
use super::baseline::Baseline;
use super::check::concluded;
use super::disk::by_steps;
use super::levels::{Denial, Weights};
use super::patch::unified;
use super::paths::{Found, Input, recipes};
use super::reporter::{Reported, Reporter};
use super::rewrite::{Rewrite, write};
use super::terminal::{Failures, Stream, print, say};
use super::{DiskWorld, Failure, Outcome};

/// A file that the command line names.
struct Named {
    /// As the user wrote it.
    path: PathBuf,
    /// Without links.
    canonical: PathBuf,
    is_link_outside: bool,
}

/// Mends all recipes that `paths` mean together, so that what they share suits all of them.
pub(super) fn run(paths: &[PathBuf], asked: Asked, weights: &Weights, output: Output) -> Result<Outcome, Failure> {
    let (levels, denial) = (weights.levels()?, weights.denial()?);
    let Found { recipes: inputs, closed } = recipes(paths)?;
    let mut worlds = Vec::new();
    let mut failures = Failures::of(closed, output);
    for input in &inputs {
        let opened = if *input == Input::Stdin { Err(Failure::FixOfStdin) } else { input.open() };
        match opened {
            Ok((world, root)) => worlds.push((world, root)),
            Err(failure) => failures.add(failure, output),
        }
    }
    // A file that cannot be read may use what would be changed.
    failures.end()?;
    let named = named(&inputs, &worlds);
    let keys: Vec<_> = worlds.iter().map(|(world, _)| |id: FileId| key(world, id, &named)).collect();
    let jobs: Vec<Recipe<'_>> = worlds
        .iter()
        .zip(&keys)
        .map(|((world, root), key)| Recipe { world, root: *root, levels: &levels, key })
        .collect();
    let (Asked::Write(wanted) | Asked::Show(wanted)) = asked;
    let mended = mend(&jobs, wanted);
    match asked {
        Asked::Show(_) => show(&mended, &named, output),
        Asked::Write(_) => {
            write(&rewrites(&mended, &named))?;
            report(&mended, &named, wanted, &denial, output)
        }
    }
}

/// The files of the command line, each once.
fn named(inputs: &[Input], worlds: &[(DiskWorld, FileId)]) -> Vec<Named> {
    let mut named: Vec<Named> = Vec::new();
    for (input, (world, root)) in inputs.iter().zip(worlds) {
        let (Input::File(path), Some(canonical)) = (input, world.place(*root)) else { continue };
        let is_link_outside = !world.is_in_project(&canonical);
        match named.iter_mut().find(|known| known.canonical == canonical) {
            // One name within the project is enough to know where it is written.
            Some(known) => known.is_link_outside &= is_link_outside,
            None => named.push(Named { path: by_steps(path), canonical, is_link_outside }),
        }
    }
    named
}

fn key(world: &DiskWorld, id: FileId, named: &[Named]) -> Option<FileKey> {
    let canonical = world.place(id)?;
    named.iter().position(|named| named.canonical == canonical).map(FileKey)
}

/// A patch on standard output.
fn show(mended: &Mended<'_>, named: &[Named], output: Output) -> Result<Outcome, Failure> {
    let has_color = output.has_color_on(Stream::Stdout);
    let patch = with_names(&mended.files, named).fold(String::new(), |mut patch, (named, file)| {
        patch.push_str(&unified(&named.path, &file.before, &file.after, has_color));
        patch
    });
    print(patch.as_bytes())?;
    Ok(if patch.is_empty() { Outcome::Clean } else { Outcome::Denied })
}

fn with_names<'a>(
    files: &'a BTreeMap<FileKey, MendedFile>,
    named: &'a [Named],
) -> impl Iterator<Item = (&'a Named, &'a MendedFile)> {
    files.iter().filter_map(|(key, file)| Some((named.get(key.0)?, file)))
}

fn rewrites<'a>(mended: &'a Mended<'_>, named: &'a [Named]) -> Vec<Rewrite<'a>> {
    let rewrite = |(named, file): (&'a Named, &'a MendedFile)| Rewrite {
        path: &named.path,
        canonical: &named.canonical,
        is_link_outside: named.is_link_outside,
        before: &file.before,
        after: &file.after,
    };
    with_names(&mended.files, named).map(rewrite).collect()
}

fn shown(named: &Named) -> String {
    named.path.to_string_lossy().into_owned()
}

/// What is left, as a plain check tells it, then what was done.
fn report(
    mended: &Mended<'_>,
    named: &[Named],
    wanted: Wanted,
    denial: &Denial,
    output: Output,
) -> Result<Outcome, Failure> {
    let stream = if output.is_for_people() { Stream::Stderr } else { Stream::Stdout };
    let mut reporter = Reporter::new(output, stream, denial, Baseline::default());
    let mut left = BTreeMap::new();
    for (overlay, compiled) in &mended.recipes {
        reporter.add(compiled.findings.clone(), &**overlay)?;
        // Several recipes tell of one shared file: the most that one of them tells is what is left.
        for (name, count) in left_elsewhere(overlay, compiled, wanted) {
            let most = left.entry(name).or_insert(0);
            *most = count.max(*most);
        }
    }
    let Reported { tally, is_denied, .. } = reporter.finish()?;
    let outcome = concluded(mended.recipes.len(), tally, is_denied, output);
    say(&done(mended, named), output);
    for (name, count) in left {
        let (fixes, were) = if count == 1 { ("fix", "was") } else { ("fixes", "were") };
        say(
            &format!("{count} {fixes} in {} {were} left: name that file too to have it mended", one_line(&name)),
            output,
        );
    }
    Ok(outcome)
}

/// "3 fixes in 2 files", and each that changes the design.
fn done(mended: &Mended<'_>, named: &[Named]) -> String {
    let plural = |count: usize, one: &str, more: &str| format!("{count} {}", if count == 1 { one } else { more });
    let mut text = plural(mended.done.len(), "fix", "fixes");
    if mended.done.is_empty() {
        return "no fix was made".to_owned();
    }
    let _ = write!(text, " in {}", plural(mended.files.len(), "file", "files"));
    let mut safe = 0;
    for Done { title, grade, code, file } in &mended.done {
        match grade {
            Grade::Safe => safe += 1,
            Grade::Ask => {
                let name = named.get(file.0).map(shown).unwrap_or_default();
                let _ = write!(text, "\n  {}: {} [{}]", one_line(&name), one_line(title), code.name);
            }
        }
    }
    if safe > 0 {
        let _ = write!(text, "\n  {safe} that {} the design as it was", if safe == 1 { "leaves" } else { "leave" });
    }
    text
}
