//! `made`: what was measured on the work takes the place of what was planned.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use std::rc::Rc;

use crate::finding::limits;
use crate::quantity::{Length, System, show_length};
use crate::source::Span;
use crate::syntax::{Block, Item, Node, Tree};
use crate::vocabulary::{Bound, Context, HeadId, MADE, MADE_OF_LID};
use crate::workings::{Known, Origin};

use super::fittings::{Joint, MadeDiameter};
use super::recipe::{Layer, LayerKind, Part, PartKind};
use super::scope::Scope;
use super::split::{Call, split, word_of};
use super::{Resolver, findings, joint_findings, read};

/// Everything a `made` says.
#[derive(Debug, Clone, Default)]
pub(super) struct Made {
    layers: Vec<MadeLayer>,
    heights: Vec<(PartKind, Known<Length>)>,
    tenon: Option<Known<Length>>,
    mortise: Option<Known<Length>>,
}

#[derive(Debug, Clone)]
struct MadeLayer {
    part: PartKind,
    which: Which,
    is_ring: bool,
    thick: Option<Known<Length>>,
    diameter: Option<Known<Length>>,
    /// The word and what follows it.
    span: Span,
    /// The number or the name.
    at: Span,
}

#[derive(Debug, Clone)]
enum Which {
    /// From 1.
    Number(u32),
    Name(String),
}

impl Resolver<'_> {
    /// `made { … }`
    pub(super) fn made(&mut self, scope: &Scope, call: &Call<'_>) -> Made {
        let mut made = Made::default();
        if let Some(block) = call.block {
            self.measured(scope, (block, call.span), PartKind::Body, &mut made);
        }
        made
    }

    fn measured(&mut self, scope: &Scope, (block, within): (&Block, Span), part: PartKind, made: &mut Made) {
        let tree = Rc::clone(&scope.tree);
        let context: &'static Context = if part == PartKind::Body { &MADE } else { &MADE_OF_LID };
        for node in &block.nodes {
            let Node::Statement(statement) = node else { continue };
            let mut said = Vec::new();
            let calls = split(&tree, statement, context, &mut said);
            self.say_all(said);
            self.note_accepts(&tree, &calls, Some(within));
            for call in &calls {
                self.measurement(scope, &tree, call, part, made);
            }
        }
    }

    fn measurement(&mut self, scope: &Scope, tree: &Tree, call: &Call<'_>, part: PartKind, made: &mut Made) {
        let clause = |resolver: &mut Self, word: &str| {
            let item = call.clause(word)?.argument.first()?;
            resolver.measure(scope, item, word)
        };
        match call.head.id {
            HeadId::MadeRing | HeadId::MadeDisc => {
                let (thick, diameter) = (clause(self, "thick"), clause(self, "diameter"));
                let Some(item) = call.argument(0).and_then(<[_]>::first) else { return };
                let which = match word_of(tree, item) {
                    Some(word) => Which::Name(word.to_owned()),
                    None => match self.told(read::count(scope, item, call.head.word)) {
                        Some(count) => Which::Number(count.0),
                        None => return,
                    },
                };
                let is_ring = call.head.id == HeadId::MadeRing;
                made.layers.push(MadeLayer { part, which, is_ring, thick, diameter, span: call.span, at: item.span });
            }
            HeadId::MadeBody => match clause(self, "height") {
                Some(height) => made.heights.push((PartKind::Body, height)),
                None if call.is_broken || call.clause("height").is_some() => {}
                None => {
                    let why = "nothing else can be measured of it";
                    self.say(findings::missing_clause(call.span, "body", "height", why, "height 3.18"));
                }
            },
            HeadId::MadeHeight => {
                if let Some(item) = call.argument(0).and_then(<[_]>::first)
                    && let Some(height) = self.measure(scope, item, "height")
                {
                    made.heights.push((part, height));
                }
            }
            HeadId::MadeTenon => made.tenon = clause(self, "diameter"),
            HeadId::MadeMortise => made.mortise = clause(self, "diameter"),
            HeadId::MadeLid => {
                if let Some(block) = call.block {
                    self.measured(scope, (block, call.span), PartKind::Lid, made);
                }
            }
            _ => {}
        }
    }

    fn measure(&mut self, scope: &Scope, item: &Item, word: &str) -> Option<Known<Length>> {
        let length = self.told(read::length(scope, item, word, Bound::Positive))?;
        Some(Known::new(length, Origin::Made(item.span)))
    }

    /// Puts the measurements into the stacks and the joint; the diameters go to the geometry.
    pub(super) fn apply_made(
        &mut self,
        made: &Made,
        parts: &mut [Part],
        joint: Option<&mut Joint>,
        (units, is_partial): (System, bool),
    ) -> Vec<MadeDiameter> {
        let mut diameters = Vec::new();
        for measured in &made.layers {
            let Some((index, layer)) = self.layer_of(measured, parts, is_partial) else { continue };
            if let Some(thick) = measured.thick {
                layer.thick = thick;
            }
            diameters.extend(measured.diameter.map(|diameter| MadeDiameter { part: measured.part, index, diameter }));
        }
        for (kind, height) in &made.heights {
            match parts.iter_mut().find(|part| part.kind == *kind) {
                Some(part) if !is_partial => self.spread(part, *height, units),
                Some(_) => {}
                None if is_partial => {}
                None => self.no_lid(height.origin.span()),
            }
        }
        match joint {
            Some(joint) => {
                joint.made_tenon = made.tenon;
                joint.made_mortise = made.mortise;
            }
            None if is_partial => {}
            None => {
                let first = made.tenon.or(made.mortise).and_then(|length| length.origin.span());
                if let Some(span) = first {
                    let what = "there is no lid joint that this could have been measured on";
                    self.say(joint_findings::made_unknown(span, what, "add `joint tenon`, or take the line away"));
                }
            }
        }
        diameters
    }

    fn no_lid(&mut self, span: Option<Span>) {
        if let Some(span) = span {
            let known = "with `parted`, all layers are counted in the body";
            self.say(joint_findings::made_unknown(span, "the vessel has no stack for a lid", known));
        }
    }

    fn layer_of<'p>(
        &mut self,
        measured: &MadeLayer,
        parts: &'p mut [Part],
        is_partial: bool,
    ) -> Option<(usize, &'p mut Layer)> {
        let Some(part) = parts.iter_mut().find(|part| part.kind == measured.part) else {
            if !is_partial {
                self.no_lid(Some(measured.span));
            }
            return None;
        };
        let names: Vec<String> =
            part.layers.iter().filter_map(|layer| layer.name.as_ref().map(|name| name.value.clone())).collect();
        let at = match &measured.which {
            Which::Number(number) => (*number as usize).checked_sub(1).filter(|at| *at < part.layers.len()),
            Which::Name(name) => {
                part.layers.iter().position(|layer| layer.name.as_ref().is_some_and(|known| known.value == *name))
            }
        };
        let Some(at) = at else {
            if !is_partial {
                let text = match &measured.which {
                    Which::Number(number) => number.to_string(),
                    Which::Name(name) => name.clone(),
                };
                let names: Vec<&str> = names.iter().map(String::as_str).collect();
                let count = part.layers.len();
                self.say(joint_findings::no_such_layer(measured.at, measured.part.word(), &text, count, &names));
            }
            return None;
        };
        let layer = part.layers.get_mut(at)?;
        if matches!(layer.kind, LayerKind::Disc { .. }) == measured.is_ring {
            let (is, other) = if measured.is_ring { ("disc", "ring") } else { ("ring", "disc") };
            let what = format!("layer {} of the {} is no {other}", at + 1, measured.part.word());
            self.say(joint_findings::made_unknown(
                measured.span,
                &what,
                &format!("write `{is}` in place of `{other}`"),
            ));
            return None;
        }
        Some((at + 1, layer))
    }

    /// A measured height, spread over the layers that were not measured.
    fn spread(&mut self, part: &mut Part, height: Known<Length>, units: System) {
        let is_measured = |layer: &Layer| matches!(layer.thick.origin, Origin::Made(_));
        let sum: Length = part.layers.iter().map(|layer| layer.thick.value).sum();
        let open: Length = part.layers.iter().filter(|layer| !is_measured(layer)).map(|layer| layer.thick.value).sum();
        let short = height.value - sum;
        let Some(span) = height.origin.span() else { return };
        if open + short <= Length::ZERO {
            if short.abs() > SAME_FACE {
                let show = |length| show_length(length, units);
                let finding =
                    joint_findings::made_heights_disagree(span, part.kind.word(), &show(height.value), &show(sum));
                self.say(finding);
            }
            return;
        }
        for layer in part.layers.iter_mut().filter(|layer| !is_measured(layer)) {
            layer.thick = Known::new(layer.thick.value * ((open + short) / open), height.origin);
        }
    }
}

/// A face planned within so little of floor or top was planned to be it.
const SAME_FACE: Length = limits::FINEST_SETTING.get();

/// The thicknesses of the stacks.
pub(super) fn thicknesses(parts: &[Part]) -> Vec<Vec<Length>> {
    parts.iter().map(|part| part.layers.iter().map(|layer| layer.thick.value).collect()).collect()
}

/// Where floor and top were planned to end with a layer, they end with it as it was made: hollowing goes by the
/// glue line, not by the drawing.
pub(super) fn follow(parts: &[Part], planned: &[Vec<Length>], floor: &mut Known<Length>, top: &mut Known<Length>) {
    let mut measured = parts.iter().flat_map(|part| &part.layers).map(|layer| layer.thick.origin);
    let Some(origin) = measured.find(|origin| matches!(origin, Origin::Made(_))) else { return };
    let made = thicknesses(parts);
    let sum = |stacks: &[Vec<Length>]| stacks.iter().flatten().copied().sum::<Length>();
    let shift = sum(&made) - sum(planned);
    if let (Some(planned), Some(made)) = (planned.first(), made.first())
        && let Some(face) = face(planned.iter().zip(made), floor.value)
    {
        *floor = Known::new(face, origin);
    }
    if let (Some(planned), Some(made)) = (planned.last(), made.last())
        && let Some(face) = face(planned.iter().zip(made).rev(), top.value)
        && face - shift > SAME_FACE
    {
        *top = Known::new(face - shift, origin);
    }
}

/// The face as made of a face that was planned at a height.
fn face<'a>(layers: impl Iterator<Item = (&'a Length, &'a Length)>, wanted: Length) -> Option<Length> {
    let heights = layers.scan((Length::ZERO, Length::ZERO), |(planned, made), (before, now)| {
        (*planned, *made) = (*planned + *before, *made + *now);
        Some((*planned, *made))
    });
    let mut at = heights.filter(|(planned, _)| (*planned - wanted).abs() < SAME_FACE);
    at.next().map(|(_, made)| made)
}
