//! Where the finished wood is too weak: stems, glue faces, skins and feather edges.

mod beam;
mod feather_edge;
mod slender_stem;
mod thin_glue_face;
mod thin_skin;

use super::Check;

/// Every check of strength.
pub(super) static CHECKS: &[Check] =
    &[slender_stem::CHECK, thin_glue_face::CHECK, thin_skin::CHECK, feather_edge::CHECK];
