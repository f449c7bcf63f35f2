//! The closed forms of staves, boards that stand round the axis with their grain upright or leaning with
//! the wall. Pure functions, each with the words that a turner can check it by.
//!
//! A stave leans from the vertical, outward upward when its lean is positive. Its outer face touches a
//! cone in a line, its joints lie on planes through the axis. The two settings of the saw hold for a
//! board that lies with that face on the table: the blade tilts from square to it, and the gauge turns
//! the cut off the board's edge, so that the stave tapers.

use crate::quantity::{Angle, Area, Count, Length, Volume, trig};
use crate::workings::Formula;

use super::ring;

fn from_radians(radians: f64) -> Angle {
    Angle::from_degrees(radians.to_degrees())
}

/// How [`lean`] is told.
pub static LEAN: Formula = Formula {
    gives: "lean of the staves",
    words: "atan((outside radius at the top − at the bottom) / height), measured from upright",
    inputs: &["outside radius of the blank at the bottom", "outside radius of the blank at the top", "height"],
};

/// Angle of a stave from upright: positive when it leans outward upward.
#[must_use]
pub fn lean(bottom: Length, top: Length, height: Length) -> Angle {
    from_radians(trig::atan2((top - bottom).mm(), height.mm()))
}

/// How [`tilt`] is told.
pub static TILT: Formula = Formula {
    gives: "blade tilt",
    words: "asin(cos(lean) × sin(180° / staves)), measured from square to the face",
    inputs: &["lean of the staves", "miter"],
};

/// Tilt of the blade from square to the stave's face; `miter` is 180° / staves.
#[must_use]
pub fn tilt(lean: Angle, miter: Angle) -> Angle {
    from_radians(trig::asin(lean.cos() * miter.sin()))
}

/// How [`gauge`] is told.
pub static GAUGE: Formula = Formula {
    gives: "taper of each edge",
    words: "atan(sin(lean) × tan(180° / staves)), measured off the board's edge",
    inputs: &["lean of the staves", "miter"],
};

/// Angle of each sawn edge off the board's length, in its face; positive when the stave is wider at
/// the top.
#[must_use]
pub fn gauge(lean: Angle, miter: Angle) -> Angle {
    from_radians(trig::atan2(lean.sin() * miter.sin(), miter.cos()))
}

/// How [`taper`] is told.
pub static TAPER: Formula = Formula {
    gives: "taper of a stave",
    words: "2 × the taper of each edge: between its two edges",
    inputs: &["taper of each edge"],
};

/// Angle between the two edges of a stave's face.
#[must_use]
pub fn taper(gauge: Angle) -> Angle {
    gauge * 2.0
}

/// How [`width`] is told.
pub static WIDTH: Formula = Formula {
    gives: "width of a stave",
    words: "2 × outside radius of the blank at that end × tan(180° / staves)",
    inputs: &["outside radius of the blank at that end", "miter"],
};

/// Width of a stave's outer face where it touches the circle of `outer`.
#[must_use]
pub fn width(outer: Length, miter: Angle) -> Length {
    ring::long_edge(outer, miter)
}

/// How [`slant_length`] is told.
pub static SLANT_LENGTH: Formula = Formula {
    gives: "length of a stave along its face",
    words: "height / cos(lean)",
    inputs: &["height", "lean of the staves"],
};

/// Length along the leaning face between its two level ends.
#[must_use]
pub fn slant_length(height: Length, lean: Angle) -> Length {
    height / lean.cos()
}

/// How [`blank_length`] is told.
pub static BLANK_LENGTH: Formula = Formula {
    gives: "length of the board for a stave",
    words: "height / cos(lean) + board thickness × tan(lean without its sign): both ends are cut level",
    inputs: &["height", "board thickness", "lean of the staves"],
};

/// Length of the board that both level ends can be cut from.
#[must_use]
pub fn blank_length(height: Length, thickness: Length, lean: Angle) -> Length {
    slant_length(height, lean) + thickness * lean.tan().abs()
}

/// How [`level_wall`] is told.
pub static LEVEL_WALL: Formula = Formula {
    gives: "wall of the blank, measured level",
    words: "board thickness / cos(lean)",
    inputs: &["board thickness", "lean of the staves"],
};

/// Thickness of the leaning board, measured level from flat to flat.
#[must_use]
pub fn level_wall(thickness: Length, lean: Angle) -> Length {
    thickness / lean.cos()
}

/// How [`needed_thickness`] is told.
pub static NEEDED_THICKNESS: Formula = Formula {
    gives: "board thickness needed",
    words: "cos(lean) × the larger, of the two ends, of outside radius − inside radius × cos(180° / staves)",
    inputs: &[
        "outside radius of the blank at the bottom",
        "inside radius of the blank at the bottom",
        "outside radius of the blank at the top",
        "inside radius of the blank at the top",
        "lean of the staves",
        "miter",
    ],
};

/// One end of the blank: its radii.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// Distance from the axis to the outer flats.
    pub outer: Length,
    /// Distance from the axis to the farthest corners of the hole that may be.
    pub inner: Length,
}

/// Least thickness, square to the face, whose staves cover everything between the inside and the
/// outside at both ends, and so between them as far as both run straight or the inside bulges outward.
#[must_use]
pub fn needed_thickness(bottom: End, top: End, lean: Angle, miter: Angle) -> Length {
    let level = |end: End| ring::needed_width(end.outer, end.inner, miter);
    level(bottom).max(level(top)) * lean.cos()
}

/// How [`corner_radius`] is told.
pub static CORNER_RADIUS: Formula = Formula {
    gives: "radius to the outer corners",
    words: "outside radius of the blank at the wider end / cos(180° / staves): what swings over the bed",
    inputs: &["outside radius of the blank at the wider end", "miter"],
};

/// Circle through the outer corners at one end.
#[must_use]
pub fn corner_radius(outer: Length, miter: Angle) -> Length {
    ring::corner_radius(outer, miter)
}

/// How [`hole_corner`] is told.
pub static HOLE_CORNER: Formula = Formula {
    gives: "radius to the hole's corners",
    words: "(outside radius of the blank − board thickness / cos(lean)) / cos(180° / staves), at that end",
    inputs: &["outside radius of the blank at that end", "board thickness", "lean of the staves", "miter"],
};

/// Distance from the axis to the hole's corners at one end.
#[must_use]
pub fn hole_corner(outer: Length, thickness: Length, lean: Angle, miter: Angle) -> Length {
    ring::hole_corner(outer, level_wall(thickness, lean), miter)
}

/// How [`joint_area`] is told.
pub static JOINT_AREA: Formula = Formula {
    gives: "glued joints of the staves",
    words: "staves × height × board thickness / (cos(lean) × cos(180° / staves))",
    inputs: &["staves", "height", "board thickness", "lean of the staves", "miter"],
};

/// All joints together, as glued: each is as high as the layer and as long, level, as the end face.
#[must_use]
pub fn joint_area(staves: Count, height: Length, thickness: Length, lean: Angle, miter: Angle) -> Area {
    ring::joint_area(staves, level_wall(thickness, lean), miter, height)
}

/// How [`blank_volume`] is told.
pub static BLANK_VOLUME: Formula = Formula {
    gives: "wood in the blank",
    words: "staves × tan(180° / staves) × wall × (radius at the bottom + radius at the top − wall) × height, the wall \
            measured level",
    inputs: &[
        "staves",
        "outside radius of the blank at the bottom",
        "outside radius of the blank at the top",
        "wall of the blank, measured level",
        "height",
        "miter",
    ],
};

/// Wood of the staves between their level ends; the wall may not be thicker than the smaller radius.
#[must_use]
pub fn blank_volume(
    staves: Count,
    (bottom, top): (Length, Length),
    level_wall: Length,
    height: Length,
    miter: Angle,
) -> Volume {
    let face = level_wall.by(bottom + top - level_wall) * (f64::from(staves.0) * miter.tan());
    face.over(height)
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use proptest::prelude::*;

    use super::{
        End, blank_length, blank_volume, corner_radius, gauge, hole_corner, joint_area, lean, level_wall,
        needed_thickness, slant_length, taper, tilt, width,
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

    #[test]
    fn upright_staves_as_tabled() {
        // Reference rows (closed form to six digits, checked by polygons laid out and measured): N, R_o, r_i, bevel, width,
        // thickness, inner width.
        for (n, outer, inner, bevel, wide, thick, inside) in [
            (12, 40.0, 33.0, 15.0, 21.435_9, 8.124_45, 17.082_1),
            (16, 3.0, 2.5, 11.25, 1.193_47, 0.548_037, 0.975_452),
            (8, 1.75, 1.25, 22.5, 1.449_75, 0.595_151, 0.956_709),
        ] {
            let cut = ring::miter(Count(n));
            let end = End { outer: mm(outer), inner: mm(inner) };
            let upright = lean(mm(outer), mm(outer), mm(100.0));
            assert_eq!((upright, gauge(upright, cut)), (Angle::ZERO, Angle::ZERO));
            assert_figure(tilt(upright, cut).degrees(), bevel);
            assert_figure(width(mm(outer), cut).mm(), wide);
            let thickness = needed_thickness(end, end, upright, cut);
            assert_figure(thickness.mm(), thick);
            assert_figure(width(mm(outer) - level_wall(thickness, upright), cut).mm(), inside);
            assert_figure(hole_corner(mm(outer), thickness, upright, cut).mm(), inner);
        }
    }

    #[test]
    fn leaning_staves_as_tabled() {
        // Reference rows (closed form to six digits, checked by solids sawn by planes and set round an axis): N, lean, blade
        // tilt, gauge, taper of a stave.
        for (n, leans, tilts, gauges, tapers) in [
            (8, 15.0, 21.693_7, 6.119_1, 12.238_2),
            (12, 30.0, 12.952_5, 7.630_74, 15.261_5),
            (6, 45.0, 20.704_8, 22.207_7, 44.415_3),
            (16, 10.0, 11.076_9, 1.978_25, 3.956_51),
            (12, 60.0, 7.435_47, 13.064_3, 26.128_6),
        ] {
            let cut = ring::miter(Count(n));
            assert_figure(tilt(deg(leans), cut).degrees(), tilts);
            assert_figure(gauge(deg(leans), cut).degrees(), gauges);
            assert_figure(taper(gauge(deg(leans), cut)).degrees(), tapers);
        }
        // Reference rows of blanks of cones, checked in the same way: N, R_0, R_1, H, T, lean, widths, slant, blank length,
        // level wall, hole's corners at the bottom and at the top.
        for (n, r0, r1, h, t, leans, w0, w1, slant, length, wall, hole0, hole1) in [
            (12, 40.0, 60.0, 80.0, 8.0, 14.036_2, 21.435_9, 32.153_9, 82.462_1, 84.462_1, 8.246_21, 32.873_9, 53.579_5),
            (8, 2.0, 3.0, 4.0, 0.75, 14.036_2, 1.656_85, 2.485_28, 4.123_11, 4.310_61, 0.773_082, 1.328_01, 2.410_4),
            (
                16, 50.0, 45.0, 120.0, 10.0, -2.385_94, 19.891_2, 17.902_1, 120.104, 120.521, 10.008_7, 40.774_8,
                35.676_8,
            ),
        ] {
            let cut = ring::miter(Count(n));
            let leaning = lean(mm(r0), mm(r1), mm(h));
            assert_figure(leaning.degrees(), leans);
            assert_figure(width(mm(r0), cut).mm(), w0);
            assert_figure(width(mm(r1), cut).mm(), w1);
            assert_figure(slant_length(mm(h), leaning).mm(), slant);
            assert_figure(blank_length(mm(h), mm(t), leaning).mm(), length);
            assert_figure(level_wall(mm(t), leaning).mm(), wall);
            assert_figure(hole_corner(mm(r0), mm(t), leaning, cut).mm(), hole0);
            assert_figure(hole_corner(mm(r1), mm(t), leaning, cut).mm(), hole1);
            // With its corners just there, a stave is as thick as needed.
            let ends = [(r0, hole0), (r1, hole1)].map(|(outer, inner)| End { outer: mm(outer), inner: mm(inner) });
            assert!((needed_thickness(ends[0], ends[1], leaning, cut).mm() / t - 1.0).abs() < 1e-4);
        }
    }

    #[test]
    fn a_table_saws_own_chart_of_compound_miters() {
        // A table saw's owner's manual, "Cutting compound miters": slope of the side from flat, then miter and bevel for 4
        // to 10 sides. From flat is 90° less the lean; the manual's miter is the gauge, its bevel the tilt.
        type Row = (f64, [(f64, f64); 7]);
        let rows: [Row; 5] = [
            (0.0, [(45.0, 0.0), (36.0, 0.0), (30.0, 0.0), (25.71, 0.0), (22.5, 0.0), (20.0, 0.0), (18.0, 0.0)]),
            (
                5.0,
                [(44.89, 3.53), (35.9, 2.94), (29.91, 2.5), (25.63, 2.17), (22.42, 1.91), (19.93, 1.71), (17.94, 1.54)],
            ),
            (
                10.0,
                [
                    (44.56, 7.05),
                    (35.58, 5.86),
                    (29.62, 4.98),
                    (25.37, 4.32),
                    (22.19, 3.81),
                    (19.72, 3.4),
                    (17.74, 3.08),
                ],
            ),
            (
                15.0,
                [
                    (44.01, 10.55),
                    (35.06, 8.75),
                    (29.15, 7.44),
                    (24.95, 6.45),
                    (21.81, 5.68),
                    (19.37, 5.08),
                    (17.42, 4.59),
                ],
            ),
            (
                20.0,
                [
                    (43.22, 14.0),
                    (34.32, 11.6),
                    (28.48, 9.85),
                    (24.35, 8.53),
                    (21.27, 7.52),
                    (18.88, 6.72),
                    (16.98, 6.07),
                ],
            ),
        ];
        for (pitch, sides) in rows {
            for (n, (miter, bevel)) in (4..).zip(sides) {
                let cut = ring::miter(Count(n));
                let (got_miter, got_bevel) = (gauge(deg(90.0 - pitch), cut), tilt(deg(90.0 - pitch), cut));
                assert!((got_miter.degrees() - miter).abs() <= 0.011, "{pitch}, {n}: {got_miter:?}, not {miter}");
                assert!((got_bevel.degrees() - bevel).abs() <= 0.011, "{pitch}, {n}: {got_bevel:?}, not {bevel}");
            }
        }
    }

    type V = [f64; 3];

    fn dot(a: V, b: V) -> f64 {
        a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
    }

    fn cross(a: V, b: V) -> V {
        [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    }

    fn minus(a: V, b: V) -> V {
        [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
    }

    fn sum(parts: [(f64, V); 3]) -> V {
        let at = |i: usize| parts.iter().map(|(by, v)| by * v[i]).sum();
        [at(0), at(1), at(2)]
    }

    /// Everything on or behind it: normal · x ≤ offset.
    #[derive(Clone, Copy)]
    struct Plane(V, f64);

    impl Plane {
        fn through(normal: V, point: V) -> Self {
            Self(normal, dot(normal, point))
        }
    }

    /// Where three planes meet (Cramer's rule).
    fn meet(a: Plane, b: Plane, c: Plane) -> V {
        let det = dot(a.0, cross(b.0, c.0));
        let parts = [(a.1 / det, cross(b.0, c.0)), (b.1 / det, cross(c.0, a.0)), (c.1 / det, cross(a.0, b.0))];
        sum(parts)
    }

    /// A board sawn with a tilt and a gauge, its ends cut level, stood up with its lean.
    struct Sawn {
        /// Normals of its two sawn edges, toward −y and toward +y.
        edges: [V; 2],
        /// Corners along each edge: outside bottom, outside top, inside bottom, inside top.
        corners: [[V; 4]; 2],
    }

    struct Cone {
        n: u32,
        r0: f64,
        r1: f64,
        h: f64,
        t: f64,
    }

    fn saw(cone: &Cone, tilt: Angle, gauge: Angle) -> Sawn {
        let beta = lean(mm(cone.r0), mm(cone.r1), mm(cone.h));
        // The board's own directions: across, up its length, out of its outer face.
        let (across, up, out) = ([0.0, 1.0, 0.0], [beta.sin(), 0.0, beta.cos()], [beta.cos(), 0.0, -beta.sin()]);
        let foot = [cone.r0, 0.0, 0.0];
        let outside = Plane::through(out, foot);
        let inside = Plane(out, outside.1 - cone.t);
        let half = width(mm(cone.r0), ring::miter(Count(cone.n))).mm() / 2.0;
        let (bottom, top) = (Plane([0.0, 0.0, 1.0], 0.0), Plane([0.0, 0.0, 1.0], cone.h));
        let edge = |side: f64| {
            let in_face = sum([(side * gauge.cos(), across), (-gauge.sin(), up), (0.0, out)]);
            let normal = sum([(tilt.cos(), in_face), (-tilt.sin(), out), (0.0, up)]);
            let cut = Plane::through(normal, [cone.r0, side * half, 0.0]);
            let corners = [
                meet(cut, outside, bottom),
                meet(cut, outside, top),
                meet(cut, inside, bottom),
                meet(cut, inside, top),
            ];
            (normal, corners)
        };
        let (low, high) = (edge(-1.0), edge(1.0));
        Sawn { edges: [low.0, high.0], corners: [low.1, high.1] }
    }

    /// The same turned round the axis.
    fn turned(v: V, degrees: f64) -> V {
        let (s, c) = degrees.to_radians().sin_cos();
        [c * v[0] - s * v[1], s * v[0] + c * v[1], v[2]]
    }

    /// How far, at worst, corners of neighbors are from each other all round, and how far the normals
    /// of their sawn edges are from opposite.
    fn gaping(cone: &Cone, tilt: Angle, gauge: Angle) -> (f64, f64) {
        let stave = saw(cone, tilt, gauge);
        let step = 360.0 / f64::from(cone.n);
        let (mut apart, mut askew) = (0.0_f64, 0.0_f64);
        for i in 0..cone.n {
            let (here, there) = (step * f64::from(i), step * f64::from((i + 1) % cone.n));
            for (ours, theirs) in stave.corners[1].iter().zip(stave.corners[0]) {
                let off = minus(turned(*ours, here), turned(theirs, there));
                apart = apart.max(dot(off, off).sqrt());
            }
            let (ours, theirs) = (turned(stave.edges[1], here), turned(stave.edges[0], there));
            let off = [ours[0] + theirs[0], ours[1] + theirs[1], ours[2] + theirs[2]];
            askew = askew.max(dot(off, off).sqrt());
        }
        (apart, askew)
    }

    /// Volume of the stave by the divergence of tetrahedra over its six faces.
    fn volume_of(stave: &Sawn) -> f64 {
        let [[a, b, c, d], [e, f, g, h]] = stave.corners;
        let faces = [[a, b, d, c], [e, g, h, f], [a, e, f, b], [c, d, h, g], [a, c, g, e], [b, f, h, d]];
        let third = |p: V, q: V, r: V| dot(p, cross(q, r)) / 6.0;
        faces.iter().map(|[p, q, r, s]| third(*p, *q, *r) + third(*p, *r, *s)).sum::<f64>().abs()
    }

    proptest! {
        /// Sawn by planes and set round the axis: neighbors' edges lie on each other corner by corner,
        /// on a plane through the axis; half a degree off on either setting shows.
        #[test]
        fn staves_sawn_close_round_the_axis(
            n in 3_u32..40, r0 in 20.0..150.0_f64, more in -0.6..2.0_f64, h in 10.0..200.0_f64, share in 0.05..0.6_f64,
        ) {
            let r1 = r0 * (1.0 + more);
            let (beta, cut) = (lean(mm(r0), mm(r1), mm(h)), ring::miter(Count(n)));
            let t = r0.min(r1) * share * beta.cos();
            let cone = Cone { n, r0, r1, h, t };
            let (tilted, gauged) = (tilt(beta, cut), gauge(beta, cut));
            let (apart, askew) = gaping(&cone, tilted, gauged);
            prop_assert!(apart < 1e-9 && askew < 1e-9, "{apart} mm, {askew}");
            for (tilt_off, gauge_off) in [(0.5, 0.0), (-0.5, 0.0), (0.0, 0.5), (0.0, -0.5)] {
                let (apart, askew) = gaping(&cone, tilted + deg(tilt_off), gauged + deg(gauge_off));
                prop_assert!(askew > 1e-3 && apart > 1e-3 * t, "{tilt_off}, {gauge_off}: {apart} mm, {askew}");
            }

            let stave = saw(&cone, tilted, gauged);
            let radial = [-cut.sin(), cut.cos(), 0.0];
            let off = minus(stave.edges[1], radial);
            prop_assert!(dot(off, off).sqrt() < 1e-9, "a joint is not on a plane through the axis");
            let [out_low, out_high, in_low, in_high] = stave.corners[1];
            let far = |v: V| v[0].hypot(v[1]);
            prop_assert!((far(out_low) - corner_radius(mm(r0), cut).mm()).abs() < 1e-8);
            prop_assert!((far(out_high) - corner_radius(mm(r1), cut).mm()).abs() < 1e-8);
            prop_assert!((far(in_low) - hole_corner(mm(r0), mm(t), beta, cut).mm()).abs() < 1e-8);
            prop_assert!((far(in_high) - hole_corner(mm(r1), mm(t), beta, cut).mm()).abs() < 1e-8);
            prop_assert!((2.0 * out_high[1] - width(mm(r1), cut).mm()).abs() < 1e-8);

            let wall = level_wall(mm(t), beta);
            let all = volume_of(&stave) * f64::from(n);
            let told = blank_volume(Count(n), (mm(r0), mm(r1)), wall, mm(h), cut).mm3();
            prop_assert!((told / all - 1.0).abs() < 1e-9, "{told} mm³, not {all}");
            let (a, b) = (minus(out_high, out_low), minus(in_low, out_low));
            let joint = cross(a, b);
            let joints = dot(joint, joint).sqrt() * f64::from(n);
            let told = joint_area(Count(n), mm(h), mm(t), beta, cut).mm2();
            prop_assert!((told / joints - 1.0).abs() < 1e-9, "{told} mm², not {joints}");

            // The board's length: from the lowest corner to the highest, along the board.
            let up = [beta.sin(), 0.0, beta.cos()];
            let along = stave.corners.iter().flatten().map(|v| dot(*v, up));
            let (low, high) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
            prop_assert!((high - low - blank_length(mm(h), mm(t), beta).mm()).abs() < 1e-8);

            // Taken at the inside that it just covers, the thickness needed is the one it has.
            let ends = [r0, r1].map(|r| End { outer: mm(r), inner: hole_corner(mm(r), mm(t), beta, cut) });
            prop_assert!((needed_thickness(ends[0], ends[1], beta, cut).mm() - t).abs() < 1e-9);
        }
    }
}
