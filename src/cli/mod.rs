//! The command line: the only part that reads files, prints and exits.
//!
//! A command is a function from its arguments to an `Outcome` or a `Failure`; this file alone
//! knows which exit code that is. Nothing of meaning or geometry is decided here.

mod args;
mod baseline;
mod build;
mod check;
mod completions;
mod diff;
mod disk;
mod explain;
mod failure;
mod fix;
mod fmt;
mod folder;
mod help;
mod levels;
mod lock;
mod lsp;
mod man_pages;
mod manual;
mod many;
mod new;
mod offered;
mod patch;
mod paths;
mod portable;
mod portrait;
mod preview;
mod progress;
mod reporter;
mod revision;
mod rewrite;
mod schema;
mod staged;
mod terminal;
mod tree;
mod version;
mod why;

use std::io::ErrorKind;
use std::process::ExitCode;

use clap::FromArgMatches;

use args::{Args, Command};

pub use disk::DiskWorld;
pub use failure::Failure;

/// How a command that could run ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outcome {
    /// Nothing stands against it.
    Clean,
    /// A finding denies it.
    Denied,
}

/// Runs the program on the process's own arguments.
#[must_use]
pub fn run() -> ExitCode {
    let said = help::command().try_get_matches().and_then(|said| Args::from_arg_matches(&said));
    let args = match said {
        Ok(args) => args,
        Err(usage) => {
            // Help and version come this way too, as a success. A closed pipe is nobody's fault.
            let is_lost = usage.print().is_err_and(|error| error.kind() != ErrorKind::BrokenPipe);
            let code = if is_lost { 2 } else { usage.exit_code() };
            return ExitCode::from(u8::try_from(code).unwrap_or(2));
        }
    };
    let outcome = match &args.command {
        Command::Check { paths, weights, mending, tolerance } => match mending.asked() {
            Some(asked) => fix::run(paths, asked, weights, args.output),
            None => check::run(paths, weights, tolerance, args.output),
        },
        Command::Build { recipes, folder, force, paper, planning, weights } => {
            let writes = build::Writes { folder: folder.as_deref(), force: *force, paper: *paper };
            build::run(recipes, writes, *planning, weights, args.output)
        }
        Command::Preview { recipe, port, no_open, planning } => {
            preview::run(recipe, *port, !*no_open, *planning, args.output)
        }
        Command::Fmt { paths, check, diff } => fmt::run(paths, fmt::Mode::of(*check, *diff), args.output),
        Command::Explain { code, list } => explain::run(code.as_deref(), *list),
        Command::Why { recipe, subject } => why::run(recipe, subject.as_deref(), args.output),
        Command::Diff { paths, textconv: true, .. } => diff::textconv(paths),
        Command::Diff { paths, git, exit_code, textconv: false } => {
            diff::run(paths, git.as_deref(), *exit_code, args.output)
        }
        Command::Schema => schema::run(),
        Command::New { name } => new::run(name, args.output),
        Command::Lsp => Ok(lsp::run()),
        Command::Manual => manual::run(),
        Command::ManPages { folder, force } => man_pages::run(folder, *force, args.output),
        Command::Completions { shell } => completions::run(*shell),
    };
    match outcome {
        Ok(Outcome::Clean) => ExitCode::SUCCESS,
        Ok(Outcome::Denied) => ExitCode::from(1),
        Err(failure) => {
            terminal::fail(&failure, args.output);
            ExitCode::from(2)
        }
    }
}
