//! A line of items to statements with their arguments and clauses, by the vocabulary.

use crate::finding::Finding;
use crate::source::Span;
use crate::syntax::{Block, Item, ItemKind, Statement, Tree};
use crate::vocabulary::{BlockKind, CONTEXTS, Clause, Context, Head, LATER_CLAUSES, Param, Shape};

use super::findings;

/// One statement as the vocabulary reads it.
#[derive(Debug)]
pub(super) struct Call<'t> {
    pub(super) head: &'static Head,
    /// The head word.
    pub(super) head_span: Span,
    /// From the head to the last argument; with the block, if there is one.
    pub(super) span: Span,
    /// The items of each parameter; empty where an optional one is left out.
    pub(super) arguments: Vec<&'t [Item]>,
    pub(super) clauses: Vec<ClauseCall<'t>>,
    pub(super) block: Option<&'t Block>,
    /// Whether something in it was wrong; its findings have been made.
    pub(super) is_broken: bool,
}

/// One clause with its argument.
#[derive(Debug, Clone, Copy)]
pub(super) struct ClauseCall<'t> {
    pub(super) clause: &'static Clause,
    pub(super) span: Span,
    /// Empty when it is missing; its finding has been made.
    pub(super) argument: &'t [Item],
}

impl<'t> Call<'t> {
    pub(super) fn clause(&self, word: &str) -> Option<&ClauseCall<'t>> {
        self.clauses.iter().find(|clause| clause.clause.word == word)
    }

    /// The items of a parameter; `None` when left out or missing.
    pub(super) fn argument(&self, at: usize) -> Option<&'t [Item]> {
        self.arguments.get(at).copied().filter(|items| !items.is_empty())
    }
}

/// Reads the statements of one line.
pub(super) fn split<'t>(
    tree: &Tree,
    statement: &'t Statement,
    context: &'static Context,
    findings: &mut Vec<Finding>,
) -> Vec<Call<'t>> {
    // What is missing on a line that breaks before its block has been told with the break.
    let is_broken = statement.block.as_ref().is_some_and(|block| block.broken_head().is_some());
    let mut told = Vec::new();
    let findings = if is_broken { &mut told } else { findings };
    let mut line = Line { tree, items: &statement.items, at: 0, context, is_broken, findings };
    let mut calls = Vec::with_capacity(1);
    while let Some(call) = line.call() {
        calls.push(call);
    }
    let broken_tail = is_broken || line.at < line.items.len();
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

/// The clauses of the statements in a block.
pub(super) fn split_clauses<'t>(tree: &Tree, call: &mut Call<'t>, block: &'t Block, findings: &mut Vec<Finding>) {
    static NOWHERE: Context = Context { place: "here", heads: &[], later: &[] };
    for node in &block.nodes {
        match node {
            crate::syntax::Node::Broken(_) => call.is_broken = true,
            crate::syntax::Node::Statement(statement) => {
                let mut line =
                    Line { tree, items: &statement.items, at: 0, context: &NOWHERE, is_broken: false, findings };
                line.clauses_into(call);
                if let Some(inner) = &statement.block {
                    findings.push(findings::no_block(inner.open, call.head.word));
                    call.is_broken = true;
                }
            }
        }
    }
}

fn take_block<'t>(call: &mut Call<'t>, block: &'t Block, tree: &Tree, findings: &mut Vec<Finding>) {
    call.span = call.span.to(block.span);
    match call.head.block {
        BlockKind::None => {
            findings.push(findings::no_block(block.open, call.head.word));
            call.is_broken = true;
        }
        BlockKind::Clauses => split_clauses(tree, call, block, findings),
        BlockKind::Statements(_) | BlockKind::Optional(_) | BlockKind::Same => call.block = Some(block),
    }
}

fn needs_block(call: &mut Call<'_>, findings: &mut Vec<Finding>) {
    let wants = matches!(call.head.block, BlockKind::Statements(_) | BlockKind::Same);
    if wants && call.block.is_none() && !call.is_broken {
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
            let anywhere = || CONTEXTS.iter().find_map(|context| context.later(word));
            let finding = match self.context.later(word).or_else(anywhere) {
                Some(later) => findings::not_yet(item.span, later),
                None => findings::unknown_head(item.span, word, self.context),
            };
            self.findings.push(finding);
            return None;
        };
        self.at += 1;
        let mut call = Call {
            head,
            head_span: item.span,
            span: item.span,
            arguments: Vec::with_capacity(head.params.len()),
            clauses: Vec::new(),
            block: None,
            is_broken: false,
        };
        for param in head.params {
            let argument = self.argument(param, head);
            if argument.is_empty() && !param.is_optional {
                self.findings.push(findings::missing_argument(call.span, head.word, param));
                call.is_broken = true;
            }
            if let Some(last) = argument.last() {
                call.span = call.span.to(last.span);
            }
            call.arguments.push(argument);
        }
        self.clauses_into(&mut call);
        Some(call)
    }

    /// Clauses up to the next head or the line's end.
    fn clauses_into(&mut self, call: &mut Call<'t>) {
        while let Some(item) = self.items.get(self.at) {
            let word = self.word(item);
            if let Some(clause) = word.and_then(|word| call.head.clause(word)) {
                self.at += 1;
                self.clause(call, clause, item.span);
            } else if word.is_some_and(|word| self.context.head(word).is_some()) {
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
        let argument = self.argument(&clause.param, call.head);
        let whole = argument.last().map_or(span, |last| span.to(last.span));
        call.span = call.span.to(whole);
        if argument.is_empty() && clause.param.shape != Shape::Flag {
            self.findings.push(findings::missing_argument(span, clause.word, &clause.param));
            call.is_broken = true;
        }
        if let Some(first) = call.clause(clause.word) {
            self.findings.push(findings::twice(whole, clause.word, first.span));
            call.is_broken = true;
        } else {
            call.clauses.push(ClauseCall { clause, span: whole, argument });
        }
    }

    fn stranger(&self, head: &'static Head, item: &Item, word: Option<&str>) -> Finding {
        match word {
            Some(word) => {
                let anywhere = || CONTEXTS.iter().find_map(|context| context.later(word));
                let later = LATER_CLAUSES.iter().find(|later| later.word == word).or_else(anywhere);
                match later {
                    Some(later) => findings::not_yet(item.span, later),
                    None => findings::unknown_clause(item.span, word, head, self.context),
                }
            }
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
            Some(_) if param.shape == Shape::Flag => 0,
            Some(first) if param.shape == Shape::Place && self.word(first) == Some("at") => rest.len().min(2),
            Some(_) if param.shape == Shape::Place => 0,
            Some(first) if self.begins_another(first, param, head) => 0,
            Some(first) if param.is_optional && !self.can_be(first, param.shape) => 0,
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
        if let Shape::Choice(words) = param.shape {
            return !words.contains(&word) && (head.clause(word).is_some() || self.context.head(word).is_some());
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
            | Shape::Pattern
            | Shape::Stagger
            | Shape::Place => self.word(item).is_some(),
            Shape::Flag => false,
            Shape::Fit | Shape::Pitch | Shape::Number | Shape::HumidityRange | Shape::Layer => true,
            Shape::Lengths => matches!(item.kind, ItemKind::List(_)),
            Shape::Text => matches!(item.kind, ItemKind::Text(_)),
            Shape::Comparison => matches!(item.kind, ItemKind::Comparison(..)),
            Shape::Assignment => matches!(item.kind, ItemKind::Assign(_)),
        }
    }

    /// `mirror [..]` takes two items, `rotate 2 [..]` three, in any nesting; all else one.
    fn pattern_items(&self, items: &[Item], head: &Head) -> usize {
        let mut taken = 0;
        while let Some(word) = items.get(taken).and_then(|item| self.word(item)) {
            match word {
                "mirror" => taken += 1,
                "rotate" => taken += 2,
                word if head.clause(word).is_some() || self.context.head(word).is_some() => return taken,
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

/// The word an item is.
pub(super) fn word_of<'a>(tree: &'a Tree, item: &Item) -> Option<&'a str> {
    matches!(item.kind, ItemKind::Word).then(|| tree.text(item.span))
}
