//! Layers to glue-ups: runs, halves, rings, stack, each with its joints, its clocks, its clamp and its start.
//!
//! Times of day count from midnight before the first day; the work on one glue-up is: the hands make ready, spread
//! and close, and then it stands in its clamp by day and night.

mod areas;
mod bench;
mod hands;
mod timing;

use crate::quantity::{Area, Count, Date, Diameter, Duration, Mass, Weekday};
use crate::workings::Known;

use super::cutting::LaneKind;
use super::half_ring::HalfRingCost;

pub(super) use areas::GluedFaces;
pub(super) use bench::{ToGlue, schedule};
pub use timing::bands_round;

/// All gluing, with its times.
#[derive(Debug, Clone)]
pub struct GlueSchedule {
    /// Every glue-up, ring by ring from the bench upward; a step stands behind those it waits for.
    pub steps: Vec<GlueStep>,
    /// Indexes into `steps`, by start time.
    pub order: Vec<usize>,
    /// When work is done.
    pub calendar: WorkDays,
    /// The clamps there are, kind by kind.
    pub clamps: Vec<Clamps>,
    /// When the first day's work begins.
    pub begin: Duration,
    /// When the last glue-up is out of its clamp.
    pub end: Duration,
    /// From `begin` to `end`, nights and days off with it.
    pub makespan: Duration,
    /// From `begin` to the end of the longest chain, were hands and clamps always free; nights with it.
    pub critical_path: Duration,
    /// That chain: indexes into `steps`, each waits for the one before.
    pub critical: Vec<usize>,
    /// No order of work takes less from `begin` on.
    pub bound: Duration,
    /// Whether the bound is reached.
    pub is_optimal: bool,
    /// What all steps take of each glue, in the order of the recipe's glues; those in use.
    pub glue_needed: Vec<GlueNeed>,
    /// What is to be known of each ring, bench upward.
    pub rings: Vec<RingGlue>,
}

impl GlueSchedule {
    /// Days of the calendar that the glue-ups take, the first and the last included.
    #[must_use]
    pub fn days(&self) -> f64 {
        let day = |time: Duration| time.minutes() / (24.0 * 60.0);
        (day(self.end).ceil() - day(self.begin).floor()).max(0.0)
    }
}

/// When work is done.
#[derive(Debug, Clone)]
pub struct WorkDays {
    /// After midnight.
    pub opens: Duration,
    /// After midnight.
    pub closes: Duration,
    /// Days of the week without work, Monday first.
    pub days_off: Vec<Weekday>,
    /// The first day; `None`: some Monday.
    pub start: Option<Date>,
}

/// Clamps of one kind.
#[derive(Debug, Clone, Copy)]
pub struct Clamps {
    /// What they are.
    pub kind: ClampKind,
    /// How many there are.
    pub count: Known<Count>,
}

/// What holds a glue-up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClampKind {
    /// Index into the shop's bands.
    Band(usize),
    /// Cauls or a press, for what is flat.
    Cauls,
    /// Any others.
    Clamps,
}

/// What all glue-ups take of one glue.
#[derive(Debug, Clone, Copy)]
pub struct GlueNeed {
    /// Index into the recipe's glues.
    pub glue: usize,
    /// All joints that are glued with it.
    pub area: Known<Area>,
    /// At its spread rate, without what is lost.
    pub mass: Known<Mass>,
}

/// What is to be known of gluing one ring.
#[derive(Debug, Clone, Copy)]
pub struct RingGlue {
    /// Index into the vessel's layers.
    pub layer: usize,
    /// Whether it is closed from two parts whose ends each lie in one plane, and can be flattened so.
    pub has_flat_halves: bool,
    /// What flattening them costs, where all segments are alike.
    pub half_ring_cost: Option<HalfRingCost>,
}

/// One glue-up.
#[derive(Debug, Clone)]
pub struct GlueStep {
    /// Index into the vessel's layers; the upper one in a stack, of a board the first that needs it.
    pub layer: usize,
    /// What is glued.
    pub work: GlueWork,
    /// What comes before the glue.
    pub prepare: Preparation,
    /// Index into the recipe's glues.
    pub glue: usize,
    /// Joints that are wet at once.
    pub joints: Known<Count>,
    /// All its joints.
    pub area: Known<Area>,
    /// Of glue, without what is lost.
    pub mass: Known<Mass>,
    /// The hands make ready: before the glue.
    pub hands: Known<Duration>,
    /// To spread and close all joints.
    pub spread: Known<Duration>,
    /// How long the first glue lies open: to spread and close the joints that are wet at once.
    pub wet: Known<Duration>,
    /// How long it may lie open.
    pub open: Known<Duration>,
    /// In its clamp, or left alone.
    pub clamp: Known<Duration>,
    /// What a band has to go round: the corners of the ring's blank; `None` of what is flat or is no ring.
    pub round: Option<Known<Diameter>>,
    /// Which clamp: an index into [`GlueSchedule::clamps`]; `None`: it is rubbed on and left alone.
    pub takes: Option<usize>,
    /// Indexes of the steps that must be out of clamps before.
    pub after: Vec<usize>,
    /// When the hands begin.
    pub start: Duration,
}

/// What a glue-up makes of what. Segments count round the ring from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GlueWork {
    /// Plies to a board, before anything is ripped from it.
    Board {
        /// Index into the recipe's woods.
        wood: usize,
        /// How many plies.
        plies: u32,
    },
    /// Boards edge to edge to a blank that none is wide enough for.
    Panel {
        /// What it becomes: a round, a cone's board or a ply.
        is: LaneKind,
        /// Of how many parts.
        parts: u32,
    },
    /// A spacer to the first end of each of these segments, one by one.
    Spacers {
        /// First segment that gets one.
        first: u32,
        /// How many segments.
        segments: u32,
        /// The segment whose spacer goes on the far end of the one before it instead, so that both ends of
        /// each half lie in one plane.
        bare: Option<u32>,
    },
    /// Neighbors to a run.
    Run {
        /// First segment in it.
        first: u32,
        /// How many segments.
        segments: u32,
        /// Of how many parts.
        parts: u32,
    },
    /// Segments or runs to one of the two parts that a ring is closed from.
    Half {
        /// Which: 1 or 2.
        half: u32,
        /// First segment in it.
        first: u32,
        /// How many segments.
        segments: u32,
        /// Of how many parts.
        parts: u32,
    },
    /// Two halves to a ring.
    Close,
    /// All segments to a ring in one go.
    WholeRing {
        /// How many.
        segments: u32,
    },
    /// A plug into the middle of a disc of wedges.
    Plug,
    /// Open segments, one by one, onto the layer below.
    SetOpen {
        /// How many.
        segments: u32,
        /// Index of the lower layer; `None` at the bottom of a stack.
        onto: Option<usize>,
    },
    /// A layer onto the one below.
    Stack {
        /// Index of the lower layer.
        onto: usize,
    },
}

/// What must be done with the parts before glue is spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Preparation {
    /// Cuts cleaned of fuzz, parts laid out dry.
    DryFit,
    /// Both ends of each half flattened together on one plate.
    FlattenHalfEnds,
    /// The upper face of the lower layer and the lower face of the upper one.
    FlattenFaces,
    /// The upper face of the lower layer alone: a sheet or open segments come onto it.
    FlattenBelow,
    /// The lower face of the upper layer alone: it comes onto a sheet.
    FlattenAbove,
    /// Both faces of every ply planed.
    PlanePlies,
    /// The edges planed straight and square, and tried against the light.
    PlaneEdges,
    /// The hole bored, the plug turned to fit it.
    BoreHole,
}

impl GlueStep {
    /// When it goes into its clamp.
    #[must_use]
    pub fn clamped(&self) -> Duration {
        Duration::from_seconds(self.start.seconds() + self.busy())
    }

    /// When it is out.
    #[must_use]
    pub fn ready(&self) -> Duration {
        Duration::from_seconds(self.start.seconds() + self.busy() + self.clamp.value.seconds())
    }

    /// How long the hands are busy with it, in seconds.
    fn busy(&self) -> u64 {
        (self.hands.value + self.spread.value).seconds()
    }

    /// What is left of the open time when the last joint is closed; below zero when it does not suffice.
    #[must_use]
    pub fn open_left(&self) -> Duration {
        self.open.value - self.wet.value
    }

    /// Whether its joints can be spread while the glue is open.
    #[must_use]
    pub fn fits(&self) -> bool {
        self.wet.value <= self.open.value
    }
}
