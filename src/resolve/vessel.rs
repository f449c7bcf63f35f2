//! The vessel statement: shape, wall, stacks and promises.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use std::rc::Rc;

use crate::finding::Finding;
use crate::quantity::{Diameter, Dimension, Length, System, show_length};
use crate::source::{Span, Spanned};
use crate::syntax::{Block, ItemKind, Node, Tree};
use crate::vocabulary::{Bound, Context, FILE, HeadId, OUTSIDE, VESSEL};
use crate::workings::{Known, Origin};

use super::file::File;
use super::fittings::Fittings;
use super::layers::Stack;
use super::recipe::{Expectation, Outside, OutsideKind, OutsidePoint, Part, PartKind, Recipe, Subject};
use super::scope::Scope;
use super::split::{Call, split};
use super::value::Bare;
use super::{Resolver, findings, read};

/// What the lines of a vessel have given so far.
#[derive(Default)]
struct Parts {
    outside: Option<Outside>,
    wall: Option<Known<Length>>,
    floor: Option<Known<Length>>,
    top: Option<Known<Length>>,
    body: Option<Stack>,
    lid: Option<Stack>,
    expects: Vec<Expectation>,
    /// Heads that stand there, readable or not, with their place.
    seen: Vec<(HeadId, Span)>,
    /// First words of lines that could not be read.
    broken: Vec<String>,
}

impl Parts {
    fn has(&self, id: HeadId, word: &str) -> bool {
        self.seen.iter().any(|(seen, _)| *seen == id) || self.broken.iter().any(|broken| broken == word)
    }
}

impl Resolver<'_> {
    /// The recipe of the root file; `None` when it has no vessel or one that cannot be.
    pub(super) fn recipe(&mut self, file: &Rc<File>) -> Option<Recipe> {
        let tree = Rc::clone(&file.tree);
        let statement = file.vessel.and_then(|at| match tree.nodes.get(at) {
            Some(Node::Statement(statement)) => Some(statement),
            Some(Node::Broken(_)) | None => None,
        })?;
        let calls = split(&tree, statement, &FILE, &mut Vec::new());
        let call = calls.iter().find(|call| call.head.id == HeadId::Vessel)?;
        of_vessel(self, file, call)
    }
}

fn of_vessel(resolver: &mut Resolver<'_>, file: &Rc<File>, call: &Call<'_>) -> Option<Recipe> {
    let block = call.block?;
    let tree = Rc::clone(&file.tree);
    let mut scope = Scope::new(Rc::clone(&tree), file.system.map_or(Bare::NoUnits, Bare::In));
    for (name, (value, span)) in &file.names {
        let defined = scope.define(name, *value, *span);
        resolver.told(defined);
    }
    (scope.woods, scope.charts) = (file.woods.clone(), file.charts.clone());
    scope.enter();
    let mut parts = Parts::default();
    let walk = Walk { file, tree: &tree };
    walk.vessel(resolver, &mut scope, block, &mut parts);
    missing(resolver, call.head_span, &parts);
    if let Some(top) = parts.seen.iter().find(|(id, _)| *id == HeadId::Top)
        && !parts.has(HeadId::Lid, "lid")
    {
        resolver.say(findings::top_without_lid(top.1));
    }
    let name = call.argument(0).and_then(<[_]>::first)?;
    let text = resolver.told(read::text(name, "vessel"))?;
    finish(resolver, file, Spanned::new(text.to_owned(), name.span), parts)
}

fn finish(resolver: &mut Resolver<'_>, file: &File, name: Spanned<String>, parts: Parts) -> Option<Recipe> {
    let has_lid = parts.has(HeadId::Lid, "lid");
    let wall = parts.wall?;
    let floor = parts.floor.unwrap_or(Known::new(wall.value, Origin::Default(&"as thick as the wall")));
    let top = parts.top.unwrap_or(Known::new(floor.value, Origin::Default(&"as thick as the floor")));
    let body = parts.body?;
    let mut is_partial = body.is_cut_short;
    let mut stacks = vec![Part { kind: PartKind::Body, span: body.span, layers: body.layers }];
    // Above a gap in the body no height is known, so a lid on it could only raise false alarms.
    match parts.lid {
        Some(lid) if !is_partial => {
            is_partial |= lid.is_cut_short;
            stacks.push(Part { kind: PartKind::Lid, span: lid.span, layers: lid.layers });
        }
        Some(_) => {}
        None => is_partial |= has_lid,
    }
    stacks.retain(|part| !part.layers.is_empty());
    if stacks.is_empty() {
        return None;
    }
    Some(Recipe {
        file: file.tree.source.id,
        // With neither `units` nor a bare length, millimeters are as good as any.
        units: file.system.unwrap_or(System::Millimeter),
        name,
        outside: parts.outside?,
        wall,
        floor,
        top: has_lid.then_some(top),
        parts: stacks,
        shop: file.shop.complete(),
        woods: std::mem::take(&mut resolver.woods),
        glues: std::mem::take(&mut resolver.glues),
        fittings: Fittings::default(),
        expects: parts.expects,
        is_partial,
    })
}

fn missing(resolver: &mut Resolver<'_>, vessel: Span, parts: &Parts) {
    let wanted = [
        (HeadId::Outside, "outside", "no shape can be assumed", "outside { at 0 diameter 4   at 3 diameter 5 }"),
        (HeadId::Wall, "wall", "no thickness can be assumed", "wall 1/4"),
        (HeadId::Body, "body", "it is built of layers", "body { disc maple thick 1/2   ring maple thick 3/4 }"),
    ];
    for (id, word, why, example) in wanted {
        if !parts.has(id, word) {
            resolver.say(findings::missing_statement(vessel, word, why, example));
        }
    }
}

struct Walk<'a> {
    file: &'a File,
    tree: &'a Rc<Tree>,
}

impl Walk<'_> {
    fn vessel(&self, resolver: &mut Resolver<'_>, scope: &mut Scope, block: &Block, parts: &mut Parts) {
        for node in &block.nodes {
            match node {
                Node::Broken(broken) => parts.broken.push(first_word(self.tree.text(broken.span))),
                Node::Statement(statement) => {
                    let mut said = Vec::new();
                    let calls = split(self.tree, statement, &VESSEL, &mut said);
                    resolver.say_all(said);
                    if calls.is_empty() {
                        parts.broken.push(self.tree.text(statement.head()).to_owned());
                    }
                    for call in &calls {
                        self.statement(resolver, scope, call, parts);
                    }
                }
            }
        }
    }

    fn statement(&self, resolver: &mut Resolver<'_>, scope: &mut Scope, call: &Call<'_>, parts: &mut Parts) {
        let id = call.head.id;
        let may_repeat = matches!(id, HeadId::Let | HeadId::Every | HeadId::Board | HeadId::Chart | HeadId::Expect);
        if let Some((_, first)) = parts.seen.iter().find(|(seen, _)| *seen == id && !may_repeat) {
            resolver.say(findings::twice(call.head_span, call.head.word, *first));
            return;
        }
        parts.seen.push((id, call.head_span));
        match id {
            HeadId::Outside => parts.outside = self.outside(resolver, scope, call),
            HeadId::Wall => parts.wall = thickness(resolver, scope, call),
            HeadId::Floor => parts.floor = thickness(resolver, scope, call),
            HeadId::Top => parts.top = thickness(resolver, scope, call),
            HeadId::Every => resolver.every(scope, call),
            HeadId::Let => resolver.define(call, scope),
            HeadId::Board => resolver.define_board(call, scope),
            HeadId::Chart => resolver.define_chart(call, scope),
            HeadId::Body => parts.body = resolver.stack(scope, call, self.file),
            HeadId::Lid => parts.lid = resolver.stack(scope, call, self.file),
            HeadId::Expect => parts.expects.extend(expectation(resolver, scope, call)),
            _ => {}
        }
    }

    fn outside(&self, resolver: &mut Resolver<'_>, scope: &mut Scope, call: &Call<'_>) -> Option<Outside> {
        let (mut kind, mut span) = (OutsideKind::Straight, call.head_span);
        if let Some(item) = call.argument(0).and_then(<[_]>::first) {
            span = span.to(item.span);
            if scope.tree.text(item.span) == "path" {
                resolver.say(findings::not_yet_kind(item.span, "path"));
                return None;
            }
            match resolver.told(read::choice(scope, item, "outside", &["straight", "smooth"]))? {
                "smooth" => kind = OutsideKind::Smooth,
                _ => kind = OutsideKind::Straight,
            }
        }
        let mut points = Points { points: Vec::new(), is_whole: !call.is_broken };
        let mark = scope.enter();
        self.points(resolver, scope, call.block?, &OUTSIDE, &mut points);
        scope.leave(&mark);
        if !points.is_whole {
            return None;
        }
        let points = points.points;
        check_points(resolver, scope, &points, span)?;
        Some(Outside { kind, points, span })
    }

    fn points(
        &self,
        resolver: &mut Resolver<'_>,
        scope: &mut Scope,
        block: &Block,
        context: &'static Context,
        into: &mut Points,
    ) {
        for node in &block.nodes {
            let Node::Statement(statement) = node else {
                into.is_whole = false;
                continue;
            };
            let mut said = Vec::new();
            let calls = split(self.tree, statement, context, &mut said);
            into.is_whole &= said.is_empty();
            resolver.say_all(said);
            for call in &calls {
                match call.head.id {
                    HeadId::At => match point(resolver, scope, call) {
                        Some(point) => into.points.push(point),
                        None => into.is_whole = false,
                    },
                    HeadId::Let => resolver.define(call, scope),
                    HeadId::Repeat => {
                        resolver.repeat(scope, call, &mut |resolver, scope, block| {
                            self.points(resolver, scope, block, context, into);
                        });
                    }
                    _ => {}
                }
            }
        }
    }
}

struct Points {
    points: Vec<OutsidePoint>,
    is_whole: bool,
}

fn point(resolver: &mut Resolver<'_>, scope: &Scope, call: &Call<'_>) -> Option<OutsidePoint> {
    let height_item = call.argument(0)?.first()?;
    let height = resolver.told(read::length(scope, height_item, "at", Bound::NotNegative));
    let Some(clause) = call.clause("diameter") else {
        if !call.is_broken {
            let why = "a point of the outside is a height and a diameter";
            resolver.say(findings::missing_clause(call.span, "at", "diameter", why, "diameter 4"));
        }
        return None;
    };
    let item = clause.argument.first()?;
    let across = resolver.told(read::length(scope, item, "diameter", Bound::NotNegative))?;
    Some(OutsidePoint {
        height: Known::new(height?, Origin::Written(height_item.span)),
        diameter: Known::new(Diameter::new(across), Origin::Written(item.span)),
        span: call.span,
    })
}

fn check_points(resolver: &mut Resolver<'_>, scope: &Scope, points: &[OutsidePoint], span: Span) -> Option<()> {
    let show = |length: Length| show_length(length, system(scope));
    let finding: Finding = match points {
        [] | [_] => findings::too_few_points(span, points.len()),
        [first, ..] if first.height.value > Length::ZERO => {
            findings::base_not_at_zero(first.span, &show(first.height.value))
        }
        all => {
            let falling = all.windows(2).find(|pair| pair[1].height.value < pair[0].height.value);
            if let Some([below, point]) = falling {
                let heights = (show(point.height.value), show(below.height.value));
                findings::heights_not_rising(point.span, &heights.0, &heights.1, below.span)
            } else if all.last()?.height.value.mm() < 0.01 {
                findings::no_height(span)
            } else if all.iter().all(|point| point.diameter.value.across() <= Length::ZERO) {
                findings::no_width(span)
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

fn thickness(resolver: &mut Resolver<'_>, scope: &Scope, call: &Call<'_>) -> Option<Known<Length>> {
    let item = call.argument(0)?.first()?;
    let length = resolver.told(read::length(scope, item, call.head.word, Bound::Positive))?;
    Some(Known::new(length, Origin::Written(item.span)))
}

fn expectation(resolver: &mut Resolver<'_>, scope: &Scope, call: &Call<'_>) -> Option<Expectation> {
    let subject_item = call.argument(0)?.first()?;
    let words = &["capacity", "mass", "height", "diameter", "pieces", "board-feet"];
    let (subject, dimension) = match resolver.told(read::choice(scope, subject_item, "expect", words))? {
        "capacity" => (Subject::Capacity, Dimension::VOLUME),
        "mass" => (Subject::Mass, Dimension::MASS),
        "height" => (Subject::Height, Dimension::LENGTH),
        "diameter" => (Subject::Diameter, Dimension::LENGTH),
        "pieces" => (Subject::Pieces, Dimension::NONE),
        _ => (Subject::BoardFeet, Dimension::NONE),
    };
    let item = call.argument(1)?.first()?;
    let ItemKind::Comparison(comparator, operand) = &item.kind else {
        resolver.say(findings::wrong_kind(item, "expect", "a comparison such as `>= 600 ml`"));
        return None;
    };
    let word = scope.tree.text(subject_item.span);
    let bound = match subject {
        Subject::Height | Subject::Diameter => {
            resolver.told(read::length(scope, operand, word, Bound::NotNegative))?.mm()
        }
        Subject::Capacity | Subject::Mass | Subject::Pieces | Subject::BoardFeet => {
            let value = resolver.told(read::value(scope, operand, word, dimension.words()))?;
            let fits = match value {
                super::value::Value::Of(_, is) => is == dimension && dimension != Dimension::NONE,
                super::value::Value::Bare(..) => dimension == Dimension::NONE,
            };
            if !fits {
                let wants = if dimension == Dimension::NONE { "a bare number" } else { dimension.words() };
                let text = scope.tree.text(operand.span);
                resolver.say(findings::wrong_dimension(operand.span, word, wants, text, value.words()));
                return None;
            }
            value.number()
        }
    };
    Some(Expectation { subject, comparator: *comparator, bound, span: call.span, bound_span: item.span })
}

/// The word an unreadable line begins with, so that nothing else is said of its absence.
fn first_word(text: &str) -> String {
    text.trim_start().chars().take_while(|c| c.is_ascii_lowercase() || *c == '-').collect()
}
