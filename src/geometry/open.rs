//! The closed forms of an open ring, whose segments leave gaps, and what two such rings have of each
//! other when one is stacked on the other. Pure functions, each with the words that a turner can check
//! it by.
//!
//! The ends of a segment lie on radii, so the miter is half of what the segment spans, not of the
//! pitch. Where no arc of the one ring lies over an arc of the other nothing touches, whatever their
//! radii: contact is worked out round the circle first, as an angle.

use crate::quantity::{Angle, Area, Count, Length, Ratio};
use crate::workings::Formula;

use super::ring;

/// Arcs that bear on each other over less than this are counted as not touching: a hundred-thousandth
/// of a millimeter on any ring that fits a lathe, and far above what adding angles loses.
const NOTHING_DEG: f64 = 1e-6;

/// How [`pitch`] is told.
pub static PITCH: Formula =
    Formula { gives: "angle from segment to segment", words: "360° / segments", inputs: &["segments"] };

/// Angle from the middle of a segment to the middle of the next.
#[must_use]
pub fn pitch(segments: Count) -> Angle {
    Angle::from_degrees(360.0 / f64::from(segments.0.max(1)))
}

/// How [`gap_of_share`] is told.
pub static GAP_OF_SHARE: Formula = Formula {
    gives: "gap between segments",
    words: "gap's share × 360° / segments",
    inputs: &["gap's share", "segments"],
};

/// Gap that takes a share of the pitch.
#[must_use]
pub fn gap_of_share(share: Ratio, segments: Count) -> Angle {
    pitch(segments) * share.value()
}

/// How [`sweep`] is told.
pub static SWEEP: Formula = Formula {
    gives: "what a segment spans",
    words: "360° / segments − gap",
    inputs: &["segments", "gap between segments"],
};

/// Angle that a segment spans; nothing when the gap takes the whole pitch.
#[must_use]
pub fn sweep(segments: Count, gap: Angle) -> Angle {
    let left = pitch(segments) - gap;
    if left > Angle::ZERO { left } else { Angle::ZERO }
}

/// How [`miter`] is told.
pub static MITER: Formula = Formula {
    gives: "miter",
    words: "what a segment spans / 2, measured from a square cut: its ends lie on radii",
    inputs: &["what a segment spans"],
};

/// Angle cut off each end of a segment, from a square cut.
#[must_use]
pub fn miter(sweep: Angle) -> Angle {
    sweep / 2.0
}

/// How [`long_edge`] is told.
pub static LONG_EDGE: Formula = Formula {
    gives: "long edge of a segment",
    words: "2 × outside radius of the blank × tan(what a segment spans / 2)",
    inputs: &["outside radius of the blank", "what a segment spans"],
};

/// Outside edge of a segment whose flat lies at `outer`.
#[must_use]
pub fn long_edge(outer: Length, sweep: Angle) -> Length {
    ring::long_edge(outer, miter(sweep))
}

/// How [`short_edge`] is told.
pub static SHORT_EDGE: Formula = Formula {
    gives: "short edge of a segment",
    words: "2 × inside radius of the blank × sin(what a segment spans / 2): its inner corners lie on the circle",
    inputs: &["inside radius of the blank", "what a segment spans"],
};

/// Inside edge of a segment whose corners lie at `inner`.
#[must_use]
pub fn short_edge(inner: Length, sweep: Angle) -> Length {
    ring::short_edge(inner, miter(sweep))
}

/// How [`needed_width`] is told.
pub static NEEDED_WIDTH: Formula = Formula {
    gives: "strip width needed",
    words: "outside radius − inside radius × cos(what a segment spans / 2), both of the blank",
    inputs: &["outside radius of the blank", "inside radius of the blank", "what a segment spans"],
};

/// Least strip width whose segments cover everything from `inner` to `outer` between their ends.
#[must_use]
pub fn needed_width(outer: Length, inner: Length, sweep: Angle) -> Length {
    ring::needed_width(outer, inner, miter(sweep))
}

/// The arcs that the segments of one layer cover.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arcs {
    /// How many, evenly round the circle.
    pub count: Count,
    /// What each spans, at most 360° / count; a closed ring spans all of it.
    pub sweep: Angle,
    /// Where the middle of the first one lies.
    pub first: Angle,
}

/// What one layer's segments have of another's, as angles.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bearing {
    /// Least that any segment bears with the half that lies clockwise of its middle, seen from above.
    pub clockwise: Angle,
    /// Least that any segment bears with its other half.
    pub counterclockwise: Angle,
    /// Least that any segment bears, both halves together.
    pub whole: Angle,
    /// Segments that touch nothing at all.
    pub untouched: Count,
}

impl Arcs {
    /// A ring without gaps, or a disc: everything is covered, wherever the joints are.
    #[must_use]
    pub fn closed() -> Self {
        Self { count: Count(4), sweep: Angle::from_degrees(90.0), first: Angle::ZERO }
    }

    /// Whether nothing is left between its segments.
    #[must_use]
    pub fn is_closed(self) -> bool {
        (pitch(self.count) - self.sweep).degrees() <= NOTHING_DEG
    }

    /// How much of the arc from `from` to `to` (degrees, rising, less than a turn) it covers.
    fn covers(self, from: f64, to: f64) -> f64 {
        let (step, half) = (pitch(self.count).degrees(), self.sweep.degrees() / 2.0);
        if self.is_closed() {
            return to - from;
        }
        // Measured from the near end of an arc, every step is one whole arc and one whole gap.
        let covered_up_to = |at: f64| {
            let along = at - (self.first.degrees() - half);
            let steps = (along / step).floor();
            steps * 2.0 * half + (along - steps * step).min(2.0 * half)
        };
        covered_up_to(to) - covered_up_to(from)
    }

    /// Middles of its segments, in degrees.
    fn middles(self) -> impl Iterator<Item = f64> {
        (0..self.count.0).map(move |i| self.first.degrees() + f64::from(i) * pitch(self.count).degrees())
    }
}

/// How [`overlap_share`] is told.
pub static OVERLAP_SHARE: Formula = Formula {
    gives: "share of the circle where both layers have wood",
    words: "the arcs of the one layer that lie over arcs of the other, added up / 360°",
    inputs: &[
        "segments below",
        "what one spans below",
        "segments above",
        "what one spans above",
        "turned against it by",
    ],
};

/// Share of the circle on which both layers have wood, whatever their counts and turns.
#[must_use]
pub fn overlap_share(one: Arcs, other: Arcs) -> Ratio {
    let half = one.sweep.degrees() / 2.0;
    let total: f64 = one.middles().map(|middle| other.covers(middle - half, middle + half)).sum();
    Ratio::of((total / 360.0).clamp(0.0, 1.0))
}

/// How [`contact_area`] is told.
pub static CONTACT_AREA: Formula = Formula {
    gives: "contact of two open layers",
    words: "share of the circle where both have wood × π × (outside radius² − inside radius²), the radii that both share",
    inputs: &["share of the circle", "smaller outside radius", "larger inside radius"],
};

/// Glued area between two layers that share the ring from `inner` to `outer`.
#[must_use]
pub fn contact_area(share: Ratio, outer: Length, inner: Length) -> Area {
    ring::annulus(outer, inner) * share.value()
}

/// How the least of [`bearing`] is told.
pub static BEARING: Formula = Formula {
    gives: "least bearing of a segment's half",
    words: "the arcs of the other layer under one half of a segment, added up, of the segment that has the least",
    inputs: &["segments", "what one spans", "segments of the other", "what one spans there", "turned against it by"],
};

/// How the segments of `of` bear on those of `on`, be that the layer below or the one above.
#[must_use]
pub fn bearing(of: Arcs, on: Arcs) -> Bearing {
    let half = of.sweep.degrees() / 2.0;
    let mut least = (half, half, 2.0 * half);
    let mut untouched = 0;
    for middle in of.middles() {
        // Angles rise counterclockwise, seen from above.
        let (clockwise, counter) = (on.covers(middle - half, middle), on.covers(middle, middle + half));
        let whole = clockwise + counter;
        least = (least.0.min(clockwise), least.1.min(counter), least.2.min(whole));
        untouched += u32::from(whole <= NOTHING_DEG);
    }
    let held = |degrees: f64| if degrees <= NOTHING_DEG { Angle::ZERO } else { Angle::from_degrees(degrees) };
    Bearing {
        clockwise: held(least.0),
        counterclockwise: held(least.1),
        whole: held(least.2),
        untouched: Count(untouched),
    }
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use proptest::prelude::*;

    use super::{
        Arcs, bearing, contact_area, gap_of_share, long_edge, miter, needed_width, overlap_share, pitch, short_edge,
        sweep,
    };
    use crate::geometry::ring;
    use crate::quantity::{Angle, Count, Length, Ratio};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn deg(value: f64) -> Angle {
        Angle::from_degrees(value)
    }

    fn arcs(count: u32, sweep: f64, first: f64) -> Arcs {
        Arcs { count: Count(count), sweep: deg(sweep), first: deg(first) }
    }

    #[track_caller]
    fn assert_figure(got: f64, wanted: f64) {
        assert!((got - wanted).abs() <= 1e-5 * wanted.abs(), "{got}, not {wanted}");
    }

    #[test]
    fn open_rings_as_tabled() {
        // Reference rows (closed form to six digits, checked by dense sampling round the circle): N, φ, γ, R, r, L, l, w, then
        // under half a pitch of stagger: patch on either side, glued share of a segment, share of the annulus, contact.
        for (n, spans, gap, outer, inner, long, short, w, patch, glued, share, area) in [
            (12, 24.0, 6.0, 3.0, 2.5, 1.275_34, 1.039_56, 0.554_631, 9.0, 0.75, 0.6, 5.183_63),
            (24, 12.0, 3.0, 60.0, 50.0, 12.612_5, 10.452_8, 10.273_9, 4.5, 0.75, 0.6, 2_073.45),
            (16, 16.0, 6.5, 4.0, 3.5, 1.124_33, 0.974_212, 0.534_062, 4.75, 0.593_75, 0.422_222, 4.974_19),
            (8, 30.0, 15.0, 50.0, 40.0, 26.794_9, 20.705_5, 11.363, 7.5, 0.5, 0.333_333, 942.478),
        ] {
            let spanned = sweep(Count(n), deg(gap));
            assert_figure(spanned.degrees(), spans);
            assert_figure(gap_of_share(Ratio::of(gap / pitch(Count(n)).degrees()), Count(n)).degrees(), gap);
            assert_figure(long_edge(mm(outer), spanned).mm(), long);
            assert_figure(short_edge(mm(inner), spanned).mm(), short);
            assert_figure(needed_width(mm(outer), mm(inner), spanned).mm(), w);
            let below = arcs(n, spans, 17.0);
            let above = arcs(n, spans, 17.0 + 180.0 / f64::from(n));
            let bears = bearing(above, below);
            assert_figure(bears.clockwise.degrees(), patch);
            assert_figure(bears.counterclockwise.degrees(), patch);
            assert_figure(bears.whole.degrees() / spans, glued);
            let common = overlap_share(above, below);
            assert_figure(common.value(), share);
            assert_figure(contact_area(common, mm(outer), mm(inner)).mm2(), area);
        }
    }

    #[test]
    fn end_angles_that_a_club_printed() {
        // worldwidewoodturners.org, "Segmented turning": end angles of a closed ring and of segments that span 70 % and
        // 66 % of the pitch, to a tenth of a degree.
        for (n, closed, most, less) in [
            (10, 18.0, 12.6, 11.9),
            (12, 15.0, 10.5, 9.9),
            (15, 12.0, 8.4, 7.9),
            (16, 11.25, 7.9, 7.4),
            (18, 10.0, 7.0, 6.6),
            (20, 9.0, 6.3, 5.9),
            (24, 7.5, 5.3, 5.0),
            (28, 6.43, 4.5, 4.2),
        ] {
            for (share, wanted) in [(0.0, closed), (0.3, most), (0.34, less)] {
                let cut = miter(sweep(Count(n), gap_of_share(Ratio::of(share), Count(n))));
                assert!((cut.degrees() - wanted).abs() <= 0.0501, "{n}, {share}: {}, not {wanted}", cut.degrees());
            }
        }
    }

    #[test]
    fn at_half_a_pitch_nothing_touches_from_a_gap_as_wide_as_a_segment_on() {
        for (spans, untouched) in [(15.0, 12), (14.0, 12), (15.01, 0)] {
            let bears = bearing(arcs(12, spans, 15.0), arcs(12, spans, 0.0));
            assert_eq!(bears.untouched, Count(untouched), "{spans}");
            assert_eq!(bears.whole == Angle::ZERO, untouched > 0);
        }
        // Of unequal counts only some are in the air: by turns 3 of 6 narrow ones lie over 3 wide gaps.
        let bears = bearing(arcs(6, 20.0, 0.0), arcs(3, 60.0, 0.0));
        assert_eq!((bears.untouched, bears.whole), (Count(3), Angle::ZERO));
        let bears = bearing(arcs(3, 60.0, 0.0), arcs(6, 20.0, 0.0));
        assert_eq!((bears.untouched, bears.clockwise), (Count(0), deg(10.0)));
        // A segment that hangs on one side only.
        let bears = bearing(arcs(3, 40.0, 30.0), arcs(3, 30.0, 0.0));
        assert!((bears.clockwise.degrees() - 5.0).abs() < 1e-9, "{bears:?}");
        assert_eq!(bears.counterclockwise, Angle::ZERO);
    }

    #[test]
    fn a_closed_ring_bears_all() {
        for turn in [0.0, 7.0, 15.0, 333.3] {
            for closed in [Arcs::closed(), arcs(12, 30.0, turn), arcs(7, 360.0 / 7.0, turn)] {
                assert!(closed.is_closed());
                let open = arcs(12, 24.0, turn);
                let bears = bearing(open, closed);
                assert!((bears.whole.degrees() - 24.0).abs() < 1e-9 && bears.untouched == Count(0));
                assert!((overlap_share(open, closed).value() - 0.8).abs() < 1e-12);
                assert!((overlap_share(closed, open).value() - 0.8).abs() < 1e-12);
                assert!((overlap_share(closed, Arcs::closed()).value() - 1.0).abs() < 1e-12);
                let all = contact_area(overlap_share(closed, Arcs::closed()), mm(60.0), mm(50.0));
                assert!((all.mm2() - ring::annulus(mm(60.0), mm(50.0)).mm2()).abs() < 1e-9);
            }
        }
        assert!(!arcs(12, 29.9, 0.0).is_closed());
        // A closed ring is a plain ring.
        let spanned = sweep(Count(12), Angle::ZERO);
        assert_eq!(miter(spanned), ring::miter(Count(12)));
    }

    /// Whether there is wood at `at` degrees.
    fn wood(of: Arcs, at: f64) -> bool {
        (0..of.count.0).any(|i| {
            let middle = of.first.degrees() + 360.0 * f64::from(i) / f64::from(of.count.0);
            let off = (at - middle).rem_euclid(360.0);
            off.min(360.0 - off) <= of.sweep.degrees() / 2.0
        })
    }

    const SAMPLES: u32 = 4000;

    /// Of the arc between two angles, in degrees, what is wood, by samples.
    fn sampled(of: Arcs, from: f64, to: f64) -> f64 {
        let step = (to - from) / f64::from(SAMPLES);
        let hits: u32 = (0..SAMPLES).map(|i| u32::from(wood(of, from + step * (f64::from(i) + 0.5)))).sum();
        step * f64::from(hits)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        /// At any turn, of any counts: what sampling round the circle finds.
        #[test]
        fn two_layers_bear_as_sampled(
            n in 3_u32..20, m in 3_u32..20, share in 0.05..1.0_f64, other in 0.05..1.0_f64,
            turn in -400.0..400.0_f64, first in -400.0..400.0_f64,
        ) {
            let of = arcs(n, 360.0 / f64::from(n) * share, first);
            let on = arcs(m, 360.0 / f64::from(m) * other, turn);
            let (mut whole, mut sides, mut total) = (f64::INFINITY, (f64::INFINITY, f64::INFINITY), 0.0);
            for i in 0..n {
                let middle = first + 360.0 * f64::from(i) / f64::from(n);
                let half = of.sweep.degrees() / 2.0;
                let (a, b) = (sampled(on, middle - half, middle), sampled(on, middle, middle + half));
                (whole, sides) = (whole.min(a + b), (sides.0.min(a), sides.1.min(b)));
                total += a + b;
            }
            // A sample is wrong by at most one step at each end of an arc, of which a half segment sees few.
            let fine = 8.0 * 60.0 / f64::from(SAMPLES);
            let bears = bearing(of, on);
            prop_assert!((bears.whole.degrees() - whole).abs() <= fine);
            prop_assert!((bears.clockwise.degrees() - sides.0).abs() <= fine);
            prop_assert!((bears.counterclockwise.degrees() - sides.1).abs() <= fine);
            let got = overlap_share(of, on).value();
            prop_assert!((got - total / 360.0).abs() <= 2.0 * fine * f64::from(n) / 360.0);
            prop_assert!((got - overlap_share(on, of).value()).abs() < 1e-11, "either way round the same");
            prop_assert!(got >= share + other - 1.0 - 1e-11 && got <= share.min(other) + 1e-11);
        }
    }
}
