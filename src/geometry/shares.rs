//! The closed forms of a ring whose segments span unequal shares of the circle. Pure functions, each
//! with the words that a turner can check it by.
//!
//! All outer flats lie at one distance from the axis, all inner flats at another, so one strip serves
//! every segment and every joint lies on a radius. The corners of unlike neighbors do not meet: what
//! stands over is turned away.

use crate::quantity::{Angle, Area, Length};
use crate::workings::Formula;

use super::ring;

/// Whether a segment can span `sweep`: from 180° on its two ends would never meet its flat.
#[must_use]
pub fn can_be_sawn(sweep: Angle) -> bool {
    sweep > Angle::ZERO && sweep.degrees() < 180.0
}

/// How [`end_cut`] is told.
pub static END_CUT: Formula = Formula {
    gives: "miter",
    words: "the segment's share of the circle / 2, measured from a square cut",
    inputs: &["share of the circle"],
};

/// Angle cut off each end of a segment that spans `sweep`, from a square cut.
#[must_use]
pub fn end_cut(sweep: Angle) -> Angle {
    sweep / 2.0
}

/// How [`long_edge`] is told.
pub static LONG_EDGE: Formula = Formula {
    gives: "long edge of a segment",
    words: "2 × outside radius of the blank × tan(share of the circle / 2): the outer flats touch the circle",
    inputs: &["outside radius of the blank", "share of the circle"],
};

/// Outside edge of a segment that spans `sweep`, its flat at `outer`.
#[must_use]
pub fn long_edge(outer: Length, sweep: Angle) -> Length {
    ring::long_edge(outer, end_cut(sweep))
}

/// How [`needed_width`] is told.
pub static NEEDED_WIDTH: Formula = Formula {
    gives: "strip width needed",
    words: "outside radius − inside radius × cos(widest share of the circle / 2), both of the blank: the widest segment's \
            inner corners lie farthest out",
    inputs: &["outside radius of the blank", "inside radius of the blank", "widest share of the circle"],
};

/// Least width of the one strip whose segments, none wider than `widest`, cover `inner` to `outer`.
#[must_use]
pub fn needed_width(outer: Length, inner: Length, widest: Angle) -> Length {
    ring::needed_width(outer, inner, end_cut(widest))
}

/// How [`short_edge`] is told.
pub static SHORT_EDGE: Formula = Formula {
    gives: "short edge of a segment",
    words: "2 × (outside radius of the blank − strip width) × tan(share of the circle / 2)",
    inputs: &["outside radius of the blank", "strip width", "share of the circle"],
};

/// Inside edge of a segment that spans `sweep`; negative when the strip is wider than the ring's radius.
#[must_use]
pub fn short_edge(outer: Length, strip: Length, sweep: Angle) -> Length {
    (outer - strip) * (2.0 * end_cut(sweep).tan())
}

/// How [`corner_radius`] is told.
pub static CORNER_RADIUS: Formula = Formula {
    gives: "radius to the outer corners",
    words: "outside radius of the blank / cos(widest share of the circle / 2): what swings over the bed",
    inputs: &["outside radius of the blank", "widest share of the circle"],
};

/// Distance from the axis to the outer corners of a segment that spans `sweep`; the widest one's swing.
#[must_use]
pub fn corner_radius(outer: Length, sweep: Angle) -> Length {
    ring::corner_radius(outer, end_cut(sweep))
}

/// Distance from the axis to the inner corners of a segment that spans `sweep`; the widest one's bound
/// the hole.
#[must_use]
pub fn hole_corner(outer: Length, strip: Length, sweep: Angle) -> Length {
    ring::hole_corner(outer, strip, end_cut(sweep))
}

/// How [`outer_step`] is told.
pub static OUTER_STEP: Formula = Formula {
    gives: "step at a joint, outside",
    words: "outside radius of the blank × the difference of 1 / cos(share / 2) of the two segments; it is turned away",
    inputs: &["outside radius of the blank", "share of one segment", "share of the next"],
};

/// How far, along the joint, the outer corner of the wider of two neighbors stands over the other's.
#[must_use]
pub fn outer_step(outer: Length, one: Angle, next: Angle) -> Length {
    (corner_radius(outer, one) - corner_radius(outer, next)).abs()
}

/// How [`inner_step`] is told.
pub static INNER_STEP: Formula = Formula {
    gives: "step at a joint, inside",
    words: "(outside radius of the blank − strip width) × the difference of 1 / cos(share / 2) of the two segments; it is \
            turned away",
    inputs: &["outside radius of the blank", "strip width", "share of one segment", "share of the next"],
};

/// How far, along the joint, the inner corner of the narrower of two neighbors stands nearer the axis
/// than the other's.
#[must_use]
pub fn inner_step(outer: Length, strip: Length, one: Angle, next: Angle) -> Length {
    (hole_corner(outer, strip, one) - hole_corner(outer, strip, next)).abs()
}

/// How [`blank_face`] is told.
pub static BLANK_FACE: Formula = Formula {
    gives: "face of the blank",
    words: "(outside radius² − (outside radius − strip width)²) × the sum of tan(share / 2) over all segments",
    inputs: &["outside radius of the blank", "strip width", "shares of the circle"],
};

/// Face of the glued ring, all its segments together.
#[must_use]
pub fn blank_face(outer: Length, strip: Length, sweeps: &[Angle]) -> Area {
    let flat = (outer - strip).max(Length::ZERO).mm();
    let tangents: f64 = sweeps.iter().map(|sweep| end_cut(*sweep).tan()).sum();
    Area::from_mm2(tangents * (outer.mm() * outer.mm() - flat * flat))
}

/// How [`joint_length`] is told.
pub static JOINT_LENGTH: Formula = Formula {
    gives: "glued length of a joint",
    words: "outside radius of the blank / cos(narrower share / 2) − (outside radius − strip width) / cos(wider share / 2): \
            where both end faces lie on each other",
    inputs: &["outside radius of the blank", "strip width", "share of one segment", "share of the next"],
};

/// Length over which the end faces of two neighbors lie on each other.
#[must_use]
pub fn joint_length(outer: Length, strip: Length, one: Angle, next: Angle) -> Length {
    let (narrow, wide) = if one <= next { (one, next) } else { (next, one) };
    (corner_radius(outer, narrow) - hole_corner(outer, strip, wide)).max(Length::ZERO)
}

/// How [`joint_area`] is told.
pub static JOINT_AREA: Formula = Formula {
    gives: "glued joints of the ring",
    words: "rough thickness × the sum of the glued lengths of all joints, the last segment with the first",
    inputs: &["outside radius of the blank", "strip width", "rough thickness", "shares of the circle"],
};

/// All joints of a ring together, as glued; `sweeps` in their order round the ring.
#[must_use]
pub fn joint_area(outer: Length, strip: Length, thickness: Length, sweeps: &[Angle]) -> Area {
    let nexts = sweeps.iter().cycle().skip(1);
    sweeps.iter().zip(nexts).map(|(one, next)| joint_length(outer, strip, *one, *next).by(thickness)).sum()
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use proptest::prelude::*;

    use super::{
        blank_face, can_be_sawn, corner_radius, end_cut, hole_corner, inner_step, joint_area, joint_length, long_edge,
        needed_width, outer_step, short_edge,
    };
    use crate::geometry::ring;
    use crate::quantity::{Angle, Count, Length};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn deg(value: f64) -> Angle {
        Angle::from_degrees(value)
    }

    #[track_caller]
    fn assert_figure(got: f64, wanted: f64) {
        assert!((got - wanted).abs() <= 1e-5 * wanted.abs(), "{got}, not {wanted}");
    }

    fn widest(sweeps: &[Angle]) -> Angle {
        sweeps.iter().copied().fold(Angle::ZERO, |a, b| if b > a { b } else { a })
    }

    #[test]
    fn unequal_rings_as_tabled() {
        // Reference rows (closed form to six digits, checked by polygons laid out and measured): shares in order round
        // the ring, R_o, r_i, w, then by rising share: half angle, long edge, short edge; largest steps outside, inside.
        type Row<'a> = (&'a [f64], f64, f64, f64, &'a [(f64, f64, f64)], f64, f64);
        let rows: [Row<'_>; 4] = [
            (
                &[60.0, 30.0, 60.0, 30.0, 60.0, 30.0, 60.0, 30.0],
                3.0,
                2.25,
                1.051_44,
                &[(15.0, 1.607_7, 1.044_23), (30.0, 3.464_1, 2.25)],
                0.358_273,
                0.232_705,
            ),
            (
                &[72.0, 24.0, 24.0, 72.0, 24.0, 24.0, 72.0, 24.0, 24.0],
                60.0,
                48.0,
                21.167_2,
                &[(12.0, 25.506_8, 16.508_3), (36.0, 87.185_1, 56.427_4)],
                12.823_6,
                8.299_64,
            ),
            (
                &[22.5, 45.0, 67.5, 45.0, 22.5, 45.0, 67.5, 45.0],
                4.0,
                3.0,
                1.505_59,
                &[(11.25, 1.591_3, 0.992_338), (22.5, 3.313_71, 2.066_44), (33.75, 5.345_43, 3.333_42)],
                0.481_19,
                0.300_071,
            ),
            (
                &[30.0, 60.0, 45.0, 45.0, 90.0, 90.0],
                100.0,
                60.0,
                57.573_6,
                &[
                    (15.0, 53.589_8, 22.736_2),
                    (22.5, 82.842_7, 35.147_2),
                    (30.0, 115.47, 48.989_8),
                    (45.0, 200.0, 84.852_8),
                ],
                37.893_7,
                16.077,
            ),
        ];
        for (shares, outer, inner, w, segments, outside, inside) in rows {
            let sweeps: Vec<Angle> = shares.iter().map(|share| deg(*share)).collect();
            let strip = needed_width(mm(outer), mm(inner), widest(&sweeps));
            assert_figure(strip.mm(), w);
            for (half, long, short) in segments {
                let sweep = deg(2.0 * half);
                assert_figure(end_cut(sweep).degrees(), *half);
                assert_figure(long_edge(mm(outer), sweep).mm(), *long);
                assert_figure(short_edge(mm(outer), strip, sweep).mm(), *short);
            }
            let pairs = || sweeps.iter().copied().zip(sweeps.iter().copied().cycle().skip(1));
            let steps = pairs().map(|(a, b)| outer_step(mm(outer), a, b).mm());
            assert_figure(steps.fold(0.0, f64::max), outside);
            let steps = pairs().map(|(a, b)| inner_step(mm(outer), strip, a, b).mm());
            assert_figure(steps.fold(0.0, f64::max), inside);
        }
    }

    #[test]
    fn half_the_circle_is_too_much_for_one_segment() {
        assert!(can_be_sawn(deg(179.9)) && can_be_sawn(deg(0.1)));
        assert!(!can_be_sawn(deg(180.0)) && !can_be_sawn(deg(200.0)) && !can_be_sawn(Angle::ZERO));
    }

    /// The corners of the segments, laid out one after the other round the axis.
    fn lay_out(sweeps: &[Angle], outer: Length, strip: Length) -> Vec<[(f64, f64); 4]> {
        let mut at = 0.0_f64;
        let mut laid = Vec::new();
        for sweep in sweeps {
            let turn = (at + sweep.degrees() / 2.0).to_radians();
            at += sweep.degrees();
            let place =
                |along: f64, out: f64| (out * turn.cos() - along * turn.sin(), out * turn.sin() + along * turn.cos());
            let (long, short) = (long_edge(outer, *sweep).mm(), short_edge(outer, strip, *sweep).mm());
            let (out, flat) = (outer.mm(), (outer - strip).mm());
            laid.push([
                place(-long / 2.0, out),
                place(long / 2.0, out),
                place(short / 2.0, flat),
                place(-short / 2.0, flat),
            ]);
        }
        laid
    }

    fn shoelace(corners: &[(f64, f64)]) -> f64 {
        let next = corners.iter().cycle().skip(1);
        0.5 * corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs()
    }

    proptest! {
        #[test]
        fn equal_shares_are_a_plain_ring(
            n in 3_u32..60, outer in 5.0..300.0_f64, share in 0.05..0.95_f64, h in 1.0..40.0_f64,
        ) {
            let (cut, inner) = (ring::miter(Count(n)), mm(outer * share));
            let (outer, sweep) = (mm(outer), deg(360.0 / f64::from(n)));
            let sweeps = vec![sweep; n as usize];
            let strip = ring::needed_width(outer, inner, cut);
            prop_assert_eq!(end_cut(sweep), cut);
            prop_assert_eq!(needed_width(outer, inner, sweep), strip);
            prop_assert_eq!(long_edge(outer, sweep), ring::long_edge(outer, cut));
            let long = ring::long_edge(outer, cut);
            let near = |a: f64, b: f64| (a - b).abs() <= 1e-12 * (b.abs() + outer.mm());
            prop_assert!(near(short_edge(outer, strip, sweep).mm(), ring::short_edge_of_strip(long, strip, cut).mm()));
            prop_assert_eq!(corner_radius(outer, sweep), ring::corner_radius(outer, cut));
            prop_assert_eq!(hole_corner(outer, strip, sweep), ring::hole_corner(outer, strip, cut));
            prop_assert_eq!(outer_step(outer, sweep, sweep), Length::ZERO);
            let face = ring::blank_face(Count(n), outer, strip, cut).mm2();
            prop_assert!((blank_face(outer, strip, &sweeps).mm2() - face).abs() <= 1e-12 * face);
            let joints = ring::joint_area(Count(n), strip, cut, mm(h)).mm2();
            prop_assert!((joint_area(outer, strip, mm(h), &sweeps).mm2() - joints).abs() <= 1e-9 * joints);
        }

        /// Laid out and measured: end faces of neighbors lie on one radius, they meet over the length
        /// told, every circle from r_i to R_o is all wood.
        #[test]
        fn a_ring_of_unequal_shares_laid_out(
            parts in prop::collection::vec(1_u32..6, 3..24), outer in 5.0..300.0_f64, share in 0.1..0.95_f64,
        ) {
            let whole = f64::from(parts.iter().sum::<u32>());
            let sweeps: Vec<Angle> = parts.iter().map(|part| deg(360.0 * f64::from(*part) / whole)).collect();
            prop_assume!(sweeps.iter().all(|sweep| sweep.degrees() < 175.0));
            let (outer, inner) = (mm(outer), mm(outer * share));
            let strip = needed_width(outer, inner, widest(&sweeps));
            let laid = lay_out(&sweeps, outer, strip);
            let size = corner_radius(outer, widest(&sweeps)).mm();
            let mut joints = 0.0;
            for (i, segment) in laid.iter().enumerate() {
                let j = (i + 1) % laid.len();
                let next = laid[j];
                for point in [segment[2], next[0], next[3]] {
                    let off = segment[1].0 * point.1 - segment[1].1 * point.0;
                    prop_assert!(off.abs() < 1e-9 * size * size, "an end face is off its radius");
                }
                let far = |p: (f64, f64)| p.0.hypot(p.1);
                let (from, to) = (far(segment[2]).max(far(next[3])), far(segment[1]).min(far(next[0])));
                prop_assert!(from <= inner.mm() + 1e-9 * size && to >= outer.mm() - 1e-9 * size);
                prop_assert!((joint_length(outer, strip, sweeps[i], sweeps[j]).mm() - (to - from)).abs() < 1e-9 * size);
                joints += to - from;
                let step = (far(segment[1]) - far(next[0])).abs();
                prop_assert!((outer_step(outer, sweeps[i], sweeps[j]).mm() - step).abs() < 1e-9 * size);
                let step = (far(segment[2]) - far(next[3])).abs();
                prop_assert!((inner_step(outer, strip, sweeps[i], sweeps[j]).mm() - step).abs() < 1e-9 * size);
            }
            prop_assert!((joint_area(outer, strip, mm(1.0), &sweeps).mm2() - joints).abs() < 1e-9 * joints);
            let face: f64 = laid.iter().map(|corners| shoelace(corners)).sum();
            prop_assert!((blank_face(outer, strip, &sweeps).mm2() - face).abs() < 1e-9 * face);
        }
    }
}
