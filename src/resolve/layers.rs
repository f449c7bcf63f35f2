//! Stacks: their layers in order, repeats of them, and what holds for every one.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use std::collections::BTreeMap;

use crate::quantity::Length;
use crate::source::Span;
use crate::syntax::{Block, ItemKind, Node};
use crate::vocabulary::{HeadId, LAYERS};

use super::file::File;
use super::recipe::{Layer, PartKind};
use super::scope::Scope;
use super::split::{Call, split};
use super::value::Value;
use super::{Resolver, findings, read};

/// One stack as far as it could be read.
#[derive(Debug)]
pub(super) struct Stack {
    /// Which.
    pub(super) kind: PartKind,
    pub(super) layers: Vec<Layer>,
    /// Its head word.
    pub(super) span: Span,
    /// Whether a layer could not be read; it and all above it are left out.
    pub(super) is_cut_short: bool,
    pub(super) names: BTreeMap<String, Span>,
}

impl Stack {
    /// How tall the layers are together.
    pub(super) fn height(&self) -> Length {
        self.layers.iter().map(|layer| layer.thick.value).sum()
    }
}

impl Resolver<'_> {
    /// `body { … }` or `lid { … }`
    pub(super) fn stack(&mut self, scope: &mut Scope, call: &Call<'_>, file: &File) -> Option<Stack> {
        let kind = if call.head.id == HeadId::Lid { PartKind::Lid } else { PartKind::Body };
        let mut stack = Stack {
            kind,
            layers: Vec::new(),
            span: call.head_span,
            is_cut_short: call.is_broken,
            names: BTreeMap::new(),
        };
        let mark = scope.enter();
        self.layers(scope, (call.block?, call.span), file, &mut stack);
        scope.leave(&mark);
        if kind == PartKind::Body && !stack.is_cut_short {
            self.body_height = Some(stack.height());
        }
        if stack.layers.is_empty() && !stack.is_cut_short {
            self.say(findings::empty_stack(call.head_span, call.head.word));
            return None;
        }
        Some(stack)
    }

    /// The layers of a block, which belongs to the statement at `within`.
    pub(super) fn layers(
        &mut self,
        scope: &mut Scope,
        (block, within): (&Block, Span),
        file: &File,
        stack: &mut Stack,
    ) {
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
            self.note_accepts(&tree, &calls, Some(within));
            for call in &calls {
                match call.head.id {
                    HeadId::Every => self.every(scope, call),
                    HeadId::Let => self.define(call, scope),
                    HeadId::Accept => {}
                    HeadId::Repeat => {
                        let went = self.repeat(scope, call, &mut |resolver, scope, block| {
                            resolver.layers(scope, (block, call.span), file, stack);
                        });
                        stack.is_cut_short |= !went;
                    }
                    HeadId::Fill => self.fill(scope, call, file, stack),
                    _ => match self.layer(scope, call, file, stack) {
                        // One statement may make many layers; they count as turns do.
                        Some(layers) if layers.iter().skip(1).any(|_| !self.turn(call.span)) => {
                            stack.is_cut_short = true;
                        }
                        Some(layers) if !stack.is_cut_short => stack.layers.extend(layers),
                        Some(_) => {}
                        None => stack.is_cut_short = true,
                    },
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
        // A count beyond the limit is told before its layers are made; one turn tells what else is wrong in the block.
        let said_at = call.head_span.to(item.span);
        let has_turns = self.has_turns(f64::from(count.0));
        // A count that was worked out may well be none.
        if count.0 == 0 && matches!(item.kind, ItemKind::Quantity(_)) {
            self.say(findings::repeat_never(said_at));
        }
        let turns = if has_turns { count.0 } else { 1 };
        for turn in 1..=turns {
            if !self.turn(said_at) {
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
        if !has_turns {
            self.out_of_turns(said_at);
        }
        has_turns && !call.is_broken
    }
}
