//! `new`: a starter recipe.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use crate::source::Platform;

use super::args::Output;
use super::portable::{argument, trouble};
use super::{Failure, Outcome, terminal};

const STARTER: &str = include_str!("starter.vessel");

/// Writes `NAME.vessel`, if there is no such file.
pub(super) fn run(name: &Path, output: Output) -> Result<Outcome, Failure> {
    let (path, title) = named(Platform::HERE, name)
        .map_err(|why| Failure::NoName { path: name.to_string_lossy().into_owned(), why })?;
    let shown = path.to_string_lossy().into_owned();
    let cannot = |cause| Failure::CannotWrite { path: shown.clone(), cause };
    let mut file = match OpenOptions::new().write(true).create_new(true).open(&path) {
        Ok(file) => file,
        Err(error) if error.kind() == ErrorKind::AlreadyExists => return Err(Failure::Exists { path: shown }),
        Err(error) => return Err(cannot(error)),
    };
    let written = file.write_all(STARTER.replace("{title}", &title).as_bytes());
    if let Err(error) = written {
        // Half a recipe helps nobody; what cannot be removed is at least told of.
        let _ = std::fs::remove_file(&path);
        return Err(cannot(error));
    }
    terminal::say(&format!("{shown} is written; try `ringwright build {}`", argument(Platform::HERE, &shown)), output);
    Ok(Outcome::Clean)
}

/// The file for a name, and the vessel's name in it: `shop/rye-crock` is "Rye crock" in `shop/rye-crock.vessel`.
/// Else why not; no reason where there is no name at all.
fn named(platform: Platform, name: &Path) -> Result<(PathBuf, String), Option<&'static str>> {
    let given = name.to_str().ok_or(None)?;
    let stem = given.strip_suffix(".vessel").unwrap_or(given);
    let last = stem.rsplit(|letter| platform.parts_steps(letter)).next().unwrap_or("");
    if last.is_empty() || last == "." || last == ".." || stem.contains('\0') {
        return Err(None);
    }
    if let Some(why) = trouble(&format!("{last}.vessel")) {
        return Err(Some(why));
    }
    let words = last.replace(['-', '_'], " ");
    let mut letters = words.trim().chars();
    let first = letters.next().ok_or(None)?;
    Ok((PathBuf::from(format!("{stem}.vessel")), first.to_uppercase().chain(letters).collect()))
}

#[cfg(test)]
mod tests {
    use std::path::{Path, PathBuf};

    use super::named;
    use crate::source::Platform::{Unix, Windows};

    #[test]
    fn the_vessel_is_called_after_the_file() {
        let name = |path: &str| named(Unix, Path::new(path));
        assert_eq!(name("a/rye-crock"), Ok((PathBuf::from("a/rye-crock.vessel"), "Rye crock".to_owned())));
        assert_eq!(name("bowl.vessel"), Ok((PathBuf::from("bowl.vessel"), "Bowl".to_owned())));
        assert_eq!(name("v1.2"), Ok((PathBuf::from("v1.2.vessel"), "V1.2".to_owned())));
        for none in ["", ".", "..", "a/", ".vessel", "a/..", "--"] {
            assert_eq!(name(none), Err(None), "{none}");
        }
        for none in ["say\"hi", "a/con", "NUL.vessel", r"C:\bowl"] {
            assert!(name(none).is_err_and(|why| why.is_some()), "{none}");
        }
        assert_eq!(named(Windows, Path::new(r"C:\shop\rye-crock")).unwrap().1, "Rye crock");
    }
}
