//! What the paths on the command line mean: files, folders to search, standard input.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use crate::source::FileId;

use super::disk::STDIN_NAME;
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

/// The paths in their order, folders replaced by the recipes in them, each recipe once.
///
/// # Errors
/// [`Failure::NoRecipes`] for a folder without any, [`Failure::CannotRead`] for one that is closed.
pub(super) fn recipes(paths: &[PathBuf]) -> Result<Vec<Input>, Failure> {
    let mut inputs = Vec::new();
    for path in paths {
        if path != Path::new("-") && path.is_dir() {
            let found = in_folder(path)?;
            if found.is_empty() {
                return Err(Failure::NoRecipes { path: path.to_string_lossy().into_owned() });
            }
            inputs.extend(found.into_iter().map(Input::File));
        } else {
            inputs.push(Input::of(path));
        }
    }
    Ok(without_repetitions(inputs))
}

/// Each input once, where it came first.
pub(super) fn without_repetitions(inputs: Vec<Input>) -> Vec<Input> {
    let mut seen = BTreeSet::new();
    inputs.into_iter().filter(|input| seen.insert(input.clone())).collect()
}

/// All recipes below `folder`, ordered by path. Hidden folders, `target` and linked folders are
/// passed over: what is in them was made, or is reached in another way.
pub(super) fn in_folder(folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let mut found = Vec::new();
    let mut to_search = vec![folder.to_owned()];
    while let Some(folder) = to_search.pop() {
        let closed = |cause| Failure::CannotRead { path: folder.to_string_lossy().into_owned(), cause };
        for entry in fs::read_dir(&folder).map_err(closed)? {
            let entry = entry.map_err(closed)?;
            let name = entry.file_name();
            let path = if folder == Path::new(".") { PathBuf::from(&name) } else { folder.join(&name) };
            let kind = entry.file_type().map_err(closed)?;
            if kind.is_dir() {
                if name != "target" && !name.as_encoded_bytes().starts_with(b".") {
                    to_search.push(path);
                }
            } else if is_recipe(&path) && path.is_file() {
                found.push(path);
            }
        }
    }
    found.sort();
    Ok(found)
}

/// By its name; systems that know no difference between upper and lower case write it as they like.
fn is_recipe(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("vessel"))
}
