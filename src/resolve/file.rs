//! One file: its units, what it uses, its names, woods and shop, and where its vessel stands.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use std::collections::BTreeMap;
use std::rc::Rc;

use crate::finding::policy::Levels;
use crate::finding::{Finding, catalog};
use crate::quantity::System;
use crate::source::{FileId, Span, UseError};
use crate::syntax::{Node, Statement, Tree};
use crate::vocabulary::{ClauseId, FILE, HeadId};

use super::chart::OwnCharts;
use super::policy::Severities;
use super::scope::Scope;
use super::shop::ShopSettings;
use super::split::{Call, split};
use super::value::{Bare, Value};
use super::wood::{Means, OwnWood, OwnWoods};
use super::{Resolver, findings, joint_findings, read};

/// Deepest chain of files that use each other.
const USE_DEPTH: usize = 64;

/// What one file gives to the files that use it, and the place of its vessel.
#[derive(Debug)]
pub(super) struct File {
    pub(super) tree: Rc<Tree>,
    pub(super) system: Option<System>,
    pub(super) names: BTreeMap<String, (Value, Span)>,
    /// Its woods and boards.
    pub(super) woods: OwnWoods,
    pub(super) charts: OwnCharts,
    pub(super) shop: ShopSettings,
    /// Its own weights of findings, and those of the files it uses.
    pub(super) levels: Levels,
    /// Index of the statement that holds the vessel, with the statement's own number on its line.
    pub(super) vessel: Option<usize>,
    /// Index of the statement that holds what was measured.
    pub(super) made: Option<usize>,
    /// Whether it has anything for others to use.
    pub(super) has_exports: bool,
    pub(super) has_broken: bool,
    pub(super) is_empty: bool,
}

impl Resolver<'_> {
    /// Reads a file and all it uses; `way` holds the `use` lines that led here.
    pub(super) fn file(&mut self, id: FileId, way: &mut Vec<(FileId, Span)>) -> Rc<File> {
        if let Some(known) = self.files.get(&id) {
            return Rc::clone(known);
        }
        let parsed = self.trees.read(&self.world.file(id));
        if parsed.findings.iter().any(|finding| finding.code == &catalog::SYNTAX_UNCLOSED_BLOCK) {
            self.unclosed.insert(id);
        }
        self.say_all(parsed.findings);
        let tree = parsed.value;
        let has_broken = tree.nodes.iter().any(|node| matches!(node, Node::Broken(_)));
        let system = self.units(&tree);
        if system.is_none() && has_broken {
            self.units_told.insert(id);
        }
        let mut reading = Reading {
            scope: Scope::new(Rc::clone(&tree), system.map_or(Bare::NoUnits, Bare::In)),
            file: File {
                tree: Rc::clone(&tree),
                system,
                names: BTreeMap::new(),
                woods: OwnWoods::new(),
                charts: OwnCharts::new(),
                shop: ShopSettings::default(),
                levels: Levels::default(),
                vessel: None,
                made: None,
                has_exports: false,
                has_broken,
                is_empty: tree.source.text.trim().is_empty(),
            },
            used_shop: ShopSettings::default(),
            severities: Severities::default(),
            used_levels: Levels::default(),
            first_language: None,
            first_vessel: None,
            first_shop: None,
            shop_at: None,
            first_made: None,
        };
        for (at, statement) in statements(&tree) {
            let mut said = Vec::new();
            let calls = split(&tree, statement, &FILE, &mut said);
            reading.file.has_broken |= calls.is_empty();
            self.say_all(said);
            for call in &calls {
                self.at_file_level(call, at, &mut reading, way, id);
            }
        }
        self.boards_of(&tree, &mut reading);
        let Reading { scope, mut file, used_shop, severities, used_levels, .. } = reading;
        file.shop = std::mem::take(&mut file.shop).or(used_shop);
        file.levels = severities.levels.or(used_levels);
        file.names = scope.exported().map(|(name, named)| (name.to_owned(), (named.value, named.span))).collect();
        (file.woods, file.charts) = (scope.woods, scope.charts);
        let file = Rc::new(file);
        self.files.insert(id, Rc::clone(&file));
        file
    }

    /// `units`, wherever it stands: it holds for the whole file.
    fn units(&mut self, tree: &Rc<Tree>) -> Option<System> {
        let scope = Scope::new(Rc::clone(tree), Bare::NoUnits);
        let mut found: Option<(System, Span)> = None;
        for (_, statement) in statements(tree) {
            if statement.items.iter().all(|item| tree.text(item.span) != "units") {
                continue;
            }
            // What is wrong with the line is told when it is read in its turn.
            let calls = split(tree, statement, &FILE, &mut Vec::new());
            for call in calls.iter().filter(|call| call.head.id == HeadId::Units) {
                let Some(item) = call.argument(0).and_then(<[_]>::first) else {
                    self.units_told.insert(tree.source.id);
                    continue;
                };
                let Some(word) = self.told(read::choice(&scope, item, "units", &["in", "mm"])) else {
                    self.units_told.insert(tree.source.id);
                    continue;
                };
                let system = if word == "in" { System::Inch } else { System::Millimeter };
                match found {
                    Some((_, first)) => self.say(findings::twice(call.span, "units", first)),
                    None => found = Some((system, call.span)),
                }
            }
        }
        found.map(|(system, _)| system)
    }

    fn at_file_level(
        &mut self,
        call: &Call<'_>,
        at: usize,
        reading: &mut Reading,
        way: &mut Vec<(FileId, Span)>,
        id: FileId,
    ) {
        match call.head.id {
            HeadId::Language => {
                if let Some(first) = reading.first_language {
                    self.say(findings::twice(call.span, "language", first));
                } else {
                    reading.first_language = Some(call.span);
                    self.edition(call, &reading.scope);
                }
            }
            HeadId::Use => self.bring_in(call, reading, way, id),
            HeadId::Let => {
                self.define(call, &mut reading.scope);
                reading.file.has_exports = true;
            }
            HeadId::Shop => {
                if let Some(first) = reading.first_shop {
                    self.say(findings::twice(call.head_span, "shop", first));
                    return;
                }
                (reading.first_shop, reading.shop_at) = (Some(call.head_span), Some(at));
                reading.file.shop = self.shop_settings(call, &reading.scope);
                reading.file.has_exports = true;
            }
            HeadId::Wood => {
                self.own_wood(call, &mut reading.scope);
                reading.file.has_exports = true;
            }
            HeadId::Board => {
                self.define_board(call, &mut reading.scope);
                reading.file.has_exports = true;
            }
            HeadId::Chart => {
                self.define_chart(call, &mut reading.scope);
                reading.file.has_exports = true;
            }
            HeadId::Severity => {
                self.severity(&reading.scope, call, &mut reading.severities);
                reading.file.has_exports = true;
            }
            HeadId::Vessel => {
                if let Some(first) = reading.first_vessel {
                    self.say(findings::vessel_twice(call.head_span, first));
                } else {
                    reading.first_vessel = Some(call.head_span);
                    reading.file.vessel = Some(at);
                }
            }
            HeadId::Made => {
                if let Some(first) = reading.first_made {
                    self.say(findings::twice(call.head_span, "made", first));
                } else {
                    reading.first_made = Some(call.head_span);
                    reading.file.made = Some(at);
                }
            }
            _ => {}
        }
    }

    /// The boards of the shop, once the whole file is read: they may be of woods that it names further down.
    fn boards_of(&mut self, tree: &Tree, reading: &mut Reading) {
        let shop = reading.shop_at.and_then(|shop| statements(tree).find(|(at, _)| *at == shop));
        let Some((_, statement)) = shop else { return };
        // What is wrong with the line has been told when it was read in its turn.
        for call in split(tree, statement, &FILE, &mut Vec::new()).iter().filter(|call| call.head.id == HeadId::Shop) {
            if Some(call.head_span) == reading.first_shop {
                reading.file.shop.boards = self.boards_at_hand(&reading.scope, call);
                reading.file.shop.for_sale = self.boards_for_sale(&reading.scope, call);
                reading.file.shop.bands = self.bands(&reading.scope, call);
            }
        }
    }

    fn bring_in(&mut self, call: &Call<'_>, reading: &mut Reading, way: &mut Vec<(FileId, Span)>, id: FileId) {
        let Some(item) = call.argument(0).and_then(<[_]>::first) else { return };
        let Some(path) = self.told(read::text(item, "use")) else { return };
        // What parts a path on Windows alone parts it nowhere: a recipe means the same on every system.
        let found = if path.contains('\\') { Err(UseError::NotFound) } else { self.world.open(id, path) };
        let used = match found {
            Ok(used) => used,
            Err(why) => {
                self.say(cannot_use(item.span, path, why));
                return;
            }
        };
        reading.file.has_exports = true;
        if used == id || way.iter().any(|(file, _)| *file == used) {
            let first = way.iter().position(|(file, _)| *file == used).unwrap_or(way.len());
            let circle: Vec<Span> = way.iter().skip(first).map(|(_, span)| *span).collect();
            self.say(findings::use_cycle(item.span, &circle));
            return;
        }
        if way.len() >= USE_DEPTH {
            let reason = format!("files use each other more than {USE_DEPTH} deep");
            self.say(findings::use_unreadable(item.span, path, &reason));
            return;
        }
        way.push((id, item.span));
        let file = self.file(used, way);
        way.pop();
        if file.made.is_some() {
            let what = format!("`{path}` says what was made of some vessel, and which one cannot be told");
            let known = "let the `made` stand in the recipe of its vessel";
            self.say(joint_findings::made_unknown(item.span, &what, known));
        }
        for (name, (value, span)) in &file.names {
            let defined = reading.scope.define(name, *value, *span);
            self.told(defined);
        }
        for (name, wood) in &file.woods {
            let first = reading.scope.woods.get(name).map(|known| known.span);
            if self.is_first(name, wood.span, first, item.span) {
                reading.scope.woods.insert(name.clone(), wood.clone());
            }
        }
        for (name, chart) in &file.charts {
            let first = reading.scope.charts.get(name).map(|known| known.span);
            if self.is_first(name, chart.span, first, item.span) {
                reading.scope.charts.insert(name.clone(), chart.clone());
            }
        }
        reading.used_levels = file.levels.clone().or(std::mem::take(&mut reading.used_levels));
        reading.used_shop = file.shop.clone().or(std::mem::take(&mut reading.used_shop));
    }

    /// Whether no other file has brought in the name, or its finding said.
    fn is_first(&mut self, name: &str, span: Span, first: Option<Span>, brought_in: Span) -> bool {
        let Some(first) = first.filter(|first| *first != span) else { return true };
        self.say(findings::name_twice(span, name, first).also(brought_in, "brought in here"));
        false
    }

    /// `let name = expression`
    pub(super) fn define(&mut self, call: &Call<'_>, scope: &mut Scope) {
        let (Some([name_item]), Some([value_item])) = (call.argument(0), call.argument(1)) else { return };
        let tree = Rc::clone(&scope.tree);
        if !matches!(value_item.kind, crate::syntax::ItemKind::Assign(_)) {
            self.say(findings::wrong_kind(value_item, "let", "`=` and a value"));
            return;
        }
        let value = self.told(read::value(scope, value_item, "let", "a value"));
        if self.told(read::name(scope, name_item, "let")).is_some()
            && let Some(value) = value
        {
            let defined = scope.define(tree.text(name_item.span), value, name_item.span);
            self.told(defined);
        }
    }

    fn own_wood(&mut self, call: &Call<'_>, scope: &mut Scope) {
        let Some([name_item]) = call.argument(0) else { return };
        let Some(name) = self.told(read::name(scope, name_item, "wood")).map(ToOwned::to_owned) else {
            return;
        };
        let Some(like) = call.clause("like") else {
            if !call.is_broken {
                let why = "its weight and movement are taken from a wood of the table";
                self.say(findings::missing_clause(call.span, "wood", "like", why, "like hard-maple"));
            }
            return;
        };
        debug_assert_eq!(like.clause.id, ClauseId::Like);
        let Some(item) = like.argument.first() else { return };
        let Some(wood) = self.table_wood(&scope.tree, item, &scope.woods, "like") else { return };
        self.define_wood(scope, name, OwnWood { means: Means::Plain(wood), span: name_item.span });
    }
}

struct Reading {
    scope: Scope,
    file: File,
    used_shop: ShopSettings,
    severities: Severities,
    used_levels: Levels,
    first_language: Option<Span>,
    first_vessel: Option<Span>,
    first_shop: Option<Span>,
    /// Index of its statement.
    shop_at: Option<usize>,
    first_made: Option<Span>,
}

fn statements(tree: &Tree) -> impl Iterator<Item = (usize, &Statement)> {
    tree.nodes.iter().enumerate().filter_map(|(at, node)| match node {
        Node::Statement(statement) => Some((at, statement)),
        Node::Broken(_) => None,
    })
}

fn cannot_use(span: Span, path: &str, why: UseError) -> Finding {
    match why {
        UseError::NotFound => findings::use_not_found(span, path),
        UseError::OutsideProject(folder) => findings::use_outside(span, path, &folder),
        UseError::Unreadable(reason) => findings::use_unreadable(span, path, &reason),
    }
}
