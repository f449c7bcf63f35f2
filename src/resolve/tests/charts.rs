//! Charts and the rings they make.

use super::{inches, only, recipe, rings, said, with, woods_of};
use crate::resolve::resolve;
use crate::source::MapWorld;

const WAVES: &str = "chart waves {\n m = maple\n w = walnut\n rows {\n w m m w\n m w w m\n m m w w\n }\n}";

fn motifs(before: &str, layers: &str) -> Vec<String> {
    let recipe = recipe(&with(before, layers));
    rings(&recipe).iter().map(|ring| woods_of(&recipe, ring)).collect()
}

#[test]
fn the_lowest_row_is_the_first_ring() {
    let wanted = ["maple maple walnut walnut", "maple walnut walnut maple", "walnut maple maple walnut"];
    assert_eq!(motifs(WAVES, "rings waves thick 1"), wanted);
    // Keys on one line, keys without blanks, and the last with the rows behind it.
    let tight = "chart waves { m = maple  w=walnut  rows { w m m w\n m w w m\n m m w w } }";
    assert_eq!(motifs(tight, "rings 8 waves thick 1"), wanted);
}

#[test]
fn turn_makes_a_spiral() {
    assert_eq!(
        motifs(WAVES, "rings waves thick 1 turn 1"),
        ["maple maple walnut walnut", "walnut walnut maple maple", "maple walnut walnut maple"]
    );
    assert_eq!(motifs(WAVES, "rings waves thick 1 turn 5"), motifs(WAVES, "rings waves thick 1 turn 1"));
}

#[test]
fn its_rings_take_what_rings_are_told() {
    let recipe = recipe(&with(WAVES, "every ring { thick 1/2 segments 16 stagger none }  rings waves name wave"));
    let layers = &recipe.parts[0].layers;
    assert_eq!(layers.iter().map(|layer| inches(layer.thick.value)).collect::<Vec<_>>(), [0.5; 3]);
    assert_eq!(layers[2].name.as_ref().unwrap().value, "wave-3");
    assert!(rings(&recipe).iter().all(|ring| ring.segments.value.0 == 16));
}

#[test]
fn charts_come_in_by_use_and_stand_in_a_vessel() {
    let mut world = MapWorld::default();
    world.add(
        "charts.vessel",
        &format!("units mm\nboard pale {{ maple 3 cherry 3 }}\n{}", WAVES.replace("maple", "pale")),
    );
    let vessel = with("use \"charts.vessel\"", "rings waves thick 1/2  rings inner thick 1/2");
    world.add("cup.vessel", &vessel.replace("wall 3/8", "chart inner { c = cherry rows { c } }\nwall 3/8"));
    let resolved = resolve(&world, world.root("cup.vessel").unwrap());
    assert!(resolved.findings.is_empty(), "{:#?}", resolved.findings);
    let recipe = resolved.recipe.unwrap();
    let motifs: Vec<String> = rings(&recipe).iter().map(|ring| woods_of(&recipe, ring)).collect();
    assert_eq!(motifs[0], "pale pale walnut walnut");
    assert_eq!(motifs[3], "cherry");
}

#[test]
fn slips_in_charts() {
    let mut wrong = Vec::new();
    for (chart, layers, message) in [
        (WAVES, "rings wavs thick 1", "chart/unknown at `wavs`: nothing before this line draws the chart `wavs`"),
        ("", "rings waves thick 1", "chart/unknown at `waves`: nothing before this line draws the chart `waves`"),
        (
            "chart waves { m = maple rows { m m m\n m m } }",
            "rings waves thick 1",
            "chart/uneven-rows at `m m m`: row 2 from the bottom has 3 segments, and the lowest row has 2",
        ),
        ("chart waves { m = maple }", "rings waves thick 1", "chart/empty at `chart waves`: the chart has no row"),
        (
            "chart waves { m = maple rows { } }",
            "rings waves thick 1",
            "chart/empty at `chart waves`: the chart has no row",
        ),
        (
            "chart waves { m = maple rows { m w m } }",
            "rings waves thick 1",
            "chart/unknown-key at `w`: no key of the chart is `w`",
        ),
        (
            "chart waves { m = maple w = walnut rows { m m m } }",
            "rings waves thick 1",
            "chart/unused-key at `w`: no row of the chart uses `w`",
        ),
        (
            "chart waves { m = mapel rows { m } }",
            "rings waves thick 1",
            "wood/unknown at `mapel`: no wood is known as `mapel`",
        ),
        (
            "chart waves { m = maple m = walnut rows { m } }",
            "rings waves thick 1",
            "name/twice at `m`: `m` is defined twice",
        ),
        (
            "chart waves { m maple rows { m } }",
            "ring maple thick 1",
            "word/unknown at `m`: a chart has keys such as `m = maple` and `rows { … }`; this is `m`",
        ),
        (
            "chart waves { m = maple rowss { m } }",
            "ring maple thick 1",
            "word/unknown at `rowss`: a chart has keys such as `m = maple` and `rows { … }`; this is `rowss`",
        ),
        (
            WAVES,
            "rings [maple] thick 1",
            "word/wrong-kind at `[maple]`: `rings` wants the name of a chart; this is a list",
        ),
    ] {
        let all = said(&with(chart, layers));
        if all != [message] {
            wrong.push(format!("{chart}\n{layers}\n  wanted {message}\n  said {all:#?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(
        only(&with("chart waves { m = maple rows { m m\n m } }", "ring maple thick 1"))
            .starts_with("chart/uneven-rows")
    );
}
