//! What stands in a body or a lid.

use super::file::LET;
use super::policy::{ACCEPT, ACCEPT_HERE};
use super::{BlockKind, Bound, Clause, ClauseId, Context, Head, HeadId, Param, Shape, Without};

/// In a body or a lid.
pub static LAYERS: Context = Context {
    place: "among layers",
    heads: &[&RING, &DISC, &WEDGES, &STAVES, &SHEET, &CONE, &RINGS, &FILL, &REPEAT, &EVERY, &LET, &ACCEPT],
};

/// The kinds of layer that `every` knows, by the heads that make them.
pub static LAYER_KINDS: [&str; 6] = ["ring", "disc", "wedges", "staves", "sheet", "cone"];

static RING: Head = Head {
    word: "ring",
    id: HeadId::Ring,
    help: "segments mitered and glued edge to edge, grain round the ring",
    params: &[Param::optional("N", Shape::Count), Param::required("PATTERN", Shape::Pattern)],
    clauses: &[
        &SEGMENTS,
        &THICK,
        &STAGGER,
        &SPACER,
        &GAP,
        &STRIP,
        &MATCH,
        &ALLOW,
        &SEED,
        &APART,
        &GLUE,
        &NAME,
        &ACCEPT_HERE,
    ],
    block: BlockKind::Clauses,
};

static DISC: Head = Head {
    word: "disc",
    id: HeadId::Disc,
    help: "one solid round, grain across",
    params: &[Param::required("WOOD", Shape::Wood)],
    clauses: &[&THICK, &ALLOW, &GLUE, &NAME, &ACCEPT_HERE],
    block: BlockKind::Clauses,
};

static WEDGES: Head = Head {
    word: "wedges",
    id: HeadId::Wedges,
    help: "a solid round of segments that meet in the middle",
    params: &[Param::optional("N", Shape::Count), Param::required("PATTERN", Shape::Pattern)],
    clauses: &[&SEGMENTS, &THICK, &PLUG, &STAGGER, &STRIP, &MATCH, &ALLOW, &SEED, &APART, &GLUE, &NAME, &ACCEPT_HERE],
    block: BlockKind::Clauses,
};

static STAVES: Head = Head {
    word: "staves",
    id: HeadId::Staves,
    help: "segments on end, grain upward, leaning as the shape does",
    params: &[Param::optional("N", Shape::Count), Param::required("PATTERN", Shape::Pattern)],
    clauses: &[&SEGMENTS, &TALL, &STAGGER, &SPACER, &GAP, &STRIP, &ALLOW, &SEED, &APART, &GLUE, &NAME, &ACCEPT_HERE],
    block: BlockKind::Clauses,
};

static SHEET: Head = Head {
    word: "sheet",
    id: HeadId::Sheet,
    help: "a thin layer between others, such as veneer, used as it comes",
    params: &[Param::required("WOOD", Shape::Wood)],
    clauses: &[&THICK, &ALLOW, &GLUE, &NAME, &ACCEPT_HERE],
    block: BlockKind::Clauses,
};

static CONE: Head = Head {
    word: "cone",
    id: HeadId::Cone,
    help: "rings sawn at a slant from one flat board and stacked, one layer each",
    params: &[Param::required("WOOD", Shape::Wood)],
    clauses: &[&THICK, &RINGS_OF_CONE, &ALLOW, &GLUE, &NAME, &ACCEPT_HERE],
    block: BlockKind::Clauses,
};

static RINGS: Head = Head {
    word: "rings",
    id: HeadId::Rings,
    help: "one ring for each row of a chart, lowest row first; each is a `ring` and takes what `every ring` says",
    params: &[Param::optional("N", Shape::Count), Param::required("CHART", Shape::Chart)],
    clauses: &[&SEGMENTS, &THICK, &TURN, &STAGGER, &SPACER, &GAP, &STRIP, &MATCH, &ALLOW, &GLUE, &NAME, &ACCEPT_HERE],
    block: BlockKind::Clauses,
};

static FILL: Head = Head {
    word: "fill",
    id: HeadId::Fill,
    help: "its layers over and over up to a height of the vessel, all made equally thinner so that the last ends there",
    params: &[Param::required("to", Shape::Choice(&["to"])), Param::required("HEIGHT", Shape::Length(Bound::Positive))],
    clauses: &[],
    block: BlockKind::Same,
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
    params: &[Param::required("NAME", Shape::Name)],
    without: Without::Absent,
};

/// Also in a vessel.
pub(super) static EVERY: Head = Head {
    word: "every",
    id: HeadId::Every,
    help: "what holds for every following layer of that kind in its block that does not say otherwise",
    params: &[Param::required("LAYER", Shape::Choice(&LAYER_KINDS))],
    clauses: &[&SEGMENTS, &THICK, &TALL, &STAGGER, &SPACER, &GAP, &STRIP, &MATCH, &ALLOW, &GLUE],
    block: BlockKind::Clauses,
};

static SEGMENTS: Clause = Clause {
    word: "segments",
    id: ClauseId::Segments,
    help: "how many segments the ring has",
    params: &[Param::required("N", Shape::Count)],
    without: Without::Default("12"),
};

static THICK: Clause = Clause {
    word: "thick",
    id: ClauseId::Thick,
    help: "finished thickness of the layer, which is its height in the vessel",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Required("the stack's height is made of the layers' thicknesses"),
};

static TALL: Clause = Clause {
    word: "tall",
    id: ClauseId::Tall,
    help: "finished length of the staves, which is their height in the vessel",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Required("the stack's height is made of the layers' heights"),
};

static STAGGER: Clause = Clause {
    word: "stagger",
    id: ClauseId::Stagger,
    help: "how the ring is turned against the ring below",
    params: &[Param::required("STAGGER", Shape::Stagger)],
    without: Without::Default("half: joints as far from those below as the counts allow"),
};

static SPACER: Clause = Clause {
    word: "spacer",
    id: ClauseId::Spacer,
    help: "a strip of plain wood, of that thickness, in every joint; it ends what an `every` says of gaps",
    params: &[Param::required("WOOD", Shape::Wood), Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Absent,
};

static GAP: Clause = Clause {
    word: "gap",
    id: ClauseId::Gap,
    help: "open joints: how much of the angle from one segment to the next is left out; it ends what an `every` says \
           of spacers",
    params: &[Param::required("GAP", Shape::Gap)],
    without: Without::Absent,
};

static PLUG: Clause = Clause {
    word: "plug",
    id: ClauseId::Plug,
    help: "a round of that diameter let in where the points meet",
    params: &[Param::required("WOOD", Shape::Wood), Param::required("DIAMETER", Shape::Length(Bound::Positive))],
    without: Without::Absent,
};

static SEED: Clause = Clause {
    word: "seed",
    id: ClauseId::Seed,
    help: "of a `scatter`: another number gives another ring, the same number always the same",
    params: &[Param::required("N", Shape::Count)],
    without: Without::Default("1"),
};

static APART: Clause = Clause {
    word: "apart",
    id: ClauseId::Apart,
    help: "of a `scatter`: keeps segments of one wood from touching, as far as their counts allow",
    params: &[],
    without: Without::Default("they fall as they fall"),
};

static TURN: Clause = Clause {
    word: "turn",
    id: ClauseId::Turn,
    help: "by how many segments each row is turned against the row below; makes a spiral",
    params: &[Param::required("N", Shape::Count)],
    without: Without::Default("0"),
};

static RINGS_OF_CONE: Clause = Clause {
    word: "rings",
    id: ClauseId::Rings,
    help: "how many rings the board gives, each a layer of its own",
    params: &[Param::required("N", Shape::Count)],
    without: Without::Required("the angle of the cuts follows from it"),
};

static STRIP: Clause = Clause {
    word: "strip",
    id: ClauseId::Strip,
    help: "width of a strip that is there already: checked, not computed",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Default("the width that wall and allowance need"),
};

static MATCH: Clause = Clause {
    word: "match",
    id: ClauseId::Match,
    help: "all segments of a wood come from one strip, in the order of cutting, so that the grain runs on round the ring",
    params: &[],
    without: Without::Absent,
};

static ALLOW: Clause = Clause {
    word: "allow",
    id: ClauseId::Allow,
    help: "wood left for turning on each side, on the radius",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("the shop's `allowance`"),
};

/// Also in a shop.
pub(super) static GLUE: Clause = Clause {
    word: "glue",
    id: ClauseId::Glue,
    help: "which glue",
    params: &[Param::required("GLUE", Shape::Glue)],
    without: Without::Default("the shop's, and `pva-d2` when the shop says nothing"),
};

static NAME: Clause = Clause {
    word: "name",
    id: ClauseId::Name,
    help: "what the layer is called in the documents",
    params: &[Param::required("NAME", Shape::Name)],
    without: Without::Default("its kind and its number in the stack"),
};
