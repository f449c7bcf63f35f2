//! What holds of any bytes, one function for each target: it panics where something does not hold.
//!
//! Two drive them: cargo-fuzz through `fuzz_targets/`, and `tests/fuzz_smoke.rs`, which takes this file as a module of
//! its own, so that a few inputs are tried by every `cargo test`.

pub mod compile;
pub mod csv;
pub mod dictionary;
pub mod format;
pub mod generated;
pub mod lsp;
pub mod mutate;
pub mod parse;
pub mod resolve;
pub mod seeds;
pub mod svg_path;

mod files;
mod findings;
mod recipe;
mod schema;
mod script;
mod volumes;
mod whole;

/// A target by its name.
pub type Target = (&'static str, fn(&[u8]));

/// All of them.
pub const TARGETS: [Target; 8] = [
    ("parse", parse::target),
    ("resolve", resolve::target),
    ("compile", compile::target),
    ("format", format::target),
    ("lsp", lsp::target),
    ("svg_path", svg_path::target),
    ("csv", csv::target),
    ("generated", generated::target),
];
