//! What may be written at a place.

use std::ops::Range;

use crate::finding::catalog::CODES;
use crate::finding::policy::families;
use crate::resolve::FUNCTIONS;
use crate::source::FileId;
use crate::tables::drill_bits::{Series, drill_bits};
use crate::tables::{find_wood, finishes, glues, short_names, woods};
use crate::vocabulary::manual::{clause_usage, usage};
use crate::vocabulary::{Clause, ClauseId, Context, Param, ROWS, SHARE, Shape};

use super::cursor::{Cursor, Expected, Within};
use super::names::Project;
use super::reading::{Kind, Reading};
use super::words;

/// One thing that may be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proposal {
    /// The word.
    pub word: String,
    /// What it is of.
    pub kind: ProposalKind,
    /// Beside the word, in a few words.
    pub detail: String,
    /// What is told of it, in Markdown.
    pub help: String,
    /// What comes first has the least.
    pub order: u8,
}

/// What a proposal is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProposalKind {
    /// The head of a statement.
    Head,
    /// A clause.
    Clause,
    /// A word that an argument may be.
    Choice,
    /// A wood, with its color where it is of the table.
    Wood(Option<&'static str>),
    /// A value that has a name.
    Value,
    /// A chart, a layer, a key.
    Name,
    /// A glue or a finish.
    Material,
    /// A function.
    Function,
    /// The code of a finding.
    Code,
    /// A size.
    Size,
}

/// What may stand at byte `offset` of a file of the recipe, and the stretch that it replaces.
#[must_use]
pub fn proposals(project: &Project<'_>, file: FileId, offset: u32) -> (Range<usize>, Vec<Proposal>) {
    let reading = project.reading(file);
    let cursor = Cursor::at(&reading.tree.source.text, offset as usize);
    let mut list = List { project, file, reading: &reading, cursor: &cursor, all: Vec::new() };
    match cursor.expected {
        Expected::Nothing => {}
        Expected::Head(context) => list.heads(context, 0),
        Expected::Clause(context) => {
            list.clauses();
            if let Some(context) = context {
                list.heads(context, 1);
            }
        }
        Expected::Argument(param, next) => {
            list.argument(param);
            if let Some(next) = next {
                list.argument(next);
            }
            if param.is_optional && next.is_none_or(|next| next.is_optional) && cursor.is_behind_head() {
                list.clauses();
            }
        }
        Expected::Value => list.values(),
        Expected::Wood => list.woods(),
        Expected::ChartLine => list.push(ROWS, ProposalKind::Choice, "the rows, the top one on top", String::new(), 0),
        Expected::Row => list.keys(offset),
    }
    let mut all = list.all;
    let mut seen = std::collections::BTreeSet::new();
    all.retain(|proposal| seen.insert(proposal.word.clone()));
    (cursor.word, all)
}

struct List<'a> {
    project: &'a Project<'a>,
    file: FileId,
    reading: &'a Reading,
    cursor: &'a Cursor,
    all: Vec<Proposal>,
}

impl List<'_> {
    fn push(&mut self, word: &str, kind: ProposalKind, detail: impl Into<String>, help: String, order: u8) {
        self.all.push(Proposal { word: word.to_owned(), kind, detail: detail.into(), help, order });
    }

    fn heads(&mut self, context: &'static Context, order: u8) {
        for head in context.heads {
            self.push(head.word, ProposalKind::Head, usage(head), words::head(head), order);
        }
    }

    /// Those that are not said yet, before the place or behind it.
    fn clauses(&mut self) {
        let Some(within) = &self.cursor.within else { return };
        // A wall may go on behind its first length.
        let tapers = |param: &&Param| param.shape == Shape::Taper && within.clause.is_none();
        if let Some(param) = within.head.params.iter().find(tapers) {
            for word in param.shape.choices() {
                self.push(word, ProposalKind::Choice, param.name, words::choice(param, word), 0);
            }
        }
        let line = self.reading.lines.iter().find(|line| line.head_span.start == within.head_span.start);
        let is_said = |clause: &Clause| {
            let before = within.said.iter().any(|said| said.id == clause.id);
            let at_all = line.is_some_and(|line| line.clauses.iter().any(|said| said.id == clause.id));
            (before || at_all) && !clause.may_repeat()
        };
        let clauses: Vec<&Clause> = within.head.clauses.iter().copied().filter(|clause| !is_said(clause)).collect();
        for clause in clauses {
            self.push(clause.word, ProposalKind::Clause, clause_usage(clause), words::clause(clause), 0);
        }
    }

    fn argument(&mut self, param: &'static Param) {
        for word in param.shape.choices().into_iter().filter(|word| param.shape != Shape::Pattern || *word != SHARE) {
            self.push(word, ProposalKind::Choice, param.name, words::choice(param, word), 0);
        }
        match param.shape {
            Shape::Wood | Shape::Pattern => self.woods(),
            Shape::Glue => self.glues(),
            Shape::Finish => self.finishes(),
            Shape::Chart => self.names(Kind::Chart, "chart"),
            Shape::Layer => self.names(Kind::Layer, "layer"),
            Shape::Code => self.codes(),
            Shape::Lengths => {
                self.sizes();
                self.values();
            }
            Shape::Length(_)
            | Shape::Angle
            | Shape::Count
            | Shape::Gap
            | Shape::Stagger
            | Shape::Fit
            | Shape::Pitch
            | Shape::Number
            | Shape::HumidityRange
            | Shape::SpeedRange
            | Shape::Span
            | Shape::Temperature
            | Shape::Moisture
            | Shape::Comparison
            | Shape::Assignment
            | Shape::Taper => self.values(),
            Shape::Choice(_) | Shape::Name | Shape::Text | Shape::HourRange | Shape::Days | Shape::Place => {}
        }
    }

    fn values(&mut self) {
        self.names(Kind::Value, "value");
        if matches!(self.cursor.expected, Expected::Value)
            || matches!(self.cursor.expected, Expected::Argument(param, _) if param.shape == Shape::Assignment)
        {
            for (name, arguments) in FUNCTIONS {
                let detail = format!("{name}({})", ["a", "b"][..arguments.min(2)].join(", "));
                self.push(name, ProposalKind::Function, detail, String::new(), 1);
            }
        }
    }

    fn names(&mut self, kind: Kind, what: &str) {
        for found in self.project.known(self.file, kind) {
            let Some(definition) = found.definition() else { continue };
            let line = found.reading.tree.text(definition.whole).lines().next().unwrap_or("").to_owned();
            let proposed = if kind == Kind::Value { ProposalKind::Value } else { ProposalKind::Name };
            self.push(&definition.name, proposed, what, format!("```vessel\n{line}\n```"), 0);
        }
    }

    fn keys(&mut self, offset: u32) {
        let chart = self
            .reading
            .definitions
            .iter()
            .rev()
            .find(|definition| definition.kind == Kind::Chart && definition.whole.start <= offset);
        let Some(chart) = chart.map(|chart| chart.whole) else { return };
        let keys: Vec<(String, String)> = self
            .reading
            .definitions
            .iter()
            .filter(|definition| definition.kind == Kind::Key && chart.contains(definition.span))
            .map(|key| (key.name.clone(), self.reading.tree.text(key.whole).to_owned()))
            .collect();
        for (name, whole) in keys {
            self.push(&name, ProposalKind::Name, whole, String::new(), 0);
        }
    }

    /// The recipe's own first, then everyday names, then the table.
    fn woods(&mut self) {
        for found in self.project.known(self.file, Kind::Wood) {
            let Some(definition) = found.definition() else { continue };
            let line = found.reading.tree.text(definition.whole).to_owned();
            self.push(
                &definition.name,
                ProposalKind::Wood(None),
                "of this recipe",
                format!("```vessel\n{line}\n```"),
                0,
            );
        }
        for short in short_names() {
            let candidates: Vec<&str> = short.candidates().collect();
            if let [only] = candidates.as_slice()
                && let Some(wood) = find_wood(only)
            {
                let kind = ProposalKind::Wood(Some(&wood.color_srgb));
                self.push(&short.name, kind, wood.common_name.clone(), words::wood(wood), 1);
            }
        }
        for wood in woods() {
            let kind = ProposalKind::Wood(Some(&wood.color_srgb));
            self.push(&wood.key, kind, wood.common_name.clone(), words::wood(wood), 2);
        }
    }

    fn glues(&mut self) {
        for glue in glues() {
            self.push(&glue.key, ProposalKind::Material, glue.name.clone(), words::glue(glue), 0);
        }
    }

    fn finishes(&mut self) {
        for finish in finishes() {
            self.push(&finish.key, ProposalKind::Material, finish.name.clone(), words::finish(finish), 0);
        }
    }

    fn codes(&mut self) {
        for code in CODES.iter().copied() {
            self.push(code.name, ProposalKind::Code, code.summary, words::page(code), 0);
        }
        for family in families() {
            self.push(family, ProposalKind::Code, "all of the family", String::new(), 1);
        }
    }

    /// The bits of the trade, where a list of bits is written.
    fn sizes(&mut self) {
        let is_of_bits = |within: &Within| within.clause.is_some_and(|clause| clause.id == ClauseId::Bits);
        if !self.cursor.within.as_ref().is_some_and(is_of_bits) {
            return;
        }
        for bit in drill_bits() {
            let unit = match bit.series {
                Series::Inch => "in",
                Series::Metric => "mm",
            };
            let word = format!("{} {unit}", bit.nominal);
            self.push(&word, ProposalKind::Size, format!("{:?} bit", bit.kind).to_lowercase(), String::new(), 0);
        }
    }
}
