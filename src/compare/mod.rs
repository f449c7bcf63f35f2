//! Two versions of a design: what became different for whoever makes it.

mod layers;

use std::collections::BTreeMap;

use crate::compile::Complete;
use crate::finding::{Finding, likeness};
use crate::plan::cutting::Supply;
use crate::quantity::{Angle, Length, Mass, Measure as _, Money, Volume};

pub use layers::{LayerChange, THICKNESS, wood_runs};

/// What two versions of a design differ in; empty where they are made alike.
#[derive(Debug, Clone, Default)]
pub struct Changes<'a> {
    /// Its name before and after, where it has another.
    pub name: Option<[&'a str; 2]>,
    /// Of the whole.
    pub whole: Vec<Change>,
    /// From the bench upward.
    pub layers: Vec<LayerChange>,
    /// Boards to buy, of which more or fewer are needed.
    pub boards: Vec<BoardChange>,
    /// Findings that are new.
    pub gained: Vec<&'a Finding>,
    /// Findings that are gone.
    pub lost: Vec<&'a Finding>,
}

impl Changes<'_> {
    /// Whether a maker would notice nothing.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.name.is_none()
            && self.whole.is_empty()
            && self.layers.is_empty()
            && self.boards.is_empty()
            && self.gained.is_empty()
            && self.lost.is_empty()
    }
}

/// One figure, before and after.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    /// What it is.
    pub what: &'static str,
    /// As it was; none when there was no such thing.
    pub before: Option<Amount>,
    /// As it is; none when there is no such thing.
    pub after: Option<Amount>,
}

/// How much of something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// A length.
    Length(Length),
    /// A width that the rip fence is set to: shown, it is never less.
    Rip(Length),
    /// An angle.
    Angle(Angle),
    /// What it holds.
    Volume(Volume),
    /// Wood as it is bought.
    Lumber(Volume),
    /// What it weighs.
    Mass(Mass),
    /// A number of things.
    Count(usize),
    /// Minutes of the schedule, nights among them.
    Minutes(f64),
    /// In the recipe's currency.
    Money(Money),
}

impl Amount {
    /// Differences that no tool of the shop shows are none.
    fn is_as(self, other: Self) -> bool {
        let near = |a: f64, b: f64, least: f64| (a - b).abs() < least;
        match (self, other) {
            (Self::Length(a), Self::Length(b)) | (Self::Rip(a), Self::Rip(b)) => near(a.mm(), b.mm(), 0.005),
            (Self::Angle(a), Self::Angle(b)) => near(a.degrees(), b.degrees(), 0.005),
            (Self::Volume(a), Self::Volume(b)) => near(a.ml(), b.ml(), 0.5),
            (Self::Lumber(a), Self::Lumber(b)) => near(a.board_feet(), b.board_feet(), 0.005),
            (Self::Mass(a), Self::Mass(b)) => near(a.grams(), b.grams(), 0.5),
            (Self::Minutes(a), Self::Minutes(b)) => near(a, b, 0.5),
            (Self::Money(a), Self::Money(b)) => near(a.0, b.0, 0.005),
            (a, b) => a == b,
        }
    }
}

/// Boards of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct BoardChange {
    /// Of which wood, by the recipe's name.
    pub wood: String,
    /// Thickness, width, length.
    pub sides: [Length; 3],
    /// How many were needed.
    pub before: u32,
    /// How many are.
    pub after: u32,
}

/// What became different from `before` to `after`.
#[must_use]
pub fn changes<'a>(before: &Complete<'a>, after: &Complete<'a>) -> Changes<'a> {
    let names = [before.recipe.name.value.as_str(), after.recipe.name.value.as_str()];
    Changes {
        name: (names[0] != names[1]).then_some(names),
        whole: differing(&whole(before), &whole(after)),
        layers: layers::changes(before, after),
        boards: boards(before, after),
        gained: unlike(after.findings, before.findings),
        lost: unlike(before.findings, after.findings),
    }
}

/// One version by itself, in the figures that two are compared by.
#[derive(Debug, Clone, Default)]
pub struct Facts {
    /// Of the whole: what it is, and how much.
    pub whole: Vec<(&'static str, Amount)>,
    /// Of each layer, from the bench upward.
    pub layers: Vec<Vec<(&'static str, Amount)>>,
    /// Boards to buy: wood, thickness, width and length, and how many.
    pub boards: Vec<(String, [Length; 3], u32)>,
}

/// What is to be told of a version that has no other beside it.
#[must_use]
pub fn facts(design: &Complete<'_>) -> Facts {
    let known = |figures: Figures| figures.into_iter().filter_map(|(what, amount)| Some((what, amount?))).collect();
    let mut boards: BTreeMap<BoardKey, (String, [Length; 3], u32)> = BTreeMap::new();
    for (wood, sides, count) in bought(design) {
        boards.entry(board_key(&wood, sides)).or_insert((wood, sides, 0)).2 += count;
    }
    Facts {
        whole: known(whole(design)),
        layers: (0..design.vessel.layers.len()).map(|at| known(layers::figures(design, at))).collect(),
        boards: boards.into_values().collect(),
    }
}

type Figures = Vec<(&'static str, Option<Amount>)>;

/// Boards are of one kind when no rule tells them apart.
type BoardKey = (String, [i64; 3]);

fn board_key(wood: &str, sides: [Length; 3]) -> BoardKey {
    #[allow(clippy::cast_possible_truncation, reason = "a board in hundredths of a millimeter")]
    let hundredths = sides.map(|side| (side.mm() * 100.0).round() as i64);
    (wood.to_owned(), hundredths)
}

/// Those of two lists of the same things that differ.
fn differing(before: &Figures, after: &Figures) -> Vec<Change> {
    let pairs = before.iter().zip(after);
    pairs
        .filter(|((_, before), (_, after))| match (before, after) {
            (Some(before), Some(after)) => !before.is_as(*after),
            (None, None) => false,
            (Some(_), None) | (None, Some(_)) => true,
        })
        .map(|((what, before), (_, after))| Change { what, before: *before, after: *after })
        .collect()
}

fn whole(design: &Complete<'_>) -> Figures {
    let (vessel, plan) = (design.vessel, design.plan);
    let boards = plan.cutting.piles.iter().map(|pile| pile.boards.len()).sum();
    let time = (plan.glue.end.base() - plan.glue.begin.base()).max(0.0);
    vec![
        ("height", Some(Amount::Length(vessel.height.value))),
        ("diameter", Some(Amount::Length(vessel.max_diameter.value))),
        ("holds", Some(Amount::Volume(vessel.capacity.value))),
        ("weighs", Some(Amount::Mass(plan.totals.mass.value))),
        ("layers", Some(Amount::Count(vessel.layers.len()))),
        ("pieces", Some(Amount::Count(plan.totals.pieces as usize))),
        ("saw settings", Some(Amount::Count(plan.cut_list.setups.len()))),
        ("boards", Some(Amount::Count(boards))),
        ("wood to cut", Some(Amount::Lumber(plan.totals.lumber.value))),
        ("to pay", plan.cutting.to_pay().map(Amount::Money)),
        ("glue-ups", Some(Amount::Count(plan.glue.steps.len()))),
        ("gluing takes", Some(Amount::Minutes(time))),
    ]
}

fn boards(before: &Complete<'_>, after: &Complete<'_>) -> Vec<BoardChange> {
    let mut counts: BTreeMap<BoardKey, BoardChange> = BTreeMap::new();
    for (design, is_after) in [(before, false), (after, true)] {
        for (wood, sides, count) in bought(design) {
            let change =
                counts.entry(board_key(&wood, sides)).or_insert(BoardChange { wood, sides, before: 0, after: 0 });
            *if is_after { &mut change.after } else { &mut change.before } += count;
        }
    }
    counts.into_values().filter(|change| change.before != change.after).collect()
}

fn bought(design: &Complete<'_>) -> Vec<(String, [Length; 3], u32)> {
    let name = |at: &usize| design.recipe.woods.get(*at).map_or("", |wood| wood.name.as_str());
    let mut all = Vec::new();
    for pile in &design.plan.cutting.piles {
        let wood = pile.woods.iter().map(name).collect::<Vec<_>>().join(" and ");
        let to_buy = pile.boards.iter().filter(|board| !matches!(board.supply, Supply::AtHand(_)));
        all.extend(to_buy.map(|board| (wood.clone(), [board.thick, board.wide, board.long], 1)));
        let lacking = pile.lack.iter().flat_map(|lack| &lack.buy);
        all.extend(lacking.map(|buy| (wood.clone(), [buy.thick, buy.wide, buy.long], buy.count)));
    }
    all
}

/// Those of `these` that have no like among `those`; several alike need as many.
fn unlike<'a>(these: &'a [Finding], those: &[Finding]) -> Vec<&'a Finding> {
    let mut counts: BTreeMap<(&str, String), usize> = BTreeMap::new();
    for finding in those {
        *counts.entry(likeness(finding)).or_default() += 1;
    }
    let is_new = |finding: &&Finding| match counts.get_mut(&likeness(finding)) {
        Some(count) if *count > 0 => {
            *count -= 1;
            false
        }
        Some(_) | None => true,
    };
    these.iter().filter(is_new).collect()
}
