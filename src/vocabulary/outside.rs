//! What gives a vessel its outlines: the outside, the wall, the inside.

use super::file::LET;
use super::layers::REPEAT;
use super::policy::{ACCEPT, ACCEPT_HERE};
use super::{BlockKind, Bound, Clause, ClauseId, Context, Head, HeadId, Param, Shape, Without};

/// In an outside.
pub static OUTSIDE: Context =
    Context { place: "in an outside", heads: &[&AT, &BEAD, &COVE, &FOOT, &LET, &REPEAT, &ACCEPT] };

/// In an inside.
pub static INSIDE: Context = Context { place: "in an inside", heads: &[&AT, &LET, &REPEAT, &ACCEPT] };

const KINDS: &[&str] = &["straight", "smooth", "path"];

pub(super) static OUTSIDE_HEAD: Head = Head {
    word: "outside",
    id: HeadId::Outside,
    help: "the outside shape, from the bench upward: points, `straight` when not said, or a `path \"M …\"` of SVG path data \
           with x for the radius and y for the height; behind a path the braces may hold details alone",
    params: &[Param::optional("KIND", Shape::Choice(KINDS)), Param::optional("PATH", Shape::Text)],
    clauses: &[&ACCEPT_HERE],
    block: BlockKind::Optional(&OUTSIDE),
};

pub(super) static INSIDE_HEAD: Head = Head {
    word: "inside",
    id: HeadId::Inside,
    help: "an inside curve of its own, from the floor upward, in place of `wall`; written as `outside` is",
    params: &[Param::optional("KIND", Shape::Choice(KINDS)), Param::optional("PATH", Shape::Text)],
    clauses: &[&ACCEPT_HERE],
    block: BlockKind::Optional(&INSIDE),
};

pub(super) static WALL: Head = Head {
    word: "wall",
    id: HeadId::Wall,
    help: "thickness of the wall, square to the outside surface; `wall T at base .. T at rim` tapers",
    params: &[Param::required("LENGTH", Shape::Taper)],
    clauses: &[&ACCEPT_HERE],
    block: BlockKind::None,
};

static AT: Head = Head {
    word: "at",
    id: HeadId::At,
    help: "one point of the curve; two points at one height make a step",
    params: &[Param::required("HEIGHT", Shape::Length(Bound::NotNegative))],
    clauses: &[&DIAMETER, &STRAIGHT, &SMOOTH, &ROUND],
    block: BlockKind::None,
};

static DIAMETER: Clause = Clause {
    word: "diameter",
    id: ClauseId::Diameter,
    help: "across the finished vessel at that height",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Required("a point is a height and a diameter"),
};

static STRAIGHT: Clause = Clause {
    word: "straight",
    id: ClauseId::Straight,
    help: "the span from the point below is a straight line",
    params: &[],
    without: Without::Default("as the kind of the whole"),
};

static SMOOTH: Clause = Clause {
    word: "smooth",
    id: ClauseId::Smooth,
    help: "the span from the point below is smooth, and goes on smoothly into smooth neighbors",
    params: &[],
    without: Without::Default("as the kind of the whole"),
};

static ROUND: Clause = Clause {
    word: "round",
    id: ClauseId::Round,
    help: "radius of the fillet that rounds the corner between the two straight spans",
    params: &[Param::required("RADIUS", Shape::Length(Bound::Positive))],
    without: Without::Absent,
};

static BEAD: Head = Head {
    word: "bead",
    id: HeadId::Bead,
    help: "a rounded molding on a straight run, its middle at that height",
    params: &[Param::required("at HEIGHT", Shape::Place)],
    clauses: &[&TALL, &PROUD],
    block: BlockKind::None,
};

static COVE: Head = Head {
    word: "cove",
    id: HeadId::Cove,
    help: "a hollow molding on a straight run, its middle at that height",
    params: &[Param::required("at HEIGHT", Shape::Place)],
    clauses: &[&TALL, &DEEP],
    block: BlockKind::None,
};

static FOOT: Head = Head {
    word: "foot",
    id: HeadId::Foot,
    help: "a foot under the base: upright, with a level step to the outside over it",
    params: &[],
    clauses: &[&FOOT_DIAMETER, &TALL],
    block: BlockKind::None,
};

static FOOT_DIAMETER: Clause = Clause {
    word: "diameter",
    id: ClauseId::Diameter,
    help: "across the foot",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Required("a foot is as wide as somebody says"),
};

static TALL: Clause = Clause {
    word: "tall",
    id: ClauseId::Tall,
    help: "from its lower end to its upper",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Required("no height can be assumed"),
};

static PROUD: Clause = Clause {
    word: "proud",
    id: ClauseId::Proud,
    help: "how far the bead stands out, square to the run",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Default("as round as can be: half of `tall` on an upright run"),
};

static DEEP: Clause = Clause {
    word: "deep",
    id: ClauseId::Deep,
    help: "how far the cove goes in, square to the run",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Default("as round as can be: half of `tall` on an upright run"),
};
