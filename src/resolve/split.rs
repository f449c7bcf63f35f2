//! A line of items to statements with their arguments and clauses, by the vocabulary.

use crate::finding::policy::Codes;
use crate::finding::{Finding, nearest};
use crate::source::Span;
use crate::syntax::{Block, Item, ItemKind, Node, Statement, Tree, stray_division, stray_equals};
use crate::vocabulary::{BlockKind, Clause, Context, FILE, Head, Param, Shape};

use super::findings;

/// One statement as the vocabulary reads it.
#[derive(Debug)]
pub(crate) struct Call<'t> {
    pub(crate) head: &'static Head,
    /// The head word.
    pub(crate) head_span: Span,
    /// From the head to the last argument; with the block, if there is one.
    pub(crate) span: Span,
    /// Just behind its last argument or clause on the line, where another clause can stand.
    pub(crate) tail: Span,
    /// The items of each parameter; empty where an optional one is left out.
    pub(crate) arguments: Vec<&'t [Item]>,
    pub(crate) clauses: Vec<ClauseCall<'t>>,
    pub(crate) block: Option<&'t Block>,
    /// What stands in its block beside its clauses.
    pub(crate) statements: Vec<Call<'t>>,
    /// Whether something in it was wrong; its findings have been made.
    pub(crate) is_broken: bool,
}

/// One clause with its argument.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ClauseCall<'t> {
    pub(crate) clause: &'static Clause,
    pub(crate) span: Span,
    /// One item for each of its parameters; fewer when some are missing (their finding has been made).
    pub(crate) argument: &'t [Item],
}

impl<'t> Call<'t> {
    pub(crate) fn clause(&self, word: &str) -> Option<&ClauseCall<'t>> {
        self.clauses.iter().find(|clause| clause.clause.word == word)
    }

    /// The items of a parameter; `None` when left out or missing.
    pub(crate) fn argument(&self, at: usize) -> Option<&'t [Item]> {
        self.arguments.get(at).copied().filter(|items| !items.is_empty())
    }
}

/// Reads the statements of one line.
pub(crate) fn split<'t>(
    tree: &Tree,
    statement: &'t Statement,
    context: &'static Context,
    findings: &mut Vec<Finding>,
) -> Vec<Call<'t>> {
    if let Some(finding) = stray_key(tree, statement, context) {
        findings.push(finding);
        return Vec::new();
    }
    let mut items = statement.items.as_slice();
    let stray = stray_code(tree, statement);
    if let Some((at, finding)) = stray {
        findings.push(finding);
        if statement.block.is_none() {
            return Vec::new();
        }
        items = items.get(..at).unwrap_or(items);
    }
    // What is missing on a line that breaks before its block has been told with the break.
    let is_broken = items.len() < statement.items.len()
        || statement.block.as_ref().is_some_and(|block| block.broken_head().is_some());
    let mut told = Vec::new();
    let findings = if is_broken { &mut told } else { findings };
    let mut line = Line { tree, items, at: 0, context, is_broken, findings };
    let mut calls = Vec::with_capacity(1);
    while let Some(call) = line.call() {
        calls.push(call);
    }
    let broken_tail = is_broken || line.at < line.items.len();
    for call in &mut calls {
        call.tail = call.span.after();
    }
    if let Some(last) = calls.last_mut() {
        last.is_broken |= broken_tail;
        if let Some(block) = &statement.block {
            take_block(last, block, tree, findings);
        }
    }
    for call in &mut calls {
        needs_block(call, findings);
    }
    calls
}

/// The clauses of the statements in a block, and the statements of `context` that stand among them.
fn split_clauses<'t>(
    tree: &Tree,
    call: &mut Call<'t>,
    block: &'t Block,
    context: &'static Context,
    findings: &mut Vec<Finding>,
) {
    for node in &block.nodes {
        match node {
            Node::Broken(_) => call.is_broken = true,
            Node::Statement(statement) => {
                let stray = stray_code(tree, statement).map(|(_, finding)| finding);
                if let Some(finding) = stray_key(tree, statement, context).or(stray) {
                    findings.push(finding);
                    call.is_broken = true;
                    continue;
                }
                let is_broken = statement.block.as_ref().is_some_and(|block| block.broken_head().is_some());
                let mut line = Line { tree, items: &statement.items, at: 0, context, is_broken, findings };
                line.clauses_into(call);
                let mut inner = Vec::new();
                while line.at < line.items.len() {
                    let Some(statement) = line.call() else { break };
                    inner.push(statement);
                }
                if let Some(block) = &statement.block {
                    if let Some(last) = inner.last_mut() {
                        take_block(last, block, tree, findings);
                    } else {
                        findings.push(findings::no_block(block.open, call.head.word));
                        call.is_broken = true;
                    }
                }
                for statement in &mut inner {
                    needs_block(statement, findings);
                }
                call.is_broken |= inner.iter().any(|statement| statement.is_broken);
                call.statements.extend(inner);
            }
        }
    }
}

/// The lines of a block that all are as `head` says, without its word; each is a call of it.
pub(crate) fn split_lines<'t>(
    tree: &Tree,
    block: &'t Block,
    head: &'static Head,
    findings: &mut Vec<Finding>,
) -> Vec<Call<'t>> {
    let mut calls = Vec::with_capacity(block.nodes.len());
    for node in &block.nodes {
        let Node::Statement(statement) = node else { continue };
        let stray = stray_code(tree, statement).map(|(_, finding)| finding);
        if let Some(finding) = stray_key(tree, statement, &NOWHERE).or(stray) {
            findings.push(finding);
            continue;
        }
        let Some(first) = statement.items.first() else { continue };
        let mut call = Call {
            head,
            head_span: first.span,
            span: first.span,
            tail: first.span.after(),
            arguments: Vec::with_capacity(head.params.len()),
            clauses: Vec::new(),
            block: None,
            statements: Vec::new(),
            is_broken: false,
        };
        Line { tree, items: &statement.items, at: 0, context: &NOWHERE, is_broken: false, findings }
            .arguments(&mut call);
        if let Some(inner) = &statement.block {
            findings.push(findings::no_block(inner.open, tree.text(first.span)));
            call.is_broken = true;
        }
        calls.push(call);
    }
    calls
}

/// Where no statement begins.
static NOWHERE: Context = Context { place: "here", heads: &[] };

fn take_block<'t>(call: &mut Call<'t>, block: &'t Block, tree: &Tree, findings: &mut Vec<Finding>) {
    call.span = call.span.to(block.span);
    match call.head.block {
        BlockKind::None => {
            findings.push(findings::no_block(block.open, call.head.word));
            call.is_broken = true;
        }
        BlockKind::Clauses => split_clauses(tree, call, block, &NOWHERE, findings),
        BlockKind::ClausesAnd(context) => split_clauses(tree, call, block, context, findings),
        BlockKind::Statements(_)
        | BlockKind::Optional(_)
        | BlockKind::Same
        | BlockKind::Lines(_)
        | BlockKind::Plies
        | BlockKind::Chart => {
            call.block = Some(block);
        }
    }
}

/// `thick = half`: only the keys of a chart take an `=` and a word, and no head but `let` has one at all.
fn stray_key(tree: &Tree, statement: &Statement, context: &'static Context) -> Option<Finding> {
    if tree.text(statement.head()) == "let" {
        return None;
    }
    let at = statement.items.iter().position(|item| matches!(item.kind, ItemKind::Assign(_)))?;
    let (word, equals) = (statement.items.get(at.checked_sub(1)?)?, statement.items.get(at)?);
    if !matches!(word.kind, ItemKind::Word) {
        return Some(findings::extra_sign(equals.span));
    }
    let names_value = at == 1 && context.place == FILE.place;
    Some(stray_equals(tree, word.span, equals.span, names_value))
}

/// `at rim/base`: a code that neither `accept` nor `severity` takes was meant for a division.
fn stray_code(tree: &Tree, statement: &Statement) -> Option<(usize, Finding)> {
    let takes_code = |item: &Item| matches!(word_of(tree, item), Some("accept" | "severity"));
    let at = statement.items.iter().position(|item| matches!(item.kind, ItemKind::Code))?;
    let at = (at..statement.items.len()).find(|at| {
        let before = at.checked_sub(1).and_then(|before| statement.items.get(before));
        let is_code = statement.items.get(*at).is_some_and(|item| matches!(item.kind, ItemKind::Code));
        is_code && !before.is_some_and(takes_code)
    })?;
    Some((at, stray_division(tree, statement.items.get(at)?.span)))
}

fn needs_block(call: &mut Call<'_>, findings: &mut Vec<Finding>) {
    if call.head.block.is_required() && call.block.is_none() && !call.is_broken {
        findings.push(findings::block_missing(call.span, call.head));
        call.is_broken = true;
    }
}

struct Line<'t, 'f> {
    tree: &'f Tree,
    items: &'t [Item],
    at: usize,
    context: &'static Context,
    /// Whether the line breaks before its block; then its head may be written in capitals.
    is_broken: bool,
    findings: &'f mut Vec<Finding>,
}

impl<'t> Line<'t, '_> {
    fn call(&mut self) -> Option<Call<'t>> {
        let item = self.items.get(self.at)?;
        let word = self.word(item)?;
        let lower = if self.is_broken { word.to_lowercase() } else { String::new() };
        let Some(head) = self.context.head(word).or_else(|| self.context.head(&lower)) else {
            self.findings.push(findings::unknown_head(item.span, word, self.context));
            return None;
        };
        self.at += 1;
        let mut call = Call {
            head,
            head_span: item.span,
            span: item.span,
            tail: item.span.after(),
            arguments: Vec::with_capacity(head.params.len()),
            clauses: Vec::new(),
            block: None,
            statements: Vec::new(),
            is_broken: false,
        };
        self.arguments(&mut call);
        Some(call)
    }

    /// What stands behind a head: its parameters, then its clauses.
    fn arguments(&mut self, call: &mut Call<'t>) {
        let head = call.head;
        let mut lacks_word = false;
        for param in head.params {
            let argument = self.argument(param, head);
            if argument.is_empty() && !param.is_optional {
                // Where a word is missing, what stands behind it need not be missed too.
                if !lacks_word {
                    self.findings.push(findings::missing_argument(call.span, head.word, param, head.params));
                }
                lacks_word = matches!(param.shape, Shape::Choice([_]));
                call.is_broken = true;
            }
            if let Some(last) = argument.last() {
                call.span = call.span.to(last.span);
            }
            call.arguments.push(argument);
        }
        self.clauses_into(call);
    }

    /// Clauses up to the next head or the line's end.
    fn clauses_into(&mut self, call: &mut Call<'t>) {
        while let Some(item) = self.items.get(self.at) {
            let word = self.word(item);
            let begins = word.is_some_and(|word| self.context.head(word).is_some());
            // A clause that has been said and also begins a statement now begins one.
            let is_said = word.and_then(|word| call.clause(word)).is_some_and(|said| !said.clause.may_repeat());
            if let Some(clause) = word.and_then(|word| call.head.clause(word)).filter(|_| !(begins && is_said)) {
                self.at += 1;
                self.clause(call, clause, item.span);
            } else if begins {
                return;
            } else {
                let finding = self.stranger(call.head, item, word);
                self.findings.push(finding);
                call.is_broken = true;
                self.skip(call.head);
            }
        }
    }

    fn clause(&mut self, call: &mut Call<'t>, clause: &'static Clause, span: Span) {
        let from = self.at;
        let mut whole = span;
        for param in clause.params {
            let Some(last) = self.argument(param, call.head).last() else {
                self.findings.push(findings::missing_argument(whole, clause.word, param, clause.params));
                call.is_broken = true;
                break;
            };
            whole = whole.to(last.span);
        }
        let argument = self.items.get(from..self.at).unwrap_or(&[]);
        call.span = call.span.to(whole);
        if let Some(first) = call.clause(clause.word).filter(|first| !first.clause.may_repeat()) {
            self.findings.push(findings::twice(whole, clause.word, first.span));
            call.is_broken = true;
        } else {
            call.clauses.push(ClauseCall { clause, span: whole, argument });
        }
    }

    fn stranger(&self, head: &'static Head, item: &Item, word: Option<&str>) -> Finding {
        match word {
            Some(word) => match said_otherwise(head, word) {
                Some(right) => findings::said_otherwise(item.span, word, head.word, right),
                None => findings::unknown_clause(item.span, word, head, self.context),
            },
            None => findings::extra(item.span, head),
        }
    }

    /// To the next word that can be read.
    fn skip(&mut self, head: &Head) {
        self.at += 1;
        while let Some(item) = self.items.get(self.at) {
            let word = self.word(item);
            if word.is_some_and(|word| head.clause(word).is_some() || self.context.head(word).is_some()) {
                return;
            }
            self.at += 1;
        }
    }

    /// The items of one parameter; none when what stands there begins something else.
    fn argument(&mut self, param: &Param, head: &Head) -> &'t [Item] {
        let rest = self.items.get(self.at..).unwrap_or(&[]);
        let takes = match rest.first() {
            None => 0,
            Some(first) if param.shape == Shape::Place && self.word(first) == Some("at") => rest.len().min(2),
            Some(_) if param.shape == Shape::Place => 0,
            Some(first) if self.begins_another(first, param, head) => 0,
            Some(first) if param.is_optional && !self.can_be(first, param.shape) => 0,
            // A word that is always the same is missed rather than what stands in its place.
            Some(first) if matches!(param.shape, Shape::Choice([_])) && self.word(first).is_none() => 0,
            Some(_) if param.shape == Shape::Pattern => self.pattern_items(rest, head),
            Some(_) if param.shape == Shape::Taper => self.taper_items(rest, head),
            Some(_) => 1,
        };
        self.at += takes;
        rest.get(..takes).unwrap_or(&[])
    }

    fn begins_another(&self, item: &Item, param: &Param, head: &Head) -> bool {
        let Some(word) = self.word(item) else { return false };
        // Whatever stands there was meant as the name; a word of the language is told as such.
        if param.shape == Shape::Name {
            return false;
        }
        // A family may be called as a statement is: `accept ring because …`.
        if param.shape == Shape::Code && Codes::find(word).is_some() {
            return false;
        }
        if let Shape::Choice(words) = param.shape {
            let is_meant = words.contains(&word) || !nearest(word, words.iter().copied()).is_empty();
            return !is_meant && (head.clause(word).is_some() || self.context.head(word).is_some());
        }
        head.clause(word).is_some() || self.context.head(word).is_some()
    }

    /// Whether an optional parameter would take this; a wood's name is no count.
    fn can_be(&self, item: &Item, shape: Shape) -> bool {
        match shape {
            Shape::Count | Shape::Length(_) | Shape::Angle | Shape::Taper => {
                matches!(item.kind, ItemKind::Quantity(_) | ItemKind::Expression(_))
            }
            Shape::Choice(_)
            | Shape::Name
            | Shape::Wood
            | Shape::Glue
            | Shape::Finish
            | Shape::Pattern
            | Shape::Place
            | Shape::Chart
            | Shape::Gap
            | Shape::Stagger => self.word(item).is_some(),
            Shape::Fit
            | Shape::Pitch
            | Shape::Number
            | Shape::HumidityRange
            | Shape::SpeedRange
            | Shape::Span
            | Shape::HourRange
            | Shape::Temperature
            | Shape::Moisture
            | Shape::Layer => true,
            Shape::Code => matches!(item.kind, ItemKind::Word | ItemKind::Code),
            Shape::Lengths | Shape::Days => matches!(item.kind, ItemKind::List(_)),
            Shape::Text => matches!(item.kind, ItemKind::Text(_)),
            Shape::Comparison => matches!(item.kind, ItemKind::Comparison(..)),
            Shape::Assignment => matches!(item.kind, ItemKind::Assign(_)),
        }
    }

    /// `mirror [..]` and `scatter [..]` take two items, `rotate 2 [..]` three, in any nesting; all else one.
    fn pattern_items(&self, items: &[Item], head: &Head) -> usize {
        let mut taken = 0;
        while let Some(word) = items.get(taken).and_then(|item| self.word(item)) {
            match word {
                "mirror" | "scatter" => taken += 1,
                "rotate" => taken += 2,
                word if head.clause(word).is_some() || self.context.head(word).is_some() => return taken,
                // A word before a list was meant to say how the list is laid; it is told when it is read.
                _ if items.get(taken + 1).is_some_and(|next| matches!(next.kind, ItemKind::List(_))) => taken += 1,
                _ => break,
            }
        }
        (taken + 1).min(items.len())
    }

    /// One length; with `at` behind it, all up to the next head or clause.
    fn taper_items(&self, items: &[Item], head: &Head) -> usize {
        if items.get(1).and_then(|item| self.word(item)) != Some("at") {
            return 1;
        }
        let ends = |item: &Item| {
            let word = self.word(item);
            word.is_some_and(|word| head.clause(word).is_some() || self.context.head(word).is_some())
        };
        items.iter().take(5).position(ends).unwrap_or(items.len().min(5))
    }

    fn word(&self, item: &Item) -> Option<&'_ str> {
        word_of(self.tree, item)
    }
}

/// How a layer calls what others call `word`.
fn said_otherwise(head: &Head, word: &str) -> Option<&'static str> {
    let right = match word {
        "thick" => "tall",
        "tall" | "high" => "thick",
        _ => return None,
    };
    head.clause(right).map(|_| right)
}

/// The word an item is.
pub(crate) fn word_of<'a>(tree: &'a Tree, item: &Item) -> Option<&'a str> {
    matches!(item.kind, ItemKind::Word).then(|| tree.text(item.span))
}
