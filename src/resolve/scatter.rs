//! `scatter [maple 70%  walnut 30%] seed 7`: a ring that chance lays out, the same one every time.
//!
//! The layout is part of what a recipe means, so it must never change: `ChaCha` with 8 rounds, keyed with the
//! seed, the part (0 body, 1 lid) and the layer's number in it from 1, each eight bytes little-endian and eight
//! zero bytes behind them; its 64-bit words, those that would favor low numbers skipped, drive a Fisher–Yates
//! shuffle from the last segment down. Two layers of one `repeat` so differ.

use std::collections::BTreeMap;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore as _, SeedableRng as _};

use crate::quantity::{Count, Dimension};
use crate::source::Span;
use crate::syntax::{Element, Item, ItemKind};

use super::recipe::PartKind;
use super::scope::Scope;
use super::split::word_of;
use super::value::Value;
use super::{Resolver, findings, layer_findings, read};

/// What decides a scattered ring beside its woods.
#[derive(Debug, Clone, Copy)]
pub(super) struct Chance {
    /// `None` when the count could not be read.
    pub(super) segments: Option<Count>,
    pub(super) seed: Count,
    pub(super) is_apart: bool,
    /// The layer, from 1 in its part.
    pub(super) layer: (PartKind, usize),
    /// The `seed` or `apart` clause with its word.
    pub(super) clause: Option<(Span, &'static str)>,
}

/// How often the ring is laid out anew to get equal neighbors apart, before it is laid out by rule.
const TRIES: usize = 32;
/// How many swaps are looked at for that in all, so that no ring takes long.
const LOOKS: usize = 20_000;
/// Percentages are written by hand; a hundredth of one is as good as none.
const SUM_TOLERANCE: f64 = 1e-4;

/// One wood of the list with its weight.
struct Weighed {
    wood: usize,
    weight: f64,
    has_percent: bool,
}

impl Resolver<'_> {
    /// As many woods as the ring has segments.
    pub(super) fn scattered(
        &mut self,
        scope: &Scope,
        items: &[Item],
        span: Span,
        chance: &Chance,
    ) -> Option<Vec<usize>> {
        let [word, list] = items else {
            self.say(layer_findings::scatter_form(span));
            return None;
        };
        let is_first = word_of(&scope.tree, word) == Some("scatter");
        let ItemKind::List(elements) = &list.kind else {
            self.say(layer_findings::scatter_form(span));
            return None;
        };
        if !is_first {
            self.say(layer_findings::scatter_form(span));
            return None;
        }
        let weighed = self.weighed(scope, elements, list.span)?;
        let n = chance.segments?.0 as usize;
        let counts = shares_of(n, &weighed.iter().map(|one| one.weight).collect::<Vec<f64>>());
        let pool: Vec<usize> =
            weighed.iter().zip(&counts).flat_map(|(one, count)| std::iter::repeat_n(one.wood, *count)).collect();
        let (laid, touching) = lay_out(&pool, chance);
        if chance.is_apart && touching > 0 {
            self.tell_touching(&pool, touching, chance);
        }
        Some(laid)
    }

    fn tell_touching(&mut self, pool: &[usize], touching: usize, chance: &Chance) {
        let Some((wood, count)) = most(pool) else { return };
        let name = self.woods.get(wood).map_or(String::new(), |wood| wood.name.clone());
        let span = chance.clause.map(|(span, _)| span);
        if let Some(span) = span {
            self.say(layer_findings::cannot_be_apart(span, &name, count, pool.len(), touching));
        }
    }

    fn weighed(&mut self, scope: &Scope, elements: &[Element], span: Span) -> Option<Vec<Weighed>> {
        let mut weighed = Vec::with_capacity(elements.len());
        let mut rest = elements;
        while let Some((element, behind)) = rest.split_first() {
            if !matches!(element.item.kind, ItemKind::Word) {
                self.say(layer_findings::not_scatterable(element.item.span));
                return None;
            }
            let wood = self.wood(&scope.tree, &element.item, &scope.woods, "scatter");
            let times = self.times(element)?;
            rest = behind;
            let percent = rest.first().filter(|next| matches!(next.item.kind, ItemKind::Quantity(_)));
            let weight = match percent {
                Some(next) => {
                    rest = rest.get(1..).unwrap_or(&[]);
                    self.percent(scope, next, element.times.is_some())?
                }
                #[allow(clippy::cast_precision_loss, reason = "a count within the limit of a motif")]
                None => times as f64,
            };
            weighed.push(Weighed { wood, weight, has_percent: percent.is_some() });
        }
        if weighed.is_empty() {
            self.say(findings::empty_pattern(span));
            return None;
        }
        let written = weighed.iter().filter(|one| one.has_percent).count();
        if written > 0 && written < weighed.len() {
            self.say(layer_findings::some_percent(span, written, weighed.len()));
            return None;
        }
        let sum: f64 = weighed.iter().map(|one| one.weight).sum();
        if written > 0 && (sum - 1.0).abs() > SUM_TOLERANCE {
            self.say(layer_findings::percent_sum(span, sum * 100.0));
            return None;
        }
        Some(weighed)
    }

    /// `70%` as a share of one.
    fn percent(&mut self, scope: &Scope, element: &Element, is_counted: bool) -> Option<f64> {
        let value = self.told(read::value(scope, &element.item, "scatter", "a percentage"))?;
        match value {
            Value::Of(share, Dimension::NONE) if share > 0.0 && !is_counted && element.times.is_none() => Some(share),
            Value::Of(..) | Value::Bare(..) => {
                self.say(layer_findings::not_percent(element.item.span, scope.tree.text(element.item.span)));
                None
            }
        }
    }
}

/// `n` shared out by weight: whole parts first, what is left to the largest remainders, of equal ones the first.
fn shares_of(n: usize, weights: &[f64]) -> Vec<usize> {
    let sum: f64 = weights.iter().sum();
    #[allow(clippy::cast_precision_loss, reason = "a ring has at most a thousand segments")]
    let exact: Vec<f64> = weights.iter().map(|weight| n as f64 * weight / sum).collect();
    // A hair under a whole number is that number.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "positive and small")]
    let mut counts: Vec<usize> = exact.iter().map(|share| (share + 1e-9).floor() as usize).collect();
    let left = n.saturating_sub(counts.iter().sum());
    let mut order: Vec<usize> = (0..weights.len()).collect();
    order.sort_by(|a, b| (exact[*b] - exact[*b].floor()).total_cmp(&(exact[*a] - exact[*a].floor())));
    for at in order.into_iter().take(left) {
        counts[at] += 1;
    }
    counts
}

/// The ring and how many of its joints have one wood on both sides.
fn lay_out(pool: &[usize], chance: &Chance) -> (Vec<usize>, usize) {
    let mut dice = dice(chance);
    let mut ring = pool.to_vec();
    shuffle(&mut ring, &mut dice);
    if !chance.is_apart {
        let touching = touching(&ring);
        return (ring, touching);
    }
    let least = least_touching(pool);
    let mut looks = LOOKS;
    for _ in 0..TRIES {
        if part(&mut ring, least, &mut looks) {
            return (ring, least);
        }
        shuffle(&mut ring, &mut dice);
    }
    let mut ring = by_rule(pool);
    let places = below(&mut dice, ring.len());
    ring.rotate_left(places);
    (ring, least)
}

fn dice(chance: &Chance) -> ChaCha8Rng {
    let (part, layer) = chance.layer;
    let part = match part {
        PartKind::Body => 0_u64,
        PartKind::Lid => 1,
    };
    let mut key = [0_u8; 32];
    for (bytes, number) in key.chunks_exact_mut(8).zip([u64::from(chance.seed.0), part, layer as u64, 0]) {
        bytes.copy_from_slice(&number.to_le_bytes());
    }
    ChaCha8Rng::from_seed(key)
}

fn shuffle(ring: &mut [usize], dice: &mut ChaCha8Rng) {
    for last in (1..ring.len()).rev() {
        ring.swap(last, below(dice, last + 1));
    }
}

/// A number from 0 up to `bound`, that not included; each as likely as the others.
fn below(dice: &mut ChaCha8Rng, bound: usize) -> usize {
    let bound = bound.max(1) as u64;
    // The first numbers would come up once more often than the rest.
    let skipped = bound.wrapping_neg() % bound;
    loop {
        let number = dice.next_u64();
        if number >= skipped {
            return usize::try_from(number % bound).unwrap_or(0);
        }
    }
}

fn touching(ring: &[usize]) -> usize {
    (0..ring.len()).filter(|at| touches(ring, *at)).count()
}

/// Whether this segment and the next are of one wood.
fn touches(ring: &[usize], at: usize) -> bool {
    ring[at] == ring[(at + 1) % ring.len()]
}

/// Swaps segments out of pairs until only `least` pairs are left, no swap helps or `looks` are used up; whether
/// it came so far.
fn part(ring: &mut [usize], least: usize, looks: &mut usize) -> bool {
    let n = ring.len();
    let mut pairs = touching(ring);
    let mut at = 0;
    let mut in_vain = 0;
    while pairs > least && in_vain < n && *looks > 0 {
        let second = (at + 1) % n;
        let saved = if touches(ring, at) { swap_out(ring, second, looks) } else { 0 };
        in_vain = if saved > 0 { 0 } else { in_vain + 1 };
        pairs -= saved;
        at = second;
    }
    pairs <= least
}

/// Swaps the segment with the first one that leaves fewer pairs, and says how many fewer.
fn swap_out(ring: &mut [usize], segment: usize, looks: &mut usize) -> usize {
    let n = ring.len();
    for other in (1..n).map(|step| (segment + step) % n) {
        let Some(left) = looks.checked_sub(1) else { return 0 };
        *looks = left;
        let before = pairs_round(ring, segment, other);
        ring.swap(segment, other);
        match before.checked_sub(pairs_round(ring, segment, other)) {
            Some(saved) if saved > 0 => return saved,
            Some(_) | None => ring.swap(segment, other),
        }
    }
    0
}

/// How many of the joints at two segments have one wood on both sides.
fn pairs_round(ring: &[usize], a: usize, b: usize) -> usize {
    let n = ring.len();
    let joints = [(a + n - 1) % n, a, (b + n - 1) % n, b];
    let fresh = joints.iter().enumerate().filter(|(at, joint)| !joints[..*at].contains(joint));
    fresh.filter(|(_, joint)| touches(ring, **joint)).count()
}

/// How many segments each wood has.
fn counts(pool: &[usize]) -> BTreeMap<usize, usize> {
    let mut counts = BTreeMap::new();
    for wood in pool {
        *counts.entry(*wood).or_insert(0) += 1;
    }
    counts
}

/// The wood with the most segments, and how many it has.
fn most(pool: &[usize]) -> Option<(usize, usize)> {
    counts(pool).into_iter().max_by_key(|(_, count)| *count)
}

/// The others can stand between all of the commonest wood, or all but so many.
fn least_touching(pool: &[usize]) -> usize {
    most(pool).map_or(0, |(_, count)| (2 * count).saturating_sub(pool.len()))
}

/// The commonest wood first on every second place, then the others: no layout has fewer pairs.
fn by_rule(pool: &[usize]) -> Vec<usize> {
    let mut by_count: Vec<(usize, usize)> = counts(pool).into_iter().collect();
    by_count.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let sorted = by_count.into_iter().flat_map(|(wood, count)| std::iter::repeat_n(wood, count));
    let places = (0..pool.len()).step_by(2).chain((1..pool.len()).step_by(2));
    let mut ring = pool.to_vec();
    for (place, wood) in places.zip(sorted) {
        ring[place] = wood;
    }
    ring
}

#[cfg(test)]
mod tests {
    use super::{Chance, by_rule, lay_out, least_touching, shares_of, touching};
    use crate::quantity::Count;
    use crate::resolve::PartKind;

    fn chance(seed: u32, is_apart: bool) -> Chance {
        let layer = (PartKind::Body, 2);
        Chance { segments: Some(Count(12)), seed: Count(seed), is_apart, layer, clause: None }
    }

    /// Every layout of a small pool, and the fewest pairs any of them has.
    fn fewest(pool: &mut Vec<usize>, from: usize) -> usize {
        if from == pool.len() {
            return touching(pool);
        }
        let mut least = usize::MAX;
        for other in from..pool.len() {
            pool.swap(from, other);
            least = least.min(fewest(pool, from + 1));
            pool.swap(from, other);
        }
        least
    }

    #[test]
    fn counts_go_by_the_largest_remainder() {
        assert_eq!(shares_of(12, &[0.7, 0.3]), [8, 4]);
        assert_eq!(shares_of(10, &[0.7, 0.3]), [7, 3]);
        assert_eq!(shares_of(12, &[1.0, 1.0, 1.0]), [4, 4, 4]);
        assert_eq!(shares_of(11, &[1.0, 1.0, 1.0]), [4, 4, 3]);
        assert_eq!(shares_of(8, &[0.98, 0.02]), [8, 0]);
    }

    #[test]
    fn nothing_is_lost_or_added() {
        for seed in 0..50 {
            for is_apart in [false, true] {
                let pool = [0, 0, 0, 0, 0, 1, 1, 1, 2, 2, 3];
                let (mut ring, said) = lay_out(&pool, &chance(seed, is_apart));
                assert_eq!(said, touching(&ring));
                ring.sort_unstable();
                assert_eq!(ring, pool);
            }
        }
    }

    #[test]
    fn apart_is_as_far_apart_as_any_layout_by_brute_force() {
        for pool in [
            vec![0, 0, 0, 1, 1, 1],
            vec![0, 0, 0, 0, 1, 1],
            vec![0, 0, 0, 1, 1, 2, 2],
            vec![0, 0, 0, 0, 1, 1, 2],
            vec![0, 0, 1, 1, 2, 2, 3],
            vec![0, 0, 0, 0, 0, 0],
            vec![0, 1, 2],
        ] {
            let least = fewest(&mut pool.clone(), 0);
            assert_eq!(least_touching(&pool), least, "{pool:?}");
            assert_eq!(touching(&by_rule(&pool)), least, "{pool:?}");
            for seed in 0..20 {
                assert_eq!(touching(&lay_out(&pool, &chance(seed, true)).0), least, "{pool:?} {seed}");
            }
        }
    }

    #[test]
    fn every_wood_comes_to_every_place() {
        let pool = [0, 1, 2, 3];
        let mut seen = [[0; 4]; 4];
        for seed in 0..400 {
            for (place, wood) in lay_out(&pool, &chance(seed, false)).0.into_iter().enumerate() {
                seen[place][wood] += 1;
            }
        }
        // 100 each is expected; 60 and 140 are more than four standard deviations away.
        assert!(seen.iter().flatten().all(|count| (60..=140).contains(count)), "{seen:?}");
    }
}
