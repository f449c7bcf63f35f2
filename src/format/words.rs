//! Where the parts of a line begin, by the vocabulary. What it does not know is taken for an argument: a line is
//! then set plainly, and never differently read.

use crate::syntax::{Item, ItemKind, Statement, Tree};
use crate::vocabulary::{BlockKind, Clause, ClauseId, Context, Head, HeadId, LAYER_KINDS, Param, ROWS, Shape};

/// What kind of statements stand somewhere.
#[derive(Debug, Clone, Copy)]
pub(super) enum Place {
    /// Those of a context.
    Context(&'static Context),
    /// The clauses of a head, and statements of a context beside them.
    Clauses(&'static Head, Option<&'static Context>),
    /// Lines of one kind, without its word.
    Lines(&'static Head),
    /// The plies of a board.
    Plies,
    /// The keys of a chart.
    Chart,
    /// The rows of a chart.
    Rows,
    /// Nobody knows.
    Unknown,
}

/// With which of its neighbors a line shares its columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kin {
    /// With none; it parts those before it from those behind it.
    Alone,
    /// With none, but it parts nobody.
    Aside,
    /// With lines of this sort.
    Of(&'static str),
}

/// The layers of a stack.
const LAYER: Kin = Kin::Of("layer");
/// The points and details of an outline.
const POINT: Kin = Kin::Of("point");
/// What was measured.
const MEASURED: Kin = Kin::Of("measured");
/// A word and its value.
const SETTING: Kin = Kin::Of("setting");

const MEASURES: [HeadId; 6] = {
    use HeadId::{MadeBody, MadeDisc, MadeHeight, MadeMortise, MadeRing, MadeTenon};
    [MadeRing, MadeDisc, MadeBody, MadeTenon, MadeMortise, MadeHeight]
};

const POINTS: [HeadId; 4] = [HeadId::At, HeadId::Bead, HeadId::Cove, HeadId::Foot];

const SETTINGS: [HeadId; 15] = {
    use HeadId::{
        Blank, Block, Faceplate, Floor, GlueOf, Hole, Into, Liner, Medallion, PlugOf, Screws, Shows, TenonOf,
    };
    use HeadId::{Top, Wall};
    [Wall, Floor, Top, Into, TenonOf, PlugOf, Medallion, Liner, Hole, Shows, Blank, GlueOf, Block, Faceplate, Screws]
};

/// How one line is set.
#[derive(Debug)]
pub(super) struct Reading {
    /// The blanks before each item, and whether a column begins there.
    pub(super) gaps: Vec<(usize, bool)>,
    pub(super) kin: Kin,
    /// What stands in its braces.
    pub(super) inside: Place,
}

/// Reads the line of a statement that stands at `place`.
pub(super) fn read(tree: &Tree, statement: &Statement, place: Place) -> Reading {
    let items = statement.items.as_slice();
    let columns = |begins: &dyn Fn(usize) -> Option<usize>| {
        (0..items.len()).map(|at| begins(at).map_or((1, false), |before| (before, at > 0))).collect()
    };
    match place {
        Place::Unknown => Reading { gaps: columns(&|_| None), kin: Kin::Alone, inside: Place::Unknown },
        Place::Rows => Reading { gaps: columns(&|_| Some(1)), kin: Kin::Of("row"), inside: Place::Unknown },
        Place::Plies => {
            let is_word = |at: usize| items.get(at).is_some_and(|item| matches!(item.kind, ItemKind::Word));
            let begins = |at: usize| Some(if at > 0 && is_word(at) && !is_word(at - 1) { 2 } else { 1 });
            Reading { gaps: columns(&begins), kin: Kin::Of("ply"), inside: Place::Unknown }
        }
        Place::Chart => {
            let is_sign = |at: usize| items.get(at).is_some_and(|item| matches!(item.kind, ItemKind::Assign(_)));
            let begins = |at: usize| (is_sign(at) || is_sign(at + 1)).then(|| if is_sign(at) { 1 } else { 2 });
            let holds_rows = tree.text(statement.head()) == ROWS;
            let inside = if holds_rows { Place::Rows } else { Place::Unknown };
            Reading { gaps: columns(&begins), kin: Kin::Of("key"), inside }
        }
        Place::Context(context) => Scan::new(tree, items, None, Some(context)).reading(place),
        Place::Clauses(head, context) => Scan::new(tree, items, Some(head), context).reading(place),
        Place::Lines(head) => Scan::new(tree, items, None, None).of_lines(head),
    }
}

/// What a statement or a clause begins with.
#[derive(Debug, Clone, Copy)]
enum Begun {
    Head(&'static Head),
    /// A clause of the block around, on a line of its own.
    Clause(&'static Clause),
}

/// The words of a line that begin something.
#[derive(Debug)]
struct Scan<'t> {
    tree: &'t Tree,
    items: &'t [Item],
    /// Whose braces hold the line.
    around: Option<&'static Head>,
    context: Option<&'static Context>,
    /// What the line says, one after another, and with which item each begins.
    calls: Vec<(usize, Begun)>,
    /// The items at which clauses of a head begin.
    clauses: Vec<(usize, ClauseId)>,
}

impl<'t> Scan<'t> {
    fn new(
        tree: &'t Tree,
        items: &'t [Item],
        around: Option<&'static Head>,
        context: Option<&'static Context>,
    ) -> Self {
        Self { tree, items, around, context, calls: Vec::new(), clauses: Vec::new() }
    }

    /// A line that is as `head` says, without its word.
    fn of_lines(mut self, head: &'static Head) -> Reading {
        self.words(1, Some(head));
        let gaps =
            (0..self.items.len()).map(|at| if self.clause(at).is_some() { (2, true) } else { (1, false) }).collect();
        Reading { gaps, kin: Kin::Of(head.word), inside: Place::Unknown }
    }

    fn reading(mut self, place: Place) -> Reading {
        self.words(0, None);
        let gaps = match self.calls.as_slice() {
            [] => vec![(1, false); self.items.len()],
            [(_, begun)] => {
                let kin = kin_of(*begun);
                (0..self.items.len()).map(|at| self.gap(at, *begun, kin)).collect()
            }
            [..] => (0..self.items.len()).map(|at| if self.is_call(at) { (2, at > 0) } else { (1, false) }).collect(),
        };
        let kin = match self.calls.as_slice() {
            [(0, begun)] => kin_of(*begun),
            _ => Kin::Alone,
        };
        let inside = match self.calls.last() {
            Some((_, Begun::Head(head))) => inside(head, place),
            Some((_, Begun::Clause(_))) | None => Place::Unknown,
        };
        Reading { gaps, kin, inside }
    }

    /// Notes what begins a statement or a clause, from item `from`, within a statement of `head` if there is one.
    fn words(&mut self, from: usize, head: Option<&'static Head>) {
        let (mut at, mut head) = (from, head);
        while let Some(item) = self.items.get(at) {
            let word = matches!(item.kind, ItemKind::Word).then(|| self.tree.text(item.span));
            let own = word.and_then(|word| head?.clause(word));
            let call = word.and_then(|word| self.call(word));
            let params = match (own, call) {
                (Some(clause), _) => {
                    self.clauses.push((at, clause.id));
                    clause.params
                }
                (None, Some(begun)) => {
                    self.calls.push((at, begun));
                    head = if let Begun::Head(head) = begun { Some(head) } else { None };
                    begun.params()
                }
                (None, None) => &[],
            };
            // What must stand behind a word is its argument, whatever it looks like.
            at += 1 + usize::from(params.first().is_some_and(|param| !param.is_optional));
        }
    }

    fn call(&self, word: &str) -> Option<Begun> {
        let clause = self.around.and_then(|around| around.clause(word)).map(Begun::Clause);
        clause.or_else(|| self.context.and_then(|context| context.head(word)).map(Begun::Head))
    }

    fn is_call(&self, at: usize) -> bool {
        self.calls.binary_search_by_key(&at, |(call, _)| *call).is_ok()
    }

    fn clause(&self, at: usize) -> Option<ClauseId> {
        let found = self.clauses.binary_search_by_key(&at, |(clause, _)| *clause).ok()?;
        self.clauses.get(found).map(|(_, id)| *id)
    }

    /// What stands before an item of a line that says one thing.
    fn gap(&self, at: usize, begun: Begun, kin: Kin) -> (usize, bool) {
        let Some(item) = self.items.get(at).filter(|_| at > 0) else { return (1, false) };
        let clause = self.clause(at);
        let is_place = at == 1 && begun.params().first().is_some_and(|param| param.shape == Shape::Place);
        // These go on with the sentence: `repeat 3 as i`, `into body side at 64 facing 15°`.
        if matches!(clause, Some(ClauseId::As | ClauseId::At | ClauseId::Facing)) {
            (1, false)
        } else if kin == SETTING && at == 1 {
            (1, true)
        } else if kin == POINT && is_place {
            (2, true)
        } else if clause.is_some() {
            // A head that stands bare has its first clause for an argument.
            let is_first = at == 1 && ![LAYER, POINT, MEASURED].contains(&kin);
            (if is_first { 1 } else { 2 }, true)
        } else {
            (1, matches!(item.kind, ItemKind::Assign(_) | ItemKind::Comparison(..)))
        }
    }
}

impl Begun {
    fn params(self) -> &'static [Param] {
        match self {
            Self::Head(head) => head.params,
            Self::Clause(clause) => clause.params,
        }
    }
}

fn kin_of(begun: Begun) -> Kin {
    let head = match begun {
        Begun::Head(head) => head,
        Begun::Clause(clause) if clause.id == ClauseId::Accept => return Kin::Of(clause.word),
        Begun::Clause(_) => return SETTING,
    };
    // In an insert, where it is no new name, `wood` has no clauses.
    let is_wood_of_insert = head.id == HeadId::Wood && head.clauses.is_empty();
    if MEASURES.contains(&head.id) {
        MEASURED
    } else if LAYER_KINDS.contains(&head.word) || head.id == HeadId::Rings {
        LAYER
    } else if POINTS.contains(&head.id) {
        POINT
    } else if SETTINGS.contains(&head.id) || is_wood_of_insert {
        SETTING
    } else {
        Kin::Of(head.word)
    }
}

fn inside(head: &'static Head, around: Place) -> Place {
    match head.block {
        BlockKind::None => Place::Unknown,
        BlockKind::Clauses => Place::Clauses(head, None),
        BlockKind::ClausesAnd(context) => Place::Clauses(head, Some(context)),
        BlockKind::Lines(line) => Place::Lines(line),
        BlockKind::Statements(context) | BlockKind::Optional(context) => Place::Context(context),
        BlockKind::Same => around,
        BlockKind::Plies => Place::Plies,
        BlockKind::Chart => Place::Chart,
    }
}
