//! A face swept round the axis to a closed surface, and what it holds in closed form.

use std::f64::consts::{PI, TAU};

use crate::quantity::trig;
use crate::view::pieces::Side;

use super::Mesh;
use super::outline::{Face, SAME};

/// From where to where, round the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Turn {
    Whole,
    Between(Side, Side),
}

impl Turn {
    /// What lies between its sides within a circle and outside of a smaller one, in square millimeters.
    ///
    /// ∫ ρ (φ + asin(b/ρ) − asin(a/ρ)) dρ, where φ is the angle of the sides and a, b how far they stand beside the planes
    /// through the axis.
    pub(super) fn area(self, near: f64, radius: f64) -> f64 {
        let radius = radius.max(near);
        let rings = (radius * radius - near * near) / 2.0;
        match self {
            Self::Whole => TAU * rings,
            Self::Between(from, to) => {
                let beside = |by: f64| {
                    let at = |r: f64| {
                        if r <= 0.0 || by == 0.0 {
                            return 0.0;
                        }
                        let held = (r * r - by * by).max(0.0);
                        f64::midpoint(r * r * trig::asin(by / r), by * trig::sqrt(held))
                    };
                    at(radius) - at(near)
                };
                (to.angle - from.angle).to_radians() * rings + beside(to.beside) - beside(from.beside)
            }
        }
    }

    /// Below this radius its sides have crossed.
    pub(super) fn tip(self) -> f64 {
        let Self::Between(from, to) = self else { return 0.0 };
        let lost = from.beside - to.beside;
        let least = from.beside.abs().max(to.beside.abs());
        if lost <= 0.0 {
            return least;
        }
        // Both sides stand as far beside their planes: they meet where the half angle's sine is that by the radius.
        let half = (to.angle - from.angle).to_radians() / 2.0;
        let sine = trig::sin(half.min(PI / 2.0));
        if sine > 0.0 { (lost / 2.0 / sine).max(least) } else { f64::INFINITY }
    }

    /// Degrees at a radius.
    fn at(self, radius: f64) -> (f64, f64) {
        match self {
            Self::Whole => (0.0, 360.0),
            Self::Between(from, to) => (from.at(radius), to.at(radius)),
        }
    }

    fn is_straight(self) -> bool {
        match self {
            Self::Whole => true,
            Self::Between(from, to) => from.beside == 0.0 && to.beside == 0.0,
        }
    }

    /// How many places a corner has in so many steps.
    fn places(self, radius: f64, steps: u32) -> u32 {
        match self {
            _ if self.is_point(radius, steps) => 1,
            Self::Whole => steps,
            Self::Between(..) => steps + 1,
        }
    }

    /// Whether the places of a corner lie so near to each other that they are one.
    fn is_point(self, radius: f64, steps: u32) -> bool {
        let (from, to) = self.at(radius);
        radius <= 0.0 || (to - from).to_radians() * radius < f64::from(steps) * SAME
    }
}

/// What is swept: a face, how far, in how many steps.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sweep<'a> {
    pub face: &'a Face,
    pub turn: Turn,
    pub steps: u32,
    /// Radii of what is round and stands within it.
    pub rooms: &'a [f64],
    /// By how much those are wider, so that no corner of what stands there reaches into the chords.
    pub wider: f64,
}

/// The closed surface of what is swept, of the volume given; `None` where it cannot be had.
///
/// Arcs are drawn as chords, all corners set out by the share √(step / sin step), so that each level section holds as much
/// as between arcs: a solid of straight profiles then holds exactly what it should. What curves lose in being drawn straight
/// the outside is set out by, a share of far less than a thousandth.
pub(super) fn swept(sweep: Sweep<'_>, volume: f64) -> Option<Mesh> {
    let (units, places) = (sweep.units(), sweep.places());
    let mut mesh = sweep.surface(&places);
    let mut off = |by: f64| {
        sweep.place(&mut mesh, &places, &units, by);
        held(&mesh) - volume
    };
    let (mut before, mut by) = ((0.0, off(0.0)), 1e-4);
    // What has no corner on the outside holds what it holds: levels that lie closer than `SAME` were taken for one.
    if !sweep.face.is_outer.contains(&true) {
        let radius = sweep.face.corners.iter().map(|corner| corner.x).fold(0.0, f64::max);
        let is_close = before.1.abs() <= (CLOSE * volume.abs()).max(SAME * sweep.turn.area(0.0, radius));
        return is_close.then_some(mesh);
    }
    // The secant method: the volume is nearly linear in so small a change.
    let mut tries = 0;
    while before.1.abs() > CLOSE * volume.abs() {
        let now = off(by);
        if now.abs() <= CLOSE * volume.abs() {
            break;
        }
        let next = by - now * (by - before.0) / (now - before.1);
        before = (by, now);
        by = next;
        tries += 1;
        if !by.is_finite() || by.abs() > MOST || tries > 12 {
            return None;
        }
    }
    Some(mesh)
}

/// By no more than this share is the outside set out.
const MOST: f64 = 0.02;

/// As near as this share is a volume the one that is wanted.
const CLOSE: f64 = 1e-10;

/// Volume within a closed surface, by its tetrahedra with one of its points.
pub(super) fn held(mesh: &Mesh) -> f64 {
    let Some([ox, oy, oz]) = mesh.points.first().copied() else { return 0.0 };
    let of = |[a, b, c]: &[u32; 3]| {
        let at = |corner: u32| {
            let [x, y, z] = mesh.points[corner as usize];
            [x - ox, y - oy, z - oz]
        };
        let ([ax, ay, az], [bx, by, bz], [cx, cy, cz]) = (at(*a), at(*b), at(*c));
        ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
    };
    mesh.faces.iter().map(of).sum::<f64>() / 6.0
}

/// A direction in the level plane.
fn unit(degrees: f64) -> (f64, f64) {
    let angle = degrees.to_radians();
    (trig::cos(angle), trig::sin(angle))
}

impl Sweep<'_> {
    /// Directions of all steps, where they are the same on every radius; else none.
    fn units(&self) -> Vec<(f64, f64)> {
        if !self.turn.is_straight() {
            return Vec::new();
        }
        let (from, to) = self.turn.at(1.0);
        (0..=self.steps).map(|step| unit(from + (to - from) * f64::from(step) / f64::from(self.steps))).collect()
    }

    /// How many points each corner becomes: none where it lies within the wood on the axis.
    fn places(&self) -> Vec<u32> {
        let mut places: Vec<u32> =
            self.face.corners.iter().map(|corner| self.turn.places(corner.x, self.steps)).collect();
        if self.turn == Turn::Whole {
            let mut is_used: Vec<bool> = places.iter().map(|many| *many > 1).collect();
            for (from, to) in &self.face.edges {
                if places[*from].max(places[*to]) > 1 {
                    (is_used[*from], is_used[*to]) = (true, true);
                }
            }
            for (many, is_used) in places.iter_mut().zip(is_used) {
                *many = if is_used { *many } else { 0 };
            }
        }
        places
    }

    fn surface(&self, many: &[u32]) -> Mesh {
        let (face, steps) = (self.face, self.steps);
        let mut starts = Vec::with_capacity(many.len());
        let mut count = 0;
        for many in many {
            starts.push(count);
            count += many;
        }
        let triangles = face.edges.len() * 2 * steps as usize + face.triangles.len() * 2;
        let mut mesh = Mesh { points: vec![[0.0; 3]; count as usize], faces: Vec::with_capacity(triangles) };
        let at = |corner: usize, step: u32| {
            let many = many[corner];
            starts[corner] + if many < 2 { 0 } else { step % many }
        };
        // What is swept along the axis is nothing.
        let is_axis = |from: usize, to: usize| self.turn == Turn::Whole && many[from].max(many[to]) < 2;
        let mut push = |a: u32, b: u32, c: u32| {
            if a != b && b != c && c != a {
                mesh.faces.push([a, b, c]);
            }
        };
        for (from, to) in face.edges.iter().filter(|(from, to)| !is_axis(*from, *to)) {
            for step in 0..steps {
                let (a, b, c, d) = (at(*from, step), at(*from, step + 1), at(*to, step + 1), at(*to, step));
                push(a, b, c);
                push(a, c, d);
            }
        }
        if let Turn::Between(..) = self.turn {
            for [a, b, c] in &face.triangles {
                push(at(*a, 0), at(*b, 0), at(*c, 0));
                push(at(*a, steps), at(*c, steps), at(*b, steps));
            }
        }
        mesh
    }

    /// Puts all points in their places, those of the outside farther out by a share.
    fn place(&self, mesh: &mut Mesh, places: &[u32], units: &[(f64, f64)], by: f64) {
        let mut points = mesh.points.iter_mut();
        for ((corner, is_outer), many) in self.face.corners.iter().zip(&self.face.is_outer).zip(places.iter().copied())
        {
            let radius = self.radius(corner.x, *is_outer, by);
            let (from, to) = self.turn.at(radius);
            for place in 0..many {
                let Some(point) = points.next() else { return };
                let (x, y) = if many == 1 {
                    // All round it is the axis.
                    if self.turn == Turn::Whole { (0.0, 0.0) } else { unit(f64::midpoint(from, to)) }
                } else if let Some(known) = units.get(place as usize) {
                    *known
                } else {
                    unit(from + (to - from) * f64::from(place) / f64::from(self.steps))
                };
                *point = [radius * x, radius * y, corner.y];
            }
        }
    }

    /// Where a corner stands, whose radius is told.
    fn radius(&self, radius: f64, is_outer: bool, by: f64) -> f64 {
        let (from, to) = self.turn.at(radius);
        let step = ((to - from) / f64::from(self.steps)).to_radians();
        if step <= 0.0 {
            return radius;
        }
        if self.rooms.iter().any(|room| (radius - room).abs() <= SAME) {
            return (radius + self.wider) / trig::cos(step / 2.0);
        }
        let chord = if self.turn.is_straight() { trig::sqrt(step / trig::sin(step)) } else { 1.0 };
        radius * chord * if is_outer { 1.0 + by } else { 1.0 }
    }
}
