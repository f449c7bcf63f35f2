//! Where the wood of each layer lies on the closed, finished vessel.

use crate::geometry::{TurnedPart, Vessel};
use crate::quantity::Length;
use crate::resolve::PartKind;

/// A stretch of one layer's wood, between the outside and the inside of the part that it becomes.
#[derive(Debug, Clone, Copy)]
pub struct Band<'a> {
    /// Index into the vessel's layers.
    pub layer: usize,
    /// The part it turns with.
    pub part: &'a TurnedPart,
    /// Lower end, on the closed vessel.
    pub from: Length,
    /// Upper end.
    pub to: Length,
    /// How much higher it lay in the stack.
    pub raise: Length,
}

/// All bands, layer by layer.
#[must_use]
pub fn bands(vessel: &Vessel) -> Vec<Band<'_>> {
    let mut bands = Vec::new();
    for (at, layer) in vessel.layers.iter().enumerate() {
        for slice in &layer.slices {
            let Some(part) = part(vessel, slice.part) else { continue };
            let held = |z: Length| z.max(part.outside.bottom()).min(part.outside.top());
            let (from, to) = (held(slice.from - slice.raise), held(slice.to - slice.raise));
            if to > from {
                bands.push(Band { layer: at, part, from, to, raise: slice.raise });
            }
        }
    }
    bands
}

fn part(vessel: &Vessel, kind: PartKind) -> Option<&TurnedPart> {
    vessel.bodies.iter().find(|part| part.part == kind)
}

/// Of the bands those stretches that show on the outside: where a tenon stands in a mortise, the outer one.
#[must_use]
pub fn shown<'a>(bands: &[Band<'a>]) -> Vec<Band<'a>> {
    let mut heights: Vec<Length> = bands.iter().flat_map(|band| [band.from, band.to]).collect();
    heights.sort_by(|a, b| a.mm().total_cmp(&b.mm()));
    heights.dedup_by(|a, b| (*a - *b).mm().abs() < 1e-6);
    let mut shown: Vec<Band<'a>> = Vec::new();
    for pair in heights.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let middle = (from + to) / 2.0;
        let radius = |band: &&Band<'_>| band.part.outside.above(middle).mm();
        let there = bands.iter().filter(|band| band.from < middle && middle < band.to);
        let Some(band) = there.max_by(|a, b| radius(a).total_cmp(&radius(b))) else { continue };
        match shown.last_mut() {
            Some(last) if last.layer == band.layer && last.part.part == band.part.part && last.to == from => {
                last.to = to;
            }
            _ => shown.push(Band { from, to, ..*band }),
        }
    }
    shown
}
