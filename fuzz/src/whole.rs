//! What holds of a compilation and of all its documents.

use ringwright::compile::Compiled;
use ringwright::output::{Document, documents, summary};
use ringwright::source::World;

use super::{findings, schema};

/// What holds of all that a compilation gives; hands back the documents, if there are any.
pub fn check(compiled: &Compiled, world: &dyn World) -> Vec<Document> {
    findings::check(&compiled.findings, world);
    let Some(design) = compiled.complete() else {
        let is_told = !compiled.findings.is_empty() || compiled.is_library;
        assert!(is_told, "no design, and nobody says why");
        return Vec::new();
    };
    let _ = summary(&design);
    let documents = documents(&design, world);
    for document in &documents {
        let name = document.name.as_ref();
        assert!(!document.bytes.is_empty(), "{name} is empty");
        let is_sound = match name.rsplit('.').next() {
            Some("pdf") => document.bytes.starts_with(b"%PDF-"),
            Some("glb") => document.bytes.starts_with(b"glTF"),
            Some("stl") => stl_is_whole(&document.bytes),
            Some("json" | "sarif") => serde_json::from_slice::<serde_json::Value>(&document.bytes).is_ok(),
            _ => text_is_sound(&document.bytes),
        };
        assert!(is_sound, "{name} is not sound");
        if name == "design.json" {
            schema::check(&serde_json::from_slice(&document.bytes).expect("it is JSON"));
        }
    }
    documents
}

/// Binary STL: a head of 80 bytes, a count, 50 bytes for each triangle, and every corner somewhere.
fn stl_is_whole(bytes: &[u8]) -> bool {
    let Some((count, triangles)) = bytes.get(80..).and_then(|rest| rest.split_first_chunk::<4>()) else { return false };
    let corners = triangles.as_chunks::<50>().0.iter().flat_map(|triangle| triangle[..48].as_chunks::<4>().0);
    triangles.len() == u32::from_le_bytes(*count) as usize * 50
        && corners.copied().map(f32::from_le_bytes).all(f32::is_finite)
}

/// Text without a number that is none.
fn text_is_sound(bytes: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(bytes) else { return false };
    !text.split(|c: char| !c.is_ascii_alphanumeric()).any(|word| matches!(word, "NaN" | "inf"))
}
