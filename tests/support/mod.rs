//! What the integration tests share: compiling a text, and reading what was said.

#![allow(dead_code, reason = "each test binary uses its own part")]

pub mod replay;

use ringwright::compile::{Compiled, compile};
use ringwright::finding::Code;
use ringwright::source::{FileId, MapWorld, World};

/// Compiles `text` as the only file of a project.
pub fn compile_text(text: &str) -> (MapWorld, Compiled) {
    let (world, root) = MapWorld::of("test.vessel", text);
    let compiled = compile(&world, root);
    (world, compiled)
}

/// Compiles several files, the first of them the recipe.
pub fn compile_files(files: &[(&str, &str)]) -> (MapWorld, Compiled) {
    let mut world = MapWorld::default();
    for (name, text) in files {
        world.add(name, text);
    }
    let root = world.root(files[0].0).expect("the first file is there");
    let compiled = compile(&world, root);
    (world, compiled)
}

/// Code, marked text and message of each finding.
pub fn said(world: &dyn World, compiled: &Compiled) -> Vec<(String, String, String)> {
    let text = |file: FileId, range: std::ops::Range<usize>| world.file(file).text.get(range).unwrap_or("").to_owned();
    compiled
        .findings
        .iter()
        .map(|finding| {
            let span = finding.place.span;
            (finding.code.name.to_owned(), text(span.file, span.range()), finding.message.clone())
        })
        .collect()
}

/// The codes alone.
pub fn codes(text: &str) -> Vec<&'static str> {
    compile_text(text).1.findings.iter().map(|finding| finding.code.name).collect()
}

/// A straight cup of five rings on a disc, in millimeters, with a place for more lines of the vessel.
pub fn cup(more: &str) -> String {
    cup_of("disc walnut thick 10\n    repeat 5 { ring maple }", more)
}

/// The same with layers of one's own; its height is 100 mm.
pub fn cup_of(layers: &str, more: &str) -> String {
    format!(
        "units mm\nvessel \"Cup\" {{\n  outside {{ at 0 diameter 90   at 100 diameter 90 }}\n  wall 9\n  floor 10\n  \
         every ring {{ segments 12  thick 18 }}\n  body {{\n    {layers}\n  }}\n  {more}\n}}\n"
    )
}

/// The files of an example: one, or several that begin with `# file: NAME`.
pub fn example(code: &Code, section: &str) -> Option<Vec<(String, String)>> {
    let (_, rest) = code.page.split_once(&format!("{section}\n"))?;
    let (_, rest) = rest.split_once("```vessel\n")?;
    let (text, _) = rest.split_once("```")?;
    if text.starts_with("# needs a file that is no text") {
        return None;
    }
    if !text.starts_with("# file: ") {
        return Some(vec![("example.vessel".to_owned(), text.to_owned())]);
    }
    let mut files = Vec::new();
    for part in text.split("# file: ").skip(1) {
        let (name, text) = part.split_once('\n')?;
        files.push((name.trim().to_owned(), text.to_owned()));
    }
    Some(files)
}
