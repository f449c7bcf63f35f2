//! A pattern written out: which wood each segment of the motif is of, and how much of the ring it takes.

use crate::finding::{Finding, nearest};
use crate::quantity::{Dimension, Ratio};
use crate::source::Span;
use crate::syntax::{Element, Item, ItemKind};
use crate::vocabulary::SHARE;

use super::recipe::Pattern;
use super::scatter::Chance;
use super::scope::Scope;
use super::split::word_of;
use super::value::Value;
use super::{MOTIF_LIMIT, Resolver, findings, layer_findings, read};

/// One segment of a motif.
#[derive(Debug, Clone, Copy)]
struct Slot {
    wood: usize,
    /// Against the other segments'.
    share: f64,
}

impl Resolver<'_> {
    /// The items of a pattern: perhaps `mirror` and `rotate N`, then a wood or a list; or `scatter` and a list.
    pub(super) fn pattern(&mut self, scope: &Scope, items: &[Item], chance: &Chance) -> Option<Pattern> {
        let span = items.first()?.span.to(items.last()?.span);
        if is_scattered(scope, items) {
            let motif = self.scattered(scope, items, span, chance)?;
            return Some(Pattern { motif, shares: Vec::new(), is_scattered: true, span });
        }
        if let Some((span, word)) = chance.clause {
            self.say(layer_findings::not_scattered(span, word));
        }
        let motif = self.motif(scope, items, span)?;
        let first = motif.first()?.share;
        let are_equal = motif.iter().all(|slot| (slot.share - first).abs() <= 1e-12 * first);
        let shares = if are_equal { Vec::new() } else { motif.iter().map(|slot| Ratio::of(slot.share)).collect() };
        let motif = motif.into_iter().map(|slot| slot.wood).collect();
        Some(Pattern { motif, shares, is_scattered: false, span })
    }

    fn motif(&mut self, scope: &Scope, items: &[Item], span: Span) -> Option<Vec<Slot>> {
        let (first, rest) = items.split_first()?;
        match word_of(&scope.tree, first) {
            Some("mirror") => {
                let mut motif = self.turned(scope, rest, first)?;
                let back: Vec<Slot> = motif.iter().rev().copied().collect();
                motif.extend(back);
                self.within_limit(&motif, span).then_some(motif)
            }
            Some("rotate") => {
                let Some((count, rest)) = rest.split_first() else {
                    self.say(findings::nothing_to_turn(first.span, "rotate"));
                    return None;
                };
                let places = self.told(read::count(scope, count, "rotate"));
                let mut motif = self.turned(scope, rest, first)?;
                let places = places?.0 as usize % motif.len().max(1);
                motif.rotate_left(places);
                Some(motif)
            }
            Some(word) if !rest.is_empty() => {
                self.say(layer_findings::unknown_pattern(first.span, word));
                None
            }
            Some(_) => Some(vec![self.slot(scope, first)]),
            None => match &first.kind {
                ItemKind::List(elements) => self.elements(scope, elements, first.span),
                ItemKind::Word
                | ItemKind::Code
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

    fn slot(&mut self, scope: &Scope, item: &Item) -> Slot {
        Slot { wood: self.wood(&scope.tree, item, &scope.woods, "ring"), share: 1.0 }
    }

    /// What `mirror` or `rotate` works on.
    fn turned(&mut self, scope: &Scope, rest: &[Item], word: &Item) -> Option<Vec<Slot>> {
        if rest.is_empty() {
            let text = scope.tree.text(word.span).to_owned();
            self.say(findings::nothing_to_turn(word.span, &text));
            return None;
        }
        self.motif(scope, rest, word.span)
    }

    fn elements(&mut self, scope: &Scope, elements: &[Element], span: Span) -> Option<Vec<Slot>> {
        let mut motif = Vec::new();
        if elements.is_empty() {
            self.say(findings::empty_pattern(span));
            return None;
        }
        let mut rest = elements;
        while let Some((element, behind)) = rest.split_first() {
            let mut one = match &element.item.kind {
                ItemKind::Word if scope.tree.text(element.item.span) == SHARE => {
                    self.say(layer_findings::share_of_nothing(element.item.span));
                    return None;
                }
                ItemKind::Word if self.is_misspelled_share(scope, &element.item, behind) => return None,
                ItemKind::Word => vec![self.slot(scope, &element.item)],
                ItemKind::Group(inner) => self.elements(scope, inner, element.item.span)?,
                ItemKind::Code
                | ItemKind::Text(_)
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
            rest = behind;
            if let Some((word, behind)) = rest.split_first().filter(|(next, _)| is_share(scope, next)) {
                let share = self.share(scope, word, behind.first())?;
                for slot in &mut one {
                    slot.share *= share;
                }
                rest = behind.get(1..).unwrap_or(&[]);
            }
            // Checked before it is written out: a few nested counts could ask for all memory there is.
            if one.len().saturating_mul(times).saturating_add(motif.len()) > MOTIF_LIMIT {
                self.say(findings::pattern_too_long(span, MOTIF_LIMIT));
                return None;
            }
            motif.extend(std::iter::repeat_n(one, times).flatten());
        }
        Some(motif)
    }

    /// `maple shair 2`: no wood has such a name, and a number follows.
    fn is_misspelled_share(&mut self, scope: &Scope, item: &Item, behind: &[Element]) -> bool {
        let word = scope.tree.text(item.span);
        let is_number = matches!(behind.first().map(|next| &next.item.kind), Some(ItemKind::Quantity(_)));
        let is_near = is_number && !scope.woods.contains_key(word) && !nearest(word, [SHARE]).is_empty();
        if is_near {
            self.say(findings::no_such_choice(item.span, "[ … ]", word, &[SHARE]));
        }
        is_near
    }

    /// The number behind `share`, more than zero.
    fn share(&mut self, scope: &Scope, word: &Element, number: Option<&Element>) -> Option<f64> {
        let is_number = |element: &&Element| match element.item.kind {
            ItemKind::Quantity(_) => true,
            ItemKind::Word => scope.names(scope.tree.text(element.item.span)),
            ItemKind::Code
            | ItemKind::Text(_)
            | ItemKind::List(_)
            | ItemKind::Group(_)
            | ItemKind::Range(..)
            | ItemKind::Comparison(..)
            | ItemKind::Expression(_)
            | ItemKind::Assign(_) => false,
        };
        let Some(number) = number.filter(is_number) else {
            self.say(layer_findings::share_without_number(word.item.span));
            return None;
        };
        let item = &number.item;
        let share = match self.told(read::value(scope, item, SHARE, "a number"))? {
            Value::Bare(share, _) | Value::Of(share, Dimension::NONE) => share,
            other @ Value::Of(..) => {
                let text = scope.tree.text(item.span);
                self.say(findings::wrong_dimension(item.span, SHARE, "a number", text, other.words()));
                return None;
            }
        };
        // Beyond this one of two segments would be thinner than any saw's cut.
        if !(1e-3..=1e3).contains(&share) || number.times.is_some() {
            self.say(layer_findings::share_out_of_range(item.span, scope.tree.text(item.span)));
            return None;
        }
        Some(share)
    }

    pub(super) fn times(&mut self, element: &Element) -> Option<usize> {
        let Some(times) = element.times else { return Some(1) };
        let result: Result<usize, Finding> =
            if times.count == 0 { Err(findings::no_times(times.span)) } else { Ok(times.count as usize) };
        self.told(result)
    }

    fn within_limit(&mut self, motif: &[Slot], span: Span) -> bool {
        let is_within = motif.len() <= MOTIF_LIMIT;
        if !is_within {
            self.say(findings::pattern_too_long(span, MOTIF_LIMIT));
        }
        is_within
    }
}

fn is_share(scope: &Scope, element: &Element) -> bool {
    word_of(&scope.tree, &element.item) == Some(SHARE)
}

/// Whether `scatter` stands among the words before the list.
fn is_scattered(scope: &Scope, items: &[Item]) -> bool {
    items.iter().any(|item| word_of(&scope.tree, item) == Some("scatter"))
}
