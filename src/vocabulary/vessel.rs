//! What stands in a vessel, and in its outside.

use super::file::{BOARD, CHART, LET};
use super::layers::{EVERY, LAYERS, REPEAT};
use super::{BlockKind, Bound, Clause, ClauseId, Context, Head, HeadId, Param, Shape, Without, later};

/// In a vessel.
pub static VESSEL: Context = Context {
    place: "in a vessel",
    heads: &[&OUTSIDE_HEAD, &WALL, &FLOOR, &TOP, &EVERY, &LET, &BOARD, &CHART, &BODY, &LID, &EXPECT],
    later: later::VESSEL,
};

/// In an outside.
pub static OUTSIDE: Context = Context { place: "in an outside", heads: &[&AT, &LET, &REPEAT], later: later::OUTSIDE };

static OUTSIDE_HEAD: Head = Head {
    word: "outside",
    id: HeadId::Outside,
    help: "the outside shape, from the bench upward; `straight` when not said",
    params: &[Param::optional("KIND", Shape::Choice(&["straight", "smooth"]))],
    clauses: &[],
    block: BlockKind::Statements(&OUTSIDE),
};

static AT: Head = Head {
    word: "at",
    id: HeadId::At,
    help: "one point of the outside; two points at one height make a step",
    params: &[Param::required("HEIGHT", Shape::Length(Bound::NotNegative))],
    clauses: &[&DIAMETER],
    block: BlockKind::None,
};

static DIAMETER: Clause = Clause {
    word: "diameter",
    id: ClauseId::Diameter,
    help: "across the finished vessel at that height",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Required("a point of the outside is a height and a diameter"),
};

static WALL: Head = Head {
    word: "wall",
    id: HeadId::Wall,
    help: "thickness of the wall, square to the outside surface",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    clauses: &[],
    block: BlockKind::None,
};

static FLOOR: Head = Head {
    word: "floor",
    id: HeadId::Floor,
    help: "thickness under the cavity; as the wall when not said",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    clauses: &[],
    block: BlockKind::None,
};

static TOP: Head = Head {
    word: "top",
    id: HeadId::Top,
    help: "thickness over the cavity of a lidded vessel; as the floor when not said",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    clauses: &[],
    block: BlockKind::None,
};

static BODY: Head = Head {
    word: "body",
    id: HeadId::Body,
    help: "the layers of the body, from the bench upward",
    params: &[],
    clauses: &[],
    block: BlockKind::Statements(&LAYERS),
};

static LID: Head = Head {
    word: "lid",
    id: HeadId::Lid,
    help: "the layers of the lid, upward; a vessel without it is open",
    params: &[],
    clauses: &[],
    block: BlockKind::Statements(&LAYERS),
};

static EXPECT: Head = Head {
    word: "expect",
    id: HeadId::Expect,
    help: "a promise of the design that is checked each time",
    params: &[
        Param::required("SUBJECT", Shape::Choice(&["capacity", "mass", "height", "diameter", "pieces", "board-feet"])),
        Param::required("COMPARISON", Shape::Comparison),
    ],
    clauses: &[],
    block: BlockKind::None,
};
