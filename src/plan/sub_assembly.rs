//! A ring's segments to the glue-ups that make it: runs of neighbors, two halves, the closed ring.
//!
//! A half is glued in one go when its joints can be spread within the glue's open time; otherwise
//! first in pairs, triplets or longer runs, level by level, until what is left can.

use crate::geometry::RingShape;
use crate::quantity::Angle;

/// One glue-up within a ring. Numbers of segments count round the ring from 0.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Assembly {
    /// What comes of it.
    pub makes: Makes,
    /// The first segment in it.
    pub first: u32,
    /// How many segments are in it; they may go on past the last one to the first.
    pub segments: u32,
    /// How many parts are put together.
    pub parts: u32,
    /// Joints that are wet at once.
    pub joints: u32,
    /// Which they are, each by the segment that begins at it.
    pub seams: Vec<u32>,
    /// Glue-ups of the same ring that must be done before, by their place in the list.
    pub after: Vec<usize>,
}

/// What a glue-up within a ring makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Makes {
    /// A spacer on the first end of each of these segments.
    Spaced {
        /// The segment that goes bare: its spacer is glued to the far end of the one before it. Else one
        /// half's ends would lie a spacer's thickness out of one plane, and could not be flattened.
        bare: Option<u32>,
    },
    /// A run of neighbors.
    Run,
    /// One of the two parts that a ring is closed from: 1 or 2.
    Half(u32),
    /// The ring, from two parts.
    Ring,
    /// The ring, from all segments in one go.
    WholeRing,
}

/// Where a ring is divided into the two parts that it is closed from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Split {
    /// The segment that the first part begins with.
    pub first: u32,
    /// Segments in the first part.
    pub lower: u32,
    /// Whether the two joints lie opposite each other, so that both ends of a part lie in one plane.
    pub is_straight: bool,
}

/// Joints nearer than this to the opposite of another lie opposite, in degrees.
const OPPOSITE: f64 = 1e-6;

impl Split {
    /// Of a ring: along a line through the middle if two joints lie on one, and so that the two parts
    /// have as like counts as can be.
    pub(super) fn of(ring: &RingShape) -> Self {
        let segments = super::to_u32(ring.woods.len());
        if ring.cut_of.is_empty() {
            return Self { first: 0, lower: segments / 2, is_straight: segments.is_multiple_of(2) };
        }
        let joints: Vec<f64> = ring.joints().map(Angle::degrees).collect();
        let unlike = |(_, lower): &(u32, u32)| (segments - *lower).abs_diff(*lower);
        let straight = opposite_joints(&joints).into_iter().min_by_key(unlike);
        straight.map_or(Self { first: 0, lower: segments / 2, is_straight: false }, |(first, lower)| Self {
            first,
            lower,
            is_straight: true,
        })
    }
}

/// For each joint with one opposite: its number, and how many segments lie between, for joints in the
/// first half turn.
fn opposite_joints(joints: &[f64]) -> Vec<(u32, u32)> {
    let mut pairs = Vec::new();
    let mut other = 0;
    for (at, joint) in joints.iter().enumerate().take_while(|(_, joint)| **joint < 180.0 - OPPOSITE) {
        while joints.get(other).is_some_and(|other| *other < joint + 180.0 - OPPOSITE) {
            other += 1;
        }
        if joints.get(other).is_some_and(|other| (other - joint - 180.0).abs() <= OPPOSITE) {
            pairs.push((super::to_u32(at), super::to_u32(other - at)));
        }
    }
    pairs
}

/// The glue-ups of a ring of `segments`, divided so, of which at most `most` joints may be wet at once,
/// in an order that can be followed. Closing a ring takes two joints whatever `most` says. Spacers are
/// glued to their segments first, so that no more joints are wet at once than without them.
pub(super) fn assemble(segments: u32, split: Split, most: u32, has_spacers: bool) -> Vec<Assembly> {
    let most = most.max(1);
    let mut list = Vec::new();
    let mut pieces: Vec<Stretch> = (0..segments).map(|first| Stretch { first, segments: 1, made_by: None }).collect();
    if has_spacers {
        let second_half = (split.first + split.lower) % segments.max(1);
        let bare = Some(second_half).filter(|_| split.is_straight && segments > 3);
        for batch in pieces.chunks_mut(most as usize) {
            let count = super::to_u32(batch.len());
            let first = batch.first().map_or(0, |piece| piece.first);
            for piece in batch {
                piece.made_by = Some(list.len());
            }
            let after = Vec::new();
            let bare = bare.filter(|bare| (first..first + count).contains(bare));
            list.push(Assembly {
                makes: Makes::Spaced { bare },
                first,
                segments: count,
                parts: 2,
                joints: count,
                seams: (first..first + count).collect(),
                after,
            });
        }
    }
    if segments <= 3 {
        let after = made_by(&pieces);
        let seams = (0..segments).collect();
        list.push(Assembly {
            makes: Makes::WholeRing,
            first: 0,
            segments,
            parts: segments,
            joints: segments,
            seams,
            after,
        });
        return list;
    }
    pieces.rotate_left(split.first as usize % segments as usize);
    let (lower, upper) = pieces.split_at(split.lower as usize);
    let halves = [(1, lower), (2, upper)].map(|(number, pieces)| half(&mut list, number, pieces, most));
    let after = halves.iter().flatten().copied().collect();
    let seams = vec![split.first, (split.first + split.lower) % segments];
    list.push(Assembly { makes: Makes::Ring, first: split.first, segments, parts: 2, joints: 2, seams, after });
    list
}

/// A stretch of neighbors that is one piece already, with the glue-up that made it.
#[derive(Debug, Clone, Copy)]
struct Stretch {
    first: u32,
    segments: u32,
    made_by: Option<usize>,
}

/// The glue-ups that make one part; the index of what made it, if anything had to.
fn half(list: &mut Vec<Assembly>, number: u32, pieces: &[Stretch], most: u32) -> Option<usize> {
    let mut stretches = pieces.to_vec();
    while joints(stretches.len()) > most {
        let size = run_length(stretches.len(), most);
        stretches = stretches
            .chunks(size)
            .map(|run| match run {
                [alone] => *alone,
                _ => glue(list, Makes::Run, run),
            })
            .collect();
    }
    match stretches.as_slice() {
        // One segment that spans half a ring, or nearly, is a part as it is.
        [alone] => alone.made_by,
        _ => glue(list, Makes::Half(number), &stretches).made_by,
    }
}

fn glue(list: &mut Vec<Assembly>, makes: Makes, run: &[Stretch]) -> Stretch {
    let first = run.first().map_or(0, |stretch| stretch.first);
    let segments = run.iter().map(|stretch| stretch.segments).sum();
    let (parts, joints) = (super::to_u32(run.len()), joints(run.len()));
    let seams = run.iter().skip(1).map(|stretch| stretch.first).collect();
    list.push(Assembly { makes, first, segments, parts, joints, seams, after: made_by(run) });
    Stretch { first, segments, made_by: Some(list.len() - 1) }
}

/// What made the parts of a run, each named once.
fn made_by(run: &[Stretch]) -> Vec<usize> {
    let mut steps: Vec<usize> = run.iter().filter_map(|stretch| stretch.made_by).collect();
    steps.sort_unstable();
    steps.dedup();
    steps
}

/// The shortest runs that leave few enough joints for one go; else the longest that can be glued.
fn run_length(parts: usize, most: u32) -> usize {
    let longest = most as usize + 1;
    (2..longest).find(|size| joints(parts.div_ceil(*size)) <= most).unwrap_or(longest)
}

fn joints(parts: usize) -> u32 {
    super::to_u32(parts.saturating_sub(1))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Assembly, Makes, Split, assemble, opposite_joints};

    fn even(segments: u32) -> Split {
        Split { first: 0, lower: segments / 2, is_straight: segments.is_multiple_of(2) }
    }

    fn steps(segments: u32, most: u32) -> Vec<Assembly> {
        assemble(segments, even(segments), most, false)
    }

    fn shape(segments: u32, most: u32) -> Vec<(Makes, u32, u32)> {
        steps(segments, most).iter().map(|step| (step.makes, step.segments, step.joints)).collect()
    }

    #[test]
    fn twelve_segments_are_two_halves_of_six() {
        // At 20-30 s a joint, 5 min of open time is 8-12 joints: two halves of 6 are comfortable.
        assert_eq!(shape(12, 12), [(Makes::Half(1), 6, 5), (Makes::Half(2), 6, 5), (Makes::Ring, 12, 2)]);
    }

    #[test]
    fn many_segments_are_paired_first() {
        let steps = shape(48, 12);
        assert_eq!(steps.iter().filter(|(makes, ..)| *makes == Makes::Run).count(), 24);
        assert_eq!(steps.iter().filter(|(makes, ..)| matches!(makes, Makes::Half(_))).count(), 2);
        assert!(steps.contains(&(Makes::Half(1), 24, 11)));
        assert!(steps.contains(&(Makes::Run, 2, 1)));
    }

    #[test]
    fn an_odd_count_gives_unlike_halves_and_three_go_in_one() {
        assert_eq!(shape(5, 12), [(Makes::Half(1), 2, 1), (Makes::Half(2), 3, 2), (Makes::Ring, 5, 2)]);
        assert_eq!(shape(3, 12), [(Makes::WholeRing, 3, 3)]);
    }

    #[test]
    fn a_glue_that_sets_at_once_joins_two_by_two() {
        let steps = shape(12, 1);
        assert!(steps.iter().all(|(makes, _, joints)| *joints == 1 || *makes == Makes::Ring));
        assert_eq!(steps.iter().map(|(_, _, joints)| joints).sum::<u32>(), 12);
    }

    #[test]
    fn spacers_are_glued_to_their_segments_before_any_run() {
        let steps = assemble(16, even(16), 12, true);
        let made: Vec<(Makes, u32, u32)> = steps.iter().map(|step| (step.makes, step.first, step.joints)).collect();
        assert_eq!(
            made,
            [
                (Makes::Spaced { bare: Some(8) }, 0, 12),
                (Makes::Spaced { bare: None }, 12, 4),
                (Makes::Half(1), 0, 7),
                (Makes::Half(2), 8, 7),
                (Makes::Ring, 0, 2)
            ]
        );
        assert_eq!(steps[2].after, [0]);
        assert_eq!(steps[3].after, [0, 1]);
    }

    #[test]
    fn joints_that_lie_opposite_are_found_as_often_as_there_are_some() {
        // 2:1 four times: 80°, 40° and so on; every second joint has its like.
        assert_eq!(opposite_joints(&[0.0, 80.0, 120.0, 200.0, 240.0, 320.0]), []);
        // Big and small, four of each: 60°, 30°.
        let joints: Vec<f64> = (0..4).flat_map(|at| [90.0 * f64::from(at), 90.0 * f64::from(at) + 60.0]).collect();
        assert_eq!(opposite_joints(&joints), [(0, 4), (1, 4), (2, 4), (3, 4)]);
        // One of 180° against three of 60°, begun within the latter.
        assert_eq!(opposite_joints(&[0.0, 60.0, 240.0, 300.0]), [(1, 1)]);
    }

    fn splits() -> impl Strategy<Value = (u32, Split)> {
        (4_u32..400, any::<prop::sample::Index>(), any::<prop::sample::Index>()).prop_map(|(segments, first, lower)| {
            let (first, lower) = (first.index(segments as usize), 1 + lower.index(segments as usize - 1));
            let split =
                Split { first: super::super::to_u32(first), lower: super::super::to_u32(lower), is_straight: true };
            (segments, split)
        })
    }

    proptest! {
        #[test]
        fn every_segment_and_every_joint_is_glued_once(
            (segments, split) in splits(), most in 1_u32..60, has_spacers in any::<bool>(),
        ) {
            let steps = assemble(segments, split, most, has_spacers);
            let joints: u32 = steps.iter().map(|step| step.joints).sum();
            prop_assert_eq!(joints, if has_spacers { 2 * segments } else { segments });
            let mut used = vec![0; steps.len()];
            for (at, step) in steps.iter().enumerate() {
                prop_assert!(step.joints <= most.max(2));
                for before in &step.after {
                    prop_assert!(*before < at);
                    used[*before] += 1;
                }
            }
            prop_assert_eq!(used.iter().filter(|times| **times == 0).count(), 1);
            for (step, times) in steps.iter().zip(used) {
                let is_of_spacers = matches!(step.makes, Makes::Spaced { .. });
                prop_assert!(times <= 1 || is_of_spacers);
            }
            // Each joint between two neighbors, by the segment that it lies before.
            let mut glued = vec![0; segments as usize];
            let mut of_spacers = vec![0; segments as usize];
            for (at, step) in steps.iter().enumerate() {
                match step.makes {
                    Makes::Spaced { .. } => {
                        (step.first..step.first + step.segments).for_each(|piece| of_spacers[piece as usize] += 1);
                    }
                    Makes::Ring => [split.first, (split.first + split.lower) % segments]
                        .iter()
                        .for_each(|joint| glued[*joint as usize] += 1),
                    Makes::WholeRing => glued.iter_mut().for_each(|times| *times += 1),
                    Makes::Run | Makes::Half(_) => {
                        let within: Vec<&Assembly> = steps[..at]
                            .iter()
                            .enumerate()
                            .filter(|(before, made)| step.after.contains(before) && made.makes == Makes::Run)
                            .map(|(_, made)| made)
                            .collect();
                        let is_inside = |joint: u32| within.iter().any(|made| {
                            let off = (joint + segments - made.first) % segments;
                            off > 0 && off < made.segments
                        });
                        for joint in (step.first + 1..step.first + step.segments).map(|joint| joint % segments) {
                            if !is_inside(joint) {
                                glued[joint as usize] += 1;
                            }
                        }
                    }
                }
            }
            prop_assert!(glued.iter().all(|times| *times == 1), "{glued:?}");
            prop_assert!(of_spacers.iter().all(|times| *times == i32::from(has_spacers)));
        }
    }
}
