//! The boards there are: at hand, for sale, or of the sizes that are usually sold.

use crate::quantity::{Length, Money, System, Volume};
use crate::resolve::{Price, PricePer, Recipe, RecipeWood, Shop, StockBoard};
use crate::search::cutting::{Cost, Stock, Um};
use crate::tables::{LumberSize, lumber_sizes, planing_allowance};

use super::Supply;
use super::demand::Wanted;
use super::whole::{cubic_centimeters, length, there, thousandths, wanted};

/// Boards that are alike, and what is left of each to saw from.
#[derive(Debug, Clone)]
pub(super) struct Source {
    pub supply: Supply,
    /// As it lies there.
    pub thick: Length,
    pub wide: Length,
    pub long: Length,
    /// Both faces planed.
    pub planed: Length,
    /// Off each edge.
    pub jointing: Length,
    /// Off its start.
    pub start: Length,
    /// Off its end.
    pub end: Length,
    /// Along it, as it lies there.
    pub avoid: Vec<(Length, Length)>,
    /// Of one, where it is said.
    pub price: Option<Money>,
    /// How many; `None`: as many as are wanted.
    pub count: Option<u32>,
}

impl Source {
    fn of(board: &StockBoard, supply: Supply, count: Option<u32>, price: Option<Price>, shop: &Shop) -> Self {
        let (thick, wide, long) = (board.thick.value, board.wide.value, board.long.value);
        let whole = wide.by(long).over(thick);
        // Rough ends are trimmed; of others only the start is squared, by one cut.
        let (jointing, start, end) = if board.is_rough {
            (shop.jointing.value, shop.end_trim.value, shop.end_trim.value)
        } else {
            (Length::ZERO, shop.kerf.value, Length::ZERO)
        };
        Self {
            supply,
            thick,
            wide,
            long,
            planed: board.planed(),
            jointing,
            start,
            end,
            avoid: board.avoid.iter().map(|(from, to)| (from.value, to.value)).collect(),
            price: price.map(|price| price_of(price, whole)),
            count,
        }
    }

    fn usual(size: &'static LumberSize, wide: Length, long: Length, shop: &Shop) -> Self {
        Self {
            supply: Supply::Usual(&size.name),
            thick: size.rough(),
            wide,
            long,
            planed: usual_planed(size),
            jointing: shop.jointing.value,
            start: shop.end_trim.value,
            end: shop.end_trim.value,
            avoid: Vec::new(),
            price: None,
            count: None,
        }
    }

    /// Across, to saw from.
    pub(super) fn usable_width(&self) -> Length {
        (self.wide - self.jointing * 2.0).max(Length::ZERO)
    }

    /// Along, to saw from.
    pub(super) fn usable_length(&self) -> Length {
        (self.long - self.start - self.end).max(Length::ZERO)
    }

    /// The whole board as it lies there.
    pub(super) fn volume(&self) -> Volume {
        self.wide.by(self.long).over(self.thick)
    }

    /// As the search takes it; what is at hand is paid for already.
    pub(super) fn stock(&self) -> Stock {
        let long = there(self.usable_length());
        let money = match self.supply {
            Supply::ForSale(_) => self.price.map_or(0, thousandths),
            Supply::AtHand(_) | Supply::Usual(_) => 0,
        };
        Stock {
            thick: there(self.planed),
            wide: there(self.usable_width()),
            long,
            avoid: self.avoided(),
            count: self.count,
            cost: Cost { money, wood: cubic_centimeters(self.volume()) },
        }
    }

    /// What is to be avoided, along what is left of the board: ordered, apart and within it.
    fn avoided(&self) -> Vec<(Um, Um)> {
        let long = there(self.usable_length());
        let zero = there(Length::ZERO);
        let inner = |(from, to): &(Length, Length)| {
            let (from, to) = (there((*from).min(*to) - self.start), wanted((*from).max(*to) - self.start));
            let (from, to) = (from.clamp(zero, long), to.clamp(zero, long));
            (from < to).then_some((from, to))
        };
        let mut said: Vec<_> = self.avoid.iter().filter_map(inner).collect();
        said.sort_unstable();
        let mut apart: Vec<(_, _)> = Vec::with_capacity(said.len());
        for (from, to) in said {
            match apart.last_mut() {
                Some((_, end)) if from <= *end => *end = to.max(*end),
                Some(_) | None => apart.push((from, to)),
            }
        }
        apart
    }
}

fn price_of(price: Price, whole: Volume) -> Money {
    let amount = price.amount.value.0;
    Money(match price.per {
        PricePer::Piece => amount,
        PricePer::BoardFoot => amount * whole.board_feet(),
        PricePer::Liter => amount * whole.liters(),
    })
}

/// The boards of a wood that the shop names, those at hand first.
pub(super) fn named(recipe: &Recipe, wood: &RecipeWood) -> Vec<Source> {
    let shop = &recipe.shop;
    let at_hand = shop
        .boards
        .iter()
        .enumerate()
        .filter(|(_, board)| board.is_of(wood))
        .map(|(at, board)| Source::of(board, Supply::AtHand(at), Some(board.count.value.0), board.price, shop));
    let for_sale = shop.for_sale.iter().enumerate().filter(|(_, sold)| sold.board.is_of(wood)).map(|(at, sold)| {
        let count = sold.is_limited.then_some(sold.board.count.value.0);
        Source::of(&sold.board, Supply::ForSale(at), count, Some(sold.price), shop)
    });
    at_hand.chain(for_sale).collect()
}

/// Boards that are usually sold: 6 in or 150 mm wide and more where a strip wants it, 1 to 8 ft or 300 to 2400 mm long (common practice), of each
/// thickness that is the thinnest for something wanted. A thicker one would give nothing more.
pub(super) fn usual(recipe: &Recipe, wanted_of: &[Wanted]) -> Vec<Source> {
    const LENGTHS: u32 = 8;
    /// Steps of 2 in or 50 mm over that, to 12 in or 300 mm.
    const WIDER: u32 = 3;
    let (wide, wider, step) = match recipe.units {
        System::Inch => (Length::from_inches(6.0), Length::from_inches(2.0), Length::from_inches(12.0)),
        System::Millimeter => (Length::from_mm(150.0), Length::from_mm(50.0), Length::from_mm(300.0)),
    };
    let mut widths = vec![wide];
    // Strips and staves cannot be glued of parts: for wide ones a wider board is looked for.
    for lane in wanted_of.iter().filter(|lane| lane.block.is_none()) {
        let needs = length(lane.class.wide) + recipe.shop.jointing.value * 2.0;
        let enough =
            (0..=WIDER).map(|steps| wide + wider * f64::from(steps)).find(|wide| there(*wide) >= wanted(needs));
        if let Some(enough) = enough.filter(|enough| !widths.contains(enough)) {
            widths.push(enough);
        }
    }
    let mut sizes: Vec<&'static LumberSize> = Vec::new();
    for wanted in wanted_of {
        let Some(size) = thinnest(recipe.units, wanted) else { continue };
        if !sizes.iter().any(|known| std::ptr::eq(*known, size)) {
            sizes.push(size);
        }
    }
    sizes.sort_by(|a, b| a.rough().mm().total_cmp(&b.rough().mm()));
    let lengths = |size: &'static LumberSize, wide: Length| {
        (1..=LENGTHS).map(move |feet| Source::usual(size, wide, step * f64::from(feet), &recipe.shop))
    };
    let of_size = |size: &'static LumberSize| widths.iter().flat_map(move |wide| lengths(size, *wide));
    sizes.into_iter().flat_map(of_size).collect()
}

fn usual_planed(size: &LumberSize) -> Length {
    (size.rough() - planing_allowance() * 2.0).max(Length::ZERO)
}

fn thinnest(units: System, wanted: &Wanted) -> Option<&'static LumberSize> {
    let is_metric = units == System::Millimeter;
    let of_series = lumber_sizes().iter().filter(|size| size.is_metric() == is_metric);
    let thick_enough = of_series.filter(|size| there(usual_planed(size)) >= wanted.class.thick);
    thick_enough.min_by(|a, b| a.rough().mm().total_cmp(&b.rough().mm()))
}

/// The widest that is thick and long enough for it; nothing when none is.
pub(super) fn widest(sources: &[Source], wanted: &Wanted) -> Length {
    let long = wanted.class.pieces.iter().map(|piece| piece.pitch).max().map_or(Length::ZERO, length);
    let enough = |source: &&Source| there(source.planed) >= wanted.class.thick && source.usable_length() >= long;
    sources.iter().filter(enough).map(Source::usable_width).fold(Length::ZERO, Length::max)
}
