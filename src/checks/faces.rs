//! The glue faces between layers as the lathe leaves them; what is glued before turning is wider.

use crate::geometry::{BuiltLayer, Slice, TurnedPart};
use crate::quantity::Length;
use crate::resolve::Layer;

use super::Design;

/// Sums of thicknesses stray by less; what differs by less lies at one height.
pub(super) const SAME: Length = Length::from_mm(1e-6);

/// One layer's finished face at a glue line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Face {
    /// Radius of its outside.
    pub(super) outer: Length,
    /// Radius of its hole; 0 where it is solid.
    pub(super) inner: Length,
}

/// One of the two layers at a glue line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Side<'a> {
    pub(super) said: &'a Layer,
    pub(super) built: &'a BuiltLayer,
    pub(super) face: Face,
}

/// A glue line that stays in the finished vessel.
#[derive(Debug, Clone, Copy)]
pub(super) struct GlueLine<'a> {
    /// Its height in the closed vessel.
    pub(super) z: Length,
    /// The part that it lies in.
    pub(super) part: &'a TurnedPart,
    pub(super) under: Side<'a>,
    pub(super) over: Side<'a>,
}

impl Face {
    /// Of a part just under a height.
    pub(super) fn below(part: &TurnedPart, z: Length) -> Self {
        let (bottom, top) = (part.inside.bottom() + SAME, part.inside.top() + SAME);
        let is_hollow = !part.inside.is_empty() && z > bottom && z <= top;
        let inner = if is_hollow { part.inside.below(z) } else { Length::ZERO };
        Self { outer: part.outside.below(z), inner }
    }

    /// Of a part just over a height.
    pub(super) fn above(part: &TurnedPart, z: Length) -> Self {
        let (bottom, top) = (part.inside.bottom() - SAME, part.inside.top() - SAME);
        let is_hollow = !part.inside.is_empty() && z >= bottom && z < top;
        let inner = if is_hollow { part.inside.above(z) } else { Length::ZERO };
        Self { outer: part.outside.above(z), inner }
    }

    /// Level width of the wood.
    pub(super) fn width(self) -> Length {
        self.outer - self.inner
    }

    /// What two faces share.
    pub(super) fn shared(self, other: Self) -> Self {
        Self { outer: self.outer.min(other.outer), inner: self.inner.max(other.inner) }
    }
}

impl<'a> Design<'a> {
    /// Every glue line between two layers of one part, bench upward.
    pub(super) fn glue_lines(self) -> impl Iterator<Item = GlueLine<'a>> {
        let mut before: Option<(usize, &'a Layer, &'a BuiltLayer)> = None;
        self.layers().filter_map(move |here| {
            let (under_at, under_said, under) = before.replace(here)?;
            let (over_at, over_said, over) = here;
            let contact = self.vessel.contacts.get(under_at).filter(|_| over_at == under_at + 1)?;
            if contact.is_opening {
                return None;
            }
            let lower = under.slices.last()?;
            let upper = over.slices.iter().find(|slice| slice.part == lower.part)?;
            let part = self.part(lower)?;
            let z = lower.to - lower.raise;
            let is_one = (upper.from - lower.to).abs() <= SAME;
            if !is_one || z >= part.outside.top() - SAME || z <= part.outside.bottom() + SAME {
                return None;
            }
            Some(GlueLine {
                z,
                part,
                under: Side { said: under_said, built: under, face: Face::below(part, z) },
                over: Side { said: over_said, built: over, face: Face::above(part, z) },
            })
        })
    }

    /// The finished part that a slice becomes some of.
    pub(super) fn part(self, slice: &Slice) -> Option<&'a TurnedPart> {
        self.vessel.bodies.iter().find(|part| part.part == slice.part)
    }

    /// The stretches of a layer that are left in the finished vessel, each with its part, from and to.
    pub(super) fn left(self, built: &'a BuiltLayer) -> impl Iterator<Item = (&'a TurnedPart, Length, Length)> {
        built.slices.iter().filter_map(move |slice| {
            let part = self.part(slice)?;
            let from = (slice.from - slice.raise).max(part.outside.bottom());
            let to = (slice.to - slice.raise).min(part.outside.top());
            (to > from + SAME).then_some((part, from, to))
        })
    }

    /// The greatest level width of a layer's wood at the ends of what is left of it.
    pub(super) fn level_wall(self, built: &'a BuiltLayer) -> Option<Length> {
        let ends = self.left(built).flat_map(|(part, from, to)| [Face::above(part, from), Face::below(part, to)]);
        ends.map(Face::width).reduce(Length::max)
    }
}
