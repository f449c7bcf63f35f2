//! Blocks that fill a height.

use super::{cup, inches, only, recipe, said};
use crate::workings::Origin;

fn thick(layers: &str) -> Vec<f64> {
    let recipe = recipe(&cup(layers));
    recipe.layers().map(|(_, _, layer)| inches(layer.thick.value)).collect()
}

#[test]
fn as_many_turns_as_it_takes_all_equally_thinner() {
    // 2 1/2 in of at most 3/4 in: four turns of 5/8 in.
    assert_eq!(thick("disc maple thick 1/2  fill to 3 { ring maple thick 3/4 }"), [0.5, 0.625, 0.625, 0.625, 0.625]);
    // It comes out even: nothing becomes thinner, and no turn is made for a rounding error.
    assert_eq!(thick("disc maple thick 3/4  fill to 3 { ring maple thick 3/4 }"), [0.75; 4]);
    assert_eq!(thick("fill to 0.3 { ring maple thick 0.1 }").len(), 3);
    // Less than one turn is one turn.
    assert_eq!(thick("fill to 1/2 { ring maple thick 3/4 }"), [0.5]);
}

#[test]
fn the_layers_of_a_turn_keep_their_proportions_and_sheets_their_thickness() {
    assert_eq!(thick("fill to 3 { ring maple thick 1  disc walnut thick 1/2 }"), [1.0, 0.5, 1.0, 0.5]);
    assert_eq!(thick("fill to 2.7 { ring maple thick 1  disc walnut thick 1/2 }"), [0.9, 0.45, 0.9, 0.45]);
    assert_eq!(thick("fill to 2 { ring maple thick 1  sheet walnut thick 1/10 }"), [0.9, 0.1, 0.9, 0.1]);
}

#[test]
fn its_thickness_comes_from_the_fill() {
    let text = cup("fill to 2 { every ring { thick 3/4 }  ring maple  ring walnut }");
    let recipe = recipe(&text);
    let layer = &recipe.parts[0].layers[1];
    assert!(matches!(layer.thick.origin, Origin::Written(span) if &text[span.range()] == "fill to 2"));
}

#[test]
fn a_lid_counts_from_where_the_body_ends() {
    let text = cup("fill to 2 { ring maple thick 3/4 }").replace("body {", "top 1/2 body {");
    let text = text.replace(" } }\n", " } lid { fill to 3 { ring maple thick 3/4 } } }\n");
    let recipe = recipe(&text);
    let lid: Vec<f64> = recipe.parts[1].layers.iter().map(|layer| inches(layer.thick.value)).collect();
    assert_eq!(lid, [0.5, 0.5]);
}

#[test]
fn slips_in_fills() {
    let mut wrong = Vec::new();
    for (layers, message) in [
        (
            "disc maple thick 2  fill to 2 { ring maple thick 1 }",
            "fill/no-room at `fill to 2`: the stack stands at 2\" already, so nothing fills it to 2\"",
        ),
        (
            "fill to 2 { sheet maple thick 1/10 }",
            "fill/cannot-close at `fill to 2`: 20 turns of this block fill 2\", and the sheets and cones of each, 3/32\", cannot be made thinner to end there",
        ),
        ("fill to 2 { let a = 1 }", "fill/cannot-close at `fill to 2`: `fill` has no layer to fill with"),
        ("fill to 2", "word/missing at `fill to 2`: `fill` wants a block in braces"),
        ("fill 2 { ring maple thick 1 }", "word/missing at `fill`: `fill` wants `to`"),
        ("fill to { ring maple thick 1 }", "word/missing at `fill to`: `fill` wants a length"),
        (
            "fill to 2 { ring maple thick 1 name band }",
            "name/twice at `band`: every turn of the block names its layer `band`",
        ),
    ] {
        let all = said(&cup(layers));
        if all != [message] {
            wrong.push(format!("{layers}\n  wanted {message}\n  said {all:#?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let endless = cup("fill to 900 m { ring maple thick 0.02 mm }");
    assert!(only(&endless).starts_with("repeat/too-many at `fill to 900 m`"));
}
