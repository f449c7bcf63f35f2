//! A layer's wood by kind: what its segments of each wood, its spacers and its plug take of it.

use std::f64::consts::PI;

use crate::quantity::{Angle, Area, Count, Length, Volume};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::layers::Place;
use super::sawn::Made;
use super::spacer;
use super::vessel::{LayerShape, PlugShape, RingSet, RingShape, SpacerShape, StuffShare, TurnedPart};

static SHARE: Formula = Formula {
    gives: "share of the layer's wood",
    words: "the segments' wood × segments of this wood / segments: all are alike",
    inputs: &["the segments' wood", "segments of this wood", "segments"],
};
static SHARE_BY_SWEEP: Formula = Formula {
    gives: "share of the layer's wood",
    words: "wood left after turning × what segments of this wood span / 360°, less half of each spacer beside them",
    inputs: &["the segments' wood", "spacers' wood", "what segments of this wood span", "segments of this wood"],
};
static SHARE_BY_WIDTH: Formula = Formula {
    gives: "share of the blank's wood",
    words: "the segments' wood × mean widths of the segments of this wood / mean widths of all",
    inputs: &["the segments' wood", "mean widths of this wood", "mean widths of all"],
};
static PLUG_FINISHED: Formula = Formula {
    gives: "wood of the plug, left after turning",
    words: "π ∫ radius² dz between the layer's faces, the radius no more than the plug's, less the same of the inside",
    inputs: &["diameter of the plug", "lower face", "upper face"],
};
static REST: Formula = Formula {
    gives: "the segments' wood",
    words: "wood of the layer − wood of spacers or plug",
    inputs: &["wood of the layer", "wood of spacers or plug"],
};

/// The wood of a blank as it was glued.
pub(super) struct Glued {
    /// Mean width of each kind of segment, from joint to joint.
    pub(super) widths: Vec<Length>,
    /// All segments.
    pub(super) segments: Known<Volume>,
    pub(super) spacers: Option<Known<Volume>>,
    /// It takes the place of the segments' points.
    pub(super) plug: Option<Known<Volume>>,
}

impl Glued {
    /// Of one piece.
    pub(super) fn whole(volume: Known<Volume>) -> Self {
        Self { widths: Vec::new(), segments: volume, spacers: None, plug: None }
    }
}

const COUNTED: Origin = Origin::Default(&"counted in the pattern");

/// What each kind of stuff takes of a layer of so much finished wood.
pub(super) fn shares(
    made: &Made,
    finished: Known<Volume>,
    place: &Place,
    curves: Option<&TurnedPart>,
    ledger: &mut Ledger,
) -> Vec<StuffShare> {
    let one = |wood: usize| StuffShare { wood, pieces: Count(1), finished, blank: made.blank_volume };
    match &made.shape {
        LayerShape::Disc { wood, .. } => vec![one(*wood)],
        LayerShape::Slant(slant) => vec![one(slant.wood)],
        LayerShape::Ring(ring) => Parted { ring, place, curves, ledger }.shares(finished, &made.glued),
    }
}

/// A ring whose wood is told apart.
struct Parted<'a> {
    ring: &'a RingShape,
    place: &'a Place,
    curves: Option<&'a TurnedPart>,
    ledger: &'a mut Ledger,
}

impl Parted<'_> {
    fn shares(&mut self, finished: Known<Volume>, glued: &Glued) -> Vec<StuffShare> {
        let spacers = self.ring.spacer.zip(glued.spacers).map(|(spacer, blank)| self.spacers(spacer, blank));
        let plug = match self.ring.set {
            RingSet::ToMiddle { plug } => plug.zip(glued.plug).map(|(plug, blank)| self.plug(plug, blank)),
            RingSet::Round | RingSet::Upright(_) => None,
        };
        let mut rest = (finished, glued.segments);
        if let Some(plug) = plug {
            rest = (self.less(rest.0, plug.finished), self.less(rest.1, plug.blank));
        }
        let mut shares = self.segments(rest, spacers, &glued.widths);
        shares.extend(spacers);
        shares.extend(plug);
        shares
    }

    fn less(&mut self, whole: Known<Volume>, part: Known<Volume>) -> Known<Volume> {
        self.ledger.work(&REST, (whole, part), |(whole, part)| whole - part)
    }

    fn spacers(&mut self, said: SpacerShape, blank: Known<Volume>) -> StuffShare {
        let count = self.ring.count();
        let curves = self.curves;
        let finished = self.ledger.work(
            &spacer::TURNED_VOLUME,
            (count, said.thickness, self.place.z0, self.place.z1),
            |(n, thick, z0, z1)| {
                curves.map_or(Volume::default(), |part| {
                    spacer::turned_volume(n, thick, (z0, z1), &part.outside, &part.inside)
                })
            },
        );
        StuffShare { wood: said.wood, pieces: count.value, finished, blank }
    }

    fn plug(&mut self, said: PlugShape, blank: Known<Volume>) -> StuffShare {
        let curves = self.curves;
        let finished =
            self.ledger.work(&PLUG_FINISHED, (said.diameter, self.place.z0, self.place.z1), |(across, z0, z1)| {
                let within = |radius: Length| round(radius.min(across / 2.0));
                curves.map_or(Volume::default(), |part| {
                    part.outside.volume_of_sections(z0, z1, within) - part.inside.volume_of_sections(z0, z1, within)
                })
            });
        StuffShare { wood: said.wood, pieces: Count(1), finished, blank }
    }

    /// Segments by wood.
    fn segments(
        &mut self,
        (finished, blank): (Known<Volume>, Known<Volume>),
        spacers: Option<StuffShare>,
        widths: &[Length],
    ) -> Vec<StuffShare> {
        let counts = counts(self.ring);
        if let [(wood, pieces)] = counts.as_slice() {
            let finished = spacers.map_or(finished, |spacers| self.less(finished, spacers.finished));
            return vec![StuffShare { wood: *wood, pieces: Count(*pieces), finished, blank }];
        }
        if self.ring.cut_of.is_empty() {
            let finished = spacers.map_or(finished, |spacers| self.less(finished, spacers.finished));
            let all = Known::new(self.ring.count().value, COUNTED);
            return counts
                .iter()
                .map(|(wood, count)| self.alike(*wood, Count(*count), all, (finished, blank)))
                .collect();
        }
        let spacers = spacers
            .map_or(Known::new(Volume::default(), Origin::Default(&"there are no spacers")), |spacers| {
                spacers.finished
            });
        counts
            .iter()
            .map(|(wood, count)| self.unlike(*wood, Count(*count), (finished, spacers, blank), widths))
            .collect()
    }

    fn alike(
        &mut self,
        wood: usize,
        pieces: Count,
        all: Known<Count>,
        (finished, blank): (Known<Volume>, Known<Volume>),
    ) -> StuffShare {
        let some = Known::new(pieces, COUNTED);
        let mut part = |volume| {
            self.ledger.work(&SHARE, (volume, some, all), |(volume, some, all)| {
                volume * (f64::from(some.0) / f64::from(all.0.max(1)))
            })
        };
        StuffShare { wood, pieces, finished: part(finished), blank: part(blank) }
    }

    fn unlike(
        &mut self,
        wood: usize,
        pieces: Count,
        (finished, spacers, blank): (Known<Volume>, Known<Volume>, Known<Volume>),
        widths: &[Length],
    ) -> StuffShare {
        let ring = self.ring;
        let own = || ring.woods.iter().zip(&ring.cut_of).filter(move |(of, _)| **of == wood).map(|(_, cut)| *cut);
        let of_cut = |cut: usize| ring.cuts.get(cut).map_or(Angle::ZERO, |cut| cut.sweep);
        let width = |cut: &usize| widths.get(*cut).copied().unwrap_or(Length::ZERO);
        let sweep = Known::new(own().fold(Angle::ZERO, |sum, cut| sum + of_cut(cut)), COUNTED);
        let some = Known::new(pieces, COUNTED);
        let all = f64::from(ring.count().value.0.max(1));
        let finished =
            self.ledger.work(&SHARE_BY_SWEEP, (finished, spacers, sweep, some), |(finished, spacers, sweep, some)| {
                finished * (sweep.degrees() / 360.0) - spacers * (f64::from(some.0) / all)
            });
        let of_this = Known::new(own().map(|cut| width(&cut)).sum::<Length>(), COUNTED);
        let of_all = Known::new(ring.cut_of.iter().map(width).sum::<Length>(), COUNTED);
        let blank =
            self.ledger.work(&SHARE_BY_WIDTH, (blank, of_this, of_all), |(blank, this, all)| blank * (this / all));
        StuffShare { wood, pieces, finished, blank }
    }
}

fn round(radius: Length) -> Area {
    radius.by(radius) * PI
}

/// How many segments are of each wood, in the order of their first.
fn counts(ring: &RingShape) -> Vec<(usize, u32)> {
    let mut counts: Vec<(usize, u32)> = Vec::new();
    for wood in &ring.woods {
        match counts.iter_mut().find(|(other, _)| other == wood) {
            Some((_, count)) => *count += 1,
            None => counts.push((*wood, 1)),
        }
    }
    counts
}
