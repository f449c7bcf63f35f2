//! The command line: the only part that reads files, prints and exits.

mod args;
mod build;
mod check;
mod disk;
mod explain;
mod failure;
mod new;
mod screen;
mod write;

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;

use args::{Args, Command};
use failure::Failure;
use screen::Screen;

/// How a run of the program ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outcome {
    /// Nothing denies the design.
    Clean,
    /// A finding denies it.
    Denied,
}

/// Runs the program on the process's own arguments.
///
/// The exit code is 0 when nothing denies a design, 1 when a finding does, 2 when the program could
/// not run: unknown arguments, a file that cannot be read or written.
#[must_use]
pub fn run() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(error) => {
            // Help and version are answers; all else is an error of usage, which clap numbers 2.
            let _ = error.print();
            return ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(2));
        }
    };
    let screen = Screen::new(args.format, args.color);
    match perform(&args, &screen) {
        Ok(Outcome::Clean) => ExitCode::SUCCESS,
        Ok(Outcome::Denied) => ExitCode::from(1),
        // Whoever read our output has read enough: `ringwright explain | head`.
        Err(Failure::Print(error)) if error.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(failure) => {
            screen.failure(&failure);
            ExitCode::from(2)
        }
    }
}

fn perform(args: &Args, screen: &Screen) -> Result<Outcome, Failure> {
    match &args.command {
        Command::Check { paths, deny_warnings } => check::check(paths, *deny_warnings, screen),
        Command::Build { recipes, out, force } => build::build(recipes, out.as_deref(), *force, screen),
        Command::Explain { code } => explain::explain(code.as_deref(), screen),
        Command::Schema => {
            screen.out().write_all(crate::output::schema().as_bytes()).map_err(Failure::Print)?;
            Ok(Outcome::Clean)
        }
        Command::New { name } => new::new(name, screen),
    }
}
