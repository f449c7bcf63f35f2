//! The words of the language as data: which heads stand where, what each takes, what it defaults to.
//!
//! Nothing here has a meaning yet. The resolver reads a line by it, the error hints pick the
//! nearest word from it, and the reference manual's tables are printed from it.

use crate::quantity::{WEEK, Weekday};

mod file;
mod insert;
mod joint;
mod layers;
mod made;
pub mod manual;
mod mount;
mod outside;
mod policy;
mod shop;
mod vessel;

pub use file::FILE;
pub use insert::{INSERT, PARTS, PLACES};
pub use layers::{LAYER_KINDS, LAYERS};
pub use made::{MADE, MADE_OF_LID};
pub use mount::MOUNT;
pub use outside::{INSIDE, OUTSIDE};
pub use policy::LEVELS;
pub use shop::{PRICED_PER, SHOP_INSIDE};
pub use vessel::{USES, VESSEL};

/// A place where statements stand.
#[derive(Debug, PartialEq, Eq)]
pub struct Context {
    /// For a sentence: "in a vessel".
    pub place: &'static str,
    /// The heads it knows.
    pub heads: &'static [&'static Head],
}

/// A word that begins a statement.
#[derive(Debug, PartialEq, Eq)]
pub struct Head {
    /// As written.
    pub word: &'static str,
    /// Which it is.
    pub id: HeadId,
    /// One line of help.
    pub help: &'static str,
    /// What must or may stand directly behind it.
    pub params: &'static [Param],
    /// What may follow in any order, on the line or in its block.
    pub clauses: &'static [&'static Clause],
    /// What its braces hold.
    pub block: BlockKind,
}

/// A word with its arguments that may follow a head, in any order.
#[derive(Debug, PartialEq, Eq)]
pub struct Clause {
    /// As written.
    pub word: &'static str,
    /// Which it is.
    pub id: ClauseId,
    /// One line of help.
    pub help: &'static str,
    /// What must stand behind it, in this order; none of it may be left out.
    pub params: &'static [Param],
    /// What happens without it.
    pub without: Without,
}

/// What happens when something is not said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Without {
    /// An error: it cannot be assumed, for this reason.
    Required(&'static str),
    /// It is assumed to be this.
    Default(&'static str),
    /// Then there is none.
    Absent,
}

/// What the braces behind a head hold.
#[derive(Debug, PartialEq, Eq)]
pub enum BlockKind {
    /// It takes no braces.
    None,
    /// Its clauses, each on a line or several on one.
    Clauses,
    /// Its clauses, and statements of another context.
    ClausesAnd(&'static Context),
    /// Lines that all are of one kind and do not begin with its word; the braces are required.
    Lines(&'static Head),
    /// Statements of another context; the braces are required.
    Statements(&'static Context),
    /// Statements of another context; the braces may be left out.
    Optional(&'static Context),
    /// Statements of the context it stands in; the braces are required.
    Same,
    /// The plies of a board, `walnut 1/4`, downmost first; the braces are required.
    Plies,
    /// The keys of a chart, `m = maple`, and its `rows { … }`; the braces are required.
    Chart,
}

impl BlockKind {
    /// Whether the statement says nothing without its braces.
    #[must_use]
    pub fn is_required(&self) -> bool {
        !matches!(self, Self::None | Self::Clauses | Self::ClausesAnd(_) | Self::Optional(_))
    }

    /// Between its braces, as the manual shows it.
    #[must_use]
    pub fn usage(&self) -> &'static str {
        match self {
            Self::None | Self::Clauses | Self::ClausesAnd(_) => "",
            Self::Lines(line) if line.id == HeadId::BoardForSale => {
                "{ WOOD thick LENGTH wide LENGTH long LENGTH price AMOUNT … }"
            }
            Self::Lines(_) => "{ WOOD thick LENGTH wide LENGTH long LENGTH … }",
            Self::Optional(_) => "[{ … }]",
            Self::Statements(_) | Self::Same => "{ … }",
            Self::Plies => "{ WOOD LENGTH … }",
            Self::Chart => "{ KEY = WOOD …  rows { KEY … } }",
        }
    }
}

/// One argument.
#[derive(Debug, PartialEq, Eq)]
pub struct Param {
    /// As the manual names it: `HEIGHT`.
    pub name: &'static str,
    /// What it must be.
    pub shape: Shape,
    /// Whether it may be left out.
    pub is_optional: bool,
}

/// What an argument must be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// A length within a bound.
    Length(Bound),
    /// Lengths in square brackets.
    Lengths,
    /// An angle.
    Angle,
    /// A whole number.
    Count,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A new name.
    Name,
    /// A text in double quotes.
    Text,
    /// The name of a wood.
    Wood,
    /// The name of a glue.
    Glue,
    /// A wood, a list of woods, or `mirror`, `rotate N` or `scatter` before one.
    Pattern,
    /// The name of a chart.
    Chart,
    /// An angle or a share of the angle from one segment to the next.
    Gap,
    /// `half`, `none`, a share of a segment or an angle.
    Stagger,
    /// `jam`, `slip`, `loose` or a length.
    Fit,
    /// `16 tpi` or a length.
    Pitch,
    /// A number without a unit.
    Number,
    /// `35%rh .. 60%rh`
    HumidityRange,
    /// `250 rpm .. 3000 rpm`
    SpeedRange,
    /// `50 .. 180`, two lengths
    Span,
    /// `9 .. 18`, on a clock of 24 hours
    HourRange,
    /// `[sat sun]`
    Days,
    /// `20 degC`
    Temperature,
    /// `8%mc`
    Moisture,
    /// The name of a finish.
    Finish,
    /// The number or the name of a layer.
    Layer,
    /// `>= 600 ml`
    Comparison,
    /// `= 3 * 4`
    Assignment,
    /// A length, or `3/8 at base .. 1/4 at rim`.
    Taper,
    /// `at` and a height.
    Place,
    /// The code of a finding or a family of codes.
    Code,
}

/// How small a length may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// Zero or more.
    NotNegative,
    /// Something that can be made: a hundredth of a millimeter or more.
    Positive,
}

/// Every head.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "each is told by the help of its entry")]
pub enum HeadId {
    Language,
    Units,
    Use,
    Let,
    Shop,
    Wood,
    Vessel,
    Outside,
    Inside,
    At,
    Bead,
    Cove,
    Foot,
    Wall,
    Floor,
    Top,
    Every,
    Body,
    Lid,
    Expect,
    Ring,
    Disc,
    Wedges,
    Staves,
    Sheet,
    Cone,
    Rings,
    Fill,
    Repeat,
    Insert,
    Into,
    TenonOf,
    PlugOf,
    Medallion,
    Liner,
    Hole,
    Shows,
    Blank,
    GlueOf,
    Mount,
    Block,
    Faceplate,
    Screws,
    Joint,
    Parted,
    Lives,
    Holds,
    FinishWith,
    Made,
    MadeRing,
    MadeDisc,
    MadeBody,
    MadeTenon,
    MadeMortise,
    MadeLid,
    MadeHeight,
    Board,
    Boards,
    BoardAtHand,
    ForSale,
    BoardForSale,
    BandClamp,
    Chart,
    Severity,
    Accept,
}

/// Every clause.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "each is told by the help of its entry")]
pub enum ClauseId {
    Diameter,
    Straight,
    Smooth,
    Round,
    Tall,
    Proud,
    Deep,
    As,
    Like,
    Segments,
    Thick,
    Stagger,
    Spacer,
    Gap,
    Plug,
    Strip,
    Allow,
    Seed,
    Apart,
    Turn,
    Rings,
    Glue,
    Name,
    Kerf,
    Sanding,
    Allowance,
    Clamps,
    SafePiece,
    Hold,
    LeastGlue,
    LeastWall,
    Bits,
    Faceplates,
    ScrewLength,
    AngleError,
    LengthError,
    Tilt,
    NarrowRip,
    Swing,
    Speeds,
    RoomTemperature,
    StockMoisture,
    Wide,
    Avoid,
    Price,
    Per,
    Jointing,
    EndTrim,
    ShortRip,
    Currency,
    Hours,
    DaysOff,
    Cauls,
    Match,
    BoardCount,
    Rough,
    At,
    Facing,
    Long,
    Square,
    On,
    Fit,
    TenonWall,
    Pitch,
    Starts,
    Turns,
    PartedAt,
    PartingKerf,
    MadeThick,
    MadeDiameter,
    MadeHeight,
    Accept,
}

impl Context {
    /// The head that is written so.
    #[must_use]
    pub fn head(&self, word: &str) -> Option<&'static Head> {
        self.heads.iter().copied().find(|head| head.word == word)
    }
}

impl Head {
    /// The clause that is written so.
    #[must_use]
    pub fn clause(&self, word: &str) -> Option<&'static Clause> {
        self.clauses.iter().copied().find(|clause| clause.word == word)
    }
}

impl Clause {
    /// Whether one line may say it several times.
    #[must_use]
    pub fn may_repeat(&self) -> bool {
        matches!(self.id, ClauseId::Accept | ClauseId::Avoid)
    }
}

impl Param {
    const fn required(name: &'static str, shape: Shape) -> Self {
        Self { name, shape, is_optional: false }
    }

    const fn optional(name: &'static str, shape: Shape) -> Self {
        Self { name, shape, is_optional: true }
    }
}

impl Shape {
    /// The words that may stand there though they name nothing.
    #[must_use]
    pub fn choices(self) -> Vec<&'static str> {
        match self {
            Self::Choice(words) => words.to_vec(),
            Self::Stagger => STAGGERS.to_vec(),
            Self::Fit => FITS.to_vec(),
            Self::Taper => [&[AT], TAPER_ENDS].concat(),
            Self::Place => vec![AT],
            Self::Days => WEEK.map(Weekday::word).to_vec(),
            Self::Pattern => PATTERN_WORDS.to_vec(),
            Self::Length(_)
            | Self::Lengths
            | Self::Angle
            | Self::Count
            | Self::Name
            | Self::Text
            | Self::Wood
            | Self::Glue
            | Self::Chart
            | Self::Gap
            | Self::Pitch
            | Self::Number
            | Self::HumidityRange
            | Self::SpeedRange
            | Self::Span
            | Self::HourRange
            | Self::Temperature
            | Self::Moisture
            | Self::Finish
            | Self::Layer
            | Self::Comparison
            | Self::Assignment
            | Self::Code => Vec::new(),
        }
    }

    /// With its article, for a sentence: "a length".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Length(_) => "a length",
            Self::Lengths => "lengths in square brackets",
            Self::Angle => "an angle",
            Self::Count => "a count",
            Self::Choice(_) => "a word",
            Self::Name => "a name",
            Self::Text => "a text in double quotes",
            Self::Wood => "a wood",
            Self::Glue => "a glue",
            Self::Pattern => "a wood or a pattern",
            Self::Chart => "the name of a chart",
            Self::Gap => "an angle or a share",
            Self::Stagger => "`half`, `none`, a share of a segment or an angle",
            Self::Fit => "`jam`, `slip`, `loose` or a play on the diameter",
            Self::Pitch => "a thread pitch, such as `16 tpi` or `1.5 mm`",
            Self::Number => "a number",
            Self::HumidityRange => "two relative humidities, such as `35%rh .. 60%rh`",
            Self::SpeedRange => "two speeds, such as `250 rpm .. 3000 rpm`",
            Self::Span => "two lengths, such as `50 mm .. 180 mm`",
            Self::HourRange => "two hours of the day, such as `9 .. 18`",
            Self::Days => "days of the week in square brackets, such as `[sat sun]`",
            Self::Temperature => "a temperature, such as `20 degC`",
            Self::Moisture => "a moisture content, such as `8%mc`",
            Self::Finish => "the name of a finish",
            Self::Layer => "the number or the name of a layer",
            Self::Comparison => "a comparison, such as `>= 600 ml`",
            Self::Assignment => "`=` and a value",
            Self::Taper => "a length, or one at the base and one at the rim",
            Self::Place => "`at` and a height",
            Self::Code => "the code of a finding or a family of codes",
        }
    }
}

/// The staggers that are words.
pub const STAGGERS: &[&str] = &["half", "none"];
/// The fits that are words.
pub const FITS: &[&str] = &["jam", "slip", "loose"];
/// The ends between which a wall tapers.
pub const TAPER_ENDS: &[&str] = &["base", "rim"];
/// Before a height, and before the end of a taper.
pub const AT: &str = "at";

/// The words within patterns, which can be no names.
pub static PATTERN_WORDS: [&str; 4] = ["mirror", "rotate", "scatter", SHARE];

/// Behind an element of a list, before the number of its share.
pub const SHARE: &str = "share";

/// Within a chart, before the braces that hold its rows.
pub const ROWS: &str = "rows";

/// Every context, outermost first.
pub static CONTEXTS: [&Context; 10] =
    [&FILE, &SHOP_INSIDE, &VESSEL, &OUTSIDE, &INSIDE, &LAYERS, &MADE, &MADE_OF_LID, &INSERT, &MOUNT];

#[cfg(test)]
mod tests {
    use super::{BlockKind, CONTEXTS, ClauseId};

    #[test]
    fn no_word_is_both_head_and_clause_of_one_line() {
        for context in CONTEXTS {
            for head in context.heads {
                for clause in head.clauses {
                    // A cone must say how many rings it has, so that its first `rings` is never the statement; in
                    // a joint `wall` is the tenon's, and the vessel's own stands on a line of its own. An `accept` is of
                    // what it stands behind; one that is of the whole block stands on a line of its own.
                    if matches!(clause.id, ClauseId::Rings | ClauseId::Accept)
                        || (head.word, clause.word) == ("joint", "wall")
                    {
                        continue;
                    }
                    let other = context.head(clause.word);
                    assert!(other.is_none(), "`{}` of `{}` also begins a statement", clause.word, head.word);
                }
            }
        }
    }

    #[test]
    fn words_are_told_once_and_with_help() {
        for context in CONTEXTS {
            let mut words: Vec<&str> = context.heads.iter().map(|head| head.word).collect();
            words.sort_unstable();
            let all = words.len();
            words.dedup();
            assert_eq!(all, words.len(), "{}", context.place);
            for head in context.heads {
                assert!(!head.help.is_empty() && !head.help.ends_with('.'), "{}", head.word);
                assert!(head.block == BlockKind::None || !head.params.iter().any(|param| param.name.is_empty()));
            }
        }
    }
}
