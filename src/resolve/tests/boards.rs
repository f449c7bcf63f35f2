//! Laminated boards.

use super::{cup, inches, only, recipe, rings, with, woods_of};
use crate::resolve::{LayerKind, Recipe, resolve};
use crate::source::MapWorld;

const STRIPE: &str = "board stripe { walnut 1/4  maple 1/8  walnut 1/4 }";

fn plies(recipe: &Recipe, name: &str) -> String {
    let wood = recipe.woods.iter().find(|wood| wood.name == name).expect("the board");
    let board = wood.board().expect("a board");
    let ply = |ply: &crate::resolve::Ply| format!("{} {}", recipe.woods[ply.wood].name, inches(ply.thick.value));
    board.plies.iter().map(ply).collect::<Vec<_>>().join("  ")
}

#[test]
fn a_board_stands_wherever_segments_and_discs_want_a_wood() {
    let recipe = recipe(&with(
        STRIPE,
        "disc stripe thick 1/2  ring [maple stripe] thick 1  staves stripe tall 1  wedges stripe thick 1/2 plug stripe 1",
    ));
    assert_eq!(plies(&recipe, "stripe"), "walnut 0.25  maple 0.125  walnut 0.25");
    assert_eq!(woods_of(&recipe, rings(&recipe)[0]), "maple stripe");
    let LayerKind::Disc { wood, .. } = recipe.parts[0].layers[0].kind else { panic!("a disc") };
    assert!(recipe.woods[wood].board().is_some());
    let names: Vec<&str> = recipe.woods.iter().map(|wood| wood.name.as_str()).collect();
    assert_eq!(names, ["walnut", "maple", "stripe"], "plies are plain woods of the recipe, each once");
}

#[test]
fn a_board_takes_its_own_glue_or_the_shops() {
    let text = with(
        "shop { glue epoxy-slow }\nboard a { walnut 1/4\n maple 1/8\n glue pva-d3 }\nboard b glue pva-d3 { walnut 1/4 maple 1/8 }\nboard c { walnut 1/4 maple 1/8 }",
        "ring [a b c] thick 1",
    );
    let recipe = recipe(&text);
    let glue = |name: &str| {
        let wood = recipe.woods.iter().find(|wood| wood.name == name).unwrap();
        recipe.glues[wood.board().unwrap().glue.value].glue.key.as_str()
    };
    assert_eq!(["a", "b", "c"].map(glue), ["pva-d3", "pva-d3", "epoxy-slow"]);
}

#[test]
fn boards_come_in_by_use_and_stand_in_a_vessel() {
    let mut world = MapWorld::default();
    world.add("woods.vessel", "units mm\nwood bog-oak { like white-oak }\nboard stripe { bog-oak 6  maple 3 }\n");
    let vessel = with("use \"woods.vessel\"", "ring [stripe inner] thick 1");
    world.add("cup.vessel", &vessel.replace("wall 3/8", "board inner { bog-oak 1/8  walnut 1/8 }\nwall 3/8"));
    let resolved = resolve(&world, world.root("cup.vessel").unwrap());
    assert!(resolved.findings.is_empty(), "{:#?}", resolved.findings);
    let recipe = resolved.recipe.unwrap();
    assert_eq!(plies(&recipe, "stripe"), "bog-oak 0.236220472  maple 0.118110236");
    assert_eq!(plies(&recipe, "inner"), "bog-oak 0.125  walnut 0.125");
}

#[test]
fn slips_in_boards() {
    for (board, layers, message) in [
        (
            "board stripe { walnut 1/4 }",
            "ring stripe thick 1",
            "board/too-few-plies at `board stripe`: a board wants two plies or more; this has one",
        ),
        (
            "board stripe { walnut  maple 1/4 }",
            "ring stripe thick 1",
            "word/missing at `walnut`: the ply `walnut` wants its thickness",
        ),
        (
            "board stripe { walnut 1/4 maple }",
            "ring stripe thick 1",
            "word/missing at `maple`: the ply `maple` wants its thickness",
        ),
        (
            "board stripe { walnutt 1/4 maple 1/8 }",
            "ring stripe thick 1",
            "wood/unknown at `walnutt`: no wood is known as `walnutt`",
        ),
        (
            "board maple { walnut 1/4 cherry 1/8 }",
            "ring maple thick 1",
            "name/twice at `maple`: `maple` names a wood of the table already",
        ),
        (
            "board share { walnut 1/4 cherry 1/8 }",
            "ring maple thick 1",
            "name/twice at `share`: `share` is a word of the language",
        ),
        ("board stripe", "ring maple thick 1", "word/missing at `board stripe`: `board` wants a block in braces"),
        (
            "board stripe { walnut 1/4 maple 0 }",
            "ring stripe thick 1",
            "quantity/out-of-range at `0`: `board` wants more than zero; `0` is less than 0.01 mm, the least that can be made",
        ),
        (
            "board stripe { walnut 1/4 cherry 1/8 }\nboard wide { maple 1/4 stripe 3/8 }",
            "ring wide thick 1",
            "board/in-board at `stripe`: `stripe` is a board itself, and a ply is plain wood",
        ),
        (
            "board stripe { walnut 1/4 cherry 1/8 }",
            "ring maple thick 1 spacer stripe 1/8",
            "board/not-here at `stripe`: `spacer` wants plain wood, and `stripe` is a board: a spacer is one thin strip",
        ),
        (
            "board stripe { walnut 1/4 cherry 1/8 }",
            "sheet stripe thick 1/8",
            "board/not-here at `stripe`: `sheet` wants plain wood, and `stripe` is a board: a sheet is one leaf of veneer",
        ),
        (
            "board stripe { walnut 1/4 cherry 1/8 }",
            "ring strpe thick 1",
            "wood/unknown at `strpe`: no wood is known as `strpe`",
        ),
        (
            "bord stripe { walnut 1/4 cherry 1/8 }",
            "ring maple thick 1",
            "word/unknown at `bord`: no statement at file level begins with `bord`",
        ),
    ] {
        assert_eq!(only(&with(board, layers)), message, "{board}");
    }
    assert!(
        only(&cup("board stripe { walnut 1/4 maple 1/8 }  ring maple thick 1")).starts_with("word/unknown at `board`")
    );
}
