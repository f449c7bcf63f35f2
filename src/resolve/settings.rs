//! What the clauses of a layer say, on its own line or in an `every`.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use crate::quantity::{Count, Length};
use crate::source::Span;
use crate::vocabulary::{Bound, ClauseId, HeadId, LAYER_KINDS, LAYERS};
use crate::workings::{Known, Origin};

use super::recipe::{Gap, Spacer, Stagger};
use super::scope::Scope;
use super::split::{Call, ClauseCall};
use super::{Resolver, findings, layer_findings, read};

/// What layers of one kind take when they do not say otherwise.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Settings {
    pub(super) segments: Option<Known<Count>>,
    /// `thick`, or `tall` of staves.
    pub(super) thick: Option<Known<Length>>,
    pub(super) stagger: Option<Known<Stagger>>,
    pub(super) spacer: Option<Spacer>,
    pub(super) gap: Option<Known<Gap>>,
    pub(super) strip: Option<Known<Length>>,
    pub(super) allow: Option<Known<Length>>,
    pub(super) glue: Option<Known<usize>>,
    /// The `match` clause.
    pub(super) matched: Option<Span>,
    /// A thickness was written and could not be read; its finding has been made.
    pub(super) lost_thick: bool,
}

/// The settings of each kind of layer.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Every([Settings; LAYER_KINDS.len()]);

impl Every {
    pub(super) fn of(&self, kind: &str) -> Settings {
        LAYER_KINDS.iter().position(|known| *known == kind).and_then(|at| self.0.get(at)).copied().unwrap_or_default()
    }

    fn set(&mut self, kind: &str, settings: Settings) {
        if let Some(place) = LAYER_KINDS.iter().position(|known| *known == kind).and_then(|at| self.0.get_mut(at)) {
            *place = settings;
        }
    }
}

impl Resolver<'_> {
    /// `every ring { … }`: what follows in the block takes it unless it says otherwise.
    pub(super) fn every(&mut self, scope: &mut Scope, call: &Call<'_>) {
        let Some(item) = call.argument(0).and_then(<[_]>::first) else { return };
        let choice = read::choice(scope, item, "every", &LAYER_KINDS);
        let Some(which) = self.told(choice) else { return };
        for clause in &call.clauses {
            self.is_of_kind(which, clause);
        }
        let said = self.settings(scope, call, Origin::Every);
        let mut now = said.or(scope.every.of(which));
        // What could not be read of it may have been the thickness.
        now.lost_thick |= call.is_broken && now.thick.is_none();
        scope.every.set(which, now);
    }

    /// Says it when layers of this kind have no such clause.
    fn is_of_kind(&mut self, which: &str, clause: &ClauseCall<'_>) {
        let word = clause.clause.word;
        if LAYERS.head(which).is_none_or(|head| head.clause(word).is_some()) {
            return;
        }
        let has = |kind: &&&str| LAYERS.head(kind).is_some_and(|head| head.clause(word).is_some());
        let others: Vec<&str> = LAYER_KINDS.iter().filter(has).copied().collect();
        self.say(findings::not_of_layer(clause.span, which, word, &others));
    }

    /// What the clauses of a layer or an `every` say.
    pub(super) fn settings(&mut self, scope: &Scope, call: &Call<'_>, origin: fn(Span) -> Origin) -> Settings {
        let mut settings = Settings::default();
        for clause in &call.clauses {
            if clause.clause.id == ClauseId::Match {
                settings.matched = Some(clause.span);
            }
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
                ClauseId::Thick | ClauseId::Tall => {
                    settings.thick = length(self, Bound::Positive);
                    settings.lost_thick = settings.thick.is_none();
                }
                ClauseId::Strip => settings.strip = length(self, Bound::Positive),
                ClauseId::Allow => settings.allow = length(self, Bound::NotNegative),
                ClauseId::Stagger => {
                    let stagger = read::stagger(scope, item);
                    settings.stagger = self.told(stagger).map(|stagger| Known::new(stagger, origin));
                }
                ClauseId::Spacer => settings.spacer = self.spacer(scope, clause, origin),
                ClauseId::Gap => {
                    let gap = read::gap(scope, item);
                    settings.gap = self.told(gap).map(|gap| Known::new(gap, origin));
                }
                ClauseId::Glue => {
                    let glue = self.named_glue(scope, item).map(|glue| Known::new(glue, origin));
                    settings.glue = glue.map(|glue| self.glue_index(glue));
                }
                _ => {}
            }
        }
        if let (Some(spacer), Some(gap)) = (call.clause("spacer"), call.clause("gap")) {
            self.say(layer_findings::gap_and_spacer(gap.span, spacer.span, gap_open(call)));
            settings.gap = None;
        }
        settings
    }

    fn spacer(&mut self, scope: &Scope, clause: &ClauseCall<'_>, origin: Origin) -> Option<Spacer> {
        let (wood, thick) = (clause.argument.first()?, clause.argument.get(1)?);
        let thick = self.told(read::length(scope, thick, "spacer", Bound::Positive));
        let wood = self.plain_wood(&scope.tree, wood, &scope.woods, "spacer");
        Some(Spacer { wood, thick: Known::new(thick?, origin), span: clause.span })
    }
}

/// What the open or filled joints belong to.
fn gap_open(call: &Call<'_>) -> &'static str {
    if call.head.id == HeadId::Every { "layer" } else { call.head.word }
}

impl Settings {
    /// These settings, and `other`'s where these say nothing. A joint is open or filled: what is said nearer
    /// of the one ends what was said of the other.
    pub(super) fn or(self, other: Self) -> Self {
        let has_joint = self.spacer.is_some() || self.gap.is_some();
        Self {
            segments: self.segments.or(other.segments),
            thick: self.thick.or(other.thick),
            stagger: self.stagger.or(other.stagger),
            spacer: if has_joint { self.spacer } else { other.spacer },
            gap: if has_joint { self.gap } else { other.gap },
            strip: self.strip.or(other.strip),
            allow: self.allow.or(other.allow),
            glue: self.glue.or(other.glue),
            matched: self.matched.or(other.matched),
            lost_thick: self.lost_thick || self.thick.is_none() && other.lost_thick,
        }
    }
}
