//! What the driest and the dampest weeks do to a lid's clearance.

use crate::finding::{Finding, limits};
use crate::quantity::{Diameter, Humidity, Length, MoistureContent, Movement, Ratio, Temperature};
use crate::resolve::{Fit, Layer, LayerKind, PartKind, Recipe, RecipeWood, Set, Stock};
use crate::tables::Wood;
use crate::tables::emc::{EQUILIBRIUM, equilibrium};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::fitted::{LidJoint, Seasons};
use super::lid_findings;
use super::season;
use super::vessel::BuiltLayer;

/// Looser than planned by more than this factor counts as loose.
const LOOSE: f64 = limits::LOOSE_SHARE.get().value();
/// No clearance that small is worth a word.
const HAIR: Length = limits::CALIPER.get();

static MIDDLE: Formula = Formula {
    gives: "humidity when the joint is fitted",
    words: "the middle of the range it lives in",
    inputs: &["driest", "dampest"],
};
static STAVES_GROWTH: Formula = Formula {
    gives: "growth of the staves' round, on the diameter",
    words: "diameter × swelling across the grain: the grain of staves stands upright",
    inputs: &["diameter", "swelling across the grain"],
};
static HOLE_IN_SOLID: Formula = Formula {
    gives: "growth of a hole in solid wood",
    words: "diameter × swelling along or across the grain: the way that leaves least room, or most where that is asked",
    inputs: &["diameter", "swelling across the grain", "swelling along the grain"],
};
static SOLID_GROWTH: Formula = Formula {
    gives: "growth of a solid round",
    words: "diameter × swelling across or along the grain: the way that leaves least room, or most where that is asked",
    inputs: &["diameter", "swelling across the grain", "swelling along the grain"],
};

/// How the wood at a joint lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Grain {
    /// Round the ring.
    Round,
    /// Upright.
    Upright,
    /// One board, or a board's ring.
    Solid,
}

/// The wood at one side of the joint.
#[derive(Debug, Clone, Copy)]
struct Stuff {
    grain: Grain,
    movement: Known<Movement>,
}

/// The clearance in both seasons, and what is to be said of it.
pub(super) fn seasons(
    recipe: &Recipe,
    joint: &LidJoint,
    layers: &[BuiltLayer],
    ledger: &mut Ledger,
    found: &mut Vec<Finding>,
) -> Option<Seasons> {
    let lives = recipe.fittings.lives?;
    let other = if joint.on == PartKind::Body { PartKind::Lid } else { PartKind::Body };
    let reach = (joint.shoulder.value.min(joint.end.value), joint.shoulder.value.max(joint.end.value));
    let (tenon, mortise) = (stuff(recipe, layers, joint.on, reach)?, stuff(recipe, layers, other, reach)?);
    let warm = Known::new(Temperature::from_celsius(20.0), Origin::Default(&"rooms are taken to have 20 °C"));
    let middle = ledger.work(&MIDDLE, (lives.dry, lives.damp), |(dry, damp)| {
        Humidity::from_percent(f64::midpoint(dry.percent(), damp.percent()))
    });
    let moisture = |humidity: Known<Humidity>, ledger: &mut Ledger| {
        let content = equilibrium(warm.value, humidity.value)?;
        Some(ledger.work(&EQUILIBRIUM, (warm, humidity), |_| content))
    };
    let fitted = moisture(middle, ledger)?;
    let (dry, damp) = (moisture(lives.dry, ledger)?, moisture(lives.damp, ledger)?);
    let side = Side { joint, tenon, mortise, fitted };
    let clearance = [side.then(dry, Room::Least, ledger), side.then(damp, Room::Least, ledger)];
    let most = [side.then(dry, Room::Most, ledger).value, side.then(damp, Room::Most, ledger).value];
    let seasons = Seasons { fitted, moisture: [dry, damp], clearance };
    if joint.fit != Fit::Jam {
        check(recipe, joint, &seasons, most, found);
    }
    Some(seasons)
}

/// Solid wood moves across its grain and hardly along it: which of the two is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Room {
    /// The way that leaves least.
    Least,
    /// The way that leaves most.
    Most,
}

fn check(
    recipe: &Recipe,
    joint: &LidJoint,
    seasons: &Seasons,
    [most_dry, most_damp]: [Length; 2],
    found: &mut Vec<Finding>,
) {
    let planned = joint.clearance.value;
    let [dry, damp] = seasons.clearance.map(|clearance| clearance.value);
    let (worst, is_damp) = if damp <= dry { (damp, true) } else { (dry, false) };
    if worst < -HAIR {
        found.push(lid_findings::binds(recipe, joint, worst, is_damp, planned - worst));
    }
    let (most, is_damp) = if most_damp > most_dry { (most_damp, true) } else { (most_dry, false) };
    if planned > HAIR && most > planned * LOOSE {
        found.push(lid_findings::rattles(recipe, joint, most, is_damp));
    }
}

struct Side<'a> {
    joint: &'a LidJoint,
    tenon: Stuff,
    mortise: Stuff,
    fitted: Known<MoistureContent>,
}

impl Side<'_> {
    /// The clearance when the wood has that moisture.
    fn then(&self, moisture: Known<MoistureContent>, room: Room, ledger: &mut Ledger) -> Known<Length> {
        let along_grain = Known::new(season::LONGITUDINAL, Origin::Default(&season::LONGITUDINAL_REASON));
        let swelling = |movement: Known<Movement>, ledger: &mut Ledger| {
            ledger.work(&season::STRAIN, (movement, self.fitted, moisture), |(movement, made, then)| {
                season::strain(movement, made, then)
            })
        };
        let along = swelling(along_grain, ledger);
        let (in_tenon, in_mortise) = (swelling(self.tenon.movement, ledger), swelling(self.mortise.movement, ledger));
        let joint = self.joint;
        let half = |length: Known<Length>| length.map(|length| length / 2.0);
        // Of a thread, the nominal round of both is the same; what differs is the clearance.
        let hole = joint.thread.map_or(joint.mortise, |thread| thread.major);
        let outer = hole.map(|hole| hole / 2.0 + joint.mortise_wall.value);
        let hole_growth = match self.mortise.grain {
            Grain::Round => {
                let formula = season::hole_growth_formula(outer.value, hole.value / 2.0);
                ledger.work(formula, (outer, half(hole), in_mortise, along), |(outer, inner, across, along)| {
                    season::hole_growth(outer, inner, across, along)
                })
            }
            Grain::Upright => ledger.work(&STAVES_GROWTH, (hole, in_mortise), |(d, across)| d * across.value()),
            Grain::Solid => ledger.work(&HOLE_IN_SOLID, (hole, in_mortise, along), |(d, across, along)| {
                let (across, along) = (d * across.value(), d * along.value());
                if room == Room::Least { across.min(along) } else { across.max(along) }
            }),
        };
        let solid = |d: Length, across: Ratio, along: Ratio| {
            let (across, along) = (d * across.value(), d * along.value());
            if room == Room::Least { across.max(along) } else { across.min(along) }
        };
        let tenon_growth = match self.tenon.grain {
            Grain::Round => {
                let formula = season::outside_growth_formula(joint.tenon.value / 2.0, joint.bore.value / 2.0);
                let inputs = (half(joint.tenon), half(joint.bore), in_tenon, along);
                ledger.work(formula, inputs, |(outer, inner, across, along)| {
                    season::outside_growth(outer, inner, across, along)
                })
            }
            Grain::Upright => ledger.work(&STAVES_GROWTH, (joint.tenon, in_tenon), |(d, across)| d * across.value()),
            Grain::Solid => {
                ledger.work(&SOLID_GROWTH, (joint.tenon, in_tenon, along), |(d, across, along)| solid(d, across, along))
            }
        };
        let (hole, tenon) = (hole.map(Diameter::new), joint.tenon.map(Diameter::new));
        ledger.work(&season::CLEARANCE_THEN, (hole, hole_growth, tenon, tenon_growth), |(m, mg, t, tg)| {
            season::clearance_then(m, mg, t, tg)
        })
    }
}

/// The wood of a part between two heights: the grain that moves most, and the greatest movement.
fn stuff(recipe: &Recipe, layers: &[BuiltLayer], part: PartKind, (from, to): (Length, Length)) -> Option<Stuff> {
    let at_joint = |built: &BuiltLayer| {
        built
            .slices
            .iter()
            .any(|slice| slice.part == part && slice.from - slice.raise < to && slice.to - slice.raise > from)
    };
    let said: Vec<&Layer> =
        recipe.layers().zip(layers).filter(|(_, built)| at_joint(built)).map(|((_, _, layer), _)| layer).collect();
    let grain = |layer: &Layer| match &layer.kind {
        LayerKind::Ring(ring) if matches!(ring.set, Set::Upright) => Grain::Upright,
        LayerKind::Ring(_) => Grain::Round,
        LayerKind::Disc { .. } | LayerKind::Slant(_) => Grain::Solid,
    };
    let grains: Vec<Grain> = said.iter().map(|layer| grain(layer)).collect();
    let grain = [Grain::Solid, Grain::Upright, Grain::Round].into_iter().find(|grain| grains.contains(grain))?;
    let movements = said.iter().flat_map(|layer| woods_of(layer)).flat_map(|wood| movements(recipe, wood));
    let greatest = movements.max_by(|a, b| a.value.strain_per_percent().total_cmp(&b.value.strain_per_percent()))?;
    Some(Stuff { grain, movement: greatest })
}

/// The woods of a layer's own segments or round; indexes into the recipe's woods.
pub(super) fn woods_of(layer: &Layer) -> Vec<usize> {
    match &layer.kind {
        LayerKind::Ring(ring) => ring.pattern.motif.clone(),
        LayerKind::Disc { wood, .. } => vec![*wood],
        LayerKind::Slant(ring) => vec![ring.wood],
    }
}

/// Movement along the growth rings, the greater one, of a wood or of a board's plies.
fn movements(recipe: &Recipe, wood: usize) -> Vec<Known<Movement>> {
    let plain = |wood: usize| recipe.woods.get(wood).and_then(RecipeWood::wood).and_then(Wood::tangential_movement);
    match recipe.woods.get(wood).map(|used| &used.stock) {
        Some(Stock::Board(board)) => board.plies.iter().filter_map(|ply| plain(ply.wood)).collect(),
        Some(Stock::Wood(_)) | None => plain(wood).into_iter().collect(),
    }
}
