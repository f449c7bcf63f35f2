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
        &JOINTING,
        &END_TRIM,
        &SHORT_RIP,
        &CURRENCY,
        &HOURS,
        &DAYS_OFF,
        &CAULS,
    ],
    block: BlockKind::ClausesAnd(&SHOP_INSIDE),
};

/// What stands in a shop with braces of its own.
pub static SHOP_INSIDE: Context = Context { place: "in a shop", heads: &[&BOARDS, &FOR_SALE, &BAND] };

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
    clauses: &[
        &BOARD_THICK,
        &BOARD_WIDE,
        &BOARD_LONG,
        &BOARD_COUNT,
        &BOARD_ROUGH,
        &BOARD_AVOID,
        &BOARD_PRICE,
        &BOARD_PER,
    ],
    block: BlockKind::None,
};

static FOR_SALE: Head = Head {
    word: "for-sale",
    id: HeadId::ForSale,
    help: "the boards that can be bought, one kind on a line, each with its price; the cheapest load is planned",
    params: &[],
    clauses: &[],
    block: BlockKind::Lines(&BOARD_FOR_SALE),
};

/// A line of `for-sale`; what it begins with is the wood itself.
pub(super) static BOARD_FOR_SALE: Head = Head {
    word: "for-sale",
    id: HeadId::BoardForSale,
    help: "a board that can be bought",
    params: &[Param::required("WOOD", Shape::Wood)],
    clauses: &[
        &BOARD_THICK,
        &BOARD_WIDE,
        &BOARD_LONG,
        &SALE_PRICE,
        &BOARD_PER,
        &SALE_COUNT,
        &BOARD_ROUGH,
        &BOARD_AVOID,
    ],
    block: BlockKind::None,
};

static BAND: Head = Head {
    word: "band",
    id: HeadId::BandClamp,
    help: "a band clamp and the rounds that it holds; rings are glued in bands then, and `clamps` hold the rest",
    params: &[Param::required("FROM .. TO", Shape::Span)],
    clauses: &[&BAND_COUNT],
    block: BlockKind::None,
};

static BAND_COUNT: Clause = Clause {
    word: "count",
    id: ClauseId::BoardCount,
    help: "how many such clamps there are",
    params: &[Param::required("N", Shape::Count)],
    without: Without::Default("1"),
};

static SALE_COUNT: Clause = Clause {
    word: "count",
    id: ClauseId::BoardCount,
    help: "how many such boards are to be had",
    params: &[Param::required("N", Shape::Count)],
    without: Without::Default("as many as are wanted"),
};

static BOARD_AVOID: Clause = Clause {
    word: "avoid",
    id: ClauseId::Avoid,
    help: "a stretch along the board that no piece shall touch (a knot, a check), from its start; as often as there are some",
    params: &[Param::required("FROM .. TO", Shape::Span)],
    without: Without::Absent,
};

static BOARD_PRICE: Clause = Clause {
    word: "price",
    id: ClauseId::Price,
    help: "what the board cost",
    params: &[Param::required("AMOUNT", Shape::Number)],
    without: Without::Absent,
};

static SALE_PRICE: Clause = Clause {
    word: "price",
    id: ClauseId::Price,
    help: "what the board costs",
    params: &[Param::required("AMOUNT", Shape::Number)],
    without: Without::Required("the cheapest load is looked for"),
};

static BOARD_PER: Clause = Clause {
    word: "per",
    id: ClauseId::Per,
    help: "for how much wood, as it lies there, the price is",
    params: &[Param::required("WHAT", Shape::Choice(PRICED_PER))],
    without: Without::Default("piece"),
};

/// What a price may be for.
pub static PRICED_PER: &[&str] = &["piece", "board-foot", "liter"];

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

static JOINTING: Clause = Clause {
    word: "jointing",
    id: ClauseId::Jointing,
    help: "planed off each edge of a rough board before it is ripped",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("3 mm"),
};

static END_TRIM: Clause = Clause {
    word: "end-trim",
    id: ClauseId::EndTrim,
    help: "sawn off each end of a rough board, where it is often checked",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("25 mm"),
};

static SHORT_RIP: Clause = Clause {
    word: "short-rip",
    id: ClauseId::ShortRip,
    help: "shortest board that your saw rips safely along its fence",
    params: &[Param::required("LENGTH", Shape::Length(Bound::NotNegative))],
    without: Without::Default("300 mm"),
};

static CURRENCY: Clause = Clause {
    word: "currency",
    id: ClauseId::Currency,
    help: "what stands behind amounts of money",
    params: &[Param::required("TEXT", Shape::Text)],
    without: Without::Absent,
};

static HOURS: Clause = Clause {
    word: "hours",
    id: ClauseId::Hours,
    help: "when work is done on a day of work, on a clock of 24 hours",
    params: &[Param::required("FROM .. TO", Shape::HourRange)],
    without: Without::Default("9 .. 18"),
};

static DAYS_OFF: Clause = Clause {
    word: "days-off",
    id: ClauseId::DaysOff,
    help: "days of the week without work",
    params: &[Param::required("[DAY …]", Shape::Days)],
    without: Without::Absent,
};

static CAULS: Clause = Clause {
    word: "cauls",
    id: ClauseId::Cauls,
    help: "how many flat glue-ups (faces, boards) can be under cauls or in a press at once",
    params: &[Param::required("N", Shape::Count)],
    without: Without::Default("`clamps` hold those too"),
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
