//! Which plain woods and which glues a design puts together, and where it says so.

use crate::finding::Finding;
use crate::quantity::{System, Temperature};
use crate::resolve::{InsertForm, Stock, Use};
use crate::source::Span;
use crate::tables::{Finish, Glue, Wood};
use crate::workings::Known;

use super::Design;

/// A glue where it is used.
#[derive(Debug, Clone, Copy)]
pub(super) struct GlueUse {
    /// Which.
    pub glue: &'static Glue,
    /// Index into the recipe's glues.
    pub index: usize,
    /// Where it is named; where nobody names it, what it glues.
    pub place: Span,
    /// What it glues.
    pub seam: Seam,
}

/// What a glue holds together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seam {
    /// A layer of the stack (index into the vessel's layers).
    Layer(usize),
    /// The plies of a board (index into the recipe's woods).
    Board(usize),
    /// An insert and the vessel.
    Insert,
}

/// A plain wood where it is used.
#[derive(Debug, Clone, Copy)]
pub(super) struct WoodUse<'a> {
    /// Index into the recipe's woods.
    pub index: usize,
    /// As the recipe names it.
    pub name: &'a str,
    /// Its row.
    pub wood: &'static Wood,
    /// Where it is first named.
    pub place: Span,
}

/// A thing of the recipe with the statement that says it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Said<T> {
    pub value: T,
    pub place: Span,
}

impl<'a> Design<'a> {
    /// Every use of a glue: layers from the bench upward, then laminated boards, then inserts.
    pub(super) fn glue_uses(self) -> Vec<GlueUse> {
        let used = |glue: Known<usize>, seam, otherwise: Span| {
            let place = glue.origin.span().unwrap_or(otherwise);
            let row = self.recipe.glues.get(glue.value)?.glue;
            Some(GlueUse { glue: row, index: glue.value, place, seam })
        };
        let layers = self.layers().filter_map(|(at, said, _)| used(said.glue, Seam::Layer(at), said.head));
        let sawn = self.plan.cut_list.boards.iter();
        let boards = sawn.filter_map(|row| {
            let board = self.recipe.woods.get(row.wood)?.board()?;
            used(board.glue, Seam::Board(row.wood), board.span)
        });
        let inserts = self.recipe.fittings.inserts.iter();
        let inserts = inserts.filter_map(|insert| used(insert.glue?, Seam::Insert, insert.head));
        layers.chain(boards).chain(inserts).collect()
    }

    /// Each glue that is used so, once, at its first use.
    pub(super) fn glues(self, is_meant: impl Fn(&GlueUse) -> bool) -> Vec<GlueUse> {
        let mut first: Vec<GlueUse> = Vec::new();
        for used in self.glue_uses().into_iter().filter(is_meant) {
            if first.iter().all(|known| known.index != used.index) {
                first.push(used);
            }
        }
        first
    }

    /// The plain woods that layers are made of, those of plies, spacers and plugs among them, each once.
    pub(super) fn layer_woods(self) -> Vec<WoodUse<'a>> {
        let mut found = Vec::new();
        for (_, _, built) in self.layers() {
            for share in &built.shares {
                self.plain_woods(share.wood, &mut found);
            }
        }
        found
    }

    /// Each plain wood with each glue that holds it, once. What lies over a layer is glued on with its own glue;
    /// a layer's wood is told with the glue of the layer alone.
    pub(super) fn glued_woods(self) -> Vec<(WoodUse<'a>, GlueUse)> {
        let mut found: Vec<(WoodUse<'a>, GlueUse)> = Vec::new();
        for used in self.glue_uses() {
            let mut woods = Vec::new();
            match used.seam {
                Seam::Layer(at) => {
                    for share in self.vessel.layers.get(at).into_iter().flat_map(|built| &built.shares) {
                        self.plain_woods(share.wood, &mut woods);
                    }
                }
                Seam::Board(wood) => self.plain_woods(wood, &mut woods),
                Seam::Insert => {}
            }
            for wood in woods {
                if found.iter().all(|(known, glue)| (known.index, glue.index) != (wood.index, used.index)) {
                    found.push((wood, used));
                }
            }
        }
        found
    }

    /// Adds the wood, or those of a board's plies.
    fn plain_woods(self, index: usize, into: &mut Vec<WoodUse<'a>>) {
        let Some(used) = self.recipe.woods.get(index) else { return };
        match &used.stock {
            Stock::Wood(wood) => {
                if into.iter().all(|known| known.index != index) {
                    into.push(WoodUse { index, name: &used.name, wood, place: used.span });
                }
            }
            Stock::Board(board) => {
                for ply in &board.plies {
                    self.plain_woods(ply.wood, into);
                }
            }
        }
    }

    /// What the vessel is for, where it is said.
    pub(super) fn holds(self) -> Option<Said<Use>> {
        let holds = self.recipe.holds?;
        Some(Said { value: holds.value, place: holds.origin.span()? })
    }

    /// What it is for, where that comes to somebody's mouth.
    pub(super) fn holds_food(self) -> Option<Said<Use>> {
        self.holds().filter(|holds| holds.value.touches_food())
    }

    /// What goes on it, where it is said.
    pub(super) fn finish(self) -> Option<Said<&'static Finish>> {
        let finish = self.recipe.finish?;
        Some(Said { value: finish.value, place: finish.origin.span()? })
    }

    /// Whether glass or metal stands between the wood and what it holds.
    pub(super) fn has_liner(self) -> bool {
        self.recipe.fittings.inserts.iter().any(|insert| matches!(insert.form, InsertForm::Liner { .. }))
    }

    /// Degrees in the scale of the recipe.
    pub(super) fn show_temperature(self, temperature: Temperature) -> String {
        match self.recipe.units {
            System::Inch => format!("{:.0} °F ({:.0} °C)", temperature.fahrenheit(), temperature.celsius()),
            System::Millimeter => format!("{} °C", temperature.celsius()),
        }
    }
}

/// Points to what the vessel is for.
pub(super) fn because(finding: Finding, holds: Said<Use>) -> Finding {
    finding.also(holds.place, "what it is for is said here")
}
