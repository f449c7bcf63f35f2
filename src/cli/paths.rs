//! What the paths on the command line mean: files, folders to search, standard input.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Component, Path, PathBuf};

use crate::source::FileId;

use super::disk::{STDIN_NAME, by_steps};
use super::{DiskWorld, Failure};

/// One recipe to work on.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Input {
    /// The text on standard input.
    Stdin,
    /// A file; whether it can be read is not known yet.
    File(PathBuf),
}

impl Input {
    /// What one path means; `-` is standard input.
    pub(super) fn of(path: &Path) -> Self {
        if path == Path::new("-") { Self::Stdin } else { Self::File(path.to_owned()) }
    }

    /// As the user knows it.
    pub(super) fn name(&self) -> String {
        match self {
            Self::Stdin => STDIN_NAME.to_owned(),
            Self::File(path) => path.to_string_lossy().into_owned(),
        }
    }

    /// What its own output folder is called when several recipes are built.
    pub(super) fn stem(&self) -> String {
        match self {
            Self::Stdin => "stdin".to_owned(),
            Self::File(path) => path.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned()),
        }
    }

    /// Reads it.
    ///
    /// # Errors
    /// [`Failure`] in all its forms of not being readable.
    pub(super) fn open(&self) -> Result<(DiskWorld, FileId), Failure> {
        match self {
            Self::Stdin => DiskWorld::open_stdin(),
            Self::File(path) => DiskWorld::open_root(path),
        }
    }
}

/// What a search has come upon.
#[derive(Debug)]
pub(super) struct Found<T> {
    /// Recipes.
    pub(super) recipes: Vec<T>,
    /// [`Failure::CannotRead`] of each folder that is closed; what lies beside it is found all the same.
    pub(super) closed: Vec<Failure>,
}

/// The paths in their order, folders replaced by the recipes in them, each recipe once.
///
/// # Errors
/// [`Failure::NoRecipes`] for an open folder without any.
pub(super) fn recipes(paths: &[PathBuf]) -> Result<Found<Input>, Failure> {
    let (mut inputs, mut closed) = (Vec::new(), Vec::new());
    for path in paths {
        if path != Path::new("-") && path.is_dir() {
            let found = in_folder(path);
            if found.recipes.is_empty() && found.closed.is_empty() {
                return Err(Failure::NoRecipes { path: path.to_string_lossy().into_owned() });
            }
            inputs.extend(found.recipes.into_iter().map(Input::File));
            closed.extend(found.closed);
        } else {
            inputs.push(Input::of(path));
        }
    }
    Ok(Found { recipes: without_repetitions(inputs), closed })
}

/// Each input once, where it came first: `a.vessel` and `./a.vessel` are one.
pub(super) fn without_repetitions(inputs: Vec<Input>) -> Vec<Input> {
    let mut seen = BTreeSet::new();
    let key = |input: &Input| match input {
        Input::Stdin => None,
        // Two dots are left alone: behind a link they lead elsewhere.
        Input::File(path) if path.components().all(|step| step != Component::ParentDir) => Some(by_steps(path)),
        Input::File(path) => Some(path.clone()),
    };
    inputs.into_iter().filter(|input| seen.insert(key(input))).collect()
}

/// All recipes below `folder`, ordered by path. Hidden folders, `target` and linked folders are
/// passed over: what is in them was made, or is reached in another way.
pub(super) fn in_folder(folder: &Path) -> Found<PathBuf> {
    let mut found = Found { recipes: Vec::new(), closed: Vec::new() };
    let mut to_search = vec![folder.to_owned()];
    while let Some(folder) = to_search.pop() {
        if let Err(cause) = look(&folder, &mut to_search, &mut found.recipes) {
            found.closed.push(Failure::CannotRead { path: folder.to_string_lossy().into_owned(), cause });
        }
    }
    found.recipes.sort();
    found
}

fn look(folder: &Path, to_search: &mut Vec<PathBuf>, recipes: &mut Vec<PathBuf>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name();
        let path = if folder == Path::new(".") { PathBuf::from(&name) } else { folder.join(&name) };
        if entry.file_type()?.is_dir() {
            if name != "target" && !name.as_encoded_bytes().starts_with(b".") {
                to_search.push(path);
            }
        } else if is_recipe(&path) && path.is_file() {
            recipes.push(path);
        }
    }
    Ok(())
}

/// By its name; systems that know no difference between upper and lower case write it as they like.
fn is_recipe(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("vessel"))
}
