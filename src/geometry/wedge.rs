//! The closed forms of a disc of wedges, segments that meet in the middle, and of the plug that may
//! replace their points. Pure functions, each with the words that a turner can check it by.
//!
//! A wedge disc is the plain ring whose strip is as wide as the radius: nothing is left of the short
//! edge. Points do not saw cleanly, so a hole takes them away and a plug fills it.

use std::f64::consts::PI;

use crate::quantity::{Angle, Area, Count, Diameter, Length};
use crate::workings::Formula;

use super::ring;

/// How [`long_edge`] is told.
pub static LONG_EDGE: Formula = Formula {
    gives: "outer edge of a wedge",
    words: "2 × outside radius of the blank × tan(miter)",
    inputs: &["outside radius of the blank", "miter"],
};

/// Edge of a wedge opposite its point.
#[must_use]
pub fn long_edge(outer: Length, miter: Angle) -> Length {
    ring::long_edge(outer, miter)
}

/// How [`needed_width`] is told.
pub static NEEDED_WIDTH: Formula = Formula {
    gives: "strip width needed",
    words: "outside radius of the blank: from the flat to the point",
    inputs: &["outside radius of the blank"],
};

/// Width of the strip whose segments end in a point on the axis. A wider one does no harm: the rest is
/// waste beyond the point.
#[must_use]
pub fn needed_width(outer: Length) -> Length {
    outer
}

/// How [`point_width`] is told.
pub static POINT_WIDTH: Formula = Formula {
    gives: "width of a wedge at the hole",
    words: "hole's diameter × sin(miter): from corner to corner",
    inputs: &["hole's diameter", "miter"],
};

/// How wide the blunt end of each wedge is once a hole has taken its point.
#[must_use]
pub fn point_width(hole: Diameter, miter: Angle) -> Length {
    hole.across() * miter.sin()
}

/// How [`needed_hole`] is told.
pub static NEEDED_HOLE: Formula = Formula {
    gives: "hole that takes the points away",
    words: "width that a wedge must have at its end / sin(miter), on the diameter",
    inputs: &["width at the wedge's end", "miter"],
};

/// Smallest hole that leaves no wedge narrower than `width`.
#[must_use]
pub fn needed_hole(width: Length, miter: Angle) -> Diameter {
    Diameter::new(width / miter.sin())
}

/// How [`blank_face`] is told.
pub static BLANK_FACE: Formula = Formula {
    gives: "face of the blank",
    words: "wedges × outside radius² × tan(miter): a polygon, points and all",
    inputs: &["wedges", "outside radius of the blank", "miter"],
};

/// Face of the glued wedges, before there is a hole.
#[must_use]
pub fn blank_face(wedges: Count, outer: Length, miter: Angle) -> Area {
    ring::blank_face(wedges, outer, outer, miter)
}

/// How [`joint_length`] is told.
pub static JOINT_LENGTH: Formula = Formula {
    gives: "length of a joint",
    words: "outside radius of the blank / cos(miter) − hole's diameter / 2; without a hole, all the way to the middle",
    inputs: &["outside radius of the blank", "hole's diameter", "miter"],
};

/// Length of a joint from the outer corner to the hole; to the point, when the hole is nothing.
#[must_use]
pub fn joint_length(outer: Length, hole: Diameter, miter: Angle) -> Length {
    (ring::corner_radius(outer, miter) - hole.radius()).max(Length::ZERO)
}

/// How [`joint_area`] is told.
pub static JOINT_AREA: Formula = Formula {
    gives: "glued joints of the disc",
    words: "wedges × rough thickness × outside radius of the blank / cos(miter): glued before there is a hole",
    inputs: &["wedges", "outside radius of the blank", "miter", "rough thickness"],
};

/// All joints of the disc together, as glued.
#[must_use]
pub fn joint_area(wedges: Count, outer: Length, miter: Angle, thickness: Length) -> Area {
    ring::joint_area(wedges, outer, miter, thickness)
}

/// How [`plug_glue_area`] is told.
pub static PLUG_GLUE_AREA: Formula = Formula {
    gives: "glued wall of the plug",
    words: "π × hole's diameter × thickness",
    inputs: &["hole's diameter", "thickness"],
};

/// Wall of the hole, to which the plug is glued.
#[must_use]
pub fn plug_glue_area(hole: Diameter, thickness: Length) -> Area {
    hole.across().by(thickness) * PI
}

/// How [`plug_face`] is told.
pub static PLUG_FACE: Formula =
    Formula { gives: "face of the plug", words: "π × hole's diameter² / 4", inputs: &["hole's diameter"] };

/// Face of the plug: what it takes of the wedges' face.
#[must_use]
pub fn plug_face(hole: Diameter) -> Area {
    ring::annulus(hole.radius(), Length::ZERO)
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use proptest::prelude::*;

    use super::{
        blank_face, joint_area, joint_length, long_edge, needed_hole, needed_width, plug_face, plug_glue_area,
        point_width,
    };
    use crate::geometry::ring;
    use crate::quantity::{Count, Diameter, Length};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[test]
    fn a_hexagon_that_a_magazine_printed() {
        // WOOD magazine, "Staves and Segments": 24 in across the flats, sides of 13.85641 in.
        let cut = ring::miter(Count(6));
        assert!((long_edge(mm(12.0), cut).mm() - 13.856_41).abs() < 1e-5);
        // Six equilateral triangles: the joints are as long as the sides, the hole that takes points narrower than 1 is 2
        // across.
        assert!((joint_length(mm(12.0), Diameter::default(), cut).mm() - 13.856_41).abs() < 1e-5);
        assert!((needed_hole(mm(1.0), cut).across().mm() - 2.0).abs() < 1e-12);
        assert!((plug_glue_area(Diameter::new(mm(2.0)), mm(10.0)).mm2() - 62.831_853).abs() < 1e-6);
    }

    #[test]
    fn a_ring_whose_strip_reaches_the_middle_is_a_wedge_disc() {
        for n in 3..40 {
            let cut = ring::miter(Count(n));
            let strip = needed_width(mm(70.0));
            assert_eq!(strip, ring::needed_width(mm(70.0), Length::ZERO, cut));
            assert!(ring::short_edge_of_strip(long_edge(mm(70.0), cut), strip, cut).mm().abs() < 1e-12);
        }
    }

    proptest! {
        /// Wedges laid out as triangles round the axis and drilled.
        #[test]
        fn wedges_laid_out_measure_what_the_closed_forms_say(
            n in 3_u32..60, outer in 5.0..200.0_f64, share in 0.0..0.8_f64, h in 1.0..40.0_f64,
        ) {
            let cut = ring::miter(Count(n));
            let (edge, strip) = (long_edge(mm(outer), cut).mm(), needed_width(mm(outer)).mm());
            let hole = Diameter::new(mm(2.0 * outer * share));
            let (mut face, mut joints) = (0.0, 0.0);
            for i in 0..n {
                let turn = std::f64::consts::TAU * f64::from(i) / f64::from(n);
                let place =
                    |out: f64, along: f64| (out * turn.cos() - along * turn.sin(), out * turn.sin() + along * turn.cos());
                let (a, b, point) = (place(outer, -edge / 2.0), place(outer, edge / 2.0), place(outer - strip, 0.0));
                prop_assert!(point.0.hypot(point.1) < 1e-9, "the points do not meet");
                face += (a.0 * b.1 - b.0 * a.1) / 2.0;
                joints += (b.0 - point.0).hypot(b.1 - point.1);
                // Where its two ends cross the hole, a wedge is so wide.
                let at = |corner: (f64, f64)| {
                    let scale = hole.radius().mm() / corner.0.hypot(corner.1);
                    (corner.0 * scale, corner.1 * scale)
                };
                let blunt = (at(a).0 - at(b).0).hypot(at(a).1 - at(b).1);
                prop_assert!((point_width(hole, cut).mm() - blunt).abs() < 1e-9 * outer);
                prop_assert!((needed_hole(mm(blunt), cut).across() - hole.across()).mm().abs() < 1e-8 * outer);
            }
            prop_assert!((blank_face(Count(n), mm(outer), cut).mm2() - face).abs() < 1e-9 * face);
            prop_assert!((joint_area(Count(n), mm(outer), cut, mm(h)).mm2() - joints * h).abs() < 1e-9 * joints * h);
            let whole = joint_length(mm(outer), Diameter::default(), cut).mm() * f64::from(n);
            prop_assert!((whole - joints).abs() < 1e-9 * joints);
            let drilled = joint_length(mm(outer), hole, cut).mm();
            prop_assert!((drilled - (joints / f64::from(n) - hole.radius().mm())).abs() < 1e-9 * outer);
            // Plug and wedges are the face again.
            let sector = std::f64::consts::PI * hole.radius().mm().powi(2);
            prop_assert!((plug_face(hole).mm2() - sector).abs() <= 1e-9 * sector);
        }
    }
}
