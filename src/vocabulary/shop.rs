//! What the bench has.

use super::layers::GLUE;
use super::{BlockKind, Bound, Clause, ClauseId, Context, Head, HeadId, Param, Shape, Without};

/// The shop.
pub(super) static SHOP: Head = Head {
    word: "shop",
    id: HeadId::Shop,
    help: "what the bench has and how it works; the recipe's own settings win over those of a used file",
    params: &[],
    clauses: &[
        &KERF,
        &SANDING,
        &ALLOWANCE,
        &GLUE,
        &CLAMPS,
        &SAFE_PIECE,
        &HOLD,
        &LEAST_GLUE,
        &LEAST_WALL,
        &BITS,
        &FACEPLATES,
        &SCREW_LENGTH,
        &ANGLE_ERROR,
        &LENGTH_ERROR,
        &TILT,
        &NARROW_RIP,
        &SWING,
        &SPEEDS,
        &TEMPERATURE,
        &MOISTURE,
    ],
    block: BlockKind::ClausesAnd(&SHOP_INSIDE),
};

/// What stands in a shop with braces of its own.
pub static SHOP_INSIDE: Context = Context { place: "in a shop", heads: &[&BOARDS] };

static BOARDS: Head = Head {
    word: "boards",
    id: HeadId::Boards,
    help: "the boards at hand, one on a line; a wood of which none is named is not looked for",
    params: &[],
    clauses: &[],
    block: BlockKind::Lines(&BOARD_AT_HAND),
};

/// A line of `boards`; what it begins with is the wood itself.
pub(super) static BOARD_AT_HAND: Head = Head {
    word: "boards",
    id: HeadId::BoardAtHand,
    help: "a board at hand",
    params: &[Param::required("WOOD", Shape::Wood)],
    clauses: &[&BOARD_THICK, &BOARD_WIDE, &BOARD_LONG, &BOARD_COUNT, &BOARD_ROUGH],
    block: BlockKind::None,
};

static BOARD_THICK: Clause = Clause {
    word: "thick",
    id: ClauseId::Thick,
    help: "of the board, as it lies there",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Required("a board is asked whether it is thick enough"),
};

static BOARD_WIDE: Clause = Clause {
    word: "wide",
    id: ClauseId::Wide,
    help: "across its grain",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Required("a board is asked whether it is wide enough"),
};

static BOARD_LONG: Clause = Clause {
    word: "long",
    id: ClauseId::Long,
    help: "along its grain",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Required("a board is asked whether it is long enough"),
};

static BOARD_COUNT: Clause = Clause {
    word: "count",
    id: ClauseId::BoardCount,
    help: "how many such boards there are",
    params: &[Param::required("N", Shape::Count)],
    without: Without::Default("1"),
};

static BOARD_ROUGH: Clause = Clause {
    word: "rough",
    id: ClauseId::Rough,
    help: "as it comes from the sawmill: planing takes 1/16 in, 1.6 mm, off each face",
    params: &[],
    without: Without::Default("planed already"),
};

static KERF: Clause = Clause {
    word: "kerf",
    id: ClauseId::Kerf,
    help: "width of the saw's cut",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("1/8 in"),
};

static SANDING: Clause = Clause {
    word: "sanding",
    id: ClauseId::Sanding,
    help: "wood lost to flattening, on each face of a ring",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("0.4 mm"),
};

static ALLOWANCE: Clause = Clause {
    word: "allowance",
    id: ClauseId::Allowance,
    help: "wood left for turning on each side, on the radius",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("3 mm"),
};

static CLAMPS: Clause = Clause {
    word: "clamps",
    id: ClauseId::Clamps,
    help: "how many glue-ups can be in clamps at once",
    params: &[Param::required("N", Shape::Count)],
    without: Without::Default("2"),
};

static SAFE_PIECE: Clause = Clause {
    word: "safe-piece",
    id: ClauseId::SafePiece,
    help: "shortest long edge that your saw cuts safely",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("20 mm"),
};

static HOLD: Clause = Clause {
    word: "hold",
    id: ClauseId::Hold,
    help: "tail of every strip that stays under the clamp",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("150 mm"),
};

static LEAST_GLUE: Clause = Clause {
    word: "least-glue",
    id: ClauseId::LeastGlue,
    help: "least width of the glue face between two layers",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("6 mm"),
};

static LEAST_WALL: Clause = Clause {
    word: "least-wall",
    id: ClauseId::LeastWall,
    help: "least wall that this bench turns",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("3 mm"),
};

static BITS: Clause = Clause {
    word: "bits",
    id: ClauseId::Bits,
    help: "the bits that holes for inserts can be drilled with",
    params: &[Param::required("[LENGTH …]", Shape::Lengths)],
    without: Without::Default("every brad-point and Forstner bit that is sold in the recipe's units"),
};

static FACEPLATES: Clause = Clause {
    word: "faceplates",
    id: ClauseId::Faceplates,
    help: "across each faceplate that is there",
    params: &[Param::required("[LENGTH …]", Shape::Lengths)],
    without: Without::Default("50, 75, 100 and 150 mm"),
};

static SCREW_LENGTH: Clause = Clause {
    word: "screws",
    id: ClauseId::ScrewLength,
    help: "of the screws that hold a faceplate, under their heads",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Default("20 mm"),
};

static ANGLE_ERROR: Clause = Clause {
    word: "angle-error",
    id: ClauseId::AngleError,
    help: "how far a miter may be off at each cut; measure it on a test ring",
    params: &[Param::required("ANGLE", Shape::Angle)],
    without: Without::Default("0.1°"),
};

static LENGTH_ERROR: Clause = Clause {
    word: "length-error",
    id: ClauseId::LengthError,
    help: "how far long edges cut at one stop differ",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("0.1 mm"),
};

static TILT: Clause = Clause {
    word: "tilt",
    id: ClauseId::Tilt,
    help: "how far the blade of the saw tilts",
    params: &[Param::required("ANGLE", Shape::Angle)],
    without: Without::Default("45°"),
};

static NARROW_RIP: Clause = Clause {
    word: "narrow-rip",
    id: ClauseId::NarrowRip,
    help: "narrowest strip that is ripped between fence and blade without a jig",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("6 mm"),
};

static SWING: Clause = Clause {
    word: "swing",
    id: ClauseId::Swing,
    help: "greatest diameter that the lathe takes over its bed",
    params: &[Param::required("LENGTH", Shape::Length(Bound::Positive))],
    without: Without::Absent,
};

static SPEEDS: Clause = Clause {
    word: "speeds",
    id: ClauseId::Speeds,
    help: "slowest and fastest that the lathe turns",
    params: &[Param::required("SLOW .. FAST", Shape::SpeedRange)],
    without: Without::Absent,
};

static TEMPERATURE: Clause = Clause {
    word: "temperature",
    id: ClauseId::RoomTemperature,
    help: "of wood and glue while gluing",
    params: &[Param::required("TEMPERATURE", Shape::Temperature)],
    without: Without::Default("20 °C"),
};

static MOISTURE: Clause = Clause {
    word: "moisture",
    id: ClauseId::StockMoisture,
    help: "of the wood when it is glued and turned, as the meter reads it",
    params: &[Param::required("MOISTURE", Shape::Moisture)],
    without: Without::Default("what wood comes to at the middle of where the vessel `lives`"),
};
