//! Which wood a name means.

use std::collections::BTreeMap;

use crate::source::Span;
use crate::syntax::{Item, Tree};
use crate::tables::{Wood, find_wood, short_names, woods};

use super::recipe::{RecipeWood, Stock};
use super::split::word_of;
use super::{Resolver, findings};

/// A wood that a file names itself.
#[derive(Debug, Clone, Copy)]
pub(super) struct OwnWood {
    pub(super) wood: &'static Wood,
    pub(super) span: Span,
}

/// The woods that the recipe and the files it uses define.
pub(super) type OwnWoods = BTreeMap<String, OwnWood>;

impl Resolver<'_> {
    /// The row of the table that an item behind `word` names, by way of the recipe's own woods or an everyday name.
    pub(super) fn table_wood(&mut self, tree: &Tree, item: &Item, own: &OwnWoods, word: &str) -> Option<&'static Wood> {
        let Some(name) = word_of(tree, item) else {
            self.say(findings::wrong_kind(item, word, "the name of a wood"));
            return None;
        };
        if let Some(wood) = own.get(name) {
            return Some(wood.wood);
        }
        if let Some(wood) = find_wood(name) {
            return Some(wood);
        }
        if let Some(short) = short_names().iter().find(|short| short.name == name) {
            let candidates: Vec<&str> = short.candidates().collect();
            if let [only] = candidates.as_slice() {
                return find_wood(only);
            }
            self.say(findings::ambiguous_wood(item.span, name, &candidates));
            return None;
        }
        let known = own.keys().map(String::as_str);
        let known = known.chain(short_names().iter().map(|short| short.name.as_str()));
        let known = known.chain(woods().iter().map(|wood| wood.key.as_str()));
        let finding = findings::unknown_wood(item.span, name, known);
        self.say(finding);
        None
    }

    /// Index of the wood among the recipe's. An unknown one gets a stand-in, so that the geometry
    /// can still be checked; its finding keeps the design from being built.
    pub(super) fn wood(&mut self, tree: &Tree, item: &Item, own: &OwnWoods, word: &str) -> usize {
        let name = tree.text(item.span);
        if let Some(known) = self.woods.iter().position(|wood| wood.name == name) {
            return known;
        }
        let found = self.table_wood(tree, item, own, word);
        let Some(wood) = found.or_else(|| woods().first()) else { return 0 };
        // Two names of one wood are one wood at the saw; a wood of the recipe's own stays apart.
        let is_own = own.contains_key(name);
        let same = |other: &RecipeWood| {
            other.wood().is_some_and(|known| std::ptr::eq(known, wood)) && !is_own && !own.contains_key(&other.name)
        };
        if found.is_some()
            && let Some(known) = self.woods.iter().position(same)
        {
            return known;
        }
        self.woods.push(RecipeWood { name: name.to_owned(), stock: Stock::Wood(wood), span: item.span });
        self.woods.len() - 1
    }
}
