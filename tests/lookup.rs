//! What editors ask, asked of every place of every recipe, whole and half typed: nothing stops, and what is offered is right.

#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]
#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]

use std::path::Path;
use std::rc::Rc;
use std::{env, fs};

use ringwright::compile::glance;
use ringwright::lookup::completion::proposals;
use ringwright::lookup::names::Project;
use ringwright::lookup::{Reading, Role, folding, hover, numbers, signature, symbols, tokens};
use ringwright::source::{FileId, LineIndex, MapWorld, World};
use ringwright::syntax::parse;

fn recipes() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let mut recipes: Vec<(String, String)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| (path.file_name().unwrap().to_string_lossy().into_owned(), fs::read_to_string(&path).unwrap()))
        .collect();
    recipes.sort();
    recipes
}

fn world_of(name: &str, text: &str) -> (MapWorld, FileId) {
    let mut world = MapWorld::default();
    for (other, text) in recipes() {
        world.add(&other, &text);
    }
    world.add(name, text);
    let root = world.root(name).unwrap();
    (world, root)
}

#[test]
fn nothing_stops_at_any_place_of_a_recipe_that_breaks_off() {
    for (number, (name, text)) in recipes().into_iter().enumerate() {
        let ends = (0..=text.len()).filter(|at| text.is_char_boundary(*at)).skip(number).step_by(41);
        for end in ends {
            let (world, root) = world_of(&name, &text[..end]);
            let project = Project::new(&world, root);
            let compiled = glance(&world, root);
            let (recipe, vessel) = (compiled.recipe.as_ref(), compiled.vessel.as_ref());
            let known = hover::Known { recipe, vessel, findings: &compiled.findings };
            for back in [0, 1, 2, 5, 40] {
                let at = u32::try_from(end.saturating_sub(back)).unwrap();
                let (word, _) = proposals(&project, root, at);
                assert!(text.get(word.clone()).is_some(), "{name} {at}: {word:?}");
                let _ = (signature::at(&text[..end], at), hover::at(&project, root, at, known));
            }
            let reading = project.root();
            let _ = (symbols::of(&reading), folding::of(&reading.tree, &LineIndex::of_editors(&text[..end])));
            let tokens = tokens::of(&reading);
            assert!(tokens.windows(2).all(|two| two[0].span.end <= two[1].span.start), "{name} {end}: they overlap");
        }
    }
}

#[test]
fn what_a_recipe_says_is_what_would_be_offered_there() {
    let (mut asked, mut missed) = (0, Vec::new());
    for (name, text) in recipes() {
        let (world, root) = world_of(&name, &text);
        let project = Project::new(&world, root);
        for mark in &project.root().marks {
            let is_offered_word = matches!(
                mark.role,
                Role::Head(_)
                    | Role::Clause(..)
                    | Role::Choice(_)
                    | Role::Use(..)
                    | Role::Glue
                    | Role::Finish
                    | Role::Code
            );
            if !is_offered_word {
                continue;
            }
            // As if just its first letter stood there, and the rest of the text behind it.
            let word = &text[mark.span.range()];
            let half = format!("{}{}", &text[..=mark.span.start as usize], &text[mark.span.end as usize..]);
            let (world, root) = world_of(&name, &half);
            let (_, offered) = proposals(&Project::new(&world, root), root, mark.span.start + 1);
            asked += 1;
            if !offered.iter().any(|proposal| proposal.word == word) {
                let line = text[..mark.span.start as usize].lines().last().unwrap_or_default();
                missed.push(format!("{name}: `{word}` behind `{line}`"));
            }
        }
    }
    assert!(missed.is_empty(), "{} of {asked}:\n{}", missed.len(), missed.join("\n"));
    assert!(asked > 1000, "{asked}");
}

#[test]
fn every_name_leads_to_its_definition_and_back() {
    for (name, text) in recipes() {
        let (world, root) = world_of(&name, &text);
        let project = Project::new(&world, root);
        for mark in &project.root().marks {
            let Some(found) = project.definition_at(root, mark.span.start) else { continue };
            let definition = found.definition().unwrap();
            assert_eq!(definition.name, text[mark.span.range()], "{name}");
            let is_there = project.uses_of(definition.span).contains(&mark.span) || definition.span == mark.span;
            assert!(is_there, "{name}: {mark:?}");
        }
    }
}

#[test]
fn layers_have_their_numbers() {
    for (name, text) in recipes().into_iter().filter(|(_, text)| text.contains("\nvessel ")) {
        let (world, root) = world_of(&name, &text);
        let compiled = glance(&world, root);
        let (recipe, vessel) = (compiled.recipe.unwrap(), compiled.vessel.unwrap());
        assert!(!numbers::hints(&recipe, &vessel).is_empty(), "{name}");
        let reading = Reading::of(Rc::new(parse(&world.file(root)).value));
        let told = reading.lines.iter().filter_map(|line| numbers::of_layers(&recipe, &vessel, line.head_span));
        assert!(told.count() > 0, "{name}");
    }
}
