//! The glue schedule as JSON. Times of day count from midnight before the first day.

use schemars::JsonSchema;
use serde::Serialize;

use crate::compile::Complete;
use crate::output::sheet::Sheet;
use crate::plan::{self, ClampKind};

use super::Traces;
use super::fill::{layer_id, wood_name};
use super::origin::{named, traces};

/// At the bench. What ends in `_min` of the schedule and its steps' starts is minutes from midnight before the first day.
#[derive(Debug, Serialize, JsonSchema)]
pub struct GlueSchedule<'a> {
    /// Work begins so long after midnight.
    pub opens_min: f64,
    /// And ends so long after midnight.
    pub closes_min: f64,
    /// Days of the week without work: `mon` to `sun`.
    pub days_off: Vec<&'static str>,
    /// The first day, `YYYY-MM-DD`, where one was asked for; else it is some Monday.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start_date: Option<String>,
    /// The clamps there are, kind by kind.
    pub clamps: Vec<Clamps>,
    /// In order of time.
    pub steps: Vec<GlueStep<'a>>,
    /// When the first day's work begins.
    pub begin_min: f64,
    /// When the last glue-up is out of its clamp.
    pub end_min: f64,
    /// From begin to end, nights and days off with it: a length of time.
    pub makespan_min: f64,
    /// No order of work takes less from begin on: a length of time.
    pub bound_min: f64,
    /// From begin to the end of the longest chain, were hands and clamps always free: a length of time.
    pub critical_path_min: f64,
    /// That chain: ids of steps, each waits for the one before.
    pub critical_steps: Vec<String>,
    /// Whether the bound is reached.
    pub is_optimal: bool,
    /// What all steps take of each glue.
    pub glue_needed: Vec<GlueNeed<'a>>,
    /// What flattened half rings cost.
    pub half_rings: Vec<HalfRing<'a>>,
}

/// Clamps of one kind.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Clamps {
    /// What they are.
    pub kind: &'static str,
    /// Of a band: the narrowest round that it holds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_mm: Option<f64>,
    /// Of a band: the widest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to_mm: Option<f64>,
    /// How many there are.
    pub count: u32,
}

/// What all glue-ups take of one glue.
#[derive(Debug, Serialize, JsonSchema)]
pub struct GlueNeed<'a> {
    /// Its key in the table of glues.
    pub glue: &'a str,
    /// All joints that are glued with it.
    pub area_mm2: f64,
    /// At its spread rate, without what is lost.
    pub mass_g: f64,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// One glue-up.
#[derive(Debug, Serialize, JsonSchema)]
pub struct GlueStep<'a> {
    /// Stable word.
    pub id: String,
    /// The layer's id; the upper one in a stack.
    pub layer: &'a str,
    /// What is glued.
    #[serde(flatten)]
    pub work: GlueWork<'a>,
    /// What comes before the glue.
    pub prepare: Preparation,
    /// Its key in the table of glues.
    pub glue: &'a str,
    /// Joints that are wet at once.
    pub joints: u32,
    /// All its joints.
    pub glue_area_mm2: f64,
    /// Of glue, without what is lost.
    pub glue_g: f64,
    /// The hands make ready: before the glue.
    pub hands_min: f64,
    /// To spread and close all joints.
    pub spread_min: f64,
    /// How long the glue may lie open.
    pub open_min: f64,
    /// What is left of that when the joints that are wet at once are closed; below zero when it does not suffice.
    pub open_left_min: f64,
    /// In its clamp, or left alone.
    pub clamp_min: f64,
    /// `band`, `cauls`, `clamps`, or `none` of what is rubbed on and left alone.
    pub clamp_kind: &'static str,
    /// Which: an index into `clamps`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clamp: Option<usize>,
    /// What a band has to go round.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub round_mm: Option<f64>,
    /// When the hands begin.
    pub start_min: f64,
    /// When it goes into its clamp.
    pub clamped_min: f64,
    /// When it is out.
    pub ready_min: f64,
    /// The ids of the steps that must be out of clamps before.
    pub after: Vec<String>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// What a glue-up makes of what; segments count from 1.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(tag = "work", rename_all = "snake_case")]
#[allow(missing_docs, reason = "the keys say it")]
pub enum GlueWork<'a> {
    /// Neighbors to a run.
    Run { first_segment: u32, segments: u32, parts: u32 },
    /// Segments or runs to a half ring.
    Half { first_segment: u32, segments: u32, parts: u32 },
    /// Two halves to a ring.
    Close,
    /// All segments in one go.
    WholeRing { segments: u32 },
    /// A layer onto the one below.
    Stack { onto: &'a str },
    /// Plies to a laminated board.
    Board { board: &'a str, plies: u32 },
    /// Boards edge to edge to a blank.
    Panel { parts: u32 },
    /// A spacer to one end of each of these segments; that of the bare one goes on the far end of the one before it.
    Spacers {
        first_segment: u32,
        segments: u32,
        #[serde(skip_serializing_if = "Option::is_none")]
        bare_segment: Option<u32>,
    },
    /// A plug over the points of wedges.
    Plug,
    /// Open segments, one by one, onto the layer below; `onto` is empty at the bottom of a stack.
    SetOpen { segments: u32, onto: &'a str },
}

/// What must be done with the parts before glue is spread.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Preparation {
    /// Laid out dry.
    DryFit,
    /// Both ends of each half flattened together.
    FlattenHalfEnds,
    /// Both faces of the new joint flattened.
    FlattenFaces,
    /// The face of the lower layer flattened.
    FlattenBelow,
    /// The face of the upper layer flattened.
    FlattenAbove,
    /// Both faces of every ply planed.
    PlanePlies,
    /// The edges of every part planed.
    PlaneEdges,
    /// The hole bored, the plug turned to fit.
    BoreHole,
}

/// What flattened half rings cost when every cut is off the same way by the shop's `angle-error`.
#[derive(Debug, Serialize, JsonSchema)]
pub struct HalfRing<'a> {
    /// The layer's id.
    pub layer: &'a str,
    /// From the proud edge of each end.
    pub sanded_mm: f64,
    /// Of the largest diameter that can be turned.
    pub diameter_lost_mm: f64,
}

/// Poured from the plan.
pub(super) fn schedule<'a>(complete: &Complete<'a>) -> GlueSchedule<'a> {
    let sheet = Sheet::new(complete);
    let schedule = &complete.plan.glue;
    let id = |at: &usize| schedule.steps.get(*at).map_or(String::new(), |step| sheet.step(step));
    GlueSchedule {
        opens_min: schedule.calendar.opens.minutes(),
        closes_min: schedule.calendar.closes.minutes(),
        days_off: schedule.calendar.days_off.iter().map(|day| day.word()).collect(),
        start_date: schedule.calendar.start.map(|date| date.to_string()),
        clamps: schedule.clamps.iter().map(|clamps| clamps_of(complete, clamps)).collect(),
        steps: schedule
            .order
            .iter()
            .filter_map(|at| schedule.steps.get(*at))
            .map(|one| step(complete, &sheet, one))
            .collect(),
        begin_min: schedule.begin.minutes(),
        end_min: schedule.end.minutes(),
        makespan_min: schedule.makespan.minutes(),
        bound_min: schedule.bound.minutes(),
        critical_path_min: schedule.critical_path.minutes(),
        critical_steps: schedule.critical.iter().map(id).collect(),
        is_optimal: schedule.is_optimal,
        glue_needed: schedule.glue_needed.iter().map(|need| glue_need(complete, need)).collect(),
        half_rings: schedule.rings.iter().filter_map(|ring| half_ring(complete, ring)).collect(),
    }
}

fn clamps_of(complete: &Complete<'_>, clamps: &plan::Clamps) -> Clamps {
    let band = match clamps.kind {
        ClampKind::Band(at) => complete.recipe.shop.bands.get(at),
        ClampKind::Cauls | ClampKind::Clamps => None,
    };
    Clamps {
        kind: kind(clamps.kind),
        from_mm: band.map(|band| band.from.value.across().mm()),
        to_mm: band.map(|band| band.to.value.across().mm()),
        count: clamps.count.value.0,
    }
}

fn kind(kind: ClampKind) -> &'static str {
    match kind {
        ClampKind::Band(_) => "band",
        ClampKind::Cauls => "cauls",
        ClampKind::Clamps => "clamps",
    }
}

fn glue_key<'a>(complete: &Complete<'a>, glue: usize) -> &'a str {
    complete.recipe.glues.get(glue).map_or("", |used| &used.glue.key)
}

fn glue_need<'a>(complete: &Complete<'a>, need: &plan::GlueNeed) -> GlueNeed<'a> {
    GlueNeed {
        glue: glue_key(complete, need.glue),
        area_mm2: need.area.value.mm2(),
        mass_g: need.mass.value.grams(),
        workings: traces([named("area", &need.area), named("mass", &need.mass)]),
    }
}

fn half_ring<'a>(complete: &Complete<'a>, ring: &plan::RingGlue) -> Option<HalfRing<'a>> {
    let cost = ring.half_ring_cost?;
    Some(HalfRing {
        layer: layer_id(complete, ring.layer),
        sanded_mm: cost.sanded.value.mm(),
        diameter_lost_mm: cost.diameter_lost.value.mm(),
    })
}

fn step<'a>(complete: &Complete<'a>, sheet: &Sheet<'_>, step: &plan::GlueStep) -> GlueStep<'a> {
    let schedule = &complete.plan.glue;
    let clamp = step.takes.and_then(|at| schedule.clamps.get(at));
    let id = |at: &usize| schedule.steps.get(*at).map_or(String::new(), |step| sheet.step(step));
    let mut workings = traces([
        named("glue_area", &step.area),
        named("glue", &step.mass),
        named("hands", &step.hands),
        named("spread", &step.spread),
    ]);
    if let Some(round) = &step.round {
        workings.extend(traces([named("round", round)]));
    }
    GlueStep {
        id: sheet.step(step),
        layer: layer_id(complete, step.layer),
        work: glue_work(complete, step.work),
        prepare: preparation(step.prepare),
        glue: glue_key(complete, step.glue),
        joints: step.joints.value.0,
        glue_area_mm2: step.area.value.mm2(),
        glue_g: step.mass.value.grams(),
        hands_min: step.hands.value.minutes(),
        spread_min: step.spread.value.minutes(),
        open_min: step.open.value.minutes(),
        open_left_min: step.open_left().minutes(),
        clamp_min: step.clamp.value.minutes(),
        clamp_kind: clamp.map_or("none", |clamp| kind(clamp.kind)),
        clamp: step.takes,
        round_mm: step.round.map(|round| round.value.across().mm()),
        start_min: step.start.minutes(),
        clamped_min: step.clamped().minutes(),
        ready_min: step.ready().minutes(),
        after: step.after.iter().map(id).collect(),
        workings,
    }
}

fn preparation(prepare: plan::Preparation) -> Preparation {
    match prepare {
        plan::Preparation::DryFit => Preparation::DryFit,
        plan::Preparation::FlattenHalfEnds => Preparation::FlattenHalfEnds,
        plan::Preparation::FlattenFaces => Preparation::FlattenFaces,
        plan::Preparation::FlattenBelow => Preparation::FlattenBelow,
        plan::Preparation::FlattenAbove => Preparation::FlattenAbove,
        plan::Preparation::PlanePlies => Preparation::PlanePlies,
        plan::Preparation::PlaneEdges => Preparation::PlaneEdges,
        plan::Preparation::BoreHole => Preparation::BoreHole,
    }
}

fn glue_work<'a>(complete: &Complete<'a>, work: plan::GlueWork) -> GlueWork<'a> {
    match work {
        plan::GlueWork::Run { first, segments, parts } => GlueWork::Run { first_segment: first + 1, segments, parts },
        plan::GlueWork::Half { first, segments, parts, .. } => {
            GlueWork::Half { first_segment: first + 1, segments, parts }
        }
        plan::GlueWork::Board { wood, plies } => GlueWork::Board { board: wood_name(complete, wood), plies },
        plan::GlueWork::Panel { parts, .. } => GlueWork::Panel { parts },
        plan::GlueWork::Spacers { first, segments, bare } => {
            GlueWork::Spacers { first_segment: first + 1, segments, bare_segment: bare.map(|bare| bare + 1) }
        }
        plan::GlueWork::Plug => GlueWork::Plug,
        plan::GlueWork::SetOpen { segments, onto } => {
            GlueWork::SetOpen { segments, onto: onto.map_or("", |onto| layer_id(complete, onto)) }
        }
        plan::GlueWork::Close => GlueWork::Close,
        plan::GlueWork::WholeRing { segments } => GlueWork::WholeRing { segments },
        plan::GlueWork::Stack { onto } => GlueWork::Stack { onto: layer_id(complete, onto) },
    }
}
