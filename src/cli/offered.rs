//! Words that completion offers and that the command itself judges: it knows what was meant by a slip.

use std::ffi::OsStr;

use clap::builder::{PossibleValue, StringValueParser, TypedValueParser};
use clap::{Arg, Command, Error};

use crate::finding::catalog::CODES;
use crate::finding::policy::families;

/// Takes any word, and offers these.
#[derive(Debug, Clone, Copy)]
pub(super) struct Offered(pub(super) fn() -> Vec<&'static str>);

impl TypedValueParser for Offered {
    type Value = String;

    fn parse_ref(&self, command: &Command, argument: Option<&Arg>, value: &OsStr) -> Result<String, Error> {
        StringValueParser::new().parse_ref(command, argument, value)
    }

    fn possible_values(&self) -> Option<Box<dyn Iterator<Item = PossibleValue> + '_>> {
        Some(Box::new((self.0)().into_iter().map(PossibleValue::new)))
    }
}

/// The families of codes, and the codes.
pub(super) fn codes_and_families() -> Vec<&'static str> {
    let mut words: Vec<&str> = families().collect();
    words.dedup();
    words.extend(CODES.iter().map(|code| code.name));
    words
}
