//! The vessel statement: shape, wall, stacks and promises.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use std::rc::Rc;

use crate::quantity::{Dimension, Length, System};
use crate::source::{Span, Spanned};
use crate::syntax::{Block, ItemKind, Node, Tree};
use crate::tables::Finish;
use crate::vocabulary::{Bound, FILE, HeadId, VESSEL};
use crate::workings::{Known, Origin};

use super::file::File;
use super::fittings::{Fittings, Lives, Parted};
use super::joint::JointSaid;
use super::layers::Stack;
use super::made::Made;
use super::outside::Curve;
use super::policy::Severities;
use super::recipe::{Expectation, Outside, Part, PartKind, Recipe, Subject, Use, WallSpec};
use super::scope::Scope;
use super::split::{Call, split};
use super::value::Bare;
use super::{Resolver, findings, joint_findings, made, outside_findings, read};

/// What the lines of a vessel have given so far.
#[derive(Default)]
struct Parts {
    outside: Option<Outside>,
    wall: Option<WallSpec>,
    inside: Option<Outside>,
    floor: Option<Known<Length>>,
    top: Option<Known<Length>>,
    body: Option<Stack>,
    lid: Option<Stack>,
    parted: Option<Parted>,
    joint: Option<JointSaid>,
    lives: Option<Lives>,
    holds: Option<Known<Use>>,
    finish: Option<Known<&'static Finish>>,
    made: Option<Made>,
    expects: Vec<Expectation>,
    fittings: Fittings,
    severities: Severities,
    /// Heads that stand there, readable or not, with their place.
    seen: Vec<(HeadId, Span)>,
    /// First words of lines that could not be read.
    broken: Vec<String>,
}

impl Parts {
    fn has(&self, id: HeadId, word: &str) -> bool {
        self.seen.iter().any(|(seen, _)| *seen == id) || self.broken.iter().any(|broken| broken == word)
    }

    /// Whether there is a lid, as a stack of its own or sawn off the body's.
    fn has_lid(&self) -> bool {
        self.has(HeadId::Lid, "lid") || self.has(HeadId::Parted, "parted")
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
    let walk = Walk { file, tree: &tree, block };
    walk.vessel(resolver, &mut scope, block, &mut parts);
    resolver.vessel_levels = std::mem::take(&mut parts.severities.levels);
    measured_beside(resolver, file, &scope, &mut parts);
    joined_at_what(resolver, &parts);
    missing(resolver, call.head_span, &parts);
    if let Some(top) = parts.seen.iter().find(|(id, _)| *id == HeadId::Top)
        && !parts.has_lid()
    {
        let line = parts.top.and_then(|thick| thick.origin.span()).map(|thick| top.1.to(thick));
        resolver.say(findings::top_without_lid(top.1, line));
    }
    let name = call.argument(0).and_then(<[_]>::first)?;
    let text = resolver.told(read::text(name, "vessel"))?;
    if text.trim().is_empty() {
        resolver.say(findings::vessel_unnamed(name.span));
    }
    finish(resolver, file, Spanned::new(text.to_owned(), name.span), parts)
}

fn finish(resolver: &mut Resolver<'_>, file: &File, name: Spanned<String>, parts: Parts) -> Option<Recipe> {
    let (has_lid, is_parted) = (parts.has_lid(), parts.has(HeadId::Parted, "parted"));
    // With neither `units` nor a bare length, millimeters are as good as any.
    let units = file.system.unwrap_or(System::Millimeter);
    let shop = file.shop.clone().complete(units);
    let wall = match (parts.wall, &parts.inside) {
        (Some(wall), None) => wall,
        (None, Some(_)) => WallSpec::left_by_inside(&shop),
        (Some(_), Some(_)) | (None, None) => return None,
    };
    let mut floor = parts.floor.or(floor_of(parts.inside.as_ref(), &wall))?;
    let mut top = parts.top.unwrap_or(Known::new(floor.value, Origin::Default(&"as thick as the floor")));
    let is_joint_lost = parts.has(HeadId::Joint, "joint") && parts.joint.is_none();
    let body = parts.body?;
    let mut is_partial = body.is_cut_short || is_joint_lost;
    let mut stacks = vec![Part { kind: PartKind::Body, span: body.span, layers: body.layers }];
    // Above a gap in the body, or over a joint that could not be read, no height is known, so a lid on it could
    // only raise false alarms.
    match parts.lid {
        Some(lid) if !is_partial => {
            is_partial |= lid.is_cut_short;
            stacks.push(Part { kind: PartKind::Lid, span: lid.span, layers: lid.layers });
        }
        Some(_) => {}
        None => is_partial |= if is_parted { parts.parted.is_none() } else { has_lid },
    }
    stacks.retain(|part| !part.layers.is_empty());
    if stacks.is_empty() {
        return None;
    }
    let outside = parts.outside?;
    let mut fittings = Fittings {
        joint: parts.joint.filter(|_| has_lid).map(|joint| joint.complete(units, &outside)),
        parted: parts.parted,
        lives: parts.lives,
        ..parts.fittings
    };
    if let Some(made) = &parts.made {
        let planned = made::thicknesses(&stacks);
        fittings.made = resolver.apply_made(made, &mut stacks, fittings.joint.as_mut(), (units, is_partial));
        made::follow(&stacks, &planned, &mut floor, &mut top);
    }
    Some(Recipe {
        file: file.tree.source.id,
        units,
        name,
        outside,
        wall: wall.base,
        wall_rim: wall.rim,
        inside: parts.inside,
        floor,
        // Where a parting could not be read, its stack is no closed vessel yet.
        top: (has_lid && (!is_parted || fittings.parted.is_some())).then_some(top),
        parts: stacks,
        shop,
        woods: std::mem::take(&mut resolver.woods),
        glues: std::mem::take(&mut resolver.glues),
        fittings,
        holds: parts.holds,
        finish: parts.finish,
        expects: parts.expects,
        is_partial,
    })
}

/// The floor that nobody wrote: where the points of an inside begin, else as thick as the wall.
fn floor_of(inside: Option<&Outside>, wall: &WallSpec) -> Option<Known<Length>> {
    match inside {
        Some(inside) => inside.points.first().map(|point| point.height),
        None => Some(Known::new(wall.base.value, Origin::Default(&"as thick as the wall"))),
    }
}

/// A `made` at file level, which may stand before the vessel or after it.
fn measured_beside(resolver: &mut Resolver<'_>, file: &Rc<File>, scope: &Scope, parts: &mut Parts) {
    let Some(Node::Statement(statement)) = file.made.and_then(|at| file.tree.nodes.get(at)) else { return };
    let calls = split(&file.tree, statement, &FILE, &mut Vec::new());
    let Some(call) = calls.iter().find(|call| call.head.id == HeadId::Made) else { return };
    match parts.seen.iter().find(|(id, _)| *id == HeadId::Made) {
        Some((_, first)) => resolver.say(findings::twice(call.head_span, "made", *first)),
        None => parts.made = Some(resolver.made(scope, call)),
    }
}

/// Whether what joins lid and body has both of them.
fn joined_at_what(resolver: &mut Resolver<'_>, parts: &Parts) {
    let place = |wanted: HeadId| parts.seen.iter().find(|(id, _)| *id == wanted).map(|(_, span)| *span);
    if let (Some(parted), Some(lid)) = (place(HeadId::Parted), place(HeadId::Lid)) {
        resolver.say(joint_findings::parted_with_lid(parted, lid));
    }
    if let Some(joint) = place(HeadId::Joint).filter(|_| !parts.has_lid()) {
        resolver.say(joint_findings::joint_without_lid(joint));
    }
}

fn missing(resolver: &mut Resolver<'_>, vessel: Span, parts: &Parts) {
    let wanted = [
        (HeadId::Outside, "outside", "no shape can be assumed", "outside { at 0 diameter 4   at 3 diameter 5 }"),
        (HeadId::Wall, "wall", "no thickness can be assumed", "wall 1/4"),
        (HeadId::Body, "body", "it is built of layers", "body { disc maple thick 1/2   ring maple thick 3/4 }"),
    ];
    let inside = parts.seen.iter().find(|(id, _)| *id == HeadId::Inside);
    if let (Some((_, inside)), Some((_, wall))) = (inside, parts.seen.iter().find(|(id, _)| *id == HeadId::Wall)) {
        resolver.say(outside_findings::wall_and_inside(*inside, *wall));
    }
    let is_path = parts.inside.as_ref().is_some_and(|inside| inside.path.is_some());
    if is_path && !parts.has(HeadId::Floor, "floor") {
        resolver.say(findings::missing_statement(vessel, "floor", "an `inside path` begins on it", "floor 3/8"));
    }
    for (id, word, why, example) in wanted {
        let has_inside = id == HeadId::Wall && parts.has(HeadId::Inside, "inside");
        if !has_inside && !parts.has(id, word) {
            resolver.say(findings::missing_statement(vessel, word, why, example));
        }
    }
}

struct Walk<'a> {
    file: &'a File,
    tree: &'a Rc<Tree>,
    /// The vessel's braces.
    block: &'a Block,
}

impl Walk<'_> {
    /// The joint that is said farther down, if it can be read by what is known here; its findings are made in its turn.
    fn joint_ahead(&self, resolver: &mut Resolver<'_>, scope: &Scope) -> Option<JointSaid> {
        let (told, said) = (resolver.findings.len(), resolver.said.clone());
        let statements = self.block.nodes.iter().filter_map(|node| match node {
            Node::Statement(statement) if self.tree.text(statement.head()) == "joint" => Some(statement),
            Node::Statement(_) | Node::Broken(_) => None,
        });
        let calls = statements.flat_map(|statement| split(self.tree, statement, &VESSEL, &mut Vec::new()));
        let joint = calls.into_iter().find_map(|call| resolver.joint(scope, &call));
        resolver.findings.truncate(told);
        resolver.said = said;
        joint
    }

    fn vessel(&self, resolver: &mut Resolver<'_>, scope: &mut Scope, block: &Block, parts: &mut Parts) {
        for node in &block.nodes {
            match node {
                Node::Broken(broken) => parts.broken.push(first_word(self.tree.text(broken.span))),
                Node::Statement(statement) => {
                    let mut said = Vec::new();
                    let calls = split(self.tree, statement, &VESSEL, &mut said);
                    resolver.say_all(said);
                    resolver.note_accepts(self.tree, &calls, None);
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
        let may_repeat = matches!(
            id,
            HeadId::Let
                | HeadId::Every
                | HeadId::Expect
                | HeadId::Board
                | HeadId::Chart
                | HeadId::Insert
                | HeadId::Mount
                | HeadId::Severity
                | HeadId::Accept
        );
        if let Some((_, first)) = parts.seen.iter().find(|(seen, _)| *seen == id && !may_repeat) {
            resolver.say(findings::twice(call.head_span, call.head.word, *first));
            return;
        }
        parts.seen.push((id, call.head_span));
        match id {
            HeadId::Outside => parts.outside = resolver.curve(scope, call, Curve::Outside),
            HeadId::Inside => parts.inside = resolver.curve(scope, call, Curve::Inside),
            HeadId::Wall => parts.wall = resolver.wall(scope, call),
            HeadId::Floor => parts.floor = thickness(resolver, scope, call),
            HeadId::Top => parts.top = thickness(resolver, scope, call),
            HeadId::Every => resolver.every(scope, call),
            HeadId::Let => resolver.define(call, scope),
            HeadId::Board => resolver.define_board(call, scope),
            HeadId::Chart => resolver.define_chart(call, scope),
            HeadId::Body => parts.body = resolver.stack(scope, call, self.file),
            HeadId::Lid => {
                // The joint tells how far the lid reaches down, wherever it is said.
                let joint = parts.joint.or_else(|| self.joint_ahead(resolver, scope));
                let units = self.file.system.unwrap_or(System::Millimeter);
                if let (Some(joint), Some(outside)) = (joint, &parts.outside) {
                    resolver.lower_lid(joint.complete(units, outside).long.value);
                }
                parts.lid = resolver.stack(scope, call, self.file);
            }
            HeadId::Parted => parts.parted = resolver.parted(scope, call),
            HeadId::Joint => parts.joint = resolver.joint(scope, call),
            HeadId::Lives => parts.lives = resolver.lives(scope, call),
            HeadId::Holds => parts.holds = resolver.holds(scope, call),
            HeadId::FinishWith => parts.finish = resolver.finish(scope, call),
            HeadId::Made => parts.made = Some(resolver.made(scope, call)),
            HeadId::Expect => parts.expects.extend(expectation(resolver, scope, call)),
            HeadId::Insert => resolver.insert(scope, call, self.file, &mut parts.fittings.inserts),
            HeadId::Severity => resolver.severity(scope, call, &mut parts.severities),
            HeadId::Mount => resolver.mount(scope, call, &mut parts.fittings.mounts),
            _ => {}
        }
    }
}

fn thickness(resolver: &mut Resolver<'_>, scope: &Scope, call: &Call<'_>) -> Option<Known<Length>> {
    let item = call.argument(0)?.first()?;
    let length = resolver.told(read::length(scope, item, call.head.word, Bound::Positive))?;
    Some(Known::new(length, Origin::Written(item.span)))
}

fn expectation(resolver: &mut Resolver<'_>, scope: &Scope, call: &Call<'_>) -> Option<Expectation> {
    let subject_item = call.argument(0)?.first()?;
    let words = &["capacity", "mass", "height", "diameter", "pieces", "board-feet", "cost", "days"];
    let (subject, dimension) = match resolver.told(read::choice(scope, subject_item, "expect", words))? {
        "capacity" => (Subject::Capacity, Dimension::VOLUME),
        "mass" => (Subject::Mass, Dimension::MASS),
        "height" => (Subject::Height, Dimension::LENGTH),
        "diameter" => (Subject::Diameter, Dimension::LENGTH),
        "pieces" => (Subject::Pieces, Dimension::NONE),
        "cost" => (Subject::Cost, Dimension::NONE),
        "days" => (Subject::Days, Dimension::NONE),
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
        Subject::Capacity | Subject::Mass | Subject::Pieces | Subject::BoardFeet | Subject::Cost | Subject::Days => {
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
