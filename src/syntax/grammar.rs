//! The parser that pest makes of `grammar/vessel.pest`. Its rules are named nowhere outside `syntax`.

use pest_derive::Parser;

/// The grammar as a parser.
#[derive(Parser)]
#[grammar = "../grammar/vessel.pest"]
pub(super) struct Grammar;
