//! What stands at file level.

use super::layers::GLUE;
use super::made::MADE_HEAD;
use super::policy::SEVERITY;
use super::shop::SHOP;
use super::vessel::VESSEL;
use super::{BlockKind, Clause, ClauseId, Context, Head, HeadId, Param, Shape, Without};

/// File level.
pub static FILE: Context = Context {
    place: "at file level",
    heads: &[&LANGUAGE, &UNITS, &USE, &LET, &SHOP, &WOOD, &BOARD, &CHART, &SEVERITY, &VESSEL_HEAD, &MADE_HEAD],
};

static LANGUAGE: Head = Head {
    word: "language",
    id: HeadId::Language,
    help: "the edition of the language that the file is written in, its first statement; edition 1 when not said",
    params: &[Param::required("EDITION", Shape::Count)],
    clauses: &[],
    block: BlockKind::None,
};

static UNITS: Head = Head {
    word: "units",
    id: HeadId::Units,
    help: "what a number without a unit means in this file",
    params: &[Param::required("UNIT", Shape::Choice(&["in", "mm"]))],
    clauses: &[],
    block: BlockKind::None,
};

static USE: Head = Head {
    word: "use",
    id: HeadId::Use,
    help: "brings in the shop, the woods, boards, charts, severities and `let` names of another file of the project",
    params: &[Param::required("\"FILE\"", Shape::Text)],
    clauses: &[],
    block: BlockKind::None,
};

/// Also in a vessel and among layers.
pub(super) static LET: Head = Head {
    word: "let",
    id: HeadId::Let,
    help: "names a value for the lines that follow",
    params: &[Param::required("NAME", Shape::Name), Param::required("= EXPRESSION", Shape::Assignment)],
    clauses: &[],
    block: BlockKind::None,
};

static WOOD: Head = Head {
    word: "wood",
    id: HeadId::Wood,
    help: "names a wood of your own after one of the table",
    params: &[Param::required("NAME", Shape::Name)],
    clauses: &[&LIKE],
    block: BlockKind::Clauses,
};

/// Also in a vessel.
pub(super) static BOARD: Head = Head {
    word: "board",
    id: HeadId::Board,
    help: "a board of plies glued face on face, downmost first; its name stands wherever segments and discs want a wood",
    params: &[Param::required("NAME", Shape::Name)],
    clauses: &[&GLUE],
    block: BlockKind::Plies,
};

/// Also in a vessel.
pub(super) static CHART: Head = Head {
    word: "chart",
    id: HeadId::Chart,
    help: "a motif as it is seen from outside, one line a row, top row on top",
    params: &[Param::required("NAME", Shape::Name)],
    clauses: &[],
    block: BlockKind::Chart,
};

static LIKE: Clause = Clause {
    word: "like",
    id: ClauseId::Like,
    help: "the wood of the table whose figures it shares",
    params: &[Param::required("WOOD", Shape::Wood)],
    without: Without::Required("its weight and movement are taken from a wood of the table"),
};

static VESSEL_HEAD: Head = Head {
    word: "vessel",
    id: HeadId::Vessel,
    help: "the vessel, with its name",
    params: &[Param::required("\"NAME\"", Shape::Text)],
    clauses: &[],
    block: BlockKind::Statements(&VESSEL),
};
