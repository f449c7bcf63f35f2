//! From a recipe to boards and cuts.

use super::{LAYERS, board, for_sale, match_rings, recipe, text};
use crate::plan::cutting::{BoardSection, CuttingPlan, LaneKind, SawnBoard, Supply};
use crate::plan::{Asked, CutList, Plan, plan};
use crate::quantity::Length;
use crate::resolve::{PricePer, Recipe};
use crate::workings::Ledger;

fn planned(recipe: &Recipe) -> Plan {
    let mut ledger = Ledger::new();
    let vessel = crate::geometry::build(recipe, &mut ledger).value.unwrap();
    plan(recipe, &vessel, Asked::default(), &mut ledger).value
}

fn of(text: &str, change: impl FnOnce(&mut Recipe)) -> (Recipe, Plan) {
    let recipe = recipe(text, change);
    let plan = planned(&recipe);
    (recipe, plan)
}

fn boards(plan: &CuttingPlan) -> impl Iterator<Item = &SawnBoard> {
    plan.piles.iter().flat_map(|pile| &pile.boards)
}

fn cut_of(plan: &CuttingPlan, lane: LaneKind, row: usize) -> u32 {
    let lanes = boards(plan).flat_map(|board| &board.sections).flat_map(|section| &section.lanes);
    lanes.filter(|of| of.is == lane).flat_map(|of| &of.cuts).filter(|cut| cut.row == row).map(|cut| cut.count).sum()
}

/// Every row of the list is cut, each piece once, and every cut lies in its board.
#[track_caller]
fn assert_sound(recipe: &Recipe, plan: &Plan) {
    let (list, cutting): (&CutList, _) = (&plan.cut_list, &plan.cutting);
    let is_plain = |wood: usize| recipe.woods[wood].wood().is_some();
    for (at, row) in list.rows.iter().enumerate().filter(|(_, row)| is_plain(row.wood)) {
        assert_eq!(cut_of(cutting, LaneKind::Strip(row.strip), at), row.count, "row {at}");
    }
    for (at, row) in list.discs.iter().enumerate() {
        let parts = cutting.panels.iter().find(|panel| panel.is == LaneKind::Round(at)).map_or(1, |panel| panel.parts);
        let count = u32::try_from(row.layers.len()).unwrap() * parts;
        assert_eq!(cut_of(cutting, LaneKind::Round(at), at), count, "round {at}");
    }
    for (at, row) in list.staves.iter().enumerate() {
        assert_eq!(cut_of(cutting, LaneKind::Staves(at), at), row.count, "staves {at}");
    }
    let kerf = recipe.shop.kerf.value;
    for board in boards(cutting) {
        assert!(!board.sections.is_empty(), "a board that nothing is cut from");
        let mut start = board.end_trim;
        for section in &board.sections {
            assert!(at_least(section.from, start) && at_least(board.long, section.to), "{section:?}");
            start = section.to + kerf;
            assert_lanes(board, section, kerf);
        }
        for offcut in &board.offcuts {
            assert!(at_least(board.long, offcut.along.1) && at_least(board.wide, offcut.across.1), "{offcut:?}");
            for section in &board.sections {
                for lane in &section.lanes {
                    let apart =
                        |from: Length, to: Length, (a, b): (Length, Length)| at_least(from, b) || at_least(a, to);
                    let is_apart = apart(lane.from, lane.from + lane.width, offcut.across)
                        || lane.cuts.iter().all(|cut| apart(cut.from, cut.to, offcut.along));
                    assert!(is_apart, "{offcut:?} is in {lane:?}");
                }
            }
        }
    }
}

fn assert_lanes(board: &SawnBoard, section: &BoardSection, kerf: Length) {
    let mut across = board.jointing;
    for lane in &section.lanes {
        assert!(at_least(lane.from, across) && at_least(board.wide - board.jointing, lane.from + lane.width));
        across = lane.from + lane.width + kerf;
        let mut along = section.from;
        // The kerf of the last piece may be the cut that ends the section.
        for cut in &lane.cuts {
            assert!(
                at_least(cut.from, along) && at_least(section.to + kerf, cut.to) && cut.count > 0,
                "{cut:?} {section:?}"
            );
            along = cut.to;
            for (from, to) in &board.avoid {
                assert!(at_least(*from + kerf, cut.to) || at_least(cut.from, *to), "{cut:?} touches {from:?} {to:?}");
            }
        }
    }
}

fn at_least(length: Length, other: Length) -> bool {
    length.mm() >= other.mm() - 1e-6
}

fn maple(recipe: &mut Recipe, sides: [f64; 3], is_rough: bool) -> usize {
    let board = board(recipe, "maple", sides, is_rough);
    recipe.shop.boards.push(board);
    recipe.shop.boards.len() - 1
}

#[test]
fn boards_at_hand_give_every_piece_once_rough_or_surfaced() {
    for is_rough in [true, false] {
        let (recipe, plan) = of(&text("", LAYERS), |recipe| {
            maple(recipe, [27.0, 60.0, 900.0], is_rough);
        });
        assert_sound(&recipe, &plan);
        let pile = &plan.cutting.piles[1];
        assert!(pile.lack.is_none() && pile.cost.is_none() && plan.totals.cost.is_none());
        let [board] = pile.boards.as_slice() else { panic!("{:?}", pile.boards) };
        assert_eq!(board.supply, Supply::AtHand(0));
        let lost = if is_rough { (3.0, 25.0, 23.8) } else { (0.0, 3.0, 27.0) };
        assert_eq!((board.jointing.mm(), board.end_trim.mm(), (board.planed.mm() * 10.0).round() / 10.0), lost);
    }
}

#[test]
fn nothing_at_hand_is_planned_from_usual_sizes() {
    let (recipe, plan) = of(&text("", LAYERS), |_| {});
    assert_sound(&recipe, &plan);
    for board in boards(&plan.cutting) {
        assert!(matches!(board.supply, Supply::Usual(_)) && board.price.is_none());
    }
    assert!(plan.cutting.piles.iter().all(|pile| pile.lack.is_none() && pile.bound.boards >= 1));
    let rips: u32 = plan.cutting.fences.iter().map(|fence| fence.rips).sum();
    let lanes =
        boards(&plan.cutting).flat_map(|board| &board.sections).map(|section| section.lanes.len()).sum::<usize>();
    assert_eq!(rips as usize, lanes);
    let order = |fence: &crate::plan::cutting::Fence| (fence.is_short, -fence.width.mm());
    assert!(plan.cutting.fences.windows(2).all(|pair| order(&pair[0]) < order(&pair[1])));
}

#[test]
fn no_piece_touches_what_is_to_be_avoided() {
    let (recipe, plan) = of(&text("", LAYERS), |recipe| {
        let at = maple(recipe, [27.0, 100.0, 1000.0], true);
        let mm = |at: f64| crate::workings::Known::new(Length::from_mm(at), super::USUAL);
        recipe.shop.boards[at].avoid = vec![(mm(300.0), mm(340.0)), (mm(600.0), mm(640.0))];
    });
    assert_sound(&recipe, &plan);
    assert_eq!(plan.cutting.piles[1].boards.len(), 1);
}

#[test]
fn a_wide_disc_becomes_a_panel_where_no_board_is_wide_enough() {
    let (recipe, plan) = of(&text("", LAYERS), |recipe| {
        let walnut = board(recipe, "walnut", [12.0, 60.0, 900.0], false);
        recipe.shop.boards.push(walnut);
    });
    assert_sound(&recipe, &plan);
    let [panel] = plan.cutting.panels.as_slice() else { panic!("{:?}", plan.cutting.panels) };
    assert_eq!((panel.is, panel.count, panel.parts), (LaneKind::Round(0), 1, 2));
    assert!((panel.part_width.mm() - 48.0).abs() < 1e-6 && (panel.length.mm() - 96.0).abs() < 1e-6);
}

#[test]
fn a_matched_ring_comes_from_one_lane() {
    let lanes_of_ring = |long: f64, is_matched: bool| {
        let (recipe, plan) = of(&text("", LAYERS), |recipe| {
            let at = maple(recipe, [20.0, 120.0, long], false);
            recipe.shop.boards[at].count.value.0 = 2;
            if is_matched {
                match_rings(recipe, &[1, 2, 3]);
            }
        });
        (recipe, plan)
    };
    // A ring takes 12 · 24.5 mm, the first cut of 7.4 mm and the tail of 100 mm: 401.6 mm, and the board loses a kerf.
    let (recipe, plan) = lanes_of_ring(410.0, true);
    assert_sound(&recipe, &plan);
    let lanes = boards(&plan.cutting).flat_map(|board| &board.sections).flat_map(|section| &section.lanes);
    let strips: Vec<u32> = lanes
        .filter(|lane| lane.is == LaneKind::Strip(0))
        .map(|lane| lane.cuts.iter().map(|cut| cut.count).sum())
        .collect();
    assert_eq!(strips, [12, 12, 12]);
    // In shorter boards none of them finds room, though there is wood enough for all.
    let (recipe, plan) = lanes_of_ring(400.0, false);
    assert_sound(&recipe, &plan);
    let (_, plan) = lanes_of_ring(400.0, true);
    let lack = plan.cutting.piles[1].lack.as_ref().unwrap();
    assert_eq!(lack.pieces, [(LaneKind::Strip(0), 0, 36)]);
    assert!(plan.cutting.lacks(LaneKind::Strip(0)) && !plan.cutting.lacks(LaneKind::Round(0)));
}

#[test]
fn too_little_is_told_with_a_purchase_that_mends_it() {
    let short = |recipe: &mut Recipe| {
        maple(recipe, [20.0, 60.0, 320.0], false);
    };
    let (_, plan) = of(&text("", LAYERS), short);
    let lack = plan.cutting.piles[1].lack.clone().unwrap();
    let missing: u32 = lack.pieces.iter().map(|(.., count)| count).sum();
    assert!(missing > 0 && missing < 36, "{lack:?}");
    assert!(!lack.buy.is_empty() && plan.cutting.cost().is_none());
    let bought = lack.buy.clone();
    let (recipe, plan) = of(&text("", LAYERS), |recipe| {
        short(recipe);
        for purchase in &bought {
            let sides = [purchase.thick, purchase.wide, purchase.long].map(Length::mm);
            let at = maple(recipe, sides, true);
            recipe.shop.boards[at].count.value.0 = purchase.count;
        }
    });
    assert!(plan.cutting.piles[1].lack.is_none());
    assert_sound(&recipe, &plan);
}

#[test]
fn what_is_for_sale_is_bought_where_boards_at_hand_do_not_suffice() {
    let (recipe, plan) = of(&text("", LAYERS), |recipe| {
        maple(recipe, [20.0, 60.0, 320.0], false);
        for (long, amount) in [(900.0, 14.0), (600.0, 9.5)] {
            let sold = for_sale(board(recipe, "maple", [25.0, 100.0, long], true), amount, PricePer::Piece);
            recipe.shop.for_sale.push(sold);
        }
        // Walnut is there, so that all prices are known.
        let walnut = board(recipe, "walnut", [12.0, 100.0, 900.0], false);
        recipe.shop.boards.push(walnut);
    });
    assert_sound(&recipe, &plan);
    let pile = &plan.cutting.piles[1];
    assert!(pile.lack.is_none());
    // Six hundred is enough: five lanes of which each gives more than twelve pieces.
    assert_eq!(pile.cost, Some(crate::quantity::Money(9.5)));
    assert_eq!(plan.totals.cost, Some(crate::quantity::Money(9.5)));
}

#[test]
fn a_dealer_who_has_too_little_is_told_too() {
    let (_, plan) = of(&text("", LAYERS), |recipe| {
        let mut sold = for_sale(board(recipe, "maple", [25.0, 40.0, 400.0], true), 5.0, PricePer::Piece);
        sold.is_limited = true;
        recipe.shop.for_sale.push(sold);
    });
    let lack = plan.cutting.piles[1].lack.as_ref().unwrap();
    assert!(lack.buy.iter().all(|purchase| matches!(purchase.supply, Supply::Usual("27 mm"))));
    assert!(!lack.buy.is_empty());
}
