//! What stands in a body or a lid.

use super::file::LET;
use super::{BlockKind, Bound, Clause, ClauseId, Context, Head, HeadId, Param, Shape, Without, later};

/// In a body or a lid.
pub static LAYERS: Context =
    Context { place: "among layers", heads: &[&RING, &DISC, &REPEAT, &EVERY, &LET], later: later::LAYERS };

static RING: Head = Head {
    word: "ring",
    id: HeadId::Ring,
    help: "segments mitered and glued edge to edge, grain round the ring",
    params: &[Param::optional("N", Shape::Count), Param::required("PATTERN", Shape::Pattern)],
    clauses: &[&SEGMENTS, &THICK, &STAGGER, &STRIP, &ALLOW, &GLUE, &NAME],
    block: BlockKind::Clauses,
};

static DISC: Head = Head {
    word: "disc",
    id: HeadId::Disc,
    help: "one solid round, grain across",
    params: &[Param::required("WOOD", Shape::Wood)],
    clauses: &[&THICK, &ALLOW, &GLUE, &NAME],
    block: BlockKind::Clauses,
};

/// Also in an outside.
pub(super) static REPEAT: Head = Head {
    word: "repeat",
    id: HeadId::Repeat,
    help: "the statements in its braces, N times over",
    params: &[Param::required("N", Shape::Count)],
    clauses: &[&AS],
    block: BlockKind::Same,
};

static AS: Clause = Clause {
    word: "as",
    id: ClauseId::As,
    help: "names the number of the turn, counted from 1",
    param: Param::required("NAME", Shape::Name),
    without: Without::Absent,
};

/// Also in a vessel.
pub(super) static EVERY: Head = Head {
    word: "every",
    id: HeadId::Every,
    help: "what holds for every following ring or disc of its block that does not say otherwise",
    params: &[Param::required("LAYER", Shape::Choice(&["ring", "disc"]))],
    clauses: &[&SEGMENTS, &THICK, &STAGGER, &STRIP, &ALLOW, &GLUE],
    block: BlockKind::Clauses,
};

static SEGMENTS: Clause = Clause {
    word: "segments",
    id: ClauseId::Segments,
    help: "how many segments the ring has",
    param: Param::required("N", Shape::Count),
    without: Without::Default("12"),
};

static THICK: Clause = Clause {
    word: "thick",
    id: ClauseId::Thick,
    help: "finished thickness of the layer, which is its height in the vessel",
    param: Param::required("LENGTH", Shape::Length(Bound::Positive)),
    without: Without::Required("the stack's height is made of the layers' thicknesses"),
};

static STAGGER: Clause = Clause {
    word: "stagger",
    id: ClauseId::Stagger,
    help: "how the ring is turned against the ring below",
    param: Param::required("STAGGER", Shape::Stagger),
    without: Without::Default("half: joints as far from those below as the counts allow"),
};

static STRIP: Clause = Clause {
    word: "strip",
    id: ClauseId::Strip,
    help: "width of a strip that is there already: checked, not computed",
    param: Param::required("LENGTH", Shape::Length(Bound::Positive)),
    without: Without::Default("the width that wall and allowance need"),
};

static ALLOW: Clause = Clause {
    word: "allow",
    id: ClauseId::Allow,
    help: "wood left for turning on each side, on the radius",
    param: Param::required("LENGTH", Shape::Length(Bound::NotNegative)),
    without: Without::Default("the shop's `allowance`"),
};

/// Also in a shop.
pub(super) static GLUE: Clause = Clause {
    word: "glue",
    id: ClauseId::Glue,
    help: "which glue",
    param: Param::required("GLUE", Shape::Glue),
    without: Without::Default("the shop's, and `pva-d2` when the shop says nothing"),
};

static NAME: Clause = Clause {
    word: "name",
    id: ClauseId::Name,
    help: "what the layer is called in the documents",
    param: Param::required("NAME", Shape::Name),
    without: Without::Default("its kind and its number in the stack"),
};
