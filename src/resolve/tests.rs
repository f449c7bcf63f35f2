//! What a recipe's text comes to: values, origins, and what is said when it comes to nothing.

use crate::quantity::{Count, Length};
use crate::source::{MapWorld, World};
use crate::workings::Origin;

use super::{LayerKind, Recipe, Resolved, Ring, Stagger, Subject, resolve};

mod boards;
mod charts;
mod fills;
mod kinds;
mod patterns;
mod shop;

fn resolved(text: &str) -> (MapWorld, Resolved) {
    let (world, root) = MapWorld::of("test.vessel", text);
    let resolved = resolve(&world, root);
    (world, resolved)
}

fn recipe(text: &str) -> Recipe {
    let (_, resolved) = resolved(text);
    assert!(resolved.findings.is_empty(), "{:#?}", resolved.findings);
    resolved.recipe.expect("a recipe")
}

/// The one thing said of a text: `code at marked text: message`.
fn only(text: &str) -> String {
    let all = said(text);
    assert_eq!(all.len(), 1, "{all:#?}");
    all.into_iter().next().unwrap()
}

fn said(text: &str) -> Vec<String> {
    let (world, resolved) = resolved(text);
    let show = |finding: &crate::finding::Finding| {
        let span = finding.place.span;
        let file = world.file(span.file);
        format!("{} at `{}`: {}", finding.code.name, &file.text[span.range()], finding.message)
    };
    resolved.findings.iter().map(show).collect()
}

fn cup(layers: &str) -> String {
    with("", layers)
}

fn with(before: &str, layers: &str) -> String {
    format!(
        "units in\n{before}\nvessel \"Cup\" {{ outside {{ at 0 diameter 4  at 3 diameter 4 }} wall 3/8 floor 1/2 body {{ {layers} }} }}\n"
    )
}

fn rings(recipe: &Recipe) -> Vec<&Ring> {
    let layers = recipe.layers().filter_map(|(_, _, layer)| match &layer.kind {
        LayerKind::Ring(ring) => Some(ring),
        LayerKind::Disc { .. } | LayerKind::Slant(_) => None,
    });
    layers.collect()
}

fn woods_of(recipe: &Recipe, ring: &Ring) -> String {
    let names = ring.pattern.motif.iter().map(|wood| recipe.woods[*wood].name.as_str());
    names.collect::<Vec<_>>().join(" ")
}

fn inches(length: Length) -> f64 {
    (length.inches() * 1e9).round() / 1e9
}

#[test]
fn a_line_may_hold_several_statements() {
    let recipe = recipe(&cup("disc maple thick 1/2  ring walnut thick 3/4 segments 8  ring 6 cherry thick 1"));
    let thick: Vec<f64> = recipe.layers().map(|(_, _, layer)| inches(layer.thick.value)).collect();
    assert_eq!(thick, [0.5, 0.75, 1.0]);
    let counts: Vec<u32> = rings(&recipe).iter().map(|ring| ring.segments.value.0).collect();
    assert_eq!(counts, [8, 6]);
    assert_eq!(recipe.name.value, "Cup");
}

#[test]
fn clauses_may_stand_in_braces_over_several_lines() {
    let recipe = recipe(&cup("ring maple {\n segments 8\n thick 3/4  stagger none\n}"));
    let ring = rings(&recipe)[0];
    assert_eq!((ring.segments.value, ring.stagger.value), (Count(8), Stagger::None));
}

#[test]
fn the_nearest_every_wins_and_is_remembered() {
    let text = with(
        "",
        "every ring { thick 3/4 }  ring maple  repeat 1 { every ring { thick 1/2 } ring maple } ring maple thick 1  ring maple",
    );
    let recipe = recipe(&text);
    let layers: Vec<_> = recipe.layers().map(|(_, _, layer)| layer).collect();
    let thick: Vec<f64> = layers.iter().map(|layer| inches(layer.thick.value)).collect();
    assert_eq!(thick, [0.75, 0.5, 1.0, 0.75]);
    let origin = |at: usize| match layers[at].thick.origin {
        Origin::Every(span) => format!("every {}", &text[span.range()]),
        Origin::Written(span) => format!("written {}", &text[span.range()]),
        other @ (Origin::Shop(_) | Origin::Made(_) | Origin::Default(_) | Origin::Table(_) | Origin::Figure(_)) => {
            format!("{other:?}")
        }
    };
    assert_eq!(origin(0), "every thick 3/4");
    assert_eq!(origin(1), "every thick 1/2");
    assert_eq!(origin(2), "written thick 1");
    assert!(matches!(rings(&recipe)[0].segments.origin, Origin::Default(_)));
}

#[test]
fn settings_of_the_shop_come_with_their_place() {
    let text = with("shop { kerf 3/32\n allowance 2 mm\n clamps 3  glue epoxy-slow }", "ring maple thick 3/4");
    let recipe = recipe(&text);
    assert!((inches(recipe.shop.kerf.value) - 0.09375).abs() < 1e-12);
    assert!(matches!(recipe.shop.kerf.origin, Origin::Shop(span) if &text[span.range()] == "kerf 3/32"));
    assert!(matches!(recipe.shop.sanding.origin, Origin::Default(_)));
    assert_eq!(recipe.shop.clamps.value, Count(3));
    let layer = &recipe.parts[0].layers[0];
    assert!((layer.allow.value.mm() - 2.0).abs() < 1e-12);
    assert_eq!(recipe.glues[layer.glue.value].glue.key, "epoxy-slow");
}

#[test]
fn the_recipes_own_shop_wins_over_a_used_one() {
    let mut world = MapWorld::default();
    world.add("shop.vessel", "units mm\nshop { kerf 2  hold 90 }\nwood bog-oak { like white-oak }\nlet band = 5\n");
    world.add(
        "cup.vessel",
        &with("use \"shop.vessel\"\nshop { kerf 1/8 }", "ring bog-oak thick band  ring white-oak thick 1"),
    );
    let root = world.root("cup.vessel").unwrap();
    let resolved = resolve(&world, root);
    assert!(resolved.findings.is_empty(), "{:#?}", resolved.findings);
    let recipe = resolved.recipe.unwrap();
    assert!((inches(recipe.shop.kerf.value) - 0.125).abs() < 1e-12);
    assert!((recipe.shop.hold.value.mm() - 90.0).abs() < 1e-12);
    // A bare number keeps the unit of the file it was written in.
    assert!((recipe.parts[0].layers[0].thick.value.mm() - 5.0).abs() < 1e-12);
    let names: Vec<_> =
        recipe.woods.iter().map(|wood| (wood.name.as_str(), wood.wood().unwrap().key.as_str())).collect();
    assert_eq!(names, [("bog-oak", "white-oak"), ("white-oak", "white-oak")]);
}

#[test]
fn patterns_are_written_out() {
    for (pattern, woods) in [
        ("maple", "maple"),
        ("[maple walnut]", "maple walnut"),
        ("[maple*3 walnut]", "maple maple maple walnut"),
        ("[(maple walnut)*2 cherry]", "maple walnut maple walnut cherry"),
        ("mirror [maple walnut cherry]", "maple walnut cherry cherry walnut maple"),
        ("rotate 2 [maple walnut cherry]", "cherry maple walnut"),
        ("rotate 5 [maple walnut cherry]", "cherry maple walnut"),
        ("mirror rotate 1 [maple walnut]", "walnut maple maple walnut"),
        ("rotate 1 mirror [maple walnut]", "walnut walnut maple maple"),
        ("[((maple)*2 walnut)*2]", "maple maple walnut maple maple walnut"),
    ] {
        let recipe = recipe(&cup(&format!("ring {pattern} thick 3/4")));
        assert_eq!(woods_of(&recipe, rings(&recipe)[0]), woods, "{pattern}");
    }
}

#[test]
fn two_names_of_one_wood_are_one_wood() {
    let recipe = recipe(&cup("ring [maple hard-maple sugar-maple walnut] thick 3/4"));
    let names: Vec<_> = recipe.woods.iter().map(|wood| wood.name.as_str()).collect();
    assert_eq!(names, ["maple", "walnut"]);
}

#[test]
fn arithmetic_keeps_dimensions() {
    for (expression, millimeters) in [
        ("3/4", 19.05),
        ("3/4\"", 19.05),
        ("(1 + 1/2)", 38.1),
        ("(1 + 4 mm)", 29.4),
        ("(2 * 3/8)", 19.05),
        ("(10 mm + 1 cm)", 20.0),
        ("(1 - 1/2)", 12.7),
        ("(1-1/2)", 38.1),
        ("(100 mm * 20%)", 20.0),
        ("(60 mm / 3)", 20.0),
        ("(30 mm * sin(30°) + 5 mm)", 20.0),
        ("(sqrt(20 mm * 20 mm))", 20.0),
        ("(max(3 mm, min(20 mm, 1)))", 20.0),
        ("(round-to(19.4 mm, 0.5 mm))", 19.5),
        ("(abs(0 - 20 mm))", 20.0),
        ("(2 * (3 + 4) * 1 mm)", 14.0),
        ("band", 8.0),
        ("(band * 2)", 16.0),
        ("(- band + 30 mm)", 22.0),
    ] {
        let recipe = recipe(&with("let band = 8 mm", &format!("ring maple thick {expression}")));
        let mm = recipe.parts[0].layers[0].thick.value.mm();
        assert!((mm - millimeters).abs() < 1e-9, "{expression}: {mm}");
    }
}

#[test]
fn a_repeat_counts_from_one_and_forgets_its_names() {
    let recipe =
        recipe(&cup("repeat 3 as i { let t = i / 4\n ring maple thick t segments (6 + 2 * i) }  ring maple thick 1"));
    let thick: Vec<f64> = recipe.layers().map(|(_, _, layer)| inches(layer.thick.value)).collect();
    assert_eq!(thick, [0.25, 0.5, 0.75, 1.0]);
    let counts: Vec<u32> = rings(&recipe).iter().map(|ring| ring.segments.value.0).collect();
    assert_eq!(counts, [8, 10, 12, 12]);
    assert_eq!(
        only(&cup("repeat 3 as i { ring maple thick 1 }  ring maple thick i")),
        "name/unknown at `i`: nothing before this line names `i`"
    );
}

#[test]
fn points_may_be_repeated_too() {
    let text = "units mm\nvessel \"V\" { outside smooth { at 0 diameter 60  repeat 3 as i { at (20 * i) diameter (60 + 10 * i) } } wall 6 body { ring maple thick 60 } }";
    let recipe = recipe(text);
    let points: Vec<(f64, f64)> = recipe
        .outside
        .points
        .iter()
        .map(|point| (point.height.value.mm(), point.diameter.value.across().mm()))
        .collect();
    assert_eq!(points, [(0.0, 60.0), (20.0, 70.0), (40.0, 80.0), (60.0, 90.0)]);
}

#[test]
fn promises_are_kept_in_base_units() {
    let text = cup("ring maple thick 3/4")
        .replace("body {", "expect capacity >= 0.6 l expect mass < 2 lb expect height == 3 expect pieces <= 40 body {");
    let recipe = recipe(&text);
    let bounds: Vec<(Subject, f64)> = recipe.expects.iter().map(|expect| (expect.subject, expect.bound)).collect();
    assert_eq!(bounds[0], (Subject::Capacity, 600_000.0));
    assert!((bounds[1].1 - 907.184_74).abs() < 1e-9);
    assert!((bounds[2].1 - 76.2).abs() < 1e-9);
    assert_eq!(bounds[3], (Subject::Pieces, 40.0));
}

#[test]
fn a_file_without_a_vessel_is_for_others_to_use() {
    let (_, file) = resolved("units in\nshop { kerf 1/8 }\nlet a = 2\n");
    assert!(file.is_library && file.findings.is_empty() && file.recipe.is_none());
    assert_eq!(only(""), "vessel/missing at ``: the file is empty");
    assert_eq!(only("units in\n"), "vessel/missing at ``: the file has no `vessel`");
}

#[test]
fn every_mistake_is_told_once_with_both_sides() {
    let mut wrong = Vec::new();
    for (layers, message) in [
        ("rign maple thick 1", "word/unknown at `rign`: no statement among layers begins with `rign`"),
        ("ring maple thik 1 thick 1", "word/unknown at `thik`: `ring` has no `thik`"),
        ("ring maple thick 22.5°", "quantity/wrong-dimension at `22.5°`: `thick` wants a length; `22.5°` is an angle"),
        ("ring maple thick 45 min", "quantity/wrong-dimension at `45 min`: `thick` wants a length; `45 min` is a time"),
        (
            "ring maple thick 35%rh",
            "quantity/wrong-dimension at `35%rh`: `thick` wants a length; `35%rh` is a relative humidity",
        ),
        (
            "ring maple thick (1 + 15°)",
            "quantity/wrong-dimension at `+`: a number without a unit and an angle cannot be added",
        ),
        (
            "ring maple thick 1 segments 3 mm",
            "quantity/wrong-dimension at `3 mm`: `segments` wants a count; `3 mm` is a length",
        ),
        (
            "ring maple thick 1 stagger 3 mm",
            "quantity/wrong-dimension at `3 mm`: `stagger` wants `half`, `none`, a share of a segment or an angle; `3 mm` is a length",
        ),
        (
            "ring maple thick 1 stagger 7",
            "quantity/out-of-range at `7`: `stagger` wants a share of a segment up to 1 or an angle up to 360°; this is `7`",
        ),
        ("ring maple thick 1 stagger nune", "word/unknown at `nune`: `stagger` wants `half` or `none`; this is `nune`"),
        (
            "ring maple thick 1 segments 8.5",
            "quantity/out-of-range at `8.5`: `segments` wants a whole number; this is `8.5`",
        ),
        (
            "ring maple thick 0",
            "quantity/out-of-range at `0`: `thick` wants more than zero; `0` is less than 0.01 mm, the least that can be made",
        ),
        ("ring maple thick (1 / 0)", "quantity/not-a-number at `0`: this has no value: nothing can be divided by zero"),
        (
            "ring maple thick (sqrt(-4))",
            "quantity/not-a-number at `-4`: this has no value: a negative number has no square root",
        ),
        (
            "ring maple thick (sqrt(4 mm))",
            "quantity/wrong-dimension at `4 mm`: `sqrt` wants an area or a bare number; this is a length",
        ),
        (
            "ring maple thick (sin(1))",
            "quantity/wrong-dimension at `1`: `sin` wants an angle; this is a number without a unit",
        ),
        ("ring maple thick (rim-1/2)", "name/unknown at `rim-1`: nothing before this line names `rim-1`"),
        ("ring maple thick (mix(1, 2))", "name/unknown at `mix`: there is no function `mix`"),
        ("ring maple thick (1 >= 2)", "word/wrong-kind at `>=`: a comparison with `>=` is no quantity"),
        ("ring maple thick \"1\"", "word/wrong-kind at `\"1\"`: `thick` wants a length; this is a text"),
        (
            "ring maple",
            "word/missing at `ring`: `ring` lacks `thick`: the stack's height is made of the layers' thicknesses, so none can be assumed",
        ),
        ("ring maple thick", "word/missing at `thick`: `thick` wants a length"),
        ("ring thick 1", "word/missing at `ring`: `ring` wants a wood or a pattern"),
        ("ring maple thick 1 thick 2", "word/twice at `thick 2`: `thick` is said twice"),
        ("ring 8 maple segments 12 thick 1", "word/twice at `segments 12`: `segments` is said twice"),
        ("ring maple thick 1 5", "word/extra at `5`: `ring` does not know what to do with this"),
        ("disc maple thick 1 segments 4", "word/unknown at `segments`: `disc` has no `segments`"),
        ("every disc { segments 4 } disc maple thick 1", "word/unknown at `segments 4`: a disc has no `segments`"),
        (
            "every rings { thick 4 } disc maple thick 1",
            "word/unknown at `rings`: `every` wants `ring`, `disc`, `wedges`, `staves`, `sheet` or `cone`; this is `rings`",
        ),
        ("ring mapel thick 1", "wood/unknown at `mapel`: no wood is known as `mapel`"),
        ("ring oak thick 1", "wood/ambiguous at `oak`: several woods are called `oak`"),
        ("ring maple thick 1 glue pva-d9", "glue/unknown at `pva-d9`: no glue is known as `pva-d9`"),
        ("ring [] thick 1", "word/missing at `[]`: the list names no wood"),
        ("ring [maple*0 walnut] thick 1", "quantity/out-of-range at `*0`: a count of zero leaves nothing of it"),
        (
            "ring [maple*9999 walnut*2] thick 1",
            "pattern/too-long at `[maple*9999 walnut*2]`: the pattern is more than 10000 segments long",
        ),
        ("ring mirror thick 1", "word/missing at `mirror`: `mirror` wants a pattern behind it"),
        (
            "ring [maple 3] thick 1",
            "word/wrong-kind at `3`: `[ … ]` wants names of woods, or groups of them in `( … )`; this is a number",
        ),
        ("repeat { ring maple thick 1 }", "word/missing at `repeat`: `repeat` wants a count"),
        ("repeat 3", "word/missing at `repeat 3`: `repeat` wants a block in braces"),
        (
            "repeat 2 { ring maple thick 1 name band }",
            "name/twice at `band`: every turn of the block names its layer `band`",
        ),
        ("ring maple thick 1 name a  disc maple thick 1 name a", "name/twice at `a`: `a` is defined twice"),
        ("let a = 1\nlet a = 2\nring maple thick a", "name/twice at `a`: `a` is defined twice"),
        ("wall 3", "word/unknown at `wall`: no statement among layers begins with `wall`"),
    ] {
        let all = said(&cup(layers));
        if all != [message] {
            wrong.push(format!("{layers}\n  wanted {message}\n  said {all:#?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn what_a_vessel_lacks_is_told_unless_its_line_is_broken() {
    let missing = said("vessel \"V\" { }");
    assert_eq!(missing.len(), 3, "{missing:#?}");
    assert!(missing.iter().all(|line| line.starts_with("word/missing at `vessel`")), "{missing:#?}");
    let broken = said(
        "units mm\nvessel \"V\" {\n outside { at 0 diameter 4 at 3 diameter 4 }\n wall @\n body { ring maple thick 3 }\n}",
    );
    assert_eq!(broken.len(), 1, "{broken:#?}");
    assert!(broken[0].starts_with("syntax/"), "{broken:#?}");
}

#[test]
fn a_bare_length_without_units_is_told_once_with_the_line_to_add() {
    let text = cup("ring maple thick 3/4").replace("units in\n", "");
    let (_, resolved) = resolved(&text);
    assert_eq!(resolved.findings.len(), 1, "{:#?}", resolved.findings);
    let finding = &resolved.findings[0];
    assert_eq!(finding.code.name, "units/missing");
    let fix = finding.fix.as_ref().unwrap();
    assert_eq!((fix.edits[0].span.start, fix.edits[0].text.as_str()), (0, "units in\n"));
}

#[test]
fn a_slip_in_an_every_does_not_blame_the_rings() {
    for slip in ["every ring { thik 3/4 }", "every ring { thick 3/4inn }"] {
        let all = said(&cup(&format!("{slip}\nring maple\nring maple")));
        assert_eq!(all.len(), 1, "{slip}: {all:#?}");
    }
}

#[test]
fn a_name_that_is_nearly_known_is_named() {
    let (_, resolved) = resolved(&with("let rim = 1", "ring maple thick rimm"));
    assert_eq!(resolved.findings[0].help.as_deref(), Some("did you mean `rim`?"));
}

#[test]
fn a_missing_brace_is_the_only_thing_told() {
    let text = "units mm\nvessel \"V\" {\n  outside {\n    at 0 diameter 90\n    at 60 diameter 90\n  wall 6\n  floor 6\n  body { ring maple thick 60 }\n}\n";
    let all = said(text);
    assert_eq!(all.len(), 1, "{all:#?}");
    assert!(all[0].starts_with("syntax/unclosed-block"), "{all:#?}");
}

#[test]
fn words_of_the_language_and_of_the_table_are_no_names() {
    assert_eq!(
        only(&with("let wall = 1/2", "ring maple thick 1")),
        "name/twice at `wall`: `wall` is a word of the language"
    );
    assert_eq!(
        only(&with("wood maple { like walnut }", "ring maple thick 1")),
        "name/twice at `maple`: `maple` names a wood of the table already"
    );
}

#[test]
fn a_head_in_capitals_hides_nothing_of_its_block() {
    let text = cup("ring mapel thick 1").replace("vessel \"Cup\"", "Vessel \"Cup\"");
    let all = said(&text);
    assert!(all.iter().any(|line| line.starts_with("syntax/")), "{all:#?}");
    assert!(all.iter().any(|line| line.starts_with("wood/unknown at `mapel`")), "{all:#?}");
}

#[test]
fn two_files_that_disagree_on_a_wood_are_told() {
    let mut world = MapWorld::default();
    world.add("a.vessel", "wood pale { like hard-maple }\n").add("b.vessel", "wood pale { like american-holly }\n");
    world.add("cup.vessel", &with("use \"a.vessel\"\nuse \"b.vessel\"", "ring pale thick 1"));
    let root = world.root("cup.vessel").unwrap();
    let resolved = resolve(&world, root);
    assert_eq!(resolved.findings.len(), 1, "{:#?}", resolved.findings);
    assert_eq!(resolved.findings[0].message, "`pale` is defined twice");
}

#[test]
fn shapes_that_cannot_be() {
    let shape = |points: &str| {
        only(&format!("units mm\nvessel \"V\" {{ outside {{ {points} }} wall 6 body {{ ring maple thick 60 }} }}"))
    };
    assert_eq!(
        shape("at 0 diameter 90  at 40 diameter 90  at 30 diameter 90"),
        "shape/heights-not-rising at `at 30 diameter 90`: this point at 30.0 mm lies below the one before it, at 40.0 mm"
    );
    assert_eq!(
        shape("at 5 diameter 90  at 40 diameter 90"),
        "shape/base-not-at-zero at `at 5 diameter 90`: the outside starts at 5.00 mm; it has to start on the bench, at 0"
    );
    assert!(shape("at 0 diameter 90").starts_with("shape/too-few-points at `outside`"));
    assert!(shape("at 0").starts_with("word/missing at `at 0`: `at` lacks `diameter`"));
    assert_eq!(
        only(
            "units mm\nvessel \"V\" { outside { at 0 diameter 90 at 60 diameter 90 } wall 6 top 8 body { ring maple thick 60 } }"
        ),
        "shape/top-without-lid at `top`: `top` says how thick the lid is over the cavity, and there is no `lid`"
    );
}

#[test]
fn a_layer_that_cannot_be_read_leaves_out_what_lies_on_it() {
    let (_, resolved) = resolved(&cup("disc maple thick 1/2  ring maple thick 45°  ring maple thick 1"));
    let recipe = resolved.recipe.unwrap();
    assert!(recipe.is_partial);
    assert_eq!(recipe.parts[0].layers.len(), 1);
}
