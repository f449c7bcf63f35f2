use crate::compile::compile;
use crate::source::MapWorld;

use super::{NoSubject, Reasons};

const CUP: &str = "units mm\nvessel \"Cup\" {\n  outside { at 0 diameter 90   at 100 diameter 90 }\n  wall 9\n  floor 10\n  \
                   every ring { segments 12  thick 18 }\n  body { disc walnut thick 10   repeat 5 { ring maple } }\n}\n";

fn asked(with: impl FnOnce(&Reasons<'_>)) {
    let (world, root) = MapWorld::of("cup.vessel", CUP);
    let compiled = compile(&world, root);
    with(&Reasons::of(&compiled.complete().unwrap(), &world));
}

#[test]
fn the_long_edge_of_a_cut_down_to_the_text() {
    asked(|reasons| insta::assert_snapshot!(reasons.tell("cut.A.long-edge").unwrap()));
}

#[test]
fn all_names() {
    asked(|reasons| insta::assert_snapshot!(reasons.list()));
}

#[test]
fn a_thing_tells_all_its_figures() {
    asked(|reasons| insta::assert_snapshot!(reasons.tell("body.ring-3").unwrap()));
}

#[test]
fn names_may_be_short_and_must_be_plain() {
    asked(|reasons| {
        let whole = reasons.tell("body.ring-3.strip-width").unwrap();
        for short in ["ring-3.strip-width", "ring-3.strip_width", "ring-3.strip", " body.ring-3.strip "] {
            assert_eq!(reasons.tell(short), Ok(whole.clone()), "{short}");
        }
        assert_eq!(reasons.tell("mass"), reasons.tell("vessel.mass"));
        let near = |asked: &str| reasons.tell(asked).unwrap_err().near;
        assert_eq!(reasons.tell("ring-3.blank"), reasons.tell("body.ring-3.blank"), "a whole name is no short one");
        assert_eq!(reasons.tell("ring-3"), reasons.tell("body.ring-3"));
        assert_eq!(near("ring-3.blank-").len(), 2);
        assert_eq!(near("body.ring-3.strip-widht"), ["body.ring-3.strip-width"]);
        assert_eq!(near("ring-3.miterr"), ["body.ring-3.miter"]);
        assert_eq!(near("strip.S1.color").len(), 6, "all that the strip has");
        assert_eq!(reasons.tell("nothing like it"), Err(NoSubject { near: Vec::new() }));
    });
}

/// Each tree is the ledger's: every value of it is what the formula before says, and it ends in what nobody computed.
#[test]
fn trees_end_where_something_was_said() {
    asked(|reasons| {
        fn walk(tree: &serde_json::Value, leaves: &mut usize) {
            for input in tree["inputs"].as_array().unwrap() {
                let kind = input["origin"]["kind"].as_str().unwrap();
                assert_eq!(kind == "figure", input.get("from").is_some(), "{input}");
                if kind == "figure" {
                    assert_eq!(input["from"]["value"], input["value"], "{input}");
                    walk(&input["from"], leaves);
                } else {
                    *leaves += 1;
                }
            }
        }
        for line in reasons.list().lines() {
            let thing = line.split_once(':').unwrap().0;
            let trees: serde_json::Value = serde_json::from_str(&reasons.json(thing).unwrap()).unwrap();
            for tree in trees.as_array().unwrap() {
                let mut leaves = 0;
                walk(tree, &mut leaves);
                assert!(leaves > 0, "{thing}: {}", tree["subject"]);
            }
        }
    });
}
