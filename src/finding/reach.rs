//! Which accepts reach a finding, found without asking each of them: statements lie within each other or apart, so the
//! ones around a place are a chain that begins at the innermost.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use crate::source::Span;

use super::Finding;
use super::policy::Accept;

/// The accepts of a policy by what they name and where they hold. Those that name the same in the same place are told
/// apart by nothing but their reasons: the first stands for all of them.
pub(super) struct Reaching {
    by_name: BTreeMap<&'static str, Named>,
    /// Of every accept, which stands for it.
    first: Vec<usize>,
}

/// The accepts of one name.
#[derive(Default)]
struct Named {
    /// Of the whole design.
    whole: Option<usize>,
    /// In the order of their beginnings, the outer before the inner.
    nests: Vec<Nest>,
}

/// A statement with an accept.
struct Nest {
    within: Span,
    /// The next one around it.
    around: Option<usize>,
    first: usize,
}

impl Reaching {
    pub(super) fn of(accepts: &[Accept]) -> Self {
        let mut reaching = Self { by_name: BTreeMap::new(), first: (0..accepts.len()).collect() };
        let mut order: Vec<(usize, &Accept)> = accepts.iter().enumerate().collect();
        order.sort_by_key(|(_, accept)| accept.within.map(|within| (within.file, within.start, Reverse(within.end))));
        for (at, accept) in order {
            let named = reaching.by_name.entry(accept.codes.name()).or_default();
            reaching.first[at] = match accept.within {
                None => *named.whole.get_or_insert(at),
                Some(within) => named.put(within, at),
            };
        }
        reaching
    }

    /// Those that stand for all accepts whose codes are meant and that hold at a place of the finding; those at the place
    /// that it is told of come first, those of the whole design last.
    pub(super) fn around(&self, finding: &Finding) -> Vec<usize> {
        let mut found = Vec::new();
        let named = || [finding.code.name, finding.code.family()].into_iter().filter_map(|name| self.by_name.get(name));
        for label in std::iter::once(&finding.place).chain(&finding.related) {
            named().for_each(|named| named.around(label.span, &mut found));
        }
        found.extend(named().filter_map(|named| named.whole));
        found
    }

    /// Which accept stands for this one.
    pub(super) fn first(&self, at: usize) -> usize {
        self.first.get(at).copied().unwrap_or(at)
    }
}

impl Named {
    fn put(&mut self, within: Span, at: usize) -> usize {
        let mut around = self.nests.len().checked_sub(1);
        while let Some(nest) = around.and_then(|outer| self.nests.get(outer)) {
            if nest.within == within {
                return nest.first;
            }
            if nest.within.contains(within) {
                break;
            }
            around = nest.around;
        }
        self.nests.push(Nest { within, around, first: at });
        at
    }

    fn around(&self, span: Span, found: &mut Vec<usize>) {
        self.chain(span, span.start, found);
        // An empty place at the end of a statement is the beginning of the next one.
        if span.start == span.end {
            self.chain(span, span.start.saturating_sub(1), found);
        }
    }

    fn chain(&self, span: Span, from: u32, found: &mut Vec<usize>) {
        let behind = self.nests.partition_point(|nest| (nest.within.file, nest.within.start) <= (span.file, from));
        let mut next = behind.checked_sub(1);
        while let Some(nest) = next.and_then(|at| self.nests.get(at)) {
            if nest.within.contains(span) {
                found.push(nest.first);
            }
            next = nest.around;
        }
    }
}
