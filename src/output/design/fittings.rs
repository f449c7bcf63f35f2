//! Inserts and mounting as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use crate::compile::Complete;
use crate::quantity::{Diameter, Length};
use crate::workings::Known;

use super::Traces;
use super::origin::{named, traces};

/// Something let into the vessel.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Insert<'a> {
    /// As the recipe names it.
    pub name: &'a str,
    /// As the recipe names it; none for a liner.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wood: Option<&'a str>,
    /// `tenon`, `plug`, `medallion` or `liner`.
    pub form: &'static str,
    /// `lid top`, `lid inside`, `body base`, `body inside` or `body side`.
    pub into: &'static str,
    /// Of a side hole: its middle above the bench.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_mm: Option<f64>,
    /// Of a side hole: counterclockwise from above.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub facing_deg: Option<f64>,
    /// Height of the rim of the hole.
    pub rim_mm: f64,
    /// Of the hole; of a liner that stands in the cavity: of its room.
    pub hole_diameter_mm: f64,
    /// From its rim.
    pub hole_depth_mm: f64,
    /// Whether a bit of the shop makes it.
    pub is_drilled: bool,
    /// Of what goes in: tenon, plug, medallion or liner.
    pub tenon_diameter_mm: f64,
    /// How far it goes in; a liner's height.
    pub tenon_length_mm: f64,
    /// Of the wood under the hole, at its thinnest.
    pub left_mm: f64,
    /// To glue.
    pub glue_area_mm2: f64,
    /// Key of its glue; none for a liner.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub glue: Option<&'a str>,
    /// Width, thickness and length, the grain along the length.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blank_mm: Option<[f64; 3]>,
    /// Left of the given blank for what is seen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seen_mm: Option<f64>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// How a part is held on the lathe.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Mounting<'a> {
    /// `body` or `lid`.
    pub part: &'static str,
    /// The layer that is glued to the waste block.
    pub layer: &'a str,
    /// Across that end of the part, finished.
    pub foot_diameter_mm: f64,
    /// Of the waste block, when the recipe says it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub block_wood: Option<&'a str>,
    /// Across the waste block.
    pub block_diameter_mm: f64,
    /// Of the waste block.
    pub block_thickness_mm: f64,
    /// Where block and work touch.
    pub glue_area_mm2: f64,
    /// None when the chuck holds the block.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub faceplate: Option<Faceplate>,
    /// To turn on the block for a chuck instead.
    pub chuck_tenon_diameter_mm: f64,
    /// Of that tenon.
    pub chuck_tenon_length_mm: f64,
    /// Where the last joint goes if the part is built in two halves.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub last_joint_z_mm: Option<f64>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// A faceplate with its screws.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(clippy::struct_field_names, reason = "every key of the JSON carries its unit")]
pub struct Faceplate {
    /// Across.
    pub diameter_mm: f64,
    /// Where its screws go through.
    pub thickness_mm: f64,
    /// Under their heads.
    pub screws_mm: f64,
    /// Of the screws, in the block.
    pub in_block_mm: f64,
    /// The longest that stays clear.
    pub longest_screws_mm: f64,
}

/// Every insert, in the order of the recipe.
pub(super) fn inserts<'a>(complete: &Complete<'a>) -> Vec<Insert<'a>> {
    let (recipe, vessel) = (complete.recipe, complete.vessel);
    let one = |built: &'a crate::geometry::BuiltInsert| {
        let said = recipe.fittings.inserts.get(built.said)?;
        let glue = said.glue.and_then(|glue| recipe.glues.get(glue.value));
        Some(Insert {
            name: &said.name.value,
            wood: said.wood.and_then(|wood| recipe.woods.get(wood)).map(|wood| wood.name.as_str()),
            form: said.form.word(),
            into: said.seat.words(),
            at_mm: built.facing.map(|_| built.rim.mm()),
            facing_deg: built.facing.map(crate::quantity::Angle::degrees),
            rim_mm: built.rim.mm(),
            hole_diameter_mm: built.hole_diameter.value.mm(),
            hole_depth_mm: built.hole_depth.value.mm(),
            is_drilled: built.is_drilled,
            tenon_diameter_mm: built.diameter.value.mm(),
            tenon_length_mm: built.length.value.mm(),
            left_mm: built.left.value.mm(),
            glue_area_mm2: built.glue_area.value.mm2(),
            glue: glue.map(|used| used.glue.key.as_str()),
            blank_mm: built.blank.map(|sides| sides.map(|side| side.value.mm())),
            seen_mm: built.seen.map(|seen| seen.value.mm()),
            workings: traces([
                named("hole_diameter", &built.hole_diameter),
                named("hole_depth", &built.hole_depth),
                named("tenon_diameter", &built.diameter),
                named("tenon_length", &built.length),
                named("left", &built.left),
                named("glue_area", &built.glue_area),
            ]),
        })
    };
    vessel.inserts.iter().filter_map(one).collect()
}

/// Every part's mount, the body first.
pub(super) fn mounting<'a>(complete: &Complete<'a>) -> Vec<Mounting<'a>> {
    let across = |known: Known<Diameter>| known.value.across().mm();
    let mounts = complete.plan.mounting.iter();
    mounts
        .map(|mount| Mounting {
            part: mount.part.word(),
            layer: complete.vessel.layers.get(mount.layer).map_or("", |layer| &layer.id),
            foot_diameter_mm: across(mount.foot),
            block_wood: mount.wood.and_then(|wood| complete.recipe.woods.get(wood)).map(|wood| wood.name.as_str()),
            block_diameter_mm: across(mount.block),
            block_thickness_mm: mount.thickness.value.mm(),
            glue_area_mm2: mount.glue_area.value.mm2(),
            faceplate: mount.plate.map(|plate| Faceplate {
                diameter_mm: across(plate.diameter),
                thickness_mm: plate.thickness.value.mm(),
                screws_mm: plate.screws.value.mm(),
                in_block_mm: plate.in_block.value.mm(),
                longest_screws_mm: plate.longest.value.mm(),
            }),
            chuck_tenon_diameter_mm: across(mount.chuck_tenon),
            chuck_tenon_length_mm: mount.chuck_tenon_length.value.mm(),
            last_joint_z_mm: mount.last_joint.map(|last| Length::mm(last.z)),
            workings: traces([
                named("foot_diameter", &mount.foot),
                named("block_diameter", &mount.block),
                named("block_thickness", &mount.thickness),
                named("glue_area", &mount.glue_area),
                named("chuck_tenon_diameter", &mount.chuck_tenon),
            ]),
        })
        .collect()
}
