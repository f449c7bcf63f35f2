//! What is fitted to the stacks: the lid's joint, inserts, how the work is held.

use crate::quantity::{Angle, Count, Length, Ratio};
use crate::source::{Span, Spanned};
use crate::workings::Known;

use super::recipe::PartKind;

/// Everything of a recipe that is neither shape nor layer.
#[derive(Debug, Clone, Default)]
pub struct Fittings {
    /// How lid and body meet; without it they meet flat.
    pub joint: Option<Joint>,
    /// One stack sawn apart into body and lid; then there is no part for the lid.
    pub parted: Option<Parted>,
    /// The humidity it lives in.
    pub lives: Option<Lives>,
    /// Glued rings and discs whose diameter was measured.
    pub made: Vec<MadeDiameter>,
    /// Knobs, finials, feet, plugs and the like, in the order of the recipe.
    pub inserts: Vec<Insert>,
    /// How parts are held on the lathe, where the recipe says it; at most one for each part.
    pub mounts: Vec<Mount>,
}

/// A lid's joint.
#[derive(Debug, Clone, Copy)]
pub struct Joint {
    /// Which.
    pub kind: JointKind,
    /// The part that carries the tenon (of an inset lid: the lid; of one that goes over: the body).
    pub on: Known<PartKind>,
    /// How far one goes into the other.
    pub long: Known<Length>,
    /// How tight.
    pub fit: Known<Fit>,
    /// Of the tenon, measured level; half of what is there when not said.
    pub wall: Option<Known<Length>>,
    /// As measured on the work.
    pub made_tenon: Option<Known<Length>>,
    /// Of the mortise, as measured on the work.
    pub made_mortise: Option<Known<Length>>,
    /// Of a threaded one.
    pub thread: Option<Thread>,
    /// The statement.
    pub span: Span,
    /// Its head and kind.
    pub head: Span,
    /// Just behind what stands on its line, where another clause can stand.
    pub tail: Span,
}

/// The kinds of lid joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JointKind {
    /// A tenon on one part, a mortise in the other.
    Tenon,
    /// The lid drops inside the rim, on to a ledge.
    Inset,
    /// The lid's skirt goes outside the rim.
    Over,
    /// A chased thread.
    Thread,
}

impl JointKind {
    /// As written in recipes and documents.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Tenon => "tenon",
            Self::Inset => "inset",
            Self::Over => "over",
            Self::Thread => "thread",
        }
    }
}

/// How tight a joint is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fit {
    /// Holds for turning.
    Jam,
    /// For use.
    Slip,
    /// For big lids and damp rooms.
    Loose,
    /// This much on the diameter.
    Clearance(Length),
}

/// A chased thread.
#[derive(Debug, Clone, Copy)]
pub struct Thread {
    /// From crest to crest.
    pub pitch: Known<Length>,
    /// How many threads run side by side.
    pub starts: Known<Count>,
    /// How far the lid is turned until it sits.
    pub turns: Known<Ratio>,
}

/// `parted at 4 1/4 kerf 1/16`
#[derive(Debug, Clone, Copy)]
pub struct Parted {
    /// Where the line shows on the finished vessel, above the bench.
    pub at: Known<Length>,
    /// Of the parting tool.
    pub kerf: Known<Length>,
    /// The statement.
    pub span: Span,
}

/// `lives 35%rh .. 60%rh`, in percent of relative humidity, the drier first.
#[derive(Debug, Clone, Copy)]
pub struct Lives {
    /// In the driest weeks.
    pub dry: Known<crate::quantity::Humidity>,
    /// In the dampest.
    pub damp: Known<crate::quantity::Humidity>,
    /// The statement.
    pub span: Span,
}

/// How wide a glued layer came out: across the flats, of a disc across it.
#[derive(Debug, Clone, Copy)]
pub struct MadeDiameter {
    /// Its stack.
    pub part: PartKind,
    /// From 1 within its stack.
    pub index: usize,
    /// As measured.
    pub diameter: Known<Length>,
}

/// Something let into the vessel.
#[derive(Debug, Clone)]
pub struct Insert {
    /// Its name: `finial`.
    pub name: Spanned<String>,
    /// Index into the recipe's woods; `None` for a liner of glass or metal.
    pub wood: Option<usize>,
    /// Where it sits.
    pub seat: Seat,
    /// What is let in.
    pub form: InsertForm,
    /// Of the hole, when given; else it follows from what is let in and the bits at hand.
    pub hole_diameter: Option<Known<Length>>,
    /// Of the hole, when given.
    pub hole_depth: Option<Known<Length>>,
    /// What of the hole is given, to be taken out.
    pub said_hole: SaidHole,
    /// The stock it is turned from, when given.
    pub blank: Option<Blank>,
    /// What is seen of it, when given.
    pub shows: Option<Shown>,
    /// Index into the recipe's glues; `None` for a liner.
    pub glue: Option<Known<usize>>,
    /// The statement.
    pub span: Span,
    /// Its head and name.
    pub head: Span,
}

/// The clauses of a given hole, each with its word; with their head where nothing else is said.
#[derive(Debug, Clone, Copy, Default)]
pub struct SaidHole {
    /// `diameter 1/2`
    pub diameter: Option<Span>,
    /// `deep 3/4`
    pub deep: Option<Span>,
}

/// Where an insert sits.
#[derive(Debug, Clone, Copy)]
pub enum Seat {
    /// In the middle of the top, from above.
    LidTop,
    /// In the middle of the lid, from below.
    LidInside,
    /// In the middle of the base, from below.
    BodyBase,
    /// In the middle of the floor, from above: a post, or a liner that stands in the cavity.
    BodyInside,
    /// In the wall, square to the axis.
    BodySide {
        /// Above the bench.
        at: Known<Length>,
        /// Round the vessel, counterclockwise from above, from where the first joint of the first ring lies;
        /// the middle of a segment when not said.
        facing: Option<Known<Angle>>,
    },
}

/// What is let in.
#[derive(Debug, Clone, Copy)]
pub enum InsertForm {
    /// Turned with a tenon: knob, finial, stem, foot.
    Tenon {
        /// Of the tenon.
        diameter: Known<Length>,
        /// Of the tenon, when given; else it follows from its diameter.
        long: Option<Known<Length>>,
    },
    /// A plug, as thick as its hole is deep.
    Plug {
        /// Across.
        diameter: Known<Length>,
        /// From face to face.
        thick: Known<Length>,
    },
    /// A round that is seen, let in flush.
    Medallion {
        /// Across.
        diameter: Known<Length>,
        /// From face to face.
        thick: Known<Length>,
    },
    /// A vessel of glass or metal, never glued all round.
    Liner {
        /// Outside.
        diameter: Known<Length>,
        /// Over all.
        tall: Known<Length>,
    },
}

/// The stock an insert is turned from.
#[derive(Debug, Clone, Copy)]
pub struct Blank {
    /// Side of its square.
    pub square: Known<Length>,
    /// Along the grain.
    pub long: Known<Length>,
}

/// What is seen of an insert.
#[derive(Debug, Clone, Copy)]
pub struct Shown {
    /// Its greatest diameter, finished.
    pub diameter: Known<Length>,
    /// How far it stands out, finished.
    pub tall: Known<Length>,
}

impl Seat {
    /// The part it is in.
    #[must_use]
    pub fn part(self) -> PartKind {
        match self {
            Self::LidTop | Self::LidInside => PartKind::Lid,
            Self::BodyBase | Self::BodyInside | Self::BodySide { .. } => PartKind::Body,
        }
    }

    /// As written in recipes: `lid top`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::LidTop => "lid top",
            Self::LidInside => "lid inside",
            Self::BodyBase => "body base",
            Self::BodyInside => "body inside",
            Self::BodySide { .. } => "body side",
        }
    }
}

impl InsertForm {
    /// As written in recipes: `tenon`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Tenon { .. } => "tenon",
            Self::Plug { .. } => "plug",
            Self::Medallion { .. } => "medallion",
            Self::Liner { .. } => "liner",
        }
    }

    /// Across, as the recipe says it.
    #[must_use]
    pub fn diameter(self) -> Known<Length> {
        match self {
            Self::Tenon { diameter, .. }
            | Self::Plug { diameter, .. }
            | Self::Medallion { diameter, .. }
            | Self::Liner { diameter, .. } => diameter,
        }
    }

    /// How far it goes in, as the recipe says it.
    #[must_use]
    pub fn length(self) -> Option<Known<Length>> {
        match self {
            Self::Tenon { long, .. } => long,
            Self::Plug { thick: length, .. }
            | Self::Medallion { thick: length, .. }
            | Self::Liner { tall: length, .. } => Some(length),
        }
    }
}

/// What holds a part on the lathe, as far as the recipe says it.
#[derive(Debug, Clone, Copy)]
pub struct Mount {
    /// Which part.
    pub part: PartKind,
    /// Of the waste block: index into the recipe's woods.
    pub wood: Option<usize>,
    /// Of the waste block.
    pub thick: Option<Known<Length>>,
    /// Of the waste block, as sawn.
    pub diameter: Option<Known<Length>>,
    /// Across the faceplate.
    pub faceplate: Option<Known<Length>>,
    /// Of the faceplate, where its screws go through.
    pub plate_thick: Option<Known<Length>>,
    /// Under their heads.
    pub screws: Option<Known<Length>>,
    /// The statement.
    pub span: Span,
    /// Its head and part.
    pub head: Span,
}
