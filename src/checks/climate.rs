//! The moisture that wood comes to where a vessel lives, and what it has when it is made.

use crate::quantity::{Humidity, MoistureContent, Temperature};
use crate::resolve::Recipe;
use crate::source::Span;
use crate::tables::emc::equilibrium;

/// Where nobody says where a vessel lives: a heated house, from a dry winter to a damp summer. In wood that is
/// about 7 to 11 %, four points: the Wood Handbook (FPL-GTR-190, figure 13-1) recommends 8 % for most interiors and
/// 6 and 11 % for the driest and dampest regions; the range of humidities is common practice.
const HOUSE: [f64; 2] = [35.0, 60.0];
/// Of rooms, °C.
const ROOM: f64 = 20.0;

/// Moisture of the wood through the year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Climate {
    /// When it is glued and turned.
    pub made: MoistureContent,
    /// In the driest weeks.
    pub dry: MoistureContent,
    /// In the dampest.
    pub damp: MoistureContent,
    /// The `lives` statement; `None` when a heated house is assumed.
    pub said: Option<Span>,
}

impl Climate {
    /// Of a recipe; `None` where its air is outside the table of moisture contents.
    #[must_use]
    pub fn of(recipe: &Recipe) -> Option<Self> {
        let lives = recipe.fittings.lives;
        let [dry, damp] = lives.map_or(HOUSE.map(Humidity::from_percent), |lives| [lives.dry.value, lives.damp.value]);
        let wood = |air| equilibrium(Temperature::from_celsius(ROOM), air);
        let middle = Humidity::from_percent(f64::midpoint(dry.percent(), damp.percent()));
        let made = recipe.shop.moisture.map(|moisture| moisture.value).or_else(|| wood(middle))?;
        Some(Self { made, dry: wood(dry)?, damp: wood(damp)?, said: lives.map(|lives| lives.span) })
    }

    /// The driest and the dampest, the one farther from how it is made first.
    #[must_use]
    pub fn worst_first(self) -> [MoistureContent; 2] {
        let far = |then: MoistureContent| (then - self.made).percent().abs();
        if far(self.dry) > far(self.damp) { [self.dry, self.damp] } else { [self.damp, self.dry] }
    }
}
