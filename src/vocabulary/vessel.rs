//! What stands in a vessel.

use super::file::{BOARD, CHART, LET};
use super::insert::INSERT_HEAD;
use super::joint::{JOINT, LIVES, PARTED};
use super::layers::{EVERY, LAYERS};
use super::made::MADE_HEAD;
use super::mount::MOUNT_HEAD;
use super::outside::{INSIDE_HEAD, OUTSIDE_HEAD, WALL};
use super::policy::{ACCEPT, ACCEPT_HERE, SEVERITY};
use super::{BlockKind, Bound, Context, Head, HeadId, Param, Shape};

/// In a vessel.
pub static VESSEL: Context = Context {
    place: "in a vessel",
    heads: &[
        &OUTSIDE_HEAD,
        &WALL,
        &INSIDE_HEAD,
        &FLOOR,
        &TOP,
        &EVERY,
        &LET,
        &BOARD,
        &CHART,
        &BODY,
        &LID,
        &PARTED,
        &JOINT,
        &LIVES,
        &HOLDS,
        &FINISH,
        &MADE_HEAD,
        &INSERT_HEAD,
        &MOUNT_HEAD,
        &EXPECT,
        &SEVERITY,
        &ACCEPT,
    ],
};

static FLOOR: Head = Head {
    word: "floor",
    id: HeadId::Floor,
    help: "thickness under the cavity; as the wall, or where the `inside` begins, when not said",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    clauses: &[&ACCEPT_HERE],
    block: BlockKind::None,
};

static TOP: Head = Head {
    word: "top",
    id: HeadId::Top,
    help: "thickness over the cavity of a lidded vessel; as the floor when not said",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    clauses: &[&ACCEPT_HERE],
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
    help: "the layers of the lid, upward; a vessel without it is open, unless it is `parted`",
    params: &[],
    clauses: &[],
    block: BlockKind::Statements(&LAYERS),
};

/// What a vessel can be for.
pub const USES: &[&str] = &["display", "dry-goods", "dry-food", "food", "drink", "water"];

static HOLDS: Head = Head {
    word: "holds",
    id: HeadId::Holds,
    help: "what it is for: looks alone, dry things, dry food, food that is washed off, drink, or water for flowers",
    params: &[Param::required("USE", Shape::Choice(USES))],
    clauses: &[&ACCEPT_HERE],
    block: BlockKind::None,
};

static FINISH: Head = Head {
    word: "finish",
    id: HeadId::FinishWith,
    help: "what goes on the finished piece, inside and out",
    params: &[Param::required("FINISH", Shape::Finish)],
    clauses: &[&ACCEPT_HERE],
    block: BlockKind::None,
};

static EXPECT: Head = Head {
    word: "expect",
    id: HeadId::Expect,
    help: "a promise of the design that is checked each time",
    params: &[
        Param::required(
            "SUBJECT",
            Shape::Choice(&["capacity", "mass", "height", "diameter", "pieces", "board-feet", "cost", "days"]),
        ),
        Param::required("COMPARISON", Shape::Comparison),
    ],
    clauses: &[],
    block: BlockKind::None,
};
