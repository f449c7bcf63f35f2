//! `joint`, `parted` and `lives`: how lid and body meet, and the air they live in.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use crate::finding::Finding;
use crate::quantity::{Count, Dimension, Humidity, Length, Ratio, System};
use crate::source::Span;
use crate::syntax::{Item, ItemKind};
use crate::vocabulary::{Bound, ClauseId, FITS};
use crate::workings::{Known, Origin};

use super::fittings::{Fit, Joint, JointKind, Lives, Parted, Thread};
use super::recipe::{Outside, PartKind};
use super::scope::Scope;
use super::split::{Call, word_of};
use super::value::Value;
use super::{Resolver, findings, joint_findings, read};

/// A joint as written, before what was not said is taken from the shape.
#[derive(Debug, Clone, Copy)]
pub(super) struct JointSaid {
    kind: JointKind,
    on: Option<Known<PartKind>>,
    long: Option<Known<Length>>,
    fit: Option<Known<Fit>>,
    wall: Option<Known<Length>>,
    pitch: Option<Known<Length>>,
    starts: Option<Known<Count>>,
    turns: Option<Known<Ratio>>,
    span: Span,
    pub(super) head: Span,
    tail: Span,
}

impl Resolver<'_> {
    /// `joint tenon { … }`
    pub(super) fn joint(&mut self, scope: &Scope, call: &Call<'_>) -> Option<JointSaid> {
        let item = call.argument(0)?.first()?;
        let word = self.told(read::choice(scope, item, "joint", &["tenon", "inset", "over", "thread"]))?;
        let kind = match word {
            "inset" => JointKind::Inset,
            "over" => JointKind::Over,
            "thread" => JointKind::Thread,
            _ => JointKind::Tenon,
        };
        let head = call.head_span.to(item.span);
        let mut said = JointSaid {
            kind,
            on: None,
            long: None,
            fit: None,
            wall: None,
            pitch: None,
            starts: None,
            turns: None,
            span: call.span,
            head,
            tail: call.tail,
        };
        let mut is_whole = !call.is_broken;
        for clause in &call.clauses {
            let Some(item) = clause.argument.first() else { continue };
            let (word, origin) = (clause.clause.word, Origin::Written(clause.span));
            let of_thread = matches!(clause.clause.id, ClauseId::Pitch | ClauseId::Starts | ClauseId::Turns);
            if of_thread && kind != JointKind::Thread {
                self.say(joint_findings::not_of_kind(clause.span, kind, word));
                is_whole = false;
                continue;
            }
            let length = |resolver: &mut Self| {
                resolver.told(read::length(scope, item, word, Bound::Positive)).map(|l| Known::new(l, origin))
            };
            let is_read = match clause.clause.id {
                ClauseId::On => {
                    let part = self.told(read::choice(scope, item, "on", &["body", "lid"]));
                    let part = part.map(|part| if part == "lid" { PartKind::Lid } else { PartKind::Body });
                    said.on = part
                        .and_then(|part| self.possible_part(kind, part, clause.span))
                        .map(|p| Known::new(p, origin));
                    said.on.is_some()
                }
                ClauseId::Long => set(&mut said.long, length(self)),
                ClauseId::TenonWall => set(&mut said.wall, length(self)),
                ClauseId::Fit => set(&mut said.fit, self.told(fit(scope, item)).map(|fit| Known::new(fit, origin))),
                ClauseId::Pitch => set(&mut said.pitch, self.told(pitch(scope, item)).map(|p| Known::new(p, origin))),
                ClauseId::Starts => {
                    let count = self.told(starts(scope, item));
                    set(&mut said.starts, count.map(|count| Known::new(count, origin)))
                }
                ClauseId::Turns => set(&mut said.turns, self.told(turns(scope, item)).map(|t| Known::new(t, origin))),
                _ => true,
            };
            is_whole &= is_read;
        }
        is_whole.then_some(said)
    }

    /// The part, when a joint of that kind can have its tenon there.
    fn possible_part(&mut self, kind: JointKind, part: PartKind, span: Span) -> Option<PartKind> {
        let only = match kind {
            JointKind::Inset => PartKind::Lid,
            JointKind::Over => PartKind::Body,
            JointKind::Tenon | JointKind::Thread => return Some(part),
        };
        if part != only {
            self.say(joint_findings::other_part(span, kind, only));
            return None;
        }
        Some(part)
    }

    /// `parted at 4 1/4 kerf 1/16`
    pub(super) fn parted(&mut self, scope: &Scope, call: &Call<'_>) -> Option<Parted> {
        let length = |resolver: &mut Self, word: &str| {
            let clause = call.clause(word)?;
            let item = clause.argument.first()?;
            let length = resolver.told(read::length(scope, item, word, Bound::Positive));
            Some(length.map(|length| Known::new(length, Origin::Written(item.span))))
        };
        let kerf = length(self, "kerf");
        let Some(at) = length(self, "at") else {
            if !call.is_broken {
                let why = "where lid and body meet cannot be assumed";
                self.say(findings::missing_clause(call.span, "parted", "at", why, "at 3"));
            }
            return None;
        };
        let thin = Known::new(
            Length::from_inches(1.0 / 16.0),
            Origin::Default(&"a thin parting tool cuts 1/16 in: common practice"),
        );
        Some(Parted { at: at?, kerf: kerf.unwrap_or(Some(thin))?, span: call.span })
    }

    /// `lives 35%rh .. 60%rh`
    pub(super) fn lives(&mut self, scope: &Scope, call: &Call<'_>) -> Option<Lives> {
        let item = call.argument(0)?.first()?;
        let ItemKind::Range(from, to) = &item.kind else {
            self.say(findings::wrong_kind(item, "lives", "two relative humidities, such as `35%rh .. 60%rh`"));
            return None;
        };
        let (from, to) = (self.told(humidity(scope, from)), self.told(humidity(scope, to)));
        let (from, to) = (from?, to?);
        let (dry, damp) = if from.value <= to.value { (from, to) } else { (to, from) };
        Some(Lives { dry, damp, span: call.span })
    }
}

fn set<T>(field: &mut Option<T>, value: Option<T>) -> bool {
    *field = value;
    field.is_some()
}

fn fit(scope: &Scope, item: &Item) -> Result<Fit, Finding> {
    match word_of(&scope.tree, item) {
        Some("jam") => Ok(Fit::Jam),
        Some("slip") => Ok(Fit::Slip),
        Some("loose") => Ok(Fit::Loose),
        Some(word) if scope_lacks(scope, item) => Err(findings::no_such_choice(item.span, "fit", word, FITS)),
        Some(_) | None => read::length(scope, item, "fit", Bound::NotNegative).map(Fit::Clearance),
    }
}

fn scope_lacks(scope: &Scope, item: &Item) -> bool {
    use super::expression::Names as _;
    scope.value(item.span).is_err()
}

/// Threads along a length, or the length of one.
fn pitch(scope: &Scope, item: &Item) -> Result<Length, Finding> {
    match read::value(scope, item, "pitch", "a thread pitch, such as `16 tpi` or `1.5 mm`")? {
        Value::Of(threads, Dimension::PITCH) if threads > 1e-3 && threads < 100.0 => Ok(Length::from_mm(1.0 / threads)),
        Value::Of(_, Dimension::PITCH) => Err(joint_findings::no_pitch(item.span, scope.tree.text(item.span))),
        _ => read::length(scope, item, "pitch", Bound::Positive),
    }
}

fn starts(scope: &Scope, item: &Item) -> Result<Count, Finding> {
    let count = read::count(scope, item, "starts")?;
    if count.0 == 0 {
        return Err(findings::at_least_one(item.span, "starts", scope.tree.text(item.span)));
    }
    Ok(count)
}

fn turns(scope: &Scope, item: &Item) -> Result<Ratio, Finding> {
    let text = scope.tree.text(item.span);
    match read::value(scope, item, "turns", "a number of turns, such as `1.5`")? {
        Value::Bare(turns, _) if (0.1..=1000.0).contains(&turns) => Ok(Ratio::of(turns)),
        Value::Bare(..) => Err(joint_findings::turns_out_of_range(item.span, text)),
        other @ Value::Of(..) => {
            Err(findings::wrong_dimension(item.span, "turns", "a number of turns", text, other.words()))
        }
    }
}

/// Driest and dampest air that the moisture of wood is tabled for.
const HUMIDITIES: std::ops::RangeInclusive<f64> = 5.0..=95.0;

fn humidity(scope: &Scope, item: &Item) -> Result<Known<Humidity>, Finding> {
    let text = scope.tree.text(item.span);
    match read::value(scope, item, "lives", "a relative humidity, such as `35%rh`")? {
        Value::Of(percent, Dimension::HUMIDITY) if HUMIDITIES.contains(&percent) => {
            Ok(Known::new(Humidity::from_percent(percent), Origin::Written(item.span)))
        }
        Value::Of(_, Dimension::HUMIDITY) => Err(joint_findings::humidity_out_of_range(item.span, text)),
        other => Err(findings::wrong_dimension(
            item.span,
            "lives",
            "a relative humidity, such as `35%rh`",
            text,
            other.words(),
        )),
    }
}

impl JointSaid {
    /// With what was not said: from the kind, and from how wide the vessel is.
    pub(super) fn complete(self, units: System, outside: &Outside) -> Joint {
        let thread = (self.kind == JointKind::Thread).then(|| self.thread());
        Joint {
            kind: self.kind,
            on: self.on.unwrap_or(match self.kind {
                JointKind::Inset => Known::new(PartKind::Lid, Origin::Default(&"an inset lid goes into the body")),
                JointKind::Over => Known::new(PartKind::Body, Origin::Default(&"the skirt goes over the body's rim")),
                JointKind::Tenon | JointKind::Thread => {
                    Known::new(PartKind::Body, Origin::Default(&"a tenon on the body is the easier one to fit"))
                }
            }),
            long: self.long.unwrap_or_else(|| long(thread, units, outside)),
            fit: self.fit.unwrap_or(Known::new(Fit::Slip, Origin::Default(&"a lid for use slips on"))),
            wall: self.wall,
            made_tenon: None,
            made_mortise: None,
            thread,
            span: self.span,
            head: self.head,
            tail: self.tail,
        }
    }

    fn thread(self) -> Thread {
        Thread {
            pitch: self.pitch.unwrap_or(Known::new(
                Length::from_inches(1.0 / 16.0),
                Origin::Default(&"16 threads an inch: the usual start for chasing by hand"),
            )),
            starts: self.starts.unwrap_or(Known::new(Count(1), Origin::Default(&"a thread has one start"))),
            turns: self
                .turns
                .unwrap_or(Known::new(Ratio::of(1.5), Origin::Default(&"a turn and a half closes the lid"))),
        }
    }
}

/// How far a joint goes in when nobody said.
fn long(thread: Option<Thread>, units: System, outside: &Outside) -> Known<Length> {
    if let Some(thread) = thread {
        let lead = thread.pitch.value * f64::from(thread.starts.value.0);
        let long = lead * thread.turns.value.value() + thread.pitch.value;
        return Known::new(long, Origin::Default(&"turns × lead, and one pitch for the chaser to run out"));
    }
    match units {
        System::Inch => Known::new(Length::from_inches(0.375), Origin::Default(&"3/8 in is usual")),
        System::Millimeter => {
            let across = outside.points.iter().map(|point| point.diameter.value.across());
            let widest = across.fold(Length::ZERO, Length::max);
            let tenth = (widest / 10.0).max(Length::from_mm(6.0)).min(Length::from_mm(10.0));
            Known::new(tenth, Origin::Default(&"a tenth of the diameter, 6 to 10 mm: common practice"))
        }
    }
}
