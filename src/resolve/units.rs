//! What a file without `units` was meant to have.

use crate::quantity::{Dimension, System, Unit};
use crate::syntax::{Item, ItemKind, Literal, Node, Tree};

/// No vessel of a lathe is as many inches across or high (10 ft), and few are as few millimeters.
const MOST_INCHES: f64 = 120.0;

/// Words behind which nothing but a length can stand; behind others it may be a count or a share.
const LENGTHS: [&str; 11] =
    ["at", "diameter", "wall", "floor", "top", "thick", "tall", "strip", "allow", "kerf", "long"];

/// The system that a file's numbers leave no doubt of: all its units of length are of one system, and
/// no bare number speaks against it; or, without any unit, a number is too great for inches, or a
/// fraction, which nobody writes of millimeters.
pub(super) fn meant_units(tree: &Tree) -> Option<System> {
    let mut signs = Signs::default();
    signs.nodes(tree, &tree.nodes);
    match signs {
        Signs { millimeters: true, inches: false, fractions: false, .. } => Some(System::Millimeter),
        Signs { millimeters: false, inches: true, large: false, .. } => Some(System::Inch),
        Signs { millimeters: false, inches: false, large: true, fractions: false } => Some(System::Millimeter),
        Signs { millimeters: false, inches: false, large: false, fractions: true } => Some(System::Inch),
        Signs { .. } => None,
    }
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
                    self.item(tree, item);
                }
            }
            if let Some(block) = &statement.block {
                self.nodes(tree, &block.nodes);
            }
        }
    }

    fn item(&mut self, tree: &Tree, item: &Item) {
        if let ItemKind::Quantity(literal) = &item.kind {
            self.quantity(tree.text(item.span), literal);
        }
    }

    fn quantity(&mut self, text: &str, literal: &Literal) {
        match literal.unit {
            Some(unit) if unit.dimension == Dimension::LENGTH => {
                let is_inch = ["in", "ft"].iter().any(|spelling| Unit::find(spelling) == Some(unit));
                *if is_inch { &mut self.inches } else { &mut self.millimeters } = true;
            }
            Some(_) => {}
            None => {
                self.fractions |= text.contains('/') || text.chars().any(|c| !c.is_ascii());
                self.large |= literal.number.value() > MOST_INCHES;
            }
        }
    }
}
