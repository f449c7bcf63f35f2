//! What is glued, face by face: between layers, within laminated boards and panels, and joint by joint within rings.

use crate::geometry::{BuiltLayer, RingSet, RingShape, Vessel, shares, wedge};
use crate::plan::cut_list::CutList;
use crate::plan::sub_assembly::{Assembly, Makes};
use crate::plan::to_u32;
use crate::quantity::{Angle, Area, Count, Diameter, Length, Ratio};
use crate::workings::{Formula, Known, Ledger, Origin};

static FACE: Formula = Formula {
    gives: "glued face between two layers",
    words: "pi × (outer radius² − inner radius²), where both blanks are",
    inputs: &["least outer radius", "greatest inner radius"],
};

static PLY_FACES: Formula = Formula {
    gives: "glued faces of a laminated board",
    words: "faces × width × length",
    inputs: &["faces", "width", "length"],
};

static EDGES: Formula = Formula {
    gives: "glued edges of a panel",
    words: "joints × thickness × length",
    inputs: &["joints", "thickness", "length"],
};

static WITHOUT_PLUG: Formula = Formula {
    gives: "glued joints of the wedges",
    words: "glued joints of the disc − wall of the plug",
    inputs: &["glued joints of the disc", "wall of the plug"],
};

static OF_A_GLUE_UP: Formula = Formula {
    gives: "glued area of a glue-up within a ring",
    words: "glued joints of the ring × joints here / all joints; of unlike joints their lengths are compared",
    inputs: &["glued joints of the ring", "joints here", "all joints"],
};

/// The faces that are glued outside the rings, each worked out once.
#[derive(Debug)]
pub(in crate::plan) struct GluedFaces {
    /// Beside the vessel's contacts; `None` where body and lid meet.
    between: Vec<Option<Known<Area>>>,
    /// Beside the laminated boards of the cut list, with their woods.
    boards: Vec<(usize, Known<Area>)>,
}

impl GluedFaces {
    pub(in crate::plan) fn of(vessel: &Vessel, cuts: &CutList, ledger: &mut Ledger) -> Self {
        let pairs = vessel.contacts.iter().zip(vessel.layers.windows(2));
        let mut between = Vec::with_capacity(vessel.contacts.len());
        for (contact, pair) in pairs {
            let outer = nearest(contact.outer_radius, pair.iter().map(|layer| layer.blank_outer_radius));
            let inner = nearest(contact.inner_radius, pair.iter().map(|layer| layer.blank_inner_radius));
            between.push((!contact.is_opening).then(|| ledger.work(&FACE, (outer, inner), |_| contact.area)));
        }
        let mut boards = Vec::with_capacity(cuts.boards.len());
        for board in &cuts.boards {
            let faces =
                Known::new(Count(to_u32(board.plies.len().saturating_sub(1))), Origin::Default(&"one less than plies"));
            let sides = (faces, board.width, board.length);
            let area = ledger.work(&PLY_FACES, sides, |(faces, width, long)| width.by(long) * f64::from(faces.0));
            boards.push((board.wood, area));
        }
        Self { between, boards }
    }

    /// Every face.
    pub(in crate::plan) fn all(&self) -> impl Iterator<Item = Known<Area>> {
        self.between.iter().flatten().copied().chain(self.boards.iter().map(|(_, area)| *area))
    }

    /// Between a layer and the next one up.
    pub(super) fn above(&self, layer: usize) -> Known<Area> {
        self.between.get(layer).copied().flatten().unwrap_or(NONE)
    }

    /// Of the laminated board of that wood.
    pub(super) fn board(&self, wood: usize) -> Known<Area> {
        self.boards.iter().find(|(of, _)| *of == wood).map_or(NONE, |(_, area)| *area)
    }
}

/// Where no glue goes.
pub(super) const NONE: Known<Area> = Known::new(Area::from_mm2(0.0), Origin::Default(&"nothing is glued here"));

/// `radius` with the origin of that candidate which decided it; a given strip may make a hole that is none of them.
fn nearest(radius: Length, candidates: impl Iterator<Item = Known<Length>>) -> Known<Length> {
    let off = |candidate: &Known<Length>| (candidate.value - radius).abs().mm();
    let deciding = candidates.min_by(|a, b| off(a).total_cmp(&off(b)));
    let origin = deciding.filter(|candidate| off(candidate) < 1e-9).map(|candidate| candidate.origin);
    Known::new(radius, origin.unwrap_or(Origin::Default(&"measured on the blanks")))
}

/// Edge to edge.
pub(super) fn panel(joints: u32, thick: Known<Length>, long: Length, ledger: &mut Ledger) -> Known<Area> {
    let joints = Known::new(Count(joints), Origin::Default(&"one less than parts"));
    let long = Known::new(long, Origin::Default(&"as long as the blank"));
    ledger.work(&EDGES, (joints, thick, long), |(joints, thick, long)| thick.by(long) * f64::from(joints.0))
}

/// The joints of one ring, to be told apart glue-up by glue-up.
pub(super) struct RingJoints {
    /// All of them, without the plug.
    all: Known<Area>,
    /// Of the plug.
    pub wall: Known<Area>,
    lengths: Lengths,
    /// Shares of the ring that are known already: the halves of a ring are alike.
    known: Vec<(f64, Known<Area>)>,
}

/// How long joints are, compared with one another.
enum Lengths {
    /// All alike: how many.
    Alike(f64),
    /// Beside the segments: the joint at which each begins.
    Flush(Vec<f64>),
    /// Beside the segments: either end of each, to which a spacer is glued.
    Spaced(Vec<f64>),
}

impl RingJoints {
    pub(super) fn of(layer: &BuiltLayer, ring: &RingShape, ledger: &mut Ledger) -> Self {
        let (all, wall) = match ring.set {
            RingSet::ToMiddle { plug: Some(plug) } => {
                let sides = (plug.diameter, layer.rough_thickness);
                let wall = ledger.work(&wedge::PLUG_GLUE_AREA, sides, |(across, thick)| {
                    wedge::plug_glue_area(Diameter::new(across), thick)
                });
                (ledger.work(&WITHOUT_PLUG, (layer.joint_area, wall), |(all, wall)| all - wall), wall)
            }
            RingSet::ToMiddle { plug: None } | RingSet::Round | RingSet::Upright(_) => (layer.joint_area, NONE),
        };
        Self { all, wall, lengths: lengths(layer, ring), known: Vec::new() }
    }

    /// The joints of one glue-up of the ring.
    pub(super) fn of_glue_up(&mut self, assembly: &Assembly, ledger: &mut Ledger) -> Known<Area> {
        let (here, all) = self.lengths.of(assembly);
        if let Some((_, area)) = self.known.iter().find(|(of, _)| of.total_cmp(&here).is_eq()) {
            return *area;
        }
        let compared = |lengths| Known::new(Ratio::of(lengths), Origin::Default(&"as they lie round the ring"));
        let area = ledger.work(&OF_A_GLUE_UP, (self.all, compared(here), compared(all)), |(area, here, all)| {
            if all.value() > 0.0 { area * (here.value() / all.value()) } else { area * 0.0 }
        });
        self.known.push((here, area));
        area
    }
}

impl Lengths {
    /// Those of one glue-up, and all.
    fn of(&self, assembly: &Assembly) -> (f64, f64) {
        let is_spacing = matches!(assembly.makes, Makes::Spaced { .. });
        match self {
            Self::Alike(all) => (f64::from(assembly.joints), *all),
            Self::Flush(lengths) => (sum(lengths, assembly.seams.iter().copied()), sum_of(lengths)),
            Self::Spaced(ends) => {
                let count = to_u32(ends.len()).max(1);
                // A spacer goes on the segment that begins at the joint; the ring is closed against the one before.
                let side = |seam: u32| if is_spacing { seam } else { (seam + count - 1) % count };
                (sum(ends, assembly.seams.iter().map(|seam| side(*seam))), 2.0 * sum_of(ends))
            }
        }
    }
}

fn sum(lengths: &[f64], of: impl Iterator<Item = u32>) -> f64 {
    of.filter_map(|at| lengths.get(at as usize)).fold(0.0, |sum, length| sum + length)
}

fn sum_of(lengths: &[f64]) -> f64 {
    lengths.iter().fold(0.0, |sum, length| sum + length)
}

fn lengths(layer: &BuiltLayer, ring: &RingShape) -> Lengths {
    let segments = ring.woods.len();
    let faces = f64::from(to_u32(segments)) * if ring.spacer.is_some() { 2.0 } else { 1.0 };
    if ring.cut_of.is_empty() {
        return Lengths::Alike(faces);
    }
    let sweep = |at: usize| ring.cut(at).map_or(Angle::ZERO, |cut| cut.sweep);
    if ring.spacer.is_some() {
        return Lengths::Spaced((0..segments).map(|at| 1.0 / (sweep(at) / 2.0).cos()).collect());
    }
    let (outer, strip) = match ring.set {
        RingSet::Round | RingSet::ToMiddle { .. } => (layer.blank_outer_radius.value, ring.strip_width.value),
        RingSet::Upright(stave) => ((stave.outer_at_z0.value + stave.outer_at_z1.value) / 2.0, stave.level_wall.value),
    };
    let joint = |at: usize| {
        let before = (at + segments - 1) % segments;
        shares::joint_length(outer, strip, sweep(before), sweep(at)).mm()
    };
    let joints: Vec<f64> = (0..segments).map(joint).collect();
    if sum_of(&joints) > 0.0 { Lengths::Flush(joints) } else { Lengths::Alike(faces) }
}
