//! Whether a pattern closes round a ring, and if not, where its seam falls.

use std::cmp::Ordering;

use crate::quantity::{Count, Ratio};
use crate::resolve::SEGMENTS;

/// A pattern that does not close.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Seam {
    /// Segments of the pattern, repetitions within it taken out.
    pub(super) motif: u32,
    /// Segments of the ring.
    pub(super) segments: u32,
    /// Segments that are left when no whole motif fits any more.
    pub(super) left: u32,
    /// The wood of the last segment.
    pub(super) last: usize,
    /// The wood of the first segment, which it meets.
    pub(super) first: usize,
    /// The nearest counts, fewer and more, round which it would close.
    pub(super) closing: Vec<u32>,
}

impl Seam {
    /// The one count nearest to the ring's round which the pattern would close; even where the ring's is.
    pub(super) fn nearest(&self) -> Option<u32> {
        let is_even = self.segments.is_multiple_of(2);
        let step = if is_even && !self.motif.is_multiple_of(2) { self.motif.checked_mul(2)? } else { self.motif };
        let fewer = self.segments - self.segments % step;
        let more = fewer.checked_add(step)?;
        let (down, up) = (self.segments - fewer, more - self.segments);
        let nearest = match down.cmp(&up) {
            _ if fewer < *SEGMENTS.start() => more,
            Ordering::Less => fewer,
            Ordering::Greater => more,
            Ordering::Equal => return None,
        };
        SEGMENTS.contains(&nearest).then_some(nearest)
    }
}

/// Whether `motif`, repeated round a ring of `segments`, has no seam.
pub(super) fn does_pattern_close(motif: &[usize], shares: &[Ratio], segments: Count) -> bool {
    does_not_close(motif, shares, segments).is_none()
}

/// The seam of `motif`, repeated round a ring of `segments`; `None` when there is none. Segments of one
/// wood but of unlike `shares` (as many as the motif has segments, or none) are unlike.
pub(super) fn does_not_close(motif: &[usize], shares: &[Ratio], segments: Count) -> Option<Seam> {
    let count = segments.0;
    let same = |a: usize, b: usize| motif[a] == motif[b] && shares.get(a) == shares.get(b);
    let length = u32::try_from(period(motif.len(), same)).unwrap_or(u32::MAX);
    if length == 0 || count.is_multiple_of(length) {
        return None;
    }
    let left = count % length;
    let fewer = count - left;
    let closing =
        [fewer, fewer.saturating_add(length)].into_iter().filter(|count| (3..=1000).contains(count)).collect();
    let first = *motif.first()?;
    let last = *motif.get(left as usize - 1)?;
    Some(Seam { motif: length, segments: count, left, last, first, closing })
}

/// The shortest part that, repeated a whole number of times, gives the motif (Knuth, Morris and
/// Pratt's border table).
fn period(length: usize, same: impl Fn(usize, usize) -> bool) -> usize {
    let mut border = vec![0; length];
    for at in 1..length {
        let mut reach: usize = border[at - 1];
        while reach > 0 && !same(at, reach) {
            reach = border[reach - 1];
        }
        border[at] = if same(at, reach) { reach + 1 } else { 0 };
    }
    let shortest = length - border.last().copied().unwrap_or(0);
    if shortest > 0 && length.is_multiple_of(shortest) { shortest } else { length }
}

#[cfg(test)]
mod tests {
    use super::{Seam, does_not_close, period};
    use crate::quantity::{Count, Ratio};

    #[test]
    fn five_do_not_close_round_twelve() {
        let seam = does_not_close(&[0, 0, 0, 0, 1], &[], Count(12));
        let wanted = Seam { motif: 5, segments: 12, left: 2, last: 0, first: 0, closing: vec![10, 15] };
        assert_eq!(seam, Some(wanted));
    }

    #[test]
    fn the_nearest_count_is_even_where_the_old_one_was() {
        let nearest = |motif, segments| {
            Seam { motif, segments, left: segments % motif, last: 0, first: 0, closing: vec![] }.nearest()
        };
        assert_eq!(nearest(5, 12), Some(10));
        assert_eq!(nearest(5, 16), Some(20), "15 would be nearer, but odd");
        assert_eq!(nearest(5, 13), Some(15));
        assert_eq!(nearest(8, 12), None, "8 is as near as 16");
        assert_eq!(nearest(8, 6), Some(8), "no ring has none");
        assert_eq!(nearest(1500, 12), None, "more than can be planned");
    }

    #[test]
    fn a_pattern_that_repeats_within_itself_closes_as_its_part_does() {
        let period = |motif: &[usize]| period(motif.len(), |a, b| motif[a] == motif[b]);
        assert_eq!(period(&[0, 1, 0, 1]), 2);
        assert_eq!(period(&[0, 1, 0]), 3);
        assert_eq!(period(&[3, 3, 3]), 1);
        assert_eq!(does_not_close(&[0, 1, 0, 1], &[], Count(6)), None);
        assert_eq!(does_not_close(&[0; 7], &[], Count(12)), None);
        assert_eq!(does_not_close(&[], &[], Count(12)), None);
    }

    #[test]
    fn a_pattern_longer_than_the_ring_says_which_count_would_take_it() {
        let seam = does_not_close(&[0, 0, 1, 1, 2, 2, 3, 3], &[], Count(6)).unwrap();
        assert_eq!((seam.left, seam.last, seam.closing), (6, 2, vec![8]));
    }

    #[test]
    fn one_wood_in_unlike_shares_is_a_pattern_of_two() {
        let shares = [2.0, 1.0, 2.0, 1.0].map(Ratio::of);
        assert_eq!(does_not_close(&[0; 4], &shares, Count(6)), None);
        let seam = does_not_close(&[0; 4], &shares, Count(7)).unwrap();
        assert_eq!((seam.motif, seam.left, seam.closing), (2, 1, vec![6, 8]));
    }

    /// Laid out segment by segment, a ring closes exactly when going on from the last segment is
    /// starting anew.
    #[test]
    fn closes_exactly_when_laid_out_it_does() {
        for motif in [vec![0, 1], vec![0, 1, 1], vec![0, 1, 0, 1, 2], vec![1, 2, 1, 2], vec![0; 4]] {
            for segments in 3..40_usize {
                let ring: Vec<usize> = motif.iter().copied().cycle().take(segments).collect();
                let endless: Vec<usize> = motif.iter().copied().cycle().take(segments * motif.len()).collect();
                let repeated: Vec<usize> = ring.iter().copied().cycle().take(segments * motif.len()).collect();
                let closes = does_not_close(&motif, &[], Count(u32::try_from(segments).unwrap())).is_none();
                assert_eq!(closes, endless == repeated, "{motif:?} round {segments}");
            }
        }
    }
}
