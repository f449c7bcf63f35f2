//! Standard output and standard error: colors, closed pipes.

use std::env;
use std::ffi::OsString;
use std::io::{self, ErrorKind, IsTerminal, Write};

use super::Failure;
use super::args::Output;

/// Where something is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stream {
    /// The product.
    Stdout,
    /// What is said about it.
    Stderr,
}

impl Stream {
    /// Whether colors are welcome there.
    pub(super) fn wants_color(self) -> bool {
        // A console of Windows reads colors only when it is asked to; nobody else needs that.
        let reads_color = || anstyle_query::windows::enable_ansi_colors().unwrap_or(true);
        is_color_welcome(self.is_terminal(), |name| env::var_os(name)) && reads_color()
    }

    /// Whether a person watches what goes there: a terminal that can go back in its line, not a log that CI keeps.
    pub(super) fn is_watched(self) -> bool {
        is_motion_welcome(self.is_terminal(), |name| env::var_os(name))
    }

    /// Whether a person may sit before it.
    pub(super) fn is_terminal(self) -> bool {
        match self {
            Self::Stdout => io::stdout().is_terminal(),
            Self::Stderr => io::stderr().is_terminal(),
        }
    }

    /// Writes all of `bytes`. A reader who has gone (`… | head`) has seen enough: no failure.
    ///
    /// # Errors
    /// [`Failure::CannotPrint`], for example when the disk behind standard output is full.
    pub(super) fn write(self, bytes: &[u8]) -> Result<(), Failure> {
        let written = match self {
            Self::Stdout => {
                let mut out = io::stdout().lock();
                out.write_all(bytes).and_then(|()| out.flush())
            }
            Self::Stderr => io::stderr().lock().write_all(bytes),
        };
        match written {
            Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure::CannotPrint { cause: error }),
            _ => Ok(()),
        }
    }
}

/// A terminal that knows colors, or a wish for them (<https://bixense.com/clicolors>), and nobody said no: `NO_COLOR` counts
/// when it is not empty (<https://no-color.org>).
fn is_color_welcome(is_terminal: bool, variable: impl Fn(&str) -> Option<OsString>) -> bool {
    let told = |name| variable(name).filter(|value| !value.is_empty());
    let is_forced = told("CLICOLOR_FORCE").is_some_and(|value| value != "0");
    let is_able = is_terminal && variable("TERM").is_none_or(|value| value != "dumb");
    told("NO_COLOR").is_none() && (is_forced || is_able)
}

/// A terminal that can go back in its line, and no CI that keeps all that is written.
fn is_motion_welcome(is_terminal: bool, variable: impl Fn(&str) -> Option<OsString>) -> bool {
    is_terminal
        && variable("CI").is_none_or(|value| value.is_empty() || value == "false")
        && variable("TERM").is_none_or(|value| value != "dumb")
}

/// Whether the terminal says that it knows colors of 24 bits.
pub(super) fn has_all_colors() -> bool {
    env::var_os("COLORTERM").is_some_and(|value| value == "truecolor" || value == "24bit")
}

/// Writes the product.
///
/// # Errors
/// [`Failure::CannotPrint`].
pub(super) fn print(product: &[u8]) -> Result<(), Failure> {
    Stream::Stdout.write(product)
}

/// Tells a person what was done; a script that reads findings is not told.
pub(super) fn say(line: &str, output: Output) {
    if output.is_for_people() {
        // Where nobody can be told, nothing else can be done about it.
        let _ = Stream::Stderr.write(format!("{line}\n").as_bytes());
    }
}

/// Tells what the exit code or the silence is due to, whoever reads along.
pub(super) fn tell(line: &str) {
    // As with `say`.
    let _ = Stream::Stderr.write(format!("{line}\n").as_bytes());
}

/// The current folder, to name files from; empty where there is none.
pub(super) fn here() -> String {
    env::current_dir().map_or_else(|_| String::new(), |folder| folder.to_string_lossy().into_owned())
}

/// Reports why the program could not run.
pub(super) fn fail(failure: &Failure, output: Output) {
    let text = failure.report(output.format, output.has_color_on(Stream::Stderr));
    let _ = Stream::Stderr.write(text.as_bytes());
}

/// Failures of single recipes, none of which keeps the others from being worked on. They are told as they come, but for the
/// last, which the run ends with.
#[derive(Debug, Default)]
pub(super) struct Failures {
    last: Option<Failure>,
}

impl Failures {
    /// These, and what else comes.
    pub(super) fn of(failures: Vec<Failure>, output: Output) -> Self {
        let mut all = Self::default();
        for failure in failures {
            all.add(failure, output);
        }
        all
    }

    /// One more.
    pub(super) fn add(&mut self, failure: Failure, output: Output) {
        if let Some(earlier) = self.last.replace(failure) {
            fail(&earlier, output);
        }
    }

    /// # Errors
    /// The last one, if there was any.
    pub(super) fn end(self) -> Result<(), Failure> {
        self.last.map_or(Ok(()), Err)
    }
}

#[cfg(test)]
mod tests {
    use std::ffi::OsString;

    use super::{is_color_welcome, is_motion_welcome};

    fn among(variables: &'static [(&str, &str)]) -> impl Fn(&str) -> Option<OsString> {
        move |name| variables.iter().find(|(known, _)| *known == name).map(|(_, value)| value.into())
    }

    #[test]
    fn color_is_for_terminals_that_know_it_unless_somebody_said_something() {
        let on = |is_terminal, variables| is_color_welcome(is_terminal, among(variables));
        assert!(on(true, &[]) && on(true, &[("TERM", "xterm")]) && !on(false, &[]));
        assert!(!on(true, &[("TERM", "dumb")]));
        assert!(!on(true, &[("NO_COLOR", "1")]) && on(true, &[("NO_COLOR", "")]), "an empty one says nothing");
        assert!(on(false, &[("CLICOLOR_FORCE", "1")]) && on(true, &[("TERM", "dumb"), ("CLICOLOR_FORCE", "1")]));
        assert!(!on(false, &[("CLICOLOR_FORCE", "0")]) && !on(false, &[("CLICOLOR_FORCE", "")]));
        assert!(!on(true, &[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")]), "the no is stronger");
    }

    #[test]
    fn a_bar_moves_only_where_somebody_watches() {
        let on = |is_terminal, variables| is_motion_welcome(is_terminal, among(variables));
        assert!(on(true, &[]) && on(true, &[("CI", "false")]) && on(true, &[("CI", "")]));
        assert!(!on(false, &[]) && !on(true, &[("CI", "true")]) && !on(true, &[("TERM", "dumb")]));
    }
}
