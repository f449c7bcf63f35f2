//! The cutting plan as JSON. Along a board counts from its start, across it from its first edge, as it lies there.

use schemars::JsonSchema;
use serde::Serialize;

use crate::compile::Complete;
use crate::output::cutting_plan::{cut_name, lane_name};
use crate::output::sheet::Sheet;
use crate::plan::cutting::{self as plan, LaneKind, Supply};

use super::fill::wood_name;
use super::{Setup, Strip};

/// What the cuts come from.
#[derive(Debug, Serialize, JsonSchema)]
pub struct CuttingPlan<'a> {
    /// Of the saw.
    pub kerf_mm: f64,
    /// Every board that is cut.
    pub boards: Vec<Board<'a>>,
    /// Stock to rip.
    pub strips: Vec<Strip<'a>>,
    /// Settings of the miter gauge, in order.
    pub setups: Vec<Setup>,
    /// Settings of the rip fence, the widest first.
    pub fences: Vec<Fence>,
    /// Blanks that are glued up edge to edge first.
    pub panels: Vec<Panel>,
    /// The boards of each wood, and how good the plan is.
    pub piles: Vec<Pile<'a>>,
    /// Fewest boards that any plan needs.
    pub bound: Option<f64>,
}

/// A board and its cuts.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Board<'a> {
    /// `B1`, `B2` …
    pub label: String,
    /// As the recipe names it.
    pub wood: &'a str,
    /// `at_hand`, `for_sale` or `usual`.
    pub supply: &'static str,
    /// The name of a usual size.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<&'static str>,
    /// As it lies there.
    pub thick_mm: f64,
    /// As it lies there.
    pub wide_mm: f64,
    /// As it lies there.
    pub long_mm: f64,
    /// What is left of the thickness.
    pub planed_mm: f64,
    /// Whether faces, edges and ends are still to be trued.
    pub is_rough: bool,
    /// Off each edge.
    pub jointing_mm: f64,
    /// Off each end; of a board that is not rough, off its start.
    pub end_trim_mm: f64,
    /// Stretches that no piece touches.
    pub avoid: Vec<Stretch>,
    /// What it costs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
    /// From its start.
    pub sections: Vec<Section>,
    /// What is left in one piece, the largest first.
    pub offcuts: Vec<Offcut>,
}

/// A part of a length.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Stretch {
    /// Where it begins.
    pub from_mm: f64,
    /// Where it ends.
    pub to_mm: f64,
}

/// A length of a board, as wide as it.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Section {
    /// Along the board.
    pub from_mm: f64,
    /// Along the board.
    pub to_mm: f64,
    /// Side by side.
    pub lanes: Vec<Lane>,
}

/// What is ripped from a section, as long as it.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Lane {
    /// `strip`, `staves`, `round`, `cone`, `insert` or `ply`.
    pub kind: &'static str,
    /// The strip's label, the letter of a cut, or which ply.
    pub of: String,
    /// Across the board.
    pub from_mm: f64,
    /// Of it.
    pub width_mm: f64,
    /// In the order of cutting.
    pub cuts: Vec<Run>,
}

/// Pieces that are cut one after another.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Run {
    /// The label of the cut.
    pub cut: String,
    /// How many.
    pub count: u32,
    /// Along the board: where the wood for the first begins.
    pub from_mm: f64,
    /// Along the board: behind the kerf of the last.
    pub to_mm: f64,
}

/// Wood that is left in one piece.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(missing_docs, reason = "the keys say it")]
#[allow(clippy::struct_field_names, reason = "every key of the JSON carries its unit")]
pub struct Offcut {
    pub from_mm: f64,
    pub to_mm: f64,
    pub across_from_mm: f64,
    pub across_to_mm: f64,
}

/// A setting of the rip fence.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Fence {
    /// From the blade.
    pub width_mm: f64,
    /// How many rips.
    pub rips: u32,
    /// What is ripped so.
    pub of: Vec<String>,
}

/// A blank that is glued up edge to edge.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct Panel {
    pub of: String,
    pub count: u32,
    pub parts: u32,
    pub part_width_mm: f64,
    pub length_mm: f64,
}

/// The boards of one wood.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Pile<'a> {
    /// Its names in the recipe.
    pub woods: Vec<&'a str>,
    /// The labels of its boards.
    pub boards: Vec<String>,
    /// Of those boards, whole.
    pub wood_cm3: f64,
    /// Least wood that any plan takes which costs no more; 0 where it is not proved that none costs less.
    pub least_wood_cm3: f64,
    /// What is paid, where it is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost: Option<f64>,
    /// Least money that any plan costs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_cost: Option<f64>,
    /// Fewest boards that any plan takes.
    pub least_boards: u32,
    /// Whether the bound is reached.
    pub is_optimal: bool,
    /// What the boards do not give.
    pub lacks: Vec<Lack>,
    /// The cheapest purchase that mends it.
    pub buy: Vec<Purchase>,
}

/// Pieces that no board gives.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct Lack {
    pub of: String,
    pub cut: String,
    pub count: u32,
}

/// Boards to buy.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct Purchase {
    pub supply: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<&'static str>,
    pub count: u32,
    pub thick_mm: f64,
    pub wide_mm: f64,
    pub long_mm: f64,
    /// Of all of them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
}

/// All of it; strips and setups are those of the cut list.
pub(super) fn cutting_plan<'a>(complete: &Complete<'a>, strips: Vec<Strip<'a>>, setups: Vec<Setup>) -> CuttingPlan<'a> {
    let (sheet, cutting) = (Sheet::new(complete), &complete.plan.cutting);
    let mut labels = (1..).map(|number| format!("B{number}"));
    let (mut boards, mut piles) = (Vec::new(), Vec::new());
    for of in &cutting.piles {
        let names: Vec<String> = labels.by_ref().take(of.boards.len()).collect();
        let wood = of.woods.first().map_or("", |wood| wood_name(complete, *wood));
        boards.extend(of.boards.iter().zip(&names).map(|(one, label)| board(complete, &sheet, one, (label, wood))));
        piles.push(pile(complete, &sheet, of, names));
    }
    let fences = cutting.fences.iter().map(|fence| Fence {
        width_mm: fence.width.mm(),
        rips: fence.rips,
        of: fence.lanes.iter().map(|lane| lane_name(&sheet, *lane)).collect(),
    });
    let panels = cutting.panels.iter().map(|panel| Panel {
        of: lane_name(&sheet, panel.is),
        count: panel.count,
        parts: panel.parts,
        part_width_mm: panel.part_width.mm(),
        length_mm: panel.length.mm(),
    });
    CuttingPlan {
        kerf_mm: complete.recipe.shop.kerf.value.mm(),
        boards,
        strips,
        setups,
        fences: fences.collect(),
        panels: panels.collect(),
        piles,
        bound: Some(cutting.piles.iter().map(|pile| f64::from(pile.bound.boards)).sum()),
    }
}

fn supply(supply: Supply) -> (&'static str, Option<&'static str>) {
    match supply {
        Supply::AtHand(_) => ("at_hand", None),
        Supply::ForSale(_) => ("for_sale", None),
        Supply::Usual(name) => ("usual", Some(name)),
    }
}

fn board<'a>(
    complete: &Complete<'a>,
    sheet: &Sheet<'_>,
    one: &plan::SawnBoard,
    (label, wood): (&str, &'a str),
) -> Board<'a> {
    let shop = &complete.recipe.shop;
    let is_rough = match one.supply {
        Supply::AtHand(at) => shop.boards.get(at).is_some_and(|board| board.is_rough),
        Supply::ForSale(at) => shop.for_sale.get(at).is_some_and(|sale| sale.board.is_rough),
        Supply::Usual(_) => true,
    };
    let (supply, size) = supply(one.supply);
    let lane = |lane: &plan::BoardLane| Lane {
        kind: match lane.is {
            LaneKind::Strip(_) => "strip",
            LaneKind::Staves(_) => "staves",
            LaneKind::Round(_) => "round",
            LaneKind::Cone(_) => "cone",
            LaneKind::Insert(_) => "insert",
            LaneKind::Ply { .. } => "ply",
        },
        of: lane_name(sheet, lane.is),
        from_mm: lane.from.mm(),
        width_mm: lane.width.mm(),
        cuts: lane
            .cuts
            .iter()
            .map(|cut| Run {
                cut: cut_name(sheet, lane.is, cut.row),
                count: cut.count,
                from_mm: cut.from.mm(),
                to_mm: cut.to.mm(),
            })
            .collect(),
    };
    Board {
        label: label.to_owned(),
        wood,
        supply,
        size,
        thick_mm: one.thick.mm(),
        wide_mm: one.wide.mm(),
        long_mm: one.long.mm(),
        planed_mm: one.planed.mm(),
        is_rough,
        jointing_mm: one.jointing.mm(),
        end_trim_mm: one.end_trim.mm(),
        avoid: one.avoid.iter().map(|(from, to)| Stretch { from_mm: from.mm(), to_mm: to.mm() }).collect(),
        price: one.price.map(|price| price.0),
        sections: one
            .sections
            .iter()
            .map(|section| Section {
                from_mm: section.from.mm(),
                to_mm: section.to.mm(),
                lanes: section.lanes.iter().map(lane).collect(),
            })
            .collect(),
        offcuts: one
            .offcuts
            .iter()
            .map(|offcut| Offcut {
                from_mm: offcut.along.0.mm(),
                to_mm: offcut.along.1.mm(),
                across_from_mm: offcut.across.0.mm(),
                across_to_mm: offcut.across.1.mm(),
            })
            .collect(),
    }
}

fn pile<'a>(complete: &Complete<'a>, sheet: &Sheet<'_>, of: &plan::Pile, boards: Vec<String>) -> Pile<'a> {
    let whole = |board: &plan::SawnBoard| board.wide.by(board.long).over(board.thick).cm3();
    let lacks = of.lack.iter().flat_map(|lack| &lack.pieces);
    let buy = of.lack.iter().flat_map(|lack| &lack.buy);
    Pile {
        woods: of.woods.iter().map(|wood| wood_name(complete, *wood)).collect(),
        boards,
        wood_cm3: of.boards.iter().map(whole).sum(),
        least_wood_cm3: of.bound.wood.cm3(),
        cost: of.cost.map(|cost| cost.0),
        least_cost: of.bound.cost.map(|cost| cost.0),
        least_boards: of.bound.boards,
        is_optimal: of.bound.is_reached,
        lacks: lacks
            .map(|(lane, row, count)| Lack {
                of: lane_name(sheet, *lane),
                cut: cut_name(sheet, *lane, *row),
                count: *count,
            })
            .collect(),
        buy: buy
            .map(|purchase| {
                let (supply, size) = supply(purchase.supply);
                Purchase {
                    supply,
                    size,
                    count: purchase.count,
                    thick_mm: purchase.thick.mm(),
                    wide_mm: purchase.wide.mm(),
                    long_mm: purchase.long.mm(),
                    price: purchase.price.map(|price| price.0),
                }
            })
            .collect(),
    }
}
