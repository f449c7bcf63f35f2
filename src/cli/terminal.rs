//! Standard output and standard error: colors, closed pipes.

use std::env;
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
    /// Whether colors are welcome there: it is a terminal that knows them, and nobody said no
    /// (`NO_COLOR` counts when it is not empty: <https://no-color.org>).
    pub(super) fn wants_color(self) -> bool {
        self.is_terminal()
            && env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
            && env::var_os("TERM").is_none_or(|value| value != "dumb")
    }

    /// Whether a person watches what goes there: a terminal that can go back in its line, not a log that CI keeps.
    pub(super) fn is_watched(self) -> bool {
        self.is_terminal()
            && env::var_os("CI").is_none_or(|value| value.is_empty() || value == "false")
            && env::var_os("TERM").is_none_or(|value| value != "dumb")
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
