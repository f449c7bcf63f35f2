//! `build`: from recipes to a summary and, into a folder, all documents.

use std::path::{Path, PathBuf};

use crate::compile::{Compiled, Options, compile_with};
use crate::finding::render::one_line;
use crate::output;
use crate::plan::Asked;
use crate::search::Effort;

use super::args::{Output, Planning};
use super::baseline::Baseline;
use super::folder::{Writing, Written, documents, is_built};
use super::levels::Weights;
use super::paths::{Input, without_repetitions};
use super::portable::folded;
use super::portrait;
use super::progress::Search;
use super::reporter::Reporter;
use super::terminal::{self, Stream, say};
use super::{DiskWorld, Failure, Outcome, tree};

/// What is to be written.
#[derive(Debug, Clone, Copy)]
pub(super) struct Writes<'a> {
    /// Where to; nothing is written without one.
    pub folder: Option<&'a Path>,
    /// Whether over files that no build wrote.
    pub force: bool,
    /// Of the shop sheet; none for what the recipe's units make usual.
    pub paper: Option<output::Paper>,
}

/// Builds all `recipes` or, when anything is against one of them, none.
pub(super) fn run(
    recipes: &[PathBuf],
    writes: Writes<'_>,
    planning: Planning,
    weights: &Weights,
    output: Output,
) -> Result<Outcome, Failure> {
    let Writes { folder, force, paper } = writes;
    let (levels, denial) = (weights.levels()?, weights.denial()?);
    if recipes.iter().any(|path| path.is_dir()) {
        let effort = Effort { factor: planning.effort, watch: None };
        let options = Options { levels, asked: Asked { effort, start: planning.start } };
        return tree::run(recipes, writes, &options, &denial, output);
    }
    let inputs = without_repetitions(recipes.iter().map(|path| Input::of(path)).collect());
    let folders = folder.map(|folder| folders(&inputs, folder)).transpose()?;
    let search = Search::of(planning.effort);
    let watch = |progress| search.tell(progress);
    let effort = Effort { factor: planning.effort, watch: (planning.effort > 1).then_some(&watch as _) };
    let options = Options { levels, asked: Asked { effort, start: planning.start } };
    let built = inputs.iter().map(|input| built(input, &options)).collect::<Result<Vec<_>, _>>()?;
    search.finish();

    let mut reporter = Reporter::new(output, Stream::Stderr, &denial, Baseline::default());
    for (world, compiled) in &built {
        reporter.add(compiled.findings.clone(), world)?;
    }
    if reporter.finish()?.is_denied {
        if let Some(why) = denial.why(built.iter().flat_map(|(_, compiled)| &compiled.findings)) {
            say(&format!("nothing is built, {why}"), output);
        }
        for folder in folders.iter().flatten().filter(|folder| is_built(folder)) {
            tell_of_earlier(folder, output);
        }
        return Ok(Outcome::Denied);
    }

    let has_portrait = output.has_color_on(Stream::Stdout) && Stream::Stdout.is_terminal();
    let mut summary = Vec::new();
    let mut writings = Vec::new();
    for (at, (world, compiled)) in built.iter().enumerate() {
        let Some(design) = compiled.complete() else {
            return Err(Failure::NothingToBuild { path: inputs[at].name() });
        };
        if at > 0 {
            summary.push(b'\n');
        }
        if has_portrait {
            let cells = output::portrait(&design, portrait::COLUMNS, portrait::ROWS);
            summary.extend(portrait::text(&cells, terminal::has_all_colors()));
        }
        let told = if folders.is_some() { output::summary_beside_documents } else { output::summary };
        summary.extend(told(&design).into_bytes());
        if let Some(folders) = &folders {
            let documents = documents(&design, world, paper, &folders[at])?;
            writings.push(Writing::prepare(&folders[at], documents, force)?);
        }
    }
    for writing in writings {
        told(&writing.write()?, output);
    }
    terminal::print(&summary)?;
    Ok(Outcome::Clean)
}

fn built(input: &Input, options: &Options<'_>) -> Result<(DiskWorld, Compiled), Failure> {
    let (world, root) = input.open()?;
    let compiled = compile_with(&world, root, options);
    Ok((world, compiled))
}

/// Where the documents of each recipe go: into `folder` itself, or each in a folder below it.
fn folders(inputs: &[Input], folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    if inputs.len() == 1 {
        return Ok(vec![folder.to_owned()]);
    }
    let stems: Vec<String> = inputs.iter().map(Input::stem).collect();
    for (at, stem) in stems.iter().enumerate() {
        // Some file systems know no difference between `Bowl` and `bowl`.
        let same = stems[..at].iter().position(|other| folded(other) == folded(stem));
        if let Some(other) = same {
            return Err(Failure::SameFolder {
                folder: folder.join(stem).to_string_lossy().into_owned(),
                first: inputs[other].name(),
                second: inputs[at].name(),
            });
        }
    }
    Ok(stems.iter().map(|stem| folder.join(stem)).collect())
}

/// That nobody takes what lies in a folder for what a denied recipe says now.
pub(super) fn tell_of_earlier(folder: &Path, output: Output) {
    say(&format!("what lies in {} was built from an earlier text", shown(folder)), output);
}

/// A path in a line for a person.
fn shown(path: &Path) -> String {
    one_line(&path.to_string_lossy()).into_owned()
}

/// Tells what was written.
pub(super) fn told(written: &Written, output: Output) {
    let Written { folder, new, unchanged, removed, strange } = written;
    let all = new + unchanged;
    let plural = if all == 1 { "" } else { "s" };
    let same = match unchanged {
        0 => String::new(),
        _ if *new == 0 => " (all unchanged)".to_owned(),
        some => format!(" ({some} unchanged)"),
    };
    say(&format!("{all} document{plural} in {}{same}", shown(folder)), output);
    for name in removed {
        say(&format!("{} is gone: this design has no such document", shown(&folder.join(name))), output);
    }
    for name in strange {
        say(&format!("{} stays, but is not of this design", shown(&folder.join(name))), output);
    }
}
