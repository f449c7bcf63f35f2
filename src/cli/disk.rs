//! The disk as a [`World`]: a recipe and the files it uses, none of them outside its project folder.

use std::cell::{OnceCell, RefCell};
use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use crate::server::Buffers;
use crate::source::{FileId, SourceFile, UseError, World};

use super::Failure;

/// Most bytes that a recipe may have; the longest known one has a hundredth of it.
pub(super) const SIZE_LIMIT: u64 = 4 << 20;

/// The name under which the text of standard input is known.
pub(super) const STDIN_NAME: &str = "<stdin>";

/// A recipe on disk, or on standard input, and what it uses.
#[derive(Debug)]
pub struct DiskWorld {
    opened: RefCell<Vec<Opened>>,
    /// Looked for at the first `use` only.
    project: OnceCell<Result<Project, String>>,
    /// What an editor holds, by the path without links: it wins over the disk.
    buffers: Buffers,
}

/// One file that was read.
#[derive(Debug)]
struct Opened {
    source: Arc<SourceFile>,
    /// Without links, to know the file again; of the root only once something is used.
    canonical: Option<PathBuf>,
    /// The folder its own `use` paths start from, as the user would write it.
    shown_folder: PathBuf,
}

/// The folder that a recipe may use files of.
#[derive(Debug)]
struct Project {
    /// Without links.
    folder: PathBuf,
    /// As the user would write it.
    shown: String,
    /// The root recipe without links, when it is a file.
    root: Option<PathBuf>,
}

/// Why a file could not be read as a recipe.
enum ReadError {
    NotFound,
    IsFolder,
    NotAFile,
    TooLarge,
    NotUtf8 { offset: usize, is_utf16: bool },
    Io(io::Error),
}

impl DiskWorld {
    /// Reads the recipe at `path` and makes it the root of a world.
    ///
    /// # Errors
    /// [`Failure`]: not there, a folder or a device, larger than 4 MiB, not UTF-8, not readable.
    pub fn open_root(path: &Path) -> Result<(Self, FileId), Failure> {
        Self::open_as(path, path)
    }

    /// Reads `file` as the text of the recipe at `path`: a version of it that lies elsewhere for a moment. What it uses is
    /// looked for beside `path`.
    ///
    /// # Errors
    /// As [`Self::open_root`].
    pub(super) fn open_as(path: &Path, file: &Path) -> Result<(Self, FileId), Failure> {
        let name = path.to_string_lossy().into_owned();
        let text = read_file(file).map_err(|error| error.of_root(&name))?;
        let folder = path.parent().unwrap_or(Path::new("")).to_owned();
        Ok(Self::with_root(name, text, folder))
    }

    /// As [`Self::open_root`], where the texts of `buffers`, by their paths without links, win over the disk.
    ///
    /// # Errors
    /// As those of [`Self::open_root`].
    pub(super) fn open_root_among(path: &Path, buffers: &Buffers) -> Result<(Self, FileId), Failure> {
        let Some(text) = buffers.get(path).or_else(|| buffers.get(&fs::canonicalize(path).ok()?)) else {
            let (world, root) = Self::open_root(path)?;
            return Ok((Self { buffers: buffers.clone(), ..world }, root));
        };
        let folder = path.parent().unwrap_or(Path::new("")).to_owned();
        let (world, root) = Self::with_root(path.to_string_lossy().into_owned(), text.to_string(), folder);
        Ok((Self { buffers: buffers.clone(), ..world }, root))
    }

    /// Reads the recipe on standard input; what it uses is looked for in the current folder.
    ///
    /// # Errors
    /// [`Failure`]: larger than 4 MiB, not UTF-8, not readable.
    pub fn open_stdin() -> Result<(Self, FileId), Failure> {
        let text = read_text(io::stdin().lock()).map_err(|error| error.of_root(STDIN_NAME))?;
        Ok(Self::with_root(STDIN_NAME.to_owned(), text, PathBuf::new()))
    }

    /// The names of all files that were read, the recipe's first.
    pub(super) fn names(&self) -> Vec<String> {
        self.opened.borrow().iter().map(|file| file.source.name.clone()).collect()
    }

    /// All texts that were read, the recipe's first.
    pub(super) fn files(&self) -> Vec<Arc<SourceFile>> {
        self.opened.borrow().iter().map(|file| Arc::clone(&file.source)).collect()
    }

    fn with_root(name: String, text: String, shown_folder: PathBuf) -> (Self, FileId) {
        let id = FileId(0);
        let source = Arc::new(SourceFile { id, name, text });
        let root = Opened { source, canonical: None, shown_folder };
        (Self { opened: RefCell::new(vec![root]), project: OnceCell::new(), buffers: Buffers::default() }, id)
    }

    /// The file on disk behind a text that was opened, without links; none for standard input.
    pub(super) fn place(&self, id: FileId) -> Option<PathBuf> {
        let opened = self.opened.borrow();
        let file = opened.get(id.0 as usize)?;
        match &file.canonical {
            Some(canonical) => Some(canonical.clone()),
            None if file.source.name == STDIN_NAME => None,
            None => fs::canonicalize(&file.source.name).ok(),
        }
    }

    /// Whether `canonical` lies in the project folder of the root recipe.
    pub(super) fn is_in_project(&self, canonical: &Path) -> bool {
        self.project().is_ok_and(|project| canonical.starts_with(&project.folder))
    }

    fn project(&self) -> Result<&Project, UseError> {
        let found = self.project.get_or_init(|| {
            let opened = self.opened.borrow();
            let root = opened.first().ok_or_else(String::new)?;
            Project::around(root).map_err(|error| reason(&error))
        });
        found.as_ref().map_err(|reason| UseError::Unreadable(reason.clone()))
    }

    /// The id of a file that was opened before.
    fn known(&self, canonical: &Path, project: &Project) -> Option<FileId> {
        let opened = self.opened.borrow();
        let is_it = |file: &&Opened| match &file.canonical {
            Some(known) => known == canonical,
            None => project.root.as_deref() == Some(canonical),
        };
        opened.iter().find(is_it).map(|file| file.source.id)
    }
}

impl World for DiskWorld {
    fn open(&self, from: FileId, path: &str) -> Result<FileId, UseError> {
        let project = self.project()?;
        let outside = || UseError::OutsideProject(project.shown.clone());
        let shown_folder = match self.opened.borrow().get(from.0 as usize) {
            Some(file) => file.shown_folder.clone(),
            None => return Err(UseError::NotFound),
        };
        if path.is_empty() {
            return Err(UseError::NotFound);
        }
        let folder = fs::canonicalize(or_here(&shown_folder)).map_err(|error| UseError::Unreadable(reason(&error)))?;
        // Judged by its steps first, so that nothing outside is even looked for …
        if Path::new(path).is_absolute() || !by_steps(&folder.join(path)).starts_with(&project.folder) {
            return Err(outside());
        }
        let steps = by_steps(&folder.join(path));
        let canonical = match fs::canonicalize(folder.join(path)) {
            Ok(canonical) => canonical,
            // What an editor holds need not be on the disk yet.
            Err(_) if self.buffers.contains_key(&steps) => steps,
            Err(error) => return Err(ReadError::from(error).of_use()),
        };
        // … and by where the links on the way lead.
        if !canonical.starts_with(&project.folder) {
            return Err(outside());
        }
        if let Some(known) = self.known(&canonical, project) {
            return Ok(known);
        }
        let text = match self.buffers.get(&canonical) {
            Some(text) => text.to_string(),
            None => read_file(&canonical).map_err(ReadError::of_use)?,
        };
        let shown = by_steps(&shown_folder.join(path));
        let mut opened = self.opened.borrow_mut();
        let id = FileId(u32::try_from(opened.len()).unwrap_or(u32::MAX));
        let source = Arc::new(SourceFile { id, name: shown.to_string_lossy().into_owned(), text });
        let shown_folder = shown.parent().unwrap_or(Path::new("")).to_owned();
        opened.push(Opened { source, canonical: Some(canonical), shown_folder });
        Ok(id)
    }

    fn file(&self, id: FileId) -> Arc<SourceFile> {
        let opened = self.opened.borrow();
        match opened.get(id.0 as usize) {
            Some(file) => Arc::clone(&file.source),
            None => Arc::new(SourceFile { id, name: String::new(), text: String::new() }),
        }
    }
}

impl Project {
    /// The nearest folder above the root recipe that holds `.git`, else the recipe's own.
    fn around(root: &Opened) -> io::Result<Self> {
        let own = fs::canonicalize(or_here(&root.shown_folder))?;
        let found = own.ancestors().enumerate().find(|(_, folder)| folder.join(".git").symlink_metadata().is_ok());
        let (steps_up, folder) = found.unwrap_or((0, own.as_path()));
        let mut shown = by_steps(&root.shown_folder);
        for _ in 0..steps_up {
            shown = by_steps(&shown.join(".."));
        }
        let shown = if shown.as_os_str().is_empty() {
            folder.file_name().map_or_else(|| "/".to_owned(), |name| name.to_string_lossy().into_owned())
        } else {
            shown.to_string_lossy().into_owned()
        };
        // Standard input is no file, and no `use` can name it.
        let path = Path::new(&root.source.name);
        let root = path.file_name().and_then(|name| fs::canonicalize(own.join(name)).ok());
        let root = if path == Path::new(STDIN_NAME) { None } else { root };
        Ok(Self { folder: folder.to_owned(), shown, root })
    }
}

impl ReadError {
    fn of_root(self, name: &str) -> Failure {
        let path = name.to_owned();
        match self {
            Self::NotFound => Failure::NotFound { path },
            Self::IsFolder => Failure::IsFolder { path },
            Self::NotAFile => Failure::NotAFile { path },
            Self::TooLarge => Failure::TooLarge { path },
            Self::NotUtf8 { offset, is_utf16 } => Failure::NotUtf8 { path, offset, is_utf16 },
            Self::Io(cause) => Failure::CannotRead { path, cause },
        }
    }

    fn of_use(self) -> UseError {
        UseError::Unreadable(match self {
            Self::NotFound => return UseError::NotFound,
            Self::IsFolder => "it is a folder".to_owned(),
            Self::NotAFile => "it is not a plain file".to_owned(),
            Self::TooLarge => format!("it is larger than {} MiB", SIZE_LIMIT >> 20),
            Self::NotUtf8 { is_utf16: true, .. } => "it looks like UTF-16, not UTF-8".to_owned(),
            Self::NotUtf8 { offset, .. } => format!("it is not UTF-8 text: it goes wrong at byte {offset}"),
            Self::Io(error) => reason(&error),
        })
    }
}

impl From<io::Error> for ReadError {
    fn from(error: io::Error) -> Self {
        if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) {
            Self::NotFound
        } else {
            Self::Io(error)
        }
    }
}

/// The text of a plain file. Nothing else is even opened: a pipe could keep us waiting for ever.
fn read_file(path: &Path) -> Result<String, ReadError> {
    let about = fs::metadata(path)?;
    if about.is_dir() {
        return Err(ReadError::IsFolder);
    }
    if !about.is_file() {
        return Err(ReadError::NotAFile);
    }
    if about.len() > SIZE_LIMIT {
        return Err(ReadError::TooLarge);
    }
    read_text(File::open(path)?)
}

/// Whether the file holds just `text`.
///
/// # Errors
/// What the system says of a file that cannot be read.
pub(super) fn still_holds(path: &Path, text: &str) -> io::Result<bool> {
    let mut bytes = Vec::with_capacity(text.len() + 1);
    File::open(path)?.take(SIZE_LIMIT + 1).read_to_end(&mut bytes)?;
    Ok(bytes == text.as_bytes())
}

/// All of `reader` as text, if that is not too much. A byte order mark stays: offsets are those of the file.
fn read_text(reader: impl Read) -> Result<String, ReadError> {
    let mut bytes = Vec::new();
    reader.take(SIZE_LIMIT + 1).read_to_end(&mut bytes).map_err(ReadError::Io)?;
    if bytes.len() as u64 > SIZE_LIMIT {
        return Err(ReadError::TooLarge);
    }
    String::from_utf8(bytes).map_err(|error| ReadError::NotUtf8 {
        offset: error.utf8_error().valid_up_to(),
        is_utf16: matches!(error.as_bytes(), [0xff, 0xfe, ..] | [0xfe, 0xff, ..]),
    })
}

/// What the system says, in a sentence that can stand inside of another.
fn reason(error: &io::Error) -> String {
    if error.kind() == ErrorKind::PermissionDenied {
        return "you may not read it".to_owned();
    }
    let said = error.to_string();
    let said = said.split(" (os error").next().unwrap_or_default();
    format!("the system says: {said}")
}

/// The path with `.` and `..` worked off by their letters alone.
pub(super) fn by_steps(path: &Path) -> PathBuf {
    let mut result = PathBuf::new();
    for step in path.components() {
        match step {
            Component::CurDir => {}
            Component::ParentDir => match result.components().next_back() {
                Some(Component::Normal(_)) => {
                    result.pop();
                }
                Some(Component::RootDir | Component::Prefix(_)) => {}
                Some(Component::ParentDir | Component::CurDir) | None => result.push(".."),
            },
            Component::Normal(_) | Component::RootDir | Component::Prefix(_) => result.push(step),
        }
    }
    result
}

/// The path, or the current folder when it is empty.
fn or_here(path: &Path) -> &Path {
    if path.as_os_str().is_empty() { Path::new(".") } else { path }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::disallowed_methods)]

    use std::fs;
    use std::path::{Path, PathBuf};

    use super::{DiskWorld, by_steps};
    use crate::source::{FileId, UseError, World};

    /// A project `p` with a recipe in `p/recipes`, a shop beside it, and a secret outside.
    fn project() -> (tempfile::TempDir, PathBuf) {
        let temp = tempfile::tempdir().unwrap();
        let recipes = temp.path().join("p/recipes/deep");
        fs::create_dir_all(&recipes).unwrap();
        fs::create_dir(temp.path().join("p/.git")).unwrap();
        fs::write(temp.path().join("secret.vessel"), "s").unwrap();
        fs::write(temp.path().join("p/shop.vessel"), "shop").unwrap();
        fs::write(recipes.join("../bowl.vessel"), "bowl").unwrap();
        fs::write(recipes.join("woods.vessel"), "woods").unwrap();
        let root = temp.path().join("p/recipes/bowl.vessel");
        (temp, root)
    }

    fn open(root: &Path) -> (DiskWorld, FileId) {
        DiskWorld::open_root(root).unwrap()
    }

    #[test]
    fn the_same_file_has_one_id_however_it_is_named() {
        let (temp, root) = project();
        let (world, bowl) = open(&root);
        let shop = world.open(bowl, "../shop.vessel").unwrap();
        assert_eq!(world.open(bowl, "deep/../../shop.vessel"), Ok(shop));
        let woods = world.open(bowl, "deep/woods.vessel").unwrap();
        assert_eq!(world.open(woods, "../../shop.vessel"), Ok(shop), "relative to the using file");
        assert_eq!(world.open(woods, "../bowl.vessel"), Ok(bowl), "the root is known too");
        assert_eq!(world.file(shop).text, "shop");
        assert_eq!(world.file(shop).name, temp.path().join("p/shop.vessel").to_string_lossy());
    }

    #[test]
    fn nothing_outside_of_the_project_is_read() {
        let (temp, root) = project();
        let (world, bowl) = open(&root);
        let shown = temp.path().join("p").to_string_lossy().into_owned();
        let outside = Err(UseError::OutsideProject(shown));
        assert_eq!(world.open(bowl, "../../secret.vessel"), outside);
        assert_eq!(world.open(bowl, "../../not-there.vessel"), outside);
        assert_eq!(world.open(bowl, &temp.path().join("p/shop.vessel").to_string_lossy()), outside);
        assert_eq!(world.open(bowl, "/etc/passwd"), outside);
    }

    #[test]
    fn without_a_repository_the_project_is_the_recipes_own_folder() {
        let (temp, root) = project();
        fs::remove_dir(temp.path().join("p/.git")).unwrap();
        let (world, bowl) = open(&root);
        assert!(matches!(world.open(bowl, "../shop.vessel"), Err(UseError::OutsideProject(_))));
        assert!(world.open(bowl, "deep/woods.vessel").is_ok());
    }

    #[test]
    fn what_is_no_recipe_is_told_in_words() {
        let (temp, root) = project();
        fs::write(temp.path().join("p/recipes/binary"), [0x50, 0xff]).unwrap();
        let large = fs::File::create(temp.path().join("p/recipes/large")).unwrap();
        large.set_len(100 << 20).unwrap();
        let (world, bowl) = open(&root);
        let unreadable = |reason: &str| Err(UseError::Unreadable(reason.to_owned()));
        assert_eq!(world.open(bowl, "nothing"), Err(UseError::NotFound));
        assert_eq!(world.open(bowl, "bowl.vessel/x"), Err(UseError::NotFound));
        assert_eq!(world.open(bowl, ""), Err(UseError::NotFound));
        assert_eq!(world.open(bowl, "deep"), unreadable("it is a folder"));
        assert_eq!(world.open(bowl, "binary"), unreadable("it is not UTF-8 text: it goes wrong at byte 1"));
        assert_eq!(world.open(bowl, "large"), unreadable("it is larger than 4 MiB"));
        assert!(matches!(world.open(bowl, "a\0b"), Err(UseError::Unreadable(_))));
    }

    #[cfg(unix)]
    #[test]
    fn links_are_judged_by_where_they_lead() {
        use std::os::unix::fs::symlink;
        let (temp, root) = project();
        let recipes = temp.path().join("p/recipes");
        symlink(temp.path().join("secret.vessel"), recipes.join("inside.vessel")).unwrap();
        symlink(temp.path(), recipes.join("up")).unwrap();
        symlink("../shop.vessel", recipes.join("shop.vessel")).unwrap();
        symlink("loop", recipes.join("loop")).unwrap();
        let (world, bowl) = open(&root);
        assert!(matches!(world.open(bowl, "inside.vessel"), Err(UseError::OutsideProject(_))));
        assert!(matches!(world.open(bowl, "up/secret.vessel"), Err(UseError::OutsideProject(_))));
        assert!(matches!(world.open(bowl, "loop"), Err(UseError::Unreadable(_))));
        assert_eq!(world.open(bowl, "shop.vessel"), world.open(bowl, "../shop.vessel"));
    }

    #[test]
    fn steps_are_worked_off_by_letters() {
        for (path, result) in [("a/./b/../c", "a/c"), ("../a/../..", "../.."), ("/../a", "/a"), ("./a", "a"), ("", "")]
        {
            assert_eq!(by_steps(Path::new(path)), Path::new(result), "{path}");
        }
    }
}
