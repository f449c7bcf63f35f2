//! Layers to glue-ups: runs, halves, rings, stack, each with its joints, its clocks and its start.

use crate::geometry::Vessel;
use crate::quantity::{Count, Duration};
use crate::resolve::Recipe;
use crate::workings::{Formula, Known, Ledger, Origin};

use super::cut_list::segments_of;
use super::half_ring::{self, HalfRingCost};
use super::schedule::{self, Task};
use super::sub_assembly::{self, Assembly, Makes};
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

/// What is to be known of gluing one ring.
#[derive(Debug, Clone, Copy)]
pub struct RingGlue {
    /// Index into the vessel's layers.
    pub layer: usize,
    /// What flattening its half rings costs; `None` when it has no halves that can be flattened.
    pub half_ring_cost: Option<HalfRingCost>,
}

/// One glue-up.
#[derive(Debug, Clone)]
pub struct GlueStep {
    /// Index into the vessel's layers; the upper one in a stack.
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
    /// Neighbors to a run.
    Run {
        /// First segment in it.
        first: u32,
        /// How many segments.
        segments: u32,
        /// Of how many parts.
        parts: u32,
    },
    /// Segments or runs to a half ring.
    Half {
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

/// Plans every glue-up of the vessel.
pub(super) fn schedule(recipe: &Recipe, vessel: &Vessel, layers: &[Planned<'_>], ledger: &mut Ledger) -> GlueSchedule {
    let mut steps: Vec<GlueStep> = Vec::new();
    let mut rings = Vec::new();
    let mut spreads = Spreads::new();
    // The last step of the stack so far, and the last step within the layer below.
    let mut below: Option<usize> = None;
    for (at, layer) in layers.iter().enumerate() {
        let made_by = layer.ring().and_then(|ring| {
            let segments = segments_of(*layer)?;
            rings.push(RingGlue { layer: at, half_ring_cost: half_ring::cost(segments, ring, ledger) });
            ring_steps(&mut steps, at, *layer, segments, recipe, (&mut spreads, &mut *ledger))
        });
        let opens = at == 0 || vessel.contacts.get(at - 1).is_none_or(|contact| contact.is_opening);
        below = if opens {
            made_by
        } else {
            let after = below.into_iter().chain(made_by).collect();
            let work = GlueWork::Stack { onto: at - 1 };
            let draft = Draft { layer: at, work, joints: JOINTS_OF_A_FACE, after };
            push(&mut steps, draft, *layer, recipe, (&mut spreads, &mut *ledger))
        };
    }

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

/// The glue-ups within a ring; the index of the last.
fn ring_steps(
    steps: &mut Vec<GlueStep>,
    at: usize,
    layer: Planned<'_>,
    segments: Known<Count>,
    recipe: &Recipe,
    (spreads, ledger): (&mut Spreads, &mut Ledger),
) -> Option<usize> {
    let open = recipe.glues.get(layer.said.glue.value)?.glue.open_time();
    let first = steps.len();
    let mut last = None;
    for assembly in sub_assembly::assemble(segments.value.0, joints_within(open.value)) {
        let joints = segments.map(|_| Count(assembly.joints));
        let after = assembly.after.iter().map(|before| first + before).collect();
        let draft = Draft { layer: at, work: work_of(&assembly), joints, after };
        last = push(steps, draft, layer, recipe, (&mut *spreads, &mut *ledger));
    }
    last
}

/// How many joints can be spread and closed while the glue is open.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "open times are minutes in a table")]
fn joints_within(open: Duration) -> u32 {
    (open.minutes() / A_JOINT.value.minutes() + 1e-9).floor() as u32
}

fn work_of(assembly: &Assembly) -> GlueWork {
    let Assembly { first, segments, parts, .. } = *assembly;
    match assembly.makes {
        Makes::Run => GlueWork::Run { first, segments, parts },
        Makes::Half => GlueWork::Half { first, segments, parts },
        Makes::Ring => GlueWork::Close,
        Makes::WholeRing => GlueWork::WholeRing { segments },
    }
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

fn push(
    steps: &mut Vec<GlueStep>,
    draft: Draft,
    layer: Planned<'_>,
    recipe: &Recipe,
    (spreads, ledger): (&mut Spreads, &mut Ledger),
) -> Option<usize> {
    let glue = recipe.glues.get(layer.said.glue.value)?.glue;
    let Draft { layer: at, work, joints, after } = draft;
    let spread = spread(joints, spreads, ledger);
    steps.push(GlueStep {
        layer: at,
        work,
        prepare: preparation(work, layer),
        glue: layer.said.glue.value,
        joints,
        spread,
        open: glue.open_time(),
        clamp: glue.clamp_time(),
        after,
        start: Duration::default(),
    });
    Some(steps.len() - 1)
}

fn spread(joints: Known<Count>, known: &mut Spreads, ledger: &mut Ledger) -> Known<Duration> {
    // The latest first: a ring's steps are alike. Looking farther back would cost more than it saves.
    if let Some((_, spread)) = known.iter().rev().take(8).find(|(of, _)| *of == joints) {
        return *spread;
    }
    let spread = ledger.work(&SPREAD, (joints, A_JOINT), |(joints, each)| each * f64::from(joints.0));
    known.push((joints, spread));
    spread
}

fn preparation(work: GlueWork, layer: Planned<'_>) -> Preparation {
    match work {
        GlueWork::Run { .. } | GlueWork::Half { .. } | GlueWork::WholeRing { .. } => Preparation::DryFit,
        // The ends of unlike halves do not lie in one plane: they can only be fitted.
        GlueWork::Close if layer.ring().is_some_and(|ring| !to_u32(ring.woods.len()).is_multiple_of(2)) => {
            Preparation::DryFit
        }
        GlueWork::Close => Preparation::FlattenHalfEnds,
        GlueWork::Stack { .. } => Preparation::FlattenFaces,
    }
}
