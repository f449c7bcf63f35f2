//! A pattern written out: which wood each segment of the motif is of.

use crate::finding::Finding;
use crate::source::Span;
use crate::syntax::{Element, Item, ItemKind};

use super::recipe::Pattern;
use super::scope::Scope;
use super::split::word_of;
use super::wood::OwnWoods;
use super::{MOTIF_LIMIT, Resolver, findings, read};

impl Resolver<'_> {
    /// The items of a pattern: perhaps `mirror` and `rotate N`, then a wood or a list.
    pub(super) fn pattern(&mut self, scope: &Scope, items: &[Item], own: &OwnWoods) -> Option<Pattern> {
        let span = items.first()?.span.to(items.last()?.span);
        let motif = self.motif(scope, items, span, own)?;
        Some(Pattern { motif, shares: Vec::new(), is_scattered: false, span })
    }

    fn motif(&mut self, scope: &Scope, items: &[Item], span: Span, own: &OwnWoods) -> Option<Vec<usize>> {
        let (first, rest) = items.split_first()?;
        match word_of(&scope.tree, first) {
            Some("mirror") => {
                let mut motif = self.turned(scope, rest, first, own)?;
                let back: Vec<usize> = motif.iter().rev().copied().collect();
                motif.extend(back);
                self.within_limit(&motif, span).then_some(motif)
            }
            Some("rotate") => {
                let (places, rest) = rest.split_first()?;
                let places = self.told(read::count(scope, places, "rotate"));
                let mut motif = self.turned(scope, rest, first, own)?;
                let places = places?.0 as usize % motif.len().max(1);
                motif.rotate_left(places);
                Some(motif)
            }
            Some(_) => Some(vec![self.wood(&scope.tree, first, own, "ring")]),
            None => match &first.kind {
                ItemKind::List(elements) => self.elements(scope, elements, first.span, own),
                ItemKind::Word
                | ItemKind::Text(_)
                | ItemKind::Quantity(_)
                | ItemKind::Group(_)
                | ItemKind::Range(..)
                | ItemKind::Comparison(..)
                | ItemKind::Expression(_)
                | ItemKind::Assign(_) => {
                    self.say(findings::wrong_kind(first, "ring", "a wood or a list such as `[maple walnut]`"));
                    None
                }
            },
        }
    }

    /// What `mirror` or `rotate` works on.
    fn turned(&mut self, scope: &Scope, rest: &[Item], word: &Item, own: &OwnWoods) -> Option<Vec<usize>> {
        if rest.is_empty() {
            let text = scope.tree.text(word.span).to_owned();
            self.say(findings::nothing_to_turn(word.span, &text));
            return None;
        }
        self.motif(scope, rest, word.span, own)
    }

    fn elements(&mut self, scope: &Scope, elements: &[Element], span: Span, own: &OwnWoods) -> Option<Vec<usize>> {
        let mut motif = Vec::new();
        if elements.is_empty() {
            self.say(findings::empty_pattern(span));
            return None;
        }
        for element in elements {
            let one = match &element.item.kind {
                ItemKind::Word => vec![self.wood(&scope.tree, &element.item, own, "ring")],
                ItemKind::Group(inner) => self.elements(scope, inner, element.item.span, own)?,
                ItemKind::Text(_)
                | ItemKind::Quantity(_)
                | ItemKind::List(_)
                | ItemKind::Range(..)
                | ItemKind::Comparison(..)
                | ItemKind::Expression(_)
                | ItemKind::Assign(_) => {
                    self.say(findings::not_a_wood(&element.item));
                    return None;
                }
            };
            let times = self.times(element)?;
            // Checked before it is written out: a few nested counts could ask for all memory there is.
            if one.len().saturating_mul(times).saturating_add(motif.len()) > MOTIF_LIMIT {
                self.say(findings::pattern_too_long(span, MOTIF_LIMIT));
                return None;
            }
            motif.extend(std::iter::repeat_n(one, times).flatten());
        }
        Some(motif)
    }

    fn times(&mut self, element: &Element) -> Option<usize> {
        let Some(times) = element.times else { return Some(1) };
        let result: Result<usize, Finding> =
            if times.count == 0 { Err(findings::no_times(times.span)) } else { Ok(times.count as usize) };
        self.told(result)
    }

    fn within_limit(&mut self, motif: &[usize], span: Span) -> bool {
        let is_within = motif.len() <= MOTIF_LIMIT;
        if !is_within {
            self.say(findings::pattern_too_long(span, MOTIF_LIMIT));
        }
        is_within
    }
}
