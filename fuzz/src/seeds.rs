//! What mutation begins with: real recipes, the examples of the pages, the corpus of strange files.

use std::fs;
use std::path::{Path, PathBuf};

/// The shop file that the bundled recipes use.
const WORKSHOP: &str = "workshop.vessel";

/// Paths of outlines, also such as are none.
const PATHS: [&str; 10] = [
    "M 46 0 L 46 8 C 46 20 66 30 66 52 C 66 66 60 78 58 92",
    "M 40 0 L 52 30 C 56 45 54 60 48 72",
    "M45 0V100",
    "M 40 0 Q 60 20 50 60 T 45 90",
    "m 40 0 l 5 20 s 9 9 3 40 h 4 v 20",
    "M 40 0 A 60 60 0 0 1 50 80",
    "M 40 0 L 50 40 L 50 40 H 60 V 90",
    "M 2 0 C 2 1 2.5 2 2.2 4",
    "M 40 0 L 50 10 Z M 1 1",
    "M 4e1 0 L 5.5E+1 9e1",
];

/// Names for the cut list.
const NAMES: [&str; 4] = [
    "dark stripe band knob A box",
    "a-1 b2 c d \"quoted\", and; so on",
    "x x x x",
    "wood board ring insert \u{bd}\u{202e}",
];

/// What an editor does behind the zero byte: edits, requests, files that come and go.
const DEEDS: [&[u8]; 4] = [
    b"\x00\x00\x00\x00\xff\x04 \n{}\x09\x02\x05\x00\x00\x06\x01\x00\x04",
    b"\x07\x06\x00\x00\x04\x03\x00\x06\x0f\x01\x06\x02\x07\x0a\x01\xff\x18use \"workshop.vessel\"\n..\xff",
    b"\x03\x0c\x00\x80\x00\x0d\x01\x0e\x02\xff\x0b\x01\x0a\x03\x03ab\n\x00\x0f\x00",
    b"\x12\x01\x00\xf0\x08maple ##\x05\x03\xff\x05\x02\x04\xfe\x02\x02\xf9\xfb\x05x{ \n \x06\x0f\x00\x02\x03\xff\x0f\xff\x00",
];

/// Seeds of a target, by names; `root` is the folder of the repository.
pub fn seeds(target: &str, root: &Path) -> Vec<(String, Vec<u8>)> {
    match target {
        "svg_path" => numbered("path", PATHS.map(|path| path.as_bytes().to_vec()).to_vec()),
        "csv" => {
            let mut all = numbered("names", NAMES.map(|names| names.as_bytes().to_vec()).to_vec());
            all.extend(recipes(root));
            all
        }
        "generated" => numbered(
            "choices",
            (0..24_u8)
                .map(|turn| {
                    (0..200).map(|at: u8| at.wrapping_mul(0x61 ^ turn).wrapping_add(turn.wrapping_mul(53))).collect()
                })
                .collect(),
        ),
        "lsp" => {
            let texts = recipes(root).into_iter().chain(pages(root));
            let with_deeds = |(at, (name, text)): (usize, (String, Vec<u8>))| {
                (name, [text.as_slice(), b"\0", DEEDS[at % DEEDS.len()]].concat())
            };
            // Among several files an editor opens the first alone.
            let is_one = |(_, text): &(String, Vec<u8>)| !text.starts_with(b"# file: ");
            texts.filter(is_one).enumerate().map(with_deeds).collect()
        }
        _ => recipes(root).into_iter().chain(pages(root)).chain(corpus(root)).collect(),
    }
}

fn numbered(name: &str, seeds: Vec<Vec<u8>>) -> Vec<(String, Vec<u8>)> {
    seeds.into_iter().enumerate().map(|(at, seed)| (format!("{name}-{at}"), seed)).collect()
}

/// The bundled recipes, each with the shop file that it uses.
fn recipes(root: &Path) -> Vec<(String, Vec<u8>)> {
    let folder = root.join("recipes");
    let workshop = read(&folder.join(WORKSHOP));
    let mut all = Vec::new();
    for path in files(&folder, "vessel") {
        let name = name_of(&path);
        let text = read(&path);
        let is_alone = name == WORKSHOP || !text.contains(WORKSHOP);
        let text = if is_alone { text } else { format!("# file: {name}\n{text}# file: {WORKSHOP}\n{workshop}") };
        all.push((name, text.into_bytes()));
    }
    all
}

/// The examples of the pages, both of each.
fn pages(root: &Path) -> Vec<(String, Vec<u8>)> {
    let mut all = Vec::new();
    for path in files(&root.join("src/finding/pages"), "md") {
        let page = read(&path);
        for (at, example) in page.split("```vessel\n").skip(1).enumerate() {
            let text = example.split("```").next().unwrap_or("");
            let family = path.parent().map(name_of).unwrap_or_default();
            all.push((format!("{family}-{}-{at}", name_of(&path)), text.as_bytes().to_vec()));
        }
    }
    all
}

fn corpus(root: &Path) -> Vec<(String, Vec<u8>)> {
    let files = files(&root.join("tests/corpus"), "vessel");
    files.iter().map(|path| (name_of(path), fs::read(path).unwrap_or_default())).collect()
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn name_of(path: impl AsRef<Path>) -> String {
    path.as_ref().file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// All files below a folder whose names end so, in the order of their paths.
fn files(folder: &Path, extension: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
        for entry in entries.flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|found| found == extension) {
                found.push(path);
            }
        }
    }
    found.sort();
    assert!(!found.is_empty(), "{} is empty", folder.display());
    found
}
