//! What a finding is known by from one state of a recipe to the next, though lines move and figures change.

use std::collections::BTreeMap;
use std::fmt::Write;

use sha2::{Digest, Sha256};

use crate::source::{Span, World};

use super::report::wording;
use super::{Finding, portable_name};

/// A longer line is told apart by its beginning.
const LINE_LIMIT: usize = 1000;

/// Gives every finding of a run its fingerprint. Findings that are alike in all that is looked at
/// are numbered in their order, so each is asked for once.
#[derive(Debug, Default)]
pub struct Fingerprints {
    alike: BTreeMap<[u8; 32], u32>,
}

impl Fingerprints {
    /// 16 hexadecimal digits of: code, file (as seen from `here`, see [`portable_name`]), the message
    /// without its numbers, the line of the place without its indentation, the number among equals.
    pub fn of(&mut self, finding: &Finding, world: &dyn World, here: &str) -> String {
        let span = finding.place.span;
        let file = world.file(span.file);
        let mut hasher = Sha256::new();
        let parts = [
            finding.code.name,
            &portable_name(&file.name, here),
            &unnumbered(&finding.message),
            line_of(&file.text, span),
        ];
        for part in parts {
            // With its length, so that no two lists of parts run together to the same bytes.
            hasher.update((part.len() as u64).to_le_bytes());
            hasher.update(part);
        }
        let base: [u8; 32] = hasher.finalize().into();
        let number = self.alike.entry(base).or_insert(0);
        let digest = Sha256::new().chain_update(base).chain_update(number.to_le_bytes()).finalize();
        *number += 1;
        digest.iter().take(8).fold(String::with_capacity(16), |mut text, byte| {
            let _ = write!(text, "{byte:02x}");
            text
        })
    }
}

/// What a finding has in common with its like in another version of the recipe: code, and message without its numbers.
#[must_use]
pub fn likeness(finding: &Finding) -> (&'static str, String) {
    (finding.code.name, unnumbered(&finding.message))
}

/// The message without its numbers, and without how many more there are like it.
fn unnumbered(message: &str) -> String {
    let told = message.strip_suffix(" more like it").and_then(|rest| rest.rsplit_once("; "));
    wording(told.map_or(message, |(first, _)| first))
}

/// The line on which `span` starts, without what surrounds its words.
fn line_of(text: &str, span: Span) -> &str {
    let at = text.floor_char_boundary(span.range().start.min(text.len()));
    let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let end = text[at..].find('\n').map_or(text.len(), |length| at + length);
    let line = text[start..end].trim_start_matches('\u{feff}').trim();
    &line[..line.floor_char_boundary(LINE_LIMIT)]
}

#[cfg(test)]
mod tests {
    use super::Fingerprints;
    use crate::finding::{Finding, catalog};
    use crate::source::{MapWorld, Span};

    const RECIPE: &str = "units in\n  ring maple\n  ring walnut thick 3\n  ring maple\n";

    fn on(world_text: &str, places: &[(usize, &str)]) -> Vec<String> {
        let (world, root) = MapWorld::of("a.vessel", world_text);
        let mut prints = Fingerprints::default();
        places
            .iter()
            .map(|(at, message)| {
                let start = u32::try_from(*at).unwrap();
                let finding = Finding::new(&catalog::WALL_THIN, Span::new(root, start, start + 4), *message);
                prints.of(&finding, &world, "")
            })
            .collect()
    }

    fn walnut(text: &str, message: &str) -> String {
        on(text, &[(text.find("ring walnut").unwrap(), message)]).remove(0)
    }

    #[test]
    fn it_is_as_any_sha_256_makes_it() {
        // Of the length-prefixed parts, then of that and the number 0; computed with Python's hashlib.
        // A change of this value makes every baseline worthless: then the key in the log takes a new number.
        assert_eq!(walnut(RECIPE, "the wall is 3 mm thin"), "bae06cd22e0c1fd2");
    }

    #[test]
    fn moved_lines_and_changed_numbers_keep_it() {
        let print = walnut(RECIPE, "the wall is 3 mm thin");
        let moved = format!("\u{feff}# a new line\r\n\r\n{}", RECIPE.replace('\n', "\r\n"));
        assert_eq!(walnut(&moved, "the wall is 3 mm thin"), print);
        let reordered = "units in\n\t ring walnut thick 3\n  ring maple\n  ring maple\n";
        assert_eq!(walnut(reordered, "the wall is 3 mm thin"), print);
        assert_eq!(walnut(RECIPE, "the wall is 4 1/2 mm thin"), print);
        assert_eq!(walnut(RECIPE, "the wall is 3 mm thin; 4 more like it"), print);
    }

    #[test]
    fn another_code_file_wording_or_line_is_another() {
        let print = walnut(RECIPE, "the wall is 3 mm thin");
        assert_ne!(walnut(RECIPE, "the wall is 3 mm thick"), print);
        assert_ne!(walnut(&RECIPE.replace("thick 3", "thick 4"), "the wall is 3 mm thin"), print);
        let (world, root) = MapWorld::of("b.vessel", RECIPE);
        let at = u32::try_from(RECIPE.find("ring walnut").unwrap()).unwrap();
        let other = |code| Finding::new(code, Span::new(root, at, at + 4), "the wall is 3 mm thin");
        assert_ne!(Fingerprints::default().of(&other(&catalog::WALL_THIN), &world, ""), print);
        let by_code = Fingerprints::default().of(&other(&catalog::STACK_TOO_TALL), &world, "");
        assert_ne!(by_code, Fingerprints::default().of(&other(&catalog::WALL_THIN), &world, ""));
    }

    #[test]
    fn equals_are_numbered() {
        let first = RECIPE.find("ring maple").unwrap();
        let second = RECIPE.rfind("ring maple").unwrap();
        let both = on(RECIPE, &[(first, "thin"), (second, "thin")]);
        assert_ne!(both[0], both[1]);
        let above = format!("ring oak\n{RECIPE}");
        assert_eq!(on(&above, &[(first + 9, "thin"), (second + 9, "thin")]), both);
    }

    #[test]
    fn places_outside_of_the_text_have_one_too() {
        assert_eq!(on("½", &[(1, "x"), (90, "x")]).len(), 2);
    }
}
