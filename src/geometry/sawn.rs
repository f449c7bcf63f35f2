//! A ring and its place to the pieces as sawn, with all that may be wrong with them.

use crate::finding::limits;
use crate::quantity::{Angle, Area, Count, Length, Volume};
use crate::resolve::{Layer, Plug, Ring, Set, Spacer};
use crate::workings::{Formula, Known, Origin};

use super::cutting::{Cutting, Division};
use super::joints::Spread;
use super::layers::{Build, Place, SAME_HEIGHT};
use super::pattern;
use super::stuff::Glued;
use super::vessel::{LayerShape, PlugShape, RingSet, RingShape, SegmentCut, SpacerShape};
use super::{findings, ring, ring_findings, shares, spacer, wedge};

/// Allowance short by less than this is not short; no saw is set finer.
const SETTING: Length = limits::FINEST_SETTING.get();

static SEGMENTS_BLANK: Formula = Formula {
    gives: "wood of the segments in the blank",
    words: "strip width × rough thickness × (long edge + short edge) / 2, over all segments",
    inputs: &["segments", "outside radius of the blank", "strip width", "rough thickness"],
};
static SPACERS_BLANK: Formula = Formula {
    gives: "wood of the spacers in the blank",
    words: "spacers × thickness × length × rough thickness of the ring",
    inputs: &["spacers", "thickness", "length", "rough thickness"],
};
static BLANK_AND_SPACERS: Formula =
    Formula { gives: "wood in the blank", words: "segments + spacers", inputs: &["wood of segments or spacers"] };
static PLUG_BLANK: Formula = Formula {
    gives: "wood of the plug in the blank",
    words: "π × diameter² / 4 × rough thickness",
    inputs: &["diameter of the plug", "rough thickness"],
};
static WEDGE_JOINTS: Formula = Formula {
    gives: "glued joints of the disc",
    words: "the joints of the wedges, to the middle, and the wall of the plug",
    inputs: &["joints or wall of the plug"],
};

/// A layer as glued.
pub(super) struct Made {
    pub(super) shape: LayerShape,
    pub(super) rotation: Angle,
    pub(super) blank_volume: Known<Volume>,
    pub(super) joint_area: Known<Area>,
    /// What of it is of which stuff.
    pub(super) glued: Glued,
    /// Where the blank is not just the place with its allowance: its outside and inside radius.
    pub(super) radii: Option<(Known<Length>, Known<Length>)>,
}

impl Build<'_> {
    /// The ring with its turn, the blank's wood and its joints.
    pub(super) fn ring(&mut self, layer: &Layer, ring: &Ring, place: &Place, below: Option<&Spread>) -> Made {
        if let (Some(solid), Set::Round | Set::Upright) = (place.solid, ring.set) {
            let (faces, wood) = ((place.z0.value, place.z1.value), ring.pattern.motif.first().copied());
            self.found.push(findings::must_be_solid(self.recipe, self.shape, layer, wood, faces, solid));
        }
        let division = Division::of(ring, self.ledger);
        self.check_division(layer, ring, &division);
        let mut made = match ring.set {
            Set::Upright => self.staves(layer, ring, &division, place),
            Set::Round | Set::ToMiddle { .. } => self.flat(layer, ring, &division, place),
        };
        if let (Some(below), LayerShape::Ring(shape)) = (below, &made.shape) {
            let own = Spread::of(shape, ring.pattern.motif.len(), Angle::ZERO);
            made.rotation = (below.first + own.turned(ring.stagger.value, below)).normalized();
        }
        made
    }

    fn check_division(&mut self, layer: &Layer, ring: &Ring, division: &Division) {
        if let Some(open) = pattern::does_not_close(&ring.pattern.motif, &ring.pattern.shares, ring.segments.value) {
            self.found.push(findings::does_not_close(self.recipe, layer, ring, &open));
        }
        let widest = division.widest().sweep.value;
        if !division.kind_of.is_empty() && !shares::can_be_sawn(widest) {
            self.found.push(ring_findings::share_too_wide(ring, widest));
        }
        if ring.gap.is_some() && !ring.pattern.shares.is_empty() {
            self.found.push(ring_findings::uneven_gaps(layer, ring));
        }
    }

    /// Pieces that lie flat, round a hole or meeting in the middle.
    fn flat(&mut self, layer: &Layer, said: &Ring, division: &Division, place: &Place) -> Made {
        let (outer, cutting, widest) = (place.blank_outer, division.cutting, division.widest());
        let plug = match said.set {
            Set::ToMiddle { plug } => Some(plug),
            Set::Round | Set::Upright => None,
        };
        let inner = if plug.is_some() { None } else { Some(place.blank_inner) };
        let ledger = &mut *self.ledger;
        let needed_width = cutting.needed_width(ledger, outer, inner, widest);
        let strip_width = said.strip.unwrap_or(needed_width);
        // Beyond the points, a strip is waste.
        let used = if plug.is_some() && strip_width.value > outer.value { needed_width } else { strip_width };
        let bevel = Known::new(Angle::ZERO, Origin::Default(&"flat segments are sawn with the blade upright"));
        let mut cuts = Vec::with_capacity(division.kinds.len());
        let mut corner_radius = None;
        for kind in &division.kinds {
            let long_edge = cutting.long_edge(ledger, outer, *kind);
            if corner_radius.is_none() {
                corner_radius = Some(cutting.corner_radius(ledger, outer, widest));
            }
            let short_edge = cutting.short_edge(ledger, (outer, inner), (used, said.strip.is_some()), long_edge, *kind);
            cuts.push(SegmentCut { sweep: kind.sweep.value, miter: kind.miter, bevel, long_edge, short_edge });
        }
        let spacer = said.spacer.map(|said| {
            let length =
                ledger.work(&spacer::FLUSH_LENGTH, (used, widest.miter), |(strip, m)| spacer::flush_length(strip, m));
            SpacerShape { wood: said.wood, thickness: said.thick, length }
        });
        let hole = cutting.hole_corner(outer.value, used.value, widest);
        let plugged = plug.flatten().map_or(Length::ZERO, |plug| plug.diameter.value / 2.0);
        let sawn = RingShape {
            set: plug.map_or(RingSet::Round, |plug| RingSet::ToMiddle { plug: plug.map(plug_shape) }),
            cuts,
            cut_of: division.kind_of.clone(),
            woods: said.pattern.motif.iter().copied().cycle().take(said.segments.value.0 as usize).collect(),
            strip_width,
            needed_width,
            corner_radius: corner_radius.unwrap_or(outer),
            hole_radius: if plug.is_some() && hole <= plugged { Length::ZERO } else { hole },
            spacer,
            gap: division.gap,
        };
        match plug {
            Some(plug) => self.check_wedges(layer, said, plug, &sawn, place),
            None => {
                if let (Some(strip), None) = (said.strip, place.solid) {
                    self.check_strip(layer, strip, &sawn, hole, place);
                }
            }
        }
        if let (Some(spacer), true) = (said.spacer, place.solid.is_none() || plug.is_some()) {
            let flat = if plug.is_some() { Length::ZERO } else { outer.value - used.value };
            self.check_spacers(layer, &spacer, division, flat, place);
        }
        self.glued(said, division, plug.flatten(), sawn, (used, place))
    }

    /// The wood and the joints of flat pieces.
    fn glued(
        &mut self,
        said: &Ring,
        division: &Division,
        plug: Option<Plug>,
        sawn: RingShape,
        (strip, place): (Known<Length>, &Place),
    ) -> Made {
        let (outer, rough, n) = (place.blank_outer, place.rough, said.segments);
        let (cutting, widest) = (division.cutting, division.widest());
        let middle = outer.value - strip.value / 2.0;
        let widths: Vec<Length> = division.kinds.iter().map(|kind| cutting.width_at(middle, *kind)).collect();
        let ledger = &mut *self.ledger;
        let segments = match cutting {
            Cutting::Plain => ledger.work(
                &ring::RING_BLANK_VOLUME,
                (n, outer, strip, widest.miter, rough),
                |(n, outer, strip, miter, rough)| ring::blank_volume(n, outer, strip, miter, rough),
            ),
            Cutting::Uneven | Cutting::Spaced(_) | Cutting::Open => {
                let all: Length = division.segments().map(|kind| cutting.width_at(middle, kind)).sum();
                ledger.work(&SEGMENTS_BLANK, (n, outer, strip, rough), |(.., strip, rough)| strip.by(all).over(rough))
            }
        };
        let joints = match cutting {
            Cutting::Plain => {
                ledger.work(&ring::JOINT_AREA, (n, strip, widest.miter, rough), |(n, strip, miter, rough)| {
                    ring::joint_area(n, strip, miter, rough)
                })
            }
            Cutting::Open => Known::new(Area::default(), Origin::Default(&"open joints are not glued")),
            Cutting::Uneven => {
                let sweeps: Vec<Angle> = division.segments().map(|kind| kind.sweep.value).collect();
                ledger.work(&shares::JOINT_AREA, (outer, strip, rough, FULL_CIRCLE), |(outer, strip, rough, _)| {
                    shares::joint_area(outer, strip, rough, &sweeps)
                })
            }
            Cutting::Spaced(_) => {
                let miters: Vec<Angle> = division.segments().map(|kind| kind.miter.value).collect();
                ledger.work(&spacer::JOINT_AREA, (strip, rough, widest.miter), |(strip, rough, _)| {
                    spacer::joint_area(strip, rough, &miters)
                })
            }
        };
        let spacers = sawn.spacer.map(|spacer| {
            ledger.work(&SPACERS_BLANK, (n, spacer.thickness, spacer.length, rough), |(n, thick, long, rough)| {
                spacers_volume(n, thick, long, rough)
            })
        });
        let blank_volume = spacers.map_or(segments, |spacers| ledger.total(&BLANK_AND_SPACERS, &[segments, spacers]));
        let plug_volume = plug.map(|plug| {
            ledger.work(&PLUG_BLANK, (plug.diameter, rough), |(across, rough)| {
                wedge::plug_face(crate::quantity::Diameter::new(across)).over(rough)
            })
        });
        let joint_area = plug.map_or(joints, |plug| {
            let wall = ledger.work(&wedge::PLUG_GLUE_AREA, (plug.diameter, rough), |(across, rough)| {
                wedge::plug_glue_area(crate::quantity::Diameter::new(across), rough)
            });
            ledger.total(&WEDGE_JOINTS, &[joints, wall])
        });
        let glued = Glued { widths, segments, spacers, plug: plug_volume };
        let shape = LayerShape::Ring(sawn);
        Made { shape, rotation: Angle::ZERO, blank_volume, joint_area, glued, radii: None }
    }

    /// Whether a strip that is there already leaves wood wherever the wall is, and the allowance too.
    fn check_strip(&mut self, layer: &Layer, strip: Known<Length>, sawn: &RingShape, hole: Length, place: &Place) {
        let outer = place.blank_outer.value;
        let case = findings::StripCase {
            strip,
            needed: sawn.needed_width.value,
            hole,
            inner: place.inner_at,
            allow: layer.allow,
            layer,
            units: self.recipe.units,
        };
        if strip.value > outer + SAME_HEIGHT {
            self.found.push(findings::strip_past_center(&case, outer));
        } else if case.hole > place.inner.value + SAME_HEIGHT {
            self.found.push(findings::does_not_cover(&case));
        } else if case.hole > place.blank_inner.value + SETTING {
            self.found.push(findings::allowance_short(&case));
        }
    }

    /// Whether wedges reach the middle, or the plug takes over before they end.
    fn check_wedges(&mut self, layer: &Layer, said: &Ring, plug: Option<Plug>, sawn: &RingShape, place: &Place) {
        let (outer, units) = (place.blank_outer.value, self.recipe.units);
        match plug {
            Some(plug) if plug.diameter.value / 2.0 >= outer => {
                self.found.push(ring_findings::plug_too_wide(layer, &plug, outer * 2.0, units));
            }
            Some(_) => {}
            None => self.found.push(ring_findings::points_meet(layer, said.segments.value)),
        }
        if let (Some(strip), true) = (said.strip, sawn.hole_radius > SETTING) {
            self.found.push(ring_findings::wedges_too_short(layer, strip, sawn, outer, units));
        }
    }

    /// Whether spacers end before they meet.
    pub(super) fn check_spacers(
        &mut self,
        layer: &Layer,
        spacer: &Spacer,
        division: &Division,
        flat: Length,
        place: &Place,
    ) {
        let least = spacer::least_inner(spacer.thick.value, division.narrowest().miter.value);
        if flat < least - SAME_HEIGHT {
            let case =
                ring_findings::SpacerCase { least, flat, inner: place.blank_inner.value, units: self.recipe.units };
            self.found.push(ring_findings::spacers_collide(layer, spacer, &case));
        }
    }
}

/// Where a formula takes the shares of all segments.
pub(super) const FULL_CIRCLE: Known<Angle> =
    Known::new(Angle::from_degrees(360.0), Origin::Default(&"all segments of the pattern together"));

/// Strips as high as the ring.
pub(super) fn spacers_volume(count: Count, thick: Length, long: Length, high: Length) -> Volume {
    long.by(thick).over(high) * f64::from(count.0)
}

fn plug_shape(plug: Plug) -> PlugShape {
    PlugShape { wood: plug.wood, diameter: plug.diameter }
}
