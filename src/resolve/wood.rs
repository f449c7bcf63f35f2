//! Which wood a name means: plain wood of the table or a laminated board.

use std::collections::BTreeMap;
use std::rc::Rc;

use crate::source::Span;
use crate::syntax::{Item, Tree};
use crate::tables::{Wood, find_wood, short_names, woods};

use super::board::Board;
use super::recipe::{LaminatedBoard, Ply, RecipeWood, Stock};
use super::split::word_of;
use super::{Resolver, findings, layer_findings};

/// A wood or a board that a file names itself.
#[derive(Debug, Clone)]
pub(super) struct OwnWood {
    pub(super) means: Means,
    /// Its name where it is defined.
    pub(super) span: Span,
}

/// What a name of a wood stands for.
#[derive(Debug, Clone)]
pub(super) enum Means {
    /// A row of the table.
    Plain(&'static Wood),
    /// A board of plies.
    Board(Rc<Board>),
    /// Something that could not be read; its finding has been made.
    Lost,
}

/// A wood's name with what it means.
#[derive(Debug, Clone)]
pub(super) struct NamedWood {
    pub(super) name: String,
    pub(super) means: Means,
    /// Whether the recipe defines the name itself.
    pub(super) is_own: bool,
    pub(super) span: Span,
}

/// The woods and boards that the recipe and the files it uses define.
pub(super) type OwnWoods = BTreeMap<String, OwnWood>;

impl Resolver<'_> {
    /// What an item behind `word` names, by way of the recipe's own woods or an everyday name; `None` with its
    /// finding said.
    pub(super) fn named_wood(&mut self, tree: &Tree, item: &Item, own: &OwnWoods, word: &str) -> Option<NamedWood> {
        let Some(name) = word_of(tree, item) else {
            self.say(findings::wrong_kind(item, word, "the name of a wood"));
            return None;
        };
        let named = |means, is_own| NamedWood { name: name.to_owned(), means, is_own, span: item.span };
        if let Some(wood) = own.get(name) {
            return Some(named(wood.means.clone(), true));
        }
        if let Some(wood) = find_wood(name) {
            return Some(named(Means::Plain(wood), false));
        }
        if let Some(short) = short_names().iter().find(|short| short.name == name) {
            let candidates: Vec<&str> = short.candidates().collect();
            if let [only] = candidates.as_slice() {
                return find_wood(only).map(|wood| named(Means::Plain(wood), false));
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

    /// The row of the table that an item behind `word` names; a board is refused.
    pub(super) fn table_wood(&mut self, tree: &Tree, item: &Item, own: &OwnWoods, word: &str) -> Option<&'static Wood> {
        match self.named_wood(tree, item, own, word)?.means {
            Means::Plain(wood) => Some(wood),
            Means::Board(board) => {
                self.say(layer_findings::board_not_here(item.span, tree.text(item.span), word, board.span));
                None
            }
            Means::Lost => None,
        }
    }

    /// Index of the wood among the recipe's; it may be a board. An unknown one gets a stand-in, so that the
    /// geometry can still be checked; its finding keeps the design from being built.
    pub(super) fn wood(&mut self, tree: &Tree, item: &Item, own: &OwnWoods, word: &str) -> usize {
        let named = self.named_wood(tree, item, own, word);
        self.index_or_stand_in(named, tree, item)
    }

    /// As [`Self::wood`], where only plain wood will do.
    pub(super) fn plain_wood(&mut self, tree: &Tree, item: &Item, own: &OwnWoods, word: &str) -> usize {
        let named = self.named_wood(tree, item, own, word);
        let plain = named.and_then(|named| match &named.means {
            Means::Board(board) => {
                self.say(layer_findings::board_not_here(item.span, &named.name, word, board.span));
                None
            }
            Means::Plain(_) | Means::Lost => Some(named),
        });
        self.index_or_stand_in(plain, tree, item)
    }

    fn index_or_stand_in(&mut self, named: Option<NamedWood>, tree: &Tree, item: &Item) -> usize {
        match named.and_then(|named| self.wood_index(&named)) {
            Some(index) => index,
            None => self.stand_in(tree.text(item.span), item.span),
        }
    }

    fn stand_in(&mut self, name: &str, span: Span) -> usize {
        if let Some(known) = self.woods.iter().position(|wood| wood.name == name) {
            return known;
        }
        let Some(wood) = woods().first() else { return 0 };
        self.woods.push(RecipeWood { name: name.to_owned(), stock: Stock::Wood(wood), span });
        self.woods.len() - 1
    }

    /// Index of what a name means among the recipe's woods, where it is put if it is new; `None` when it means
    /// nothing that could be read.
    pub(super) fn wood_index(&mut self, named: &NamedWood) -> Option<usize> {
        if let Some(known) = self.woods.iter().position(|wood| wood.name == named.name) {
            return Some(known);
        }
        let stock = match &named.means {
            Means::Plain(wood) => {
                if let Some(known) = self.same_wood(wood).filter(|_| !named.is_own) {
                    return Some(known);
                }
                if named.is_own {
                    self.own_names.insert(named.name.clone());
                }
                Stock::Wood(wood)
            }
            Means::Board(board) => Stock::Board(self.laminated(board)?),
            Means::Lost => return None,
        };
        self.woods.push(RecipeWood { name: named.name.clone(), stock, span: named.span });
        Some(self.woods.len() - 1)
    }

    /// Two names of one wood are one wood at the saw; a wood of the recipe's own stays apart.
    fn same_wood(&self, wood: &'static Wood) -> Option<usize> {
        self.woods.iter().position(|other| {
            other.wood().is_some_and(|known| std::ptr::eq(known, wood)) && !self.own_names.contains(&other.name)
        })
    }

    fn laminated(&mut self, board: &Board) -> Option<LaminatedBoard> {
        let mut plies = Vec::with_capacity(board.plies.len());
        for ply in &board.plies {
            plies.push(Ply { wood: self.wood_index(&ply.wood)?, thick: ply.thick });
        }
        let glue = board.glue.or(self.shop_glue)?;
        Some(LaminatedBoard { plies, glue: self.glue_index(glue), span: board.span })
    }
}
