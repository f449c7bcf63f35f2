//! What the errors of saw and stop add up to round a ring, and whether the turning allowance bears it.
//!
//! Every segment has two end cuts, so a ring of N has 2N. If all are off by δ the same way, which is what a
//! badly set miter gauge does, the ring misses the circle by 2Nδ. If they are off by chance, this way and that,
//! most of it cancels: δ is taken as two standard deviations of a cut (an assumption), and then two standard
//! deviations of the sum are δ√(2N), which 19 rings of 20 keep within.

use crate::geometry::{RingSet, RingShape};
use crate::quantity::{Angle, Count, Length};
use crate::resolve::Recipe;
use crate::workings::{Formula, Known, Ledger};

use super::Planned;
use super::half_ring::{self, HalfRingCost};
use super::sub_assembly::Split;

/// What the shop's errors do to one ring.
#[derive(Debug, Clone, Copy)]
pub struct ErrorBudget {
    /// Index into the vessel's layers.
    pub layer: usize,
    /// Segments in the ring.
    pub segments: Known<Count>,
    /// How far each end cut may be off.
    pub angle_error: Known<Angle>,
    /// Every cut off the same way.
    pub worst: Miss,
    /// The cuts off by chance: 19 rings of 20 do better.
    pub likely: Miss,
    /// The likely angle shared by all joints: how far each stands open at one end.
    pub shared: Known<Length>,
    /// What edges of wrong length do; unequal shares have no common radius to change.
    pub length: Option<LengthEffect>,
    /// Whether it is closed from two halves whose ends can be flattened.
    pub has_flat_halves: bool,
    /// What flattening them costs, where all segments are alike.
    pub half_ring: Option<HalfRingCost>,
    /// Off the radius, by flattened halves and by length together; only where both are known.
    pub needed: Option<Known<Length>>,
    /// Left on the radius for turning.
    pub allowance: Known<Length>,
}

/// By how much a ring fails to close.
#[derive(Debug, Clone, Copy)]
pub struct Miss {
    /// All joints together.
    pub opening: Known<Angle>,
    /// At the outer corners, when all of it is in one joint.
    pub gap: Known<Length>,
}

/// What long edges that are off do to the outside diameter as glued.
#[derive(Debug, Clone, Copy)]
pub struct LengthEffect {
    /// How far long edges differ.
    pub error: Known<Length>,
    /// All of them out the same way.
    pub worst: Known<Length>,
    /// Out by chance: 19 rings of 20 do better.
    pub likely: Known<Length>,
}

static WORST_OPENING: Formula = Formula {
    gives: "angle by which a ring fails to close, all cuts off the same way",
    words: "2 × segments × error of each cut",
    inputs: &["segments", "error of each cut"],
};

static LIKELY_OPENING: Formula = Formula {
    gives: "angle by which a ring is likely to fail to close",
    words: "√(2 × segments) × error of each cut: the cuts are off by chance, the error taken as two standard deviations, \
            so that 19 rings of 20 do better",
    inputs: &["segments", "error of each cut"],
};

static GAP: Formula = Formula {
    gives: "gap in a ring",
    words: "2 × radius of the outer corners × sin(half the angle by which it fails to close)",
    inputs: &["radius of the outer corners", "angle"],
};

static SHARED: Formula = Formula {
    gives: "opening of each joint when all share the likely angle",
    words: "strip width / cos(half the segment's angle) × sin(angle / segments): the joints touch at one end",
    inputs: &["strip width", "half the segment's angle", "angle", "segments"],
};

static DIAMETER_OF_LENGTH: Formula = Formula {
    gives: "change of the ring's diameter, all long edges out the same way",
    words: "error of the long edges / tan(180° / segments)",
    inputs: &["error of the long edges", "segments"],
};

static LIKELY_DIAMETER_OF_LENGTH: Formula = Formula {
    gives: "likely change of the ring's diameter by its long edges",
    words: "error of the long edges / (tan(180° / segments) × √segments): the ring takes the mean of its pieces",
    inputs: &["error of the long edges", "segments"],
};

static NEEDED: Formula = Formula {
    gives: "turning allowance that the errors use up",
    words: "(diameter lost to flattened half rings + diameter lost to short edges) / 2",
    inputs: &["diameter lost to flattening", "diameter lost to short edges"],
};

/// For each layer, where something can be said: rings joint to joint, with or without spacers, flat or on upright
/// staves. Of open rings nothing adds up; of leaning staves and cones nobody has worked it out.
pub(super) fn budgets(recipe: &Recipe, layers: &[Planned<'_>], ledger: &mut Ledger) -> Vec<Option<ErrorBudget>> {
    layers.iter().enumerate().map(|(at, layer)| budget(at, *layer, recipe, ledger)).collect()
}

fn budget(at: usize, layer: Planned<'_>, recipe: &Recipe, ledger: &mut Ledger) -> Option<ErrorBudget> {
    let (ring, segments) = (layer.ring()?, super::cut_list::segments_of(layer)?);
    let error = recipe.shop.angle_error;
    if !closes_by_angles_alone(ring) || worst_opening(segments.value, error.value).degrees() > MOST {
        return None;
    }
    let mut miss = |formula, opening: fn(Count, Angle) -> Angle| {
        let opening = ledger.work(formula, (segments, error), |(segments, error)| opening(segments, error));
        let gap = ledger.work(&GAP, (ring.corner_radius, opening), |(radius, opening)| gap(radius, opening));
        Miss { opening, gap }
    };
    let (worst, likely) = (miss(&WORST_OPENING, worst_opening), miss(&LIKELY_OPENING, likely_opening));
    let widest = ring.widest()?;
    // Of staves the blade is tilted by it, of flat segments the gauge is set to it.
    let half = if matches!(ring.set, RingSet::Upright(_)) { widest.bevel } else { widest.miter };
    let shared = ledger.work(&SHARED, (ring.strip_width, half, likely.opening, segments), |(width, half, miss, n)| {
        width / half.cos() * (miss / f64::from(n.0)).sin()
    });
    let length = length_effect(ring, segments, recipe.shop.length_error, ledger);
    let has_flat_halves = Split::of(ring).is_straight && segments.value.0 > 3;
    let half_ring = if has_flat_halves { half_ring::cost(segments, ring, error, ledger) } else { None };
    let needed = length.zip(half_ring).map(|(length, half)| {
        ledger.work(&NEEDED, (half.diameter_lost, length.worst), |(flattened, short)| (flattened + short) / 2.0)
    });
    let (angle_error, allowance) = (error, layer.said.allow);
    let layer = at;
    Some(ErrorBudget {
        layer,
        segments,
        angle_error,
        worst,
        likely,
        shared,
        length,
        has_flat_halves,
        half_ring,
        needed,
        allowance,
    })
}

/// Past half a turn there is no ring to speak of.
const MOST: f64 = 180.0;

/// Where the angles round the ring are sawn directly. Of leaning staves two angles together make one joint, and
/// an error of the blade is not one of the joint.
fn closes_by_angles_alone(ring: &RingShape) -> bool {
    let is_upright = match ring.set {
        RingSet::Round | RingSet::ToMiddle { .. } => true,
        RingSet::Upright(stave) => stave.lean.value == Angle::ZERO,
    };
    // A share of half the circle cannot be sawn at all, and is told of where the ring is built.
    let is_sawable = ring.cuts.iter().all(|cut| cut.sweep.degrees() < 180.0);
    is_upright && is_sawable && ring.gap.is_none() && ring.woods.len() >= 3
}

fn length_effect(
    ring: &RingShape,
    segments: Known<Count>,
    error: Known<Length>,
    ledger: &mut Ledger,
) -> Option<LengthEffect> {
    if !ring.cut_of.is_empty() || matches!(ring.set, RingSet::Upright(_)) {
        return None;
    }
    let worst = ledger.work(&DIAMETER_OF_LENGTH, (error, segments), |(error, n)| diameter_of_length(error, n));
    let likely =
        ledger.work(&LIKELY_DIAMETER_OF_LENGTH, (error, segments), |(error, n)| likely_diameter_of_length(error, n));
    Some(LengthEffect { error, worst, likely })
}

fn worst_opening(segments: Count, error: Angle) -> Angle {
    error * (2.0 * f64::from(segments.0))
}

fn likely_opening(segments: Count, error: Angle) -> Angle {
    error * (2.0 * f64::from(segments.0)).sqrt()
}

fn gap(corner_radius: Length, opening: Angle) -> Length {
    corner_radius * (2.0 * (opening / 2.0).sin().abs())
}

/// Of a polygon with its flats at R the edge is 2 R tan(180° / N); so much of an edge is this much of the diameter.
fn diameter_of_length(error: Length, segments: Count) -> Length {
    error / crate::geometry::ring::miter(segments).tan()
}

/// The mean of N independent errors is √N times smaller than one.
fn likely_diameter_of_length(error: Length, segments: Count) -> Length {
    diameter_of_length(error, segments) / f64::from(segments.0).sqrt()
}

#[cfg(test)]
mod tests {
    use super::{diameter_of_length, gap, likely_diameter_of_length, likely_opening, worst_opening};
    use crate::geometry::ring;
    use crate::quantity::{Angle, Count, Length, trig};

    /// A small seeded generator (xorshift64*, Marsaglia 2003) with normal deviates by Box and Muller.
    struct Chance(u64);

    impl Chance {
        fn share(&mut self) -> f64 {
            self.0 ^= self.0 >> 12;
            self.0 ^= self.0 << 25;
            self.0 ^= self.0 >> 27;
            let high = u32::try_from(self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 32).unwrap();
            (f64::from(high) + 0.5) / 4_294_967_296.0
        }

        /// Mean 0, standard deviation 1.
        fn normal(&mut self) -> f64 {
            let (radius, turn) = ((-2.0 * self.share().ln()).sqrt(), std::f64::consts::TAU * self.share());
            radius * trig::cos(turn)
        }
    }

    /// Segments with these long edges and end cuts laid joint on joint, outer corners meeting: where the first
    /// piece begins and the last one ends, and by how much all of them together miss a full turn, in degrees.
    fn lay(edges: &[f64], cuts: &[(f64, f64)]) -> ([f64; 2], f64) {
        let (mut at, mut heading, mut turned) = ([0.0, 0.0], 0.0_f64, 0.0);
        for (piece, edge) in edges.iter().enumerate() {
            at[0] += edge * trig::cos(heading.to_radians());
            at[1] += edge * trig::sin(heading.to_radians());
            // The face of this piece's far end lies on the near end of the next one's.
            let turn = cuts[piece].1 + cuts[(piece + 1) % cuts.len()].0;
            heading += turn;
            turned += turn;
        }
        (at, turned - 360.0)
    }

    fn close(got: f64, wanted: f64, share: f64) -> bool {
        (got - wanted).abs() <= share * wanted.abs()
    }

    #[test]
    fn all_cuts_off_one_way_as_laid_out() {
        for (n, error) in [(6_u32, -0.1), (8, 0.1), (12, 0.1), (12, -0.5), (24, -0.1), (36, 0.1)] {
            let miter = 180.0 / f64::from(n) + error;
            let pieces = usize::try_from(n).unwrap();
            let (end, missed) = lay(&vec![20.0; pieces], &vec![(miter, miter); pieces]);
            let opening = worst_opening(Count(n), Angle::from_degrees(error));
            assert!((missed - opening.degrees()).abs() < 1e-9, "{n}: {missed}");
            // The corners lie on a circle; the miter that was sawn says which.
            let corners = Length::from_mm(20.0 / (2.0 * Angle::from_degrees(miter).sin()));
            let laid = trig::hypot(end[0], end[1]);
            assert!(close(laid, gap(corners, opening).mm(), 1e-9), "{n}: {laid}");
            // On the circle that was meant it differs by as much as the circle does.
            let meant = ring::corner_radius(Length::from_mm(10.0 / ring::miter(Count(n)).tan()), ring::miter(Count(n)));
            let by = Angle::from_degrees(error).radians().abs() / ring::miter(Count(n)).tan();
            assert!(close(laid, gap(meant, opening).mm(), by * 1.1), "{n}: {laid}");
        }
    }

    #[test]
    fn cuts_off_by_chance_as_laid_out() {
        let mut chance = Chance(0x5EED_0001);
        for n in [6_u32, 12, 24] {
            let (error, pieces, rings) = (0.1, usize::try_from(n).unwrap(), 4000);
            let right = 180.0 / f64::from(n);
            let likely = likely_opening(Count(n), Angle::from_degrees(error));
            let corners = Length::from_mm(10.0 / ring::miter(Count(n)).sin());
            let (mut within, mut squares, mut closer) = (0, 0.0, 0);
            for _ in 0..rings {
                let cut = |chance: &mut Chance| right + chance.normal() * error / 2.0;
                let cuts: Vec<(f64, f64)> = (0..pieces).map(|_| (cut(&mut chance), cut(&mut chance))).collect();
                let (_, missed) = lay(&vec![20.0; pieces], &cuts);
                squares += missed * missed;
                within += i32::from(missed.abs() <= likely.degrees());
                closer += i32::from(gap(corners, Angle::from_degrees(missed)) <= gap(corners, likely));
            }
            let two_deviations = 2.0 * (squares / f64::from(rings)).sqrt();
            assert!(close(two_deviations, likely.degrees(), 0.04), "{n}: {two_deviations}");
            let share = f64::from(within) / f64::from(rings);
            assert!((0.944..=0.965).contains(&share) && closer == within, "{n}: {share}");
        }
    }

    /// Unlike shares too: what counts is how many cuts there are.
    #[test]
    fn unequal_segments_miss_by_the_sum_of_their_own_cuts() {
        let cuts: Vec<(f64, f64)> =
            [20.0, 40.0, 20.0, 40.0, 20.0, 40.0].map(|half: f64| (half + 0.1, half + 0.1)).to_vec();
        let (_, missed) = lay(&[10.0, 20.0, 10.0, 20.0, 10.0, 20.0], &cuts);
        assert!((missed - worst_opening(Count(6), Angle::from_degrees(0.1)).degrees()).abs() < 1e-9);
    }

    /// 1 / tan(180° / N), worked out apart from this program.
    #[test]
    fn diameter_of_long_edges_all_out_by_one() {
        for (n, wanted) in [(6, 1.73205), (8, 2.41421), (12, 3.73205), (24, 7.59575), (36, 11.4301)] {
            let got = diameter_of_length(Length::from_mm(1.0), Count(n)).mm();
            // Printed with six digits: half of the last one.
            let half_a_digit = if wanted < 10.0 { 5e-6 } else { 5e-5 };
            assert!((got - wanted).abs() <= half_a_digit, "{n}: {got}");
            // N ΔL / π, the rule of thumb by the perimeter, says more.
            assert!(got < f64::from(n) / std::f64::consts::PI);
        }
    }

    /// Edges out by chance, laid out at right angles to their true directions; what fails to close is shared by
    /// all corners. The mean distance of the flats from the middle is compared.
    #[test]
    fn diameter_of_long_edges_out_by_chance() {
        let mut chance = Chance(0x5EED_0002);
        for n in [6_u32, 12, 24] {
            let (pieces, rings, error, edge) = (usize::try_from(n).unwrap(), 4000, 0.1, 20.0);
            let right = edge / ring::miter(Count(n)).tan();
            let mut squares = 0.0;
            for _ in 0..rings {
                let edges: Vec<f64> = (0..pieces).map(|_| edge + chance.normal() * error / 2.0).collect();
                let off = mean_diameter(&edges) - right;
                squares += off * off;
            }
            let two_deviations = 2.0 * (squares / f64::from(rings)).sqrt();
            let likely = likely_diameter_of_length(Length::from_mm(error), Count(n)).mm();
            assert!(close(two_deviations, likely, 0.04), "{n}: {two_deviations} is not {likely}");
        }
        let all_out = mean_diameter(&[20.1; 12]) - mean_diameter(&[20.0; 12]);
        assert!(close(all_out, diameter_of_length(Length::from_mm(0.1), Count(12)).mm(), 1e-9), "{all_out}");
    }

    /// Twice the mean distance of the edges' lines from the mean of the corners.
    fn mean_diameter(edges: &[f64]) -> f64 {
        let count = f64::from(u32::try_from(edges.len()).unwrap());
        let headings: Vec<f64> =
            (0..edges.len()).map(|at| (360.0 / count * f64::from(u32::try_from(at).unwrap())).to_radians()).collect();
        let mut corners = vec![[0.0, 0.0]];
        for (edge, heading) in edges.iter().zip(&headings) {
            let last = corners[corners.len() - 1];
            corners.push([last[0] + edge * trig::cos(*heading), last[1] + edge * trig::sin(*heading)]);
        }
        let missed = corners[edges.len()];
        let shared: Vec<[f64; 2]> = (0_u32..)
            .zip(&corners)
            .map(|(at, corner)| {
                let share = f64::from(at) / count;
                [corner[0] - missed[0] * share, corner[1] - missed[1] * share]
            })
            .collect();
        let middle = shared[1..].iter().fold([0.0, 0.0], |sum, at| [sum[0] + at[0] / count, sum[1] + at[1] / count]);
        let far = |(edge, heading): (usize, &f64)| {
            let (from, to) = (shared[edge], shared[edge + 1]);
            let at = [f64::midpoint(from[0], to[0]) - middle[0], f64::midpoint(from[1], to[1]) - middle[1]];
            (at[0] * trig::sin(*heading) - at[1] * trig::cos(*heading)).abs()
        };
        2.0 * headings.iter().enumerate().map(far).sum::<f64>() / count
    }
}
