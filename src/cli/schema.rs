//! `schema`: the JSON Schema of `design.json`.

use super::{Failure, Outcome, terminal};

/// Prints it.
pub(super) fn run() -> Result<Outcome, Failure> {
    terminal::print(crate::output::schema().as_bytes())?;
    Ok(Outcome::Clean)
}
