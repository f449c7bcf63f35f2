//! `ringwright check`

use std::fs;
use std::path::{Path, PathBuf};

use crate::compile::compile;
use crate::finding::render::{self, Format};
use crate::finding::{Finding, Severity};

use super::Outcome;
use super::disk::DiskWorld;
use super::failure::Failure;
use super::screen::Screen;

/// Deepest folder that is looked into.
const DEEPEST: usize = 64;

pub(super) fn check(paths: &[PathBuf], deny_warnings: bool, screen: &Screen) -> Result<Outcome, Failure> {
    let recipes = recipes(paths)?;
    let mut all: Vec<Finding> = Vec::new();
    let mut rows = Vec::new();
    for recipe in &recipes {
        let (world, root) = DiskWorld::open_recipe(recipe)?;
        let compiled = compile(&world, root);
        match screen.format {
            Format::Json => rows.extend(render::json_rows(&compiled.findings, &world)),
            Format::Short => screen.findings(&compiled.findings, &world, true)?,
            Format::Human | Format::Narrated => screen.findings(&compiled.findings, &world, false)?,
        }
        all.extend(compiled.findings);
    }
    match screen.format {
        Format::Json => screen.json(&rows)?,
        Format::Short => {}
        Format::Human | Format::Narrated => {
            let what = if recipes.len() == 1 { "1 recipe".to_owned() } else { format!("{} recipes", recipes.len()) };
            Screen::say(format!("{what} checked: {}\n", render::tally(&all)).as_bytes())?;
        }
    }
    let denies = |finding: &Finding| match finding.severity() {
        Severity::Error => true,
        Severity::Warning => deny_warnings,
        Severity::Note => false,
    };
    Ok(if all.iter().any(denies) { Outcome::Denied } else { Outcome::Clean })
}

/// The recipes that the paths name; a folder names all below it.
fn recipes(paths: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let mut recipes = Vec::new();
    for path in paths {
        if path.is_dir() {
            let before = recipes.len();
            walk(path, DEEPEST, &mut recipes)?;
            if recipes.len() == before {
                return Err(Failure::NoRecipe(path.clone()));
            }
        } else {
            recipes.push(path.clone());
        }
    }
    Ok(recipes)
}

/// In the order of names; hidden folders, build folders and links to folders are passed by.
fn walk(folder: &Path, deeper: usize, into: &mut Vec<PathBuf>) -> Result<(), Failure> {
    let unreadable = |error| Failure::Read(folder.into(), error);
    let mut entries: Vec<fs::DirEntry> =
        fs::read_dir(folder).map_err(unreadable)?.collect::<Result<_, _>>().map_err(unreadable)?;
    entries.sort_by_key(fs::DirEntry::file_name);
    for entry in entries {
        let name = entry.file_name();
        let is_passed_by = name.to_string_lossy().starts_with('.') || name == "target";
        let kind = entry.file_type().map_err(unreadable)?;
        if kind.is_dir() && !is_passed_by && deeper > 0 {
            walk(&entry.path(), deeper - 1, into)?;
        } else if !kind.is_dir() && entry.path().extension().is_some_and(|extension| extension == "vessel") {
            into.push(entry.path());
        }
    }
    Ok(())
}
