//! The world on the disk: recipes below a project folder, and nothing else.

use std::cell::RefCell;
use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::source::{FileId, SourceFile, UseError, World};

use super::failure::{Failure, LARGEST_FILE};

/// The name shown for standard input.
const STANDARD_INPUT: &str = "<stdin>";

/// The recipe that was named on the command line and the files it uses.
pub(super) struct DiskWorld {
    /// The real folder that no `use` may leave.
    project: PathBuf,
    opened: RefCell<Vec<Opened>>,
}

struct Opened {
    /// Where it really lies; standard input lies nowhere.
    real: Option<PathBuf>,
    /// Its folder, as shown.
    folder: PathBuf,
    file: Arc<SourceFile>,
}

impl DiskWorld {
    /// Opens a recipe, or standard input when the path is `-`.
    pub(super) fn open_recipe(path: &Path) -> Result<(Self, FileId), Failure> {
        if path == Path::new("-") {
            let text = text_of(path, read_limited(&mut io::stdin().lock(), path)?)?;
            let here = std::env::current_dir().and_then(fs::canonicalize).map_err(|e| Failure::Read(path.into(), e))?;
            let world = Self { project: project_folder(&here), opened: RefCell::default() };
            return Ok(world.with(None, PathBuf::new(), STANDARD_INPUT.to_owned(), text));
        }
        let text = read_text(path)?;
        let real = fs::canonicalize(path).map_err(|error| Failure::Read(path.into(), error))?;
        let folder = real.parent().unwrap_or(&real);
        let world = Self { project: project_folder(folder), opened: RefCell::default() };
        let shown = path.parent().unwrap_or(Path::new("")).to_path_buf();
        Ok(world.with(Some(real), shown, slashed(path), text))
    }

    fn with(self, real: Option<PathBuf>, folder: PathBuf, name: String, text: String) -> (Self, FileId) {
        let id = self.add(real, folder, name, text);
        (self, id)
    }

    fn add(&self, real: Option<PathBuf>, folder: PathBuf, name: String, text: String) -> FileId {
        let mut opened = self.opened.borrow_mut();
        let id = FileId(u32::try_from(opened.len()).unwrap_or(u32::MAX));
        opened.push(Opened { real, folder, file: Arc::new(SourceFile { id, name, text }) });
        id
    }

    /// The folder of a file: where it really lies, and as shown.
    fn folder_of(&self, file: FileId) -> (PathBuf, PathBuf) {
        let opened = self.opened.borrow();
        let Some(file) = opened.get(file.0 as usize) else { return (self.project.clone(), PathBuf::new()) };
        let real = file.real.as_ref().and_then(|real| real.parent()).map(Path::to_path_buf);
        let here = || std::env::current_dir().unwrap_or_else(|_| self.project.clone());
        (real.unwrap_or_else(here), file.folder.clone())
    }
}

impl World for DiskWorld {
    fn open(&self, from: FileId, path: &str) -> Result<FileId, UseError> {
        let (folder, shown) = self.folder_of(from);
        let outside = || {
            let name = self.project.file_name().map_or_else(|| "/".into(), |name| name.to_string_lossy().into_owned());
            Err(UseError::OutsideProject(name))
        };
        let wanted = Path::new(path);
        let real = match fs::canonicalize(folder.join(wanted)) {
            Ok(real) => real,
            // What lies outside is not even told to be missing.
            Err(_) if wanted.is_absolute() || leaves(&folder, wanted, &self.project) => return outside(),
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Err(UseError::NotFound),
            Err(error) => return Err(UseError::Unreadable(error.to_string())),
        };
        if wanted.is_absolute() || !real.starts_with(&self.project) {
            return outside();
        }
        let known = self.opened.borrow().iter().find(|file| file.real.as_ref() == Some(&real)).map(|file| file.file.id);
        if let Some(known) = known {
            return Ok(known);
        }
        let text = read_text(&real).map_err(|failure| UseError::Unreadable(reason(&failure)))?;
        let name = shown.join(wanted);
        let folder = name.parent().unwrap_or(Path::new("")).to_path_buf();
        Ok(self.add(Some(real), folder, slashed(&name), text))
    }

    fn file(&self, id: FileId) -> Arc<SourceFile> {
        let opened = self.opened.borrow();
        opened.get(id.0 as usize).map_or_else(
            || Arc::new(SourceFile { id, name: String::new(), text: String::new() }),
            |opened| Arc::clone(&opened.file),
        )
    }
}

/// The nearest folder above that holds `.git`, else the recipe's own.
fn project_folder(folder: &Path) -> PathBuf {
    folder.ancestors().find(|folder| folder.join(".git").exists()).unwrap_or(folder).to_path_buf()
}

/// Whether a path climbs out of the project by its own steps.
fn leaves(folder: &Path, path: &Path, project: &Path) -> bool {
    let mut at = folder.to_path_buf();
    for step in path.components() {
        match step {
            std::path::Component::ParentDir => {
                at.pop();
            }
            std::path::Component::Normal(name) => at.push(name),
            std::path::Component::CurDir | std::path::Component::RootDir | std::path::Component::Prefix(_) => {}
        }
        if !at.starts_with(project) {
            return true;
        }
    }
    false
}

/// A recipe's text, or why there is none.
fn read_text(path: &Path) -> Result<String, Failure> {
    let data = fs::metadata(path).map_err(|error| {
        if error.kind() == io::ErrorKind::NotFound {
            Failure::NotFound(path.into())
        } else {
            Failure::Read(path.into(), error)
        }
    })?;
    if data.is_dir() {
        return Err(Failure::Folder(path.into()));
    }
    // A pipe or a device may never end; it is not even opened.
    if !data.is_file() {
        return Err(Failure::NotAFile(path.into()));
    }
    if data.len() > LARGEST_FILE {
        return Err(Failure::TooLarge(path.into(), data.len()));
    }
    let mut file = fs::File::open(path).map_err(|error| Failure::Read(path.into(), error))?;
    text_of(path, read_limited(&mut file, path)?)
}

fn read_limited(from: &mut dyn Read, path: &Path) -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    from.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(|error| Failure::Read(path.into(), error))?;
    let size = bytes.len() as u64;
    if size > LARGEST_FILE { Err(Failure::TooLarge(path.into(), size)) } else { Ok(bytes) }
}

fn text_of(path: &Path, bytes: Vec<u8>) -> Result<String, Failure> {
    String::from_utf8(bytes).map_err(|error| Failure::NotText(path.into(), error.utf8_error().valid_up_to()))
}

/// Names are shown with slashes everywhere, so that documents agree.
fn slashed(path: &Path) -> String {
    path.to_string_lossy().replace('\\', "/")
}

fn reason(failure: &Failure) -> String {
    match failure {
        Failure::Folder(_) => "it is a folder".to_owned(),
        Failure::NotAFile(_) => "it is not a file".to_owned(),
        Failure::NotText(_, at) => format!("it is no text in UTF-8 (byte {at})"),
        Failure::TooLarge(_, size) => format!("it has {size} bytes, more than {LARGEST_FILE}"),
        Failure::Read(_, cause) => cause.to_string(),
        other @ (Failure::NotFound(_)
        | Failure::NoRecipe(_)
        | Failure::SameFolder(..)
        | Failure::NoVessel(_)
        | Failure::Write(..)
        | Failure::Overwrite(_)
        | Failure::InTheWay(..)
        | Failure::Exists(_)
        | Failure::BadName(_)
        | Failure::UnknownCode(..)
        | Failure::Print(_)) => other.to_string(),
    }
}
