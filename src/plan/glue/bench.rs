//! The glue-ups of a vessel, one behind those it waits for.

use crate::geometry::{LayerShape, RingSet, Vessel};
use crate::plan::budget::ErrorBudget;
use crate::plan::cut_list::{CutList, segments_of};
use crate::plan::cutting::{LaneKind, Panel};
use crate::plan::half_ring::HalfRingCost;
use crate::plan::sub_assembly::{self, Assembly, Makes, Split};
use crate::plan::{Asked, Planned, to_u32};
use crate::quantity::{Area, Count, Diameter, Duration, Length, Mass};
use crate::resolve::{LaminatedBoard, Recipe};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::areas::{self, GluedFaces, RingJoints};
use super::{GlueSchedule, GlueStep, GlueWork, Preparation, RingGlue, hands, timing};

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

static PANEL_JOINTS: Formula = Formula {
    gives: "joints of a panel",
    words: "2 × (parts − 1): a long edge takes as long as two joints",
    inputs: &["parts"],
};

static ROUND: Formula = Formula {
    gives: "round that a band goes about",
    words: "2 × radius of the blank's corners",
    inputs: &["radius of the blank's corners"],
};

static MASS: Formula = Formula {
    gives: "glue for a glue-up",
    words: "glued area in square meters × glue for a square meter",
    inputs: &["glued area", "glue for a square meter"],
};

const MM2_IN_A_SQUARE_METER: f64 = 1e6;

/// How many steps back an equal figure is looked for.
const LOOKED_BACK: usize = 8;

/// All that is to be glued.
#[derive(Clone, Copy)]
pub(in crate::plan) struct ToGlue<'a> {
    pub recipe: &'a Recipe,
    pub vessel: &'a Vessel,
    pub layers: &'a [Planned<'a>],
    pub budgets: &'a [Option<ErrorBudget>],
    pub cuts: &'a CutList,
    pub panels: &'a [Panel],
    pub faces: &'a GluedFaces,
}

/// Plans every glue-up of the vessel.
pub(in crate::plan) fn schedule(to_glue: ToGlue<'_>, asked: Asked<'_>, ledger: &mut Ledger) -> GlueSchedule {
    let ToGlue { recipe, vessel, layers, budgets, .. } = to_glue;
    let mut bench =
        Bench { to_glue, ledger: &mut *ledger, steps: Vec::new(), spreads: Vec::new(), of_cones: Vec::new() };
    let boards = bench.boards();
    let mut rings = Vec::new();
    // The last steps of the stack so far.
    let mut below: Vec<usize> = Vec::new();
    for (at, layer) in layers.iter().enumerate() {
        let mut needs = needs(*layer, &boards);
        needs.extend(bench.panel_of(at));
        let opens = at == 0 || vessel.contacts.get(at - 1).is_none_or(|contact| contact.is_opening);
        let onto = (!opens).then(|| at - 1);
        let under = if opens { Vec::new() } else { std::mem::take(&mut below) };
        if layer.ring().is_some_and(|ring| ring.gap.is_some()) {
            below = bench.open_row(at, *layer, onto, under.into_iter().chain(needs).collect()).into_iter().collect();
            continue;
        }
        let half_ring_cost = budgets.get(at).and_then(|budget| budget.as_ref()?.half_ring);
        let made_by = match bench.ring((at, half_ring_cost), *layer, &needs, &mut rings) {
            Some(ring) => vec![ring],
            None => needs,
        };
        below = match onto {
            None => made_by,
            Some(onto) => {
                let after = under.into_iter().chain(made_by).collect();
                let area = to_glue.faces.above(onto);
                let draft = Draft { layer: at, work: GlueWork::Stack { onto }, joints: JOINTS_OF_A_FACE, area, after };
                bench.push(draft, *layer, stacking(layers[onto], *layer)).into_iter().collect()
            }
        };
    }
    let steps = bench.steps;
    timing::timed(steps, rings, recipe, asked, ledger)
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
    to_glue: ToGlue<'a>,
    ledger: &'a mut Ledger,
    steps: Vec<GlueStep>,
    spreads: Spreads,
    /// The glued-up boards of cones, and the steps that make them.
    of_cones: Vec<(usize, usize)>,
}

/// Spreading times by joints and where their count comes from: of all the steps of a tall stack only a
/// few differ, and a figure that is known is not worked again.
type Spreads = Vec<(Known<Count>, Known<Duration>)>;

/// A step before its clocks are known.
struct Draft {
    layer: usize,
    work: GlueWork,
    joints: Known<Count>,
    area: Known<Area>,
    after: Vec<usize>,
}

impl Bench<'_> {
    /// One glue-up for each laminated board that a layer needs: its wood, and its step.
    fn boards(&mut self) -> Vec<(usize, usize)> {
        let ToGlue { recipe, layers, .. } = self.to_glue;
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
        let ToGlue { cuts, panels, faces, .. } = self.to_glue;
        let row = cuts.boards.iter().position(|row| row.wood == wood);
        let mut after = Vec::new();
        for panel in panels {
            let LaneKind::Ply { board: of, ply } = panel.is else { continue };
            if Some(of) == row {
                let thick = cuts.boards.get(of).and_then(|row| row.plies.get(ply)).map(|ply| ply.thickness);
                after.extend(thick.and_then(|thick| self.panel(layer, panel, thick, board.glue.value)));
            }
        }
        let plies = to_u32(board.plies.len());
        let counted = Known::new(Count(plies), Origin::Written(board.span));
        let joints = self.ledger.work(&BOARD_JOINTS, (counted,), |(plies,)| Count(2 * plies.0.saturating_sub(1)));
        let draft = Draft { layer, work: GlueWork::Board { wood, plies }, joints, area: faces.board(wood), after };
        self.push_with(draft, board.glue.value, Preparation::PlanePlies)
    }

    /// What a layer's round or cone is sawn from, where that is glued up edge to edge.
    fn panel_of(&mut self, at: usize) -> Option<usize> {
        let ToGlue { cuts, panels, layers, .. } = self.to_glue;
        for panel in panels {
            let (thick, cone) = match panel.is {
                LaneKind::Round(row) => {
                    let row = cuts.discs.get(row).filter(|row| row.layers.contains(&at));
                    (row.map(|row| row.thickness), None)
                }
                LaneKind::Cone(cone) => {
                    let row = cuts.cones.get(cone).filter(|row| row.rings.iter().any(|ring| ring.layer == at));
                    (row.map(|row| row.thickness), Some(cone))
                }
                LaneKind::Strip(_) | LaneKind::Staves(_) | LaneKind::Insert(_) | LaneKind::Ply { .. } => (None, None),
            };
            let Some(thick) = thick else { continue };
            if let Some((_, step)) = self.of_cones.iter().find(|(of, _)| Some(*of) == cone) {
                return Some(*step);
            }
            let step = self.panel(at, panel, thick, layers.get(at)?.said.glue.value)?;
            self.of_cones.extend(cone.map(|cone| (cone, step)));
            return Some(step);
        }
        None
    }

    /// Boards edge to edge.
    fn panel(&mut self, layer: usize, panel: &Panel, thick: Known<Length>, glue: usize) -> Option<usize> {
        let counted = Known::new(Count(panel.parts), Origin::Default(&"as wide as the boards allow"));
        let joints = self.ledger.work(&PANEL_JOINTS, (counted,), |(parts,)| Count(2 * parts.0.saturating_sub(1)));
        let area = areas::panel(panel.parts.saturating_sub(1), thick, panel.length, self.ledger);
        let work = GlueWork::Panel { is: panel.is, parts: panel.parts };
        let draft = Draft { layer, work, joints, area, after: Vec::new() };
        self.push_with(draft, glue, Preparation::PlaneEdges)
    }

    /// A row of open segments.
    fn open_row(&mut self, at: usize, layer: Planned<'_>, onto: Option<usize>, after: Vec<usize>) -> Option<usize> {
        let segments = segments_of(layer)?;
        let area = onto.map_or(areas::NONE, |onto| self.to_glue.faces.above(onto));
        let work = GlueWork::SetOpen { segments: segments.value.0, onto };
        let draft = Draft { layer: at, work, joints: ONE_BY_ONE, area, after };
        let step = self.push(draft, layer, Preparation::FlattenBelow)?;
        let all = self.spread(segments);
        let step_of = &mut self.steps[step];
        step_of.spread = all;
        if ROW_DRIES.value > step_of.clamp.value {
            step_of.clamp = ROW_DRIES;
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
        let open = self.to_glue.recipe.glues.get(layer.said.glue.value)?.glue.open_time();
        let mut glued = RingJoints::of(layer.built, ring, self.ledger);
        let round = self.ledger.work(&ROUND, (ring.corner_radius,), |(corners,)| Diameter::new(corners * 2.0));
        // A band holds the whole ring: what is not glued yet stands dry in it as the form of what is, so that only one
        // part is glued at a time.
        let is_banded = timing::bands_round(&self.to_glue.recipe.shop, round.value).next().is_some();
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
            let is_part = matches!(assembly.makes, Makes::Run | Makes::Half(_));
            if let Some(before) = last.filter(|before| is_banded && is_part && !after.contains(before)) {
                after.push(before);
            }
            let area = glued.of_glue_up(&assembly, self.ledger);
            let draft = Draft { layer: at, work: work_of(&assembly), joints, area, after };
            let prepare = match assembly.makes {
                // The ends of unlike halves do not lie in one plane: they can only be fitted.
                Makes::Ring if has_flat_halves => Preparation::FlattenHalfEnds,
                Makes::Ring | Makes::Spaced { .. } | Makes::Run | Makes::Half(_) | Makes::WholeRing => {
                    Preparation::DryFit
                }
            };
            last = self.push(draft, layer, prepare);
        }
        for step in &mut self.steps[start..] {
            step.round = Some(round);
        }
        if let RingSet::ToMiddle { plug: Some(_) } = ring.set {
            let after = last.into_iter().collect();
            let draft = Draft { layer: at, work: GlueWork::Plug, joints: ONE_PLUG, area: glued.wall, after };
            last = self.push(draft, layer, Preparation::BoreHole);
        }
        last
    }

    fn push(&mut self, draft: Draft, layer: Planned<'_>, prepare: Preparation) -> Option<usize> {
        self.push_with(draft, layer.said.glue.value, prepare)
    }

    fn push_with(&mut self, draft: Draft, at: usize, prepare: Preparation) -> Option<usize> {
        let glue = self.to_glue.recipe.glues.get(at)?.glue;
        let Draft { layer, work, joints, area, after } = draft;
        let spread = self.spread(joints);
        let mass = self.mass(area, glue.for_a_square_meter());
        let hands = hands::before_glue(prepare, work, self.ledger);
        self.steps.push(GlueStep {
            layer,
            work,
            prepare,
            glue: at,
            joints,
            area,
            mass,
            hands,
            spread,
            wet: spread,
            open: glue.open_time(),
            clamp: glue.clamp_time(),
            round: None,
            takes: None,
            after,
            start: Duration::default(),
        });
        Some(self.steps.len() - 1)
    }

    /// What so much takes of a glue.
    fn mass(&mut self, area: Known<Area>, rate: Known<Mass>) -> Known<Mass> {
        let alike = self.steps.iter().rev().take(LOOKED_BACK).find(|step| {
            step.area == area && {
                self.to_glue.recipe.glues.get(step.glue).is_some_and(|used| used.glue.for_a_square_meter() == rate)
            }
        });
        match alike {
            Some(step) => step.mass,
            None => self.ledger.work(&MASS, (area, rate), |(area, rate)| rate * (area.mm2() / MM2_IN_A_SQUARE_METER)),
        }
    }

    fn spread(&mut self, joints: Known<Count>) -> Known<Duration> {
        // The latest first: a ring's steps are alike. Looking farther back would cost more than it saves.
        if let Some((_, spread)) = self.spreads.iter().rev().take(LOOKED_BACK).find(|(of, _)| *of == joints) {
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
