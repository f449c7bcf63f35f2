//! `chart waves { m = maple  w = walnut  rows { … } }`: a motif as it is seen from outside.

use std::collections::BTreeMap;
use std::rc::Rc;

use crate::finding::nearest;
use crate::source::Span;
use crate::syntax::{Block, Item, ItemKind, Node, Statement};
use crate::vocabulary::ROWS;

use super::recipe::Pattern;
use super::scope::Scope;
use super::split::{Call, word_of};
use super::wood::NamedWood;
use super::{MOTIF_LIMIT, Resolver, findings, layer_findings, read};

/// A chart as a file defines it.
#[derive(Debug)]
pub(super) struct Chart {
    /// The lowest row first, each from left to right.
    rows: Vec<Row>,
}

#[derive(Debug)]
struct Row {
    /// Fewer than segments when a key's wood could not be read.
    woods: Vec<NamedWood>,
    segments: usize,
    span: Span,
}

/// A chart's name with the chart; `None` when it could not be read (its finding has been made).
#[derive(Debug, Clone)]
pub(super) struct OwnChart {
    pub(super) chart: Option<Rc<Chart>>,
    /// Its name where it is defined.
    pub(super) span: Span,
}

/// The charts that the recipe and the files it uses define.
pub(super) type OwnCharts = BTreeMap<String, OwnChart>;

struct Key {
    wood: Option<NamedWood>,
    span: Span,
    /// With what it stands for.
    whole: Span,
    is_used: bool,
}

/// What a chart's lines have given so far.
#[derive(Default)]
struct Drawing<'t> {
    keys: BTreeMap<String, Key>,
    rows: Option<(Span, &'t Block)>,
    is_lost: bool,
}

impl Resolver<'_> {
    /// Defines the chart in the scope; one that cannot be read still has its name.
    pub(super) fn define_chart(&mut self, call: &Call<'_>, scope: &mut Scope) {
        let Some([name_item]) = call.argument(0) else { return };
        let name = self.told(read::name(scope, name_item, "chart").map(ToOwned::to_owned));
        let chart = self.chart(call, scope, call.head_span.to(name_item.span)).map(Rc::new);
        let Some(name) = name else { return };
        if let Some(first) = scope.charts.get(&name).map(|first| first.span).filter(|first| *first != name_item.span) {
            self.say(findings::name_twice(name_item.span, &name, first));
            return;
        }
        scope.charts.insert(name, OwnChart { chart, span: name_item.span });
    }

    /// The patterns of a chart's rows, lowest first, each turned by `turn` more places than the one below it.
    pub(super) fn chart_patterns(&mut self, scope: &Scope, item: &Item, turn: usize) -> Option<Vec<Pattern>> {
        let Some(name) = word_of(&scope.tree, item) else {
            self.say(findings::wrong_kind(item, "rings", "the name of a chart"));
            return None;
        };
        let Some(own) = scope.charts.get(name) else {
            let known = scope.charts.keys().map(String::as_str);
            self.say(layer_findings::unknown_chart(item.span, name, known));
            return None;
        };
        let chart = own.chart.clone()?;
        let mut patterns = Vec::with_capacity(chart.rows.len());
        for (at, row) in chart.rows.iter().enumerate() {
            let mut motif = Vec::with_capacity(row.woods.len());
            for wood in &row.woods {
                motif.push(self.wood_index(wood)?);
            }
            let places = at.wrapping_mul(turn % motif.len().max(1)) % motif.len().max(1);
            motif.rotate_left(places);
            patterns.push(Pattern { motif, shares: Vec::new(), is_scattered: false, span: row.span });
        }
        Some(patterns)
    }

    fn chart(&mut self, call: &Call<'_>, scope: &Scope, span: Span) -> Option<Chart> {
        let mut drawing = Drawing { is_lost: call.is_broken, ..Drawing::default() };
        for node in &call.block?.nodes {
            match node {
                Node::Statement(statement) => self.chart_line(scope, statement, &mut drawing),
                Node::Broken(_) => drawing.is_lost = true,
            }
        }
        let rows = match drawing.rows {
            Some((_, block)) => self.rows(scope, block, &mut drawing),
            None => Vec::new(),
        };
        let rows: Vec<Row> = rows.into_iter().rev().collect();
        let is_even = self.is_even(&rows);
        if drawing.is_lost {
            return None;
        }
        if rows.is_empty() {
            self.say(layer_findings::empty_chart(span));
            return None;
        }
        for (name, key) in &drawing.keys {
            if !key.is_used {
                self.say(layer_findings::unused_key(key.span, name, key.whole));
            }
        }
        is_even.then_some(Chart { rows })
    }

    /// `m = maple  w = walnut` or `rows { … }`
    fn chart_line<'t>(&mut self, scope: &Scope, statement: &'t Statement, drawing: &mut Drawing<'t>) {
        let mut items = statement.items.as_slice();
        while let Some((item, rest)) = items.split_first() {
            let name = scope.tree.text(item.span);
            match (rest.first().map(|next| &next.kind), &statement.block) {
                (Some(ItemKind::Assign(_)), _) => {
                    self.key(scope, name, item, rest.first(), drawing);
                    items = rest.get(1..).unwrap_or(&[]);
                }
                (None, Some(block)) if name == ROWS => {
                    if let Some((first, _)) = drawing.rows {
                        self.say(findings::twice(item.span, ROWS, first));
                    } else {
                        drawing.rows = Some((item.span, block));
                    }
                    return;
                }
                (..) => {
                    let is_rows = name == ROWS || statement.block.is_some() || !nearest(name, [ROWS]).is_empty();
                    self.say(layer_findings::not_of_chart(item.span, name, is_rows));
                    drawing.is_lost = true;
                    return;
                }
            }
        }
        if let Some(block) = &statement.block {
            self.say(layer_findings::not_of_chart(block.open, "{", true));
            drawing.is_lost = true;
        }
    }

    fn key(&mut self, scope: &Scope, name: &str, item: &Item, value: Option<&Item>, drawing: &mut Drawing<'_>) {
        let Some(ItemKind::Assign(wood)) = value.map(|value| &value.kind) else { return };
        let wood_item = Item { span: wood.span, kind: ItemKind::Word };
        let wood = self.named_wood(&scope.tree, &wood_item, &scope.woods, "chart");
        drawing.is_lost |= wood.is_none();
        if let Some(first) = drawing.keys.get(name) {
            let first = first.span;
            self.say(findings::name_twice(item.span, name, first));
            return;
        }
        drawing.keys.insert(
            name.to_owned(),
            Key { wood, span: item.span, whole: item.span.to(wood_item.span), is_used: false },
        );
    }

    /// The rows as they are drawn, the top one first.
    fn rows(&mut self, scope: &Scope, block: &Block, drawing: &mut Drawing<'_>) -> Vec<Row> {
        let mut rows = Vec::with_capacity(block.nodes.len());
        for node in &block.nodes {
            let Node::Statement(statement) = node else {
                drawing.is_lost = true;
                continue;
            };
            if let Some(inner) = &statement.block {
                self.say(findings::no_block(inner.open, ROWS));
                drawing.is_lost = true;
            }
            if statement.items.len() > MOTIF_LIMIT {
                self.say(findings::pattern_too_long(statement.span, MOTIF_LIMIT));
                drawing.is_lost = true;
                continue;
            }
            let mut woods = Vec::with_capacity(statement.items.len());
            for item in &statement.items {
                let name = scope.tree.text(item.span);
                let key = drawing.keys.get_mut(name).filter(|_| matches!(item.kind, ItemKind::Word));
                if let Some(key) = key {
                    key.is_used = true;
                    woods.extend(key.wood.clone());
                } else {
                    let known = drawing.keys.keys().map(String::as_str);
                    self.say(layer_findings::unknown_key(item.span, name, known));
                    drawing.is_lost = true;
                }
            }
            rows.push(Row { woods, segments: statement.items.len(), span: statement.span });
        }
        rows
    }

    /// Whether all rows are as long as the first, the lowest.
    fn is_even(&mut self, rows: &[Row]) -> bool {
        let Some((first, others)) = rows.split_first() else { return true };
        let mut is_even = true;
        for (at, row) in others.iter().enumerate() {
            if row.segments != first.segments {
                let lengths = (row.segments, first.segments);
                self.say(layer_findings::uneven_row(row.span, at + 2, lengths, first.span));
                is_even = false;
            }
        }
        is_even
    }
}
