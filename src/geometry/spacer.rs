//! The closed forms of a ring with a spacer, a strip of even thickness, on every joint. Pure functions,
//! each with the words that a turner can check it by.
//!
//! Spacers stand on the radii between the segments, so each end face moves aside by half a spacer and
//! stays parallel to its radius: the miter is that of a ring without spacers. All segments are sawn
//! from one strip; where shares of the circle are unequal, the miter is half the segment's share, and
//! the widest segment decides how wide the strip is.

use crate::quantity::{Angle, Area, Count, Length, Volume, trig};
use crate::workings::Formula;

use super::Profile;

/// How [`long_edge`] is told.
pub static LONG_EDGE: Formula = Formula {
    gives: "long edge of a segment",
    words: "2 × outside radius of the blank × tan(miter) − spacer / cos(miter): half a spacer off each end, measured \
            along the edge",
    inputs: &["outside radius of the blank", "spacer thickness", "miter"],
};

/// Outside edge of a segment between two spacers, its flat at `outer`.
#[must_use]
pub fn long_edge(outer: Length, spacer: Length, miter: Angle) -> Length {
    edge(outer, spacer, miter)
}

/// Edge at distance `flat` from the axis, less half a spacer at each end.
fn edge(flat: Length, spacer: Length, miter: Angle) -> Length {
    flat * (2.0 * miter.tan()) - spacer / miter.cos()
}

/// How [`begin`] is told.
pub static BEGIN: Formula = Formula {
    gives: "where a spacer begins",
    words: "√(inside radius of the blank² − (spacer / 2)²): there its two corners lie on the inside radius",
    inputs: &["inside radius of the blank", "spacer thickness"],
};

/// Distance from the axis, along the spacer, at which its corners lie on the inside radius.
#[must_use]
pub fn begin(inner: Length, spacer: Length) -> Length {
    let half = spacer.mm() / 2.0;
    Length::from_mm(trig::sqrt((inner.mm() * inner.mm() - half * half).max(0.0)))
}

/// How [`inner_flat`] is told.
pub static INNER_FLAT: Formula = Formula {
    gives: "radius to the inner flats",
    words: "where a spacer begins × cos(widest miter) + spacer / 2 × sin(widest miter): the inner corners lie on the inside \
            radius",
    inputs: &["where a spacer begins", "spacer thickness", "widest miter"],
};

/// Distance from the axis to the inner flats when the inner corners of the segment with the widest
/// miter lie on the inside radius. Segments with a smaller miter reach farther in, as long as the
/// spacers do not collide.
#[must_use]
pub fn inner_flat(begin: Length, spacer: Length, widest: Angle) -> Length {
    begin * widest.cos() + spacer * (0.5 * widest.sin())
}

/// How [`needed_width`] is told.
pub static NEEDED_WIDTH: Formula = Formula {
    gives: "strip width needed",
    words: "outside radius of the blank − √(inside radius² − (spacer / 2)²) × cos(widest miter) − spacer / 2 × sin(widest \
            miter)",
    inputs: &["outside radius of the blank", "inside radius of the blank", "spacer thickness", "widest miter"],
};

/// Least width of the strip whose segments, with spacers between them, cover `inner` to `outer`.
#[must_use]
pub fn needed_width(outer: Length, inner: Length, spacer: Length, widest: Angle) -> Length {
    outer - inner_flat(begin(inner, spacer), spacer, widest)
}

/// How [`short_edge`] is told.
pub static SHORT_EDGE: Formula = Formula {
    gives: "short edge of a segment",
    words: "2 × (outside radius of the blank − strip width) × tan(miter) − spacer / cos(miter)",
    inputs: &["outside radius of the blank", "strip width", "spacer thickness", "miter"],
};

/// Inside edge of a segment between two spacers; negative when its ends meet before the strip ends.
#[must_use]
pub fn short_edge(outer: Length, strip: Length, spacer: Length, miter: Angle) -> Length {
    edge(outer - strip, spacer, miter)
}

/// How [`least_inner`] is told.
pub static LEAST_INNER: Formula = Formula {
    gives: "smallest inside radius with spacers",
    words: "spacer / (2 × sin(narrowest miter)): nearer the axis the spacers run into each other",
    inputs: &["spacer thickness", "narrowest miter"],
};

/// Radius at which the two spacers beside the segment with the narrowest miter meet. Where shares are
/// unequal the inner flats, too, must stay outside it, or that segment's short edge is negative.
#[must_use]
pub fn least_inner(spacer: Length, narrowest: Angle) -> Length {
    spacer / (2.0 * narrowest.sin())
}

/// How [`hole_corner`] is told.
pub static HOLE_CORNER: Formula = Formula {
    gives: "radius to the hole's corners",
    words: "√(e² + (spacer / 2)²) with e = (outside radius of the blank − strip width) / cos(widest miter) − spacer / 2 × \
            tan(widest miter)",
    inputs: &["outside radius of the blank", "strip width", "spacer thickness", "widest miter"],
};

/// Distance from the axis to the inner corners of the segment with the widest miter.
#[must_use]
pub fn hole_corner(outer: Length, strip: Length, spacer: Length, widest: Angle) -> Length {
    let along = along_joint(outer - strip, spacer, widest).max(Length::ZERO);
    Length::from_mm(trig::hypot(along.mm(), spacer.mm() / 2.0))
}

/// How [`corner_radius`] is told.
pub static CORNER_RADIUS: Formula = Formula {
    gives: "radius to the outer corners",
    words: "√(e² + (spacer / 2)²) with e = outside radius of the blank / cos(widest miter) − spacer / 2 × tan(widest miter): \
            what swings over the bed",
    inputs: &["outside radius of the blank", "spacer thickness", "widest miter"],
};

/// Distance from the axis to the outer corners of the segment with the widest miter; spacers as long as
/// [`flush_length`] tells reach as far.
#[must_use]
pub fn corner_radius(outer: Length, spacer: Length, widest: Angle) -> Length {
    let along = along_joint(outer, spacer, widest);
    Length::from_mm(trig::hypot(along.mm(), spacer.mm() / 2.0))
}

/// How far along the joint, from the axis, a flat at `flat` meets the spacer's face.
fn along_joint(flat: Length, spacer: Length, miter: Angle) -> Length {
    flat / miter.cos() - spacer * (0.5 * miter.tan())
}

/// How [`needed_length`] is told.
pub static NEEDED_LENGTH: Formula = Formula {
    gives: "shortest spacer",
    words: "outside radius of the blank − √(inside radius² − (spacer / 2)²): it covers everything that is turned, and \
            stops short of the segments' outer corners",
    inputs: &["outside radius of the blank", "inside radius of the blank", "spacer thickness"],
};

/// Shortest spacer that covers everything from `inner` to `outer`: its middle just reaches `outer`.
#[must_use]
pub fn needed_length(outer: Length, inner: Length, spacer: Length) -> Length {
    outer - begin(inner, spacer)
}

/// How [`flush_length`] is told.
pub static FLUSH_LENGTH: Formula = Formula {
    gives: "length of a spacer",
    words: "strip width / cos(miter): as long as the end face that it is glued to, flush at both of its corners",
    inputs: &["strip width", "miter"],
};

/// A spacer as long as the end face of the segment, flush outside and inside. Between unlike segments
/// the wider miter's is the longer. Never shorter than [`needed_length`].
#[must_use]
pub fn flush_length(strip: Length, miter: Angle) -> Length {
    strip / miter.cos()
}

/// How [`blank_face`] is told.
pub static BLANK_FACE: Formula = Formula {
    gives: "segments' face in the blank",
    words: "strip width × (long edge + short edge) / 2, over all segments; the spacers come on top",
    inputs: &["outside radius of the blank", "strip width", "spacer thickness", "miters"],
};

/// Faces of all segments together, without the spacers. No short edge may be negative.
#[must_use]
pub fn blank_face(outer: Length, strip: Length, spacer: Length, miters: &[Angle]) -> Area {
    let edges = |miter: &Angle| long_edge(outer, spacer, *miter) + short_edge(outer, strip, spacer, *miter);
    strip.by(miters.iter().map(edges).sum::<Length>() / 2.0)
}

/// How [`joint_area`] is told.
pub static JOINT_AREA: Formula = Formula {
    gives: "glued joints of the ring",
    words: "2 × rough thickness × the sum of strip width / cos(miter) over all segments: both sides of every spacer",
    inputs: &["strip width", "rough thickness", "miters"],
};

/// All joints of a ring together, as glued: every segment has two end faces, each with a spacer on it.
#[must_use]
pub fn joint_area(strip: Length, thickness: Length, miters: &[Angle]) -> Area {
    miters.iter().map(|miter| flush_length(strip, *miter).by(thickness) * 2.0).sum()
}

/// How [`strip_area`] is told.
pub static STRIP_AREA: Formula = Formula {
    gives: "face of a radial strip out to a radius",
    words: "spacer / 2 × √(radius² − (spacer / 2)²) + radius² × asin(spacer / (2 × radius)), the angle in radians",
    inputs: &["radius", "spacer thickness"],
};

/// Area of a strip `spacer` wide that begins at the axis and ends at the circle of `radius`.
#[must_use]
pub fn strip_area(radius: Length, spacer: Length) -> Area {
    let (rho, half) = (radius.mm(), spacer.mm() / 2.0);
    if rho <= 0.0 {
        return Area::default();
    }
    let along = trig::sqrt((rho * rho - half * half).max(0.0));
    Area::from_mm2(half * along + rho * rho * trig::asin(half / rho))
}

/// How [`turned_area`] is told.
pub static TURNED_AREA: Formula = Formula {
    gives: "spacers in a turned face",
    words: "spacers × (a radial strip's face out to the outside radius − that out to the inside radius)",
    inputs: &["spacers", "spacer thickness", "outside radius", "inside radius"],
};

/// What the spacers take of a turned face from `inner` to `outer`. Holds from [`least_inner`] on.
#[must_use]
pub fn turned_area(spacers: Count, spacer: Length, outer: Length, inner: Length) -> Area {
    (strip_area(outer, spacer) - strip_area(inner, spacer)) * f64::from(spacers.0)
}

/// How [`turned_volume`] is told.
pub static TURNED_VOLUME: Formula = Formula {
    gives: "spacers in the turned layer",
    words: "spacers × (a radial strip's face out to the outside − that out to the inside), summed over the layer's height",
    inputs: &["spacers", "spacer thickness", "bottom of the layer", "top of the layer"],
};

/// What the spacers take of a turned layer between two heights: the strips' faces, integrated over
/// both curves to a billionth. Holds where the inside stays outside [`least_inner`].
#[must_use]
pub fn turned_volume(
    spacers: Count,
    spacer: Length,
    (bottom, top): (Length, Length),
    outside: &Profile,
    inside: &Profile,
) -> Volume {
    let strips = |profile: &Profile| profile.volume_of_sections(bottom, top, |radius| strip_area(radius, spacer));
    (strips(outside) - strips(inside)) * f64::from(spacers.0)
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use std::f64::consts::PI;

    use proptest::prelude::*;

    use super::{
        begin, blank_face, corner_radius, flush_length, hole_corner, inner_flat, joint_area, least_inner, long_edge,
        needed_length, needed_width, short_edge, strip_area, turned_area, turned_volume,
    };
    use crate::geometry::{Profile, ProfilePoint, ring};
    use crate::quantity::{Angle, Count, Length};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[track_caller]
    fn assert_figure(got: f64, wanted: f64) {
        assert!((got - wanted).abs() <= 1e-5 * wanted.abs(), "{got}, not {wanted}");
    }

    #[test]
    fn rings_with_spacers_as_tabled() {
        // Reference rows (closed form to six digits, checked by polygons laid out and measured): N, R_o, r_i, t, L, l, w,
        // inner flat, where a spacer begins, its shortest length.
        for (n, outer, inner, t, long, short, w, flat, from, length) in [
            (12, 3.0, 2.25, 0.125, 1.478_29, 1.043_5, 0.811_329, 2.188_67, 2.249_13, 0.750_868),
            (8, 100.0, 80.0, 6.0, 76.348_4, 55.643, 24.993_6, 75.006_4, 79.943_7, 20.056_3),
            (16, 5.0, 4.25, 0.25, 1.734_23, 1.412_35, 0.809_08, 4.190_92, 4.248_16, 0.751_839),
            (6, 40.0, 30.0, 3.0, 42.723_9, 27.364_4, 13.301_7, 26.698_3, 29.962_5, 10.037_5),
        ] {
            let cut = ring::miter(Count(n));
            let (outer, inner, t) = (mm(outer), mm(inner), mm(t));
            let strip = needed_width(outer, inner, t, cut);
            assert_figure(strip.mm(), w);
            assert_figure(long_edge(outer, t, cut).mm(), long);
            assert_figure(short_edge(outer, strip, t, cut).mm(), short);
            assert_figure(begin(inner, t).mm(), from);
            assert_figure(inner_flat(begin(inner, t), t, cut).mm(), flat);
            assert_figure(needed_length(outer, inner, t).mm(), length);
        }
        // Reference rows of a long edge cut L − t, checked in the same way: N, t, the ring too large on the radius.
        for (n, t, too_large) in [(6, 0.25, 0.033_493_6), (8, 6.0, 0.596_737), (12, 0.125, 0.008_228_28)] {
            let cut = ring::miter(Count(n));
            let wrong = ring::long_edge(mm(100.0), cut) - mm(t);
            // The flat at which that edge fits between the spacers.
            let flat = (wrong + mm(t) / cut.cos()) / (2.0 * cut.tan());
            assert_figure((flat - mm(100.0)).mm(), too_large);
        }
    }

    #[test]
    fn what_spacers_take_as_tabled() {
        // Reference rows (closed form to six digits, checked by dense sampling): N, t, R, r, share of the annulus, the
        // share of plain rectangles.
        for (n, t, outer, inner, share, naive) in [
            (12, 0.125, 3.0, 2.25, 0.090_954_5, 0.090_945_7),
            (8, 6.0, 100.0, 80.0, 0.084_898_6, 0.084_882_6),
            (16, 0.25, 2.0, 1.0, 0.424_968, 0.424_413),
        ] {
            let annulus = ring::annulus(mm(outer), mm(inner)).mm2();
            let exact = turned_area(Count(n), mm(t), mm(outer), mm(inner)).mm2();
            assert_figure(exact / annulus, share);
            assert_figure(f64::from(n) * t * (outer - inner) / annulus, naive);
        }
        // Reference rows of parallel gaps under half a pitch of stagger, checked by sampling: N, gap, R, r, contact, share.
        for (n, gap, outer, inner, area, share) in [
            (12, 0.25, 3.0, 2.5, 5.638_34, 0.652_632),
            (24, 3.0, 60.0, 50.0, 2_015.57, 0.583_251),
            (16, 6.0, 100.0, 85.0, 5_837.41, 0.669_588),
        ] {
            let annulus = ring::annulus(mm(outer), mm(inner)).mm2();
            let contact = annulus - 2.0 * turned_area(Count(n), mm(gap), mm(outer), mm(inner)).mm2();
            assert_figure(contact, area);
            assert_figure(contact / annulus, share);
        }
    }

    #[test]
    fn spacers_fill_the_circle_where_they_meet() {
        // At the radius where all spacers meet nothing is left of a segment.
        for n in [6, 12, 24] {
            let (cut, t) = (ring::miter(Count(n)), mm(3.0));
            let inner = least_inner(t, cut);
            let strip = needed_width(mm(90.0), inner, t, cut);
            assert!(short_edge(mm(90.0), strip, t, cut).mm().abs() < 1e-9);
        }
        // A strip wider than the circle is half the circle.
        assert!((strip_area(mm(2.0), mm(7.0)).mm2() - PI * 2.0).abs() < 1e-12);
        assert!(strip_area(Length::ZERO, mm(1.0)).mm2().abs() < 1e-12);
    }

    fn points(at: &[(f64, f64)]) -> Vec<ProfilePoint> {
        at.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect()
    }

    #[test]
    fn a_turned_layer_holds_as_much_spacer_as_thin_slices_do() {
        let outside = Profile::smooth(&points(&[(0.0, 40.0), (20.0, 60.0), (50.0, 52.0), (60.0, 30.0)]));
        let inside = Profile::straight(&points(&[(10.0, 20.0), (40.0, 50.0), (60.0, 21.0)]));
        let straight = Profile::straight(&points(&[(0.0, 50.0), (60.0, 50.0)]));
        let bore = Profile::straight(&points(&[(0.0, 30.0), (60.0, 30.0)]));
        let (n, t) = (Count(12), mm(4.0));
        let even = turned_volume(n, t, (mm(5.0), mm(25.0)), &straight, &bore).mm3();
        assert!((even / (turned_area(n, t, mm(50.0), mm(30.0)).mm2() * 20.0) - 1.0).abs() < 1e-12);
        for (z0, z1) in [(12.0, 25.0), (25.0, 48.0), (10.0, 60.0)] {
            let steps = 10_000;
            let slice = (z1 - z0) / f64::from(steps);
            let sum: f64 = (0..steps)
                .map(|i| {
                    let z = mm(z0 + slice * (f64::from(i) + 0.5));
                    turned_area(n, t, outside.above(z), inside.above(z)).mm2() * slice
                })
                .sum();
            let got = turned_volume(n, t, (mm(z0), mm(z1)), &outside, &inside).mm3();
            assert!((got / sum - 1.0).abs() < 1e-7, "{got}, not {sum}");
        }
        // Down to the axis, where the strip is wider than the circle: S(ρ) = πρ²/2 up to t/2, from there by slices.
        let cone = Profile::straight(&points(&[(0.0, 0.0), (10.0, 10.0)]));
        let got = cone.volume_of_sections(mm(0.0), mm(2.0), |radius| strip_area(radius, t)).mm3();
        assert!((got / (PI / 2.0 * 8.0 / 3.0) - 1.0).abs() < 1e-9);
        let steps = 100_000;
        let sum: f64 = (0..steps).map(|i| strip_area(mm(1e-4 * (f64::from(i) + 0.5)), t).mm2() * 1e-4).sum();
        let got = cone.volume_of_sections(mm(0.0), mm(10.0), |radius| strip_area(radius, t)).mm3();
        assert!((got / sum - 1.0).abs() < 1e-9, "{got}, not {sum}");
    }

    type Point = (f64, f64);

    /// Segments and, between each and the next, a spacer; as polygons round the axis.
    fn lay_out(
        sweeps: &[f64],
        outer: f64,
        strip: f64,
        t: f64,
        spacer: f64,
        from: f64,
    ) -> Vec<([Point; 4], [Point; 4])> {
        let mut at = 0.0_f64;
        let mut laid = Vec::new();
        for sweep in sweeps {
            let (middle, joint) = ((at + sweep / 2.0).to_radians(), (at + sweep).to_radians());
            at += sweep;
            let place = |turn: f64| {
                move |out: f64, along: f64| {
                    (out * turn.cos() - along * turn.sin(), out * turn.sin() + along * turn.cos())
                }
            };
            let cut = Angle::from_degrees(sweep / 2.0);
            let long = long_edge(mm(outer), mm(t), cut).mm() / 2.0;
            let short = short_edge(mm(outer), mm(strip), mm(t), cut).mm() / 2.0;
            let at_segment = place(middle);
            let segment = [
                at_segment(outer, -long),
                at_segment(outer, long),
                at_segment(outer - strip, short),
                at_segment(outer - strip, -short),
            ];
            let at_joint = place(joint);
            let (low, high, half) = (from, from + spacer, t / 2.0);
            laid.push((
                segment,
                [at_joint(high, -half), at_joint(high, half), at_joint(low, half), at_joint(low, -half)],
            ));
        }
        laid
    }

    fn shoelace(corners: &[Point]) -> f64 {
        let next = corners.iter().cycle().skip(1);
        0.5 * corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs()
    }

    /// Whether a point lies in a convex polygon that runs counterclockwise, or within `slack` of it.
    fn holds(corners: &[Point], p: Point, slack: f64) -> bool {
        let next = corners.iter().cycle().skip(1);
        corners.iter().zip(next).all(|(a, b)| {
            let (dx, dy) = (b.0 - a.0, b.1 - a.1);
            dx * (p.1 - a.1) - dy * (p.0 - a.0) >= -slack * dx.hypot(dy)
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]

        /// Laid out with shares equal or not: end faces lie on the spacers' faces, and every point of
        /// the turned ring, walked in fine steps along its two circles, is in some piece.
        #[test]
        fn a_ring_with_spacers_laid_out_is_all_wood(
            parts in prop::collection::vec(1_u32..4, 3..20), share in 0.0..0.9_f64, thin in 0.001..0.15_f64,
        ) {
            let outer = 100.0;
            let whole = f64::from(parts.iter().sum::<u32>());
            let sweeps: Vec<f64> = parts.iter().map(|part| 360.0 * f64::from(*part) / whole).collect();
            prop_assume!(sweeps.iter().all(|sweep| *sweep < 150.0));
            let cut = |sweep: f64| Angle::from_degrees(sweep / 2.0);
            let widest = cut(sweeps.iter().copied().fold(0.0, f64::max));
            let narrowest = cut(sweeps.iter().copied().fold(360.0, f64::min));
            let t = 2.0 * outer * narrowest.sin() * thin;
            let least = least_inner(mm(t), narrowest).mm();
            let inner = least + (outer - least) * share;
            let strip = needed_width(mm(outer), mm(inner), mm(t), widest).mm();
            prop_assume!(short_edge(mm(outer), mm(strip), mm(t), narrowest).mm() > 0.0);
            let needed = needed_length(mm(outer), mm(inner), mm(t));
            let flush = flush_length(mm(strip), widest);
            prop_assert!(flush.mm() >= needed.mm() - 1e-9);
            let from = begin(mm(inner), mm(t)).mm();
            let laid = lay_out(&sweeps, outer, strip, t, needed.mm(), from);

            let mut hole = 0.0_f64;
            let mut corner = 0.0_f64;
            for (i, (segment, spacer)) in laid.iter().enumerate() {
                let next = laid[(i + 1) % laid.len()].0;
                for (edge, points) in [((spacer[0], spacer[3]), [segment[1], segment[2]]), ((spacer[1], spacer[2]), [next[0], next[3]])] {
                    let (dx, dy) = (edge.1.0 - edge.0.0, edge.1.1 - edge.0.1);
                    for p in points {
                        let off = (dx * (p.1 - edge.0.1) - dy * (p.0 - edge.0.0)) / dx.hypot(dy);
                        prop_assert!(off.abs() < 1e-8, "an end face is {off} off its spacer");
                    }
                }
                hole = hole.max(segment[2].0.hypot(segment[2].1));
                corner = corner.max(segment[1].0.hypot(segment[1].1));
            }
            prop_assert!((hole - inner).abs() < 1e-8, "the widest segment's corner is at {hole}, not {inner}");
            prop_assert!((hole_corner(mm(outer), mm(strip), mm(t), widest).mm() - hole).abs() < 1e-8);
            prop_assert!((corner_radius(mm(outer), mm(t), widest).mm() - corner).abs() < 1e-8);
            for step in 0..1200 {
                let turn = f64::from(step).to_radians() * 0.3;
                for radius in [inner, f64::midpoint(inner, outer), outer] {
                    let p = (radius * turn.cos(), radius * turn.sin());
                    let wood = laid.iter().any(|(segment, spacer)| holds(segment, p, 1e-8) || holds(spacer, p, 1e-8));
                    prop_assert!(wood, "no wood at {turn} rad, radius {radius}");
                }
            }
            let cuts: Vec<Angle> = sweeps.iter().map(|sweep| cut(*sweep)).collect();
            let face: f64 = laid.iter().map(|(segment, _)| shoelace(segment)).sum();
            prop_assert!((blank_face(mm(outer), mm(strip), mm(t), &cuts).mm2() - face).abs() < 1e-8 * face);
            let ends: f64 = laid.iter().map(|(s, _)| 2.0 * (s[1].0 - s[2].0).hypot(s[1].1 - s[2].1)).sum();
            prop_assert!((joint_area(mm(strip), mm(1.0), &cuts).mm2() - ends).abs() < 1e-8 * ends);
        }

        #[test]
        fn without_thickness_it_is_a_plain_ring(n in 3_u32..60, outer in 5.0..300.0_f64, share in 0.05..0.95_f64) {
            let (cut, inner, outer) = (ring::miter(Count(n)), mm(outer * share), mm(outer));
            let strip = needed_width(outer, inner, Length::ZERO, cut);
            prop_assert!((strip - ring::needed_width(outer, inner, cut)).mm().abs() < 1e-9);
            prop_assert_eq!(long_edge(outer, Length::ZERO, cut), ring::long_edge(outer, cut));
            prop_assert!((short_edge(outer, strip, Length::ZERO, cut) - ring::short_edge(inner, cut)).mm().abs() < 1e-9);
        }
    }
}
