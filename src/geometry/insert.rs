//! Knobs, stems, plugs and medallions: the bit for the hole, the blank to turn, and what the hole
//! leaves of the wall at its thinnest over the hole's whole width.

use std::f64::consts::{PI, SQRT_2};

use super::Profile;
use crate::finding::limits;
use crate::quantity::trig::sqrt;
use crate::quantity::{Area, Diameter, Length};
use crate::workings::Formula;

/// Play for glue between a tenon and its hole, on the diameter.
pub const GLUE_CLEARANCE: Length = Length::from_mm(0.15);
/// Why [`GLUE_CLEARANCE`].
pub static GLUE_CLEARANCE_REASON: &str = "0.1 to 0.2 mm on the diameter lets glue stay in the joint: common practice";
/// How much deeper a hole is than its tenon is long.
pub const HOLE_RELIEF: Length = Length::from_mm(1.5);
/// Why [`HOLE_RELIEF`].
pub static HOLE_RELIEF_REASON: &str = "1 to 2 mm deeper, so that glue has somewhere to go: common practice";
/// Least wood to leave under a hole.
pub const LEAST_LEFT: Length = limits::LEAST_LEFT.get();
/// Why [`LEAST_LEFT`].
pub static LEAST_LEFT_REASON: &str = "less than 4 mm under a hole shows or breaks through: common practice";
/// What a square blank is wider than the turned part.
pub const BLANK_ALLOWANCE: Length = Length::from_mm(3.0);
/// What the chuck holds.
pub const CHUCKING_STUB: Length = Length::from_mm(20.0);
/// What parting off takes.
pub const PARTING: Length = Length::from_mm(3.0);
/// What facing takes of each end.
pub const FACING: Length = Length::from_mm(2.0);
/// Why [`BLANK_ALLOWANCE`], [`CHUCKING_STUB`], [`PARTING`] and [`FACING`].
pub static BLANK_REASON: &str =
    "3 mm to turn round, 15 to 25 mm for the chuck, 3 mm to part off, 2 mm to face each end: common practice";

/// How [`bit_for`] is told.
pub static BIT_FOR: Formula = Formula {
    gives: "hole",
    words: "of the bits owned, the nearest to tenon + clearance for glue; of two as near, the smaller",
    inputs: &["tenon wanted", "clearance for glue"],
};

/// The bit, of those owned, whose tenon comes nearest to the one wanted.
#[must_use]
pub fn bit_for(tenon: Diameter, clearance: Length, owned: &[Diameter]) -> Option<Diameter> {
    let wanted = tenon + clearance;
    let off = |bit: Diameter| (bit - wanted).abs().mm();
    owned.iter().copied().min_by(|a, b| off(*a).total_cmp(&off(*b)).then(a.across().mm().total_cmp(&b.across().mm())))
}

/// How [`tenon_for`] is told.
pub static TENON_FOR: Formula =
    Formula { gives: "tenon", words: "hole − clearance for glue", inputs: &["hole", "clearance for glue"] };

/// The tenon for a hole.
#[must_use]
pub fn tenon_for(hole: Diameter, clearance: Length) -> Diameter {
    hole - clearance
}

/// How [`tenon_length`] is told.
pub static TENON_LENGTH: Formula = Formula {
    gives: "length of the tenon",
    words: "1.25 × its diameter: 1 to 1.5 times holds (common practice)",
    inputs: &["tenon"],
};

/// How long a tenon is when nobody says.
#[must_use]
pub fn tenon_length(tenon: Diameter) -> Length {
    tenon.across() * 1.25
}

/// How [`hole_depth`] is told.
pub static HOLE_DEPTH: Formula = Formula {
    gives: "depth of the hole",
    words: "length of the tenon + relief",
    inputs: &["length of the tenon", "relief"],
};

/// How deep to drill for a tenon.
#[must_use]
pub fn hole_depth(tenon: Length, relief: Length) -> Length {
    tenon + relief
}

/// How [`glue_area`] is told.
pub static GLUE_AREA: Formula = Formula {
    gives: "glued face of the tenon",
    words: "π × tenon × its length: the end of it does not touch",
    inputs: &["tenon", "length of the tenon"],
};

/// Where a tenon is glued: all round, not at its end.
#[must_use]
pub fn glue_area(tenon: Diameter, length: Length) -> Area {
    tenon.across().by(length) * PI
}

/// How [`blank_side`] is told.
pub static BLANK_SIDE: Formula = Formula {
    gives: "side of the square blank",
    words: "greatest diameter + allowance",
    inputs: &["greatest diameter", "allowance"],
};

/// Side of the square stick to turn a part from.
#[must_use]
pub fn blank_side(turned: Diameter, allowance: Length) -> Length {
    turned.across() + allowance
}

/// How [`blank_swing`] is told.
pub static BLANK_SWING: Formula = Formula {
    gives: "swing of the square blank",
    words: "√2 × its side: from corner to corner",
    inputs: &["side of the square blank"],
};

/// What the corners of a square stick sweep.
#[must_use]
pub fn blank_swing(side: Length) -> Diameter {
    Diameter::new(side * SQRT_2)
}

/// How [`blank_length`] is told.
pub static BLANK_LENGTH: Formula = Formula {
    gives: "length of the blank",
    words: "finished length + tenon + chucking stub + parting + 2 × facing",
    inputs: &["finished length", "length of the tenon", "chucking stub", "parting", "facing"],
};

/// How long a stick must be for one part.
#[must_use]
pub fn blank_length(finished: Length, tenon: Length, stub: Length, parting: Length, facing: Length) -> Length {
    finished + tenon + stub + parting + facing * 2.0
}

/// How [`left_under`] is told.
pub static LEFT_UNDER: Formula = Formula {
    gives: "wood left under the hole",
    words: "thickness at the thinnest place over the hole's whole width − depth of the hole",
    inputs: &["thickness under the hole", "depth of the hole"],
};

/// What a hole leaves; negative when it breaks through.
#[must_use]
pub fn left_under(thickness: Length, depth: Length) -> Length {
    thickness - depth
}

/// Thickness under a hole on the axis, from the level of its rim, on which a shoulder seats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seat {
    /// Height of the hole's rim on the surface it is drilled into.
    pub rim: Length,
    /// From the rim to the nearest point of the other surface over the hole's width, along the axis.
    pub thickness: Length,
}

/// Into the lid's top, from above. The cavity is highest on the axis, and there it is thinnest; with
/// no cavity the lid is solid down to its bottom.
#[must_use]
pub fn into_lid_top(outside: &Profile, inside: &Profile, hole: Diameter) -> Seat {
    let rim = highest_as_wide(outside, hole.radius());
    let ceiling = if inside.is_empty() { outside.bottom() } else { inside.top() };
    Seat { rim, thickness: rim - ceiling }
}

/// Into the lid's inside, from below. A domed top is lowest over the hole's rim, and there it is thinnest.
#[must_use]
pub fn into_lid_inside(outside: &Profile, inside: &Profile, hole: Diameter) -> Seat {
    let rim = if inside.is_empty() { outside.bottom() } else { highest_as_wide(inside, hole.radius()) };
    Seat { rim, thickness: highest_as_wide(outside, hole.radius()) - rim }
}

/// Into the base, from below. The floor is lowest on the axis; with no cavity the body is solid.
#[must_use]
pub fn into_base(outside: &Profile, inside: &Profile, hole: Diameter) -> Seat {
    let rim = lowest_as_wide(outside, hole.radius());
    let floor = if inside.is_empty() { outside.top() } else { inside.bottom() };
    Seat { rim, thickness: floor - rim }
}

/// Into the floor, from above. A rounded base is highest over the hole's rim, and there the floor is thinnest.
#[must_use]
pub fn into_body_inside(outside: &Profile, inside: &Profile, hole: Diameter) -> Seat {
    let rim = if inside.is_empty() { outside.top() } else { lowest_as_wide(inside, hole.radius()) };
    Seat { rim, thickness: rim - lowest_as_wide(outside, hole.radius()) }
}

/// A hole drilled level into the wall, toward the axis. Its depth is measured on its own center line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideHole {
    /// Wall on the center line.
    pub wall: Length,
    /// Wall from where the bit touches to the nearest point of the inside over the hole's width.
    pub thickness: Length,
    /// How much shallower the hole is at the lowest point of its rim: the wall curves away.
    pub rim_drop: Length,
}

/// What a level hole at `height` finds of the wall.
#[must_use]
pub fn into_side(outside: &Profile, inside: &Profile, height: Length, hole: Diameter) -> SideHole {
    let half = hole.radius();
    let on_axis = outside.above(height);
    let (behind, farthest) = if inside.is_empty() {
        (Length::ZERO, Length::ZERO)
    } else {
        (inside.above(height), inside.extremes(height - half, height + half).greatest.radius)
    };
    let lowest = (0..=RIM_STEPS).map(|step| rim_radius(outside, height, half, step)).fold(on_axis, Length::min);
    SideHole { wall: on_axis - behind, thickness: on_axis - farthest, rim_drop: on_axis - lowest }
}

/// Heights at which a rim is looked at, from its lowest point to its highest.
const RIM_STEPS: u32 = 180;

/// How far from the axis, along the drill, the surface lies under a point of the hole's rim.
fn rim_radius(outside: &Profile, height: Length, half: Length, step: u32) -> Length {
    let up = half * (2.0 * f64::from(step) / f64::from(RIM_STEPS) - 1.0);
    let aside_squared = half.by(half).mm2() - up.by(up).mm2();
    let radius = outside.above(height + up);
    Length::from_mm(sqrt((radius.by(radius).mm2() - aside_squared).max(0.0)))
}

/// The greatest height at which a profile is as wide as `radius`; its bottom when it never is.
fn highest_as_wide(profile: &Profile, radius: Length) -> Length {
    let top = profile.top();
    last_true(top, profile.bottom(), |z| profile.extremes(z, top).greatest.radius < radius)
}

/// The least height at which a profile is as wide as `radius`; its top when it never is.
fn lowest_as_wide(profile: &Profile, radius: Length) -> Length {
    let bottom = profile.bottom();
    last_true(bottom, profile.top(), |z| profile.extremes(bottom, z).greatest.radius < radius)
}

/// How far from `start` toward `end` a condition holds that, once broken, stays broken.
fn last_true(start: Length, end: Length, holds: impl Fn(Length) -> bool) -> Length {
    if !holds(start) {
        return start;
    }
    let (mut good, mut bad) = (start, end);
    // Sixty halvings take a meter to less than a float's last digit.
    for _ in 0..60 {
        let middle = (good + bad) / 2.0;
        if holds(middle) { good = middle } else { bad = middle }
    }
    good
}

#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
#[cfg(test)]
mod tests {
    use super::{
        BLANK_ALLOWANCE, CHUCKING_STUB, FACING, GLUE_CLEARANCE, HOLE_RELIEF, PARTING, bit_for, blank_length,
        blank_side, blank_swing, glue_area, hole_depth, into_base, into_lid_inside, into_lid_top, into_side,
        left_under, tenon_for, tenon_length,
    };
    use crate::geometry::{Profile, ProfilePoint};
    use crate::quantity::{Diameter, Length};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn across(value: f64) -> Diameter {
        Diameter::new(mm(value))
    }

    fn smooth(at: &[(f64, f64)]) -> Profile {
        let points: Vec<_> = at.iter().map(|(z, r)| ProfilePoint { height: mm(*z), radius: mm(*r) }).collect();
        Profile::smooth(&points)
    }

    /// The part of a ball about (0, `center`) between two heights, in short straight lines.
    fn ball(radius: f64, center: f64, from: f64, to: f64) -> Profile {
        let steps = 4000;
        let points: Vec<_> = (0..=steps)
            .map(|i| {
                let z = from + (to - from) * f64::from(i) / f64::from(steps);
                let r = (radius * radius - (z - center).powi(2)).max(0.0).sqrt();
                ProfilePoint { height: mm(z), radius: mm(r) }
            })
            .collect();
        Profile::straight(&points)
    }

    #[track_caller]
    fn assert_figure(got: f64, wanted: f64) {
        assert!((got - wanted).abs() <= 1e-5 * wanted.abs(), "{got}, not {wanted}");
    }

    #[test]
    fn blanks_as_tabled() {
        // Reference rows (closed form to six digits): turned, allowance, side, swing; lid, hole, left.
        for (turned, allowance, side, swing, thickness, hole, left) in [
            (1.25, 0.125, 1.375, 1.944_54, 0.75, 0.5, 0.25),
            (40.0, 3.0, 43.0, 60.8112, 16.0, 10.0, 6.0),
            (2.0, 0.0, 2.0, 2.828_43, 0.625, 0.375, 0.25),
        ] {
            let got = blank_side(across(turned), mm(allowance));
            assert_figure(got.mm(), side);
            assert_figure(blank_swing(got).across().mm(), swing);
            assert_figure(left_under(mm(thickness), mm(hole)).mm(), left);
        }
        let length = blank_length(mm(60.0), mm(12.0), CHUCKING_STUB, PARTING, FACING);
        assert_figure(length.mm(), 60.0 + 12.0 + 20.0 + 3.0 + 4.0);
        assert_figure(blank_side(across(30.0), BLANK_ALLOWANCE).mm(), 33.0);
    }

    #[test]
    fn the_bit_decides_the_tenon() {
        let owned = [6.0, 8.0, 9.525, 10.0, 12.0].map(across);
        let hole = bit_for(across(9.5), GLUE_CLEARANCE, &owned).unwrap();
        assert_figure(hole.across().mm(), 9.525);
        assert_figure(tenon_for(hole, GLUE_CLEARANCE).across().mm(), 9.375);
        assert_figure(bit_for(across(7.0), Length::ZERO, &owned).unwrap().across().mm(), 6.0);
        assert_eq!(bit_for(across(7.0), Length::ZERO, &[]), None);
        // Common practice: a knob's tenon of 8 mm is 8 to 12 mm long; the hole 1 to 2 mm deeper.
        let long = tenon_length(across(8.0));
        assert!((8.0..=12.0).contains(&long.mm()));
        assert_figure(hole_depth(long, HOLE_RELIEF).mm(), 11.5);
        assert_figure(glue_area(across(8.0), mm(10.0)).mm2(), 251.327);
    }

    #[test]
    fn a_domed_lid_is_thinnest_where_it_is() {
        // A dome of radius 60 over a cavity of radius 50 about the same center: 10 thick on the axis.
        let (outside, inside) = (ball(60.0, 0.0, 0.0, 60.0), ball(50.0, 0.0, 0.0, 50.0));
        let hole = across(20.0);
        let (outer_rim, inner_rim) = (3500.0_f64.sqrt(), 2400.0_f64.sqrt());
        let top = into_lid_top(&outside, &inside, hole);
        assert!((top.rim.mm() - outer_rim).abs() < 1e-3, "{}", top.rim.mm());
        assert!((top.thickness.mm() - (outer_rim - 50.0)).abs() < 1e-3);
        let under = into_lid_inside(&outside, &inside, hole);
        assert!((under.rim.mm() - inner_rim).abs() < 1e-3, "{}", under.rim.mm());
        assert!((under.thickness.mm() - (outer_rim - inner_rim)).abs() < 1e-3);
        // A flat lid is as thick everywhere, and a solid one down to its bottom.
        let (flat, hollow) = (smooth(&[(0.0, 40.0), (20.0, 40.0)]), smooth(&[(0.0, 30.0), (12.0, 30.0)]));
        assert_figure(into_lid_top(&flat, &hollow, hole).thickness.mm(), 8.0);
        assert_figure(into_lid_inside(&flat, &hollow, hole).thickness.mm(), 8.0);
        assert_figure(into_lid_top(&flat, &Profile::default(), hole).thickness.mm(), 20.0);
        assert_figure(into_lid_inside(&flat, &Profile::default(), hole).thickness.mm(), 20.0);
    }

    #[test]
    fn a_base_is_measured_from_where_it_is_wide_enough() {
        let (foot, cavity) = (smooth(&[(0.0, 30.0), (60.0, 50.0)]), smooth(&[(9.0, 5.0), (60.0, 44.0)]));
        let base = into_base(&foot, &cavity, across(40.0));
        assert!(base.rim.mm().abs() < 1e-12);
        assert_figure(base.thickness.mm(), 9.0);
        let round = ball(60.0, 60.0, 0.0, 60.0);
        let base = into_base(&round, &cavity, across(20.0));
        assert!((base.rim.mm() - (60.0 - 3500.0_f64.sqrt())).abs() < 1e-3);
    }

    /// Both surfaces are looked at on a grid over the hole, along the drill.
    #[test]
    fn a_side_hole_as_sampled() {
        let outside = smooth(&[(0.0, 30.0), (25.0, 55.0), (60.0, 48.0), (90.0, 25.0)]);
        let inside = smooth(&[(8.0, 20.0), (28.0, 46.0), (60.0, 40.0), (90.0, 18.0)]);
        for (height, diameter) in [(40.0, 12.0), (26.0, 20.0), (70.0, 10.0), (18.0, 8.0)] {
            let half: f64 = diameter / 2.0;
            let surface = |profile: &Profile, up: f64, aside: f64| {
                let radius = profile.above(mm(height + up)).mm();
                (radius * radius - aside * aside).sqrt()
            };
            let (mut nearest, mut lowest) = (0.0_f64, f64::INFINITY);
            for ring in 0..=60 {
                for turn in 0..720 {
                    let (reach, turn) = (half * f64::from(ring) / 60.0, f64::from(turn).to_radians() / 2.0);
                    let (up, aside) = (reach * turn.sin(), reach * turn.cos());
                    nearest = nearest.max(surface(&inside, up, aside));
                    lowest = lowest.min(surface(&outside, up, aside));
                }
            }
            let got = into_side(&outside, &inside, mm(height), across(diameter));
            let touch = outside.above(mm(height)).mm();
            assert!((got.thickness.mm() - (touch - nearest)).abs() < 2e-3, "{height}: {}", got.thickness.mm());
            assert!((got.rim_drop.mm() - (touch - lowest)).abs() < 2e-2, "{height}: {}", got.rim_drop.mm());
            assert!((got.wall.mm() - (touch - inside.above(mm(height)).mm())).abs() < 1e-12);
        }
        // A plain drum: at its rim the wall has curved away by R − √(R² − a²).
        let drum = smooth(&[(0.0, 50.0), (80.0, 50.0)]);
        let got = into_side(&drum, &Profile::default(), mm(40.0), across(20.0));
        assert_figure(got.rim_drop.mm(), 50.0 - 2400.0_f64.sqrt());
        assert_figure(got.thickness.mm(), 50.0);
    }
}
