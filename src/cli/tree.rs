//! `build` of folders: every recipe below them, each for itself, on all cores.
//!
//! What was built and has changed in nothing is not built again: the manifest of its folder holds a hash of all that it
//! was made from. A recipe with findings is compiled all the same, since they are told every time; only writing is saved.

use std::fmt::Write as _;
use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::compile::{Options, compile_with, glance};
use crate::finding::Finding;
use crate::output::Paper;

use super::args::Output;
use super::baseline::Baseline;
use super::build::{Writes, tell_of_earlier};
use super::folder::{self, Writing};
use super::levels::Denial;
use super::many::each_in_order;
use super::paths::{Found, Input, recipes};
use super::portable::folded;
use super::progress::Progress;
use super::reporter::Reporter;
use super::terminal::{Failures, Stream, tell};
use super::{DiskWorld, Failure, Outcome};

/// What came of one recipe.
enum Made {
    /// Its documents are there as they should be, and nothing was done.
    Known,
    /// So many documents were written.
    Built(usize),
    /// Findings deny it.
    Denied {
        /// Where its documents would be.
        place: PathBuf,
        /// Whether an earlier text of it was built, and its documents are still there.
        is_stale: bool,
    },
    /// It has no vessel but only what others use.
    Library,
}

type Told = (DiskWorld, Vec<Finding>, Made);

/// Builds every recipe that `paths` mean. One that is denied or cannot be read does not keep the others from being built.
pub(super) fn run(
    paths: &[PathBuf],
    writes: Writes<'_>,
    options: &Options<'_>,
    denial: &Denial,
    output: Output,
) -> Result<Outcome, Failure> {
    let Some(out) = writes.folder else {
        let folder = paths.iter().find(|path| path.is_dir());
        return Err(Failure::NoFolder { path: folder.map_or_else(String::new, |folder| shown(folder)) });
    };
    let Found { recipes: inputs, closed } = recipes(paths)?;
    let places = places(&inputs, paths, out)?;
    let jobs: Vec<(Input, PathBuf)> = inputs.into_iter().zip(places).collect();
    let surroundings = surroundings(options, writes.paper);
    let mut reporter = Reporter::new(output, Stream::Stderr, denial, Baseline::default());
    let mut progress = Progress::of(jobs.len());
    let (mut built, mut known, mut denied, mut documents, mut failed) = (0, 0, 0, 0, 0);
    let mut failures = Failures::of(closed, output);
    each_in_order(
        &jobs,
        |(input, place)| made(input, place, options, writes, denial, &surroundings),
        |told| {
            progress.step();
            match told {
                Ok((world, findings, made)) => {
                    if !findings.is_empty() {
                        progress.aside(|| reporter.add(findings, &world))?;
                    }
                    match made {
                        Made::Known => known += 1,
                        Made::Built(count) => {
                            built += 1;
                            documents += count;
                        }
                        Made::Denied { place, is_stale } => {
                            denied += 1;
                            if is_stale {
                                progress.aside(|| tell_of_earlier(&place, output));
                            }
                        }
                        Made::Library => {}
                    }
                }
                Err(failure) => {
                    failed += 1;
                    progress.aside(|| failures.add(failure, output));
                }
            }
            Ok(())
        },
    )?;
    drop(progress);
    reporter.finish()?;
    let plural = if documents == 1 { "" } else { "s" };
    let mut line = format!("{built} built, {documents} document{plural} written");
    if known > 0 {
        let _ = write!(line, "; {known} unchanged");
    }
    if denied > 0 {
        let _ = write!(line, "; {denied} denied");
    }
    if failed > 0 {
        let _ = write!(line, "; {failed} failed");
    }
    tell(&line);
    failures.end()?;
    Ok(if denied > 0 { Outcome::Denied } else { Outcome::Clean })
}

/// What stands behind the hash of what was made from it when there is something to say of it.
const WITH_FINDINGS: &str = " with findings";

fn made(
    input: &Input,
    place: &Path,
    options: &Options<'_>,
    writes: Writes<'_>,
    denial: &Denial,
    surroundings: &str,
) -> Result<Told, Failure> {
    let (world, root) = input.open()?;
    // Opens all that it uses, and costs a hundredth of the rest; what it finds was found when the texts were built.
    let _ = glance(&world, root);
    let from = made_from(&world, surroundings);
    let spoken = format!("{from}{WITH_FINDINGS}");
    let known = folder::built_from(place);
    if known.as_ref() == Some(&from) {
        return Ok((world, Vec::new(), Made::Known));
    }
    let compiled = compile_with(&world, root, options);
    if denial.denies_any(&compiled.findings) {
        let is_stale = folder::is_built(place);
        return Ok((world, compiled.findings, Made::Denied { place: place.to_owned(), is_stale }));
    }
    // What it says must be said again; what it writes is there.
    if known.as_ref() == Some(&spoken) {
        return Ok((world, compiled.findings, Made::Known));
    }
    let Some(design) = compiled.complete() else { return Ok((world, compiled.findings, Made::Library)) };
    let documents = folder::documents(&design, &world, writes.paper, place)?;
    let from = if compiled.findings.is_empty() { from } else { spoken };
    let written = Writing::prepare(place, documents, writes.force)?.made_from(Some(from)).write()?;
    Ok((world, compiled.findings, Made::Built(written.new)))
}

/// The texts of a recipe, and all else that decides what is made of them.
fn made_from(world: &DiskWorld, surroundings: &str) -> String {
    let mut hasher = Sha256::new();
    hasher.update(surroundings);
    for file in world.files() {
        for part in [file.name.as_bytes(), file.text.as_bytes()] {
            // With its length, so that no two lists of texts read alike.
            hasher.update(part.len().to_le_bytes());
            hasher.update(part);
        }
    }
    folder::hex(&hasher.finalize())
}

/// The program itself and what was asked of it.
fn surroundings(options: &Options<'_>, paper: Option<Paper>) -> String {
    let mut hasher = Sha256::new();
    let program = std::env::current_exe().and_then(File::open);
    // Without its bytes the version has to do.
    let _ = program.and_then(|mut file| io::copy(&mut file, &mut hasher));
    let asked = (&options.levels, options.asked.effort.factor, options.asked.start, paper);
    format!("{} {} {asked:?}", env!("CARGO_PKG_VERSION"), folder::hex(&hasher.finalize()))
}

/// Where each recipe's documents go: below `out` as the recipe lies below the folder that was named.
fn places(inputs: &[Input], paths: &[PathBuf], out: &Path) -> Result<Vec<PathBuf>, Failure> {
    let place = |input: &Input| {
        let Input::File(path) = input else { return PathBuf::from(input.stem()) };
        let below = paths.iter().filter(|folder| folder.is_dir()).find_map(|folder| path.strip_prefix(folder).ok());
        below.map_or_else(|| PathBuf::from(input.stem()), |below| below.with_extension(""))
    };
    let places: Vec<PathBuf> = inputs.iter().map(place).collect();
    let mut known = std::collections::BTreeMap::new();
    for (at, place) in places.iter().enumerate() {
        if let Some(other) = known.insert(folded(&place.to_string_lossy()), at) {
            return Err(Failure::SameFolder {
                folder: shown(&out.join(place)),
                first: inputs[other].name(),
                second: inputs[at].name(),
            });
        }
    }
    Ok(places.iter().map(|place| out.join(place)).collect())
}

fn shown(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}
