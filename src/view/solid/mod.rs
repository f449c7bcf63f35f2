//! Every piece of wood of the finished vessel as a closed solid.
//!
//! A piece is a sector of the solid of revolution that its layer makes of inside and outside of the finished part, between its
//! two heights and its two joints. Its face, what a saw along the axis lays open of it, is swept round in chords.
//!
//! What a surface holds is what the closed forms give: chords are set out until they hold as much as the arcs, see `sweep`.
//! Neighbors in a ring meet in one plane, neighbors in the stack on one level; no piece reaches into another.
//!
//! Not in the solids: threads, which are told as straight tenon and mortise of their minor and major diameter, and what
//! [`Model::absent`] names.

mod outline;
mod sweep;
#[cfg(test)]
mod tests;

use crate::geometry::{BuiltLayer, Profile, Vessel};
use crate::quantity::{Area, Length, Volume, trig};
use crate::resolve::{InsertForm, PartKind, Recipe, Seat};

use super::bands::{Band, bands};
use super::elevation::points_within;
use super::pieces::{pieces, plug_radius, woods};
use outline::{Curve, Face, Hole, slabs};
use sweep::{Sweep, Turn, swept};

/// All pieces, body before lid, bench upward, counterclockwise in each layer; inserts last.
#[derive(Debug, Clone, Default)]
pub struct Model {
    /// The pieces.
    pub pieces: Vec<Solid>,
    /// What is not among them. An insert, whose shape is not all known, or which is in the wall: there its hole is absent
    /// too. Any other piece only where wood meets wood in a point, so that it has no surface.
    pub absent: Vec<PieceOf>,
    /// Indexes of inserts of which only what is let in is among them: nothing tells what shows.
    pub unshown: Vec<usize>,
}

/// How finely arcs and curves are drawn as straight lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fineness(
    /// What lies between an arc and its chord, at the most.
    pub Length,
);

impl Default for Fineness {
    fn default() -> Self {
        Self(Length::from_mm(0.02))
    }
}

impl Fineness {
    /// The chords of a round of each layer, all added up.
    #[must_use]
    pub fn chords(self, vessel: &Vessel) -> f64 {
        let of_layer = |layer: &BuiltLayer| 180.0 / half_chord(layer.outer_radius.value.mm(), self).to_degrees();
        vessel.layers.iter().map(of_layer).sum()
    }

    /// As fine as this, or as much coarser as leaves no more than `most` [`chords`](Self::chords). A vessel of thousands of
    /// layers would be too much for whatever shows its model.
    #[must_use]
    pub fn within(self, most: u32, vessel: &Vessel) -> Self {
        // Twice as many chords stray a fourth as far from their arcs.
        let too_many = (self.chords(vessel) / f64::from(most)).max(1.0);
        Self(self.0 * (too_many * too_many))
    }
}

/// One piece of wood.
#[derive(Debug, Clone)]
pub struct Solid {
    /// What it is.
    pub is: PieceOf,
    /// Which part it turns with.
    pub part: PartKind,
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Its surface.
    pub mesh: Mesh,
    /// Of the wood, in closed form: what the mesh comes close to.
    pub volume: Volume,
}

/// What a piece is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PieceOf {
    /// A segment, stave or wedge of a layer, from 0 counterclockwise.
    Segment {
        /// Index into the vessel's layers.
        layer: usize,
        /// Which.
        segment: usize,
    },
    /// A strip on the joint before a segment.
    Spacer {
        /// Index into the vessel's layers.
        layer: usize,
        /// The segment behind it.
        segment: usize,
    },
    /// The round over the points of wedges.
    Plug {
        /// Index into the vessel's layers.
        layer: usize,
    },
    /// A disc, a sheet, or a ring of a cone: a layer of one piece.
    Whole {
        /// Index into the vessel's layers.
        layer: usize,
    },
    /// Let in.
    Insert {
        /// Index into the vessel's inserts.
        insert: usize,
    },
}

/// A closed surface of triangles, counterclockwise seen from outside. Each edge belongs to two of them, once each way.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Mesh {
    /// Millimeters.
    pub points: Vec<[f64; 3]>,
    /// Three of `points` each.
    pub faces: Vec<[u32; 3]>,
}

/// Less than this is no wood: a cube of a twentieth of a millimeter.
const NO_WOOD_MM3: f64 = 1e-4;

/// Every piece of the finished vessel. A piece of a laminated board is a solid for each of its plies.
#[must_use]
pub fn model(recipe: &Recipe, vessel: &Vessel, fineness: Fineness) -> Model {
    let mut model = Model::default();
    let holes = bored(recipe, vessel);
    for band in bands(vessel) {
        let Some(layer) = vessel.layers.get(band.layer) else { continue };
        let plug = plug_radius(layer);
        let holes: Vec<Hole> =
            holes.iter().filter(|(part, _)| *part == band.part.part).map(|(_, hole)| *hole).collect();
        let rooms: Vec<f64> =
            holes.iter().map(|hole| hole.radius).chain(Some(plug)).filter(|room| *room > 0.0).collect();
        let mut known: Vec<(Length, Length, Curves)> = Vec::new();
        for piece in pieces(band.layer, layer) {
            let turn = piece.sides.map_or(Turn::Whole, |(from, to)| Turn::Between(from, to));
            let is_plug = matches!(piece.is, PieceOf::Plug { .. });
            let range = if is_plug { (0.0, plug) } else { (plug.max(turn.tip()), f64::INFINITY) };
            let rooms = if is_plug { &[] } else { rooms.as_slice() };
            for (wood, from, to) in woods(recipe, layer, &band, piece.wood) {
                let band = Band { from, to, ..band };
                let at = known.iter().position(|(a, b, _)| *a == from && *b == to).unwrap_or(known.len());
                if at == known.len() {
                    known.push((from, to, Curves::of(&band, fineness)));
                }
                let curves = &known[at].2;
                let volume = volume(&band, turn, range, &holes);
                if volume < NO_WOOD_MM3 {
                    continue;
                }
                let face = Face::of(&slabs(&curves.inside, &curves.outside, range, &holes), range.1);
                model.add(Solid::of(piece.is, band.part.part, wood, volume), &face, turn, rooms, fineness);
            }
        }
    }
    inserts(recipe, vessel, fineness, &mut model);
    model
}

impl Model {
    /// Adds a piece with the surface that its face sweeps, or says that it is absent.
    fn add(&mut self, mut piece: Solid, face: &Face, turn: Turn, rooms: &[f64], fineness: Fineness) {
        let sweep = Sweep { face, turn, steps: steps(face, turn, fineness), rooms, wider: fineness.0.mm() };
        let mesh = if face.is_simple() { swept(sweep, piece.volume.mm3()) } else { None };
        match mesh {
            Some(mesh) => {
                piece.mesh = mesh;
                self.pieces.push(piece);
            }
            None => self.absent.push(piece.is),
        }
    }
}

impl Solid {
    fn of(is: PieceOf, part: PartKind, wood: usize, volume: f64) -> Self {
        Self { is, part, wood, mesh: Mesh::default(), volume: Volume::from_mm3(volume) }
    }
}

/// Inside and outside of a band as they are drawn.
struct Curves {
    inside: Curve,
    outside: Curve,
}

impl Curves {
    fn of(band: &Band<'_>, fineness: Fineness) -> Self {
        let within = |profile: &Profile| {
            let (from, to) = (profile.bottom().max(band.from), profile.top().min(band.to));
            if profile.is_empty() || to <= from { Vec::new() } else { points_within(profile, from, to, fineness.0) }
        };
        Self { inside: within(&band.part.inside), outside: within(&band.part.outside) }
    }
}

/// Of a piece, from the profiles themselves.
fn volume(band: &Band<'_>, turn: Turn, (near, far): (f64, f64), holes: &[Hole]) -> f64 {
    let part = band.part;
    let section = |radius: Length| Area::from_mm2(turn.area(near, radius.mm().min(far)));
    let within = |profile: &Profile, from: Length, to: Length, section: &dyn Fn(Length) -> Area| {
        let (from, to) = (profile.bottom().max(from), profile.top().min(to));
        if profile.is_empty() || to <= from { 0.0 } else { profile.volume_of_sections(from, to, section).mm3() }
    };
    let mut volume =
        within(&part.outside, band.from, band.to, &section) - within(&part.inside, band.from, band.to, &section);
    for hole in holes {
        let (from, to) = (Length::from_mm(hole.from).max(band.from), Length::from_mm(hole.to).min(band.to));
        if to <= from {
            continue;
        }
        let held = |radius: Length| section(radius.min(Length::from_mm(hole.radius)));
        volume -= within(&part.outside, from, to, &held) - within(&part.inside, from, to, &held);
    }
    volume
}

/// So many that no arc strays from its chord by more than the fineness.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to what a circle can need")]
fn steps(face: &Face, turn: Turn, fineness: Fineness) -> u32 {
    let radius = face.corners.iter().map(|corner| corner.x).fold(0.0, f64::max);
    let span = match turn {
        Turn::Whole => 360.0,
        Turn::Between(from, to) => (to.at(radius.max(1e-6)) - from.at(radius.max(1e-6))).max(0.0),
    };
    let least = if turn == Turn::Whole { 8.0 } else { 1.0 };
    (span.to_radians() / (2.0 * half_chord(radius, fineness))).ceil().clamp(least, 4000.0) as u32
}

/// Half the angle of the longest chord that strays no farther from its arc, in radians.
fn half_chord(radius: f64, fineness: Fineness) -> f64 {
    // It has a cosine of 1 − s / R; sin²(half / 2) = s / 2R.
    2.0 * trig::asin(trig::sqrt((fineness.0.mm() / 2.0 / radius.max(1e-6)).min(0.25)))
}

/// The holes on the axis, each with the part that it is in.
fn bored(recipe: &Recipe, vessel: &Vessel) -> Vec<(PartKind, Hole)> {
    let hole = |insert: &crate::geometry::BuiltInsert| {
        let said = recipe.fittings.inserts.get(insert.said)?;
        let way = into_the_wood(said.seat)?;
        let (rim, end) = (insert.rim.mm(), insert.rim.mm() + way * insert.hole_depth.value.mm());
        let radius = insert.hole_diameter.value.mm() / 2.0;
        Some((said.seat.part(), Hole { radius, from: rim.min(end), to: rim.max(end) }))
    };
    vessel.inserts.iter().filter_map(hole).collect()
}

/// Which way an insert goes in; `None` for one in the wall.
fn into_the_wood(seat: Seat) -> Option<f64> {
    match seat {
        Seat::LidTop | Seat::BodyInside => Some(-1.0),
        Seat::LidInside | Seat::BodyBase => Some(1.0),
        Seat::BodySide { .. } => None,
    }
}

/// What is let in on the axis: its tenon, and what shows of it as a round of the size that is said.
fn inserts(recipe: &Recipe, vessel: &Vessel, fineness: Fineness, model: &mut Model) {
    for (at, insert) in vessel.inserts.iter().enumerate() {
        let is = PieceOf::Insert { insert: at };
        let said = recipe.fittings.inserts.get(insert.said);
        let (Some(said), Some(way)) = (said, said.and_then(|said| into_the_wood(said.seat))) else {
            model.absent.push(is);
            continue;
        };
        let Some(wood) = said.wood else {
            model.absent.push(is);
            continue;
        };
        let (rim, tenon) = (insert.rim.mm(), insert.diameter.value.mm() / 2.0);
        if said.shows.is_none() && matches!(said.form, InsertForm::Tenon { .. }) {
            model.unshown.push(at);
        }
        let mut rounds = vec![(tenon, rim + way * insert.length.value.mm(), rim)];
        if let Some(shows) = &said.shows {
            rounds.push((shows.diameter.value.mm() / 2.0, rim, rim - way * shows.tall.value.mm()));
        }
        for round in &mut rounds {
            (round.1, round.2) = (round.1.min(round.2), round.1.max(round.2));
        }
        rounds.sort_by(|a, b| a.1.total_cmp(&b.1));
        let outside: Curve = rounds
            .iter()
            .flat_map(|(radius, from, to)| [(*radius, *from), (*radius, *to)])
            .map(kurbo::Point::from)
            .collect();
        let volume: f64 = rounds.iter().map(|(radius, from, to)| Turn::Whole.area(0.0, *radius) * (to - from)).sum();
        let face = Face::of(&slabs(&Vec::new(), &outside, (0.0, f64::INFINITY), &[]), f64::INFINITY);
        model.add(Solid::of(is, said.seat.part(), wood, volume), &face, Turn::Whole, &[], fineness);
    }
}
