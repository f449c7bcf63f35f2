//! Names, `use`, defaults and expressions of one or several files; and what an editor would ask of places in them.

use ringwright::lookup::names::Project;
use ringwright::lookup::{completion, folding, signature, symbols, tokens};
use ringwright::resolve::resolve;
use ringwright::source::{LineIndex, World};

use super::{files, findings};

/// Resolves the files.
pub fn target(bytes: &[u8]) {
    let (world, root) = files::world(bytes);
    let resolved = resolve(&world, root);
    findings::check(&resolved.findings, &world);
    if resolved.findings.is_empty() {
        assert!(resolved.is_library || resolved.recipe.is_some(), "neither a recipe nor a word why");
    }
    let project = Project::new(&world, root);
    let text = world.file(root).text.clone();
    let reading = project.root();
    let _ = symbols::of(&reading);
    let _ = folding::of(&reading.tree, &LineIndex::new(&text));
    for token in tokens::of(&reading) {
        assert!(text.get(token.span.range()).is_some(), "{token:?}");
    }
    let places: Vec<usize> = text.char_indices().map(|(at, _)| at).chain([text.len()]).collect();
    for at in places.iter().step_by(places.len() / 5 + 1) {
        let offset = u32::try_from(*at).expect("a text that can be held");
        let (range, _) = completion::proposals(&project, root, offset);
        assert!(text.get(range.clone()).is_some(), "a completion of {range:?}");
        let _ = signature::at(&text, offset);
        if let Some(found) = project.definition_at(root, offset)
            && let Some(definition) = found.definition()
        {
            let _ = project.uses_of(definition.span);
        }
    }
}
