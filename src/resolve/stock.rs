//! `boards { walnut thick 1 wide 6 long 48 … }` in a shop: the boards at hand.

use crate::quantity::{Count, Length};
use crate::tables::{find_wood, planing_allowance, short_names};
use crate::vocabulary::{BlockKind, Bound, HeadId};
use crate::workings::{Known, Origin};

use super::recipe::{RecipeWood, StockBoard};
use super::scope::Scope;
use super::split::{Call, split_lines};
use super::wood::Means;
use super::{Resolver, findings, layer_findings, read};

impl Resolver<'_> {
    /// The boards that a shop names; `None` when it names none. Woods are looked up in `scope`, so a file's own
    /// woods must have been read.
    pub(super) fn boards_at_hand(&mut self, scope: &Scope, shop: &Call<'_>) -> Option<Vec<StockBoard>> {
        let mut said = shop.statements.iter().filter(|call| call.head.id == HeadId::Boards);
        let call = said.next()?;
        for again in said {
            self.say(findings::twice(again.head_span, call.head.word, call.head_span));
        }
        let (BlockKind::Lines(line), block) = (&call.head.block, call.block?) else { return None };
        let mut found = Vec::new();
        let lines = split_lines(&scope.tree, block, line, &mut found);
        self.say_all(found);
        Some(lines.iter().filter_map(|line| self.board_at_hand(scope, line)).collect())
    }

    fn board_at_hand(&mut self, scope: &Scope, line: &Call<'_>) -> Option<StockBoard> {
        let item = line.argument(0)?.first()?;
        let named = self.named_wood(&scope.tree, item, &scope.woods, "boards");
        let (thick, wide) =
            (self.board_side(scope, line, "thick", "thick 1"), self.board_side(scope, line, "wide", "wide 6"));
        let long = self.board_side(scope, line, "long", "long 48");
        let count = self.how_many(scope, line);
        let named = named?;
        let wood = match named.means {
            Means::Plain(wood) => wood,
            Means::Board(board) => {
                self.say(layer_findings::board_not_here(item.span, &named.name, "boards", board.span));
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
            avoid: Vec::new(),
            price: None,
            span: line.span,
        })
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
    fn how_many(&mut self, scope: &Scope, line: &Call<'_>) -> Option<Known<Count>> {
        let Some(clause) = line.clause("count") else {
            return Some(Known::new(Count(1), Origin::Default(&"a line is one board")));
        };
        let item = clause.argument.first()?;
        let count = self.told(read::count(scope, item, "count"))?;
        if count.0 == 0 {
            self.say(findings::at_least_one(item.span, "count", scope.tree.text(item.span)));
            return None;
        }
        Some(Known::new(count, Origin::Shop(clause.span)))
    }
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
    use crate::resolve::{Recipe, resolve};
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
}
