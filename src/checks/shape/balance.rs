//! Where the weight of a vessel lies, and how far it may lean before it goes over.

use crate::checks::Design;
use crate::geometry::{BuiltLayer, Profile, TurnedPart};
use crate::quantity::{Angle, Density, Diameter, Length, Mass, Volume, trig};
use crate::resolve::{InsertForm, PartKind, RecipeWood, Seat, Stock};
use crate::tables::Wood;

/// Of water: a gram a milliliter, as the gram was once defined.
const WATER_G_PER_MM3: f64 = 1e-3;

/// Something heavy on the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Weight {
    pub(super) mass: Mass,
    /// Height of its center above the bench.
    pub(super) height: Length,
}

impl Weight {
    /// Several as one; `None` when they weigh nothing.
    pub(super) fn sum(weights: impl IntoIterator<Item = Self>) -> Option<Self> {
        let (mut grams, mut moment) = (0.0, 0.0);
        for weight in weights {
            grams += weight.mass.grams();
            moment += weight.mass.grams() * weight.height.mm();
        }
        (grams > 0.0).then(|| Self { mass: Mass::from_grams(grams), height: Length::from_mm(moment / grams) })
    }
}

/// How far something may lean before its center stands over the edge of its foot.
pub(super) fn tipping_angle(foot: Length, center: Length) -> Angle {
    Angle::from_degrees(trig::atan2(foot.mm(), center.mm()).to_degrees())
}

/// The wood, closed with its lid. A knob's shape nobody knows: what is let in is not weighed.
pub(super) fn empty(design: Design<'_>) -> Option<Weight> {
    Weight::sum(design.vessel.layers.iter().filter_map(|layer| of_layer(design, layer)))
}

/// Water up to the brim: of the body, or of a liner that stands in it.
pub(super) fn water(design: Design<'_>) -> Option<Weight> {
    let body = design.vessel.bodies.iter().find(|part| part.part == PartKind::Body)?;
    let of = |volume: Volume, height| Weight { mass: volume.mass(Density::from_g_per_mm3(WATER_G_PER_MM3)), height };
    let liner = design.recipe.fittings.inserts.iter().find_map(|insert| match (insert.seat, insert.form) {
        (Seat::BodyInside, InsertForm::Liner { diameter, tall }) => Some((diameter.value, tall.value)),
        _ => None,
    });
    if let Some((across, tall)) = liner {
        let radius = Diameter::new(across).radius();
        let volume = (radius.by(radius) * std::f64::consts::PI).over(tall);
        return Some(of(volume, design.vessel.cavity_bottom.value + tall / 2.0));
    }
    let (from, to) = (body.inside.bottom(), body.inside.top());
    let volume = body.inside.volume(from, to);
    (volume > Volume::default()).then(|| of(volume, body.inside.center_of_volume(from, to)))
}

/// A layer as it is left after turning. Its mass is that of its woods; gaps and unlike woods lie evenly round the
/// axis, so the curves alone say how high its center is.
fn of_layer(design: Design<'_>, layer: &BuiltLayer) -> Option<Weight> {
    let mass: Mass = layer
        .shares
        .iter()
        .filter_map(|share| Some(share.finished.value.mass(density(design, design.recipe.woods.get(share.wood)?)?)))
        .sum();
    let mut volume = Volume::default();
    let mut moment = 0.0;
    for slice in &layer.slices {
        let Some(part) = design.vessel.bodies.iter().find(|part| part.part == slice.part) else { continue };
        let (own, height) = hollow_center(part, slice.from - slice.raise, slice.to - slice.raise);
        volume = volume + own;
        moment += own.mm3() * height.mm();
    }
    (volume > Volume::default()).then(|| Weight { mass, height: Length::from_mm(moment / volume.mm3()) })
}

/// The wood of a part between two heights, and the height of its center.
fn hollow_center(part: &TurnedPart, from: Length, to: Length) -> (Volume, Length) {
    let of = |curve: &Profile| (curve.volume(from, to), curve.center_of_volume(from, to));
    let ((whole, high), (hollow, low)) = (of(&part.outside), of(&part.inside));
    let left = whole - hollow;
    if left <= Volume::default() {
        return (Volume::default(), high);
    }
    (left, Length::from_mm((whole.mm3() * high.mm() - hollow.mm3() * low.mm()) / left.mm3()))
}

/// Of a wood, or of a board's plies by their thickness.
fn density(design: Design<'_>, used: &RecipeWood) -> Option<Density> {
    match &used.stock {
        Stock::Wood(wood) => Some(Wood::density(wood).value),
        Stock::Board(board) => {
            let whole: Length = board.plies.iter().map(|ply| ply.thick.value).sum();
            let of = |wood: usize| Some(Wood::density(design.recipe.woods.get(wood)?.wood()?).value);
            let shares = board.plies.iter().filter_map(|ply| Some(of(ply.wood)? * (ply.thick.value / whole)));
            (whole > Length::ZERO).then(|| shares.sum())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Weight, hollow_center, tipping_angle};
    use crate::geometry::{Profile, ProfilePoint, TurnedPart};
    use crate::quantity::{Length, Mass};
    use crate::resolve::PartKind;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn points(at: &[(f64, f64)]) -> Vec<ProfilePoint> {
        at.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect()
    }

    fn part(outside: Profile, inside: Profile) -> TurnedPart {
        TurnedPart { part: PartKind::Body, outside, inside }
    }

    #[test]
    fn centers_of_solids_in_closed_form() {
        // A cylinder's center lies halfway up, a cone's a quarter up, half a ball's three eighths of its radius
        // from its flat side (any table of centroids).
        let cylinder = part(Profile::straight(&points(&[(0.0, 30.0), (80.0, 30.0)])), Profile::default());
        assert!((hollow_center(&cylinder, mm(0.0), mm(80.0)).1.mm() - 40.0).abs() < 1e-9);
        let cone = part(Profile::straight(&points(&[(0.0, 30.0), (80.0, 0.0)])), Profile::default());
        assert!((hollow_center(&cone, mm(0.0), mm(80.0)).1.mm() - 20.0).abs() < 1e-9);
        let steps = 4000;
        let dome: Vec<(f64, f64)> = (0..=steps)
            .map(|at| 50.0 * f64::from(at) / f64::from(steps))
            .map(|z| (z, crate::quantity::trig::sqrt((2500.0 - z * z).max(0.0))))
            .collect();
        let dome = part(Profile::straight(&points(&dome)), Profile::default());
        assert!((hollow_center(&dome, mm(0.0), mm(50.0)).1.mm() - 3.0 / 8.0 * 50.0).abs() < 1e-3);
    }

    /// Summed in thin disks.
    #[test]
    fn a_hollow_curve_as_summed() {
        let vase = part(
            Profile::smooth(&points(&[(0.0, 25.0), (44.0, 36.0), (116.0, 23.0), (192.0, 21.0)])),
            Profile::smooth(&points(&[(12.0, 20.0), (44.0, 29.0), (116.0, 16.0), (192.0, 14.0)])),
        );
        for (from, to) in [(0.0, 192.0), (0.0, 12.0), (6.0, 70.0), (100.0, 150.0)] {
            let steps = 60_000;
            let thick = (to - from) / f64::from(steps);
            let (mut volume, mut moment) = (0.0, 0.0);
            for at in 0..steps {
                let z = from + thick * (f64::from(at) + 0.5);
                let radius = |curve: &Profile| if z < curve.bottom().mm() { 0.0 } else { curve.above(mm(z)).mm() };
                let (outer, inner) = (radius(&vase.outside), radius(&vase.inside));
                let disk = std::f64::consts::PI * (outer * outer - inner * inner) * thick;
                volume += disk;
                moment += disk * z;
            }
            let (own, center) = hollow_center(&vase, mm(from), mm(to));
            assert!((own.mm3() / volume - 1.0).abs() < 1e-4, "{from}..{to}");
            assert!((center.mm() - moment / volume).abs() < 1e-2, "{from}..{to}: {}", center.mm());
        }
    }

    #[test]
    fn weights_balance_and_lean() {
        let weight = |grams, height| Weight { mass: Mass::from_grams(grams), height: mm(height) };
        let both = Weight::sum([weight(100.0, 10.0), weight(300.0, 50.0)]).unwrap();
        assert!((both.height.mm() - 40.0).abs() < 1e-12 && (both.mass.grams() - 400.0).abs() < 1e-12);
        assert_eq!(Weight::sum([]), None);
        // As wide as high leans to 45°; √3 times as high to 30°.
        assert!((tipping_angle(mm(20.0), mm(20.0)).degrees() - 45.0).abs() < 1e-9);
        assert!((tipping_angle(mm(20.0), mm(20.0 * 1.732_050_807_568_877_2)).degrees() - 30.0).abs() < 1e-9);
    }
}
