//! How far a glued blank's center of mass lies off the axis, and what that does on the lathe.
//!
//! A motif that comes round the ring more than once balances itself; one that puts the heavier wood on one side
//! does not. Only the pattern is counted: how a blank is mounted nobody knows beforehand.

use crate::geometry::{BuiltLayer, LayerShape, RingShape, Vessel};
use crate::quantity::{Angle, Density, Length, Mass, Ratio, Speed, trig};
use crate::resolve::{PartKind, Recipe, RecipeWood, Stock};

/// Of one part as glued.
#[derive(Debug, Clone, Copy)]
pub struct Balance {
    /// Of the blank.
    pub mass: Mass,
    /// Of its center of mass from the axis.
    pub offset: Length,
    /// The layer that does most to it (index into the vessel's layers).
    pub worst_layer: usize,
}

/// Acceleration of gravity, by definition of the standard one, in m/s².
const GRAVITY: f64 = 9.80665;

impl Balance {
    /// How hard it pulls at a speed, as a share of its weight: offset × ω² / g.
    #[must_use]
    pub fn pull(&self, speed: Speed) -> Ratio {
        let turn = std::f64::consts::TAU * speed.rpm() / 60.0;
        Ratio::of(self.offset.mm() / 1000.0 * turn * turn / GRAVITY)
    }

    /// The speed at which it pulls by that share of its weight.
    #[must_use]
    pub fn speed_of(&self, pull: Ratio) -> Speed {
        let offset = (self.offset.mm() / 1000.0).max(f64::MIN_POSITIVE);
        Speed::from_rpm((pull.value() * GRAVITY / offset).sqrt() * 60.0 / std::f64::consts::TAU)
    }
}

/// How far a point of a blank's rim travels in a second.
#[must_use]
pub fn rim_in_a_second(across: Length, speed: Speed) -> Length {
    across * (std::f64::consts::PI * speed.rpm() / 60.0)
}

/// Of all layers of a part as they are glued; `None` of a part without any.
#[must_use]
pub fn balance(recipe: &Recipe, vessel: &Vessel, part: PartKind) -> Option<Balance> {
    let (mut mass, mut moment) = (0.0, [0.0, 0.0]);
    let mut of_layers = Vec::new();
    for (at, layer) in vessel.layers.iter().enumerate().filter(|(_, layer)| layer.part == part) {
        mass +=
            layer.shares.iter().map(|share| share.blank.value.mass(density(recipe, share.wood)).grams()).sum::<f64>();
        let of_layer = layer_moment(recipe, layer);
        moment = [moment[0] + of_layer[0], moment[1] + of_layer[1]];
        of_layers.push((at, of_layer));
    }
    if mass <= 0.0 {
        return None;
    }
    let along = |of: [f64; 2]| of[0] * moment[0] + of[1] * moment[1];
    let (worst_layer, _) = of_layers.into_iter().max_by(|a, b| along(a.1).total_cmp(&along(b.1)))?;
    let offset = Length::from_mm(trig::hypot(moment[0], moment[1]) / mass);
    Some(Balance { mass: Mass::from_grams(mass), offset, worst_layer })
}

/// Mass times distance of a layer, in g mm along both axes. Rounds, sheets and cones lie centered.
fn layer_moment(recipe: &Recipe, layer: &BuiltLayer) -> [f64; 2] {
    match &layer.shape {
        LayerShape::Ring(ring) => ring_moment(ring, layer, |wood| density(recipe, wood)),
        LayerShape::Disc { .. } | LayerShape::Slant(_) => [0.0, 0.0],
    }
}

fn ring_moment(ring: &RingShape, layer: &BuiltLayer, density: impl Fn(usize) -> Density) -> [f64; 2] {
    let gap = ring.gap.map_or(Angle::ZERO, |gap| gap.value);
    let (outer, thick) = (layer.blank_outer_radius.value, layer.rough_thickness.value);
    let inner = (outer - ring.strip_width.value).max(Length::ZERO);
    ring.joints().zip(&ring.woods).enumerate().fold([0.0, 0.0], |sum, (at, (joint, wood))| {
        let sweep = ring.cut(at).map_or(Angle::ZERO, |cut| cut.sweep);
        let direction = layer.rotation + joint + (sweep + gap) / 2.0;
        let moment = face_moment(outer, inner, sweep) * thick.mm() * density(*wood).g_per_mm3();
        [sum[0] + moment * direction.cos(), sum[1] + moment * direction.sin()]
    })
}

/// Area times distance from the axis of a segment between two flats, in mm³: the integral of 2 r² tan(half) dr.
fn face_moment(outer: Length, inner: Length, sweep: Angle) -> f64 {
    let cube = |length: Length| length.mm() * length.mm() * length.mm();
    2.0 / 3.0 * (sweep / 2.0).tan() * (cube(outer) - cube(inner))
}

/// Of a laminated board, the mean of its plies by their thickness.
fn density(recipe: &Recipe, wood: usize) -> Density {
    let plain = |wood: &RecipeWood| wood.wood().map_or(Density::default(), |row| row.density().value);
    match recipe.woods.get(wood) {
        None => Density::default(),
        Some(wood) => match &wood.stock {
            Stock::Wood(_) => plain(wood),
            Stock::Board(board) => {
                let plies =
                    || board.plies.iter().filter_map(|ply| Some((recipe.woods.get(ply.wood)?, ply.thick.value.mm())));
                let thick: f64 = plies().map(|(_, thick)| thick).sum();
                let all: Density = plies().map(|(wood, thick)| plain(wood) * thick).sum();
                all * (1.0 / thick.max(f64::MIN_POSITIVE))
            }
        },
    }
}

#[cfg(test)]
mod tests {
    use super::{Balance, GRAVITY, face_moment, rim_in_a_second};
    use crate::quantity::{Angle, Length, Mass, Speed};

    /// Newtons of m e ω², worked out apart from this program.
    #[test]
    fn pull_of_an_unbalanced_mass() {
        for (kilograms, off, rpm, newtons) in [
            (0.5, 1.0, 1200.0, 7.89568),
            (1.2, 2.0, 800.0, 16.8441),
            (2.0, 1.5, 500.0, 8.22467),
            (0.3, 0.5, 2000.0, 6.57974),
        ] {
            let mass = Mass::from_grams(kilograms * 1000.0);
            let balance = Balance { mass, offset: Length::from_mm(off), worst_layer: 0 };
            let pull = balance.pull(Speed::from_rpm(rpm));
            let got = pull.value() * kilograms * GRAVITY;
            assert!((got - newtons).abs() < 1e-5 * newtons, "{got}");
            assert!((balance.speed_of(pull).rpm() - rpm).abs() < 1e-6);
        }
    }

    /// Meters a second, worked out apart from this program.
    #[test]
    fn speed_of_the_rim() {
        for (inches, rpm, meters) in
            [(6.0, 1200.0, 9.57557), (10.0, 800.0, 10.6395), (14.0, 500.0, 9.30959), (4.0, 2000.0, 10.6395)]
        {
            let got = rim_in_a_second(Length::from_inches(inches), Speed::from_rpm(rpm)).mm() / 1000.0;
            assert!((got - meters).abs() < 1e-5 * meters, "{got}");
        }
    }

    /// Against a brute force over small squares.
    #[test]
    fn moment_of_a_segments_face() {
        let (outer, inner, half) = (50.0, 30.0, 15.0_f64);
        let (mut sum, step) = (0.0, 0.05);
        let slope = Angle::from_degrees(half).tan();
        let mut x = inner + step / 2.0;
        while x < outer {
            let mut y = -x * slope + step / 2.0;
            while y < x * slope {
                sum += x * step * step;
                y += step;
            }
            x += step;
        }
        let got = face_moment(Length::from_mm(outer), Length::from_mm(inner), Angle::from_degrees(2.0 * half));
        assert!((got - sum).abs() < 2e-3 * sum, "{got} {sum}");
    }
}
