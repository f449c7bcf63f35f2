//! Any text as the path of an outline, with layers that reach far up.

use std::fmt::Write as _;

use ringwright::compile::compile;
use ringwright::source::MapWorld;

use super::whole;

/// Compiles a vessel of that outline.
pub fn target(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    // Two bits for what is around it, so that the seeds are paths and nothing else.
    let turn = text.len();
    let units = if turn.is_multiple_of(2) { "mm" } else { "in" };
    let mut recipe = format!("units {units}\nvessel \"Drawn\" {{\n  outside path \"");
    for found in text.chars() {
        match found {
            '"' | '\\' => {
                let _ = write!(recipe, "\\{found}");
            }
            _ => recipe.push(found),
        }
    }
    recipe += "\"\n  wall 7 mm\n  floor 10 mm\n  every ring { segments 12  thick 18 mm }\n";
    recipe += "  body {\n    disc walnut thick 10 mm\n    repeat 9 { ring maple }\n  }\n";
    if turn % 4 > 1 {
        recipe += "  top 10 mm\n  parted at 60 mm\n";
    }
    recipe += "}\n";
    let (world, root) = MapWorld::of("drawn.vessel", &recipe);
    whole::check(&compile(&world, root), &world);
}
