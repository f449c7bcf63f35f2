//! Why the program could not do what it was asked: its own failures, not findings about a recipe.

use std::error::Error;
use std::fmt::{self, Display, Write};
use std::io;

use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, NarratableReportHandler};
use serde::Serialize;

use crate::finding::or_list;
use crate::finding::render::{Format, one_line};

use super::disk::SIZE_LIMIT;

/// Why a command could not run. Paths are as the user gave them.
#[derive(Debug)]
pub enum Failure {
    /// There is nothing of that name.
    NotFound {
        /// What was asked for.
        path: String,
    },
    /// A folder where one recipe is wanted.
    IsFolder {
        /// The folder.
        path: String,
    },
    /// A device, a pipe or the like.
    NotAFile {
        /// What it is called.
        path: String,
    },
    /// The bytes are no text.
    NotUtf8 {
        /// The file.
        path: String,
        /// The first byte that cannot be read.
        offset: usize,
        /// Whether it looks like UTF-16, as some editors save.
        is_utf16: bool,
    },
    /// More text than any recipe has.
    TooLarge {
        /// The file.
        path: String,
    },
    /// The system does not let it be read.
    CannotRead {
        /// The file or folder.
        path: String,
        /// What the system says.
        cause: io::Error,
    },
    /// A folder without recipes.
    NoRecipes {
        /// The folder.
        path: String,
    },
    /// A recipe that only others use.
    NothingToBuild {
        /// The file.
        path: String,
    },
    /// The system does not let it be written.
    CannotWrite {
        /// The file or folder.
        path: String,
        /// What the system says.
        cause: io::Error,
    },
    /// Standard output cannot be written.
    CannotPrint {
        /// What the system says.
        cause: io::Error,
    },
    /// Files that no build wrote, or that were edited or protected since.
    WouldOverwrite {
        /// All of them.
        paths: Vec<String>,
    },
    /// A folder of recipes is to be built, and nowhere to write to is named.
    NoFolder {
        /// Its path.
        path: String,
    },
    /// More than a build may write.
    TooMuch {
        /// Where to.
        path: String,
        /// How much, in bytes.
        bytes: u64,
        /// The most, in bytes.
        most: u64,
    },
    /// Another build holds the output folder.
    Busy {
        /// Its path.
        path: String,
    },
    /// A link, a folder or a device in the place of a document.
    NotReplaceable {
        /// Its path.
        path: String,
        /// What it is: "a link".
        what: &'static str,
    },
    /// A file in the place of the output folder.
    NotAFolder {
        /// Its path.
        path: String,
    },
    /// Two recipes whose documents would go to one folder.
    SameFolder {
        /// That folder.
        folder: String,
        /// One recipe.
        first: String,
        /// The other.
        second: String,
    },
    /// `--fix` of a text that is in no file.
    FixOfStdin,
    /// A recipe that would be written through a link that leads out of the project.
    LinkOutside {
        /// The link.
        path: String,
    },
    /// A recipe that would be written and that another program has written to meanwhile.
    ChangedMeanwhile {
        /// The file.
        path: String,
    },
    /// Something that is no code where one is wanted.
    UnknownCode {
        /// What was asked for.
        code: String,
        /// The nearest codes.
        near: Vec<&'static str>,
    },
    /// `diff` of too few or too many files.
    DiffOf {
        /// How many were named.
        count: usize,
        /// How many are wanted.
        wanted: usize,
    },
    /// Git did not give what was asked of it.
    Git {
        /// What it said.
        said: String,
    },
    /// `why` of something that has no figures.
    NoSubject {
        /// What was asked for.
        asked: String,
        /// What is called nearly so.
        near: Vec<String>,
    },
    /// `--level` of something that is no code with a level.
    NoLevel {
        /// What was given.
        given: String,
    },
    /// `--level` that would lower an error.
    NotLowered {
        /// The code or the family.
        code: String,
    },
    /// A file that should be a baseline and is not.
    NotABaseline {
        /// The file.
        path: String,
        /// What is wrong with it.
        reason: String,
    },
    /// `preview` of a text that is in no file.
    PreviewOfStdin,
    /// `preview` at a port that another program has.
    PortInUse {
        /// The port.
        port: u16,
    },
    /// `preview` at a port that the system does not give.
    CannotServe {
        /// The address.
        address: String,
        /// What the system says.
        cause: io::Error,
    },
    /// `new` over a file that is there.
    Exists {
        /// The file.
        path: String,
    },
    /// `new` with a name that is none.
    NoName {
        /// What was given.
        path: String,
        /// What some system has against it.
        why: Option<&'static str>,
    },
}

/// How the names of failures begin that no finding has.
const OWN_FAMILIES: [&str; 8] = ["file/", "build/", "output/", "usage/", "diff/", "preview/", "new/", "check/"];

/// What JSON says of a failure.
#[derive(Serialize)]
struct JsonReport {
    error: JsonFailure,
}

#[derive(Serialize)]
struct JsonFailure {
    code: &'static str,
    message: String,
    help: Option<String>,
    cause: Option<String>,
}

impl Failure {
    /// Its stable name.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::NotFound { .. } => "file/not-found",
            Self::IsFolder { .. } => "file/is-a-folder",
            Self::NotAFile { .. } => "file/not-a-file",
            Self::NotUtf8 { .. } => "file/not-utf-8",
            Self::TooLarge { .. } => "file/too-large",
            Self::CannotRead { .. } => "file/cannot-read",
            Self::NoRecipes { .. } => "file/no-recipes",
            Self::NothingToBuild { .. } => "build/no-vessel",
            Self::CannotWrite { .. } => "output/cannot-write",
            Self::CannotPrint { .. } => "output/cannot-print",
            Self::WouldOverwrite { .. } => "output/would-overwrite",
            Self::NoFolder { .. } => "build/no-folder",
            Self::TooMuch { .. } => "output/too-large",
            Self::Busy { .. } => "output/busy",
            Self::NotReplaceable { .. } => "output/not-replaceable",
            Self::NotAFolder { .. } => "output/not-a-folder",
            Self::SameFolder { .. } => "output/same-folder",
            Self::FixOfStdin => "fix/standard-input",
            Self::LinkOutside { .. } => "file/link-outside",
            Self::ChangedMeanwhile { .. } => "file/changed-meanwhile",
            Self::UnknownCode { .. } => "usage/unknown-code",
            Self::DiffOf { .. } => "diff/how-many",
            Self::Git { .. } => "diff/git",
            Self::NoSubject { .. } => "why/no-subject",
            Self::NoLevel { .. } => "usage/no-level",
            Self::NotLowered { .. } => "usage/not-lowered",
            Self::NotABaseline { .. } => "check/not-a-baseline",
            Self::PreviewOfStdin => "preview/standard-input",
            Self::PortInUse { .. } => "preview/port-in-use",
            Self::CannotServe { .. } => "preview/cannot-serve",
            Self::Exists { .. } => "new/exists",
            Self::NoName { .. } => "new/no-name",
        }
    }

    /// What can be done about it.
    fn advice(&self) -> Option<String> {
        let advice = match self {
            Self::NotFound { .. } => "check the spelling, and in which folder you are".to_owned(),
            Self::IsFolder { .. } => "name the recipe in it; `build`, `check` and `fmt` take folders".to_owned(),
            Self::NotAFile { .. } => "give the text on standard input, with `-` as its name".to_owned(),
            Self::NotUtf8 { is_utf16: true, .. } => "it looks like UTF-16: save it as UTF-8 in your editor".to_owned(),
            Self::NotUtf8 { .. } => "a recipe is a text file; save it as UTF-8 in your editor".to_owned(),
            Self::TooLarge { .. } => "split it in several files, and bring them together by `use`".to_owned(),
            Self::CannotRead { .. } => "see that you may read it, and look into its folder".to_owned(),
            Self::NoRecipes { .. } => {
                "recipes end in `.vessel`; hidden folders, `target` and linked folders are not searched".to_owned()
            }
            Self::NothingToBuild { .. } => "build the recipe that uses it".to_owned(),
            Self::CannotWrite { .. } => "see that the folder is there and that you may write in it".to_owned(),
            Self::WouldOverwrite { .. } => {
                "nothing was written; move them away, choose another folder, or overwrite them with `--force`"
                    .to_owned()
            }
            Self::NoFolder { .. } => "name the folder for the documents with `-o`".to_owned(),
            Self::TooMuch { .. } => {
                "nothing was written; the model and the shop sheet grow with layers and segments: take fewer, or use `check` and \
                 `why`, which write nothing"
                    .to_owned()
            }
            Self::Busy { .. } => {
                "nothing was written; let the other build end, or give another folder to `-o`".to_owned()
            }
            Self::NotReplaceable { .. } => "nothing was written; move it away or choose another place".to_owned(),
            Self::NotAFolder { .. } => "give another folder to `-o`".to_owned(),
            Self::SameFolder { .. } => "build them one by one, each into a folder of its own".to_owned(),
            Self::FixOfStdin | Self::PreviewOfStdin => "save the text in a file, and name that".to_owned(),
            Self::LinkOutside { .. } => "nothing was written; name the file that it leads to".to_owned(),
            Self::ChangedMeanwhile { .. } => "nothing was written to it; run the command again".to_owned(),
            Self::UnknownCode { code, .. } if OWN_FAMILIES.iter().any(|family| code.starts_with(family)) => {
                "that is no finding about a recipe: the program says it of itself, and its message is all there is"
                    .to_owned()
            }
            Self::UnknownCode { near, .. } if near.is_empty() => "`ringwright explain` lists all codes".to_owned(),
            Self::UnknownCode { near, .. } => {
                format!("did you mean {}? `ringwright explain` lists all codes", or_list(near))
            }
            Self::DiffOf { .. } => {
                "name the version before and the one after, or one recipe with `--git REVISION`".to_owned()
            }
            Self::Git { .. } => "`git log -- RECIPE` lists the revisions in which it was changed".to_owned(),
            Self::NoSubject { near, .. } if near.is_empty() => "without a name it lists all that has one".to_owned(),
            Self::NoSubject { near, .. } => {
                format!("did you mean {}?", or_list(&near.iter().map(String::as_str).collect::<Vec<_>>()))
            }
            Self::NoLevel { .. } => {
                "write it as `--level ring/joints-line-up=note`; the levels are error, warning, note and off".to_owned()
            }
            Self::NotLowered { .. } => {
                "it says that the piece cannot be made or the text is wrong: mend that".to_owned()
            }
            Self::NotABaseline { .. } => {
                "it was left as it is; name a file that `ringwright check --write-baseline` wrote, or a new one"
                    .to_owned()
            }
            Self::PortInUse { .. } => {
                "end the other program, take another port, or let `--port 0` find a free one".to_owned()
            }
            Self::CannotServe { .. } => "ports below 1024 are often not given; `--port 0` finds a free one".to_owned(),
            Self::Exists { .. } => "choose another name; it was left as it is".to_owned(),
            Self::NoName { .. } => "give a name such as `rye-crock`".to_owned(),
            Self::CannotPrint { .. } => return None,
        };
        Some(advice)
    }

    /// The whole report, ending with a line end.
    #[must_use]
    pub fn report(&self, format: Format, color: bool) -> String {
        let mut text = String::new();
        let written = match format {
            Format::Human => {
                let theme = if color { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
                // Paths are not broken over lines, so that they can be copied.
                let handler = GraphicalReportHandler::new_themed(theme).with_links(false).with_wrap_lines(false);
                handler.render_report(&mut text, self)
            }
            Format::Narrated => NarratableReportHandler::new().render_report(&mut text, self),
            Format::Short => {
                let cause = self.source().map_or_else(String::new, |cause| format!(": {cause}"));
                write!(text, "error[{}]: {self}{cause}", self.name())
            }
            Format::Json | Format::Sarif => {
                let error = JsonFailure {
                    code: self.name(),
                    message: self.to_string(),
                    help: self.advice(),
                    cause: self.source().map(ToString::to_string),
                };
                text = serde_json::to_string(&JsonReport { error }).unwrap_or_default();
                Ok(())
            }
        };
        if written.is_err() {
            text = self.to_string();
        }
        text.truncate(text.trim_end().len());
        text.push('\n');
        text
    }
}

impl Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFound { path } => write!(f, "there is no {}", shown(path)),
            Self::IsFolder { path } => write!(f, "{} is a folder", shown(path)),
            Self::NotAFile { path } => write!(f, "{} is not a plain file", shown(path)),
            Self::NotUtf8 { path, offset, .. } => {
                write!(f, "{} is not UTF-8 text: it goes wrong at byte {offset}", shown(path))
            }
            Self::TooLarge { path } => {
                write!(f, "{} is larger than {} MiB, the most that a recipe may have", shown(path), SIZE_LIMIT >> 20)
            }
            Self::CannotRead { path, .. } => write!(f, "{} cannot be read", shown(path)),
            Self::NoRecipes { path } => write!(f, "there is no recipe in {}", shown(path)),
            Self::NothingToBuild { path } => write!(f, "{} has no vessel that could be built", shown(path)),
            Self::CannotWrite { path, .. } => write!(f, "{} cannot be written", shown(path)),
            Self::CannotPrint { .. } => write!(f, "standard output cannot be written"),
            Self::WouldOverwrite { paths } => {
                let paths: Vec<String> = paths.iter().map(|path| shown(path)).collect();
                let (verb, are) = if paths.len() == 1 { ("was", "is") } else { ("were", "are") };
                let paths = paths.join(", ");
                write!(f, "{paths} {verb} not written by a build, or {are} edited or protected against writing since")
            }
            Self::NoFolder { path } => write!(f, "{} is a folder: what is built of it must go somewhere", shown(path)),
            Self::TooMuch { path, bytes, most } => {
                let (bytes, most) = (bytes.div_ceil(1 << 20), most >> 20);
                write!(f, "the documents for {} come to about {bytes} MiB, more than the {most} MiB", shown(path))?;
                f.write_str(" that those of one vessel may be")
            }
            Self::Busy { path } => write!(f, "another build has been writing to {} for 10 seconds", shown(path)),
            Self::NotReplaceable { path, what } => {
                write!(f, "{} is {what}, which is never replaced", shown(path))
            }
            Self::NotAFolder { path } => write!(f, "{} is not a folder", shown(path)),
            Self::SameFolder { folder, first, second } => {
                write!(f, "{} and {} would both be written to {}", shown(first), shown(second), shown(folder))
            }
            Self::FixOfStdin => write!(f, "not supported: `--fix` and `--diff` of standard input"),
            Self::LinkOutside { path } => {
                write!(f, "{} is a link that leads out of its project folder, and is not followed", shown(path))
            }
            Self::ChangedMeanwhile { path } => write!(f, "{} was changed while it was being worked on", shown(path)),
            Self::DiffOf { count, wanted } => write!(f, "{wanted} wanted, not {count}"),
            Self::Git { said } => write!(f, "git: {}", one_line(said)),
            Self::NoSubject { asked, near } => {
                let no = if near.len() > 1 { "no one figure" } else { "no figure" };
                write!(f, "{no} is called {}", shown(asked))
            }
            Self::UnknownCode { code, .. } => write!(f, "there is no finding {}", shown(code)),
            Self::NoLevel { given } => write!(f, "{} sets no level", shown(given)),
            Self::NotLowered { code } => write!(f, "{} is an error and cannot be lowered", shown(code)),
            Self::NotABaseline { path, reason } => {
                write!(f, "{} is no baseline of findings: {}", shown(path), one_line(reason))
            }
            Self::PreviewOfStdin => write!(f, "not supported: `preview` of standard input"),
            Self::PortInUse { port } => write!(f, "another program has port {port} of this machine"),
            Self::CannotServe { address, .. } => write!(f, "nothing can be served at {address}"),
            Self::Exists { path } => write!(f, "{} is there already", shown(path)),
            Self::NoName { path, why: None } => write!(f, "{} is no name for a recipe", shown(path)),
            Self::NoName { path, why: Some(why) } => {
                write!(f, "{} is no name for a recipe that goes to other systems: {why}", shown(path))
            }
        }
    }
}

/// A path in a message.
fn shown(path: &str) -> String {
    format!("`{}`", one_line(path))
}

impl Error for Failure {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match self {
            Self::CannotRead { cause, .. }
            | Self::CannotWrite { cause, .. }
            | Self::CannotServe { cause, .. }
            | Self::CannotPrint { cause } => Some(cause),
            Self::NotFound { .. }
            | Self::IsFolder { .. }
            | Self::NotAFile { .. }
            | Self::TooMuch { .. }
            | Self::NotUtf8 { .. }
            | Self::TooLarge { .. }
            | Self::NoRecipes { .. }
            | Self::NothingToBuild { .. }
            | Self::WouldOverwrite { .. }
            | Self::NoFolder { .. }
            | Self::Busy { .. }
            | Self::NotReplaceable { .. }
            | Self::NotAFolder { .. }
            | Self::SameFolder { .. }
            | Self::FixOfStdin
            | Self::LinkOutside { .. }
            | Self::ChangedMeanwhile { .. }
            | Self::UnknownCode { .. }
            | Self::NoSubject { .. }
            | Self::DiffOf { .. }
            | Self::Git { .. }
            | Self::NoLevel { .. }
            | Self::NotLowered { .. }
            | Self::NotABaseline { .. }
            | Self::PreviewOfStdin
            | Self::PortInUse { .. }
            | Self::Exists { .. }
            | Self::NoName { .. } => None,
        }
    }
}

impl Diagnostic for Failure {
    fn code<'a>(&'a self) -> Option<Box<dyn Display + 'a>> {
        Some(Box::new(self.name()))
    }

    fn help<'a>(&'a self) -> Option<Box<dyn Display + 'a>> {
        self.advice().map(|advice| Box::new(advice) as Box<dyn Display>)
    }
}
