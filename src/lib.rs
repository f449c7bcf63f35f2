//! ringwright compiles a recipe for a segmented turned vessel into all that the job needs.
//!
//! The phases, each a pure function in a module named for what it makes; arrows point one way:
//!
//! ```text
//! text ─ syntax::parse ─▶ Tree ─ resolve::resolve ─▶ Recipe ─ geometry::vessel ─▶ Vessel
//!      ─ plan::plan ─▶ Plan ─ checks::check ─▶ findings
//!                           ─ output::* ─▶ documents
//! texts, findings ─ mend::mend ─▶ mended texts
//! ```
//!
//! Every phase hands back what it could make *and* its findings, so all errors come in one go.
//! The library reads no file, prints nothing and knows no clock: it asks a [`source::World`].

#![cfg_attr(test, allow(clippy::disallowed_methods, reason = "tests compare with the standard library"))]

pub mod checks;
pub mod cli;
pub mod compare;
pub mod compile;
pub mod finding;
pub mod format;
pub mod geometry;
pub mod lookup;
pub mod mend;
pub mod output;
pub mod plan;
pub mod quantity;
pub mod resolve;
pub mod search;
pub mod server;
pub mod source;
pub mod syntax;
pub mod tables;
pub mod view;
pub mod vocabulary;
pub mod workings;
