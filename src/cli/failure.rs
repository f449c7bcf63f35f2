//! Why the program could not run, told by miette with code, help and cause.

use std::error::Error;
use std::fmt;
use std::io;
use std::path::PathBuf;

use miette::Diagnostic;

/// Largest recipe that is read.
pub(super) const LARGEST_FILE: u64 = 4 * 1024 * 1024;

/// A reason for exit code 2.
#[derive(Debug)]
pub(super) enum Failure {
    /// There is no such file or folder.
    NotFound(PathBuf),
    /// A folder where a recipe was wanted.
    Folder(PathBuf),
    /// A device, a pipe or another thing that is no file.
    NotAFile(PathBuf),
    /// It cannot be read.
    Read(PathBuf, io::Error),
    /// It is no text in UTF-8; the first bad byte.
    NotText(PathBuf, usize),
    /// It is larger than any recipe; its size.
    TooLarge(PathBuf, u64),
    /// No recipe lies below these folders.
    NoRecipe(PathBuf),
    /// Two recipes would write into one folder.
    SameFolder(PathBuf, PathBuf),
    /// The file has no vessel to build.
    NoVessel(PathBuf),
    /// It cannot be written.
    Write(PathBuf, io::Error),
    /// These files were not written by a build, or were edited since.
    Overwrite(Vec<PathBuf>),
    /// A link or a folder stands where a document goes.
    InTheWay(PathBuf, &'static str),
    /// There is such a recipe already.
    Exists(PathBuf),
    /// A name that no recipe can have.
    BadName(PathBuf),
    /// No finding has that code; the nearest ones.
    UnknownCode(String, Vec<&'static str>),
    /// Standard output or error cannot be written.
    Print(io::Error),
}

impl Failure {
    pub(super) fn json(&self) -> String {
        let code = self.code().map(|code| code.to_string());
        let help = self.help().map(|help| help.to_string());
        let cause = self.source().map(ToString::to_string);
        let error = serde_json::json!({ "code": code, "message": self.to_string(), "help": help, "cause": cause });
        format!("{:#}\n", serde_json::json!({ "error": error }))
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFound(path) => write!(f, "there is no file {}", path.display()),
            Self::Folder(path) => write!(f, "{} is a folder, not a recipe", path.display()),
            Self::NotAFile(path) => write!(f, "{} is not a file", path.display()),
            Self::Read(path, _) => write!(f, "{} cannot be read", path.display()),
            Self::NotText(path, at) => write!(f, "{} is no text in UTF-8: byte {at} cannot be", path.display()),
            Self::TooLarge(path, size) => {
                write!(f, "{} has {size} bytes; a recipe has {LARGEST_FILE} at most", path.display())
            }
            Self::NoRecipe(path) => write!(f, "no recipe (*.vessel) lies in {}", path.display()),
            Self::SameFolder(a, b) => {
                write!(f, "{} and {} would be written into one folder", a.display(), b.display())
            }
            Self::NoVessel(path) => write!(f, "{} has no vessel to build", path.display()),
            Self::Write(path, _) => write!(f, "{} cannot be written", path.display()),
            Self::Overwrite(paths) => {
                let names: Vec<String> = paths.iter().map(|path| path.display().to_string()).collect();
                write!(f, "a build did not write this, or it was edited since: {}", names.join(", "))
            }
            Self::InTheWay(path, what) => write!(f, "{} is {what}", path.display()),
            Self::Exists(path) => write!(f, "{} is there already", path.display()),
            Self::BadName(path) => write!(f, "{} cannot be a recipe's name", path.display()),
            Self::UnknownCode(code, _) => write!(f, "no finding has the code {code}"),
            Self::Print(_) => write!(f, "the output cannot be written"),
        }
    }
}

impl Error for Failure {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            Self::Read(_, cause) | Self::Write(_, cause) | Self::Print(cause) => Some(cause),
            Self::NotFound(_)
            | Self::Folder(_)
            | Self::NotAFile(_)
            | Self::NotText(..)
            | Self::TooLarge(..)
            | Self::NoRecipe(_)
            | Self::SameFolder(..)
            | Self::NoVessel(_)
            | Self::Overwrite(_)
            | Self::InTheWay(..)
            | Self::Exists(_)
            | Self::BadName(_)
            | Self::UnknownCode(..) => None,
        }
    }
}

impl Diagnostic for Failure {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(match self {
            Self::NotFound(_) => "cannot-run/not-found",
            Self::Folder(_) => "cannot-run/is-a-folder",
            Self::NotAFile(_) => "cannot-run/not-a-file",
            Self::Read(..) => "cannot-run/unreadable",
            Self::NotText(..) => "cannot-run/not-text",
            Self::TooLarge(..) => "cannot-run/too-large",
            Self::NoRecipe(_) => "cannot-run/no-recipe",
            Self::SameFolder(..) => "cannot-run/same-folder",
            Self::NoVessel(_) => "cannot-run/no-vessel",
            Self::Write(..) => "cannot-run/unwritable",
            Self::Overwrite(_) => "cannot-run/would-overwrite",
            Self::InTheWay(..) => "cannot-run/in-the-way",
            Self::Exists(_) => "cannot-run/exists",
            Self::BadName(_) => "cannot-run/bad-name",
            Self::UnknownCode(..) => "cannot-run/unknown-code",
            Self::Print(_) => "cannot-run/no-output",
        }))
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        let help = match self {
            Self::NotFound(_) => "check the name; a path is taken from the folder you stand in".to_owned(),
            Self::Folder(_) => "name a recipe in it; `ringwright check` takes folders too".to_owned(),
            Self::NotText(..) => "save it as UTF-8 in your editor".to_owned(),
            Self::NoRecipe(_) => "`ringwright new NAME` writes a recipe to start from".to_owned(),
            Self::SameFolder(..) => "build them one by one, each with its own -o".to_owned(),
            Self::NoVessel(_) => "other recipes bring it in with `use`; build one of those".to_owned(),
            Self::Overwrite(_) => "name another folder, move the file away, or add --force".to_owned(),
            Self::InTheWay(..) => "move it away or name another folder; a build only replaces plain files".to_owned(),
            Self::Exists(_) => "choose another name, or delete it first".to_owned(),
            Self::BadName(_) => "use letters, digits and hyphens".to_owned(),
            Self::UnknownCode(_, near) if near.is_empty() => "`ringwright explain` lists all codes".to_owned(),
            Self::UnknownCode(_, near) => format!("did you mean {}?", near.join(" or ")),
            Self::NotAFile(_) | Self::Read(..) | Self::TooLarge(..) | Self::Write(..) | Self::Print(_) => return None,
        };
        Some(Box::new(help))
    }
}
