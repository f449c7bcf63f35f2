//! The kinds of layer and what stands behind them.

use super::{cup, inches, only, recipe, rings, said, with};
use crate::quantity::Count;
use crate::resolve::{Gap, LayerKind, Set};
use crate::workings::Origin;

#[test]
fn wedges_meet_in_the_middle_with_or_without_a_plug() {
    let recipe = recipe(&cup(
        "wedges 8 [maple walnut] thick 1/2  wedges maple thick 1/2 plug cherry 1 1/4  wedges maple { thick 1/2\n segments 6 }",
    ));
    let rings = rings(&recipe);
    assert!(matches!(rings[0].set, Set::ToMiddle { plug: None }));
    let Set::ToMiddle { plug: Some(plug) } = rings[1].set else { panic!("a plug") };
    assert_eq!((recipe.woods[plug.wood].name.as_str(), inches(plug.diameter.value)), ("cherry", 1.25));
    let counts: Vec<u32> = rings.iter().map(|ring| ring.segments.value.0).collect();
    assert_eq!(counts, [8, 12, 6]);
}

#[test]
fn staves_are_as_tall_as_the_layer_is_thick() {
    let recipe = recipe(&cup("every staves { tall 2 segments 10 }  staves maple  staves 16 maple tall 3"));
    let thick: Vec<f64> = recipe.layers().map(|(_, _, layer)| inches(layer.thick.value)).collect();
    assert_eq!(thick, [2.0, 3.0]);
    let rings = rings(&recipe);
    assert!(rings.iter().all(|ring| matches!(ring.set, Set::Upright)));
    assert_eq!((rings[0].segments.value, rings[1].segments.value), (Count(10), Count(16)));
}

#[test]
fn a_sheet_is_a_disc_that_is_used_as_it_comes() {
    let recipe = recipe(&cup("every sheet { thick 1/40 }  disc maple thick 1/2  sheet walnut"));
    let sheets: Vec<bool> =
        recipe.layers().map(|(_, _, layer)| matches!(layer.kind, LayerKind::Disc { is_sheet: true, .. })).collect();
    assert_eq!(sheets, [false, true]);
}

#[test]
fn a_cone_is_one_layer_for_each_ring() {
    let recipe = recipe(&cup(
        "cone maple thick 3/4 rings 3 name side  ring maple thick 1  cone walnut thick 1/2 rings 2 rings waves thick 1",
    )
    .replace("units in\n", "units in\nchart waves { m = maple rows { m } }\n"));
    let slants: Vec<_> = recipe
        .layers()
        .filter_map(|(_, _, layer)| match layer.kind {
            LayerKind::Slant(slant) => Some((slant.cone, slant.ring, slant.of.value.0, inches(layer.thick.value))),
            LayerKind::Ring(_) | LayerKind::Disc { .. } => None,
        })
        .collect();
    assert_eq!(slants, [(0, 0, 3, 0.75), (0, 1, 3, 0.75), (0, 2, 3, 0.75), (1, 0, 2, 0.5), (1, 1, 2, 0.5)]);
    let names: Vec<&str> =
        recipe.parts[0].layers.iter().filter_map(|layer| Some(layer.name.as_ref()?.value.as_str())).collect();
    assert_eq!(names, ["side-1", "side-2", "side-3"]);
    assert_eq!(recipe.parts[0].layers.len(), 7);
    let spans: Vec<_> = recipe.parts[0].layers.iter().take(3).map(|layer| layer.span).collect();
    assert!(spans[0] == spans[1] && spans[1] == spans[2]);
}

#[test]
fn spacers_and_gaps_are_read_and_the_nearest_wins() {
    let recipe = recipe(&cup(
        "every ring { thick 1  gap 1/5 }  ring maple  ring maple spacer walnut 1/16  ring maple gap 4°  wedges maple thick 1",
    ));
    let rings = rings(&recipe);
    assert_eq!(rings[0].gap.unwrap().value, Gap::Share(crate::quantity::Ratio::of(0.2)));
    assert!(matches!(rings[0].gap.unwrap().origin, Origin::Every(_)));
    let spacer = rings[1].spacer.unwrap();
    assert_eq!((recipe.woods[spacer.wood].name.as_str(), inches(spacer.thick.value)), ("walnut", 0.0625));
    assert!(rings[1].gap.is_none(), "the line's own spacer ends the gap of the `every`");
    assert!(matches!(rings[2].gap.unwrap().value, Gap::Angle(angle) if (angle.degrees() - 4.0).abs() < 1e-12));
    assert!(rings[3].gap.is_none() && rings[3].spacer.is_none(), "wedges do not take what rings are told");
}

#[test]
fn each_kind_has_its_own_every() {
    let recipe = recipe(&cup(
        "every wedges { thick 1/2 segments 6 }  every cone { thick 3/8 }  every disc { thick 1/4 }  wedges maple  disc maple  cone maple rings 1",
    ));
    let thick: Vec<f64> = recipe.layers().map(|(_, _, layer)| inches(layer.thick.value)).collect();
    assert_eq!(thick, [0.5, 0.25, 0.375]);
}

#[test]
fn slips_in_the_kinds_of_layer() {
    let mut wrong = Vec::new();
    for (layers, message) in [
        ("staves maple thick 3", "word/unknown at `thick`: `staves` has no `thick` but `tall`"),
        ("ring maple tall 3", "word/unknown at `tall`: `ring` has no `tall` but `thick`"),
        (
            "staves maple",
            "word/missing at `staves`: `staves` lacks `tall`: the stack's height is made of the layers' thicknesses, so none can be assumed",
        ),
        ("disc maple thick 1 stagger half", "word/unknown at `stagger`: `disc` has no `stagger`"),
        ("every staves { thick 1 } disc maple thick 1", "word/unknown at `thick 1`: staves have no `thick`"),
        ("every cone { gap 3° } disc maple thick 1", "word/unknown at `gap 3°`: a cone has no `gap`"),
        ("stavse maple tall 3", "word/unknown at `stavse`: no statement among layers begins with `stavse`"),
        ("ring maple thick 1 spacer walnut", "word/missing at `spacer walnut`: `spacer` wants a length"),
        ("ring maple thick 1 spacer", "word/missing at `spacer`: `spacer` wants a wood"),
        ("ring maple thick 1 spacr walnut 1/8", "word/unknown at `spacr`: `ring` has no `spacr`"),
        (
            "ring maple thick 1 gap 3° spacer walnut 1/8",
            "ring/gap-and-spacer at `gap 3°`: the joints of this ring cannot be both open and filled with strips",
        ),
        (
            "ring maple thick 1 gap 30°",
            "ring/gap-too-wide at `gap 30°`: with 12 segments there are 30° from one to the next; a gap of 30° leaves nothing of them",
        ),
        (
            "ring 8 maple thick 1 gap 1.5",
            "ring/gap-too-wide at `gap 1.5`: with 8 segments there are 45° from one to the next; a gap of 1.5 of it leaves nothing of them",
        ),
        ("ring maple thick 1 gap 0°", "quantity/out-of-range at `0°`: `gap` wants more than zero; this is `0°`"),
        (
            "ring maple thick 1 gap 3 mm",
            "quantity/wrong-dimension at `3 mm`: `gap` wants an angle or a share of the angle from one segment to the next; `3 mm` is a length",
        ),
        (
            "cone maple thick 1",
            "word/missing at `cone`: `cone` lacks `rings`: the angle of the cuts follows from how many rings the board gives",
        ),
        ("cone maple thick 1 rings 0", "quantity/out-of-range at `0`: a cone has 1 to 100 rings; this is 0"),
        ("wedges maple thick 1 plug walnut", "word/missing at `plug walnut`: `plug` wants a length"),
        ("ring maple thick 1 plug walnut 1", "word/unknown at `plug`: `ring` has no `plug`"),
    ] {
        let all = said(&cup(layers));
        if all != [message] {
            wrong.push(format!("{layers}\n  wanted {message}\n  said {all:#?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn an_equals_sign_before_a_word_has_its_hint_everywhere_but_in_a_chart() {
    for text in [
        cup("ring maple thick 1 stagger = half"),
        cup("ring maple { thick 1\n stagger = half }"),
        with("let t = 1", "ring maple thick = t"),
        cup("ring maple thick 1").replace("wall 3/8", "wall = half"),
    ] {
        let all = said(&text);
        assert!(all[0].starts_with("syntax/unreadable at `=`"), "{all:#?}");
        assert!(all[0].ends_with("takes what follows without `=`"), "{all:#?}");
    }
    assert_eq!(
        only(&with("let t = 1\nrim = t", "ring maple thick 1")),
        "syntax/unreadable at `=`: a value is given to `rim` without `let`"
    );
}
