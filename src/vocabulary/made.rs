//! What was measured on the work.

use super::policy::ACCEPT;
use super::{BlockKind, Bound, Clause, ClauseId, Context, Head, HeadId, Param, Shape, Without};

/// In a `made`.
pub static MADE: Context = Context {
    place: "in a `made`",
    heads: &[&MADE_RING, &MADE_DISC, &MADE_BODY, &MADE_TENON, &MADE_MORTISE, &MADE_LID, &ACCEPT],
};

/// In the `lid` of a `made`.
pub static MADE_OF_LID: Context =
    Context { place: "in the `lid` of a `made`", heads: &[&MADE_RING, &MADE_DISC, &MADE_HEIGHT, &ACCEPT] };

/// At file level and in a vessel.
pub(super) static MADE_HEAD: Head = Head {
    word: "made",
    id: HeadId::Made,
    help: "what was measured on the work: it takes the place of what was planned",
    params: &[],
    clauses: &[],
    block: BlockKind::Statements(&MADE),
};

static MADE_RING: Head = Head {
    word: "ring",
    id: HeadId::MadeRing,
    help: "a ring, by its name or its number in the stack, the lowest layer being 1",
    params: &[Param::required("LAYER", Shape::Layer)],
    clauses: &[&THICK, &DIAMETER],
    block: BlockKind::Clauses,
};

static MADE_DISC: Head = Head {
    word: "disc",
    id: HeadId::MadeDisc,
    help: "a disc, by its name or its number in the stack",
    params: &[Param::required("LAYER", Shape::Layer)],
    clauses: &[&THICK, &DIAMETER],
    block: BlockKind::Clauses,
};

static THICK: Clause = Clause {
    word: "thick",
    id: ClauseId::MadeThick,
    help: "its thickness, flattened",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Absent,
};

static DIAMETER: Clause = Clause {
    word: "diameter",
    id: ClauseId::MadeDiameter,
    help: "across it: of a glued ring across the flats, of the tenon or the mortise as turned",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Absent,
};

static MADE_BODY: Head = Head {
    word: "body",
    id: HeadId::MadeBody,
    help: "the body's stack, glued",
    params: &[],
    clauses: &[&STACK_HEIGHT],
    block: BlockKind::Clauses,
};

static STACK_HEIGHT: Clause = Clause {
    word: "height",
    id: ClauseId::MadeHeight,
    help: "from the bench to its upper face; layers that were not measured share the difference",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Required("nothing else can be measured of it"),
};

static MADE_TENON: Head = Head {
    word: "tenon",
    id: HeadId::MadeTenon,
    help: "the lid joint's tenon, as turned; the mortise follows",
    params: &[],
    clauses: &[&DIAMETER],
    block: BlockKind::Clauses,
};

static MADE_MORTISE: Head = Head {
    word: "mortise",
    id: HeadId::MadeMortise,
    help: "the lid joint's mortise, as turned; the tenon follows",
    params: &[],
    clauses: &[&DIAMETER],
    block: BlockKind::Clauses,
};

static MADE_LID: Head = Head {
    word: "lid",
    id: HeadId::MadeLid,
    help: "what was measured of the lid's stack",
    params: &[],
    clauses: &[],
    block: BlockKind::Statements(&MADE_OF_LID),
};

static MADE_HEIGHT: Head = Head {
    word: "height",
    id: HeadId::MadeHeight,
    help: "of the lid's stack, glued; layers that were not measured share the difference",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    clauses: &[],
    block: BlockKind::None,
};
