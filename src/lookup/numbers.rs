//! What the layers of a statement come to: radii, strip, edges, miter, in the recipe's own units.

use std::fmt::Write as _;

use crate::geometry::{BuiltLayer, LayerShape, RingSet, SegmentCut, Vessel};
use crate::quantity::{Length, at_least, show_angle, show_length};
use crate::resolve::Recipe;
use crate::source::Span;

/// The numbers at the end of a layer's line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hint {
    /// Just behind its last word.
    pub at: Span,
    /// `strip 22.7 mm, long edge 53.6 mm`
    pub text: String,
}

/// A hint for each statement that makes rings of segments.
#[must_use]
pub fn hints(recipe: &Recipe, vessel: &Vessel) -> Vec<Hint> {
    let mut hints: Vec<(Hint, Vec<&BuiltLayer>)> = Vec::new();
    for (layer, built) in layers(recipe, vessel) {
        let at = layer.line.tail;
        match hints.iter_mut().find(|(hint, _)| hint.at == at) {
            Some((_, all)) => all.push(built),
            None => hints.push((Hint { at, text: String::new() }, vec![built])),
        }
    }
    let with_text = hints.into_iter().filter_map(|(hint, all)| {
        let text = short(recipe, &all)?;
        Some(Hint { text, ..hint })
    });
    with_text.collect()
}

/// What all layers come to whose head word is at `head`, in Markdown.
#[must_use]
pub fn of_layers(recipe: &Recipe, vessel: &Vessel, head: Span) -> Option<String> {
    let all: Vec<&BuiltLayer> =
        layers(recipe, vessel).filter(|(layer, _)| layer.head == head).map(|(_, built)| built).collect();
    let (first, rest) = all.split_first()?;
    let mut text = of_layer(recipe, first);
    if let Some(last) = rest.last() {
        let _ = write!(text, "\n\n… and {} more from this line, up to\n\n{}", rest.len(), of_layer(recipe, last));
    }
    Some(text)
}

fn layers<'a>(
    recipe: &'a Recipe,
    vessel: &'a Vessel,
) -> impl Iterator<Item = (&'a crate::resolve::Layer, &'a BuiltLayer)> {
    recipe.layers().map(|(_, _, layer)| layer).zip(&vessel.layers)
}

/// `12 × strip 22.7 mm, long edge 53.6 mm`; from the least to the greatest where they differ.
fn short(recipe: &Recipe, all: &[&BuiltLayer]) -> Option<String> {
    let rings = all.iter().filter_map(|built| match &built.shape {
        LayerShape::Ring(ring) => {
            Some((at_least(ring.strip_width.value, recipe.units), ring.widest()?.long_edge.value))
        }
        LayerShape::Disc { .. } | LayerShape::Slant(_) => None,
    });
    let rings: Vec<(Length, Length)> = rings.collect();
    if rings.is_empty() {
        let [first, ..] = all else { return None };
        return Some(format!("⌀ {}", show_length(first.blank_outer_radius.value * 2.0, recipe.units)));
    }
    let between = |of: fn(&(Length, Length)) -> Length| {
        let least = rings.iter().map(of).fold(of(&rings[0]), Length::min);
        let most = rings.iter().map(of).fold(of(&rings[0]), Length::max);
        let [least, most] = [least, most].map(|length| show_length(length, recipe.units));
        if least == most { least } else { format!("{least} … {most}") }
    };
    Some(format!("strip {}, long edge {}", between(|ring| ring.0), between(|ring| ring.1)))
}

fn of_layer(recipe: &Recipe, built: &BuiltLayer) -> String {
    let show = |length: Length| show_length(length, recipe.units);
    let mut text = format!("**{}**, height {} to {}\n", built.id, show(built.z0.value), show(built.z1.value));
    let _ = write!(
        text,
        "\n- finished radius {} outside, {} inside",
        show(built.outer_radius.value),
        show(built.inner_radius.value)
    );
    let _ = write!(
        text,
        "\n- blank radius {} outside, {} inside; {} thick before flattening",
        show(built.blank_outer_radius.value),
        show(built.blank_inner_radius.value),
        show(built.rough_thickness.value)
    );
    match &built.shape {
        LayerShape::Ring(ring) => {
            let is_stave = matches!(ring.set, RingSet::Upright(_));
            let (what, strip) = if is_stave { ("staves", "board thickness") } else { ("segments", "strip") };
            let _ = write!(
                text,
                "\n- {} {what}, {strip} {}",
                ring.woods.len(),
                show(at_least(ring.strip_width.value, recipe.units))
            );
            for cut in &ring.cuts {
                let _ = write!(text, "\n- {}", of_cut(cut, &show));
            }
        }
        LayerShape::Disc { blank_diameter, .. } => {
            let _ = write!(text, "\n- one round, {} across as sawn", show(blank_diameter.value));
        }
        LayerShape::Slant(ring) => {
            let _ = write!(
                text,
                "\n- a ring of a cone, {} wide, radius {} below and {} above",
                show(ring.width.value),
                show(ring.outer_at_z0.value),
                show(ring.outer_at_z1.value)
            );
        }
    }
    text
}

fn of_cut(cut: &SegmentCut, show: &impl Fn(Length) -> String) -> String {
    let mut text = format!(
        "miter {}, long edge {}, short edge {}",
        show_angle(cut.miter.value),
        show(cut.long_edge.value),
        show(cut.short_edge.value)
    );
    if cut.bevel.value.degrees().abs() > 0.0 {
        let _ = write!(text, ", blade tilted {}", show_angle(cut.bevel.value));
    }
    text
}
