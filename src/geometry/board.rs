//! Laminated boards: where their plies lie in a ring that is sawn from one, and what sawing without
//! turning the strip over costs. Pure functions, each with the words that a turner can check it by.
//!
//! A board lies flat when it is sawn, so its thickness is the ring's and its plies lie level in the
//! ring. Flattening takes wood off the lowest and the highest ply. Turned over at the saw, a piece would
//! have its plies in reverse: only a board that reads alike both ways may be.

use crate::quantity::{Angle, Count, Length, Volume};
use crate::workings::Formula;

use super::Profile;

/// Plies whose thickness differs less are alike: no planer is set finer (common practice).
const ALIKE: Length = Length::from_mm(0.01);

/// One ply of a board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ply {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Before flattening.
    pub thickness: Length,
}

/// What flattening leaves of a ply; nothing, when its bottom is its top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlyLeft {
    /// Index into the recipe's woods.
    pub wood: usize,
    /// Above the finished ring's lower face.
    pub bottom: Length,
    /// Above the finished ring's lower face.
    pub top: Length,
}

impl PlyLeft {
    /// What is left of its thickness.
    #[must_use]
    pub fn thickness(&self) -> Length {
        self.top - self.bottom
    }
}

/// How [`thickness`] is told.
pub static THICKNESS: Formula = Formula {
    gives: "thickness of the board",
    words: "added up over the plies, before flattening",
    inputs: &["thickness of a ply"],
};

/// Thickness of the board that the plies make.
#[must_use]
pub fn thickness(plies: &[Ply]) -> Length {
    plies.iter().map(|ply| ply.thickness).sum()
}

/// How [`face_left`] is told.
pub static FACE_LEFT: Formula = Formula {
    gives: "height of a ply's face in the ring",
    words: "its height in the board − what is lost from the lower face, but within the finished ring",
    inputs: &["height of the face in the board", "lost from the lower face", "finished thickness"],
};

/// Where a ply's face at height `face` of the board comes to lie above the finished ring's lower face.
#[must_use]
pub fn face_left(face: Length, lower: Length, finished: Length) -> Length {
    (face - lower).max(Length::ZERO).min(finished)
}

/// What is left of each ply, lowest first, when flattening takes `lower` and `upper` off the two faces.
#[must_use]
pub fn flattened(plies: &[Ply], lower: Length, upper: Length) -> Vec<PlyLeft> {
    let finished = (thickness(plies) - lower - upper).max(Length::ZERO);
    let mut face = Length::ZERO;
    let mut left = Vec::with_capacity(plies.len());
    for ply in plies {
        let bottom = face_left(face, lower, finished);
        face = face + ply.thickness;
        left.push(PlyLeft { wood: ply.wood, bottom, top: face_left(face, lower, finished) });
    }
    left
}

/// How [`turned_volume`] is told.
pub static TURNED_VOLUME: Formula = Formula {
    gives: "what is turned of a ply",
    words: "the layer's turned volume between the ply's bottom and its top",
    inputs: &["bottom of the layer", "bottom of the ply in it", "top of the ply in it"],
};

/// Finished wood of a ply in a layer that begins at height `layer`: a ply has more of it where the
/// wall leans out.
#[must_use]
pub fn turned_volume(ply: &PlyLeft, layer: Length, outside: &Profile, inside: &Profile) -> Volume {
    let (bottom, top) = (layer + ply.bottom, layer + ply.top);
    outside.volume(bottom, top) - inside.volume(bottom, top)
}

/// Whether the board reads alike from both faces, so that its strip may be turned over at the saw.
#[must_use]
pub fn may_be_turned_over(plies: &[Ply]) -> bool {
    let alike = |(a, b): (&Ply, &Ply)| a.wood == b.wood && (a.thickness - b.thickness).abs() <= ALIKE;
    plies.iter().zip(plies.iter().rev()).all(alike)
}

/// How [`pieces_one_way_up`] is told.
pub static PIECES_ONE_WAY_UP: Formula = Formula {
    gives: "strip used by the pieces",
    words: "pieces × (long edge + kerf / cos(miter)), the strip never turned over: a wedge between two pieces is waste",
    inputs: &["pieces", "long edge", "kerf", "miter"],
};

/// What `pieces` take of a strip that is never turned over: two pieces are a kerf apart at their long
/// edges, where the cuts of both run into each other.
#[must_use]
pub fn pieces_one_way_up(pieces: Count, long_edge: Length, kerf: Length, miter: Angle) -> Length {
    (long_edge + kerf / miter.cos()) * f64::from(pieces.0)
}

/// How [`strip_one_way_up`] is told.
pub static STRIP_ONE_WAY_UP: Formula = Formula {
    gives: "strip length",
    words: "trimmed off its end + pieces + tail under the clamp",
    inputs: &["trimmed off", "pieces", "tail"],
};

/// Length of a strip that is never turned over. Its first end cut begins at the trimmed corner, so no
/// slanting end is lost beside the pieces.
#[must_use]
pub fn strip_one_way_up(trim: Length, pieces: Length, tail: Length) -> Length {
    trim + pieces + tail
}

/// How [`turning_over_saves`] is told.
pub static TURNING_OVER_SAVES: Formula = Formula {
    gives: "strip saved by turning it over",
    words: "(pieces − 1) × strip width × tan(miter): every wedge but the slanting first end",
    inputs: &["pieces", "strip width", "miter"],
};

/// How much shorter the strip is when it may be turned over after each cut.
#[must_use]
pub fn turning_over_saves(pieces: Count, strip: Length, miter: Angle) -> Length {
    strip * (miter.tan() * f64::from(pieces.0.saturating_sub(1)))
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use proptest::prelude::*;

    use super::{
        Ply, flattened, may_be_turned_over, pieces_one_way_up, strip_one_way_up, thickness, turned_volume,
        turning_over_saves,
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

    fn board(plies: &[(usize, f64)]) -> Vec<Ply> {
        plies.iter().map(|(wood, thickness)| Ply { wood: *wood, thickness: mm(*thickness) }).collect()
    }

    #[test]
    fn strips_as_tabled() {
        // Reference rows (closed form to six digits, checked by laying out real kerfs), trim 0: N, L, l, w, miter, kerf, hold, then
        // the pieces turned over, that strip, the strip one way up, what is saved.
        for (n, long, short, w, miter, kerf, hold, net, flipped, plain, saved) in [
            (12, 1.607_7, 1.035_28, 1.068_15, 15.0, 0.125, 4.0, 17.410_7, 21.697, 24.845_3, 3.148_3),
            (9, 43.676_4, 34.202, 13.015_4, 20.0, 3.2, 100.0, 381.101, 485.839, 523.736, 37.897_7),
            (24, 1.053_22, 0.913_683, 0.529_943, 7.5, 0.125, 5.0, 26.628_7, 31.698_5, 33.303_2, 1.604_67),
            (6, 2.309_4, 1.25, 0.917_468, 30.0, 0.093_75, 4.0, 11.327_7, 15.857_4, 18.505_9, 2.648_5),
        ] {
            let cut = Angle::from_degrees(miter);
            let pieces = pieces_one_way_up(Count(n), mm(long), mm(kerf), cut);
            let strip = strip_one_way_up(Length::ZERO, pieces, mm(hold));
            assert_figure(strip.mm(), plain);
            let saves = turning_over_saves(Count(n), mm(w), cut);
            assert_figure(saves.mm(), saved);
            assert_figure((strip - saves).mm(), flipped);
            let nested = f64::from(n) * (f64::midpoint(long, short) + kerf / cut.cos());
            assert_figure(nested, net);
            assert_figure((strip - saves - mm(hold)).mm() - w * cut.tan(), net);
        }
    }

    #[test]
    fn plies_are_what_flattening_leaves() {
        let stripe = board(&[(0, 6.0), (1, 3.0), (0, 6.0)]);
        assert_eq!(thickness(&stripe), mm(15.0));
        let left = flattened(&stripe, mm(0.5), mm(1.5));
        let faces: Vec<(usize, f64, f64)> = left.iter().map(|ply| (ply.wood, ply.bottom.mm(), ply.top.mm())).collect();
        assert_eq!(faces, [(0, 0.0, 5.5), (1, 5.5, 8.5), (0, 8.5, 13.0)]);
        // A veneer outside is sanded through, and so is half of what lies under it.
        let left = flattened(&board(&[(1, 0.5), (0, 10.0), (1, 0.5)]), mm(0.5), mm(1.0));
        assert_eq!(left.iter().map(|ply| ply.thickness().mm()).collect::<Vec<_>>(), [0.0, 9.5, 0.0]);
        // Nothing at all is left.
        assert!(flattened(&stripe, mm(9.0), mm(9.0)).iter().all(|ply| ply.thickness() == Length::ZERO));
    }

    #[test]
    fn only_a_board_alike_both_ways_is_turned_over() {
        for (plies, alike) in [
            (&[(0, 6.0), (1, 3.0), (0, 6.0)][..], true),
            (&[(0, 6.0), (1, 3.0), (0, 5.0)][..], false),
            (&[(0, 6.0), (1, 3.0)][..], false),
            (&[(0, 6.0), (0, 6.0)][..], true),
            (&[(0, 6.0), (1, 3.0), (1, 3.0), (0, 6.0)][..], true),
            (&[(0, 2.0), (1, 3.0), (2, 2.0)][..], false),
            (&[][..], true),
        ] {
            assert_eq!(may_be_turned_over(&board(plies)), alike, "{plies:?}");
        }
    }

    proptest! {
        /// Plies' volumes add up to the layer's, each what its own slices hold.
        #[test]
        fn plies_share_out_a_layer(
            parts in prop::collection::vec((0_usize..3, 1.0..8.0_f64), 1..8), lower in 0.0..3.0_f64, upper in 0.0..3.0_f64,
        ) {
            let plies = board(&parts);
            let left = flattened(&plies, mm(lower), mm(upper));
            let height = (thickness(&plies) - mm(lower) - mm(upper)).mm().max(0.0);
            let sum: f64 = left.iter().map(|ply| ply.thickness().mm()).sum();
            prop_assert!((sum - height).abs() < 1e-9);
            prop_assume!(height > 0.5);
            let point = |z: f64, r: f64| ProfilePoint { height: mm(z), radius: mm(r) };
            let outside = Profile::straight(&[point(0.0, 40.0), point(100.0, 90.0)]);
            let inside = Profile::straight(&[point(12.0, 30.0), point(100.0, 80.0)]);
            let layer = mm(10.0);
            let mut all = 0.0;
            for ply in &left {
                let got = turned_volume(ply, layer, &outside, &inside).mm3();
                all += got;
                let slices = 400;
                let slice = ply.thickness().mm() / f64::from(slices);
                let sum: f64 = (0..slices).map(|i| {
                    let z = mm(10.0 + ply.bottom.mm() + slice * (f64::from(i) + 0.5));
                    let bore = if z.mm() < 12.0 { Length::ZERO } else { inside.above(z) };
                    ring::annulus(outside.above(z), bore).mm2() * slice
                }).sum();
                // The slice in which the inside begins is wrong by up to its half.
                prop_assert!((got - sum).abs() <= 1e-5 * sum + 3000.0 * slice);
            }
            let whole = outside.volume(layer, layer + mm(height)) - inside.volume(layer, layer + mm(height));
            prop_assert!((all - whole.mm3()).abs() < 1e-9 * all);
        }

        /// Pieces laid on a strip one way up, a kerf apart: no cut bites into the next piece, at neither
        /// edge of the strip; any closer and it does.
        #[test]
        fn pieces_one_way_up_just_clear_each_other(
            n in 3_u32..48, outer in 20.0..200.0_f64, share in 0.1..0.9_f64, kerf in 0.5..4.0_f64,
        ) {
            let cut = ring::miter(Count(n));
            let w = ring::needed_width(mm(outer), mm(outer * share), cut).mm();
            let (long, short) = (ring::long_edge(mm(outer), cut).mm(), ring::short_edge(mm(outer * share), cut).mm());
            // Along the strip, at each edge of it, [from, to] of a piece that begins at `at`.
            let piece = |at: f64| [(at, at + long), (at + (long - short) / 2.0, at + f64::midpoint(long, short))];
            let clears = |pitch: f64| {
                let along = kerf / cut.cos();
                piece(0.0).iter().zip(piece(pitch)).all(|(ours, next)| {
                    // Each cut lies in the waste beside its own piece.
                    ours.1 + along <= next.0 + 1e-9 && next.0 - along >= ours.1 - 1e-9
                })
            };
            let used = pieces_one_way_up(Count(n), mm(long), mm(kerf), cut).mm();
            let pitch = used / f64::from(n);
            prop_assert!(clears(pitch) && !clears(pitch - 1e-6));
            // Against pieces nested by turning over, each with its kerf, and one slanting end.
            let nested = f64::from(n) * (f64::midpoint(long, short) + kerf / cut.cos()) + w * cut.tan();
            let saves = turning_over_saves(Count(n), mm(w), cut).mm();
            prop_assert!((used - nested - saves).abs() < 1e-9 * used);
        }
    }
}
