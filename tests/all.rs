//! The whole from outside, in one program: one link instead of forty, and no core idle at the end of each file.
//! `cargo test --test all cli_fmt::` runs one file. What must be alone in its process is a program of its own:
//! `fuzz_smoke`, which counts panics, and `generated`.

mod bad_input;
mod ci_docs;
mod cli;
mod cli_build;
mod cli_check;
mod cli_diff;
mod cli_fix;
mod cli_fmt;
mod cli_preview;
mod cli_support;
mod cli_tree;
mod cli_why;
mod corpus;
mod cutting;
mod docs;
mod editors;
mod faults;
mod fixes;
mod format;
mod house;
mod injection;
mod inserts;
mod install;
mod language;
mod lids;
mod limits;
mod lookup;
mod lsp;
mod lsp_support;
mod mesh;
mod pages;
mod pdf;
mod places;
mod policy;
mod published;
mod replay;
mod sarif;
mod shape;
mod steps;
mod stuff;
mod supply;
mod support;
mod twins;
mod version;
