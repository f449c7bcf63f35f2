//! What holds at a place of a file: names, `every` settings, the meaning of a bare number.

use std::cell::OnceCell;
use std::collections::HashMap;
use std::rc::Rc;

use crate::finding::Finding;
use crate::quantity::System;
use crate::source::Span;
use crate::syntax::Tree;

use super::chart::OwnCharts;
use super::expression::Names;
use super::findings;
use super::settings::Every;
use super::units::meant_units;
use super::value::{Bare, Value};
use super::wood::OwnWoods;

/// A name with its value.
#[derive(Debug, Clone, Copy)]
pub(super) struct Named {
    pub(super) value: Value,
    pub(super) span: Span,
    depth: usize,
}

/// The scope of one file; blocks are entered and left.
#[derive(Debug)]
pub(super) struct Scope {
    pub(super) tree: Rc<Tree>,
    pub(super) bare: Bare,
    /// What layers take that do not say otherwise.
    pub(super) every: Every,
    /// The woods and boards that have a name of their own.
    pub(super) woods: OwnWoods,
    pub(super) charts: OwnCharts,
    /// Looked for at the first length without a unit only.
    meant: OnceCell<Option<System>>,
    names: HashMap<String, Vec<Named>>,
    defined: Vec<String>,
    depth: usize,
}

/// To come back to when a block is left.
#[derive(Debug, Clone, Copy)]
pub(super) struct Mark {
    names: usize,
    every: Every,
}

impl Scope {
    pub(super) fn new(tree: Rc<Tree>, bare: Bare) -> Self {
        Self {
            tree,
            bare,
            every: Every::default(),
            woods: OwnWoods::new(),
            charts: OwnCharts::new(),
            meant: OnceCell::new(),
            names: HashMap::new(),
            defined: Vec::new(),
            depth: 0,
        }
    }

    /// The system that the numbers of a file without `units` are surely meant in.
    pub(super) fn meant_units(&self) -> Option<System> {
        *self.meant.get_or_init(|| meant_units(&self.tree))
    }

    pub(super) fn enter(&mut self) -> Mark {
        self.depth += 1;
        Mark { names: self.defined.len(), every: self.every }
    }

    pub(super) fn leave(&mut self, mark: &Mark) {
        self.depth -= 1;
        self.every = mark.every;
        for name in self.defined.drain(mark.names..) {
            if let Some(values) = self.names.get_mut(&name) {
                values.pop();
            }
        }
    }

    /// Names a value; in one block a name can be defined once.
    pub(super) fn define(&mut self, name: &str, value: Value, span: Span) -> Result<(), Finding> {
        let values = self.names.entry(name.to_owned()).or_default();
        if let Some(first) = values.last().filter(|first| first.depth == self.depth) {
            return if first.span == span { Ok(()) } else { Err(findings::name_twice(span, name, first.span)) };
        }
        values.push(Named { value, span, depth: self.depth });
        self.defined.push(name.to_owned());
        Ok(())
    }

    /// Whether a `let` before gives the word a value.
    pub(super) fn names(&self, word: &str) -> bool {
        self.names.get(word).is_some_and(|values| !values.is_empty())
    }

    /// The names defined at file level, in their order.
    pub(super) fn exported(&self) -> impl Iterator<Item = (&str, Named)> {
        self.defined.iter().filter_map(|name| {
            let named = self.names.get(name)?.last()?;
            Some((name.as_str(), *named))
        })
    }
}

impl Names for Scope {
    fn value(&self, span: Span) -> Result<Value, Finding> {
        let name = self.tree.text(span);
        if let Some(named) = self.names.get(name).and_then(|values| values.last()) {
            Ok(named.value)
        } else {
            let known = self.defined.iter().map(String::as_str);
            Err(findings::unknown_name(span, name, known))
        }
    }

    fn text(&self, span: Span) -> &str {
        self.tree.text(span)
    }

    fn bare(&self) -> Bare {
        self.bare
    }
}
