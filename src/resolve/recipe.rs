//! A resolved recipe: every name bound, every value with a dimension, a place and an origin.

use crate::finding::Edit;
use crate::quantity::{
    Angle, Count, Diameter, Hours, Length, MoistureContent, Money, Ratio, Speed, System, Temperature, Weekday,
};
use crate::source::{FileId, Span, Spanned};
use crate::syntax::Comparator;
use crate::tables::{Finish, Glue, Wood};
use crate::workings::{Known, Origin};

use super::fittings::Fittings;

/// A vessel as its recipe says it. Every value that the geometry needs is here; where the text
/// gave none and none can be assumed, there is no `Recipe` at all, only findings.
#[derive(Debug, Clone)]
pub struct Recipe {
    /// The file that holds the `vessel` statement.
    pub file: FileId,
    /// The system of that file.
    pub units: System,
    /// The vessel's name.
    pub name: Spanned<String>,
    /// The outside shape.
    pub outside: Outside,
    /// Wall thickness, square to the outside; at the base, if it tapers. Where the inside is written
    /// outright, the least that it has to leave.
    pub wall: Known<Length>,
    /// Wall thickness at the rim, if it tapers: linear in the height between.
    pub wall_rim: Option<Known<Length>>,
    /// The inside, if it is written outright; its first point stands on the floor.
    pub inside: Option<Outside>,
    /// Thickness under the cavity.
    pub floor: Known<Length>,
    /// Thickness over the cavity; only a lidded vessel has it.
    pub top: Option<Known<Length>>,
    /// Body, then lid if there is one.
    pub parts: Vec<Part>,
    /// The bench.
    pub shop: Shop,
    /// The woods used, in the order of their first use; patterns name them by index.
    pub woods: Vec<RecipeWood>,
    /// The glues used; layers name them by index.
    pub glues: Vec<RecipeGlue>,
    /// How the lid sits on the body, and what else is fitted and held.
    pub fittings: Fittings,
    /// What it is for, if it is said.
    pub holds: Option<Known<Use>>,
    /// What goes on it, if it is said.
    pub finish: Option<Known<&'static Finish>>,
    /// What the design promises.
    pub expects: Vec<Expectation>,
    /// Whether layers are left out because they could not be read: then the stack's height, the
    /// totals and the promises say nothing.
    pub is_partial: bool,
}

/// The outside, bench upward; or an inside that is written the same way.
#[derive(Debug, Clone)]
pub struct Outside {
    /// How points are joined that do not say otherwise.
    pub kind: OutsideKind,
    /// At least two, heights never falling, the first of an outside at 0; none when there is a path.
    pub points: Vec<OutsidePoint>,
    /// The curve as path data.
    pub path: Option<OutsidePath>,
    /// Beads and coves, in the order written.
    pub details: Vec<Detail>,
    /// A foot under the base.
    pub foot: Option<Foot>,
    /// The head and its kind.
    pub span: Span,
}

/// Path data of the W3C SVG standard, not read yet: x is the radius, y the height.
#[derive(Debug, Clone)]
pub struct OutsidePath {
    /// As written between the quotes.
    pub text: Spanned<String>,
    /// What its numbers are.
    pub units: System,
}

/// How points are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutsideKind {
    /// By straight lines.
    Straight,
    /// By a shape-preserving cubic that never overshoots between points.
    Smooth,
}

/// One point of an outline.
#[derive(Debug, Clone, Copy)]
pub struct OutsidePoint {
    /// Above the bench.
    pub height: Known<Length>,
    /// Across the vessel there.
    pub diameter: Known<Diameter>,
    /// How it is joined to the point below it.
    pub kind: OutsideKind,
    /// Radius of the fillet there.
    pub round: Option<Known<Length>>,
    /// The `at` statement.
    pub span: Span,
}

/// A molding on a straight run.
#[derive(Debug, Clone, Copy)]
pub struct Detail {
    /// Which.
    pub kind: DetailKind,
    /// Height of its middle above the bench.
    pub middle: Known<Length>,
    /// From its lower to its upper edge, upright.
    pub tall: Known<Length>,
    /// How far it stands out or goes in, square to the run; `None`: as round as can be.
    pub depth: Option<Known<Length>>,
    /// The statement.
    pub span: Span,
}

/// The kinds of molding.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DetailKind {
    /// Standing out.
    Bead,
    /// Going in.
    Cove,
}

impl DetailKind {
    /// As written in recipes.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Bead => "bead",
            Self::Cove => "cove",
        }
    }

    /// The clause that says how far it stands out or goes in.
    #[must_use]
    pub fn depth_word(self) -> &'static str {
        match self {
            Self::Bead => "proud",
            Self::Cove => "deep",
        }
    }
}

/// A foot under the base.
#[derive(Debug, Clone, Copy)]
pub struct Foot {
    /// Across.
    pub diameter: Known<Diameter>,
    /// From the bench to the step.
    pub tall: Known<Length>,
    /// The statement.
    pub span: Span,
}

/// What the recipe says of the wall.
#[derive(Debug, Clone, Copy)]
pub(super) struct WallSpec {
    /// All over, or at the base.
    pub(super) base: Known<Length>,
    /// At the rim, if it tapers.
    pub(super) rim: Option<Known<Length>>,
}

impl WallSpec {
    /// Of a vessel whose inside is written outright.
    pub(super) fn left_by_inside(shop: &Shop) -> Self {
        let origin = Origin::Default(&"an inside of its own has to leave the shop's least wall or more");
        Self { base: Known::new(shop.least_wall.value, origin), rim: None }
    }
}

/// Which stack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartKind {
    /// The lower part, or the whole of an open vessel.
    Body,
    /// The upper part.
    Lid,
}

impl PartKind {
    /// As written in recipes and documents.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Body => "body",
            Self::Lid => "lid",
        }
    }
}

/// One stack of layers.
#[derive(Debug, Clone)]
pub struct Part {
    /// Which.
    pub kind: PartKind,
    /// Its head word.
    pub span: Span,
    /// Bench upward; never empty.
    pub layers: Vec<Layer>,
}

/// One glued layer as the recipe says it.
#[derive(Debug, Clone)]
pub struct Layer {
    /// What it is made of.
    pub kind: LayerKind,
    /// Finished thickness.
    pub thick: Known<Length>,
    /// Turning allowance on each side, on the radius.
    pub allow: Known<Length>,
    /// Index into [`Recipe::glues`].
    pub glue: Known<usize>,
    /// The name given to it.
    pub name: Option<Spanned<String>>,
    /// The statement.
    pub span: Span,
    /// Its head word.
    pub head: Span,
    /// Where its statement can be made to say more.
    pub line: LayerLine,
}

/// Places of a layer's statement that edits need.
#[derive(Debug, Clone, Copy)]
pub struct LayerLine {
    /// Just behind its last argument or clause, where another clause can stand.
    pub tail: Span,
    /// The count of segments, where it stands right behind the head, without its word.
    pub count: Option<Span>,
}

impl Layer {
    /// The edit by which `clause`, a word with its value, holds for this layer: in the place of what
    /// was `said` of it here or in an `every`, or at the end of its statement. None for what was
    /// measured or computed.
    #[must_use]
    pub fn say(&self, said: Option<Origin>, clause: &str) -> Option<Edit> {
        match said {
            Some(Origin::Written(span) | Origin::Every(span)) => Some(Edit { span, text: clause.to_owned() }),
            Some(Origin::Default(_) | Origin::Shop(_) | Origin::Table(_)) | None => {
                Some(Edit { span: self.line.tail, text: format!(" {clause}") })
            }
            Some(Origin::Made(_) | Origin::Figure(_)) => None,
        }
    }

    /// The edit by which its ring has so many segments.
    #[must_use]
    pub fn say_segments(&self, said: Origin, segments: u32) -> Option<Edit> {
        match self.line.count {
            Some(span) if said == Origin::Written(span) => Some(Edit { span, text: segments.to_string() }),
            Some(_) | None => self.say(Some(said), &format!("segments {segments}")),
        }
    }
}

/// The kinds of layer.
#[derive(Debug, Clone)]
#[allow(clippy::large_enum_variant, reason = "nearly every layer is a ring")]
pub enum LayerKind {
    /// Segments mitered and glued edge to edge.
    Ring(Ring),
    /// One solid round, grain across.
    Disc {
        /// Index into [`Recipe::woods`].
        wood: usize,
        /// Where the wood is written.
        wood_span: Span,
        /// Whether it is veneer or another sheet, used as it comes and not flattened.
        is_sheet: bool,
    },
    /// One ring of a cone.
    Slant(SlantRing),
}

/// A ring as the recipe says it.
#[derive(Debug, Clone)]
pub struct Ring {
    /// How many segments, within [`crate::resolve::SEGMENTS`].
    pub segments: Known<Count>,
    /// How the segments are set.
    pub set: Set,
    /// Which wood each segment is of.
    pub pattern: Pattern,
    /// How it is turned against the layer below.
    pub stagger: Known<Stagger>,
    /// A strip that is there already: checked instead of computed.
    pub strip: Option<Known<Length>>,
    /// Parallel strips on the joints.
    pub spacer: Option<Spacer>,
    /// Open joints; never together with spacers.
    pub gap: Option<Known<Gap>>,
    /// The clause that asks for all segments of a wood to come from one strip, so that the grain runs on.
    pub matched: Option<Span>,
}

/// How the segments of a layer are set.
#[derive(Debug, Clone, Copy)]
pub enum Set {
    /// Flat, round a hole, grain round the ring.
    Round,
    /// Flat, meeting in the middle: a disc of wedges, with a plug over their points or without.
    ToMiddle {
        /// Over the points.
        plug: Option<Plug>,
    },
    /// On end, grain upward, leaning as the shape does.
    Upright,
}

/// A round let in where wedges meet.
#[derive(Debug, Clone, Copy)]
pub struct Plug {
    /// Index into [`Recipe::woods`].
    pub wood: usize,
    /// Of the hole and the plug.
    pub diameter: Known<Length>,
    /// The clause.
    pub span: Span,
}

/// Strips between segments.
#[derive(Debug, Clone, Copy)]
pub struct Spacer {
    /// Index into [`Recipe::woods`].
    pub wood: usize,
    /// Of each strip.
    pub thick: Known<Length>,
    /// The clause.
    pub span: Span,
}

/// How wide open joints stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Gap {
    /// Each gap, seen from the axis.
    Angle(Angle),
    /// Of the angle from one segment to the next.
    Share(Ratio),
}

/// One ring of a cone: rings sawn at a slant from one flat board and stacked.
#[derive(Debug, Clone, Copy)]
pub struct SlantRing {
    /// Index into [`Recipe::woods`].
    pub wood: usize,
    /// Where the wood is written.
    pub wood_span: Span,
    /// Which cone of the recipe, from 0; its rings are neighbors of one part.
    pub cone: usize,
    /// Which ring of it, from 0 at the bench.
    pub ring: u32,
    /// How many rings it has.
    pub of: Known<Count>,
}

/// The woods round a ring, in order, repeated until the ring is full.
#[derive(Debug, Clone)]
pub struct Pattern {
    /// Indexes into [`Recipe::woods`], groups and counts written out, `mirror` and `rotate` done;
    /// at least one, at most [`crate::resolve::MOTIF_LIMIT`].
    pub motif: Vec<usize>,
    /// How much of the ring each takes, beside `motif`; empty when all take the same.
    pub shares: Vec<Ratio>,
    /// Whether chance laid it out, for just this count of segments.
    pub is_scattered: bool,
    /// Where it is written.
    pub span: Span,
}

/// How a ring is turned against the layer below it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stagger {
    /// Joints as far from those below as the two counts allow.
    Half,
    /// Joints over joints.
    None,
    /// A share of this ring's own segment.
    Share(Ratio),
    /// An angle.
    By(Angle),
}

/// The bench, each setting with its origin.
#[derive(Debug, Clone)]
pub struct Shop {
    /// Width of the saw's cut.
    pub kerf: Known<Length>,
    /// Wood lost to flattening, on each face of a ring.
    pub sanding: Known<Length>,
    /// Turning allowance on each side, on the radius.
    pub allowance: Known<Length>,
    /// Shortest long edge that is safe to saw without a special holder.
    pub safe_piece: Known<Length>,
    /// Tail of every strip that stays under the clamp.
    pub hold: Known<Length>,
    /// Least width of a glued annulus between two layers.
    pub least_glue: Known<Length>,
    /// Least wall.
    pub least_wall: Known<Length>,
    /// Glue-ups that can be in clamps at once.
    pub clamps: Known<Count>,
    /// What holes can be drilled with, the narrowest first; never empty.
    pub bits: Vec<Known<Diameter>>,
    /// The faceplates there are, the narrowest first; never empty.
    pub faceplates: Vec<Known<Diameter>>,
    /// Of the screws in them, under their heads.
    pub screws: Known<Length>,
    /// How far a miter may be off at each cut, either way.
    pub angle_error: Known<Angle>,
    /// How far long edges cut at one stop differ, either way.
    pub length_error: Known<Length>,
    /// How far the saw's blade tilts.
    pub tilt: Known<Angle>,
    /// The narrowest strip that is ripped without a jig.
    pub narrow_rip: Known<Length>,
    /// The greatest diameter over the lathe's bed; `None`: nobody said.
    pub swing: Option<Known<Diameter>>,
    /// Slowest and fastest that the lathe turns; `None`: nobody said.
    pub speeds: Option<SpeedLimits>,
    /// Of wood and glue while gluing.
    pub temperature: Known<Temperature>,
    /// Of the wood when it is glued; `None`: as dry as the middle of the air it will live in.
    pub moisture: Option<Known<MoistureContent>>,
    /// The boards at hand, in the order named; a wood of which none is named may be bought in any size.
    pub boards: Vec<StockBoard>,
    /// The boards that can be bought, in the order named.
    pub for_sale: Vec<ForSale>,
    /// Planed off each edge of a rough board before it is ripped.
    pub jointing: Known<Length>,
    /// Sawn off each end of a rough board.
    pub end_trim: Known<Length>,
    /// The shortest board that is ripped along a fence.
    pub short_rip: Known<Length>,
    /// How amounts of money are marked, as written; empty when nobody says.
    pub currency: String,
    /// When work is done on a day of work.
    pub hours: Known<Hours>,
    /// Days of the week without work, Monday first; never all.
    pub days_off: Vec<Weekday>,
    /// Band clamps and the rounds they go round, in the order named; when empty, `clamps` hold everything.
    pub bands: Vec<Band>,
    /// Cauls or presses for flat glue-ups: faces, boards, panels; `None`: `clamps` hold those too.
    pub cauls: Option<Known<Count>>,
}

/// Band clamps that are alike.
#[derive(Debug, Clone, Copy)]
pub struct Band {
    /// The narrowest round that one holds.
    pub from: Known<Diameter>,
    /// The widest.
    pub to: Known<Diameter>,
    /// How many there are.
    pub count: Known<Count>,
    /// Its line.
    pub span: Span,
}

/// A board that can be bought.
#[derive(Debug, Clone)]
pub struct ForSale {
    /// What it is; its `count` is how many there are to be had.
    pub board: StockBoard,
    /// Of it.
    pub price: Price,
    /// Whether the dealer has no more than the board's `count`; else as many as are wanted.
    pub is_limited: bool,
}

/// What a board costs.
#[derive(Debug, Clone, Copy)]
pub struct Price {
    /// How much.
    pub amount: Known<Money>,
    /// For how much wood.
    pub per: PricePer,
}

/// What a price is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PricePer {
    /// One board.
    Piece,
    /// 144 cubic inches of it as it lies there.
    BoardFoot,
    /// A liter of it as it lies there.
    Liter,
}

/// A board at hand, or several of one size.
#[derive(Debug, Clone)]
pub struct StockBoard {
    /// As the shop names its wood: `maple`, or a name that the recipe gives.
    pub name: String,
    /// What it is.
    pub wood: &'static Wood,
    /// As it lies there.
    pub thick: Known<Length>,
    /// Across the grain.
    pub wide: Known<Length>,
    /// Along the grain.
    pub long: Known<Length>,
    /// How many of them.
    pub count: Known<Count>,
    /// Whether faces, edges and ends are still to be trued.
    pub is_rough: bool,
    /// Stretches along it that no piece shall touch (knots, checks), from its start; as written.
    pub avoid: Vec<(Known<Length>, Known<Length>)>,
    /// What it cost, or costs, if that is said.
    pub price: Option<Price>,
    /// Its line.
    pub span: Span,
}

/// What a lathe can do.
#[derive(Debug, Clone, Copy)]
pub struct SpeedLimits {
    /// Slowest.
    pub slow: Known<Speed>,
    /// Fastest.
    pub fast: Known<Speed>,
}

/// What a vessel is for; the order is that of rising demands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Use {
    /// Looks alone.
    Display,
    /// Dry things that nobody eats.
    DryGoods,
    /// Food that leaves nothing to wash off: nuts, sugar.
    DryFood,
    /// Food that is washed off.
    Food,
    /// Drink.
    Drink,
    /// Water that stands in it: flowers.
    Water,
}

impl Use {
    /// As written in recipes.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Display => "display",
            Self::DryGoods => "dry-goods",
            Self::DryFood => "dry-food",
            Self::Food => "food",
            Self::Drink => "drink",
            Self::Water => "water",
        }
    }

    /// Whether somebody eats or drinks what was in it.
    #[must_use]
    pub fn touches_food(self) -> bool {
        matches!(self, Self::DryFood | Self::Food | Self::Drink)
    }

    /// Whether it gets wet in use, if only to be washed.
    #[must_use]
    pub fn gets_wet(self) -> bool {
        matches!(self, Self::Food | Self::Drink | Self::Water)
    }

    /// Whether liquid stands in it.
    #[must_use]
    pub fn holds_liquid(self) -> bool {
        matches!(self, Self::Drink | Self::Water)
    }
}

/// A wood as the recipe uses it.
#[derive(Debug, Clone)]
pub struct RecipeWood {
    /// The name used in the recipe: `maple`, `hard-maple`, or one the recipe defines.
    pub name: String,
    /// What it is.
    pub stock: Stock,
    /// Where it is first used.
    pub span: Span,
}

/// What strips are ripped from.
#[derive(Debug, Clone)]
pub enum Stock {
    /// Plain wood: its row of the table.
    Wood(&'static Wood),
    /// A board that is glued up first.
    Board(LaminatedBoard),
}

/// A board of plies, face on face; a strip of it lies flat, the first ply down.
#[derive(Debug, Clone)]
pub struct LaminatedBoard {
    /// Downmost first; at least two.
    pub plies: Vec<Ply>,
    /// Index into [`Recipe::glues`].
    pub glue: Known<usize>,
    /// Where it is defined.
    pub span: Span,
}

/// One ply of a laminated board.
#[derive(Debug, Clone, Copy)]
pub struct Ply {
    /// Index into [`Recipe::woods`], always a plain wood.
    pub wood: usize,
    /// As planed.
    pub thick: Known<Length>,
}

impl RecipeWood {
    /// The row of the table, of a plain wood.
    #[must_use]
    pub fn wood(&self) -> Option<&'static Wood> {
        match &self.stock {
            Stock::Wood(wood) => Some(wood),
            Stock::Board(_) => None,
        }
    }

    /// The plies, of a laminated board.
    #[must_use]
    pub fn board(&self) -> Option<&LaminatedBoard> {
        match &self.stock {
            Stock::Wood(_) => None,
            Stock::Board(board) => Some(board),
        }
    }
}

/// A glue as the recipe uses it.
#[derive(Debug, Clone)]
pub struct RecipeGlue {
    /// Its row of the table.
    pub glue: &'static Glue,
}

/// What a promise is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// Brim capacity.
    Capacity,
    /// Finished mass.
    Mass,
    /// Over all.
    Height,
    /// Largest outside diameter.
    Diameter,
    /// Pieces of wood.
    Pieces,
    /// Board feet of strips and discs.
    BoardFeet,
    /// Money for the boards that are bought.
    Cost,
    /// Days of the calendar from the first glue-up to the last one out of clamps.
    Days,
}

/// `expect capacity >= 600 ml`
#[derive(Debug, Clone, Copy)]
pub struct Expectation {
    /// Of what.
    pub subject: Subject,
    /// How it is compared.
    pub comparator: Comparator,
    /// With what, in the base unit of the subject's dimension (mm³, g, mm, pieces, board feet).
    pub bound: f64,
    /// The whole statement.
    pub span: Span,
    /// The comparison alone, as written.
    pub bound_span: Span,
}

impl Recipe {
    /// Every layer, bench upward, with its part and its number in the part (from 1).
    pub fn layers(&self) -> impl Iterator<Item = (PartKind, usize, &Layer)> {
        self.parts
            .iter()
            .flat_map(|part| part.layers.iter().enumerate().map(move |(at, layer)| (part.kind, at + 1, layer)))
    }
}
