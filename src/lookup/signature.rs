//! How the statement or clause at a place is written, and which of its arguments is being written.

use std::ops::Range;

use crate::vocabulary::Param;
use crate::vocabulary::manual::param_usage;

use super::cursor::Cursor;
use super::words;

/// How something is written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signature {
    /// `spacer WOOD LENGTH`
    pub label: String,
    /// The arguments in it, in bytes.
    pub arguments: Vec<Range<usize>>,
    /// Which of them is being written.
    pub active: Option<usize>,
    /// What is told of it, in Markdown.
    pub help: String,
}

/// That of the clause at byte `offset`, or else of the statement.
#[must_use]
pub fn at(text: &str, offset: u32) -> Option<Signature> {
    let within = Cursor::at(text, offset as usize).within?;
    let (word, params, help) = match within.clause {
        Some(clause) => (clause.word, clause.params, words::clause(clause)),
        None => (within.head.word, within.head.params, words::head(within.head)),
    };
    let mut label = word.to_owned();
    let mut arguments = Vec::with_capacity(params.len());
    for param in params {
        label.push(' ');
        let start = label.len();
        label.push_str(&shown(param));
        arguments.push(start..label.len());
    }
    let active = (within.argument < arguments.len()).then_some(within.argument);
    Some(Signature { label, arguments, active, help })
}

fn shown(param: &Param) -> String {
    let usage = param_usage(param);
    if param.is_optional { format!("[{usage}]") } else { usage }
}
