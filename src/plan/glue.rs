//! Layers to glue-ups: runs, halves, rings, stack, each with its joints, its clocks and its start.

use crate::geometry::{LayerShape, RingSet, Vessel};
use crate::quantity::{Count, Duration};
use crate::resolve::{LaminatedBoard, Recipe};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::budget::ErrorBudget;
use super::cut_list::segments_of;
use super::half_ring::HalfRingCost;
use super::schedule::{self, Task};
use super::sub_assembly::{self, Assembly, Makes, Split};
use super::{Planned, to_u32};

/// All gluing, with its times.
#[derive(Debug, Clone)]
pub struct GlueSchedule {
    /// Every glue-up, ring by ring from the bench upward; a step stands behind those it waits for.
    pub steps: Vec<GlueStep>,
    /// Indexes into `steps`, by start time.
    pub order: Vec<usize>,
    /// Glue-ups that can be in clamps at once.
    pub clamps: Known<Count>,
    /// From the first glue-up in clamps to the last one out.
    pub makespan: Duration,
    /// The longest chain of glue-ups that wait for one another.
    pub critical_path: Duration,
    /// No order of work can be shorter.
    pub bound: Duration,
    /// What is to be known of each ring, bench upward.
    pub rings: Vec<RingGlue>,
}

impl GlueSchedule {
    /// Days of the calendar that the glue-ups take, the first and the last included.
    #[must_use]
    pub fn days(&self) -> f64 {
        (self.makespan.minutes() / (24.0 * 60.0)).ceil()
    }
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
    /// To spread them.
    pub spread: Known<Duration>,
    /// How long the glue may lie open.
    pub open: Known<Duration>,
    /// In clamps.
    pub clamp: Known<Duration>,
    /// Indexes of the steps that must be out of clamps before.
    pub after: Vec<usize>,
    /// From the first glue-up of all.
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
    /// The hole bored, the plug turned to fit it.
    BoreHole,
}

impl GlueStep {
    /// When it is out of clamps.
    #[must_use]
    pub fn ready(&self) -> Duration {
        self.start + self.clamp.value
    }

    /// Whether its joints can be spread while the glue is open.
    #[must_use]
    pub fn fits(&self) -> bool {
        self.spread.value <= self.open.value
    }
}

/// A joint takes 20 to 30 s to spread and close, by common practice at the bench.
const A_JOINT: Known<Duration> =
    Known::new(Duration::from_minutes(25.0 / 60.0), Origin::Default(&"25 s to spread and close a joint"));

/// Of a face between two layers both sides are coated, and it is set and centered.
const JOINTS_OF_A_FACE: Known<Count> = Known::new(Count(2), Origin::Default(&"a face takes as long as two joints"));

static SPREAD: Formula = Formula {
    gives: "time to spread and close",
    words: "joints at once × time for a joint",
    inputs: &["joints", "time for a joint"],
};

/// No two segments of an open row are wet at once.
const ONE_BY_ONE: Known<Count> = Known::new(Count(1), Origin::Default(&"open segments are set one by one"));

/// A row of open segments stands unclamped; a couple of hours before the next are usual at the bench.
const ROW_DRIES: Known<Duration> = Known::new(
    Duration::from_minutes(120.0),
    Origin::Default(&"a row of open segments dries two hours before the next"),
);

static BOARD_JOINTS: Formula = Formula {
    gives: "joints of a board",
    words: "2 × (plies − 1): a face takes as long as two joints",
    inputs: &["plies"],
};

/// Plans every glue-up of the vessel.
pub(super) fn schedule(
    recipe: &Recipe,
    vessel: &Vessel,
    layers: &[Planned<'_>],
    budgets: &[Option<ErrorBudget>],
    ledger: &mut Ledger,
) -> GlueSchedule {
    let mut bench = Bench { recipe, ledger, steps: Vec::new(), spreads: Vec::new() };
    let boards = bench.boards(layers);
    let mut rings = Vec::new();
    // The last step of the stack so far.
    let mut below: Option<usize> = None;
    for (at, layer) in layers.iter().enumerate() {
        let needs = needs(*layer, &boards);
        let opens = at == 0 || vessel.contacts.get(at - 1).is_none_or(|contact| contact.is_opening);
        let onto = (!opens).then(|| at - 1);
        let under = below.filter(|_| !opens);
        if layer.ring().is_some_and(|ring| ring.gap.is_some()) {
            below = bench.open_row(at, *layer, onto, under.into_iter().chain(needs).collect());
            continue;
        }
        let half_ring_cost = budgets.get(at).and_then(|budget| budget.as_ref()?.half_ring);
        let made_by = bench.ring((at, half_ring_cost), *layer, &needs, &mut rings).or(needs.last().copied());
        below = match onto {
            None => made_by,
            Some(onto) => {
                let after = under.into_iter().chain(made_by).collect();
                let draft = Draft { layer: at, work: GlueWork::Stack { onto }, joints: JOINTS_OF_A_FACE, after };
                bench.push(draft, *layer, stacking(layers[onto], *layer))
            }
        };
    }
    timed(bench.steps, rings, recipe)
}

/// Gives every step its start.
fn timed(mut steps: Vec<GlueStep>, rings: Vec<RingGlue>, recipe: &Recipe) -> GlueSchedule {
    let tasks: Vec<Task<'_>> = steps.iter().map(|step| Task { clamp: step.clamp.value, after: &step.after }).collect();
    let clamps = recipe.shop.clamps;
    let times = schedule::schedule(&tasks, clamps.value.0);
    for (step, start) in steps.iter_mut().zip(&times.starts) {
        step.start = *start;
    }
    let mut order: Vec<usize> = (0..steps.len()).collect();
    order.sort_by(|a, b| steps[*a].start.minutes().total_cmp(&steps[*b].start.minutes()));
    GlueSchedule {
        order,
        clamps,
        makespan: times.makespan,
        critical_path: times.critical_path,
        bound: times.bound,
        rings,
        steps,
    }
}

/// The boards that a layer's wood is ripped from, as the steps that glue them.
fn needs(layer: Planned<'_>, boards: &[(usize, usize)]) -> Vec<usize> {
    let is_used = |wood: usize| layer.built.shares.iter().any(|share| share.wood == wood);
    boards.iter().filter(|(wood, _)| is_used(*wood)).map(|(_, step)| *step).collect()
}

/// What is flattened before a layer comes onto another: a sheet is used as it comes.
fn stacking(lower: Planned<'_>, upper: Planned<'_>) -> Preparation {
    let is_sheet = |layer: Planned<'_>| matches!(layer.built.shape, LayerShape::Disc { is_sheet: true, .. });
    match (is_sheet(lower), is_sheet(upper)) {
        (false, false) => Preparation::FlattenFaces,
        (false, true) => Preparation::FlattenBelow,
        (true, false) => Preparation::FlattenAbove,
        (true, true) => Preparation::DryFit,
    }
}

/// Steps under construction.
struct Bench<'a> {
    recipe: &'a Recipe,
    ledger: &'a mut Ledger,
    steps: Vec<GlueStep>,
    spreads: Spreads,
}

/// Spreading times by joints and where their count comes from: of all the steps of a tall stack only a
/// few differ, and a figure that is known is not worked again.
type Spreads = Vec<(Known<Count>, Known<Duration>)>;

/// A step before its clocks are known.
struct Draft {
    layer: usize,
    work: GlueWork,
    joints: Known<Count>,
    after: Vec<usize>,
}

impl Bench<'_> {
    /// One glue-up for each laminated board that a layer needs: its wood, and its step.
    fn boards(&mut self, layers: &[Planned<'_>]) -> Vec<(usize, usize)> {
        let recipe = self.recipe;
        let mut made = Vec::new();
        for (wood, used) in recipe.woods.iter().enumerate() {
            let Some(board) = used.board() else { continue };
            let needs_it = |layer: &Planned<'_>| layer.built.shares.iter().any(|share| share.wood == wood);
            let Some(layer) = layers.iter().position(needs_it) else { continue };
            made.extend(self.board(layer, wood, board).map(|step| (wood, step)));
        }
        made
    }

    fn board(&mut self, layer: usize, wood: usize, board: &LaminatedBoard) -> Option<usize> {
        let plies = to_u32(board.plies.len());
        let counted = Known::new(Count(plies), Origin::Written(board.span));
        let joints = self.ledger.work(&BOARD_JOINTS, (counted,), |(plies,)| Count(2 * plies.0.saturating_sub(1)));
        let draft = Draft { layer, work: GlueWork::Board { wood, plies }, joints, after: Vec::new() };
        self.push_with(draft, board.glue.value, Preparation::PlanePlies)
    }

    /// A row of open segments.
    fn open_row(&mut self, at: usize, layer: Planned<'_>, onto: Option<usize>, after: Vec<usize>) -> Option<usize> {
        let segments = segments_of(layer)?.value.0;
        let draft = Draft { layer: at, work: GlueWork::SetOpen { segments, onto }, joints: ONE_BY_ONE, after };
        let step = self.push(draft, layer, Preparation::FlattenBelow)?;
        let clamp = &mut self.steps[step].clamp;
        if ROW_DRIES.value > clamp.value {
            *clamp = ROW_DRIES;
        }
        Some(step)
    }

    /// The glue-ups within a ring; the index of the last.
    fn ring(
        &mut self,
        (at, half_ring_cost): (usize, Option<HalfRingCost>),
        layer: Planned<'_>,
        needs: &[usize],
        rings: &mut Vec<RingGlue>,
    ) -> Option<usize> {
        let (ring, segments) = (layer.ring()?, segments_of(layer)?);
        let split = Split::of(ring);
        let has_flat_halves = split.is_straight && segments.value.0 > 3;
        rings.push(RingGlue { layer: at, has_flat_halves, half_ring_cost });
        let open = self.recipe.glues.get(layer.said.glue.value)?.glue.open_time();
        let start = self.steps.len();
        let mut last = None;
        for assembly in
            sub_assembly::assemble(segments.value.0, split, joints_within(open.value), ring.spacer.is_some())
        {
            let joints = segments.map(|_| Count(assembly.joints));
            let mut after: Vec<usize> = assembly.after.iter().map(|before| start + before).collect();
            if after.is_empty() {
                after.extend(needs);
            }
            let draft = Draft { layer: at, work: work_of(&assembly), joints, after };
            let prepare = match assembly.makes {
                // The ends of unlike halves do not lie in one plane: they can only be fitted.
                Makes::Ring if has_flat_halves => Preparation::FlattenHalfEnds,
                Makes::Ring | Makes::Spaced { .. } | Makes::Run | Makes::Half(_) | Makes::WholeRing => {
                    Preparation::DryFit
                }
            };
            last = self.push(draft, layer, prepare);
        }
        if let RingSet::ToMiddle { plug: Some(_) } = ring.set {
            let draft = Draft { layer: at, work: GlueWork::Plug, joints: ONE_PLUG, after: last.into_iter().collect() };
            last = self.push(draft, layer, Preparation::BoreHole);
        }
        last
    }

    fn push(&mut self, draft: Draft, layer: Planned<'_>, prepare: Preparation) -> Option<usize> {
        self.push_with(draft, layer.said.glue.value, prepare)
    }

    fn push_with(&mut self, draft: Draft, at: usize, prepare: Preparation) -> Option<usize> {
        let glue = self.recipe.glues.get(at)?.glue;
        let Draft { layer, work, joints, after } = draft;
        let spread = self.spread(joints);
        self.steps.push(GlueStep {
            layer,
            work,
            prepare,
            glue: at,
            joints,
            spread,
            open: glue.open_time(),
            clamp: glue.clamp_time(),
            after,
            start: Duration::default(),
        });
        Some(self.steps.len() - 1)
    }

    fn spread(&mut self, joints: Known<Count>) -> Known<Duration> {
        // The latest first: a ring's steps are alike. Looking farther back would cost more than it saves.
        if let Some((_, spread)) = self.spreads.iter().rev().take(8).find(|(of, _)| *of == joints) {
            return *spread;
        }
        let spread = self.ledger.work(&SPREAD, (joints, A_JOINT), |(joints, each)| each * f64::from(joints.0));
        self.spreads.push((joints, spread));
        spread
    }
}

/// The wall of a plug and its seat.
const ONE_PLUG: Known<Count> = Known::new(Count(1), Origin::Default(&"a plug takes as long as a joint"));

/// How many joints can be spread and closed while the glue is open.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "open times are minutes in a table")]
fn joints_within(open: Duration) -> u32 {
    (open.minutes() / A_JOINT.value.minutes() + 1e-9).floor() as u32
}

fn work_of(assembly: &Assembly) -> GlueWork {
    let Assembly { first, segments, parts, .. } = *assembly;
    match assembly.makes {
        Makes::Spaced { bare } => GlueWork::Spacers { first, segments, bare },
        Makes::Run => GlueWork::Run { first, segments, parts },
        Makes::Half(half) => GlueWork::Half { half, first, segments, parts },
        Makes::Ring => GlueWork::Close,
        Makes::WholeRing => GlueWork::WholeRing { segments },
    }
}
