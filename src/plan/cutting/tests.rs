//! Questions worked out by hand, and answers told on the boards as they lie there.

use super::asked::Asked;
use super::{LaneKind, demand, piles};
use crate::quantity::{Count, Length, Money};
use crate::resolve::{ForSale, LayerKind, Price, PricePer, Recipe, StockBoard, resolve};
use crate::search::cutting::{Cost, Um};
use crate::source::MapWorld;
use crate::workings::{Known, Ledger, Origin};

mod whole_way;

const USUAL: Origin = Origin::Default(&"of a test");

/// A cup, kerf 3 and hold 100, with a place for lines of the shop and the layers.
fn text(shop: &str, layers: &str) -> String {
    format!(
        "units mm\nshop {{ kerf 3  hold 100  sanding 0.4  allowance 3\n{shop} }}\nvessel \"Cup\" {{\n \
         outside {{ at 0 diameter 90  at 64 diameter 90 }}\n wall 9\n floor 10\n every ring {{ segments 12  thick 18 }}\n \
         body {{ {layers} }}\n}}\n"
    )
}

const LAYERS: &str = "disc walnut thick 10\n repeat 3 { ring maple }";

fn recipe(text: &str, change: impl FnOnce(&mut Recipe)) -> Recipe {
    let (world, root) = MapWorld::of("test.vessel", text);
    let resolved = resolve(&world, root);
    let mut recipe = resolved.recipe.unwrap_or_else(|| panic!("{:?}", resolved.findings));
    change(&mut recipe);
    recipe
}

/// Each pile of a recipe as a question.
fn asked(text: &str, change: impl FnOnce(&mut Recipe)) -> Vec<Asked> {
    let recipe = recipe(text, change);
    let mut ledger = Ledger::new();
    let vessel = crate::geometry::build(&recipe, &mut ledger).value.unwrap();
    let layers = crate::plan::planned_layers(&recipe, &vessel);
    let budgets = crate::plan::budget::budgets(&recipe, &layers, &mut ledger);
    let list = crate::plan::cut_list::cut_list(&recipe, &vessel, &layers, &budgets, &mut ledger);
    let inserts = crate::plan::inserts::blanks(&recipe, &vessel, &mut ledger);
    let piles = piles(&recipe, demand::all(&recipe, &layers, &list, &inserts));
    piles.into_iter().map(|(woods, wanted)| Asked::of(&recipe, woods, wanted)).collect()
}

fn board(recipe: &Recipe, wood: &str, sides: [f64; 3], is_rough: bool) -> StockBoard {
    let used = recipe.woods.iter().find(|used| used.name == wood).unwrap();
    let [thick, wide, long] = sides.map(|side| Known::new(Length::from_mm(side), USUAL));
    StockBoard {
        name: wood.to_owned(),
        wood: used.wood().unwrap(),
        thick,
        wide,
        long,
        count: Known::new(Count(1), USUAL),
        is_rough,
        avoid: Vec::new(),
        price: None,
        span: used.span,
    }
}

fn for_sale(board: StockBoard, amount: f64, per: PricePer) -> ForSale {
    ForSale { board, price: Price { amount: Known::new(Money(amount), USUAL), per }, is_limited: false }
}

fn match_rings(recipe: &mut Recipe, which: &[usize]) {
    let layers = recipe.parts.iter_mut().flat_map(|part| &mut part.layers);
    for (_, layer) in layers.enumerate().filter(|(at, _)| which.contains(at)) {
        let span = layer.span;
        if let LayerKind::Ring(ring) = &mut layer.kind {
            ring.matched = Some(span);
        }
    }
}

#[test]
fn a_strip_is_a_lane_with_the_pitch_of_its_pieces() {
    let asked = asked(&text("", LAYERS), |_| {});
    let woods: Vec<_> = asked.iter().map(|pile| pile.wanted[0].lane).collect();
    assert_eq!(woods, [LaneKind::Round(0), LaneKind::Strip(0)], "walnut is used first");
    let problem = asked[1].problem();
    assert_eq!((problem.kerf, problem.least_section), (Um(3_000), Um(300_000)));
    let [class] = problem.classes.as_slice() else { panic!("{:?}", problem.classes) };
    // 48 − 33 · cos 15° = 16.124 mm, told and ripped as 16.2 mm; 18 + 2 · 0.4 mm thick, less what no planer shows.
    assert_eq!((class.wide, class.thick, class.tail, class.is_block), (Um(16_200), Um(18_750), Um(100_000), false));
    // Edges of 25.723 and 17.082 mm: 21.4026 + 3 / cos 15° = 24.508… mm; first cut 16.2 · tan 15° + 3 / cos 15°.
    let [piece] = class.pieces.as_slice() else { panic!("{:?}", class.pieces) };
    assert_eq!((piece.pitch, piece.first, piece.count), (Um(24_509), Um(7_447), 36));
    assert_eq!(piece.together, None);
}

#[test]
fn a_first_cut_takes_the_most_that_it_can_after_the_steepest_miter() {
    // Miters of 30° and 7.5° in strips that are given, so that both come from one.
    let layers = "disc walnut thick 10\n ring 6 maple strip 30\n ring 24 maple strip 30\n ring 12 walnut";
    let asked = asked(&text("", layers), |_| {});
    let strip = asked.iter().flat_map(|pile| &pile.wanted).find(|wanted| wanted.lane == LaneKind::Strip(0)).unwrap();
    let firsts: Vec<_> = strip.class.pieces.iter().map(|piece| (piece.setting, piece.first)).collect();
    // 30 · tan 30° + 3 / cos 30° = 20.785; then the greater of 30 · tan 7.5° + 3 / cos 7.5° = 6.9755 and
    // 30 · (tan 30° − tan 7.5°) / 2 + 3 / cos 7.5° = 9.7114.
    assert_eq!(firsts, [(0, Um(20_785)), (2, Um(9_712))]);
}

#[test]
fn a_matched_ring_has_pieces_of_its_own_that_stay_together() {
    let asked = asked(&text("", LAYERS), |recipe| match_rings(recipe, &[2]));
    let pieces = &asked[1].problem().classes[0].pieces;
    let told: Vec<_> = pieces.iter().map(|piece| (piece.count, piece.together, piece.setting)).collect();
    assert_eq!(told, [(12, Some(2), 0), (24, None, 0)]);
    assert_eq!(asked[1].wanted[0].rows, [0, 0], "both are the row's");
}

#[test]
fn two_names_of_one_wood_share_a_pile_and_an_own_wood_has_its_own() {
    let layers = "disc walnut thick 10\n ring maple\n ring hard-maple\n ring chalk";
    let with_own =
        format!("units mm\nwood chalk {{ like hard-maple }}\n{}", text("", layers).replace("units mm\n", ""));
    let asked = asked(&with_own, |_| {});
    let counts: Vec<u32> =
        asked.iter().map(|pile| pile.wanted.iter().flat_map(|w| &w.class.pieces).map(|p| p.count).sum()).collect();
    assert_eq!(counts, [1, 24, 12]);
}

#[test]
fn what_is_rough_loses_edges_and_ends_and_what_is_not_one_kerf() {
    let stock = |is_rough: bool, avoid: &[(f64, f64)]| {
        let asked = asked(&text("", LAYERS), |recipe| {
            let mut board = board(recipe, "maple", [27.0, 150.0, 1000.0], is_rough);
            let mm = |at: f64| Known::new(Length::from_mm(at), USUAL);
            board.avoid = avoid.iter().map(|(from, to)| (mm(*from), mm(*to))).collect();
            recipe.shop.boards.push(board);
        });
        asked[1].problem().stock.remove(0)
    };
    let rough = stock(true, &[(10.0, 60.0), (500.0, 540.0), (530.0, 600.0), (960.0, 2000.0)]);
    // 1.6 mm off each face, 3 mm off each edge, 25 mm off each end.
    assert_eq!((rough.thick, rough.wide, rough.long), (Um(23_800), Um(144_000), Um(950_000)));
    assert_eq!(rough.avoid, [(Um(0), Um(35_000)), (Um(475_000), Um(575_000)), (Um(935_000), Um(950_000))]);
    assert_eq!((rough.count, rough.cost), (Some(1), Cost { money: 0, wood: 4_050 }));
    let planed = stock(false, &[(0.0, 2.0), (500.0, 540.0)]);
    assert_eq!((planed.thick, planed.wide, planed.long), (Um(27_000), Um(150_000), Um(997_000)));
    assert_eq!(planed.avoid, [(Um(497_000), Um(537_000))]);
}

#[test]
fn what_is_for_sale_costs_by_the_piece_the_board_foot_or_the_liter() {
    let asked = asked(&text("", LAYERS), |recipe| {
        for (amount, per) in [(7.5, PricePer::Piece), (12.0, PricePer::BoardFoot), (10.0, PricePer::Liter)] {
            // 1 in × 6 in × 24 in: one board foot, 2.3597 l.
            let sold = for_sale(board(recipe, "maple", [25.4, 152.4, 609.6], true), amount, per);
            recipe.shop.for_sale.push(sold);
        }
    });
    let stock = asked[1].problem().stock;
    let told: Vec<_> = stock.iter().map(|stock| (stock.cost.money, stock.cost.wood, stock.count)).collect();
    assert_eq!(told, [(7_500, 2_360, None), (12_000, 2_360, None), (23_597, 2_360, None)]);
}

#[test]
fn where_no_board_is_named_usual_sizes_stand_in() {
    let asked = asked(&text("", LAYERS), |_| {});
    let maple = &asked[1];
    // 18.8 mm: of 20 mm planing leaves 16.8, of 27 mm 23.8.
    let sizes: Vec<_> = maple.sources.iter().map(|source| (source.thick.mm(), source.long.mm())).collect();
    assert_eq!(sizes.len(), 8);
    assert!(sizes.iter().all(|(thick, _)| (*thick - 27.0).abs() < 1e-9));
    assert!((sizes[0].1 - 300.0).abs() < 1e-9 && (sizes[7].1 - 2400.0).abs() < 1e-9);
    let stock = &maple.problem().stock[0];
    assert_eq!((stock.wide, stock.long, stock.count), (Um(144_000), Um(250_000), None));
}

#[test]
fn a_round_wider_than_any_board_is_glued_of_equal_parts() {
    let panel = |wide: f64| {
        let asked = asked(&text("", LAYERS), |recipe| {
            recipe.shop.boards.push(board(recipe, "walnut", [12.0, wide, 2000.0], false));
            // Wide enough but too thin: it helps nothing.
            recipe.shop.boards.push(board(recipe, "walnut", [9.0, 300.0, 2000.0], false));
        });
        let class = asked[0].problem().classes.remove(0);
        (class.wide, class.pieces[0].count, class.pieces[0].pitch, class.is_block)
    };
    // The disc is 96 mm across; a kerf goes with each part.
    assert_eq!(panel(96.0), (Um(96_000), 1, Um(99_000), true));
    assert_eq!(panel(95.9), (Um(48_000), 2, Um(99_000), true));
    assert_eq!(panel(47.9), (Um(32_000), 3, Um(99_000), true));
}

#[test]
fn staves_lie_one_behind_the_other_in_lanes_as_wide_as_they_take() {
    let layers = "disc walnut thick 10\n staves 12 maple tall 54";
    let asked = asked(&text("", layers), |_| {});
    let class = &asked[1].problem().classes[0];
    // 96 · tan 15° = 25.723 mm wide outside, and 3 / cos 15° − 3 = 0.106 mm for the tilt: 25.829, told as 25.9.
    assert_eq!((class.wide, class.is_block), (Um(25_900), false));
    let piece = class.pieces[0];
    assert_eq!((piece.count, piece.first, piece.setting), (12, Um(0), 0));
    // A stave of more than 54 mm and a kerf; it is held by the tail behind it.
    assert!(piece.pitch >= Um(57_000) && piece.pitch.0 + class.tail.0 == 103_000, "{class:?}");
}

#[test]
fn plies_are_wanted_and_not_what_is_sawn_from_their_board() {
    let layers = "disc walnut thick 10\n ring stripe\n ring stripe\n ring stripe";
    let board = "units mm\nboard stripe { maple 6.4  walnut 6  maple 6.4 }\n";
    let asked = asked(&format!("{board}{}", text("", layers).replace("units mm\n", "")), |_| {});
    let lanes: Vec<Vec<LaneKind>> = asked.iter().map(|pile| pile.wanted.iter().map(|w| w.lane).collect()).collect();
    let ply = |ply| LaneKind::Ply { board: 0, ply };
    let (walnut, maple) = (vec![LaneKind::Round(0), ply(1)], vec![ply(0), ply(2)]);
    assert_eq!(lanes, [walnut, maple]);
    assert!(asked[1].wanted.iter().all(|wanted| wanted.class.is_block && wanted.class.thick == Um(6_350)));
}
