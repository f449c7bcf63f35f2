//! How lid and body meet, and the air they live in.

use super::policy::ACCEPT_HERE;
use super::{BlockKind, Bound, Clause, ClauseId, Head, HeadId, Param, Shape, Without};

pub(super) static JOINT: Head = Head {
    word: "joint",
    id: HeadId::Joint,
    help: "how the lid sits on the body; without it they meet flat",
    params: &[Param::required("KIND", Shape::Choice(&["tenon", "inset", "over", "thread"]))],
    clauses: &[&ON, &LONG, &FIT, &TENON_WALL, &PITCH, &STARTS, &TURNS, &ACCEPT_HERE],
    block: BlockKind::Clauses,
};

static ON: Clause = Clause {
    word: "on",
    id: ClauseId::On,
    help: "the part that carries the tenon or the outer thread",
    params: &[Param::required("PART", Shape::Choice(&["body", "lid"]))],
    without: Without::Default("body; of `inset` always the lid, of `over` always the body"),
};

static LONG: Clause = Clause {
    word: "long",
    id: ClauseId::Long,
    help: "how far one part goes into the other",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Default("3/8 in, or 6 to 10 mm, a tenth of the diameter; of a thread turns × lead + one pitch"),
};

static FIT: Clause = Clause {
    word: "fit",
    id: ClauseId::Fit,
    help: "how tight: to hold for turning, for use, to drop on, or a play on the diameter",
    params: &[Param::required("FIT", Shape::Fit)],
    without: Without::Default("slip"),
};

static TENON_WALL: Clause = Clause {
    word: "wall",
    id: ClauseId::TenonWall,
    help: "wall of the tenon, measured level, of a thread under its root; of `inset` the width of the ledge",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Default("half of what is there"),
};

static PITCH: Clause = Clause {
    word: "pitch",
    id: ClauseId::Pitch,
    help: "of a thread: threads an inch, or the length from crest to crest",
    params: &[Param::required("PITCH", Shape::Pitch)],
    without: Without::Default("16 tpi"),
};

static STARTS: Clause = Clause {
    word: "starts",
    id: ClauseId::Starts,
    help: "of a thread: how many run side by side",
    params: &[Param::required("N", Shape::Count)],
    without: Without::Default("1"),
};

static TURNS: Clause = Clause {
    word: "turns",
    id: ClauseId::Turns,
    help: "of a thread: how far the lid is turned until it sits",
    params: &[Param::required("NUMBER", Shape::Number)],
    without: Without::Default("1.5"),
};

pub(super) static PARTED: Head = Head {
    word: "parted",
    id: HeadId::Parted,
    help: "one stack, sawn apart into body and lid; in place of `lid`",
    params: &[],
    clauses: &[&PARTED_AT, &KERF, &ACCEPT_HERE],
    block: BlockKind::Clauses,
};

static PARTED_AT: Clause = Clause {
    word: "at",
    id: ClauseId::PartedAt,
    help: "where the line shows on the finished vessel, above the bench",
    params: &[Param::required("HEIGHT", Shape::Length(Bound::Positive))],
    without: Without::Required("where lid and body meet cannot be assumed"),
};

static KERF: Clause = Clause {
    word: "kerf",
    id: ClauseId::PartingKerf,
    help: "width of the parting cut",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Default("1.6 mm (1/16 in), a thin parting tool"),
};

pub(super) static LIVES: Head = Head {
    word: "lives",
    id: HeadId::Lives,
    help: "relative humidity where it stands, from the driest weeks to the dampest, at 20 °C",
    params: &[Param::required("DRY .. DAMP", Shape::HumidityRange)],
    clauses: &[&ACCEPT_HERE],
    block: BlockKind::None,
};
