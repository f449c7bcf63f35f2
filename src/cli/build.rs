//! `ringwright build`

use std::path::{Path, PathBuf};

use crate::compile::compile;
use crate::output;

use super::Outcome;
use super::disk::DiskWorld;
use super::failure::Failure;
use super::screen::Screen;
use super::write::{self, Folder};

pub(super) fn build(recipes: &[PathBuf], out: Option<&Path>, force: bool, screen: &Screen) -> Result<Outcome, Failure> {
    let folders = folders(recipes, out)?;
    let (mut outcome, mut summaries, mut ready) = (Outcome::Clean, String::new(), Vec::new());
    for (recipe, folder) in recipes.iter().zip(folders) {
        let (world, root) = DiskWorld::open_recipe(recipe)?;
        let compiled = compile(&world, root);
        if compiled.is_library && !compiled.has_errors() {
            return Err(Failure::NoVessel(recipe.clone()));
        }
        screen.findings(&compiled.findings, &world, false)?;
        let Some(design) = compiled.complete() else {
            outcome = Outcome::Denied;
            continue;
        };
        if !summaries.is_empty() {
            summaries.push('\n');
        }
        summaries.push_str(&output::summary(&design));
        if let Some(folder) = folder {
            // Every target is looked at before the first is written.
            ready.push(Folder::prepare(&folder, output::documents(&design, &world), force)?);
        }
    }
    if outcome == Outcome::Clean {
        for folder in ready {
            let written = folder.write()?;
            summaries.push_str(&written);
        }
    }
    screen.print(summaries.as_bytes())?;
    Ok(outcome)
}

/// The folder of each recipe: the one named, or one for each in it.
fn folders(recipes: &[PathBuf], out: Option<&Path>) -> Result<Vec<Option<PathBuf>>, Failure> {
    let Some(out) = out else { return Ok(vec![None; recipes.len()]) };
    if let [_] = recipes {
        return Ok(vec![Some(out.to_path_buf())]);
    }
    let stems: Vec<PathBuf> = recipes.iter().map(|recipe| write::stem(recipe)).collect();
    for (at, stem) in stems.iter().enumerate() {
        if let Some(other) = stems.iter().take(at).position(|other| other == stem) {
            return Err(Failure::SameFolder(recipes[other].clone(), recipes[at].clone()));
        }
    }
    Ok(stems.into_iter().map(|stem| Some(out.join(stem))).collect())
}
