//! Pairs of one step to items of the tree. What the grammar cannot count or divide is refused here.

use pest::iterators::{Pair, Pairs};

use crate::finding::Finding;
use crate::quantity::{Number, Unit};
use crate::source::{FileId, Span};

use super::grammar::Rule;
use super::scan::ends_with_number;
use super::{Comparator, Element, Expression, ExpressionKind, Item, ItemKind, Literal, Times, findings};

/// What was made of some pairs, or the finding that denies their whole statement.
pub(super) type Converted<T> = Result<T, Box<Finding>>;

/// What follows a statement's line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tail {
    /// Nothing: the statement ends with its line.
    Nothing,
    /// An opening brace.
    Open(Span),
    /// No statement at all but a closing brace.
    Close(Span),
}

/// Makes items of pairs. Pairs count from `base`, the tree from the start of the file.
#[derive(Debug)]
pub(super) struct Converter<'a> {
    /// The file that is read.
    pub file: FileId,
    /// Where in it the parsed piece begins.
    pub base: usize,
    /// The comments seen on the way, in order.
    pub comments: &'a mut Vec<Span>,
    /// Operators in the expression at hand.
    pub operators: usize,
}

/// What stands before an item and takes it in.
enum Before {
    Nothing,
    Comparison(Comparator, Span),
    Range(Item),
}

impl Converter<'_> {
    /// Appends the items of one line to `items` and says what follows it.
    ///
    /// # Errors
    /// The finding of the first item that cannot be; `items` then holds those before it.
    pub(super) fn line(&mut self, pairs: Pairs<'_, Rule>, items: &mut Vec<Item>) -> Converted<Tail> {
        let mut before = Before::Nothing;
        for pair in pairs {
            let (rule, span) = (pair.as_rule(), self.span(&pair));
            if rule == Rule::comment {
                self.comments.push(span);
            } else if rule == Rule::open {
                return Ok(Tail::Open(span));
            } else if rule == Rule::close {
                return Ok(Tail::Close(span));
            } else if rule == Rule::comparator {
                before = comparator(pair.as_str()).map_or(Before::Nothing, |sign| Before::Comparison(sign, span));
            } else if rule == Rule::dots {
                // The head is no end of a range, nor is a range, a list or a text.
                let may_begin = |item: &mut Item| {
                    matches!(item.kind, ItemKind::Word | ItemKind::Quantity(_) | ItemKind::Expression(_))
                };
                let from = if items.len() > 1 { items.pop_if(may_begin) } else { None };
                before = Before::Range(from.ok_or_else(|| Box::new(findings::range_without_start(span)))?);
            } else if rule == Rule::member {
                code(items, span)?;
            } else {
                let item = self.item(pair, span)?;
                items.push(match std::mem::replace(&mut before, Before::Nothing) {
                    Before::Nothing => item,
                    Before::Comparison(sign, start) => {
                        Item { span: start.to(span), kind: ItemKind::Comparison(sign, Box::new(item)) }
                    }
                    Before::Range(from) => {
                        Item { span: from.span.to(span), kind: ItemKind::Range(Box::new(from), Box::new(item)) }
                    }
                });
            }
        }
        Ok(Tail::Nothing)
    }

    fn item(&mut self, pair: Pair<'_, Rule>, span: Span) -> Converted<Item> {
        let rule = pair.as_rule();
        let kind = if rule == Rule::word {
            ItemKind::Word
        } else if rule == Rule::quantity {
            ItemKind::Quantity(literal(pair.as_str(), span)?)
        } else if rule == Rule::text {
            ItemKind::Text(unescaped(pair.as_str()))
        } else if rule == Rule::list {
            ItemKind::List(self.elements(pair.into_inner())?)
        } else if rule == Rule::group {
            ItemKind::Group(self.elements(pair.into_inner())?)
        } else if rule == Rule::key {
            let word = pair.as_str().trim_start_matches(['=', ' ', '\t']);
            let start = span.end - u32::try_from(word.len()).unwrap_or(0);
            ItemKind::Assign(Expression { span: Span { start, ..span }, kind: ExpressionKind::Name })
        } else {
            self.operators = 0;
            let is_assign = rule == Rule::assign;
            let expression = self.expression(pair.into_inner(), span)?;
            if is_assign { ItemKind::Assign(expression) } else { ItemKind::Expression(expression) }
        };
        Ok(Item { span, kind })
    }

    fn elements(&mut self, pairs: Pairs<'_, Rule>) -> Converted<Vec<Element>> {
        let mut elements: Vec<Element> = Vec::with_capacity(pairs.len());
        for pair in pairs {
            let (rule, span) = (pair.as_rule(), self.span(&pair));
            if rule == Rule::comment {
                self.comments.push(span);
            } else if rule == Rule::times {
                let count = count(pair.as_str());
                if let Some(element) = elements.last_mut() {
                    element.times = Some(Times { span, count });
                }
            } else {
                elements.push(Element { item: self.item(pair, span)?, times: None });
            }
        }
        Ok(elements)
    }

    /// The place of a pair in the file.
    pub(super) fn span(&self, pair: &Pair<'_, Rule>) -> Span {
        let span = pair.as_span();
        span_of(self.file, self.base + span.start(), self.base + span.end())
    }
}

/// Makes a code of the word before `member`; behind all else, the head too, its slash is a division.
fn code(items: &mut [Item], member: Span) -> Converted<()> {
    match items {
        [_, .., Item { span, kind: kind @ ItemKind::Word }] => {
            *span = span.to(member);
            *kind = ItemKind::Code;
            Ok(())
        }
        _ => Err(Box::new(findings::bare_arithmetic('/', Span { end: member.start + 1, ..member }))),
    }
}

/// The place `start..end` of `file`; a file that is longer than spans can count never gets here.
pub(super) fn span_of(file: FileId, start: usize, end: usize) -> Span {
    let to_u32 = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
    Span::new(file, to_u32(start), to_u32(end))
}

/// The comparison written so.
pub(super) fn comparator(sign: &str) -> Option<Comparator> {
    use Comparator::{Above, AtLeast, AtMost, Below, Equal};
    [AtLeast, AtMost, Above, Below, Equal].into_iter().find(|comparator| comparator.sign() == sign)
}

/// Decodes a quantity: the number ends with its last digit, the unit is what follows.
pub(super) fn literal(text: &str, span: Span) -> Converted<Literal> {
    let bytes = text.as_bytes();
    let length = (1..=bytes.len()).rev().find(|end| ends_with_number(&bytes[..*end])).unwrap_or(bytes.len());
    let (number, unit) = text.split_at_checked(length).unwrap_or((text, ""));
    let number = Number::read(number).map_err(|error| Box::new(findings::number(number, error, span)))?;
    let unit = unit.trim_start_matches([' ', '\t']);
    Ok(Literal { number, unit: if unit.is_empty() { None } else { Unit::find(unit) } })
}

/// The number behind a star; the star and blanks come before it.
fn count(times: &str) -> u32 {
    let digits = times.trim_start_matches(['*', ' ', '\t']);
    digits.bytes().fold(0, |count: u32, digit| count.saturating_mul(10).saturating_add(u32::from(digit - b'0')))
}

/// The value of a text with its quotes.
fn unescaped(text: &str) -> String {
    let inner = text.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')).unwrap_or(text);
    if !inner.contains('\\') {
        return inner.to_owned();
    }
    let mut value = String::with_capacity(inner.len());
    let mut characters = inner.chars();
    while let Some(character) = characters.next() {
        value.extend(if character == '\\' { characters.next() } else { Some(character) });
    }
    value
}
