//! Stacks: rings, discs, repeats of them, and what holds for every one.

use std::collections::BTreeMap;

use crate::quantity::Count;
use crate::source::{Span, Spanned};
use crate::syntax::{Block, Node};
use crate::vocabulary::{Bound, ClauseId, HeadId, LAYERS};
use crate::workings::{Known, Origin};

use super::file::File;
use super::recipe::{Layer, LayerKind, Ring, Stagger};
use super::scope::{Scope, Settings};
use super::split::{Call, split};
use super::value::Value;
use super::{Resolver, SEGMENTS, findings, read};

/// One stack as far as it could be read.
#[derive(Debug)]
pub(super) struct Stack {
    pub(super) layers: Vec<Layer>,
    /// Its head word.
    pub(super) span: Span,
    /// Whether a layer could not be read; it and all above it are left out.
    pub(super) is_cut_short: bool,
    names: BTreeMap<String, Span>,
}

impl Resolver<'_> {
    /// `body { … }` or `lid { … }`
    pub(super) fn stack(&mut self, scope: &mut Scope, call: &Call<'_>, file: &File) -> Option<Stack> {
        let mut stack =
            Stack { layers: Vec::new(), span: call.head_span, is_cut_short: call.is_broken, names: BTreeMap::new() };
        let mark = scope.enter();
        self.layers(scope, call.block?, file, &mut stack);
        scope.leave(&mark);
        if stack.layers.is_empty() && !stack.is_cut_short {
            self.say(findings::empty_stack(call.head_span, call.head.word));
            return None;
        }
        Some(stack)
    }

    fn layers(&mut self, scope: &mut Scope, block: &Block, file: &File, stack: &mut Stack) {
        let tree = std::rc::Rc::clone(&scope.tree);
        for node in &block.nodes {
            let Node::Statement(statement) = node else {
                stack.is_cut_short = true;
                continue;
            };
            let mut said = Vec::new();
            let calls = split(&tree, statement, &LAYERS, &mut said);
            stack.is_cut_short |= calls.is_empty();
            self.say_all(said);
            for call in &calls {
                match call.head.id {
                    HeadId::Ring | HeadId::Disc => {
                        let layer = self.layer(scope, call, file, stack);
                        match layer {
                            Some(layer) if !stack.is_cut_short => stack.layers.push(layer),
                            Some(_) => {}
                            None => stack.is_cut_short = true,
                        }
                    }
                    HeadId::Every => self.every(scope, call),
                    HeadId::Let => self.define(call, scope),
                    HeadId::Repeat => {
                        let went = self.repeat(scope, call, &mut |resolver, scope, block| {
                            resolver.layers(scope, block, file, stack);
                        });
                        stack.is_cut_short |= !went;
                    }
                    HeadId::Units
                    | HeadId::Use
                    | HeadId::Shop
                    | HeadId::Wood
                    | HeadId::Vessel
                    | HeadId::Outside
                    | HeadId::Inside
                    | HeadId::At
                    | HeadId::Bead
                    | HeadId::Cove
                    | HeadId::Foot
                    | HeadId::Wall
                    | HeadId::Floor
                    | HeadId::Top
                    | HeadId::Body
                    | HeadId::Lid
                    | HeadId::Expect => {}
                }
            }
        }
    }

    /// Runs the block N times; `false` when N or a name could not be read or the turns ran out.
    pub(super) fn repeat(
        &mut self,
        scope: &mut Scope,
        call: &Call<'_>,
        run: &mut dyn FnMut(&mut Self, &mut Scope, &Block),
    ) -> bool {
        let (Some(item), Some(block)) = (call.argument(0).and_then(<[_]>::first), call.block) else { return false };
        let count = read::count(scope, item, "repeat");
        let Some(count) = self.told(count) else { return false };
        let name = call.clause("as").and_then(|clause| clause.argument.first());
        let named = match name {
            Some(item) => {
                let read = read::name(scope, item, "as").map(ToOwned::to_owned);
                match self.told(read) {
                    Some(name) => Some((name, item.span)),
                    None => return false,
                }
            }
            None => None,
        };
        for turn in 1..=count.0 {
            if !self.turn(call.head_span.to(item.span)) {
                return false;
            }
            let mark = scope.enter();
            if let Some((name, span)) = &named {
                let defined = scope.define(name, Value::Bare(f64::from(turn), scope.bare), *span);
                self.told(defined);
            }
            run(self, scope, block);
            scope.leave(&mark);
        }
        !call.is_broken
    }

    /// `every ring { … }`: what follows in the block takes it unless it says otherwise.
    pub(super) fn every(&mut self, scope: &mut Scope, call: &Call<'_>) {
        let Some(item) = call.argument(0).and_then(<[_]>::first) else { return };
        let choice = read::choice(scope, item, "every", &["ring", "disc"]);
        let Some(which) = self.told(choice) else { return };
        let before = if which == "ring" { scope.ring } else { scope.disc };
        if which == "disc" {
            for clause in &call.clauses {
                if matches!(clause.clause.id, ClauseId::Segments | ClauseId::Stagger | ClauseId::Strip) {
                    self.say(findings::not_of_disc(clause.span, clause.clause.word));
                }
            }
        }
        let said = self.settings(scope, call, Origin::Every);
        let mut now = said.or(before);
        // What could not be read of it may have been the thickness.
        now.lost_thick |= call.is_broken && now.thick.is_none();
        if which == "ring" {
            scope.ring = now;
        } else {
            scope.disc = now;
        }
    }

    /// What the clauses of a layer or an `every` say.
    fn settings(&mut self, scope: &Scope, call: &Call<'_>, origin: fn(Span) -> Origin) -> Settings {
        let mut settings = Settings::default();
        for clause in &call.clauses {
            let Some(item) = clause.argument.first() else { continue };
            let (word, origin) = (clause.clause.word, origin(clause.span));
            let length = |resolver: &mut Self, bound| {
                let length = read::length(scope, item, word, bound);
                resolver.told(length).map(|length| Known::new(length, origin))
            };
            match clause.clause.id {
                ClauseId::Segments => {
                    let count = read::count(scope, item, word);
                    settings.segments = self.told(count).map(|count| Known::new(count, origin));
                }
                ClauseId::Thick => {
                    settings.thick = length(self, Bound::Positive);
                    settings.lost_thick = settings.thick.is_none();
                }
                ClauseId::Strip => settings.strip = length(self, Bound::Positive),
                ClauseId::Allow => settings.allow = length(self, Bound::NotNegative),
                ClauseId::Stagger => {
                    let stagger = read::stagger(scope, item);
                    settings.stagger = self.told(stagger).map(|stagger| Known::new(stagger, origin));
                }
                ClauseId::Glue => {
                    let glue = self.named_glue(scope, item).map(|glue| Known::new(glue, origin));
                    settings.glue = glue.map(|glue| self.glue_index(glue));
                }
                ClauseId::Diameter
                | ClauseId::Straight
                | ClauseId::Smooth
                | ClauseId::Round
                | ClauseId::Tall
                | ClauseId::Proud
                | ClauseId::Deep
                | ClauseId::As
                | ClauseId::Like
                | ClauseId::Name
                | ClauseId::Kerf
                | ClauseId::Sanding
                | ClauseId::Allowance
                | ClauseId::Clamps
                | ClauseId::SafePiece
                | ClauseId::Hold
                | ClauseId::LeastGlue
                | ClauseId::LeastWall => {}
            }
        }
        settings
    }

    fn layer(&mut self, scope: &Scope, call: &Call<'_>, file: &File, stack: &mut Stack) -> Option<Layer> {
        let is_ring = call.head.id == HeadId::Ring;
        let own = self.settings(scope, call, Origin::Written);
        let has_own = |id| call.clauses.iter().any(|clause| clause.clause.id == id);
        let settings = own.or(if is_ring { scope.ring } else { scope.disc });
        let name = self.layer_name(scope, call, stack);
        let kind = if is_ring { self.ring(scope, call, file, &settings) } else { self.disc(scope, call, file) };
        if settings.thick.is_none() && !settings.lost_thick && !call.is_broken {
            self.say(findings::missing_thick(call.head_span, call.head.word));
        }
        let glue = match settings.glue {
            Some(glue) => glue,
            None => file.shop.glue().map(|glue| self.glue_index(glue))?,
        };
        // A clause that could not be read must not quietly fall back to an `every`.
        if settings.lost_thick || has_own(ClauseId::Segments) && own.segments.is_none() {
            return None;
        }
        Some(Layer {
            kind: kind?,
            thick: settings.thick?,
            allow: settings.allow.unwrap_or(file.shop.allowance()),
            glue,
            name,
            span: call.span,
            head: call.head_span,
        })
    }

    fn ring(&mut self, scope: &Scope, call: &Call<'_>, file: &File, settings: &Settings) -> Option<LayerKind> {
        let pattern = call.argument(1).and_then(|items| self.pattern(scope, items, &file.woods));
        let mut segments = settings.segments;
        if let Some(item) = call.argument(0).and_then(<[_]>::first) {
            if let Some(clause) = call.clause("segments") {
                self.say(findings::twice(clause.span, "segments", item.span));
            }
            let count = read::count(scope, item, "ring");
            segments = Some(Known::new(self.told(count)?, Origin::Written(item.span)));
        }
        let segments = segments.unwrap_or(Known::new(Count(12), Origin::Default(&"a ring has 12 segments")));
        Some(LayerKind::Ring(Ring {
            segments: self.possible(segments, call.head_span)?,
            pattern: pattern?,
            stagger: settings.stagger.unwrap_or(Known::new(
                Stagger::Half,
                Origin::Default(&"joints as far from those below as the counts allow"),
            )),
            strip: settings.strip,
        }))
    }

    /// A count that a ring can have, or its finding said.
    fn possible(&mut self, segments: Known<Count>, head: Span) -> Option<Known<Count>> {
        let (least, most, count) = (*SEGMENTS.start(), *SEGMENTS.end(), segments.value.0);
        let span = segments.origin.span().unwrap_or(head);
        let finding = if count < least {
            findings::too_few_segments(span, count)
        } else if count > most {
            findings::too_many_segments(span, count, most)
        } else {
            return Some(segments);
        };
        self.say(finding);
        None
    }

    fn disc(&mut self, scope: &Scope, call: &Call<'_>, file: &File) -> Option<LayerKind> {
        let item = call.argument(0)?.first()?;
        Some(LayerKind::Disc { wood: self.wood(&scope.tree, item, &file.woods, "disc"), wood_span: item.span })
    }

    fn layer_name(&mut self, scope: &Scope, call: &Call<'_>, stack: &mut Stack) -> Option<Spanned<String>> {
        let item = call.clause("name")?.argument.first()?;
        let read = read::name(scope, item, "name").map(ToOwned::to_owned);
        let name = self.told(read)?;
        match stack.names.insert(name.clone(), item.span) {
            None => {}
            Some(first) if first == item.span => self.say(findings::layer_name_repeated(item.span, &name)),
            Some(first) => self.say(findings::name_twice(item.span, &name, first)),
        }
        Some(Spanned::new(name, item.span))
    }
}

impl Settings {
    /// These settings, and `other`'s where these say nothing.
    fn or(self, other: Self) -> Self {
        Self {
            segments: self.segments.or(other.segments),
            thick: self.thick.or(other.thick),
            stagger: self.stagger.or(other.stagger),
            strip: self.strip.or(other.strip),
            allow: self.allow.or(other.allow),
            glue: self.glue.or(other.glue),
            lost_thick: self.lost_thick || self.thick.is_none() && other.lost_thick,
        }
    }
}
