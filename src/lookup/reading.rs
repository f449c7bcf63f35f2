//! A tree to what each of its words is: a head, a clause, a wood, a name that is defined or used.
//!
//! Lines are split as the resolver splits them, so that a word is here what it is there. Names are bound within the
//! file; what another file defines is looked for in [`super::names`].

#![allow(clippy::wildcard_enum_match_arm, reason = "whatever is no word of its own is worth a number")]

use std::ops::Range;
use std::rc::Rc;

use crate::resolve::{Call, split, split_lines};
use crate::source::Span;
use crate::syntax::{Block, Element, Expression, ExpressionKind, Item, ItemKind, Node, Statement, Tree};
use crate::vocabulary::{BlockKind, ClauseId, Context, FILE, Head, HeadId, Param, ROWS, SHARE, Shape};

/// One word or sign, and what it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Where.
    pub span: Span,
    /// What.
    pub role: Role,
}

/// What a word or a sign is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Role {
    /// It begins this statement.
    Head(&'static Head),
    /// It begins this clause of that statement.
    Clause(&'static Head, &'static crate::vocabulary::Clause),
    /// One of the words that the language has for such an argument.
    Choice(&'static Param),
    /// A word of patterns or charts.
    Pattern,
    /// It gives a name; an index into [`Reading::definitions`].
    Definition(usize),
    /// It uses a name of that kind; the index of its definition, when that is in this file.
    Use(Kind, Option<usize>),
    /// The name of a glue.
    Glue,
    /// The name of a finish.
    Finish,
    /// The code of a finding or a family.
    Code,
    /// A function of arithmetic.
    Function,
    /// A number with its unit.
    Number,
    /// A text.
    Text,
    /// The path of a file that is used.
    Path,
}

/// What a name is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A value of a `let` or the number of a turn.
    Value,
    /// A wood or a board, of the table or named by the recipe.
    Wood,
    /// A chart.
    Chart,
    /// A layer.
    Layer,
    /// A key of a chart, within it.
    Key,
    /// An insert.
    Insert,
}

/// A name that the file gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Definition {
    /// As written.
    pub name: String,
    /// Of what.
    pub kind: Kind,
    /// The name.
    pub span: Span,
    /// The statement.
    pub whole: Span,
    /// Whether other files can use it.
    pub is_exported: bool,
}

/// A statement that was understood.
#[derive(Debug, Clone)]
pub struct Line {
    /// What it is.
    pub head: &'static Head,
    /// Its head word; of a line without one, its first word.
    pub head_span: Span,
    /// All of it.
    pub span: Span,
    /// What is written directly behind the head.
    pub arguments: Option<Span>,
    /// The clauses that are said, in the order written.
    pub clauses: Vec<&'static crate::vocabulary::Clause>,
    /// How deep it lies; 0 at file level.
    pub depth: usize,
}

/// A file, read.
#[derive(Debug)]
pub struct Reading {
    /// Its tree.
    pub tree: Rc<Tree>,
    /// All marks in the order of their places; none overlaps another.
    pub marks: Vec<Mark>,
    /// The names that it gives, in the order they are given.
    pub definitions: Vec<Definition>,
    /// Its statements, each before those in its block.
    pub lines: Vec<Line>,
    /// The paths of its `use` lines.
    pub uses: Vec<(Span, String)>,
}

impl Reading {
    /// Reads a tree.
    #[must_use]
    pub fn of(tree: Rc<Tree>) -> Self {
        let mut reader = Reader {
            tree: &tree,
            marks: Vec::new(),
            definitions: Vec::new(),
            lines: Vec::new(),
            uses: Vec::new(),
            scopes: vec![Vec::new()],
            keys: 0..0,
        };
        reader.nodes(&tree.nodes, &FILE, 0);
        let Reader { mut marks, definitions, lines, uses, .. } = reader;
        marks.sort_by_key(|mark| (mark.span.start, mark.span.end));
        marks.dedup_by_key(|mark| mark.span);
        bind(&mut marks, &definitions, &tree);
        Self { tree, marks, definitions, lines, uses }
    }

    /// The mark at a byte, or just before it.
    #[must_use]
    pub fn mark_at(&self, offset: u32) -> Option<&Mark> {
        let behind = self.marks.partition_point(|mark| mark.span.start <= offset);
        let mark = self.marks.get(behind.checked_sub(1)?)?;
        (offset <= mark.span.end).then_some(mark)
    }
}

/// Woods, boards, charts, layers and inserts are known in all of their file, wherever they are named.
fn bind(marks: &mut [Mark], definitions: &[Definition], tree: &Tree) {
    for mark in marks {
        if let Role::Use(kind @ (Kind::Wood | Kind::Chart | Kind::Layer | Kind::Insert), target) = &mut mark.role {
            let name = tree.text(mark.span);
            *target = definitions.iter().position(|definition| definition.kind == *kind && definition.name == name);
        }
    }
}

struct Reader<'t> {
    tree: &'t Tree,
    marks: Vec<Mark>,
    definitions: Vec<Definition>,
    lines: Vec<Line>,
    uses: Vec<(Span, String)>,
    /// The values that are known, block by block: indexes into `definitions`.
    scopes: Vec<Vec<usize>>,
    /// The keys of the chart at hand among `definitions`.
    keys: Range<usize>,
}

impl<'t> Reader<'t> {
    fn nodes(&mut self, nodes: &'t [Node], context: &'static Context, depth: usize) {
        for statement in statements(nodes) {
            for call in split(self.tree, statement, context, &mut Vec::new()) {
                self.call(&call, context, depth);
            }
        }
    }

    fn call(&mut self, call: &Call<'t>, context: &'static Context, depth: usize) {
        self.mark(call.head_span, Role::Head(call.head));
        self.line(call, depth);
        let is_exported = depth == 0;
        for (param, items) in call.head.params.iter().zip(&call.arguments) {
            // What a `let` names is known behind it alone, not in its own value.
            if param.shape != Shape::Name {
                self.argument(param, items, call.head);
            }
        }
        for (param, items) in call.head.params.iter().zip(&call.arguments) {
            if let (Shape::Name, [item], Some(kind)) = (param.shape, *items, kind_of(call.head.id)) {
                self.define(kind, item.span, call.span, is_exported);
            }
        }
        self.scopes.push(Vec::new());
        self.clauses(call);
        for inner in &call.statements {
            self.call(inner, context, depth + 1);
        }
        if let Some(block) = call.block {
            self.block(call, block, context, depth + 1);
        }
        self.scopes.pop();
    }

    fn line(&mut self, call: &Call<'t>, depth: usize) {
        let said = call.arguments.iter().copied().flatten();
        let arguments = said.map(|item| item.span).reduce(Span::to);
        let clauses = call.clauses.iter().map(|said| said.clause).collect();
        let (head, head_span, span) = (call.head, call.head_span, call.span);
        self.lines.push(Line { head, head_span, span, arguments, clauses, depth });
    }

    fn clauses(&mut self, call: &Call<'t>) {
        for said in &call.clauses {
            let word = Span { end: said.span.start + to_u32(said.clause.word.len()), ..said.span };
            self.mark(word, Role::Clause(call.head, said.clause));
            let mut rest = said.argument;
            for (at, param) in said.clause.params.iter().enumerate() {
                let is_last = at + 1 == said.clause.params.len();
                let (items, behind) = rest.split_at(if is_last { rest.len() } else { rest.len().min(1) });
                rest = behind;
                match (param.shape, items) {
                    (Shape::Name, [item]) if said.clause.id == ClauseId::As => {
                        self.define(Kind::Value, item.span, call.span, false);
                    }
                    (Shape::Name, [item]) => self.define(Kind::Layer, item.span, call.span, false),
                    _ => self.argument(param, items, call.head),
                }
            }
        }
    }

    fn block(&mut self, call: &Call<'t>, block: &'t Block, context: &'static Context, depth: usize) {
        match call.head.block {
            BlockKind::Statements(inner) | BlockKind::Optional(inner) | BlockKind::ClausesAnd(inner) => {
                self.nodes(&block.nodes, inner, depth);
            }
            BlockKind::Same => self.nodes(&block.nodes, context, depth),
            BlockKind::Lines(head) => {
                for line in split_lines(self.tree, block, head, &mut Vec::new()) {
                    self.line(&line, depth);
                    for (param, items) in head.params.iter().zip(&line.arguments) {
                        self.argument(param, items, head);
                    }
                    self.clauses(&line);
                }
            }
            BlockKind::Plies => {
                for item in statements(&block.nodes).flat_map(|statement| &statement.items) {
                    match item.kind {
                        ItemKind::Word => self.mark(item.span, Role::Use(Kind::Wood, None)),
                        _ => self.value(item),
                    }
                }
            }
            BlockKind::Chart => self.chart(block),
            BlockKind::None | BlockKind::Clauses => {}
        }
    }

    /// `m = maple  w = walnut` and `rows { m w … }`.
    fn chart(&mut self, block: &'t Block) {
        let first = self.definitions.len();
        for statement in statements(&block.nodes) {
            for pair in statement.items.windows(2) {
                if let [Item { span, kind: ItemKind::Word }, Item { kind: ItemKind::Assign(wood), .. }] = pair {
                    self.define(Kind::Key, *span, span.to(wood.span), false);
                    self.mark(wood.span, Role::Use(Kind::Wood, None));
                }
            }
        }
        self.keys = first..self.definitions.len();
        for statement in statements(&block.nodes) {
            let Some(rows) = statement.block.as_ref().filter(|_| self.tree.text(statement.head()) == ROWS) else {
                continue;
            };
            self.mark(statement.head(), Role::Pattern);
            for item in statements(&rows.nodes).flat_map(|row| &row.items) {
                let name = self.tree.text(item.span);
                let key = self.keys.clone().find(|key| self.definitions.get(*key).is_some_and(|key| key.name == name));
                self.mark(item.span, Role::Use(Kind::Key, key));
            }
        }
    }

    fn argument(&mut self, param: &'static Param, items: &'t [Item], head: &'static Head) {
        let choices = param.shape.choices();
        for item in items {
            let word = self.tree.text(item.span);
            match (&item.kind, param.shape) {
                (ItemKind::Word, shape) if choices.contains(&word) && shape != Shape::Code => {
                    let role = if shape == Shape::Pattern { Role::Pattern } else { Role::Choice(param) };
                    self.mark(item.span, role);
                }
                (ItemKind::Word, Shape::Wood | Shape::Pattern) => {
                    self.mark(item.span, Role::Use(Kind::Wood, None));
                }
                (ItemKind::Word, Shape::Chart) => self.mark(item.span, Role::Use(Kind::Chart, None)),
                (ItemKind::Word, Shape::Layer) => self.mark(item.span, Role::Use(Kind::Layer, None)),
                (ItemKind::Word, Shape::Glue) => self.mark(item.span, Role::Glue),
                (ItemKind::Word, Shape::Finish) => self.mark(item.span, Role::Finish),
                (ItemKind::Word | ItemKind::Code, Shape::Code) => self.mark(item.span, Role::Code),
                (ItemKind::Text(path), _) if head.id == HeadId::Use => {
                    self.mark(item.span, Role::Path);
                    self.uses.push((item.span, path.clone()));
                }
                (ItemKind::List(elements) | ItemKind::Group(elements), Shape::Pattern) => self.pattern(elements),
                (ItemKind::List(elements), Shape::Days) => {
                    for element in elements {
                        self.mark(element.item.span, Role::Choice(param));
                    }
                }
                (ItemKind::Range(from, to), Shape::Taper) => {
                    self.argument(param, std::slice::from_ref(from), head);
                    self.argument(param, std::slice::from_ref(to), head);
                }
                _ => self.value(item),
            }
        }
    }

    fn pattern(&mut self, elements: &'t [Element]) {
        for element in elements {
            let item = &element.item;
            match &item.kind {
                ItemKind::Word if self.tree.text(item.span) == SHARE => self.mark(item.span, Role::Pattern),
                ItemKind::Word => self.mark(item.span, Role::Use(Kind::Wood, None)),
                ItemKind::List(inner) | ItemKind::Group(inner) => self.pattern(inner),
                _ => self.value(item),
            }
            if let Some(times) = element.times {
                self.mark(times.span, Role::Number);
            }
        }
    }

    /// Whatever is worth a number.
    fn value(&mut self, item: &'t Item) {
        match &item.kind {
            ItemKind::Word => self.name(item.span),
            ItemKind::Code => self.mark(item.span, Role::Code),
            ItemKind::Text(_) => self.mark(item.span, Role::Text),
            ItemKind::Quantity(_) => self.mark(item.span, Role::Number),
            ItemKind::List(elements) | ItemKind::Group(elements) => {
                for element in elements {
                    self.value(&element.item);
                }
            }
            ItemKind::Range(from, to) => {
                self.value(from);
                self.value(to);
            }
            ItemKind::Comparison(_, inner) => self.value(inner),
            ItemKind::Expression(expression) | ItemKind::Assign(expression) => self.expression(expression),
        }
    }

    fn expression(&mut self, expression: &'t Expression) {
        match &expression.kind {
            ExpressionKind::Quantity(_) => self.mark(expression.span, Role::Number),
            ExpressionKind::Name => self.name(expression.span),
            ExpressionKind::Negate(inner) | ExpressionKind::Parenthesized(inner) => self.expression(inner),
            ExpressionKind::Binary(_, _, left, right) | ExpressionKind::Compare(_, _, left, right) => {
                self.expression(left);
                self.expression(right);
            }
            ExpressionKind::Call(name, arguments) => {
                self.mark(*name, Role::Function);
                for argument in arguments {
                    self.expression(argument);
                }
            }
        }
    }

    /// The use of a value: the nearest definition before it, from the innermost block outward.
    fn name(&mut self, span: Span) {
        let name = self.tree.text(span);
        let known = self.scopes.iter().rev().flat_map(|scope| scope.iter().rev());
        let target = known.copied().find(|at| self.definitions.get(*at).is_some_and(|known| known.name == name));
        self.mark(span, Role::Use(Kind::Value, target));
    }

    fn define(&mut self, kind: Kind, span: Span, whole: Span, is_exported: bool) {
        let index = self.definitions.len();
        let name = self.tree.text(span).to_owned();
        self.definitions.push(Definition { name, kind, span, whole, is_exported });
        self.mark(span, Role::Definition(index));
        if kind == Kind::Value
            && let Some(scope) = self.scopes.last_mut()
        {
            scope.push(index);
        }
    }

    fn mark(&mut self, span: Span, role: Role) {
        self.marks.push(Mark { span, role });
    }
}

/// What a statement with a name names.
fn kind_of(head: HeadId) -> Option<Kind> {
    match head {
        HeadId::Let => Some(Kind::Value),
        HeadId::Wood | HeadId::Board => Some(Kind::Wood),
        HeadId::Chart => Some(Kind::Chart),
        HeadId::Insert => Some(Kind::Insert),
        _ => None,
    }
}

pub(super) fn statements(nodes: &[Node]) -> impl Iterator<Item = &Statement> {
    nodes.iter().filter_map(|node| match node {
        Node::Statement(statement) => Some(statement),
        Node::Broken(_) => None,
    })
}

fn to_u32(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}
