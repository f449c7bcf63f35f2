//! `manual`: the manual of the language, for whoever has the program alone.

use super::{Failure, Outcome, terminal};

const MANUAL: &str = include_str!("../../grammar/README.md");

/// Prints it.
pub(super) fn run() -> Result<Outcome, Failure> {
    terminal::print(MANUAL.as_bytes())?;
    Ok(Outcome::Clean)
}
