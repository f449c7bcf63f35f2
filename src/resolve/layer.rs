//! One statement to its layer, or to its layers.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use crate::quantity::Count;
use crate::source::{Span, Spanned};
use crate::vocabulary::{Bound, ClauseId, HeadId};
use crate::workings::{Known, Origin};

use super::file::File;
use super::layers::Stack;
use super::recipe::{Gap, Layer, LayerKind, LayerLine, Pattern, Plug, Ring, Set, SlantRing, Stagger};
use super::scatter::Chance;
use super::scope::Scope;
use super::settings::Settings;
use super::split::{Call, ClauseCall};
use super::{Resolver, SEGMENTS, findings, layer_findings, read};

/// Most rings of one cone: they are sawn from one board, from the outside in.
const CONE_RINGS: u32 = 100;

impl Resolver<'_> {
    /// The layers of one statement, the lowest first; `None` when it could not be read.
    pub(super) fn layer(
        &mut self,
        scope: &Scope,
        call: &Call<'_>,
        file: &File,
        stack: &mut Stack,
    ) -> Option<Vec<Layer>> {
        let every = if call.head.id == HeadId::Rings { "ring" } else { call.head.word };
        let own = self.settings(scope, call, Origin::Written);
        let has_own = |id| call.clauses.iter().any(|clause| clause.clause.id == id);
        let settings = own.or(scope.every.of(every));
        let name = self.layer_name(scope, call, stack);
        let kinds = self.kinds(scope, call, stack, &settings);
        if settings.thick.is_none() && !settings.lost_thick && !call.is_broken {
            let clause = if call.head.id == HeadId::Staves { "tall" } else { "thick" };
            self.say(findings::missing_thick(call.head_span, call.head.word, clause, every));
        }
        let glue = match settings.glue {
            Some(glue) => glue,
            None => file.shop.glue().map(|glue| self.glue_index(glue))?,
        };
        // A clause that could not be read must not quietly fall back to an `every`.
        if settings.lost_thick || has_own(ClauseId::Segments) && own.segments.is_none() {
            return None;
        }
        let (kinds, thick) = (kinds?, settings.thick?);
        let is_alone = kinds.len() == 1;
        let has_count = !matches!(call.head.id, HeadId::Disc | HeadId::Sheet | HeadId::Cone);
        let count = call.argument(0).filter(|_| has_count).and_then(<[_]>::first).map(|item| item.span);
        let layers = kinds.into_iter().enumerate().map(|(at, kind)| Layer {
            kind,
            thick,
            allow: settings.allow.unwrap_or(file.shop.allowance()),
            glue,
            name: name.as_ref().map(|name| if is_alone { name.clone() } else { numbered(name, at + 1) }),
            span: call.span,
            head: call.head_span,
            line: LayerLine { tail: call.tail, count },
        });
        Some(layers.collect())
    }

    fn kinds(&mut self, scope: &Scope, call: &Call<'_>, stack: &Stack, settings: &Settings) -> Option<Vec<LayerKind>> {
        match call.head.id {
            HeadId::Disc | HeadId::Sheet => self.disc(scope, call).map(|disc| vec![disc]),
            HeadId::Cone => self.cone(scope, call),
            HeadId::Rings => self.rings(scope, call, settings),
            HeadId::Wedges => {
                let plug = call.clause("plug").map(|clause| self.plug(scope, clause));
                let ring = self.ring(scope, call, stack, settings, Set::ToMiddle { plug: plug.flatten() });
                // A plug that could not be read is not quietly left out.
                if matches!(plug, Some(None)) { None } else { ring }
            }
            HeadId::Staves => self.ring(scope, call, stack, settings, Set::Upright),
            _ => self.ring(scope, call, stack, settings, Set::Round),
        }
    }

    fn ring(
        &mut self,
        scope: &Scope,
        call: &Call<'_>,
        stack: &Stack,
        settings: &Settings,
        set: Set,
    ) -> Option<Vec<LayerKind>> {
        let segments = self.segments(scope, call, settings);
        let chance = self.chance(scope, call, stack, segments);
        let pattern = call.argument(1).and_then(|items| self.pattern(scope, items, &chance?));
        let ring = self.of_segments((segments?, call.head_span), settings, set, pattern?)?;
        Some(vec![LayerKind::Ring(ring)])
    }

    /// `rings waves turn 1`
    fn rings(&mut self, scope: &Scope, call: &Call<'_>, settings: &Settings) -> Option<Vec<LayerKind>> {
        let segments = self.segments(scope, call, settings);
        let turn = match call.clause("turn") {
            Some(clause) => self.told(read::count(scope, clause.argument.first()?, "turn")).map(|turn| turn.0 as usize),
            None => Some(0),
        };
        let patterns = self.chart_patterns(scope, call.argument(1)?.first()?, turn?)?;
        let mut layers = Vec::with_capacity(patterns.len());
        for pattern in patterns {
            let ring = self.of_segments((segments?, call.head_span), settings, Set::Round, pattern)?;
            layers.push(LayerKind::Ring(ring));
        }
        Some(layers)
    }

    fn of_segments(
        &mut self,
        (segments, head): (Known<Count>, Span),
        settings: &Settings,
        set: Set,
        pattern: Pattern,
    ) -> Option<Ring> {
        if !self.has_room(segments, head) {
            return None;
        }
        if let Some(gap) = settings.gap {
            self.leaves_segments(gap, segments)?;
        }
        Some(Ring {
            segments,
            set,
            pattern,
            stagger: settings.stagger.unwrap_or(Known::new(
                Stagger::Half,
                Origin::Default(&"joints as far from those below as the counts allow"),
            )),
            strip: settings.strip,
            spacer: settings.spacer,
            gap: settings.gap,
            matched: settings.matched.filter(|_| !matches!(set, Set::Upright)),
        })
    }

    /// `ring 8 …`, `segments 8`, an `every` or 12; a count that a ring can have, or its finding said.
    fn segments(&mut self, scope: &Scope, call: &Call<'_>, settings: &Settings) -> Option<Known<Count>> {
        let mut segments = settings.segments;
        if let Some(item) = call.argument(0).and_then(<[_]>::first) {
            if let Some(clause) = call.clause("segments") {
                self.say(findings::twice(clause.span, "segments", item.span));
            }
            let count = read::count(scope, item, call.head.word);
            segments = Some(Known::new(self.told(count)?, Origin::Written(item.span)));
        } else if call.clause("segments").is_some() && segments.is_none() {
            return None;
        }
        let segments = segments.unwrap_or(Known::new(Count(12), Origin::Default(&"a ring has 12 segments")));
        let (least, most, count) = (*SEGMENTS.start(), *SEGMENTS.end(), segments.value.0);
        let span = segments.origin.span().unwrap_or(call.head_span);
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

    fn chance(
        &mut self,
        scope: &Scope,
        call: &Call<'_>,
        stack: &Stack,
        segments: Option<Known<Count>>,
    ) -> Option<Chance> {
        let (seed, apart) = (call.clause("seed"), call.clause("apart"));
        let number = match seed {
            Some(clause) => self.told(read::count(scope, clause.argument.first()?, "seed"))?,
            None => Count(1),
        };
        Some(Chance {
            segments: segments.map(|segments| segments.value),
            seed: number,
            is_apart: apart.is_some(),
            layer: (stack.kind, stack.layers.len() + 1),
            clause: apart.or(seed).map(|clause| (clause.span, clause.clause.word)),
        })
    }

    /// Whether a gap leaves anything of the segments; its finding is said when not.
    fn leaves_segments(&mut self, gap: Known<Gap>, segments: Known<Count>) -> Option<()> {
        let pitch = 360.0 / f64::from(segments.value.0);
        let is_too_wide = match gap.value {
            Gap::Angle(angle) => angle.degrees() >= pitch,
            Gap::Share(share) => share.value() >= 1.0,
        };
        if !is_too_wide {
            return Some(());
        }
        let span = gap.origin.span()?;
        self.say(layer_findings::gap_too_wide(span, gap.value, segments.value.0, pitch));
        None
    }

    fn disc(&mut self, scope: &Scope, call: &Call<'_>) -> Option<LayerKind> {
        let item = call.argument(0)?.first()?;
        let is_sheet = call.head.id == HeadId::Sheet;
        let wood = if is_sheet {
            self.plain_wood(&scope.tree, item, &scope.woods, "sheet")
        } else {
            self.wood(&scope.tree, item, &scope.woods, "disc")
        };
        Some(LayerKind::Disc { wood, wood_span: item.span, is_sheet })
    }

    fn cone(&mut self, scope: &Scope, call: &Call<'_>) -> Option<Vec<LayerKind>> {
        let item = call.argument(0)?.first()?;
        let wood = self.plain_wood(&scope.tree, item, &scope.woods, "cone");
        let Some(clause) = call.clause("rings") else {
            if !call.is_broken {
                let why = "the angle of the cuts follows from how many rings the board gives";
                self.say(findings::missing_clause(call.head_span, "cone", "rings", why, "rings 5"));
            }
            return None;
        };
        let rings_item = clause.argument.first()?;
        let of = self.told(read::count(scope, rings_item, "rings"))?;
        if !(1..=CONE_RINGS).contains(&of.0) {
            self.say(layer_findings::cone_rings(rings_item.span, of.0, CONE_RINGS));
            return None;
        }
        let cone = self.cones;
        self.cones += 1;
        let of = Known::new(of, Origin::Written(clause.span));
        let slant = |ring| LayerKind::Slant(SlantRing { wood, wood_span: item.span, cone, ring, of });
        Some((0..of.value.0).map(slant).collect())
    }

    /// `plug walnut 3/4`
    fn plug(&mut self, scope: &Scope, clause: &ClauseCall<'_>) -> Option<Plug> {
        let (wood, diameter) = (clause.argument.first()?, clause.argument.get(1)?);
        let diameter = self.told(read::length(scope, diameter, "plug", Bound::Positive));
        let wood = self.wood(&scope.tree, wood, &scope.woods, "plug");
        Some(Plug { wood, diameter: Known::new(diameter?, Origin::Written(clause.span)), span: clause.span })
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

/// The name of one of several layers that a statement makes.
fn numbered(name: &Spanned<String>, number: usize) -> Spanned<String> {
    Spanned::new(format!("{}-{number}", name.value), name.span)
}
