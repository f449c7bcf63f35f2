//! An insert: what is let in, where, and what is settled of its hole, its blank and its glue.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use crate::quantity::{Angle, Dimension, Length};
use crate::source::{Span, Spanned};
use crate::syntax::{Block, Node};
use crate::vocabulary::{Bound, Context, HeadId, INSERT, PARTS, PLACES};
use crate::workings::{Known, Origin};

use super::file::File;
use super::fittings::{Blank, Insert, InsertForm, SaidHole, Seat, Shown};
use super::recipe::PartKind;
use super::scope::Scope;
use super::split::{Call, split, word_of};
use super::value::Value;
use super::{Resolver, findings, fitting_findings, read};

/// The statements in a block of clauses that are heads of their own.
pub(super) struct Said<'t> {
    pub(super) calls: Vec<Call<'t>>,
    /// Whether all of it could be read.
    pub(super) is_whole: bool,
}

impl<'t> Said<'t> {
    pub(super) fn of(&self, id: HeadId) -> Option<&Call<'t>> {
        self.calls.iter().find(|call| call.head.id == id)
    }
}

impl Resolver<'_> {
    pub(super) fn insert(&mut self, scope: &Scope, call: &Call<'_>, file: &File, inserts: &mut Vec<Insert>) {
        let Some(name) = self.insert_name(scope, call, inserts) else { return };
        let Some(block) = call.block else { return };
        let said = self.said(scope, (block, call.span), &INSERT);
        inserts.extend(self.read_insert(scope, call, file, &said, name));
    }

    /// Any word will do, also one of the language: an insert may be called `plug`.
    fn insert_name(&mut self, scope: &Scope, call: &Call<'_>, inserts: &[Insert]) -> Option<Spanned<String>> {
        let item = call.argument(0)?.first()?;
        let Some(name) = word_of(&scope.tree, item) else {
            self.say(findings::wrong_kind(item, "insert", "a name in lower-case letters"));
            return None;
        };
        if let Some(known) = inserts.iter().find(|known| known.name.value == name) {
            self.say(findings::name_twice(item.span, name, known.name.span));
            return None;
        }
        Some(Spanned::new(name.to_owned(), item.span))
    }

    /// Every statement of the block of the statement at `within`, each head once.
    pub(super) fn said<'t>(
        &mut self,
        scope: &Scope,
        (block, within): (&'t Block, Span),
        context: &'static Context,
    ) -> Said<'t> {
        let mut said = Said { calls: Vec::new(), is_whole: true };
        for node in &block.nodes {
            let Node::Statement(statement) = node else {
                said.is_whole = false;
                continue;
            };
            let mut found = Vec::new();
            let calls = split(&scope.tree, statement, context, &mut found);
            self.note_accepts(&scope.tree, &calls, Some(within));
            for call in calls.into_iter().filter(|call| call.head.id != HeadId::Accept) {
                if let Some(first) = said.of(call.head.id) {
                    found.push(findings::twice(call.head_span, call.head.word, first.head_span));
                } else {
                    said.calls.push(call);
                }
            }
            said.is_whole &= found.is_empty();
            self.say_all(found);
        }
        said
    }

    fn read_insert(
        &mut self,
        scope: &Scope,
        call: &Call<'_>,
        file: &File,
        said: &Said<'_>,
        name: Spanned<String>,
    ) -> Option<Insert> {
        let head = call.head_span.to(name.span);
        let form = self.form(scope, said, head, &name.value);
        let seat = self.seat(scope, said, head, &name.value);
        let hole = said.of(HeadId::Hole);
        let hole_diameter = hole.and_then(|hole| self.maybe_length(scope, hole, "diameter"));
        let hole_depth = hole.and_then(|hole| self.maybe_length(scope, hole, "deep"));
        // A clause that is the only one goes with its head.
        let whole = |word: &str| {
            let (hole, clause) = hole.and_then(|hole| hole.clause(word).map(|clause| (hole, clause)))?;
            Some(if hole.clauses.len() == 1 { hole.span } else { clause.span })
        };
        let said_hole = SaidHole { diameter: whole("diameter"), deep: whole("deep") };
        let blank = said.of(HeadId::Blank).and_then(|call| {
            let square = self.clause_length(scope, call, "square", "of the stick it is turned from", "square 1");
            let long = self.clause_length(scope, call, "long", "of the stick it is turned from", "long 3");
            Some(Blank { square: square?, long: long? })
        });
        let shows = said.of(HeadId::Shows).and_then(|call| {
            let diameter = self.clause_length(scope, call, "diameter", "of what is seen", "diameter 1");
            let tall = self.clause_length(scope, call, "tall", "of what is seen", "tall 2");
            Some(Shown { diameter: diameter?, tall: tall? })
        });
        let is_liner = matches!(form, Some(InsertForm::Liner { .. }));
        for id in [HeadId::Wood, HeadId::Blank, HeadId::Shows, HeadId::GlueOf].into_iter().filter(|_| is_liner) {
            if let Some(call) = said.of(id) {
                self.say(fitting_findings::not_of_a_liner(call.head_span, call.head.word));
            }
        }
        let wood_item = said.of(HeadId::Wood).and_then(|call| call.argument(0)).and_then(<[_]>::first);
        let wood = wood_item.filter(|_| !is_liner).map(|item| self.plain_wood(&scope.tree, item, &scope.woods, "wood"));
        if wood.is_none() && !is_liner && said.is_whole {
            self.say(fitting_findings::no_wood(head, &name.value));
        }
        let own_glue = said.of(HeadId::GlueOf).and_then(|call| call.argument(0)).and_then(<[_]>::first);
        let glue = match own_glue {
            Some(item) => self.named_glue(scope, item).map(|glue| Known::new(glue, Origin::Written(item.span))),
            None => file.shop.glue(),
        };
        let glue = glue.filter(|_| !is_liner).map(|glue| self.glue_index(glue));
        let span = call.span;
        Some(Insert {
            name,
            wood,
            seat: seat?,
            form: form?,
            hole_diameter,
            hole_depth,
            said_hole,
            blank,
            shows,
            glue,
            span,
            head,
        })
    }

    fn form(&mut self, scope: &Scope, said: &Said<'_>, insert: Span, name: &str) -> Option<InsertForm> {
        let is_form = |id| matches!(id, HeadId::TenonOf | HeadId::PlugOf | HeadId::Medallion | HeadId::Liner);
        let mut forms = said.calls.iter().filter(|call| is_form(call.head.id));
        let Some(call) = forms.next() else {
            if said.is_whole {
                self.say(fitting_findings::no_form(insert, name));
            }
            return None;
        };
        if let Some(other) = forms.next() {
            let finding = fitting_findings::two_forms(other.head_span, other.head.word, call.head_span, call.head.word);
            self.say(finding);
            return None;
        }
        let diameter = self.clause_length(scope, call, "diameter", "its hole follows from it", "diameter 1/2");
        let thick =
            |resolver: &mut Self| resolver.clause_length(scope, call, "thick", "its hole is as deep", "thick 1/4");
        Some(match call.head.id {
            HeadId::TenonOf => {
                let diameter = diameter?;
                let long = match call.clause("long") {
                    Some(_) => Some(self.maybe_length(scope, call, "long")?),
                    None => None,
                };
                InsertForm::Tenon { diameter, long }
            }
            HeadId::PlugOf => InsertForm::Plug { thick: thick(self)?, diameter: diameter? },
            HeadId::Medallion => InsertForm::Medallion { thick: thick(self)?, diameter: diameter? },
            _ => {
                let tall = self.clause_length(scope, call, "tall", "its hole is as deep", "tall 3");
                InsertForm::Liner { tall: tall?, diameter: diameter? }
            }
        })
    }

    fn seat(&mut self, scope: &Scope, said: &Said<'_>, insert: Span, name: &str) -> Option<Seat> {
        let Some(call) = said.of(HeadId::Into) else {
            if said.is_whole {
                self.say(fitting_findings::no_seat_said(insert, name));
            }
            return None;
        };
        let (part_item, place_item) = (call.argument(0)?.first()?, call.argument(1)?.first()?);
        let part = self.told(read::choice(scope, part_item, "into", PARTS));
        let place = self.told(read::choice(scope, place_item, "into", PLACES));
        let (part, place) = (part?, place?);
        let seat = match (part, place) {
            ("lid", "top") => Seat::LidTop,
            ("lid", "inside") => Seat::LidInside,
            ("body", "base") => Seat::BodyBase,
            ("body", "inside") => Seat::BodyInside,
            ("body", "side") => return self.side(scope, call),
            _ => {
                self.say(fitting_findings::no_such_place(part_item.span.to(place_item.span), part, place));
                return None;
            }
        };
        for word in ["at", "facing"] {
            if let Some(clause) = call.clause(word) {
                self.say(fitting_findings::only_of_a_side(clause.span, word));
            }
        }
        Some(seat)
    }

    fn side(&mut self, scope: &Scope, call: &Call<'_>) -> Option<Seat> {
        let at = self.clause_length(scope, call, "at", "the height of its middle", "at 2");
        let facing = match call.clause("facing").and_then(|clause| clause.argument.first()) {
            None => None,
            Some(item) => {
                let angle = match read::value(scope, item, "facing", "an angle") {
                    Ok(Value::Of(degrees, Dimension::ANGLE)) => Ok(Angle::from_degrees(degrees)),
                    Ok(other) => {
                        let text = scope.tree.text(item.span);
                        Err(findings::wrong_dimension(item.span, "facing", "an angle", text, other.words()))
                    }
                    Err(finding) => Err(finding),
                };
                Some(Known::new(self.told(angle)?, Origin::Written(item.span)))
            }
        };
        Some(Seat::BodySide { at: at?, facing })
    }

    /// The length of a clause that must be there; what is missing is said.
    fn clause_length(
        &mut self,
        scope: &Scope,
        call: &Call<'_>,
        word: &'static str,
        why: &str,
        example: &str,
    ) -> Option<Known<Length>> {
        if call.clause(word).is_none() && !call.is_broken {
            self.say(findings::missing_clause(call.span, call.head.word, word, why, example));
        }
        self.maybe_length(scope, call, word)
    }

    /// The length of a clause that may be there.
    pub(super) fn maybe_length(&mut self, scope: &Scope, call: &Call<'_>, word: &'static str) -> Option<Known<Length>> {
        let item = call.clause(word)?.argument.first()?;
        let length = self.told(read::length(scope, item, word, Bound::Positive))?;
        Some(Known::new(length, Origin::Written(item.span)))
    }

    /// The part behind a head.
    pub(super) fn part(&mut self, scope: &Scope, call: &Call<'_>) -> Option<(PartKind, Span)> {
        let item = call.argument(0)?.first()?;
        let word = self.told(read::choice(scope, item, call.head.word, PARTS))?;
        Some((if word == "lid" { PartKind::Lid } else { PartKind::Body }, item.span))
    }
}
