//! Where the lid meets the body: how the wall is split between mortise and tenon, how deep the
//! mortise goes, and how far its faces stay clear of glue lines.

use std::f64::consts::FRAC_PI_4;

use crate::finding::limits;
use crate::quantity::{Area, Diameter, Length};
use crate::workings::Formula;

/// How much deeper the mortise is than the tenon is long.
pub const RELIEF: Length = Length::from_mm(0.75);
/// Why [`RELIEF`].
pub static RELIEF_REASON: &str =
    "the mortise is 0.5 to 1 mm deeper, so that the shoulders close and not the tenon's end: common practice";
/// Least wall that may stand on either side of a joint.
pub const LEAST_WALL: Length = limits::JOINT_WALL.get();
/// Why [`LEAST_WALL`].
pub static LEAST_WALL_REASON: &str = "less than 3 mm on either side of a lid joint splits: common practice";
/// How far a joint's faces should stay from a glue line.
pub const GLUE_LINE_MARGIN: Length = limits::JOINT_GLUE_MARGIN.get();
/// Why [`GLUE_LINE_MARGIN`].
pub static GLUE_LINE_MARGIN_REASON: &str =
    "a face cut within 2 to 3 mm of a glue line leaves a feather edge of wood on the glue: common practice";
/// Least width of the ledge that an inset lid drops on.
pub const LEAST_LEDGE: Length = limits::JOINT_LEDGE.get();
/// Why [`LEAST_LEDGE`].
pub static LEAST_LEDGE_REASON: &str = "a narrower ledge than 2 mm lets a lid tip through: common practice";

/// How [`split`] is told.
pub static SPLIT: Formula = Formula {
    gives: "mortise",
    words: "(diameter at the shoulder + bore + clearance) / 2: mortise and tenon get equal walls",
    inputs: &["diameter at the shoulder", "bore", "clearance"],
};

/// The mortise that leaves equal walls round it and within its tenon.
#[must_use]
pub fn split(shoulder: Diameter, bore: Diameter, clearance: Length) -> Diameter {
    Diameter::new((shoulder.across() + bore.across() + clearance) / 2.0)
}

/// How [`mortise_of_wall`] is told.
pub static MORTISE_OF_WALL: Formula = Formula {
    gives: "mortise",
    words: "bore + 2 × wall of the tenon + clearance",
    inputs: &["bore", "wall of the tenon", "clearance"],
};

/// The mortise for a tenon whose wall was asked for.
#[must_use]
pub fn mortise_of_wall(bore: Diameter, tenon_wall: Length, clearance: Length) -> Diameter {
    bore + (tenon_wall * 2.0 + clearance)
}

/// How [`tenon`] is told.
pub static TENON: Formula =
    Formula { gives: "tenon", words: "mortise − clearance", inputs: &["mortise", "clearance"] };

/// The tenon for a mortise.
#[must_use]
pub fn tenon(mortise: Diameter, clearance: Length) -> Diameter {
    mortise - clearance
}

/// How [`mortise_wall`] is told.
pub static MORTISE_WALL: Formula = Formula {
    gives: "wall round the mortise",
    words: "(outside of its part − mortise) / 2",
    inputs: &["outside of its part", "mortise"],
};

/// Wood round the mortise; take the least outside over its depth.
#[must_use]
pub fn mortise_wall(outside: Diameter, mortise: Diameter) -> Length {
    (outside - mortise) / 2.0
}

/// How [`tenon_wall`] is told.
pub static TENON_WALL: Formula =
    Formula { gives: "wall of the tenon", words: "(tenon − bore) / 2", inputs: &["tenon", "bore"] };

/// Wood between tenon and bore; take the greatest bore over its length.
#[must_use]
pub fn tenon_wall(tenon: Diameter, bore: Diameter) -> Length {
    (tenon - bore) / 2.0
}

/// How [`shoulder_width`] is told.
pub static SHOULDER_WIDTH: Formula = Formula {
    gives: "width of the shoulder",
    words: "(the smaller of both outsides − mortise) / 2: where both parts bear on each other",
    inputs: &["outside of the body", "outside of the lid", "mortise"],
};

/// How wide body and lid bear on each other.
#[must_use]
pub fn shoulder_width(body: Diameter, lid: Diameter, mortise: Diameter) -> Length {
    ((smaller(body, lid) - mortise) / 2.0).max(Length::ZERO)
}

/// How [`shoulder_area`] is told.
pub static SHOULDER_AREA: Formula = Formula {
    gives: "area of the shoulder",
    words: "π/4 × (the smaller of both outsides² − mortise²)",
    inputs: &["outside of the body", "outside of the lid", "mortise"],
};

/// The ring on which body and lid bear on each other.
#[must_use]
pub fn shoulder_area(body: Diameter, lid: Diameter, mortise: Diameter) -> Area {
    ring_area(smaller(body, lid), mortise)
}

/// How [`mortise_depth`] is told.
pub static MORTISE_DEPTH: Formula = Formula {
    gives: "depth of the mortise",
    words: "length of the tenon + relief: the shoulders close, not the end",
    inputs: &["length of the tenon", "relief"],
};

/// How deep the mortise is turned.
#[must_use]
pub fn mortise_depth(long: Length, relief: Length) -> Length {
    long + relief
}

/// How [`beyond_mortise`] is told.
pub static BEYOND_MORTISE: Formula = Formula {
    gives: "wood beyond the mortise",
    words: "wood over the shoulder − depth of the mortise",
    inputs: &["wood over the shoulder", "depth of the mortise"],
};

/// Wood left past the mortise's end, of what there is from the shoulder on; negative when it breaks through.
#[must_use]
pub fn beyond_mortise(wood_over_shoulder: Length, depth: Length) -> Length {
    wood_over_shoulder - depth
}

/// How [`cap_hole`] is told.
pub static CAP_HOLE: Formula = Formula {
    gives: "hole of the lid that goes over the rim",
    words: "outside of the rim + clearance: the rim is the tenon",
    inputs: &["outside of the rim", "clearance"],
};

/// The skirt's inside of a lid that goes over the rim.
#[must_use]
pub fn cap_hole(rim: Diameter, clearance: Length) -> Diameter {
    rim + clearance
}

/// How [`ledge_width`] is told.
pub static LEDGE_WIDTH: Formula = Formula {
    gives: "ledge under the lid",
    words: "(inset lid − opening under the ledge) / 2 − clearance / 2: what still bears when the lid is pushed to one side",
    inputs: &["inset lid", "opening under the ledge", "clearance"],
};

/// What an inset lid keeps to bear on when it is pushed to one side of its recess.
#[must_use]
pub fn ledge_width(lid: Diameter, opening: Diameter, clearance: Length) -> Length {
    (lid - opening - clearance) / 2.0
}

/// How [`ledge_area`] is told.
pub static LEDGE_AREA: Formula = Formula {
    gives: "area of the ledge",
    words: "π/4 × (inset lid² − opening under the ledge²)",
    inputs: &["inset lid", "opening under the ledge"],
};

/// The ring that an inset lid bears on.
#[must_use]
pub fn ledge_area(lid: Diameter, opening: Diameter) -> Area {
    ring_area(lid, opening)
}

/// A face that the joint cuts across the axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// Where both parts bear on each other.
    Shoulder,
    /// The end of the tenon.
    TenonEnd,
    /// The bottom of the mortise.
    MortiseEnd,
}

/// Along the axis, which way the tenon points.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Points {
    /// From the body up into the lid.
    Up,
    /// From the lid down into the body.
    Down,
}

/// The heights of a joint's faces.
#[must_use]
pub fn faces(shoulder: Length, points: Points, long: Length, depth: Length) -> [(Face, Length); 3] {
    let along = |by: Length| if points == Points::Up { shoulder + by } else { shoulder - by };
    [(Face::Shoulder, shoulder), (Face::TenonEnd, along(long)), (Face::MortiseEnd, along(depth))]
}

/// The glue line nearest to a height, and how far off it is.
#[must_use]
pub fn nearest_glue_line(height: Length, glue_lines: &[Length]) -> Option<(Length, Length)> {
    let distances = glue_lines.iter().map(|line| (*line, (*line - height).abs()));
    distances.min_by(|a, b| a.1.mm().total_cmp(&b.1.mm()))
}

fn smaller(a: Diameter, b: Diameter) -> Diameter {
    Diameter::new(a.across().min(b.across()))
}

fn ring_area(outer: Diameter, inner: Diameter) -> Area {
    if inner >= outer {
        return Area::default();
    }
    (outer.across() + inner.across()).by(outer - inner) * FRAC_PI_4
}

#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{
        Face, Points, RELIEF, beyond_mortise, cap_hole, faces, ledge_area, ledge_width, mortise_depth, mortise_of_wall,
        mortise_wall, nearest_glue_line, shoulder_area, shoulder_width, split, tenon, tenon_wall,
    };
    use crate::quantity::{Diameter, Length};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn across(value: f64) -> Diameter {
        Diameter::new(mm(value))
    }

    #[track_caller]
    fn assert_figure(got: f64, wanted: f64) {
        assert!((got - wanted).abs() <= 1e-5 * wanted.abs(), "{got}, not {wanted}");
    }

    #[test]
    fn joints_as_tabled() {
        // Reference rows (closed form to six digits, measured on drawn circles).
        for (body, lid, mortise, clearance, bore, tenon_across, outer_wall, inner_wall, shoulder, area) in [
            (4.0, 4.0, 3.375, 0.006, 2.75, 3.369, 0.3125, 0.3095, 0.3125, 3.620_19),
            (80.0, 78.0, 66.0, 0.2, 54.0, 65.8, 7.0, 5.9, 6.0, 1_357.17),
            (2.5, 2.5, 2.0, 0.01, 1.5, 1.99, 0.25, 0.245, 0.25, 1.767_15),
        ] {
            let (body, lid, mortise) = (across(body), across(lid), across(mortise));
            let turned = tenon(mortise, mm(clearance));
            assert_figure(turned.across().mm(), tenon_across);
            assert_figure(mortise_wall(body, mortise).mm(), outer_wall);
            assert_figure(tenon_wall(turned, across(bore)).mm(), inner_wall);
            assert_figure(shoulder_width(body, lid, mortise).mm(), shoulder);
            assert_figure(shoulder_area(body, lid, mortise).mm2(), area);
        }
    }

    /// Points strewn evenly over a square; those that lie on both faces are the shoulder.
    #[test]
    fn shoulder_and_ledge_as_sampled() {
        let sampled = |outer: f64, inner: f64| {
            let (steps, side) = (1500, outer * 1.01);
            let at = |i: i32| side * ((f64::from(i) + 0.5) / f64::from(steps) - 0.5);
            let inside = |x: f64, y: f64| (inner / 2.0..outer / 2.0).contains(&x.hypot(y));
            let hits = (0..steps).flat_map(|i| (0..steps).map(move |j| (i, j))).filter(|(i, j)| inside(at(*i), at(*j)));
            let hits = u32::try_from(hits.count()).unwrap();
            f64::from(hits) * (side / f64::from(steps)).powi(2)
        };
        let area = shoulder_area(across(80.0), across(78.0), across(66.0)).mm2();
        assert!((area / sampled(78.0, 66.0) - 1.0).abs() < 2e-3);
        let ledge = ledge_area(across(70.0), across(62.0)).mm2();
        assert!((ledge / sampled(70.0, 62.0) - 1.0).abs() < 2e-3);
        assert_figure(shoulder_area(across(60.0), across(80.0), across(66.0)).mm2(), 0.0);
        assert_figure(shoulder_width(across(60.0), across(80.0), across(66.0)).mm(), 0.0);
    }

    #[test]
    fn faces_and_glue_lines() {
        let depth = mortise_depth(mm(6.0), RELIEF);
        assert_figure(depth.mm(), 6.75);
        let up = faces(mm(95.0), Points::Up, mm(6.0), depth);
        let wanted = [(Face::Shoulder, 95.0), (Face::TenonEnd, 101.0), (Face::MortiseEnd, 101.75)];
        for ((face, height), (wanted_face, wanted)) in up.into_iter().zip(wanted) {
            assert_eq!(face, wanted_face);
            assert_figure(height.mm(), wanted);
        }
        let down = faces(mm(95.0), Points::Down, mm(6.0), depth);
        assert_figure(down[2].1.mm(), 88.25);
        let lines = [80.0, 90.0, 102.0, 114.0].map(mm);
        let (line, off) = nearest_glue_line(down[2].1, &lines).unwrap();
        assert_figure(line.mm(), 90.0);
        assert_figure(off.mm(), 1.75);
        assert_eq!(nearest_glue_line(mm(3.0), &[]), None);
        assert_figure(beyond_mortise(mm(12.0), depth).mm(), 5.25);
    }

    /// A lid of radius l slid by half the clearance within its recess: the least it overlaps the ledge is
    /// measured all round.
    #[test]
    fn an_inset_lid_pushed_aside_still_bears() {
        let (recess, clearance, opening) = (70.0, 0.8, 62.0);
        let lid = recess - clearance;
        let shift = clearance / 2.0;
        let mut least = f64::INFINITY;
        for i in 0..3600 {
            let turn = f64::from(i).to_radians() / 10.0;
            let (x, y) = (lid / 2.0 * turn.cos() + shift, lid / 2.0 * turn.sin());
            least = least.min(x.hypot(y) - opening / 2.0);
        }
        let got = ledge_width(tenon(across(recess), mm(clearance)), across(opening), mm(clearance));
        assert!((got.mm() - least).abs() < 1e-9, "{} {least}", got.mm());
        assert_figure(cap_hole(across(80.0), mm(0.3)).across().mm(), 80.3);
    }

    proptest! {
        #[test]
        fn the_default_split_is_fair(outside in 20.0..300.0_f64, share in 0.3..0.95_f64, clearance in -0.05..0.8_f64) {
            let (outside, bore) = (across(outside), across(outside * share));
            let mortise = split(outside, bore, mm(clearance));
            let turned = tenon(mortise, mm(clearance));
            let inner = tenon_wall(turned, bore);
            prop_assert!((mortise_wall(outside, mortise) - inner).mm().abs() < 1e-9);
            // The walls and the play make up the whole wall, and a wall asked for is got.
            let sum = inner * 2.0 + mm(clearance / 2.0);
            prop_assert!((sum - (outside - bore) / 2.0).mm().abs() < 1e-9);
            let asked = mortise_of_wall(bore, inner, mm(clearance));
            prop_assert!((asked - mortise).mm().abs() < 1e-9);
        }
    }
}
