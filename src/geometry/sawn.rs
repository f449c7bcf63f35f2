//! A ring and its place to the segments as sawn, with all that may be wrong with them.

use crate::quantity::{Angle, Area, Count, Length, Volume};
use crate::resolve::{Layer, Ring};
use crate::workings::{Known, Origin};

use super::findings;
use super::joints::{self, Joints};
use super::layers::{Build, Place, SAME_HEIGHT};
use super::pattern;
use super::ring;
use super::vessel::{LayerShape, RingSet, RingShape, SegmentCut};

/// Allowance short by less than this is not short; no saw is set finer.
const SETTING: Length = Length::from_mm(0.05);

impl Build<'_> {
    /// The ring with its turn, the blank's wood and its joints.
    pub(super) fn ring(
        &mut self,
        layer: &Layer,
        ring: &Ring,
        place: &Place,
        below: Option<Joints>,
    ) -> (LayerShape, Angle, Known<Volume>, Known<Area>) {
        let segments = ring.segments;
        if let Some(solid) = place.solid {
            self.found.push(findings::must_be_solid(
                self.recipe,
                self.shape,
                layer,
                ring,
                (place.z0.value, place.z1.value),
                solid,
            ));
        }
        let sawn = self.sawn(layer, ring, segments, place);
        if let Some(open) = pattern::does_not_close(&ring.pattern.motif, segments.value) {
            self.found.push(findings::does_not_close(self.recipe, ring, &open));
        }
        let rotation = below.map_or(Angle::ZERO, |below| {
            (below.first + joints::turn(ring.stagger.value, below.count, segments.value)).normalized()
        });
        let (strip, miter, rough) = (sawn.strip_width, sawn.cuts[0].miter, place.rough);
        let volume = self.ledger.work(
            &ring::RING_BLANK_VOLUME,
            (segments, place.blank_outer, strip, miter, rough),
            |(n, outer, strip, miter, rough)| ring::blank_volume(n, outer, strip, miter, rough),
        );
        let joint_area =
            self.ledger.work(&ring::JOINT_AREA, (segments, strip, miter, rough), |(n, strip, miter, rough)| {
                ring::joint_area(n, strip, miter, rough)
            });
        (LayerShape::Ring(sawn), rotation, volume, joint_area)
    }

    fn sawn(&mut self, layer: &Layer, ring: &Ring, segments: Known<Count>, place: &Place) -> RingShape {
        let (outer, inner) = (place.blank_outer, place.blank_inner);
        let ledger = &mut *self.ledger;
        let miter = ledger.work(&ring::MITER, (segments,), |(n,)| ring::miter(n));
        let needed_width = ledger
            .work(&ring::NEEDED_WIDTH, (outer, inner, miter), |(outer, inner, m)| ring::needed_width(outer, inner, m));
        let long_edge = ledger.work(&ring::LONG_EDGE, (outer, miter), |(outer, m)| ring::long_edge(outer, m));
        let corner_radius =
            ledger.work(&ring::CORNER_RADIUS, (outer, miter), |(outer, m)| ring::corner_radius(outer, m));
        let short_edge = match ring.strip {
            Some(strip) => ledger.work(&ring::SHORT_EDGE_OF_STRIP, (long_edge, strip, miter), |(long, strip, m)| {
                ring::short_edge_of_strip(long, strip, m)
            }),
            None => ledger.work(&ring::SHORT_EDGE, (inner, miter), |(inner, m)| ring::short_edge(inner, m)),
        };
        let woods = ring.pattern.motif.iter().copied().cycle().take(segments.value.0 as usize).collect();
        let strip_width = ring.strip.unwrap_or(needed_width);
        let bevel = Known::new(Angle::ZERO, Origin::Default(&"flat segments are sawn with the blade upright"));
        let sweep = miter.value * 2.0;
        let sawn = RingShape {
            set: RingSet::Round,
            cuts: vec![SegmentCut { sweep, miter, bevel, long_edge, short_edge }],
            cut_of: Vec::new(),
            woods,
            strip_width,
            needed_width,
            corner_radius,
            hole_radius: ring::hole_corner(outer.value, strip_width.value, miter.value),
            spacer: None,
            gap: None,
        };
        if let (Some(strip), None) = (ring.strip, place.solid) {
            self.check_strip(layer, strip, &sawn, place);
        }
        sawn
    }

    /// Whether a strip that is there already leaves wood wherever the wall is, and the allowance too.
    fn check_strip(&mut self, layer: &Layer, strip: Known<Length>, sawn: &RingShape, place: &Place) {
        let outer = place.blank_outer.value;
        let case = findings::StripCase {
            strip,
            needed: sawn.needed_width.value,
            hole: ring::hole_corner(outer, strip.value, sawn.cuts[0].miter.value),
            inner: place.inner_at,
            allow: layer.allow,
            head: layer.head,
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
}
