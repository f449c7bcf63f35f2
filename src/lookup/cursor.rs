//! What could come next at a place, by the text before it alone: what stands behind may be half typed.

use std::ops::Range;
use std::sync::Arc;

use crate::resolve::{Call, split, split_lines};
use crate::source::{SourceFile, Span};
use crate::syntax::{Block, Item, ItemKind, Node, Statement, Tree, comments, parse};
use crate::vocabulary::{BlockKind, Clause, Context, FILE, Head, Param, Shape};

/// What could come next.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cursor {
    /// The word that is being typed; empty between words.
    pub(super) word: Range<usize>,
    /// What the word could be.
    pub(super) expected: Expected,
    /// The statement that the place is in, with its head's place.
    pub(super) within: Option<Within>,
}

/// The statement, or clause, that a place is in.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Within {
    pub(super) head: &'static Head,
    pub(super) head_span: Span,
    /// The clause whose argument is being written.
    pub(super) clause: Option<&'static Clause>,
    /// Which argument of the clause, or of the head.
    pub(super) argument: usize,
    /// Clauses that are said before the place.
    pub(super) said: Vec<&'static Clause>,
}

/// What a word could be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Expected {
    /// Nothing is known of the place: a comment, a text, a number.
    Nothing,
    /// The head of a statement.
    Head(&'static Context),
    /// An argument; behind an optional one that is missing the next may stand too.
    Argument(&'static Param, Option<&'static Param>),
    /// A clause of the statement, or the head of the next one.
    Clause(Option<&'static Context>),
    /// A value in arithmetic.
    Value,
    /// A wood: of a ply or of a key of a chart.
    Wood,
    /// A key of a chart, or its `rows`.
    ChartLine,
    /// A key, within the rows of a chart.
    Row,
}

/// What stands around a place: the blocks that are open there.
enum Around {
    Statements(&'static Context),
    /// The clauses of the statement before the brace.
    Clauses(Option<&'static Context>),
    Lines(&'static Head),
    Plies,
    Chart,
    Rows,
}

impl Cursor {
    /// Whether it is an argument of the statement, not of a clause, that is expected.
    pub(super) fn is_behind_head(&self) -> bool {
        self.within.as_ref().is_some_and(|within| within.clause.is_none())
    }

    /// Looks at byte `offset` of `text`; the word before it is what is being typed.
    pub(super) fn at(text: &str, offset: usize) -> Self {
        let offset = (0..=offset.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
        let before = text.get(..offset).unwrap_or("");
        let is_part = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '/' | '_');
        let word = before.trim_end_matches(is_part).len()..offset;
        let nothing = Self { word: offset..offset, expected: Expected::Nothing, within: None };
        if comments(text).iter().any(|comment| comment.start < offset && offset <= comment.end) {
            return nothing;
        }
        let typed = text.get(word.clone()).unwrap_or("");
        if typed.starts_with(|c: char| !c.is_ascii_lowercase()) {
            return nothing;
        }
        let Some(open) = open_brackets(before.get(..word.start).unwrap_or("")) else { return nothing };
        // A stand-in for what is being typed, so that the line can be read up to there.
        let closers: String = open.iter().rev().collect();
        let start = before.get(..word.start).unwrap_or("");
        let wants_operand = wants_operand(start);
        let is_whole = open.is_empty() && !wants_operand;
        let stem = if is_whole { start.to_owned() } else { format!("{start}x{closers}") };
        let source = Arc::new(SourceFile { id: crate::source::FileId(0), name: String::new(), text: stem });
        let tree = parse(&source).value;
        let seen = Path {
            tree: &tree,
            place: word.start,
            in_list: open.contains(&']'),
            in_sum: open.contains(&')') || wants_operand,
        };
        let (expected, within) = seen.nodes(&tree.nodes, &Around::Statements(&FILE), None);
        Self { word, expected, within }
    }
}

/// Whether a sign stands last on the line that has something behind it.
fn wants_operand(start: &str) -> bool {
    let start = start.trim_end_matches([' ', '\t']);
    start.ends_with(['=', '+', '-', '*', '/', '<', '>']) || start.ends_with("..")
}

/// The closers of the brackets that are open at the end of a text; none within a text in quotes.
fn open_brackets(before: &str) -> Option<Vec<char>> {
    let mut open = Vec::new();
    let mut rest = before;
    let comments = comments(before);
    let mut at = 0;
    while let Some(c) = rest.chars().next() {
        if let Some(comment) = comments.iter().find(|comment| comment.start == at) {
            at = comment.end;
            rest = before.get(at..).unwrap_or("");
            continue;
        }
        match c {
            '(' => open.push(')'),
            '[' => open.push(']'),
            ')' | ']' => {
                open.pop();
            }
            // What is open when a block begins or ends was never closed.
            '{' | '}' => open.clear(),
            '"' if !before[..at].ends_with(|c: char| c.is_ascii_digit()) => {
                let line = rest.get(1..).unwrap_or("").split('\n').next().unwrap_or("");
                let length = line.find('"').map(|length| length + 2);
                match length {
                    Some(length) => {
                        at += length;
                        rest = before.get(at..).unwrap_or("");
                        continue;
                    }
                    None if before[at..].contains('\n') => {}
                    None => return None,
                }
            }
            _ => {}
        }
        at += c.len_utf8();
        rest = before.get(at..).unwrap_or("");
    }
    Some(open)
}

/// The way down to a place.
struct Path<'t> {
    tree: &'t Tree,
    place: usize,
    in_list: bool,
    in_sum: bool,
}

impl Path<'_> {
    /// What is expected behind the last of `nodes`; `owner` is the statement whose braces hold them.
    fn nodes(&self, nodes: &[Node], around: &Around, owner: Option<(Within, &Call<'_>)>) -> (Expected, Option<Within>) {
        let last = nodes.iter().rev().find_map(|node| match node {
            Node::Statement(statement) => Some(statement),
            Node::Broken(_) => None,
        });
        let Some(last) = last else { return (begin(around), owner.map(|(within, _)| within)) };
        if let Some(block) = last.block.as_ref().filter(|block| block.close.is_none()) {
            return self.block(last, block, around);
        }
        if last.block.is_some() || !self.is_on_line(last) {
            return (begin(around), owner.map(|(within, _)| within));
        }
        self.line(last, around, owner)
    }

    /// Whether the place is on the statement's line still.
    fn is_on_line(&self, statement: &Statement) -> bool {
        let end = (statement.span.end as usize).min(self.place);
        !self.tree.source.text.get(end..self.place).unwrap_or("").contains('\n')
    }

    fn block(&self, statement: &Statement, block: &Block, around: &Around) -> (Expected, Option<Within>) {
        let context = match around {
            Around::Statements(context) | Around::Clauses(Some(context)) => *context,
            Around::Chart => return self.nodes(&block.nodes, &Around::Rows, None),
            Around::Clauses(None) | Around::Lines(_) | Around::Plies | Around::Rows => {
                return (Expected::Nothing, None);
            }
        };
        let calls = split(self.tree, statement, context, &mut Vec::new());
        let Some(call) = calls.last() else { return (Expected::Nothing, None) };
        let within = within_call(call);
        let inner = match call.head.block {
            BlockKind::Statements(inner) | BlockKind::Optional(inner) => Around::Statements(inner),
            BlockKind::Same => Around::Statements(context),
            BlockKind::Clauses => Around::Clauses(None),
            BlockKind::ClausesAnd(inner) => Around::Clauses(Some(inner)),
            BlockKind::Lines(head) => Around::Lines(head),
            BlockKind::Plies => Around::Plies,
            BlockKind::Chart => Around::Chart,
            BlockKind::None => return (Expected::Nothing, None),
        };
        self.nodes(&block.nodes, &inner, Some((within, call)))
    }

    /// What is expected behind a line that is not finished.
    fn line(
        &self,
        line: &Statement,
        around: &Around,
        owner: Option<(Within, &Call<'_>)>,
    ) -> (Expected, Option<Within>) {
        match around {
            Around::Statements(context) => {
                let calls = split(self.tree, line, context, &mut Vec::new());
                match calls.last() {
                    Some(call) => self.call(call, line, Some(context)),
                    None => (Expected::Nothing, None),
                }
            }
            Around::Lines(head) => {
                let block =
                    Block { span: line.span, open: line.span, close: None, nodes: vec![Node::Statement(line.clone())] };
                match split_lines(self.tree, &block, head, &mut Vec::new()).last() {
                    Some(call) => self.call(call, line, None),
                    None => (Expected::Nothing, None),
                }
            }
            Around::Clauses(context) => match owner {
                Some((within, call)) => self.clauses(&within, call, line, *context),
                None => (Expected::Nothing, None),
            },
            Around::Plies => (if line.items.len().is_multiple_of(2) { Expected::Wood } else { Expected::Value }, None),
            Around::Chart => {
                let ends_with_sign = self.tree.source.text.get(..self.place).unwrap_or("").trim_end().ends_with('=');
                (if ends_with_sign { Expected::Wood } else { Expected::ChartLine }, None)
            }
            Around::Rows => (Expected::Row, None),
        }
    }

    /// Behind a clause on a line of its own in its statement's braces.
    fn clauses(
        &self,
        within: &Within,
        owner: &Call<'_>,
        line: &Statement,
        context: Option<&'static Context>,
    ) -> (Expected, Option<Within>) {
        if let Some(context) = context {
            let calls = split(self.tree, line, context, &mut Vec::new());
            if let Some(call) = calls.last() {
                return self.call(call, line, Some(context));
            }
        }
        self.call_of(owner.head, within.clone(), owner, line, context)
    }

    fn call(&self, call: &Call<'_>, line: &Statement, context: Option<&'static Context>) -> (Expected, Option<Within>) {
        let within = within_call(call);
        let params = call.head.params;
        // The first argument that is not there yet, when no clause stands behind it.
        if call.clauses.is_empty() {
            let filled = call.arguments.iter().rposition(|items| !items.is_empty());
            if let Some(at) = filled.filter(|_| self.in_list || self.in_sum)
                && let Some(param) = params.get(at)
            {
                return (self.inside(param), Some(Within { argument: at, ..within }));
            }
            let next = filled.map_or(0, |at| at + 1);
            let missing = params.get(next).map(|param| (next, param));
            let last = call.arguments.iter().rev().find_map(|items| items.last());
            if let Some((at, param)) = missing.filter(|_| !has_strangers(call, line)) {
                let next = params.get(at + 1).filter(|_| param.is_optional);
                return (Expected::Argument(param, next), Some(Within { argument: at, ..within }));
            }
            // `mirror`, `rotate 2` and `scatter` want a list or a wood behind them.
            if let (Some(last), Some(param)) = (last, params.iter().find(|param| param.shape == Shape::Pattern))
                && param.shape.choices().contains(&self.tree.text(last.span))
            {
                return (Expected::Argument(param, None), Some(within));
            }
        }
        self.call_of(call.head, within, call, line, context)
    }

    /// Behind clauses: within the last one, or where the next one may come.
    fn call_of(
        &self,
        head: &'static Head,
        within: Within,
        call: &Call<'_>,
        line: &Statement,
        context: Option<&'static Context>,
    ) -> (Expected, Option<Within>) {
        if let Some((clause, items)) = self.open_clause(head, call, line) {
            let within = Within { clause: Some(clause), argument: items.len(), ..within };
            if self.in_list || self.in_sum {
                let at = items.len().saturating_sub(1);
                let param = clause.params.get(at).or(clause.params.last());
                return match param {
                    Some(param) => (self.inside(param), Some(Within { argument: at, ..within })),
                    None => (Expected::Nothing, Some(within)),
                };
            }
            if let Some(param) = clause.params.get(items.len()) {
                return (Expected::Argument(param, None), Some(within));
            }
            // What is behind a finished clause may still be looked up as its own.
            return (Expected::Clause(context), Some(Within { argument: items.len().saturating_sub(1), ..within }));
        }
        if self.in_sum {
            return (Expected::Value, Some(within));
        }
        (Expected::Clause(context), Some(within))
    }

    /// The last clause on the line, with what stands behind its word.
    fn open_clause<'i>(
        &self,
        head: &'static Head,
        call: &Call<'_>,
        line: &'i Statement,
    ) -> Option<(&'static Clause, &'i [Item])> {
        let word = |item: &Item| matches!(item.kind, ItemKind::Word).then(|| self.tree.text(item.span));
        let behind_head = call.arguments.iter().flat_map(|items| items.iter()).map(|item| item.span.end).max();
        let from = behind_head.unwrap_or(call.head_span.end);
        let is_clause = |item: &Item| item.span.start >= from || call.head_span.start > item.span.start;
        let at = line.items.iter().rposition(|item| {
            word(item).and_then(|word| head.clause(word)).is_some() && item.span != call.head_span && is_clause(item)
        })?;
        let clause = head.clause(word(line.items.get(at)?)?)?;
        Some((clause, line.items.get(at + 1..)?))
    }

    fn inside(&self, param: &'static Param) -> Expected {
        let is_of_list = matches!(param.shape, Shape::Pattern | Shape::Days) && self.in_list;
        if self.in_sum && !is_of_list { Expected::Value } else { Expected::Argument(param, None) }
    }
}

/// Whether there is more on the line than the statement's own words.
fn has_strangers(call: &Call<'_>, line: &Statement) -> bool {
    line.items.last().is_some_and(|last| last.span.end > call.tail.end)
}

/// What can begin within such a block.
fn begin(around: &Around) -> Expected {
    match around {
        Around::Statements(context) => Expected::Head(context),
        Around::Clauses(context) => Expected::Clause(*context),
        Around::Lines(_) | Around::Plies => Expected::Wood,
        Around::Chart => Expected::ChartLine,
        Around::Rows => Expected::Row,
    }
}

fn within_call(call: &Call<'_>) -> Within {
    Within {
        head: call.head,
        head_span: call.head_span,
        clause: None,
        argument: 0,
        said: call.clauses.iter().map(|said| said.clause).collect(),
    }
}
