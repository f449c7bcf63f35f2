//! The outlines of a vessel: its outside, its wall, its inside.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use std::rc::Rc;

use crate::finding::Finding;
use crate::quantity::{Diameter, Length, System, show_length};
use crate::source::{Span, Spanned};
use crate::syntax::{Block, Item, ItemKind, Node};
use crate::vocabulary::{Bound, Context, HeadId, INSIDE, OUTSIDE};
use crate::workings::{Known, Origin};

use super::recipe::{Detail, DetailKind, Foot, Outside, OutsideKind, OutsidePath, OutsidePoint, WallSpec};
use super::scope::Scope;
use super::split::{Call, split, word_of};
use super::value::Bare;
use super::{Resolver, findings, outside_findings, read};

/// Which of the two curves is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Curve {
    Outside,
    Inside,
}

impl Curve {
    fn word(self) -> &'static str {
        match self {
            Self::Outside => "outside",
            Self::Inside => "inside",
        }
    }

    fn context(self) -> &'static Context {
        match self {
            Self::Outside => &OUTSIDE,
            Self::Inside => &INSIDE,
        }
    }
}

/// What the lines of a curve have given so far.
struct Lines {
    curve: Curve,
    kind: OutsideKind,
    points: Vec<OutsidePoint>,
    details: Vec<Detail>,
    foot: Option<Foot>,
    is_whole: bool,
}

impl Resolver<'_> {
    /// One curve; `None` when something in it could not be read.
    pub(super) fn curve(&mut self, scope: &mut Scope, call: &Call<'_>, curve: Curve) -> Option<Outside> {
        let (kind, path, span) = self.curve_kind(scope, call, curve)?;
        if path.is_none() && call.block.is_none() {
            if !call.is_broken {
                self.say(findings::block_missing(call.span, call.head));
            }
            return None;
        }
        let (points, details, is_whole) = (Vec::new(), Vec::new(), !call.is_broken);
        let mut lines = Lines { curve, kind, points, details, foot: None, is_whole };
        if let Some(block) = call.block {
            let mark = scope.enter();
            self.curve_lines(scope, (block, call.span), curve.context(), &mut lines);
            scope.leave(&mark);
        }
        if !lines.is_whole {
            return None;
        }
        let Lines { points, details, foot, .. } = lines;
        match &path {
            None => check_points(self, system(scope), &points, span, curve)?,
            Some(path) => {
                if let Some(point) = points.first() {
                    self.say(outside_findings::point_in_path(point.span, path.text.span));
                    return None;
                }
            }
        }
        Some(Outside { kind, points, path, details, foot, span })
    }

    /// The kind behind the head, the path data of a path, and the place of both.
    fn curve_kind(
        &mut self,
        scope: &Scope,
        call: &Call<'_>,
        curve: Curve,
    ) -> Option<(OutsideKind, Option<OutsidePath>, Span)> {
        let text = call.argument(1).and_then(<[_]>::first);
        let mut span = call.head_span;
        let mut written = "straight";
        if let Some(item) = call.argument(0).and_then(<[_]>::first) {
            span = span.to(item.span);
            written = self.told(read::choice(scope, item, curve.word(), &["straight", "smooth", "path"]))?;
        }
        if written != "path" {
            if let Some(text) = text {
                self.say(outside_findings::path_without_word(text.span, curve.word()));
                return None;
            }
            let kind = if written == "smooth" { OutsideKind::Smooth } else { OutsideKind::Straight };
            return Some((kind, None, span));
        }
        let Some(item) = text else {
            if !call.is_broken {
                self.say(outside_findings::path_missing(span, curve.word()));
            }
            return None;
        };
        let text = self.told(read::text(item, "path"))?;
        let Bare::In(units) = scope.bare else {
            self.say(findings::units_missing(item.span, "path", "number", scope.meant_units()));
            return None;
        };
        let path = OutsidePath { text: Spanned::new(text.to_owned(), item.span), units };
        Some((OutsideKind::Straight, Some(path), span.to(item.span)))
    }

    fn curve_lines(
        &mut self,
        scope: &mut Scope,
        (block, within): (&Block, Span),
        context: &'static Context,
        into: &mut Lines,
    ) {
        let tree = Rc::clone(&scope.tree);
        for node in &block.nodes {
            let Node::Statement(statement) = node else {
                into.is_whole = false;
                continue;
            };
            let mut said = Vec::new();
            let calls = split(&tree, statement, context, &mut said);
            into.is_whole &= said.is_empty();
            self.say_all(said);
            self.note_accepts(&tree, &calls, Some(within));
            for call in &calls {
                self.curve_line(scope, call, into);
            }
        }
    }

    fn curve_line(&mut self, scope: &mut Scope, call: &Call<'_>, into: &mut Lines) {
        match call.head.id {
            HeadId::At => {
                let read = point(self, scope, call, into.kind);
                into.keep(read, |lines, point| lines.points.push(point));
            }
            HeadId::Bead | HeadId::Cove => {
                let read = detail(self, scope, call);
                into.keep(read, |lines, detail| lines.details.push(detail));
            }
            HeadId::Foot => {
                if let Some(first) = into.foot {
                    self.say(findings::twice(call.head_span, "foot", first.span));
                    into.is_whole = false;
                    return;
                }
                let read = foot(self, scope, call);
                into.keep(read, |lines, foot| lines.foot = Some(foot));
            }
            HeadId::Let => self.define(call, scope),
            HeadId::Repeat => {
                let context = into.curve.context();
                self.repeat(scope, call, &mut |resolver, scope, block| {
                    resolver.curve_lines(scope, (block, call.span), context, into);
                });
            }
            _ => {}
        }
    }

    /// `wall 3/8`, or `wall 3/8 at base .. 1/4 at rim`.
    pub(super) fn wall(&mut self, scope: &Scope, call: &Call<'_>) -> Option<WallSpec> {
        let mut length = |item: &Item| {
            let length = self.told(read::length(scope, item, "wall", Bound::Positive))?;
            Some(Known::new(length, Origin::Written(item.span)))
        };
        let word = |item: &Item| word_of(&scope.tree, item).map(str::to_owned);
        match call.argument(0)? {
            [even] => Some(WallSpec { base: length(even)?, rim: None }),
            [base, at, Item { kind: ItemKind::Range(place, rim), .. }, at_rim, rim_word]
                if [word(at), word(place), word(at_rim), word(rim_word)]
                    .iter()
                    .flatten()
                    .eq(["at", "base", "at", "rim"]) =>
            {
                let (base, rim) = (length(base), length(rim));
                Some(WallSpec { base: base?, rim: Some(rim?) })
            }
            [first, .., last] => {
                self.say(outside_findings::taper_wrong(first.span.to(last.span)));
                None
            }
            [] => None,
        }
    }
}

impl Lines {
    fn keep<T>(&mut self, read: Option<T>, put: impl FnOnce(&mut Self, T)) {
        match read {
            Some(value) => put(self, value),
            None => self.is_whole = false,
        }
    }
}

fn point(resolver: &mut Resolver<'_>, scope: &Scope, call: &Call<'_>, usual: OutsideKind) -> Option<OutsidePoint> {
    let height_item = call.argument(0)?.first()?;
    let height = resolver.told(read::length(scope, height_item, "at", Bound::NotNegative));
    if call.clause("diameter").is_none() {
        if !call.is_broken {
            let why = "a point is a height and a diameter";
            resolver.say(findings::missing_clause(call.span, "at", "diameter", why, "diameter 4"));
        }
        return None;
    }
    let across = length_of(resolver, scope, call, "diameter", Bound::NotNegative);
    let kind = match (call.clause("straight"), call.clause("smooth")) {
        (Some(straight), Some(smooth)) => {
            resolver.say(outside_findings::two_kinds(smooth.span, straight.span));
            return None;
        }
        (Some(_), None) => OutsideKind::Straight,
        (None, Some(_)) => OutsideKind::Smooth,
        (None, None) => usual,
    };
    let round = match call.clause("round") {
        Some(_) => Some(length_of(resolver, scope, call, "round", Bound::Positive)?),
        None => None,
    };
    let diameter = across?.map(Diameter::new);
    Some(OutsidePoint {
        height: Known::new(height?, Origin::Written(height_item.span)),
        diameter,
        kind,
        round,
        span: call.span,
    })
}

/// The length of a clause that is there.
fn length_of(
    resolver: &mut Resolver<'_>,
    scope: &Scope,
    call: &Call<'_>,
    word: &'static str,
    bound: Bound,
) -> Option<Known<Length>> {
    let item = call.clause(word)?.argument.first()?;
    let length = resolver.told(read::length(scope, item, word, bound))?;
    Some(Known::new(length, Origin::Written(item.span)))
}

/// The length of a clause that must be there.
fn needed(
    resolver: &mut Resolver<'_>,
    scope: &Scope,
    call: &Call<'_>,
    word: &'static str,
    why: &str,
    example: &str,
) -> Option<Known<Length>> {
    if call.clause(word).is_none() && !call.is_broken {
        resolver.say(findings::missing_clause(call.span, call.head.word, word, why, example));
    }
    length_of(resolver, scope, call, word, Bound::Positive)
}

fn detail(resolver: &mut Resolver<'_>, scope: &Scope, call: &Call<'_>) -> Option<Detail> {
    let kind = if call.head.id == HeadId::Bead { DetailKind::Bead } else { DetailKind::Cove };
    let word = kind.depth_word();
    let place = call.argument(0)?;
    let Some(item) = place.get(1) else {
        let at = place.first().map_or(call.head_span, |at| at.span);
        resolver.say(findings::missing_argument(at, call.head.word, &call.head.params[0], call.head.params));
        return None;
    };
    let middle = resolver.told(read::length(scope, item, "at", Bound::NotNegative));
    let tall = needed(resolver, scope, call, "tall", "no height can be assumed", "tall 1/4");
    let depth = match call.clause(word) {
        Some(_) => Some(length_of(resolver, scope, call, word, Bound::Positive)?),
        None => None,
    };
    let middle = Known::new(middle?, Origin::Written(item.span));
    Some(Detail { kind, middle, tall: tall?, depth, span: call.span })
}

fn foot(resolver: &mut Resolver<'_>, scope: &Scope, call: &Call<'_>) -> Option<Foot> {
    let diameter = needed(resolver, scope, call, "diameter", "a foot is as wide as somebody says", "diameter 3");
    let tall = needed(resolver, scope, call, "tall", "no height can be assumed", "tall 1/4");
    Some(Foot { diameter: diameter?.map(Diameter::new), tall: tall?, span: call.span })
}

fn check_points(
    resolver: &mut Resolver<'_>,
    system: System,
    points: &[OutsidePoint],
    span: Span,
    curve: Curve,
) -> Option<()> {
    let show = |length: Length| show_length(length, system);
    let finding: Finding = match points {
        [] | [_] => outside_findings::too_few_points(span, curve.word(), points.len()),
        [first, ..] if curve == Curve::Outside && first.height.value > Length::ZERO => {
            outside_findings::base_not_at_zero(first.span, &show(first.height.value))
        }
        [first, ..] if curve == Curve::Inside && first.height.value <= Length::ZERO => {
            outside_findings::inside_without_floor(first.span)
        }
        [first, .., last] => {
            let falling = points.windows(2).find(|pair| pair[1].height.value < pair[0].height.value);
            if let Some([below, point]) = falling {
                let heights = (show(point.height.value), show(below.height.value));
                outside_findings::heights_not_rising(point.span, &heights.0, &heights.1, below.span)
            } else if (last.height.value - first.height.value).mm() < 0.01 {
                outside_findings::no_height(span, curve.word())
            } else if points.iter().all(|point| point.diameter.value.across() <= Length::ZERO) {
                outside_findings::no_width(span, curve.word())
            } else {
                return Some(());
            }
        }
    };
    resolver.say(finding);
    None
}

fn system(scope: &Scope) -> System {
    match scope.bare {
        Bare::In(system) => system,
        Bare::NoUnits | Bare::Mixed => System::Millimeter,
    }
}
