//! `check --fix` and `check --diff`: what can be mended, written or shown.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs::{self, Metadata, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};

use similar::{ChangeTag, TextDiff};

use crate::finding::Grade;
use crate::finding::render::one_line;
use crate::mend::{Done, FileKey, Mended, MendedFile, Recipe, Wanted, left_elsewhere, mend};
use crate::source::FileId;

use super::args::{Asked, Output};
use super::baseline::Baseline;
use super::check::concluded;
use super::disk::{by_steps, still_holds};
use super::levels::{Denial, Weights};
use super::paths::{Input, recipes};
use super::reporter::{Reported, Reporter};
use super::staged::Staged;
use super::terminal::{Stream, fail, print, say};
use super::{DiskWorld, Failure, Outcome};

/// Unchanged lines that a patch shows round a change, as `diff -u` does.
const CONTEXT: usize = 3;

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
    let inputs = recipes(paths)?;
    let mut worlds = Vec::new();
    let mut failure = None;
    for input in &inputs {
        let opened = if *input == Input::Stdin { Err(Failure::FixOfStdin) } else { input.open() };
        match opened {
            Ok((world, root)) => worlds.push((world, root)),
            Err(error) => {
                if let Some(earlier) = failure.replace(error) {
                    fail(&earlier, output);
                }
            }
        }
    }
    // A file that cannot be read may use what would be changed.
    if let Some(failure) = failure {
        return Err(failure);
    }
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
            write(&mended.files, &named)?;
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
        patch.push_str(&unified(&named.path, file, has_color));
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

/// What changed in one file, as `git apply` and `patch -p1` read it. Lines end with their line feed
/// alone: a carriage return before it is part of the line.
fn unified(path: &Path, file: &MendedFile, has_color: bool) -> String {
    let paint =
        |text: &str, color: &str| if has_color { format!("\u{1b}[{color}m{text}\u{1b}[0m") } else { text.to_owned() };
    let shown = path.to_string_lossy().replace('\\', "/");
    let shown = one_line(shown.trim_start_matches('/'));
    // The tab tells `patch` where a name with blanks ends.
    let tab = if shown.contains(' ') { "\t" } else { "" };
    let mut text = String::new();
    let _ = writeln!(text, "{}", paint(&format!("--- a/{shown}{tab}"), "1"));
    let _ = writeln!(text, "{}", paint(&format!("+++ b/{shown}{tab}"), "1"));
    let (old, new): (Vec<&str>, Vec<&str>) =
        (file.before.split_inclusive('\n').collect(), file.after.split_inclusive('\n').collect());
    let diff = TextDiff::configure().newline_terminated(true).diff_slices(&old, &new);
    for hunk in diff.unified_diff().context_radius(CONTEXT).iter_hunks() {
        let _ = writeln!(text, "{}", paint(&hunk.header().to_string(), "36"));
        for change in hunk.iter_changes() {
            let (sign, color) = match change.tag() {
                ChangeTag::Equal => (' ', None),
                ChangeTag::Delete => ('-', Some("31")),
                ChangeTag::Insert => ('+', Some("32")),
            };
            let line = change.value();
            let (body, has_end) = line.strip_suffix('\n').map_or((line, false), |body| (body, true));
            let body = format!("{sign}{body}");
            text.push_str(&color.map_or(body.clone(), |color| paint(&body, color)));
            text.push('\n');
            if !has_end {
                text.push_str("\\ No newline at end of file\n");
            }
        }
    }
    text
}

/// Writes all files, or none when one of them cannot be.
fn write(files: &BTreeMap<FileKey, MendedFile>, named: &[Named]) -> Result<(), Failure> {
    let mut staged = Vec::new();
    for (named, file) in with_names(files, named) {
        let about = writable(named, file)?;
        let cannot = |cause| Failure::CannotWrite { path: shown(named), cause };
        let (Some(folder), Some(name)) = (named.canonical.parent(), named.canonical.file_name()) else {
            return Err(cannot(io::Error::from(io::ErrorKind::InvalidInput)));
        };
        let Some(name) = name.to_str() else {
            return Err(cannot(io::Error::from(io::ErrorKind::InvalidInput)));
        };
        staged.push((Staged::write(folder, name, file.after.as_bytes())?.like(&about)?, named, file));
    }
    // The latest moment at which nothing of what others write is lost.
    for (_, named, file) in &staged {
        writable(named, file)?;
    }
    for (file, ..) in staged {
        file.rename()?;
    }
    Ok(())
}

/// Whether the file may be replaced: it is writable and as it was read. A rename alone would replace
/// a read-only file too.
fn writable(named: &Named, file: &MendedFile) -> Result<Metadata, Failure> {
    if named.is_link_outside {
        return Err(Failure::LinkOutside { path: shown(named) });
    }
    let cannot = |cause| Failure::CannotWrite { path: shown(named), cause };
    let about = fs::metadata(&named.canonical).map_err(cannot)?;
    if about.permissions().readonly() {
        return Err(cannot(io::Error::new(io::ErrorKind::PermissionDenied, "the file is read-only")));
    }
    OpenOptions::new().write(true).open(&named.canonical).map_err(cannot)?;
    if !still_holds(&named.canonical, &file.before).map_err(cannot)? {
        return Err(Failure::ChangedMeanwhile { path: shown(named) });
    }
    Ok(about)
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
