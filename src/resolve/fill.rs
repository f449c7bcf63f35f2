//! `fill to 6 { ring maple thick 3/4 }`: as many turns of a block as a height takes.

use crate::quantity::Length;
use crate::source::Span;
use crate::syntax::Block;
use crate::vocabulary::Bound;
use crate::workings::{Known, Origin};

use super::file::File;
use super::layers::Stack;
use super::recipe::{Layer, LayerKind, PartKind};
use super::scope::Scope;
use super::split::Call;
use super::{Resolver, layer_findings, read};

/// A rest that is a whole number of turns but for rounding takes no turn more.
const WHOLE: f64 = 1e-9;

/// A block that fills, while its turns are made.
struct Filling<'t> {
    block: &'t Block,
    /// The whole statement.
    statement: Span,
    /// `fill to 6`
    span: Span,
    /// From the top of the layers before it up to the height it is to reach.
    rest: Length,
    /// How many layers the stack had before it.
    from: usize,
}

impl Resolver<'_> {
    /// Appends its layers to the stack. What a layer says of its thickness is the most it may have: all become
    /// thinner by the same share, sheets and the rings of cones excepted, so that the last ends at the height.
    pub(super) fn fill(&mut self, scope: &mut Scope, call: &Call<'_>, file: &File, stack: &mut Stack) {
        let filled = self.filled(scope, call, file, stack);
        stack.is_cut_short |= filled.is_none();
    }

    fn filled(&mut self, scope: &mut Scope, call: &Call<'_>, file: &File, stack: &mut Stack) -> Option<()> {
        let (block, item) = (call.block?, call.argument(1)?.first()?);
        let span = call.head_span.to(item.span);
        let to = self.told(read::length(scope, item, "fill", Bound::Positive))?;
        if stack.is_cut_short || call.is_broken {
            return None;
        }
        let Some(start) = self.stack_start(stack.kind) else {
            self.say(layer_findings::fill_before_body(span));
            return None;
        };
        let at = start + stack.height();
        let filling = Filling { block, statement: call.span, span, rest: to - at, from: stack.layers.len() };
        if filling.rest.mm() < read::LEAST_MM {
            self.say(layer_findings::fill_without_rest(span, &read::shown(scope, to), &read::shown(scope, at)));
            return None;
        }
        self.fill_turn(scope, &filling, file, stack)?;
        let (scaled, fixed) = heights(stack.layers.get(filling.from..)?);
        let turn = scaled + fixed;
        if turn <= Length::ZERO {
            self.say(layer_findings::fill_without_layers(span));
            return None;
        }
        let turns = (filling.rest.mm() / turn.mm() - WHOLE).ceil().max(1.0);
        let left = filling.rest - fixed * turns;
        if scaled <= Length::ZERO || left.mm() / turns < read::LEAST_MM {
            let (rest, fixed) = (read::shown(scope, filling.rest), read::shown(scope, fixed));
            self.say(layer_findings::fill_cannot_close(span, &rest, &fixed, turns));
            return None;
        }
        if !self.has_turns(turns - 1.0) {
            self.out_of_turns(filling.span);
            return None;
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the turns run out far below")]
        for _ in 1..turns as u32 {
            self.fill_turn(scope, &filling, file, stack)?;
        }
        let by = left.mm() / (scaled.mm() * turns);
        for layer in stack.layers.get_mut(filling.from..)?.iter_mut().filter(|layer| is_scaled(layer)) {
            layer.thick = Known::new(layer.thick.value * by, Origin::Written(span));
        }
        Some(())
    }

    fn fill_turn(&mut self, scope: &mut Scope, filling: &Filling<'_>, file: &File, stack: &mut Stack) -> Option<()> {
        if !self.turn(filling.span) {
            return None;
        }
        let mark = scope.enter();
        self.layers(scope, (filling.block, filling.statement), file, stack);
        scope.leave(&mark);
        (!stack.is_cut_short).then_some(())
    }

    /// The lid's first layer lies so much under the body's end: that far one goes into the other.
    pub(super) fn lower_lid(&mut self, by: Length) {
        self.body_height = self.body_height.map(|height| height - by);
    }

    /// Where the first layer of a part lies in the vessel; `None` when what it stands on is not known yet.
    pub(super) fn stack_start(&self, part: PartKind) -> Option<Length> {
        match part {
            PartKind::Body => Some(Length::ZERO),
            PartKind::Lid => self.body_height,
        }
    }
}

/// Of layers that can be made thinner, and of the others.
fn heights(layers: &[Layer]) -> (Length, Length) {
    let sum = |scaled: bool| {
        layers.iter().filter(|layer| is_scaled(layer) == scaled).map(|layer| layer.thick.value).sum::<Length>()
    };
    (sum(true), sum(false))
}

fn is_scaled(layer: &Layer) -> bool {
    match &layer.kind {
        LayerKind::Ring(_) => true,
        LayerKind::Disc { is_sheet, .. } => !is_sheet,
        LayerKind::Slant(_) => false,
    }
}
