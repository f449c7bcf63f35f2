//! The closed forms of a plain ring: radii and a count to what is sawn. Pure functions, each with
//! the words that a turner can check it by.
//!
//! A glued ring is a polygon outside and inside. The turned outside touches the middles of the outer
//! flats, so their distance from the axis is the blank's outside radius; the turned inside passes
//! through the hole's corners, so those lie on the blank's inside radius.

use std::f64::consts::PI;

use crate::quantity::{Angle, Area, Count, Length, Volume};
use crate::workings::Formula;

/// How [`miter`] is told.
pub static MITER: Formula =
    Formula { gives: "miter", words: "180° / segments, measured from a square cut", inputs: &["segments"] };

/// Angle cut off each end of a segment, from a square cut.
#[must_use]
pub fn miter(segments: Count) -> Angle {
    Angle::from_degrees(180.0 / f64::from(segments.0.max(1)))
}

/// How [`long_edge`] is told.
pub static LONG_EDGE: Formula = Formula {
    gives: "long edge of a segment",
    words: "2 × outside radius of the blank × tan(miter): the outer flats touch the circle",
    inputs: &["outside radius of the blank", "miter"],
};

/// Outside edge of a segment whose flat lies at `outer`.
#[must_use]
pub fn long_edge(outer: Length, miter: Angle) -> Length {
    outer * (2.0 * miter.tan())
}

/// How [`short_edge`] is told.
pub static SHORT_EDGE: Formula = Formula {
    gives: "short edge of a segment",
    words: "2 × inside radius of the blank × sin(miter): the hole's corners lie on the circle",
    inputs: &["inside radius of the blank", "miter"],
};

/// Inside edge of a segment whose corners lie at `inner`.
#[must_use]
pub fn short_edge(inner: Length, miter: Angle) -> Length {
    inner * (2.0 * miter.sin())
}

/// How [`short_edge_of_strip`] is told.
pub static SHORT_EDGE_OF_STRIP: Formula = Formula {
    gives: "short edge of a segment",
    words: "long edge − 2 × strip width × tan(miter)",
    inputs: &["long edge", "strip width", "miter"],
};

/// Inside edge of a segment sawn from a strip of width `strip`; negative when the strip is wider
/// than the ring's radius.
#[must_use]
pub fn short_edge_of_strip(long_edge: Length, strip: Length, miter: Angle) -> Length {
    long_edge - strip * (2.0 * miter.tan())
}

/// How [`needed_width`] is told.
pub static NEEDED_WIDTH: Formula = Formula {
    gives: "strip width needed",
    words: "outside radius − inside radius × cos(miter), both of the blank: the hole's corners lie on the inside radius, \
            its flats nearer",
    inputs: &["outside radius of the blank", "inside radius of the blank", "miter"],
};

/// Least strip width whose ring covers everything from `inner` to `outer`.
#[must_use]
pub fn needed_width(outer: Length, inner: Length, miter: Angle) -> Length {
    outer - inner * miter.cos()
}

/// How [`corner_radius`] is told.
pub static CORNER_RADIUS: Formula = Formula {
    gives: "radius to the outer corners",
    words: "outside radius of the blank / cos(miter): what swings over the bed",
    inputs: &["outside radius of the blank", "miter"],
};

/// Circle through the outer corners.
#[must_use]
pub fn corner_radius(outer: Length, miter: Angle) -> Length {
    outer / miter.cos()
}

/// Distance from the axis to the hole's corners of a ring sawn from a strip of width `strip`.
#[must_use]
pub fn hole_corner(outer: Length, strip: Length, miter: Angle) -> Length {
    ((outer - strip) / miter.cos()).max(Length::ZERO)
}

/// How [`blank_volume`] is told.
pub static RING_BLANK_VOLUME: Formula = Formula {
    gives: "wood in the blank",
    words: "segments × tan(miter) × (outside radius² − (outside radius − strip width)²) × rough thickness: a polygon less \
            its hole",
    inputs: &["segments", "outside radius of the blank", "strip width", "miter", "rough thickness"],
};

/// Face of a glued ring: a polygon with its flats at `outer`, less the hole with its flats at
/// `outer` − `strip`.
#[must_use]
pub fn blank_face(segments: Count, outer: Length, strip: Length, miter: Angle) -> Area {
    let flat = (outer - strip).max(Length::ZERO).mm();
    Area::from_mm2(f64::from(segments.0) * miter.tan() * (outer.mm() * outer.mm() - flat * flat))
}

/// Wood of a glued ring of a given thickness.
#[must_use]
pub fn blank_volume(segments: Count, outer: Length, strip: Length, miter: Angle, thickness: Length) -> Volume {
    blank_face(segments, outer, strip, miter).over(thickness)
}

/// How [`joint_area`] is told.
pub static JOINT_AREA: Formula = Formula {
    gives: "glued joints of the ring",
    words: "segments × rough thickness × strip width / cos(miter): a mitered end is longer than the strip is wide",
    inputs: &["segments", "strip width", "miter", "rough thickness"],
};

/// All joints of a ring together, as glued.
#[must_use]
pub fn joint_area(segments: Count, strip: Length, miter: Angle, thickness: Length) -> Area {
    strip.by(thickness) * (f64::from(segments.0) / miter.cos())
}

/// How [`disc_volume`] is told.
pub static DISC_BLANK_VOLUME: Formula = Formula {
    gives: "wood in the blank",
    words: "π × outside radius² × rough thickness",
    inputs: &["outside radius of the blank", "rough thickness"],
};

/// Wood of a round of a given thickness.
#[must_use]
pub fn disc_volume(radius: Length, thickness: Length) -> Volume {
    radius.by(radius).over(thickness) * PI
}

/// The ring between two circles; nothing when the inner one is not the smaller.
#[must_use]
pub fn annulus(outer: Length, inner: Length) -> Area {
    if inner >= outer {
        return Area::default();
    }
    (outer + inner).by(outer - inner) * PI
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use proptest::prelude::*;

    use super::{
        annulus, blank_face, blank_volume, corner_radius, hole_corner, joint_area, long_edge, miter, needed_width,
        short_edge, short_edge_of_strip,
    };
    use crate::quantity::{Count, Length};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[track_caller]
    fn assert_figure(got: f64, wanted: f64) {
        assert!((got - wanted).abs() <= 1e-5 * wanted.abs(), "{got}, not {wanted}");
    }

    #[test]
    fn plain_rings_as_tabled() {
        // Reference rows (closed form to six digits, checked by polygons laid out and measured): N, R_o, r_i, miter, w, L, l, corner radius. The first row is the worked
        // example of "Segmenting 101", American Association of Woodturners: width 1.068, long edge
        // 1.608, short edge 1.035 in.
        for (n, outer, inner, miter_deg, w, long, short, corner) in [
            (12, 3.0, 2.0, 15.0, 1.068_15, 1.607_7, 1.035_28, 3.105_83),
            (8, 100.0, 80.0, 22.5, 26.089_6, 82.842_7, 61.229_3, 108.239),
            (6, 1.25, 0.875, 30.0, 0.492_228, 1.443_38, 0.875, 1.443_38),
            (36, 8.0, 7.25, 5.0, 0.777_588, 1.399_82, 1.263_76, 8.030_56),
            (24, 76.2, 70.0, 7.5, 6.798_86, 20.063_8, 18.273_7, 76.857_5),
            (5, 2.0, 1.5, 36.0, 0.786_475, 2.906_17, 1.763_36, 2.472_14),
        ] {
            let cut = miter(Count(n));
            assert_figure(cut.degrees(), miter_deg);
            assert_figure(needed_width(mm(outer), mm(inner), cut).mm(), w);
            assert_figure(long_edge(mm(outer), cut).mm(), long);
            assert_figure(short_edge(mm(inner), cut).mm(), short);
            assert_figure(corner_radius(mm(outer), cut).mm(), corner);
        }
    }

    #[test]
    fn figures_that_magazines_and_clubs_printed() {
        // WOOD magazine, "Staves and Segments": diameter over side, inside (flats) and outside (corners).
        for (n, flats, corners) in [
            (6, 1.732_05, 2.0),
            (8, 2.414_21, 2.613_13),
            (10, 3.077_68, 3.236_07),
            (12, 3.732_05, 3.863_70),
            (16, 5.027_34, 5.125_83),
        ] {
            let cut = miter(Count(n));
            let edge = long_edge(mm(flats / 2.0), cut);
            assert_figure(edge.mm(), 1.0);
            assert_figure(2.0 * corner_radius(mm(flats / 2.0), cut).mm(), corners);
        }
        // The same source: a hexagon 24 in across the flats has sides of 13.85641 in.
        assert_figure(long_edge(mm(12.0), miter(Count(6))).mm(), 13.856_41);
        // A beginner's table: 8 segments, 4.5 in point to point, segment 1.7221 in.
        let cut = miter(Count(8));
        assert!((long_edge(mm(2.25 * cut.cos()), cut).mm() - 1.7221).abs() < 1e-4);
        // A club page's ring of 12 pieces of 2.5 in turns to 9.33 in at most, not to the 10 in wanted (2.679 in).
        let cut = miter(Count(12));
        assert!((long_edge(mm(5.0), cut).mm() - 2.679).abs() < 5e-4);
        assert!((2.5 / cut.tan() - 9.33).abs() < 5e-3);
        // Woodworker's Journal 6/1993: 8 segments of 3 5/16 in, "a little under 8 in".
        let cut = miter(Count(8));
        assert!((3.3125 / cut.tan() - 7.997).abs() < 5e-4);
    }

    #[test]
    fn blanks_and_joints_as_tabled() {
        // Reference rows, checked in the same way: N, R_o, r_i, h, blank volume, joint area as glued.
        for (n, outer, inner, h, volume, joints) in [
            (12, 3.125, 2.125, 0.75, 13.390_1, 9.992_14),
            (8, 103.0, 77.0, 19.0, 349_322.0, 5_241.93),
            (24, 62.0, 50.0, 12.0, 52_573.9, 3_610.08),
        ] {
            let cut = miter(Count(n));
            let strip = needed_width(mm(outer), mm(inner), cut);
            assert_figure(blank_volume(Count(n), mm(outer), strip, cut, mm(h)).mm3(), volume);
            assert_figure(joint_area(Count(n), strip, cut, mm(h)).mm2(), joints);
        }
        // Reference rows of the contact of two blanks, checked in the same way: min outer, max inner, area.
        for (outer, inner, area) in [(3.0, 2.625, 6.6268), (55.0, 50.0, 1_649.34), (1.5, 1.25, 2.159_84)] {
            assert_figure(annulus(mm(outer), mm(inner)).mm2(), area);
        }
        assert!(annulus(mm(2.0), mm(2.5)).mm2().abs() < 1e-12);
    }

    /// The corners of the segments of a ring, laid out round the axis: four a segment.
    fn lay_out(n: u32, outer: f64, strip: f64, long: f64, short: f64) -> Vec<[(f64, f64); 4]> {
        (0..n)
            .map(|i| {
                let turn = std::f64::consts::TAU * f64::from(i) / f64::from(n);
                let place = |along: f64, out: f64| {
                    (out * turn.cos() - along * turn.sin(), out * turn.sin() + along * turn.cos())
                };
                [
                    place(-long / 2.0, outer),
                    place(long / 2.0, outer),
                    place(short / 2.0, outer - strip),
                    place(-short / 2.0, outer - strip),
                ]
            })
            .collect()
    }

    fn shoelace(corners: &[(f64, f64)]) -> f64 {
        let next = corners.iter().cycle().skip(1);
        0.5 * corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs()
    }

    /// Distance from the axis to the segment between two points.
    fn distance_to_edge(a: (f64, f64), b: (f64, f64)) -> f64 {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let t = (-(a.0 * dx + a.1 * dy) / (dx * dx + dy * dy)).clamp(0.0, 1.0);
        (a.0 + t * dx).hypot(a.1 + t * dy)
    }

    proptest! {
        /// The ring laid out as polygons and measured: neighbors meet, the largest circle that can be
        /// turned is R_o, the hole's farthest points lie at r_i, and area and joints agree.
        #[test]
        fn a_ring_laid_out_measures_what_the_closed_forms_say(
            n in 3_u32..80, outer in 5.0..300.0_f64, share in 0.05..0.95_f64, wider in 0.0..0.5_f64,
        ) {
            let (cut, inner) = (miter(Count(n)), outer * share);
            let needed = needed_width(mm(outer), mm(inner), cut);
            let long = long_edge(mm(outer), cut);
            let exact = short_edge_of_strip(long, needed, cut);
            prop_assert!((exact - short_edge(mm(inner), cut)).mm().abs() < 1e-9 * outer);
            prop_assert!(((long - exact).mm() - 2.0 * needed.mm() * cut.tan()).abs() < 1e-9 * outer);

            let strip = needed + (mm(outer) - needed) * wider;
            let short = short_edge_of_strip(long, strip, cut);
            let segments = lay_out(n, outer, strip.mm(), long.mm(), short.mm());
            for (segment, next) in segments.iter().zip(segments.iter().cycle().skip(1)) {
                for (ours, theirs) in [(segment[1], next[0]), (segment[2], next[3])] {
                    prop_assert!((ours.0 - theirs.0).hypot(ours.1 - theirs.1) < 1e-9 * outer, "the joint gapes");
                }
            }
            let flats = segments.iter().map(|s| distance_to_edge(s[0], s[1])).fold(f64::INFINITY, f64::min);
            prop_assert!((flats - outer).abs() < 1e-9 * outer);
            let farthest = segments.iter().map(|s| s[2].0.hypot(s[2].1)).fold(0.0, f64::max);
            prop_assert!((farthest - hole_corner(mm(outer), strip, cut).mm()).abs() < 1e-9 * outer);
            prop_assert!(farthest <= inner + 1e-9 * outer, "wood is missing outside the inner circle");
            let corner = segments.iter().map(|s| s[0].0.hypot(s[0].1)).fold(0.0, f64::max);
            prop_assert!((corner - corner_radius(mm(outer), cut).mm()).abs() < 1e-9 * outer);
            let face: f64 = segments.iter().map(|s| shoelace(s)).sum();
            prop_assert!((face - blank_face(Count(n), mm(outer), strip, cut).mm2()).abs() < 1e-9 * face);
            let joints: f64 = segments.iter().map(|s| (s[1].0 - s[2].0).hypot(s[1].1 - s[2].1)).sum();
            prop_assert!((joints - joint_area(Count(n), strip, cut, mm(1.0)).mm2()).abs() < 1e-9 * joints);
        }
    }
}
