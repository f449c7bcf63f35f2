//! What stands in an insert: what is let in, where, and what is known of its hole and its blank.

use super::policy::ACCEPT;
use super::{BlockKind, Bound, Clause, ClauseId, Context, Head, HeadId, Param, Shape, Without};

/// The parts that something is let into.
pub static PARTS: &[&str] = &["body", "lid"];
/// The places of a part.
pub static PLACES: &[&str] = &["top", "inside", "base", "side"];

/// In an insert.
pub static INSERT: Context = Context {
    place: "in an insert",
    heads: &[&WOOD, &INTO, &TENON, &PLUG, &MEDALLION, &LINER, &HOLE, &SHOWS, &BLANK, &GLUE, &ACCEPT],
};

/// In a vessel.
pub(super) static INSERT_HEAD: Head = Head {
    word: "insert",
    id: HeadId::Insert,
    help: "a knob, finial, stem, foot, plug, medallion or liner let into the vessel; as many as there are names",
    params: &[Param::required("NAME", Shape::Name)],
    clauses: &[],
    block: BlockKind::Statements(&INSERT),
};

const fn head(
    word: &'static str,
    id: HeadId,
    help: &'static str,
    params: &'static [Param],
    clauses: &'static [&'static Clause],
) -> Head {
    let block = if clauses.is_empty() { BlockKind::None } else { BlockKind::Clauses };
    Head { word, id, help, params, clauses, block }
}

static WOOD: Head = head(
    "wood",
    HeadId::Wood,
    "what the insert is made of; a liner has none",
    &[Param::required("WOOD", Shape::Wood)],
    &[],
);

static INTO: Head = head(
    "into",
    HeadId::Into,
    "where it sits: `lid top`, `lid inside`, `body base`, `body inside` or `body side`",
    &[Param::required("PART", Shape::Choice(PARTS)), Param::required("PLACE", Shape::Choice(PLACES))],
    &[&AT, &FACING],
);

static TENON: Head = head("tenon", HeadId::TenonOf, "it is turned with a tenon", &[], &[&TENON_DIAMETER, &LONG]);

static PLUG: Head =
    head("plug", HeadId::PlugOf, "it is a round that fills its hole, face grain out", &[], &[&ROUND, &THICK]);

static MEDALLION: Head = head(
    "medallion",
    HeadId::Medallion,
    "it is a round to look at, let in flush, face grain out",
    &[],
    &[&ROUND, &THICK],
);

static LINER: Head =
    head("liner", HeadId::Liner, "it is a vessel of glass or metal, never glued all round", &[], &[&OUTSIDE, &TALL]);

static HOLE: Head = head(
    "hole",
    HeadId::Hole,
    "a hole that is settled already: without it, tenon and bits decide",
    &[],
    &[&HOLE_DIAMETER, &DEEP],
);

static SHOWS: Head =
    head("shows", HeadId::Shows, "size of what is seen of it, for its blank", &[], &[&SHOWN_DIAMETER, &SHOWN_TALL]);

static BLANK: Head = head("blank", HeadId::Blank, "the stick it is turned from: checked", &[], &[&SQUARE, &BLANK_LONG]);

static GLUE: Head = head("glue", HeadId::GlueOf, "which glue", &[Param::required("GLUE", Shape::Glue)], &[]);

const fn clause(word: &'static str, id: ClauseId, help: &'static str, without: Without) -> Clause {
    const LENGTH: &[Param] = &[Param::required("LENGTH", Shape::Length(Bound::Positive))];
    Clause { word, id, help, params: LENGTH, without }
}

static AT: Clause = clause(
    "at",
    ClauseId::At,
    "height of a side hole's middle above the bench",
    Without::Required("of a side hole; no height can be assumed"),
);

static FACING: Clause = Clause {
    word: "facing",
    id: ClauseId::Facing,
    help: "where a side hole faces, counterclockwise from above, from the first joint of the first ring",
    params: &[Param::required("ANGLE", Shape::Angle)],
    without: Without::Default("the middle of a segment"),
};

static TENON_DIAMETER: Clause = clause(
    "diameter",
    ClauseId::Diameter,
    "of the tenon, before glue clearance: the bit's size",
    Without::Required("no tenon can be assumed"),
);

static LONG: Clause =
    clause("long", ClauseId::Long, "how far the tenon goes in", Without::Default("1.25 × its diameter"));

static ROUND: Clause = clause("diameter", ClauseId::Diameter, "across the round", Without::Required("of the round"));

static THICK: Clause = clause(
    "thick",
    ClauseId::Thick,
    "from face to face, as deep as its hole",
    Without::Required("its hole is as deep"),
);

static OUTSIDE: Clause =
    clause("diameter", ClauseId::Diameter, "across its outside", Without::Required("of the liner"));

static TALL: Clause = clause("tall", ClauseId::Tall, "over all", Without::Required("its hole is as deep"));

static HOLE_DIAMETER: Clause =
    clause("diameter", ClauseId::Diameter, "across the hole", Without::Default("the bit nearest to what is let in"));

static DEEP: Clause =
    clause("deep", ClauseId::Deep, "from the face it goes in", Without::Default("a tenon's length + 1.5 mm"));

static SHOWN_DIAMETER: Clause =
    clause("diameter", ClauseId::Diameter, "its greatest, finished", Without::Required("the blank is as wide"));

static SHOWN_TALL: Clause =
    clause("tall", ClauseId::Tall, "what stands out, finished", Without::Required("the blank is as long"));

static SQUARE: Clause =
    clause("square", ClauseId::Square, "side of the stick", Without::Required("no stick can be assumed"));

static BLANK_LONG: Clause =
    clause("long", ClauseId::Long, "along the grain", Without::Required("no stick can be assumed"));
