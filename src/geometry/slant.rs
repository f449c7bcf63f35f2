//! The closed forms of cone rings: rings sawn at a slant out of one flat board and stacked to a cone.
//! Pure functions, each with the words that a turner can check it by.
//!
//! All cuts slant alike. A ring, its wide face down or up, sits flush on the next, inside and outside,
//! when the cut runs inward by one ring and one kerf over the board's thickness. The kerf counts level,
//! so it enters the angle: without it every glue line has a step.

use crate::quantity::{Angle, Count, Length, trig};
use crate::workings::Formula;

/// How [`angle_for_width`] is told.
pub static ANGLE_FOR_WIDTH: Formula = Formula {
    gives: "slant of the cuts",
    words: "atan(ring width / board thickness) + asin(kerf / √(board thickness² + ring width²)), measured from square to \
            the board",
    inputs: &["ring width", "board thickness", "kerf"],
};

/// Slant at which rings of face `width` stack flush; a right angle when the kerf is wider than the
/// board's slanting section.
#[must_use]
pub fn angle_for_width(width: Length, thickness: Length, kerf: Length) -> Angle {
    let across = trig::hypot(width.mm(), thickness.mm()).max(f64::MIN_POSITIVE);
    let radians = trig::atan2(width.mm(), thickness.mm()) + trig::asin(kerf.mm() / across);
    Angle::from_degrees(radians.to_degrees())
}

/// How [`angle_for_step`] is told.
pub static ANGLE_FOR_STEP: Formula = Formula {
    gives: "slant of the cuts",
    words: "atan(step from ring to ring / board thickness), measured from square to the board",
    inputs: &["step from ring to ring", "board thickness"],
};

/// Slant at which each ring's radius is less by `step` than the one before.
#[must_use]
pub fn angle_for_step(step: Length, thickness: Length) -> Angle {
    Angle::from_degrees(trig::atan2(step.mm(), thickness.mm()).to_degrees())
}

/// How [`level_kerf`] is told.
pub static LEVEL_KERF: Formula = Formula {
    gives: "kerf, measured level",
    words: "kerf / cos(slant): a slanting cut takes more of the board's face",
    inputs: &["kerf", "slant of the cuts"],
};

/// What a cut takes of the board's face.
#[must_use]
pub fn level_kerf(kerf: Length, slant: Angle) -> Length {
    kerf / slant.cos()
}

/// How [`width_for_step`] is told.
pub static WIDTH_FOR_STEP: Formula = Formula {
    gives: "ring width",
    words: "step from ring to ring − kerf / cos(slant)",
    inputs: &["step from ring to ring", "kerf", "slant of the cuts"],
};

/// Width of a ring's face that is left of a step; negative when the kerf takes all of it.
#[must_use]
pub fn width_for_step(step: Length, kerf: Length, slant: Angle) -> Length {
    step - level_kerf(kerf, slant)
}

/// How [`pitch`] is told.
pub static PITCH: Formula = Formula {
    gives: "step from ring to ring",
    words: "ring width + kerf / cos(slant)",
    inputs: &["ring width", "kerf", "slant of the cuts"],
};

/// Difference in radius from one ring to the next.
#[must_use]
pub fn pitch(width: Length, kerf: Length, slant: Angle) -> Length {
    width + level_kerf(kerf, slant)
}

/// How [`naive_step`] is told.
pub static NAIVE_STEP: Formula = Formula {
    gives: "step at every glue line",
    words: "the slant without the kerf, atan(ring width / board thickness), leaves kerf / cos(that slant)",
    inputs: &["ring width", "board thickness", "kerf"],
};

/// Step that the slant without the kerf would leave at every glue line.
#[must_use]
pub fn naive_step(width: Length, thickness: Length, kerf: Length) -> Length {
    level_kerf(kerf, angle_for_step(width, thickness))
}

/// How [`wall`] is told.
pub static WALL: Formula = Formula {
    gives: "wall of the cone, square to it",
    words: "ring width × cos(slant)",
    inputs: &["ring width", "slant of the cuts"],
};

/// Thickness of the cone's wall, square to its slope.
#[must_use]
pub fn wall(width: Length, slant: Angle) -> Length {
    width * slant.cos()
}

/// How [`rings_from`] is told.
pub static RINGS_FROM: Formula = Formula {
    gives: "rings from the board",
    words: "(outside radius of the board − radius left in the middle) / step from ring to ring, rounded down; at least one \
            step is left in the middle",
    inputs: &["outside radius of the board", "radius left in the middle", "step from ring to ring"],
};

/// How many rings a round board gives when so much is left in the middle of its wide face. Less than
/// one step cannot be left: the last cut would pass the axis before it comes out at the narrow face.
#[must_use]
pub fn rings_from(board: Length, middle: Length, pitch: Length) -> Count {
    let rings = (board - middle.max(pitch)) / pitch;
    if !rings.is_finite() || rings < 0.0 {
        return Count(0);
    }
    // A board sized for a whole number of rings gives that many.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within u32 before")]
    Count((rings + 1e-9).floor().min(f64::from(u32::MAX)) as u32)
}

/// How [`board_radius`] is told.
pub static BOARD_RADIUS: Formula = Formula {
    gives: "outside radius of the board",
    words: "radius left in the middle + rings × step from ring to ring; at least one step is left in the middle",
    inputs: &["radius left in the middle", "rings", "step from ring to ring"],
};

/// Radius of the round board from which `rings` rings come.
#[must_use]
pub fn board_radius(middle: Length, rings: Count, pitch: Length) -> Length {
    middle.max(pitch) + pitch * f64::from(rings.0)
}

/// How [`stack_height`] is told.
pub static STACK_HEIGHT: Formula =
    Formula { gives: "height of the cone", words: "rings × board thickness", inputs: &["rings", "board thickness"] };

/// Height of so many rings, one on the other.
#[must_use]
pub fn stack_height(rings: Count, thickness: Length) -> Length {
    thickness * f64::from(rings.0)
}

/// How [`outer_radius`] is told.
pub static OUTER_RADIUS: Formula = Formula {
    gives: "outside radius of a cone ring",
    words: "outside radius of the board − rings before it × step from ring to ring; on its narrow face one step less",
    inputs: &["outside radius of the board", "rings before it", "step from ring to ring"],
};

/// Outside radius, on its wide face, of the ring that is sawn after `before` others, outside in.
#[must_use]
pub fn outer_radius(board: Length, before: Count, pitch: Length) -> Length {
    board - pitch * f64::from(before.0)
}

/// A ring's radii on the two faces of the board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ConeRing {
    /// Outside, on the face where it is wider.
    pub wide_outer: Length,
    /// Its hole there.
    pub wide_inner: Length,
    /// Outside, on the face where it is narrower.
    pub narrow_outer: Length,
    /// Its hole there.
    pub narrow_inner: Length,
}

/// The ring that is sawn after `before` others, outside in.
#[must_use]
pub fn ring(board: Length, before: Count, width: Length, pitch: Length) -> ConeRing {
    let wide = outer_radius(board, before, pitch);
    let narrow = wide - pitch;
    ConeRing { wide_outer: wide, wide_inner: wide - width, narrow_outer: narrow, narrow_inner: narrow - width }
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use proptest::prelude::*;

    use super::{
        angle_for_step, angle_for_width, board_radius, level_kerf, naive_step, pitch, ring, rings_from, stack_height,
        wall, width_for_step,
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
    fn cone_rings_as_tabled() {
        // Reference rows (closed form to six digits, checked by bisection for a flush stack): T, W, kerf, slant without the
        // kerf, slant, step from ring to ring, step that the former leaves, wall.
        for (t, w, k, naive, exact, step, left, square) in [
            (0.75, 0.5, 0.0625, 33.690_1, 37.666, 0.578_955, 0.075_115_7, 0.395_793),
            (1.0, 0.5, 0.125, 26.565_1, 32.984_3, 0.649_019, 0.139_754, 0.419_41),
            (20.0, 12.0, 1.5, 30.963_8, 34.651_1, 13.823_4, 1.749_29, 9.871_55),
            (0.75, 0.75, 0.093_75, 45.0, 50.070_9, 0.896_065, 0.132_583, 0.481_379),
        ] {
            let (t, w, k) = (mm(t), mm(w), mm(k));
            let slant = angle_for_width(w, t, k);
            assert_figure(angle_for_step(w, t).degrees(), naive);
            assert_figure(slant.degrees(), exact);
            assert_figure(pitch(w, k, slant).mm(), step);
            assert_figure(naive_step(w, t, k).mm(), left);
            assert_figure(wall(w, slant).mm(), square);
        }
    }

    #[test]
    fn a_board_gives_whole_rings() {
        assert_eq!(rings_from(mm(100.0), mm(20.0), mm(10.0)), Count(8));
        assert_eq!(rings_from(mm(99.9), mm(20.0), mm(10.0)), Count(7));
        assert_eq!(rings_from(mm(100.0), mm(0.0), mm(10.0)), Count(9));
        assert_eq!(rings_from(mm(5.0), mm(20.0), mm(10.0)), Count(0));
        assert_eq!(rings_from(mm(50.0), mm(20.0), Length::ZERO), Count(0));
        assert_eq!(stack_height(Count(4), mm(19.0)), mm(76.0));
    }

    /// Saws a board by cones: the radii at which each ring's faces begin and end, from the board's edge
    /// inward, on the upper face and on the lower; each cut is a blade's two sides, its kerf measured square to the cut.
    fn saw(board: f64, rings: u32, width: f64, t: f64, k: f64, slant: f64) -> Vec<[(f64, f64); 2]> {
        // Where a line at `slant` from vertical, so far off square from the first one, crosses each face.
        let side = |from: f64, off: f64| {
            let (normal_r, normal_z) = (slant.cos(), -slant.sin());
            // Points (r, z), z down from 0 to t: normal_r·(from − r) + normal_z·z = off.
            let crosses = |z: f64| from - (off - normal_z * z) / normal_r;
            (crosses(0.0), crosses(t))
        };
        let mut edge = board;
        let mut sawn = Vec::new();
        for _ in 0..rings {
            let outside = side(edge, 0.0);
            let inside = side(edge - width, 0.0);
            sawn.push([(outside.0, inside.0), (outside.1, inside.1)]);
            edge = side(edge - width, k).0;
        }
        sawn
    }

    proptest! {
        /// Stacked, wide face of each on the narrow face of the one before: no step outside nor inside.
        #[test]
        fn a_board_sawn_by_cones_stacks_flush(
            t in 5.0..40.0_f64, w in 2.0..60.0_f64, thin in 0.0..0.9_f64, count in 2_u32..12, over in 1.0..2.0_f64,
        ) {
            let k = thin * t.min(w);
            let slant = angle_for_width(mm(w), mm(t), mm(k));
            prop_assume!(slant.degrees() < 85.0);
            let p = pitch(mm(w), mm(k), slant);
            let board = board_radius(p * over, Count(count), p);
            prop_assert_eq!(rings_from(board, p * over, p), Count(count));
            let sawn = saw(board.mm(), count, w, t, k, slant.radians());
            let size = board.mm();
            for pair in sawn.windows(2) {
                let (lower, upper) = (pair[0][1], pair[1][0]);
                prop_assert!((lower.0 - upper.0).abs() < 1e-9, "a step outside: {lower:?}, {upper:?}");
                prop_assert!((lower.1 - upper.1).abs() < 1e-9, "a step inside: {lower:?}, {upper:?}");
            }
            for (before, [wide, narrow]) in (0..).zip(&sawn) {
                let told = ring(board, Count(before), mm(w), p);
                for (a, b) in [
                    (told.wide_outer, wide.0), (told.wide_inner, wide.1), (told.narrow_outer, narrow.0),
                    (told.narrow_inner, narrow.1),
                ] {
                    prop_assert!((a.mm() - b).abs() < 1e-9);
                }
            }
            // What is left in the middle still has a face on the far side.
            let last_cut = sawn[sawn.len() - 1][1].1 - level_kerf(mm(k), slant).mm();
            prop_assert!(last_cut >= -1e-9 * size);

            // Without the kerf in the angle every glue line steps, by what is told.
            let naive = angle_for_step(mm(w), mm(t));
            let sawn = saw(board.mm(), count, w, t, k, naive.radians());
            let step = naive_step(mm(w), mm(t), mm(k)).mm();
            for pair in sawn.windows(2) {
                prop_assert!((pair[0][1].0 - pair[1][0].0 - step).abs() < 1e-9);
            }
            // The two ways to give a ring agree.
            prop_assert!((angle_for_step(p, mm(t)) - slant).degrees().abs() < 1e-9);
            prop_assert!((width_for_step(p, mm(k), slant) - mm(w)).mm().abs() < 1e-9);
        }
    }
}
