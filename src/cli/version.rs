//! What the program says it is. No document has any of it: same recipe, same bytes, whoever built the program.

/// In a line; in a release from a checkout with its commit.
pub(super) const SHORT: &str = env!("RINGWRIGHT_VERSION");

/// With all that a report of an error should tell.
pub(super) const LONG: &str = concat!(
    env!("RINGWRIGHT_VERSION"),
    "\ncommit: ",
    env!("RINGWRIGHT_COMMIT"),
    "\ntarget: ",
    env!("RINGWRIGHT_TARGET"),
    "\nrustc:  ",
    env!("RINGWRIGHT_RUSTC"),
);

/// The day of the commit, for the manual pages; empty where no commit is known.
pub(super) const DATE: &str = env!("RINGWRIGHT_DATE");
