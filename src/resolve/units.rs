//! What a file without `units` was meant to have.

use crate::quantity::{Dimension, System, Unit};
use crate::syntax::{Item, ItemKind, Literal, Node, Tree};

/// More inches across or high than any lathe takes (4 ft).
const MOST_INCHES: f64 = 48.0;
/// More inches than any wall, floor or layer has.
const MOST_INCHES_THICK: f64 = 4.0;
/// Fewer millimeters than any wall or floor has.
const LEAST_MILLIMETERS: f64 = 1.0;

/// Words behind which nothing but a length can stand; behind others it may be a count or a share.
const LENGTHS: [&str; 11] =
    ["at", "diameter", "wall", "floor", "top", "thick", "tall", "strip", "allow", "kerf", "long"];

/// The system that a file's numbers leave no doubt of: all its units of length are of one system, and
/// no bare number speaks against it; or, without any unit, a number is too great for inches, or is a
/// fraction, which nobody writes of millimeters, or a wall thinner than one of them.
pub(super) fn meant_units(tree: &Tree) -> Option<System> {
    let mut signs = Signs::default();
    signs.nodes(tree, &tree.nodes);
    let Signs { millimeters, inches, fractions, large } = signs;
    if millimeters == inches {
        // Without any unit, or with both, the bare numbers would have to tell.
        return match (millimeters, large, fractions) {
            (false, true, false) => Some(System::Millimeter),
            (false, false, true) => Some(System::Inch),
            _ => None,
        };
    }
    let (system, is_denied) = if inches { (System::Inch, large) } else { (System::Millimeter, fractions) };
    (!is_denied).then_some(system)
}

/// What speaks for one or the other.
#[derive(Default)]
#[allow(clippy::struct_excessive_bools, reason = "four signs that are independent of each other")]
struct Signs {
    millimeters: bool,
    inches: bool,
    fractions: bool,
    large: bool,
}

impl Signs {
    fn nodes(&mut self, tree: &Tree, nodes: &[Node]) {
        for node in nodes {
            let Node::Statement(statement) = node else { continue };
            for pair in statement.items.windows(2) {
                let [word, item] = pair else { continue };
                if LENGTHS.contains(&tree.text(word.span)) {
                    self.item(tree, tree.text(word.span), item);
                }
            }
            if let Some(block) = &statement.block {
                self.nodes(tree, &block.nodes);
            }
        }
    }

    fn item(&mut self, tree: &Tree, word: &str, item: &Item) {
        if let ItemKind::Quantity(literal) = &item.kind {
            self.quantity(word, tree.text(item.span), literal);
        }
    }

    fn quantity(&mut self, word: &str, text: &str, literal: &Literal) {
        match literal.unit {
            Some(unit) if unit.dimension == Dimension::LENGTH => {
                let is_inch = ["in", "ft"].iter().any(|spelling| Unit::find(spelling) == Some(unit));
                *if is_inch { &mut self.inches } else { &mut self.millimeters } = true;
            }
            Some(_) => {}
            None => {
                let number = literal.number.value();
                let is_wall = matches!(word, "wall" | "floor" | "top");
                let most = if is_wall || word == "thick" { MOST_INCHES_THICK } else { MOST_INCHES };
                self.fractions |= text.contains('/') || !text.is_ascii() || is_wall && number < LEAST_MILLIMETERS;
                self.large |= number > most;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::meant_units;
    use crate::quantity::System;
    use crate::source::{FileId, SourceFile};
    use crate::syntax::parse;

    fn meant(text: &str) -> Option<System> {
        let file = SourceFile { id: FileId(0), name: String::new(), text: text.to_owned() };
        meant_units(&parse(&Arc::new(file)).value)
    }

    #[test]
    fn what_is_written_tells_inches_from_millimeters() {
        assert_eq!(meant("at 0 diameter 90\nwall 8"), Some(System::Millimeter));
        assert_eq!(meant("at 0 diameter 3 1/2\nwall 3"), Some(System::Inch));
        assert_eq!(meant("diameter 4\nwall 0.25"), Some(System::Inch));
        assert_eq!(meant("diameter 4\nwall 6 mm"), Some(System::Millimeter));
        assert_eq!(meant("diameter 4 in\nwall 1"), Some(System::Inch));
    }

    #[test]
    fn nothing_is_guessed_that_is_in_doubt() {
        assert_eq!(meant("diameter 40\nwall 4"), None, "40 mm or 40 in");
        assert_eq!(meant("diameter 4 in\nwall 6 mm"), None);
        assert_eq!(meant("diameter 4 in\nwall 8"), None, "both speak");
        assert_eq!(meant("ring 144 maple stagger 1/4"), None, "a count and a share");
    }
}
