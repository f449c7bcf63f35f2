//! Recipe to vessel: curves, layers, radii, pieces. Knows no saw and no clamp.

mod build;
mod findings;
pub mod joints;
mod offset;
mod piece;
mod profile;
pub mod ring;
mod smooth;
mod vessel;

pub use build::build;
pub use offset::inside_of;
pub use profile::{Extremes, Profile, ProfilePoint};
pub use vessel::{BuiltLayer, Contact, LayerShape, RingShape, Vessel};
