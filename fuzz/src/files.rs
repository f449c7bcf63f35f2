//! Bytes to the files of a project.

use ringwright::source::{FileId, MapWorld};

/// Begins a file's line in a text of several files, as in the examples of the pages; its name stands behind it.
const MARKER: &str = "# file: ";

/// The files of a text, the recipe first; what stands before the first marker is a recipe without a name.
pub fn split(text: &str) -> Vec<(String, String)> {
    let mut files: Vec<(String, String)> = Vec::new();
    for line in text.split_inclusive('\n') {
        if let Some(name) = line.strip_prefix(MARKER) {
            files.push((name.trim().to_owned(), String::new()));
        } else if let Some((_, text)) = files.last_mut() {
            text.push_str(line);
        } else {
            files.push(("recipe.vessel".to_owned(), line.to_owned()));
        }
    }
    if files.is_empty() {
        files.push(("recipe.vessel".to_owned(), String::new()));
    }
    files
}

/// A world of the files that the bytes are.
pub fn world(bytes: &[u8]) -> (MapWorld, FileId) {
    let files = split(&String::from_utf8_lossy(bytes));
    let (mut world, mut root) = MapWorld::of(&files[0].0, &files[0].1);
    if files.len() > 1 {
        world = MapWorld::default();
        // Of two files with one name the first is meant.
        for (name, text) in files.iter().rev() {
            world.add(name, text);
        }
        // A name that leaves the project opens nothing.
        root = world.root(&files[0].0).unwrap_or(FileId(0));
    }
    (world, root)
}
