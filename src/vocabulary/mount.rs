//! How the work is held on the lathe, where the defaults do not suit.

use super::policy::ACCEPT;
use super::{BlockKind, Bound, Clause, ClauseId, Context, Head, HeadId, Param, Shape, Without};

/// In a mount.
pub static MOUNT: Context = Context { place: "in a mount", heads: &[&BLOCK, &FACEPLATE, &SCREWS, &ACCEPT] };

/// In a vessel.
pub(super) static MOUNT_HEAD: Head = Head {
    word: "mount",
    id: HeadId::Mount,
    help: "what holds a part on the lathe, where the sheet's own choice does not suit",
    params: &[Param::required("PART", Shape::Choice(super::insert::PARTS))],
    clauses: &[],
    block: BlockKind::Statements(&MOUNT),
};

static BLOCK: Head = Head {
    word: "block",
    id: HeadId::Block,
    help: "the waste block between faceplate and work",
    params: &[Param::optional("WOOD", Shape::Wood)],
    clauses: &[&BLOCK_THICK, &BLOCK_DIAMETER],
    block: BlockKind::Clauses,
};

static FACEPLATE: Head = Head {
    word: "faceplate",
    id: HeadId::Faceplate,
    help: "the faceplate",
    params: &[Param::required("DIAMETER", Shape::Length(Bound::Positive))],
    clauses: &[&PLATE_THICK],
    block: BlockKind::None,
};

static SCREWS: Head = Head {
    word: "screws",
    id: HeadId::Screws,
    help: "length of the screws, under their heads",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    clauses: &[],
    block: BlockKind::None,
};

static BLOCK_THICK: Clause = Clause {
    word: "thick",
    id: ClauseId::Thick,
    help: "of the block",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Default("what screws and tools need, at least 20 mm"),
};

static BLOCK_DIAMETER: Clause = Clause {
    word: "diameter",
    id: ClauseId::Diameter,
    help: "across the block, as sawn",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Default("15 mm wider than what it is glued to, at least 75 mm"),
};

static PLATE_THICK: Clause = Clause {
    word: "thick",
    id: ClauseId::Thick,
    help: "of the faceplate where its screws go through",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Default("6 mm"),
};
