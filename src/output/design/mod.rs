//! The whole compiled design as JSON, for other programs, and its schema from the same types.

mod budget;
mod cutting;
mod fill;
mod fittings;
mod kinds;
mod origin;
mod schedule;

use std::collections::BTreeMap;

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde::Serialize;

use crate::compile::Complete;
use crate::source::World;

use cutting::CuttingPlan;
use fittings::{Insert, Mounting};
use origin::Working;

pub(super) use origin::{Origin, Sources, unit};

/// Goes up when a key changes its meaning or goes away; a new key does not raise it.
pub const SCHEMA_VERSION: u32 = 3;

/// `design.json`: pretty, with a final line end.
pub(super) fn json(complete: &Complete<'_>, world: &dyn World) -> String {
    let sources = Sources::of(complete, world);
    let mut text = serde_json::to_string_pretty(&fill::design(complete, &sources)).unwrap_or_default();
    text.push('\n');
    text
}

/// All of it as a value.
pub(super) fn whole(complete: &Complete<'_>, sources: &Sources) -> serde_json::Value {
    serde_json::to_value(fill::design(complete, sources)).unwrap_or_default()
}

/// The JSON Schema of it.
pub(super) fn schema() -> String {
    let schema = SchemaSettings::draft2020_12().into_generator().into_root_schema_for::<Design<'static>>();
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}

/// Where a figure of this object stands in `workings`, by the name of its key without the unit.
pub type Traces = BTreeMap<&'static str, usize>;

/// A compiled vessel. Lengths are the unrounded millimeters of the computation, angles are degrees,
/// and every number carries its unit in its key.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "ringwright design")]
pub struct Design<'a> {
    /// Goes up when a key changes its meaning or goes away.
    pub schema_version: u32,
    /// What wrote this file.
    pub generator: Generator,
    /// What it was compiled from.
    pub recipe: RecipeFile<'a>,
    /// Over all.
    pub totals: Totals,
    /// Per wood, in the order of first use.
    pub woods: Vec<Wood<'a>>,
    /// Body, then lid if there is one.
    pub parts: Vec<Part<'a>>,
    /// Empty in this version.
    pub joints: Vec<Joint<'a>>,
    /// What is let in, in the order of the recipe.
    pub inserts: Vec<Insert<'a>>,
    /// What holds each part on the lathe, the body first.
    pub mounting: Vec<Mounting<'a>>,
    /// At the lathe.
    pub turning: Turning,
    /// At the saw, in the order of sawing.
    pub cut_list: Vec<CutRow<'a>>,
    /// Laminated boards, glued up before anything is ripped from them.
    pub boards: Vec<kinds::Board<'a>>,
    /// Boards that cones are sawn from.
    pub cones: Vec<kinds::Cone<'a>>,
    /// What the cuts come from.
    pub cutting_plan: CuttingPlan<'a>,
    /// What the saw's errors add up to, of each ring of which it can be said.
    pub error_budget: Vec<ErrorBudget<'a>>,
    /// At the bench.
    pub glue_schedule: schedule::GlueSchedule<'a>,
    /// Warnings and notes; a design with an error is not written.
    pub findings: Vec<Finding<'a>>,
    /// Warnings and notes that the recipe accepts.
    pub accepted: Vec<Accepted<'a>>,
    /// Every computed figure with what it was made of; `workings` maps elsewhere point into it.
    pub workings: Vec<Working<'a>>,
}

/// The program.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Generator {
    /// Its name.
    pub name: &'static str,
    /// Its version.
    pub version: &'static str,
}

/// The recipe.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RecipeFile<'a> {
    /// The vessel's name.
    pub name: &'a str,
    /// The file that holds it, as the compiler was told it.
    pub file: &'a str,
    /// `in` or `mm`: what the recipe is written in. The numbers here are millimeters either way.
    pub units: &'static str,
    /// What the vessel is for, where it is said: `display`, `dry-goods`, `dry-food`, `food`, `drink` or `water`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub holds: Option<&'static str>,
    /// What goes on it, where it is said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finish: Option<Finish<'a>>,
}

/// A finish. Its times are typical; the maker's hold.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Finish<'a> {
    /// Its key in the table of finishes.
    pub key: &'a str,
    /// What it is.
    pub name: &'a str,
    /// `ok` or `caution`; the maker's declaration decides.
    pub food_contact: &'a str,
    /// Between coats.
    pub recoat_h: f64,
    /// Until it has hardened through; 0 where it never hardens.
    pub cure_days: f64,
    /// Whether rags with it heat themselves.
    pub self_heating_rags: bool,
}

/// Over all.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Totals {
    /// Over all.
    pub height_mm: f64,
    /// Largest outside diameter.
    pub max_diameter_mm: f64,
    /// Brim full.
    pub capacity_ml: f64,
    /// Finished, without a finish.
    pub mass_g: f64,
    /// Pieces of wood.
    pub pieces: u32,
    /// Joints and faces, as glued.
    pub glue_area_mm2: f64,
    /// All surface that finish goes on; the gaps of open rings are left out.
    pub finish_area_mm2: f64,
    /// Of strips and of the squares for rounds.
    pub board_feet: f64,
    /// Wood left after turning.
    pub finished_cm3: f64,
    /// Wood of all glued blanks.
    pub blank_cm3: f64,
    /// The sawn wood of `board_feet`.
    pub lumber_cm3: f64,
    /// What all boards cost that are cut, those at hand as they cost, in the shop's currency; left out where it is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost: Option<f64>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// One wood.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(clippy::struct_field_names, reason = "the keys of the JSON")]
pub struct Wood<'a> {
    /// The name that the recipe uses; segments and cuts name it so.
    pub wood: &'a str,
    /// Its key in the table of woods.
    pub key: &'a str,
    /// The botanical name.
    pub latin_name: &'a str,
    /// `#rrggbb`, to show it in.
    pub color_srgb: &'a str,
    /// Pieces of it.
    pub pieces: u32,
    /// Left after turning.
    pub finished_cm3: f64,
    /// In the glued blanks.
    pub blank_cm3: f64,
    /// Left after turning.
    pub mass_g: f64,
    /// Of its strips and squares.
    pub board_feet: f64,
    /// The sawn wood of `board_feet`.
    pub lumber_cm3: f64,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// One stack of layers.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Part<'a> {
    /// `body` or `lid`.
    pub name: &'static str,
    /// Bench upward.
    pub layers: Vec<Layer<'a>>,
}

/// One glued layer.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Layer<'a> {
    /// Stable word.
    pub id: &'a str,
    /// `ring`, `wedges`, `staves`, `cone`, `disc` or `sheet`.
    pub kind: &'static str,
    /// `body` or `lid`.
    pub part: &'static str,
    /// From 1 within its part.
    pub index: usize,
    /// Of a stack that is parted: what of the layer becomes body and lid.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub slices: Vec<Slice>,
    /// Lower face.
    pub z0_mm: f64,
    /// Upper face.
    pub z1_mm: f64,
    /// Finished.
    pub thickness_mm: f64,
    /// Before flattening.
    pub rough_thickness_mm: f64,
    /// Greatest over the layer's height.
    pub outer_radius_mm: f64,
    /// Least over the layer's height; 0 when solid.
    pub inner_radius_mm: f64,
    /// With turning allowance.
    pub blank_outer_radius_mm: f64,
    /// With turning allowance; 0 when solid.
    pub blank_inner_radius_mm: f64,
    /// Circle through the outer corners of a ring's blank.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_radius_mm: Option<f64>,
    /// Of the round to saw for a disc.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blank_diameter_mm: Option<f64>,
    /// Where the first joint lies, counterclockwise from above.
    pub rotation_deg: f64,
    /// Of a ring.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strip_width_mm: Option<f64>,
    /// The least that covers wall and allowance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub needed_strip_width_mm: Option<f64>,
    /// Wood left after turning.
    pub finished_cm3: f64,
    /// Wood of the glued blank.
    pub blank_cm3: f64,
    /// One for each wood and size of a ring's segments.
    pub cuts: Vec<Cut<'a>>,
    /// Counterclockwise from the rotation, with what stands between them; a disc is one.
    pub segments: Vec<Segment<'a>>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// What a ring takes of one wood in one size.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Cut<'a> {
    /// As the recipe names it.
    pub wood: &'a str,
    /// How many segments.
    pub count: u32,
    /// Off a square cut; of staves the taper of each edge.
    pub miter_deg: f64,
    /// Tilt of the blade.
    pub bevel_deg: f64,
    /// Outside edge; of staves the outside width of the wider end.
    pub long_edge_mm: f64,
    /// Inside edge; of staves the outside width of the narrower end.
    pub short_edge_mm: f64,
    /// Before flattening; of staves of the board.
    pub thickness_mm: f64,
    /// Along the strip with kerfs, the strip turned over after each cut where it may be; without first cut and
    /// tail. Of staves: across the board.
    pub strip_length_mm: f64,
    /// Of a stave, along the grain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_mm: Option<f64>,
}

/// One piece of a layer.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Segment<'a> {
    /// From 1; a spacer or gap has the number of the segment that follows it.
    pub index: usize,
    /// As the recipe names it; empty for a gap.
    pub wood: &'a str,
    /// Where it begins, in 0 ≤ angle < 360.
    pub start_deg: f64,
    /// How far it reaches.
    pub sweep_deg: f64,
    /// What it is.
    pub kind: SegmentKind,
}

/// What fills an angle of a layer.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SegmentKind {
    /// A segment.
    Wood,
    /// A thin strip on a joint, as it is seen from the axis at the outside of the blank.
    Spacer,
    /// Nothing.
    Gap,
}

/// A stretch of a layer that becomes part of the vessel.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Slice {
    /// `body` or `lid`.
    pub part: &'static str,
    /// From this height of the stack.
    pub from_mm: f64,
    /// To this one.
    pub to_mm: f64,
    /// How much higher it lies in the stack than on the closed vessel.
    pub raise_mm: f64,
}

/// A lid's joint. Diameters are as turned: of a thread, before it is cut.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct Joint<'a> {
    pub kind: &'a str,
    pub between: [&'a str; 2],
    pub shoulder_z_mm: f64,
    pub tenon_diameter_mm: f64,
    pub mortise_diameter_mm: f64,
    pub length_mm: f64,
    pub clearance_mm: f64,
    /// Round the mortise, and of the tenon; of an inset lid, its ledge less half the play.
    pub walls_mm: [f64; 2],
    /// The part with the tenon.
    pub tenon_on: &'a str,
    pub mortise_depth_mm: f64,
    /// Of the hole in the tenon; 0 when it is solid.
    pub bore_diameter_mm: f64,
    /// Of the shoulder, of an inset lid the ledge.
    pub shoulder_width_mm: f64,
    /// In the driest and in the dampest weeks; below zero it sticks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clearance_then_mm: Option<[f64; 2]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thread: Option<JointThread>,
    pub jam_chucks: Vec<JamChuck<'a>>,
    pub workings: Traces,
}

/// The thread of a screwed lid.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct JointThread {
    pub pitch_mm: f64,
    pub starts: u32,
    pub turns: f64,
    pub major_diameter_mm: f64,
    pub root_diameter_mm: f64,
    pub tenon_depth_mm: f64,
    pub mortise_depth_mm: f64,
    pub engagement_mm: f64,
}

/// A chuck of waste wood that holds a part for reversing.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct JamChuck<'a> {
    pub part: &'a str,
    /// `spigot` or `recess`.
    pub kind: &'a str,
    pub diameter_mm: f64,
    pub reach_mm: f64,
}

/// At the lathe.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Turning {
    /// Bench upward.
    pub stations: Vec<Station>,
    /// From the body's rim to the floor.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drill_depth_mm: Option<f64>,
    /// From where the lid meets the body to the top of the cavity.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lid_depth_mm: Option<f64>,
    /// One for each part.
    pub speeds: Vec<SpeedRange>,
    /// Where one stack is sawn apart.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub parting: Option<Parting>,
}

/// Where one stack is sawn apart into body and lid.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(clippy::struct_field_names, reason = "every key of the JSON carries its unit")]
pub struct Parting {
    /// Where the line shows on the closed vessel.
    pub line_z_mm: f64,
    /// Lower edge of the cut, in the stack.
    pub cut_z_mm: f64,
    /// Width of the cut.
    pub kerf_mm: f64,
    /// Of the stack, between what shows of body and lid.
    pub lost_mm: f64,
    /// The stack, over all.
    pub stack_mm: f64,
}

/// A height with the radii to turn there.
#[derive(Debug, Serialize, JsonSchema)]
#[allow(clippy::struct_field_names, reason = "every key of the JSON carries its unit")]
pub struct Station {
    /// `body` or `lid`, where each is measured on its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<&'static str>,
    /// Above the bench.
    pub z_mm: f64,
    /// To turn outside.
    pub outer_radius_mm: f64,
    /// To turn inside; 0 where the vessel is solid.
    pub inner_radius_mm: f64,
}

/// How fast a part may turn.
#[derive(Debug, Serialize, JsonSchema)]
pub struct SpeedRange {
    /// `body` or `lid`.
    pub part: &'static str,
    /// Across the corners of its largest blank.
    pub largest_blank_mm: f64,
    /// Roughing: no faster.
    pub low_rpm: f64,
    /// Trued: no faster.
    pub high_rpm: f64,
    /// `low_rpm`, as near as the shop's lathe comes to it.
    pub rough_rpm: f64,
    /// `high_rpm`, as near as the shop's lathe comes to it.
    pub trued_rpm: f64,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// Pieces that are sawn alike.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum CutRow<'a> {
    /// Of rings.
    Segments {
        /// The letter of its bag.
        label: String,
        /// As the recipe names it.
        wood: &'a str,
        /// How many.
        count: u32,
        /// From 1, a setting in `cutting_plan.setups`.
        setup: usize,
        /// Off a square cut.
        miter_deg: f64,
        /// Tilt of the blade.
        bevel_deg: f64,
        /// What the stop is set to.
        long_edge_mm: f64,
        /// To check a piece by.
        short_edge_mm: f64,
        /// Of the strip.
        strip_width_mm: f64,
        /// Of the strip, before flattening.
        thickness_mm: f64,
        /// Along the strip with kerfs; without first cut and tail.
        strip_length_mm: f64,
        /// The strip in `cutting_plan.strips`.
        strip: String,
        /// What they are for.
        layers: Vec<Serving<'a>>,
        /// Where these figures stand in the workings.
        workings: Traces,
    },
    /// Ripped along the grain.
    Staves(kinds::Staves<'a>),
    /// Solid rounds.
    Disc(kinds::Round<'a>),
    /// Veneer; the diameter is the side of a square.
    Sheet(kinds::Round<'a>),
    /// Over the points of wedges.
    Plug(kinds::Round<'a>),
    /// Thin strips on joints.
    Spacers(kinds::Spacers<'a>),
}

/// Pieces that go to one layer.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Serving<'a> {
    /// Its id.
    pub id: &'a str,
    /// How many pieces.
    pub count: u32,
}

/// Stock of one wood, width and thickness.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Strip<'a> {
    /// `S1`, `S2` …
    pub label: String,
    /// As the recipe names it.
    pub wood: &'a str,
    /// To rip.
    pub width_mm: f64,
    /// Whether the recipe gives the width.
    pub is_given: bool,
    /// Whether it is turned over after each cut: not where its faces are unlike.
    pub may_be_turned_over: bool,
    /// To plane.
    pub thickness_mm: f64,
    /// In all: pieces, first cuts, tail.
    pub length_mm: f64,
    /// For the pieces and their kerfs.
    pub pieces_mm: f64,
    /// Lost to the first cut of each miter; once more for every further strip.
    pub first_cuts_mm: f64,
    /// The tail under the clamp; once more for every further strip.
    pub hold_mm: f64,
    /// Its wood.
    pub board_feet: f64,
    /// The labels of its cuts.
    pub cuts: Vec<String>,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// One setting of the miter gauge.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Setup {
    /// From 1.
    pub number: usize,
    /// How many pieces sawn so make a ring; not every angle has such a count.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub segments: Option<u32>,
    /// Off a square cut.
    pub miter_deg: f64,
    /// Tilt of the blade.
    pub bevel_deg: f64,
    /// By how much a ring fails to close when each cut is off the same way by the shop's `angle-error`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opening_deg: Option<f64>,
    /// The gap that this leaves at the corners of the largest ring.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gap_mm: Option<f64>,
    /// The labels of its cuts, in order.
    pub cuts: Vec<String>,
}

/// What the shop's errors of saw and stop add up to in one ring.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ErrorBudget<'a> {
    /// The layer's id.
    pub layer: &'a str,
    /// In the ring.
    pub segments: u32,
    /// Of each end cut.
    pub angle_error_deg: f64,
    /// By how much the ring fails to close with all cuts off the same way.
    pub worst_opening_deg: f64,
    /// At the outer corners, all of it in one joint.
    pub worst_gap_mm: f64,
    /// With the cuts off by chance; 19 rings of 20 do better.
    pub likely_opening_deg: f64,
    /// At the outer corners, all of it in one joint.
    pub likely_gap_mm: f64,
    /// The likely opening shared by all joints, at one end of each.
    pub shared_gap_mm: f64,
    /// Change of the diameter with all long edges off the same way by the shop's `length-error`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst_diameter_by_length_mm: Option<f64>,
    /// The same with edges off by chance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub likely_diameter_by_length_mm: Option<f64>,
    /// Whether its halves can be flattened.
    pub has_flat_halves: bool,
    /// Of the largest diameter that can be turned, by flattening halves with all cuts off the same way.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter_lost_mm: Option<f64>,
    /// Used up of the turning allowance, on the radius.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub needed_allowance_mm: Option<f64>,
    /// The turning allowance, on the radius.
    pub allowance_mm: f64,
    /// Where these figures stand in the workings.
    pub workings: Traces,
}

/// A finding that is known and wanted.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Accepted<'a> {
    /// Its stable name.
    pub code: &'static str,
    /// Why it is wanted, in the recipe's words.
    pub reason: &'a str,
    /// What would be told.
    pub message: &'a str,
    /// The place first, then related ones.
    pub spans: Vec<Place<'a>>,
}

/// A warning or a note.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Finding<'a> {
    /// Its stable name.
    pub code: &'static str,
    /// `note` or `warning`.
    pub severity: &'static str,
    /// What is, and what is wanted.
    pub message: &'a str,
    /// What to do about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<&'a str>,
    /// The place first, then related ones.
    pub spans: Vec<Place<'a>>,
}

/// A place in a file with what is to be said of it.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Place<'a> {
    /// The file.
    pub file: &'a str,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
    /// What is to be said of it.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schemars(default)]
    pub label: &'a str,
}
