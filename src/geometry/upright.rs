//! Staves: pieces that stand on end and lean as the shape does.

use crate::finding::limits;
use crate::quantity::{Angle, Length, trig};
use crate::resolve::{Layer, Ring};
use crate::workings::{Formula, Known, Origin};

use super::cutting::{Cutting, Division};
use super::layers::{Build, Place, SAME_HEIGHT};
use super::leaning::{Astray, astray};
use super::profile::{Profile, ProfilePoint};
use super::sawn::{FULL_CIRCLE, Made, spacers_volume};
use super::stuff::Glued;
use super::vessel::{LayerShape, RingSet, RingShape, SegmentCut, SpacerShape, StaveShape};
use super::{findings, ring_findings, shares, spacer, stave};

/// Leaning less than this is standing upright: no saw is set finer.
const UPRIGHT: Angle = Angle::from_degrees(0.1);

/// Farther than this from upright, boards waste more than they save, and hardly stay where they are glued.
const STEEPEST: Angle = limits::STEEPEST_STAVE.get();

static BOARD_FACE: Formula = Formula {
    gives: "outside radius of the blank there",
    words: "where the outside strays farthest outward from a line with the staves' lean, that line at this height +             turning allowance",
    inputs: &["lower face", "upper face", "lean of the staves", "allowance", "height"],
};
static NEEDED_LEVEL: Formula = Formula {
    gives: "wall of the blank needed, measured level",
    words: "the most, over the layer's height, that the outer faces lie outside (inside radius − allowance) × cos(miter)",
    inputs: &["outside radius of the blank at the lower face", "lean of the staves", "allowance", "miter", "wall"],
};
static NEEDED_BOARD: Formula = Formula {
    gives: "board thickness needed",
    words: "wall of the blank, measured level, × cos(lean)",
    inputs: &["wall of the blank, measured level", "lean of the staves"],
};
static STAVES_BLANK: Formula = Formula {
    gives: "wood of the staves in the blank",
    words: "level wall × rough height × mean width, over all staves; the mean of both ends and of both faces",
    inputs: &["staves", "radius of the outer faces, midway up", "level wall", "rough height"],
};
static SPACERS_BLANK: Formula = Formula {
    gives: "wood of the spacers in the blank",
    words: "spacers × thickness × level length × rough height",
    inputs: &["spacers", "thickness", "level length", "rough height"],
};
static BLANK_AND_SPACERS: Formula =
    Formula { gives: "wood in the blank", words: "staves + spacers", inputs: &["wood of staves or spacers"] };
static OUTSIDE_THERE: Formula =
    Formula { gives: "outside radius", words: "radius of the outside curve there", inputs: &["height"] };
static LOWER_END: Formula = Formula {
    gives: "lower end of the blank",
    words: "lower face − what flattening takes off a face",
    inputs: &["lower face", "sanding"],
};
static UPPER_END: Formula = Formula {
    gives: "upper end of the blank",
    words: "upper face + what flattening takes off a face",
    inputs: &["upper face", "sanding"],
};
static MIDWAY: Formula = Formula {
    gives: "radius of the outer faces, midway up",
    words: "(radius at the lower end + radius at the upper end) / 2",
    inputs: &["radius at the lower end", "radius at the upper end"],
};

/// How the boards stand: the outer faces, as a line in the half plane of radius and height.
struct Stand {
    lean: Known<Angle>,
    slope: f64,
    outer_at_z0: Known<Length>,
    outer_at_z1: Known<Length>,
    /// At the ends of the blank, which flattening takes off.
    low: Known<Length>,
    high: Known<Length>,
    /// Where the inside strays farthest inward, if there is an inside.
    inside: Option<Astray>,
}

impl Stand {
    fn wider(&self) -> Known<Length> {
        if self.low.value > self.high.value { self.low } else { self.high }
    }

    fn narrower(&self) -> Known<Length> {
        if self.low.value > self.high.value { self.high } else { self.low }
    }

    /// Radius of the outer faces at a height.
    fn outer_at(&self, z: Length, z0: Length) -> Length {
        self.outer_at_z0.value + (z - z0) * self.slope
    }
}

impl Build<'_> {
    /// Pieces on end.
    pub(super) fn staves(&mut self, layer: &Layer, said: &Ring, division: &Division, place: &Place) -> Made {
        let (cutting, widest) = (division.cutting, division.widest());
        let stand = self.stand(layer, place, division);
        if stand.lean.value.degrees().abs() > STEEPEST.degrees() {
            self.found.push(ring_findings::leans_too_far(layer, stand.lean.value, STEEPEST));
        }
        let needed_level = self.needed_level(layer, division, &stand, place);
        let ledger = &mut *self.ledger;
        let needed = ledger.work(&NEEDED_BOARD, (needed_level, stand.lean), |(level, lean)| level * lean.cos());
        let board = said.strip.unwrap_or(needed);
        let level =
            ledger.work(&stave::LEVEL_WALL, (board, stand.lean), |(board, lean)| stave::level_wall(board, lean));
        let cuts: Vec<SegmentCut> = division
            .kinds
            .iter()
            .map(|kind| SegmentCut {
                sweep: kind.sweep.value,
                miter: ledger
                    .work(&stave::GAUGE, (stand.lean, kind.miter), |(lean, m)| stave::gauge(without_sign(lean), m)),
                bevel: ledger.work(&stave::TILT, (stand.lean, kind.miter), |(lean, m)| stave::tilt(lean, m)),
                long_edge: cutting.long_edge(ledger, stand.wider(), *kind),
                short_edge: cutting.long_edge(ledger, stand.narrower(), *kind),
            })
            .collect();
        let corner_radius = cutting.corner_radius(ledger, stand.wider(), widest);
        let length = ledger.work(&stave::BLANK_LENGTH, (place.rough, board, stand.lean), |(high, board, lean)| {
            stave::blank_length(high, board, lean)
        });
        let spacer = said.spacer.map(|said| {
            let length =
                ledger.work(&spacer::FLUSH_LENGTH, (level, widest.miter), |(level, m)| spacer::flush_length(level, m));
            SpacerShape { wood: said.wood, thickness: said.thick, length }
        });
        let shape = StaveShape {
            lean: stand.lean,
            length,
            outer_at_z0: stand.outer_at_z0,
            outer_at_z1: stand.outer_at_z1,
            level_wall: level,
        };
        let sawn = RingShape {
            set: RingSet::Upright(shape),
            cuts,
            cut_of: division.kind_of.clone(),
            woods: said.pattern.motif.iter().copied().cycle().take(said.segments.value.0 as usize).collect(),
            strip_width: board,
            needed_width: needed,
            corner_radius,
            hole_radius: cutting.hole_corner(stand.wider().value, level.value, widest),
            spacer,
            gap: division.gap,
        };
        if place.solid.is_none() {
            if let Some(strip) = said.strip {
                self.check_board(layer, strip, &sawn, (&stand, level.value), (division, place));
            }
            if let Some(spacer) = said.spacer {
                self.check_spacers(layer, &spacer, division, stand.narrower().value - level.value, place);
            }
        }
        self.glued_staves(division, sawn, &stand, (level, place))
    }

    /// How the staves of a layer stand.
    fn stand(&mut self, layer: &Layer, place: &Place, division: &Division) -> Stand {
        let (z0, z1) = (place.z0.value, place.z1.value);
        let nothing = Profile::default();
        let stack = self.parts.stack(place.part);
        let (outside, inside) = stack.map_or((&nothing, &nothing), |part| (&part.outside, &part.inside));
        let ledger = &mut *self.ledger;
        let low = ledger.work(&OUTSIDE_THERE, (place.z0,), |(z,)| outside.above(z));
        let high = ledger.work(&OUTSIDE_THERE, (place.z1,), |(z,)| outside.below(z));
        let chord = stave::lean(low.value, high.value, z1 - z0);
        let is_upright = chord.degrees().abs() < UPRIGHT.degrees();
        let lean = if is_upright {
            Known::new(Angle::ZERO, Origin::Default(&"staves that lean by less than 0.1° stand upright"))
        } else {
            ledger.work(&stave::LEAN, (low, high, layer.thick), |(low, high, height)| stave::lean(low, high, height))
        };
        let slope = lean.value.tan();
        let greatest = astray(outside, (z0, z1), slope).map_or(low.value - z0 * slope, |astray| astray.greatest);
        let sanding = self.recipe.shop.sanding;
        let foot = ledger.work(&LOWER_END, (place.z0, sanding), |(z, loss)| z - loss);
        let head = ledger.work(&UPPER_END, (place.z1, sanding), |(z, loss)| z + loss);
        let mut outer_at = |height: Known<Length>| {
            ledger.work(&BOARD_FACE, (place.z0, place.z1, lean, layer.allow, height), |(_, _, _, allow, z)| {
                greatest + z * slope + allow
            })
        };
        let (outer_at_z0, outer_at_z1) = (outer_at(place.z0), outer_at(place.z1));
        let (low, high) = (outer_at(foot), outer_at(head));
        // Seen along a line that leans as the holes' corners do, and those lie farther out by 1 / cos.
        let corners = slope / division.widest().miter.value.cos();
        let inside = place.solid.is_none().then(|| astray(inside, (z0, z1), corners)).flatten();
        Stand { lean, slope, outer_at_z0, outer_at_z1, low, high, inside }
    }

    /// The level wall that covers inside and allowance at every height.
    fn needed_level(&mut self, layer: &Layer, division: &Division, stand: &Stand, place: &Place) -> Known<Length> {
        let (widest, cutting) = (division.widest(), division.cutting);
        let (z0, wall) = (place.z0.value, self.shape.wall);
        let inner_at = stand.inside.map_or(ProfilePoint { height: z0, radius: Length::ZERO }, |inside| inside.least_at);
        let least_inner = (place.inner.value - layer.allow.value).max(Length::ZERO);
        self.ledger.work(
            &NEEDED_LEVEL,
            (stand.outer_at_z0, stand.lean, layer.allow, widest.miter, wall),
            |(_, _, allow, miter, _)| {
                let inner = (inner_at.radius - allow).max(Length::ZERO);
                let plain = stand.outer_at(inner_at.height, z0) - inner * miter.cos();
                // A hole is never less than nothing: where the allowance would reach past the axis the
                // widest end decides.
                let plain =
                    if inner > Length::ZERO { plain } else { plain.max(stand.wider().value - inner * miter.cos()) };
                match cutting {
                    Cutting::Spaced(thick) => plain + spaced_lack(least_inner, thick.value, miter),
                    Cutting::Plain | Cutting::Uneven | Cutting::Open => plain,
                }
            },
        )
    }

    /// Whether a board that is there already is thick enough.
    fn check_board(
        &mut self,
        layer: &Layer,
        strip: Known<Length>,
        sawn: &RingShape,
        (stand, level): (&Stand, Length),
        (division, place): (&Division, &Place),
    ) {
        let at = stand.inside.map_or(place.inner_at, |inside| inside.least_at);
        let outer = stand.outer_at(at.height, place.z0.value);
        let case = findings::StripCase {
            strip,
            needed: sawn.needed_width.value,
            hole: division.cutting.hole_corner(outer, level, division.widest()),
            inner: at,
            allow: layer.allow,
            layer,
            units: self.recipe.units,
        };
        if level > stand.narrower().value + SAME_HEIGHT {
            self.found.push(findings::strip_past_center(&case, stand.narrower().value * stand.lean.value.cos()));
        } else if case.hole > at.radius + SAME_HEIGHT {
            self.found.push(findings::does_not_cover(&case));
        } else if strip.value < sawn.needed_width.value - SETTING {
            self.found.push(findings::allowance_short(&case));
        }
    }

    /// The wood and the joints of staves.
    fn glued_staves(
        &mut self,
        division: &Division,
        sawn: RingShape,
        stand: &Stand,
        (level, place): (Known<Length>, &Place),
    ) -> Made {
        let (cutting, widest, n) = (division.cutting, division.widest(), division.segments);
        let ledger = &mut *self.ledger;
        let midway = ledger.work(&MIDWAY, (stand.low, stand.high), |(low, high)| (low + high) / 2.0);
        let middle = midway.value - level.value / 2.0;
        let widths: Vec<Length> = division.kinds.iter().map(|kind| cutting.width_at(middle, *kind)).collect();
        let all: Length = division.segments().map(|kind| cutting.width_at(middle, kind)).sum();
        let staves =
            ledger.work(&STAVES_BLANK, (n, midway, level, place.rough), |(_, _, level, high)| level.by(all).over(high));
        let joint_area = match cutting {
            Cutting::Plain => ledger.work(
                &stave::JOINT_AREA,
                (n, place.rough, sawn.strip_width, stand.lean, widest.miter),
                |(n, high, board, lean, miter)| stave::joint_area(n, high, board, lean, miter),
            ),
            Cutting::Open => {
                Known::new(crate::quantity::Area::default(), Origin::Default(&"open joints are not glued"))
            }
            Cutting::Uneven => {
                let sweeps: Vec<Angle> = division.segments().map(|kind| kind.sweep.value).collect();
                ledger.work(
                    &shares::JOINT_AREA,
                    (midway, level, place.rough, FULL_CIRCLE),
                    |(outer, level, high, _)| shares::joint_area(outer, level, high, &sweeps),
                )
            }
            Cutting::Spaced(_) => {
                let miters: Vec<Angle> = division.segments().map(|kind| kind.miter.value).collect();
                ledger.work(&spacer::JOINT_AREA, (level, place.rough, widest.miter), |(level, high, _)| {
                    spacer::joint_area(level, high, &miters)
                })
            }
        };
        let spacers = sawn.spacer.map(|spacer| {
            ledger.work(&SPACERS_BLANK, (n, spacer.thickness, spacer.length, place.rough), |(n, thick, long, high)| {
                spacers_volume(n, thick, long, high)
            })
        });
        let blank_volume = spacers.map_or(staves, |spacers| ledger.total(&BLANK_AND_SPACERS, &[staves, spacers]));
        let glued = Glued { widths, segments: staves, spacers, plug: None };
        let radii = Some((stand.wider(), place.blank_inner));
        Made { shape: LayerShape::Ring(sawn), rotation: Angle::ZERO, blank_volume, joint_area, glued, radii }
    }
}

/// Allowance short by less than this is not short.
const SETTING: Length = limits::FINEST_SETTING.get();

/// What a wall between spacers must be wider by than one without, at most; exact where the hole is `inner`.
fn spaced_lack(inner: Length, thick: Length, miter: Angle) -> Length {
    let half = thick.mm() / 2.0;
    let along = trig::sqrt((inner.mm() * inner.mm() - half * half).max(0.0));
    (inner - Length::from_mm(along)) * miter.cos() - thick * (0.5 * miter.sin())
}

/// A taper is one either way up.
fn without_sign(angle: Angle) -> Angle {
    Angle::from_degrees(angle.degrees().abs())
}
