//! What the compiler has to say to the turner. Data only; how it is dressed is [`render`]'s job.

pub mod catalog;
mod file_name;
mod fingerprint;
mod fix;
pub mod limits;
pub mod manual;
pub mod policy;
mod reach;
mod report;
mod suggest;

pub mod render;

pub use catalog::Code;
pub use file_name::{folder_of, portable_name};
pub use fingerprint::{Fingerprints, likeness};
pub use fix::{Edit, Fix, Grade};
pub use report::{Finding, Label, Severity, WithFindings, sort_and_dedupe};
pub use suggest::{nearest, or_list};
