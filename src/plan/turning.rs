//! Vessel to lathe: where to set the calipers, how deep to drill, how fast to turn, what to mind.

use crate::finding::limits;
use crate::geometry::{BuiltLayer, LayerShape, Profile, RingSet, TurnedPart, Vessel};
use crate::quantity::{Length, Ratio, Speed};
use crate::resolve::{PartKind, Recipe};
use crate::tables::Wood;
use crate::workings::{Formula, Known, Ledger};

use super::{Totals, lid};

/// The lathe's page.
#[derive(Debug, Clone)]
pub struct Turning {
    /// Bench upward.
    pub stations: Vec<Station>,
    /// How deep to hollow the body, from its rim; `None` when it has no cavity.
    pub drill_depth: Option<Known<Length>>,
    /// How deep to hollow the lid, from where it meets the body.
    pub lid_depth: Option<Known<Length>>,
    /// One for each part that is turned.
    pub speeds: Vec<SpeedRange>,
    /// What to mind.
    pub cautions: Vec<Caution>,
}

/// A height with the radii to turn there.
#[derive(Debug, Clone)]
pub struct Station {
    /// Of which part, where each is measured on its own.
    pub part: Option<PartKind>,
    /// Above the bench; of a lid, as it lies on the closed vessel.
    pub z: Length,
    /// To turn outside.
    pub outer_radius: Length,
    /// To turn inside; 0 where the vessel is solid.
    pub inner_radius: Length,
    /// What is there.
    pub marks: Vec<Mark>,
}

/// What makes a height worth a measurement.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// The lower face of a layer (index into the vessel's layers).
    LowerFace(usize),
    /// The middle of a layer.
    Middle(usize),
    /// The upper face of the last layer of a part.
    Rim(PartKind),
    /// A point that the recipe gives.
    Point,
    /// Where the outside turns sharply or steps, of which the recipe gives no point.
    Corner,
    /// Where the cavity begins.
    CavityBottom,
    /// Where the cavity ends.
    CavityTop,
    /// Where the tenon begins.
    Shoulder,
    /// Where it ends.
    TenonEnd,
    /// Where the mortise opens.
    MortiseMouth,
    /// Where it ends.
    MortiseEnd,
    /// Just under a step of outside or inside, whose upper side is the next station.
    UnderStep,
}

/// How fast a part may turn.
#[derive(Debug, Clone, Copy)]
pub struct SpeedRange {
    /// Which part.
    pub part: PartKind,
    /// Across the corners of its largest blank.
    pub largest_blank: Known<Length>,
    /// Roughing: no faster than this.
    pub low: Known<Speed>,
    /// The end of the rule's range, for a blank that has been trued.
    pub high: Known<Speed>,
    /// To rough at: the rule's, as near as the lathe comes to it.
    pub rough: Known<Speed>,
    /// When trued: the rule's, as near as the lathe comes to it.
    pub trued: Known<Speed>,
}

/// Something to mind; indexes are into the recipe's woods and glues.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Caution {
    /// The glue must be at full strength before the blank spins.
    FullCure {
        /// Which glue.
        glue: usize,
    },
    /// Speed goes by the corners of the glued blank.
    SpeedByCorners,
    /// Rough slowly, with the tailstock up.
    RoughSlowly,
    /// Stand out of the line of the blank when it starts.
    StandAside,
    /// Face shield.
    FaceShield,
    /// Dust and fumes.
    Dust,
    /// A wood whose dust is known to do harm.
    WoodDust {
        /// Which wood.
        wood: usize,
    },
    /// A wood that food should not touch, or only with care.
    WoodAndFood {
        /// Which wood.
        wood: usize,
    },
    /// The glue and food.
    GlueAndFood {
        /// Which glue.
        glue: usize,
    },
    /// Finishes: curing, rags.
    Finish,
    /// Gaps between segments catch the tool and throw chips.
    OpenSegments,
    /// Staves stand on end: their ends are end grain, and their glue lines carry all the load.
    Staves,
    /// A sheet between layers.
    Sheet {
        /// Index into the vessel's layers, the first of them.
        layer: usize,
    },
    /// A solid round wider than wood movement likes.
    WideDisc {
        /// Index into the vessel's layers.
        layer: usize,
    },
}

/// A solid floor up to this wide is usual in segmented work; wider ones crack in dry winters.
pub const WIDE_DISC: Length = limits::WIDE_SOLID.get();

static LARGEST_BLANK: Formula =
    Formula { gives: "swing of the blank", words: "2 × radius of its outer corners", inputs: &["corner radius"] };

/// The trade's rule for the lathe: diameter in inches times turns a minute between 6,000 and 9,000.
static LOW_SPEED: Formula =
    Formula { gives: "speed to rough at", words: "6000 / diameter in inches, by the corners", inputs: &["diameter"] };

static HIGH_SPEED: Formula =
    Formula { gives: "highest speed", words: "9000 / diameter in inches, by the corners", inputs: &["diameter"] };

static WITHIN_LATHE: Formula = Formula {
    gives: "speed that the lathe has",
    words: "the rule's speed, but not under the lathe's slowest nor over its fastest",
    inputs: &["speed by the rule", "slowest", "fastest"],
};

static DEPTH: Formula = Formula { gives: "depth to hollow", words: "rim − bottom", inputs: &["rim", "bottom"] };

static LID_DEPTH: Formula = Formula {
    gives: "depth to hollow the lid",
    words: "top of the cavity − lower face",
    inputs: &["top", "lower face"],
};

/// Plans the turning.
pub(super) fn turning(recipe: &Recipe, vessel: &Vessel, totals: &Totals, ledger: &mut Ledger) -> Turning {
    let (rim, face) = (lid::body_rim(vessel), lid::lid_face(vessel));
    let is_deep = |depth: &Known<Length>| depth.value > Length::ZERO;
    let depth = ledger.work(&DEPTH, (rim, vessel.cavity_bottom), |(rim, bottom)| rim - bottom);
    let has_lid = vessel.bodies.len() > 1 || vessel.layers.iter().any(|layer| layer.part == PartKind::Lid);
    let lid_depth = has_lid.then(|| ledger.work(&LID_DEPTH, (vessel.cavity_top, face), |(top, face)| top - face));
    Turning {
        stations: all_stations(recipe, vessel),
        drill_depth: Some(depth).filter(is_deep),
        lid_depth: lid_depth.filter(is_deep),
        speeds: [PartKind::Body, PartKind::Lid]
            .into_iter()
            .filter_map(|part| speed(part, recipe, vessel, ledger))
            .collect(),
        cautions: cautions(recipe, vessel, totals),
    }
}

/// Of the whole vessel; where tenon and mortise lie in each other, of each part.
fn all_stations(recipe: &Recipe, vessel: &Vessel) -> Vec<Station> {
    let parts = lid::parts(vessel);
    if parts.is_empty() {
        return stations(recipe, vessel, None, |z| Sides::of(&vessel.outside, z), |z| Sides::of(&vessel.inside, z));
    }
    let of_part = |part: &TurnedPart| {
        stations(recipe, vessel, Some(part), |z| Sides::of(&part.outside, z), |z| Sides::of(&part.inside, z))
    };
    parts.iter().flat_map(of_part).collect()
}

/// Every height worth a measurement, lowest first, within the shape or the part.
pub(super) fn stations(
    recipe: &Recipe,
    vessel: &Vessel,
    part: Option<&TurnedPart>,
    outside: impl Fn(Length) -> Sides,
    inside: impl Fn(Length) -> Sides,
) -> Vec<Station> {
    let mut heights = layer_heights(vessel, part);
    heights.extend(recipe.outside.points.iter().map(|point| (point.height.value, Mark::Point)));
    let inside_points = recipe.inside.iter().flat_map(|inside| &inside.points);
    heights.extend(inside_points.map(|point| (point.height.value, Mark::Point)));
    heights.push((vessel.cavity_bottom.value, Mark::CavityBottom));
    // Of path data, fillets, moldings and feet the recipe gives no points.
    for corner in vessel.outside.corners() {
        if heights.iter().all(|(z, _)| (*z - corner).abs() > APART) {
            heights.push((corner, Mark::Corner));
        }
    }
    if vessel.cavity_top.value < vessel.height.value - SAME {
        heights.push((vessel.cavity_top.value, Mark::CavityTop));
    }
    let mut within = -SAME..=vessel.height.value + SAME;
    let mut cavity = vessel.cavity_bottom.value - SAME..=vessel.cavity_top.value + SAME;
    if let Some(part) = part {
        heights.extend(vessel.joint.iter().flat_map(|joint| lid::marks(joint, part.part)));
        within = part.outside.bottom() - SAME..=part.outside.top() + SAME;
        cavity = part.inside.bottom() - SAME..=part.inside.top() + SAME;
    }
    heights.retain(|(z, _)| within.contains(z));
    heights.sort_by(|a, b| a.0.mm().total_cmp(&b.0.mm()));

    let name = part.map(|part| part.part);
    let mut stations: Vec<Station> = Vec::new();
    for (z, mark) in heights {
        if let Some(last) = stations.last_mut().filter(|last| z - last.z < SAME) {
            if !last.marks.contains(&mark) {
                last.marks.push(mark);
            }
            continue;
        }
        let (outer, inner) = (outside(z), if cavity.contains(&z) { inside(z) } else { Sides::default() });
        // At a step there are two diameters to turn, one over the other.
        if outer.is_step() || part.is_some() && inner.is_step() {
            let marks = vec![Mark::UnderStep];
            stations.push(Station { part: name, z, outer_radius: outer.below, inner_radius: inner.below, marks });
        }
        let marks = vec![mark];
        stations.push(Station { part: name, z, outer_radius: outer.above, inner_radius: inner.above, marks });
    }
    stations
}

/// The faces and middles of the layers, of a part alone if one is given.
fn layer_heights(vessel: &Vessel, part: Option<&TurnedPart>) -> Vec<(Length, Mark)> {
    let mut heights: Vec<(Length, Mark)> = Vec::new();
    let Some(part) = part else {
        for (at, layer) in vessel.layers.iter().enumerate() {
            heights.push((layer.z0.value, Mark::LowerFace(at)));
            heights.push(((layer.z0.value + layer.z1.value) / 2.0, Mark::Middle(at)));
            if vessel.layers.get(at + 1).is_none_or(|next| next.part != layer.part) {
                heights.push((layer.z1.value, Mark::Rim(layer.part)));
            }
        }
        return heights;
    };
    for (at, layer) in vessel.layers.iter().enumerate() {
        for slice in layer.slices.iter().filter(|slice| slice.part == part.part) {
            let (from, to) = (slice.from - slice.raise, slice.to - slice.raise);
            heights.push((from, Mark::LowerFace(at)));
            heights.push(((from + to) / 2.0, Mark::Middle(at)));
        }
    }
    heights.push((part.outside.top(), Mark::Rim(part.part)));
    heights
}

/// Corners nearer to another station than this get none of their own.
const APART: Length = Length::from_mm(0.5);

/// A radius just below a height and just above it.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Sides {
    pub(super) below: Length,
    pub(super) above: Length,
}

impl Sides {
    fn is_step(self) -> bool {
        (self.above - self.below).abs() > SAME
    }

    fn of(profile: &Profile, z: Length) -> Self {
        Self { below: profile.below(z), above: profile.above(z) }
    }
}

/// Heights nearer than this are one.
const SAME: Length = Length::from_mm(1e-6);

fn speed(part: PartKind, recipe: &Recipe, vessel: &Vessel, ledger: &mut Ledger) -> Option<SpeedRange> {
    let layers = vessel.layers.iter().filter(|layer| layer.part == part);
    let largest = layers.max_by(|a, b| a.swing().mm().total_cmp(&b.swing().mm()))?;
    let largest_blank = match &largest.shape {
        LayerShape::Ring(ring) => ledger.work(&LARGEST_BLANK, (ring.corner_radius,), |(radius,)| radius * 2.0),
        LayerShape::Disc { blank_diameter, .. } => *blank_diameter,
        LayerShape::Slant(ring) => {
            let is_wider_below = ring.outer_at_z0.value > ring.outer_at_z1.value;
            let wider = if is_wider_below { ring.outer_at_z0 } else { ring.outer_at_z1 };
            ledger.work(&LARGEST_BLANK, (wider,), |(radius,)| radius * 2.0)
        }
    };
    if largest_blank.value <= Length::ZERO {
        return None;
    }
    let low = ledger.work(&LOW_SPEED, (largest_blank,), |(across,)| per_minute(limits::ROUGHING_RULE.get(), across));
    let high = ledger.work(&HIGH_SPEED, (largest_blank,), |(across,)| per_minute(limits::TRUED_RULE.get(), across));
    let mut within = |speed: Known<Speed>| match recipe.shop.speeds {
        Some(lathe) => ledger.work(&WITHIN_LATHE, (speed, lathe.slow, lathe.fast), |(speed, slow, fast)| {
            Speed::from_rpm(speed.rpm().min(fast.rpm()).max(slow.rpm()))
        }),
        None => speed,
    };
    let (rough, trued) = (within(low), within(high));
    Some(SpeedRange { part, largest_blank, low, high, rough, trued })
}

fn per_minute(rule: Ratio, across: Length) -> Speed {
    Speed::from_rpm(rule.value() / across.inches())
}

fn cautions(recipe: &Recipe, vessel: &Vessel, totals: &Totals) -> Vec<Caution> {
    let woods = || totals.woods.iter().filter_map(|total| Some((total.wood, recipe.woods.get(total.wood)?.wood()?)));
    let mut cautions: Vec<Caution> = (0..recipe.glues.len()).map(|glue| Caution::FullCure { glue }).collect();
    cautions.extend([
        Caution::SpeedByCorners,
        Caution::RoughSlowly,
        Caution::StandAside,
        Caution::FaceShield,
        Caution::Dust,
    ]);
    cautions.extend(of_layers(vessel));
    for (wood, used) in woods() {
        if used.dust_hazard != "none" {
            cautions.push(Caution::WoodDust { wood });
        }
    }
    if recipe.holds.is_none_or(|holds| holds.value.touches_food()) {
        cautions.extend(about_food(recipe, woods().filter(|(_, used)| used.food_contact != "ok")));
    }
    for (at, layer) in vessel.layers.iter().enumerate() {
        if matches!(layer.shape, LayerShape::Disc { is_sheet: false, .. }) && layer.outer_radius.value * 2.0 > WIDE_DISC
        {
            cautions.push(Caution::WideDisc { layer: at });
        }
    }
    cautions.push(Caution::Finish);
    cautions
}

/// Where it may come to food: nobody has said that it does not.
fn about_food<'a>(recipe: &Recipe, woods: impl Iterator<Item = (usize, &'a Wood)>) -> Vec<Caution> {
    let mut cautions: Vec<Caution> = woods.map(|(wood, _)| Caution::WoodAndFood { wood }).collect();
    let glues = recipe.glues.iter().enumerate().filter(|(_, used)| used.glue.food_safe_when_cured != "yes");
    cautions.extend(glues.map(|(glue, _)| Caution::GlueAndFood { glue }));
    cautions
}

/// What the kinds of layers ask for.
fn of_layers(vessel: &Vessel) -> Vec<Caution> {
    let mut cautions = Vec::new();
    let rings = || {
        vessel.layers.iter().filter_map(|layer| match &layer.shape {
            LayerShape::Ring(ring) => Some(ring),
            LayerShape::Disc { .. } | LayerShape::Slant(_) => None,
        })
    };
    if rings().any(|ring| ring.gap.is_some()) {
        cautions.push(Caution::OpenSegments);
    }
    if rings().any(|ring| matches!(ring.set, RingSet::Upright(_))) {
        cautions.push(Caution::Staves);
    }
    let is_sheet = |layer: &BuiltLayer| matches!(layer.shape, LayerShape::Disc { is_sheet: true, .. });
    cautions.extend(vessel.layers.iter().position(is_sheet).map(|layer| Caution::Sheet { layer }));
    cautions
}
