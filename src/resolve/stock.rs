//! What a shop lists line by line: `boards` at hand, boards `for-sale`, and band clamps.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use crate::finding::{Finding, catalog};
use crate::quantity::{Count, Diameter, Length};
use crate::syntax::{Item, ItemKind};
use crate::tables::{find_wood, planing_allowance, short_names};
use crate::vocabulary::{BlockKind, Bound, ClauseId, HeadId, PRICED_PER};
use crate::workings::{Known, Origin};

use super::recipe::{Band, ForSale, Price, PricePer, RecipeWood, StockBoard};
use super::scope::Scope;
use super::split::{Call, split_lines};
use super::wood::Means;
use super::{Resolver, bench, findings, layer_findings, read};

impl Resolver<'_> {
    /// The boards that a shop names; `None` when it names none. Woods are looked up in `scope`, so a file's own
    /// woods must have been read.
    pub(super) fn boards_at_hand(&mut self, scope: &Scope, shop: &Call<'_>) -> Option<Vec<StockBoard>> {
        let lines = self.lines_of(scope, shop, HeadId::Boards)?;
        Some(lines.iter().filter_map(|line| self.board_of(scope, line)).collect())
    }

    /// The boards that a shop knows for sale; `None` when it knows none.
    pub(super) fn boards_for_sale(&mut self, scope: &Scope, shop: &Call<'_>) -> Option<Vec<ForSale>> {
        let lines = self.lines_of(scope, shop, HeadId::ForSale)?;
        Some(lines.iter().filter_map(|line| self.board_for_sale(scope, line)).collect())
    }

    /// The band clamps that a shop names; `None` when it names none.
    pub(super) fn bands(&mut self, scope: &Scope, shop: &Call<'_>) -> Option<Vec<Band>> {
        let said: Vec<&Call<'_>> = shop.statements.iter().filter(|call| call.head.id == HeadId::BandClamp).collect();
        (!said.is_empty()).then(|| said.iter().filter_map(|line| self.band(scope, line)).collect())
    }

    /// The lines of the one block that a shop has of a kind.
    fn lines_of<'t>(&mut self, scope: &Scope, shop: &Call<'t>, of: HeadId) -> Option<Vec<Call<'t>>> {
        let mut said = shop.statements.iter().filter(|call| call.head.id == of);
        let call = said.next()?;
        for again in said {
            self.say(findings::twice(again.head_span, call.head.word, call.head_span));
        }
        let (BlockKind::Lines(line), block) = (&call.head.block, call.block?) else { return None };
        let mut found = Vec::new();
        let lines = split_lines(&scope.tree, block, line, &mut found);
        self.say_all(found);
        Some(lines)
    }

    fn band(&mut self, scope: &Scope, line: &Call<'_>) -> Option<Band> {
        let item = line.argument(0)?.first()?;
        let (from, to) = self.told(span(scope, item, "band-clamp"))?;
        let count = self.how_many(scope, line, &"a line is one band clamp")?;
        let known = |length: Length| Known::new(Diameter::new(length), Origin::Shop(item.span));
        Some(Band { from: known(from), to: known(to), count, span: line.span })
    }

    fn board_for_sale(&mut self, scope: &Scope, line: &Call<'_>) -> Option<ForSale> {
        let board = self.board_of(scope, line);
        if line.clause("price").is_none() && !line.is_broken {
            let why = "the cheapest load is looked for";
            self.say(findings::missing_clause(line.span, "for-sale", "price", why, "price 12.50 per board-foot"));
        }
        let board = board?;
        Some(ForSale { price: board.price?, is_limited: line.clause("count").is_some(), board })
    }

    fn board_of(&mut self, scope: &Scope, line: &Call<'_>) -> Option<StockBoard> {
        let item = line.argument(0)?.first()?;
        let named = self.named_wood(&scope.tree, item, &scope.woods, line.head.word);
        let (thick, wide) =
            (self.board_side(scope, line, "thick", "thick 1"), self.board_side(scope, line, "wide", "wide 6"));
        let long = self.board_side(scope, line, "long", "long 48");
        let count = self.how_many(scope, line, &"a line is one board");
        let price = self.price(scope, line);
        let avoid = long.map_or_else(Vec::new, |long| self.avoided(scope, line, long.value));
        let named = named?;
        let wood = match named.means {
            Means::Plain(wood) => wood,
            Means::Board(board) => {
                self.say(layer_findings::board_not_here(item.span, &named.name, line.head.word, board.span));
                return None;
            }
            Means::Lost => return None,
        };
        Some(StockBoard {
            name: named.name,
            wood,
            thick: thick?,
            wide: wide?,
            long: long?,
            count: count?,
            is_rough: line.clause("rough").is_some(),
            avoid,
            price,
            span: line.span,
        })
    }

    /// What the line says of money. That a board for sale lacks its price is told once, with the board.
    fn price(&mut self, scope: &Scope, line: &Call<'_>) -> Option<Price> {
        let is_for_sale = line.head.id == HeadId::BoardForSale;
        if let (None, Some(per)) = (line.clause("price"), line.clause("per"))
            && !is_for_sale
            && !line.is_broken
        {
            let why = "it says how much wood a price is for";
            self.say(findings::missing_clause(per.span, "per", "price", why, "price 12.50"));
        }
        let clause = line.clause("price")?;
        let item = clause.argument.first()?;
        let amount = self.told(bench::money(scope, item))?;
        let per = match line.clause("per").and_then(|per| per.argument.first()) {
            None => PricePer::Piece,
            Some(item) => match self.told(read::choice(scope, item, "per", PRICED_PER))? {
                "board-foot" => PricePer::BoardFoot,
                "liter" => PricePer::Liter,
                _ => PricePer::Piece,
            },
        };
        Some(Price { amount: Known::new(amount, Origin::Shop(clause.span)), per })
    }

    /// The stretches that no piece shall touch; one that leaves the board has been told.
    fn avoided(&mut self, scope: &Scope, line: &Call<'_>, long: Length) -> Vec<(Known<Length>, Known<Length>)> {
        let said = line.clauses.iter().filter(|clause| clause.clause.id == ClauseId::Avoid);
        let items: Vec<&Item> = said.filter_map(|clause| clause.argument.first()).collect();
        let mut avoided = Vec::with_capacity(items.len());
        for item in items {
            let Some((from, to)) = self.told(span(scope, item, "avoid")) else { continue };
            // What is said in other units than the board may end a hair beyond it.
            if to > long + Length::from_mm(read::LEAST_MM) {
                let message = format!(
                    "`avoid` reaches to {}, and the board is {} long",
                    read::shown(scope, to),
                    read::shown(scope, long)
                );
                let help = "count from one end of the board; a stretch at its far end ends with the board";
                self.say(Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, item.span, message).help(help));
                continue;
            }
            let known = |length| Known::new(length, Origin::Shop(item.span));
            avoided.push((known(from), known(to.min(long))));
        }
        avoided
    }

    fn board_side(&mut self, scope: &Scope, line: &Call<'_>, word: &str, example: &str) -> Option<Known<Length>> {
        let Some(clause) = line.clause(word) else {
            if !line.is_broken {
                let why = "a board is asked for its three sides";
                self.say(findings::missing_clause(line.span, "boards", word, why, example));
            }
            return None;
        };
        let length = read::length(scope, clause.argument.first()?, word, Bound::Positive);
        self.told(length).map(|length| Known::new(length, Origin::Shop(clause.span)))
    }

    /// One, where nobody says.
    fn how_many(&mut self, scope: &Scope, line: &Call<'_>, one: &'static &'static str) -> Option<Known<Count>> {
        let Some(clause) = line.clause("count") else {
            return Some(Known::new(Count(1), Origin::Default(one)));
        };
        self.one_or_more(scope, clause.argument.first()?, "count", clause.span)
    }
}

/// Two lengths that are apart, the smaller first however they are written.
fn span(scope: &Scope, item: &Item, word: &str) -> Result<(Length, Length), Finding> {
    let ItemKind::Range(from, to) = &item.kind else {
        return Err(findings::wrong_kind(item, word, "two lengths, such as `50 mm .. 180 mm`"));
    };
    let from = read::length(scope, from, word, Bound::NotNegative)?;
    let to = read::length(scope, to, word, Bound::NotNegative)?;
    if (to - from).abs().mm() < read::LEAST_MM {
        let message = format!("`{word} {}` is from and to the same place", scope.tree.text(item.span));
        return Err(Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, item.span, message)
            .help(format!("`{word}` wants two lengths that are apart, such as `50 mm .. 180 mm`")));
    }
    Ok((from.min(to), from.max(to)))
}

impl StockBoard {
    /// What can be sawn from it, both faces planed.
    #[must_use]
    pub fn planed(&self) -> Length {
        let lost = if self.is_rough { planing_allowance() * 2.0 } else { Length::ZERO };
        (self.thick.value - lost).max(Length::ZERO)
    }

    /// Whether it is of that wood. Two names of one wood are one wood; one that the recipe names itself is a pile of
    /// its own.
    #[must_use]
    pub fn is_of(&self, used: &RecipeWood) -> bool {
        let Some(wood) = used.wood() else { return false };
        self.name == used.name || std::ptr::eq(wood, self.wood) && !is_own(&self.name) && !is_own(&used.name)
    }
}

impl RecipeWood {
    /// Whether both are sawn from the same boards, by the rule of [`StockBoard::is_of`].
    #[must_use]
    pub fn is_same_stock(&self, other: &Self) -> bool {
        let (Some(wood), Some(of_other)) = (self.wood(), other.wood()) else { return false };
        self.name == other.name || std::ptr::eq(wood, of_other) && !is_own(&self.name) && !is_own(&other.name)
    }
}

/// Whether no table knows the name: it cannot be given to another wood then.
fn is_own(name: &str) -> bool {
    find_wood(name).is_none() && short_names().iter().all(|short| short.name != name)
}

#[cfg(test)]
mod tests {
    use crate::quantity::Length;
    use crate::resolve::{Price, PricePer, Recipe, resolve};
    use crate::source::MapWorld;

    fn recipe(text: &str) -> (Option<Recipe>, Vec<String>) {
        let (world, root) = MapWorld::of("test.vessel", text);
        let resolved = resolve(&world, root);
        let said = resolved.findings.iter().map(|finding| finding.message.clone()).collect();
        (resolved.recipe, said)
    }

    fn with_shop(before: &str, after: &str) -> String {
        let vessel = "vessel \"Cup\" {\n outside { at 0 diameter 90  at 28 diameter 90 }\n wall 9\n floor 10\n \
                      body { disc chalk thick 10\n ring 12 maple thick 18 }\n}\n";
        format!("units mm\n{before}\n{after}\n{vessel}")
    }

    #[test]
    fn a_shop_may_name_its_boards_before_the_woods_they_are_of() {
        let shop = "shop { kerf 2  boards {\n chalk thick 27 wide 150 long 2000 count 3 rough\n \
                    hard-maple long (2 * 900) thick 20 wide 140 }\n sanding 0.3 }";
        let (recipe, said) = recipe(&with_shop(shop, "wood chalk { like black-walnut }"));
        assert_eq!(said, Vec::<String>::new());
        let recipe = recipe.unwrap();
        let [walnut, maple] = recipe.shop.boards.as_slice() else { panic!("{:?}", recipe.shop.boards) };
        assert_eq!((walnut.count.value.0, walnut.is_rough), (3, true));
        // 1.6 mm off each face.
        assert!((walnut.planed().mm() - 23.8).abs() < 1e-9);
        assert_eq!((maple.count.value.0, maple.is_rough, maple.planed()), (1, false, Length::from_mm(20.0)));
        assert_eq!(maple.long.value, Length::from_mm(1800.0));
        let named = |name: &str| recipe.woods.iter().find(|wood| wood.name == name).unwrap();
        assert!(walnut.is_of(named("chalk")) && !walnut.is_of(named("maple")));
        assert!(maple.is_of(named("maple")), "an everyday name and the table's are one wood");
        assert!((recipe.shop.sanding.value.mm() - 0.3).abs() < 1e-12, "what follows the boards is read");
    }

    #[test]
    fn what_is_wrong_with_a_board_is_said_once() {
        let of =
            |line: &str| recipe(&with_shop(&format!("shop {{ boards {{ {line} }} }}"), "wood chalk { like olive }")).1;
        for (line, wanted) in [
            ("maple thick 20 wide 140", "`boards` lacks `long`"),
            ("mapel thick 20 wide 140 long 900", "mapel"),
            ("maple thick 20 wide 140 long 900 count 0", "`count` wants one or more"),
            ("maple thick 20 wide 140 long 900 count", "count"),
            ("maple thick 20 wide 140 long 900 { }", "`maple`"),
            ("maple thick 20 tall 3 wide 140 long 900", "tall"),
        ] {
            let said = of(line);
            assert!(said.len() == 1 && said[0].contains(wanted), "{line}: {said:?}");
        }
        let twice = recipe(&with_shop(
            "shop { boards { maple thick 20 wide 140 long 900 }\n boards { maple thick 20 wide 140 long 900 } }",
            "wood chalk { like olive }",
        ))
        .1;
        assert!(twice.len() == 1 && twice[0].contains("boards"), "{twice:?}");
    }

    #[test]
    fn boards_have_prices_and_stretches_to_avoid() {
        let shop = "shop { currency \"EUR\"  boards { maple thick 20 wide 140 long 900 avoid 300..250 avoid 600 .. 650 price 12.50\n \
                    maple thick 20 wide 140 long 96 in avoid 2400 .. 2438.4 }\n for-sale { chalk thick 27 wide 150 long 2400 \
                    price (2 * 5.7) per board-foot rough\n maple thick 20 wide 100 long 900 count 3 price 4 per liter } }";
        let (recipe, said) = recipe(&with_shop(shop, "wood chalk { like black-walnut }"));
        assert_eq!(said, Vec::<String>::new());
        let shop = recipe.unwrap().shop;
        let stretches = |at: usize| -> Vec<(f64, f64)> {
            shop.boards[at].avoid.iter().map(|(from, to)| (from.value.mm(), to.value.mm())).collect()
        };
        assert_eq!(stretches(0), [(250.0, 300.0), (600.0, 650.0)]);
        let to_the_end = shop.boards[1].avoid[0].1.value;
        assert_eq!(to_the_end, shop.boards[1].long.value, "96 in are 2438.4 mm, but for a hair");
        let price = |price: Price| (price.amount.value.0, price.per);
        assert_eq!(shop.boards[0].price.map(price), Some((12.5, PricePer::Piece)));
        assert!(shop.boards[1].price.is_none());
        let [chalk, maple] = shop.for_sale.as_slice() else { panic!("{:?}", shop.for_sale) };
        assert_eq!((price(chalk.price), chalk.is_limited), ((11.4, PricePer::BoardFoot), false));
        assert!(chalk.board.is_rough && chalk.board.name == "chalk");
        assert_eq!(
            (price(maple.price), maple.is_limited, maple.board.count.value.0),
            ((4.0, PricePer::Liter), true, 3)
        );
        assert_eq!(shop.currency, "EUR");
    }

    #[test]
    fn what_is_wrong_with_a_price_or_a_stretch_is_said_once() {
        let own = "wood chalk { like olive }";
        let of = |block: &str, tail: &str| {
            recipe(&with_shop(&format!("shop {{ {block} {{ maple thick 20 wide 140 long 900 {tail} }} }}"), own)).1
        };
        for (block, tail, wanted) in [
            ("boards", "avoid 100", "`avoid` wants two lengths"),
            ("boards", "avoid 100 .. 100", "`avoid 100 .. 100` is from and to the same place"),
            ("boards", "avoid 10..20 avoid 890..901", "`avoid` reaches to 901"),
            ("boards", "avoid -5 .. 10", "`avoid` wants zero or more"),
            ("boards", "price 12 mm", "`price` wants an amount of money"),
            ("boards", "price -1", "`price -1` is out of all reason; it can be 0 to 1000000"),
            ("boards", "price 2000000", "it can be 0 to 1000000"),
            ("boards", "per liter", "`per` lacks `price`"),
            ("boards", "price 3 per litre", "`per` wants `piece`, `board-foot` or `liter`; this is `litre`"),
            ("for-sale", "", "`for-sale` lacks `price`"),
            ("for-sale", "per liter", "`for-sale` lacks `price`"),
            ("for-sale", "price 3 count 0", "`count` wants one or more"),
            ("for-sale", "price 3 avoid 5..5", "`avoid 5..5` is from and to the same place"),
        ] {
            let said = of(block, tail);
            assert!(said.len() == 1 && said[0].contains(wanted), "{block} {tail}: {said:?}");
        }
    }
}
