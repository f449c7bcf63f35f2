//! Which edition of the language a file is written in: `language 1`.
//!
//! A file that does not say is of edition 1. What an edition brings is told in `grammar/EDITIONS.md`; one in which
//! something means otherwise than before is added here, and asked for where the meaning differs.

use crate::finding::{Finding, catalog, or_list};
use crate::source::Span;
use crate::syntax::Node;

use super::scope::Scope;
use super::split::Call;
use super::{Resolver, read};

/// The editions that can be read, oldest first.
const EDITIONS: &[u32] = &[1];

impl Resolver<'_> {
    /// Looks at the first `language` of a file: whether it stands before all else, and whether its edition is known.
    pub(super) fn edition(&mut self, call: &Call<'_>, scope: &Scope) {
        let first = scope.tree.nodes.iter().find_map(|node| match node {
            Node::Statement(statement) => Some(statement.head()),
            // Nobody knows what was meant to stand there.
            Node::Broken(_) => None,
        });
        if let Some(first) = first.filter(|first| *first != call.head_span) {
            self.say(not_first(call.span, first));
        }
        let Some(item) = call.argument(0).and_then(<[_]>::first) else { return };
        let Some(edition) = self.told(read::count(scope, item, "language")) else { return };
        if !EDITIONS.contains(&edition.0) {
            self.say(unknown(item.span, edition.0));
        }
    }
}

fn not_first(span: Span, first: Span) -> Finding {
    Finding::new(&catalog::LANGUAGE_NOT_FIRST, span, "`language` is not the first statement of the file")
        .here("said here")
        .also(first, "the file begins here")
        .help("let it stand before all else: how a file is read is known before it is read")
}

fn unknown(span: Span, edition: u32) -> Finding {
    let known: Vec<String> = EDITIONS.iter().map(ToString::to_string).collect();
    let known: Vec<&str> = known.iter().map(String::as_str).collect();
    let message = format!("there is no edition {edition} of the language, or it is newer than this ringwright");
    Finding::new(&catalog::LANGUAGE_UNKNOWN_EDITION, span, message)
        .help(format!("this ringwright reads edition {}: write that, or take a newer one", or_list(&known)))
}
