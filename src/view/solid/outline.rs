//! What a saw along the axis lays open of a piece, in slabs between levels: what is swept round the axis.

use kurbo::Point;

/// Levels closer than this are one, and so are radii: a tenth of a micrometer, below all wood, above what a mesh in single
/// precision tells apart.
pub(super) const SAME: f64 = 1e-4;

/// A curve as points (radius, height), never falling.
pub(super) type Curve = Vec<Point>;

/// A stretch between two levels: radii of inside and outside at its lower and at its upper end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Slab {
    pub below: f64,
    pub above: f64,
    pub inside: (f64, f64),
    pub outside: (f64, f64),
}

/// The slabs between an inside and an outside curve, held within `near` and `far`, with round holes on the axis.
pub(super) fn slabs(inside: &Curve, outside: &Curve, (near, far): (f64, f64), holes: &[Hole]) -> Vec<Slab> {
    let mut levels: Vec<f64> = inside.iter().chain(outside).map(|point| point.y).collect();
    let (Some(bottom), Some(top)) = (outside.first().map(|at| at.y), outside.last().map(|at| at.y)) else {
        return Vec::new();
    };
    levels.extend(crossings(inside, near));
    levels.extend([near, far].into_iter().flat_map(|radius| crossings(outside, radius)));
    for hole in holes {
        levels.extend([hole.from, hole.to]);
        levels.extend(crossings(inside, hole.radius));
    }
    levels.retain(|level| (bottom..=top).contains(level));
    levels.sort_by(f64::total_cmp);
    levels.dedup_by(|a, b| (*a - *b).abs() < SAME);
    let slab = |pair: &[f64]| {
        let (below, above) = (pair[0], pair[1]);
        let middle = f64::midpoint(below, above);
        let bored = holes.iter().filter(|hole| hole.from < middle && middle < hole.to).map(|hole| hole.radius);
        let least = bored.fold(near, f64::max);
        let at = |z: f64, side: f64| {
            let outside = radius(outside, z, side).min(far);
            let inside = radius(inside, z, side).max(least).min(outside);
            (inside, outside)
        };
        let (low, high) = (at(below, middle), at(above, middle));
        Slab { below, above, inside: (low.0, high.0), outside: (low.1, high.1) }
    };
    let has_wood = |slab: &Slab| slab.outside.0 - slab.inside.0 > SAME || slab.outside.1 - slab.inside.1 > SAME;
    levels.windows(2).map(slab).filter(has_wood).collect()
}

/// A round hole on the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Hole {
    pub radius: f64,
    pub from: f64,
    pub to: f64,
}

/// Where a curve crosses a radius.
fn crossings(curve: &Curve, radius: f64) -> Vec<f64> {
    let crosses = |pair: &[Point]| {
        let (a, b) = (pair[0], pair[1]);
        let is_between = (a.x - radius) * (b.x - radius) < 0.0 && b.y > a.y;
        is_between.then(|| a.y + (b.y - a.y) * (radius - a.x) / (b.x - a.x))
    };
    curve.windows(2).filter_map(crosses).collect()
}

/// Radius of a curve at a level, as it is on that side of it where `toward` lies; 0 where it is not.
fn radius(curve: &Curve, z: f64, toward: f64) -> f64 {
    let holds = |pair: &&[Point]| pair[0].y < toward && toward < pair[1].y;
    curve.windows(2).find(holds).map_or(0.0, |pair| {
        let share = ((z - pair[0].y) / (pair[1].y - pair[0].y)).clamp(0.0, 1.0);
        pair[0].x + (pair[1].x - pair[0].x) * share
    })
}

/// The section as corners with triangles between them, counterclockwise with the radius to the right and height upward, and the
/// edges round it, the wood on their left.
#[derive(Debug, Clone, Default)]
pub(super) struct Face {
    /// Radius and height.
    pub corners: Vec<Point>,
    /// Whether it lies on the outside curve.
    pub is_outer: Vec<bool>,
    pub triangles: Vec<[usize; 3]>,
    pub edges: Vec<(usize, usize)>,
}

impl Face {
    /// Whether each corner has one edge that comes and one that goes: else wood meets wood in a point, which sweeps no
    /// closed surface.
    pub(super) fn is_simple(&self) -> bool {
        let mut goes = vec![0_u8; self.corners.len()];
        let mut comes = goes.clone();
        for (from, to) in &self.edges {
            goes[*from] = goes[*from].saturating_add(1);
            comes[*to] = comes[*to].saturating_add(1);
        }
        goes.iter().chain(&comes).all(|many| *many == 1)
    }

    /// Of slabs from the bench upward; what reaches `far` is held there and not on the outside curve.
    pub(super) fn of(slabs: &[Slab], far: f64) -> Self {
        let mut face = Self::default();
        let mut under: Option<&Slab> = None;
        let mut lower = Vec::new();
        for (at, slab) in slabs.iter().enumerate() {
            if under.is_none() {
                lower = face.row(slab.below, &[ends(slab, false)], far);
                face.level_edges(&lower, None, Some(slab));
            }
            let over = slabs.get(at + 1).filter(|over| (over.below - slab.above).abs() < SAME);
            let both: Vec<(f64, f64)> =
                std::iter::once(ends(slab, true)).chain(over.map(|over| ends(over, false))).collect();
            let upper = face.row(slab.above, &both, far);
            face.strip(&face.within(&lower, ends(slab, false)), &face.within(&upper, ends(slab, true)));
            face.level_edges(&upper, Some(slab), over);
            (under, lower) = (over.map(|_| slab), upper);
        }
        face
    }

    /// New corners on a level, by radius; those of one radius are one.
    fn row(&mut self, height: f64, ends: &[(f64, f64)], far: f64) -> Vec<usize> {
        let mut radii: Vec<(f64, bool)> =
            ends.iter().flat_map(|(inside, outside)| [(*inside, false), (*outside, *outside < far)]).collect();
        radii.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut row: Vec<usize> = Vec::new();
        for (radius, is_outer) in radii {
            match row.last() {
                Some(last) if (self.corners[*last].x - radius).abs() <= SAME => self.is_outer[*last] |= is_outer,
                _ => {
                    row.push(self.corners.len());
                    self.corners.push(Point::new(radius, height));
                    self.is_outer.push(is_outer);
                }
            }
        }
        row
    }

    /// Those corners of a row that a slab reaches.
    fn within(&self, row: &[usize], (inside, outside): (f64, f64)) -> Vec<usize> {
        let holds = |at: &usize| (inside - SAME..=outside + SAME).contains(&self.corners[*at].x);
        row.iter().copied().filter(holds).collect()
    }

    /// The wood between two rows, and the edges at both its ends.
    fn strip(&mut self, lower: &[usize], upper: &[usize]) {
        let (mut low, mut high) = (0, 0);
        while low + 1 < lower.len() || high + 1 < upper.len() {
            // On from that row whose next corner comes first.
            let next = |row: &[usize], at: usize| row.get(at + 1).map(|at| self.corners[*at].x);
            let is_lower = match (next(lower, low), next(upper, high)) {
                (Some(a), Some(b)) => a <= b,
                (a, _) => a.is_some(),
            };
            if is_lower {
                self.triangles.push([lower[low], lower[low + 1], upper[high]]);
                low += 1;
            } else {
                self.triangles.push([lower[low], upper[high + 1], upper[high]]);
                high += 1;
            }
        }
        if let (Some(low), Some(high)) = (lower.last(), upper.last()) {
            self.edges.push((*low, *high));
        }
        if let (Some(low), Some(high)) = (lower.first(), upper.first()) {
            self.edges.push((*high, *low));
        }
    }

    /// Level edges: where wood is on one side only.
    fn level_edges(&mut self, row: &[usize], under: Option<&Slab>, over: Option<&Slab>) {
        for pair in row.windows(2) {
            let middle = f64::midpoint(self.corners[pair[0]].x, self.corners[pair[1]].x);
            let holds = |slab: Option<&Slab>, is_top: bool| {
                slab.map(|slab| ends(slab, is_top)).is_some_and(|(inside, outside)| inside < middle && middle < outside)
            };
            match (holds(under, true), holds(over, false)) {
                (true, false) => self.edges.push((pair[1], pair[0])),
                (false, true) => self.edges.push((pair[0], pair[1])),
                (true, true) | (false, false) => {}
            }
        }
    }
}

/// Inside and outside at one end of a slab.
fn ends(slab: &Slab, is_top: bool) -> (f64, f64) {
    if is_top { (slab.inside.1, slab.outside.1) } else { (slab.inside.0, slab.outside.0) }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;

    fn curve(points: &[(f64, f64)]) -> Curve {
        points.iter().map(|point| Point::from(*point)).collect()
    }

    /// Every edge once each way, counting those round the face; area by the shoelace of triangles and of edges alike.
    fn assert_sound(face: &Face, area: f64) {
        assert!(face.is_simple(), "{face:?}");
        let mut ways: BTreeMap<(usize, usize), i32> = BTreeMap::new();
        for [a, b, c] in &face.triangles {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                *ways.entry((*from, *to)).or_default() += 1;
                *ways.entry((*to, *from)).or_default() -= 1;
            }
        }
        for (from, to) in &face.edges {
            *ways.entry((*to, *from)).or_default() += 1;
            *ways.entry((*from, *to)).or_default() -= 1;
        }
        assert!(ways.values().all(|sum| *sum == 0), "{face:?}");
        let of = |a: usize, b: usize| face.corners[a].to_vec2().cross(face.corners[b].to_vec2()) / 2.0;
        let triangles: f64 = face.triangles.iter().map(|[a, b, c]| of(*a, *b) + of(*b, *c) + of(*c, *a)).sum();
        let edges: f64 = face.edges.iter().map(|(from, to)| of(*from, *to)).sum();
        assert!((triangles - area).abs() < 1e-9 && (edges - area).abs() < 1e-9, "{triangles} {edges} {area}");
    }

    #[test]
    fn a_wall_with_a_step_has_no_corner_within_an_edge() {
        // Outside 20, from 10 upward 15; inside nothing below 4, then 8.
        let outside = curve(&[(20.0, 0.0), (20.0, 10.0), (15.0, 10.0), (15.0, 30.0)]);
        let inside = curve(&[(8.0, 4.0), (8.0, 30.0)]);
        let slabs = slabs(&inside, &outside, (0.0, f64::INFINITY), &[]);
        assert_sound(&Face::of(&slabs, f64::INFINITY), 20.0 * 4.0 + 12.0 * 6.0 + 7.0 * 20.0);
    }

    #[test]
    fn wood_that_meets_in_a_point_is_told() {
        let outside = curve(&[(20.0, 0.0), (20.0, 20.0)]);
        let inside = curve(&[(10.0, 0.0), (20.0, 10.0), (10.0, 20.0)]);
        let face = Face::of(&slabs(&inside, &outside, (0.0, f64::INFINITY), &[]), f64::INFINITY);
        assert!(!face.is_simple());
    }

    #[test]
    fn holes_plugs_and_points() {
        let outside = curve(&[(0.0, 0.0), (30.0, 30.0)]);
        let hole = Hole { radius: 3.0, from: 20.0, to: 30.0 };
        let whole = slabs(&curve(&[]), &outside, (0.0, f64::INFINITY), &[hole]);
        assert_sound(&Face::of(&whole, f64::INFINITY), 450.0 - 30.0);
        let plug = slabs(&curve(&[]), &outside, (0.0, 10.0), &[]);
        assert_sound(&Face::of(&plug, 10.0), 50.0 + 200.0);
        let round_it = slabs(&curve(&[]), &outside, (10.0, f64::INFINITY), &[]);
        assert_sound(&Face::of(&round_it, f64::INFINITY), 200.0);
    }
}
