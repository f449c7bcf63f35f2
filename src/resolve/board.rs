//! `board stripe { walnut 1/4  maple 1/8  walnut 1/4 }`: a laminated board, which stands where a wood can.

use std::rc::Rc;

use crate::finding::limits;
use crate::quantity::Length;
use crate::source::Span;
use crate::syntax::{Block, Item, Node};
use crate::tables::{Glue, find_wood, short_names};
use crate::vocabulary::Bound;
use crate::workings::{Known, Origin};

use super::scope::Scope;
use super::split::{Call, word_of};
use super::wood::{Means, NamedWood, OwnWood};
use super::{Resolver, findings, layer_findings, read};

/// A board as a file defines it.
#[derive(Debug)]
pub(super) struct Board {
    /// Downmost first.
    pub(super) plies: Vec<PlyOf>,
    /// The shop's when none is said.
    pub(super) glue: Option<Known<&'static Glue>>,
    /// The head and the name.
    pub(super) span: Span,
}

/// One ply, its wood by name.
#[derive(Debug)]
pub(super) struct PlyOf {
    pub(super) wood: NamedWood,
    pub(super) thick: Known<Length>,
}

/// What a board's lines have given so far.
#[derive(Default)]
struct Reading {
    plies: Vec<PlyOf>,
    glue: Option<Known<&'static Glue>>,
    is_lost: bool,
}

impl Resolver<'_> {
    /// Defines the board in the scope; one that cannot be read still has its name.
    pub(super) fn define_board(&mut self, call: &Call<'_>, scope: &mut Scope) {
        let Some([name_item]) = call.argument(0) else { return };
        let name = self.told(read::name(scope, name_item, "board").map(ToOwned::to_owned));
        let board = self.board(call, scope, call.head_span.to(name_item.span));
        if let Some(name) = name {
            let means = board.map_or(Means::Lost, |board| Means::Board(Rc::new(board)));
            self.define_wood(scope, name, OwnWood { means, span: name_item.span });
        }
    }

    /// Gives a wood or a board its name, unless the table or a line before has it.
    pub(super) fn define_wood(&mut self, scope: &mut Scope, name: String, wood: OwnWood) {
        if find_wood(&name).is_some() || short_names().iter().any(|short| short.name == name) {
            self.say(findings::wood_of_the_table(wood.span, &name));
            return;
        }
        match scope.woods.get(&name).filter(|first| first.span != wood.span) {
            Some(first) => {
                let first = first.span;
                self.say(findings::name_twice(wood.span, &name, first));
            }
            None => {
                scope.woods.insert(name, wood);
            }
        }
    }

    fn board(&mut self, call: &Call<'_>, scope: &Scope, span: Span) -> Option<Board> {
        let mut read = Reading { is_lost: call.is_broken, ..Reading::default() };
        if let Some(clause) = call.clause("glue") {
            self.board_glue(scope, clause.argument.first(), clause.span, &mut read);
        }
        self.plies(scope, call.block?, &mut read);
        if read.is_lost {
            return None;
        }
        if read.plies.len() < limits::FEWEST_PLIES.get().0 as usize {
            self.say(layer_findings::too_few_plies(span, read.plies.len()));
            return None;
        }
        Some(Board { plies: read.plies, glue: read.glue, span })
    }

    fn plies(&mut self, scope: &Scope, block: &Block, into: &mut Reading) {
        for node in &block.nodes {
            let Node::Statement(statement) = node else {
                into.is_lost = true;
                continue;
            };
            if let Some(inner) = &statement.block {
                self.say(findings::no_block(inner.open, "board"));
                into.is_lost = true;
            }
            let mut items = statement.items.iter().peekable();
            while let Some(item) = items.next() {
                if word_of(&scope.tree, item) == Some("glue") {
                    let glue = items.next();
                    let span = glue.map_or(item.span, |glue| item.span.to(glue.span));
                    self.board_glue(scope, glue, span, into);
                    continue;
                }
                // Two woods side by side: the thickness between them is missing, and the second is a ply.
                let is_wood = |next: &&&Item| word_of(&scope.tree, next).is_some_and(|word| !scope.names(word));
                let thick = if items.peek().as_ref().is_some_and(is_wood) { None } else { items.next() };
                match self.ply(scope, item, thick) {
                    Some(ply) => into.plies.push(ply),
                    None => into.is_lost = true,
                }
            }
        }
    }

    fn ply(&mut self, scope: &Scope, wood: &Item, thick: Option<&Item>) -> Option<PlyOf> {
        let Some(thick) = thick else {
            self.say(layer_findings::ply_without_thickness(wood.span, scope.tree.text(wood.span)));
            return None;
        };
        let length = self.told(read::length(scope, thick, "board", Bound::Positive));
        let named = self.named_wood(&scope.tree, wood, &scope.woods, "board")?;
        match &named.means {
            Means::Board(inner) => {
                self.say(layer_findings::board_in_board(wood.span, &named.name, inner.span));
                None
            }
            Means::Lost => None,
            Means::Plain(_) => {
                Some(PlyOf { wood: named, thick: Known::new(length?, Origin::Written(wood.span.to(thick.span))) })
            }
        }
    }

    fn board_glue(&mut self, scope: &Scope, item: Option<&Item>, span: Span, into: &mut Reading) {
        let Some(item) = item else {
            self.say(layer_findings::glue_without_name(span));
            into.is_lost = true;
            return;
        };
        if let Some(first) = into.glue.and_then(|glue| glue.origin.span()) {
            self.say(findings::twice(span, "glue", first));
        }
        match self.named_glue(scope, item) {
            Some(glue) => into.glue = Some(Known::new(glue, Origin::Written(span))),
            None => into.is_lost = true,
        }
    }
}
