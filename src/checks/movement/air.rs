//! The change of moisture that glued work has to bear.

use crate::checks::climate::Climate;
use crate::finding::limits;
use crate::geometry::season;
use crate::quantity::{MoistureContent, Movement, Ratio};
use crate::resolve::Recipe;

/// The greatest change there is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Air {
    /// When it was glued.
    pub(super) from: MoistureContent,
    /// Later.
    pub(super) to: MoistureContent,
    /// Whether nobody said where it lives.
    is_assumed: bool,
}

impl Air {
    /// From the wood as it is glued to the season farther from it.
    pub(super) fn of(recipe: &Recipe) -> Option<Self> {
        let climate = Climate::of(recipe)?;
        Some(Self { from: climate.made, to: climate.worst_first()[0], is_assumed: climate.said.is_none() })
    }

    /// What a wood does then.
    pub(super) fn strain(self, movement: Movement) -> Ratio {
        season::strain(movement, self.from, self.to)
    }

    /// What any wood does along its grain.
    pub(super) fn along(self) -> Ratio {
        self.strain(season::LONGITUDINAL)
    }

    /// In points of moisture content, without its sign.
    pub(super) fn points(self) -> f64 {
        (self.to - self.from).percent().abs()
    }

    /// As it is told behind a figure: "from 8.9 to 11.0 % moisture".
    pub(super) fn words(self) -> String {
        let assumed = if self.is_assumed { " (a heated house; no `lives` says otherwise)" } else { "" };
        let (low, high) = (limits::MOVEMENT_HOLDS_FROM.get(), limits::MOVEMENT_HOLDS_TO.get());
        let is_beyond = [self.from, self.to].iter().any(|moisture| *moisture < low || *moisture > high);
        let beyond = if is_beyond {
            format!(", roughly: the woods' figures hold from {} to {} %", low.percent(), high.percent())
        } else {
            String::new()
        };
        format!("from {:.1} to {:.1} % moisture{assumed}{beyond}", self.from.percent(), self.to.percent())
    }
}

#[cfg(test)]
impl Air {
    /// For the tests of this family: from one moisture in percent to another.
    pub(super) fn test(from: f64, to: f64) -> Self {
        let [from, to] = [from, to].map(MoistureContent::from_percent);
        Self { from, to, is_assumed: false }
    }
}
