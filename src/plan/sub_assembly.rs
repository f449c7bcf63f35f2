//! A ring's segments to the glue-ups that make it: runs of neighbors, two halves, the closed ring.
//!
//! A half is glued in one go when its joints can be spread within the glue's open time; otherwise
//! first in pairs, triplets or longer runs, level by level, until what is left can.

/// One glue-up within a ring. Numbers of segments count round the ring from 0.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Assembly {
    /// What comes of it.
    pub makes: Makes,
    /// The first segment in it.
    pub first: u32,
    /// How many segments are in it.
    pub segments: u32,
    /// How many parts are put together.
    pub parts: u32,
    /// Joints that are wet at once.
    pub joints: u32,
    /// Glue-ups of the same ring that must be done before, by their place in the list.
    pub after: Vec<usize>,
}

/// What a glue-up within a ring makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Makes {
    /// A run of neighbors.
    Run,
    /// Half a ring; odd counts give unlike halves.
    Half,
    /// The ring, from two halves.
    Ring,
    /// The ring, from all segments in one go.
    WholeRing,
}

/// The glue-ups of a ring of `segments`, of which at most `most` joints may be wet at once, in an
/// order that can be followed. Closing a ring takes two joints whatever `most` says.
pub(super) fn assemble(segments: u32, most: u32) -> Vec<Assembly> {
    let most = most.max(1);
    if segments <= 3 {
        let whole =
            Assembly { makes: Makes::WholeRing, first: 0, segments, parts: segments, joints: segments, after: vec![] };
        return vec![whole];
    }
    let mut list = Vec::new();
    let lower = segments / 2;
    let halves = [(0, lower), (lower, segments - lower)].map(|(first, count)| half(&mut list, first, count, most));
    list.push(Assembly { makes: Makes::Ring, first: 0, segments, parts: 2, joints: 2, after: halves.to_vec() });
    list
}

/// A stretch of neighbors that is one piece already, with the glue-up that made it.
#[derive(Debug, Clone, Copy)]
struct Stretch {
    first: u32,
    segments: u32,
    made_by: Option<usize>,
}

fn half(list: &mut Vec<Assembly>, first: u32, count: u32, most: u32) -> usize {
    let mut stretches: Vec<Stretch> =
        (first..first + count).map(|first| Stretch { first, segments: 1, made_by: None }).collect();
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
    glue(list, Makes::Half, &stretches);
    list.len() - 1
}

fn glue(list: &mut Vec<Assembly>, makes: Makes, run: &[Stretch]) -> Stretch {
    let first = run.first().map_or(0, |stretch| stretch.first);
    let segments = run.iter().map(|stretch| stretch.segments).sum();
    list.push(Assembly {
        makes,
        first,
        segments,
        parts: super::to_u32(run.len()),
        joints: joints(run.len()),
        after: run.iter().filter_map(|stretch| stretch.made_by).collect(),
    });
    Stretch { first, segments, made_by: Some(list.len() - 1) }
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

    use super::{Makes, assemble};

    fn shape(segments: u32, most: u32) -> Vec<(Makes, u32, u32)> {
        assemble(segments, most).iter().map(|step| (step.makes, step.segments, step.joints)).collect()
    }

    #[test]
    fn twelve_segments_are_two_halves_of_six() {
        // At 20-30 s a joint, 5 min of open time is 8-12 joints: two halves of 6 are comfortable.
        assert_eq!(shape(12, 12), [(Makes::Half, 6, 5), (Makes::Half, 6, 5), (Makes::Ring, 12, 2)]);
    }

    #[test]
    fn many_segments_are_paired_first() {
        let steps = shape(48, 12);
        assert_eq!(steps.iter().filter(|(makes, ..)| *makes == Makes::Run).count(), 24);
        assert_eq!(steps.iter().filter(|(makes, ..)| *makes == Makes::Half).count(), 2);
        assert!(steps.contains(&(Makes::Half, 24, 11)));
        assert!(steps.contains(&(Makes::Run, 2, 1)));
    }

    #[test]
    fn an_odd_count_gives_unlike_halves_and_three_go_in_one() {
        assert_eq!(shape(5, 12), [(Makes::Half, 2, 1), (Makes::Half, 3, 2), (Makes::Ring, 5, 2)]);
        assert_eq!(shape(3, 12), [(Makes::WholeRing, 3, 3)]);
    }

    #[test]
    fn a_glue_that_sets_at_once_joins_two_by_two() {
        let steps = shape(12, 1);
        assert!(steps.iter().all(|(makes, _, joints)| *joints == 1 || *makes == Makes::Ring));
        assert_eq!(steps.iter().map(|(_, _, joints)| joints).sum::<u32>(), 12);
    }

    proptest! {
        #[test]
        fn every_segment_and_every_joint_is_glued_once(segments in 4_u32..400, most in 1_u32..60) {
            let steps = assemble(segments, most);
            let joints: u32 = steps.iter().map(|step| step.joints).sum();
            prop_assert_eq!(joints, segments);
            let mut used = vec![0; steps.len()];
            for (at, step) in steps.iter().enumerate() {
                prop_assert!(step.joints <= most.max(2));
                for before in &step.after {
                    prop_assert!(*before < at);
                    used[*before] += 1;
                }
            }
            prop_assert_eq!(used.iter().filter(|times| **times == 0).count(), 1);
            prop_assert!(used.iter().all(|times| *times <= 1));
        }
    }
}
