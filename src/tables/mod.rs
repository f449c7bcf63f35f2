//! Numbers with their source beside them. Data, and the finding of a row; nothing is computed.

mod glues;
mod woods;

pub use glues::{GLUES_SOURCE, Glue, find_glue, glues};
pub use woods::{Wood, WoodName, find_wood, short_names, woods};
