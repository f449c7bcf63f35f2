//! The figures that checks compare with, each with who says so. A check never writes such a figure itself.

use crate::quantity::{
    Angle, Count, Duration, Force, Length, MoistureContent, Ratio, Stress, System, show_angle, show_both,
};

/// A figure that a check compares with.
#[derive(Debug)]
pub struct Limit<T> {
    /// What it is a limit of, in words: "least inner edge of a segment".
    pub what: &'static str,
    /// The figure.
    pub value: T,
    /// A handbook, a standard, `common practice`, or `from memory`.
    pub source: &'static str,
}

impl<T: Copy> Limit<T> {
    /// The figure.
    #[must_use]
    pub const fn get(&self) -> T {
        self.value
    }
}

/// A limit that can be told, whatever it measures.
pub trait Told: Sync {
    /// What it is a limit of.
    fn what(&self) -> &'static str;
    /// The figure with its unit.
    fn figure(&self) -> String;
    /// Who says so.
    fn source(&self) -> &'static str;
}

macro_rules! told {
    ($($measure:ty: |$value:ident| $show:expr;)+) => {$(
        impl Told for Limit<$measure> {
            fn what(&self) -> &'static str {
                self.what
            }

            fn figure(&self) -> String {
                let $value = self.value;
                $show
            }

            fn source(&self) -> &'static str {
                self.source
            }
        }
    )+};
}

told! {
    Length: |length| show(length);
    Angle: |angle| show_angle(angle);
    Ratio: |ratio| format!("{}", ratio.value());
    Duration: |time| format!("{} min", time.minutes());
    Force: |force| format!("{} N", force.newtons());
    Stress: |stress| format!("{} N/mm²", stress.n_per_mm2());
    MoistureContent: |moisture| format!("{} % moisture content", moisture.percent());
    Count: |count| format!("{}", count.0);
    &'static str: |words| words.to_owned();
}

/// With all its digits where an inch scale shows none.
fn show(length: Length) -> String {
    if length.inches() < 1.0 / 64.0 {
        return format!("{} mm", length.mm());
    }
    show_both(length, System::Millimeter)
}

const PRACTICE: &str = "common practice";
const LANGUAGE: &str = "a bound of the language, far beyond what is turned";

// Settings of the shop that decide; what is compared with is `recipe.shop`, never these words.

/// A setting.
pub static LEAST_GLUE: Limit<&'static str> = Limit {
    what: "least width of a glue face between layers",
    value: "the shop's `least-glue`, 6 mm when not set",
    source: PRACTICE,
};

/// A setting.
pub static LEAST_WALL: Limit<&'static str> =
    Limit { what: "least wall", value: "the shop's `least-wall`, 3 mm when not set", source: PRACTICE };

/// A setting.
pub static SAFE_PIECE: Limit<&'static str> = Limit {
    what: "shortest long edge that is safe to saw",
    value: "the shop's `safe-piece`, 20 mm when not set",
    source: PRACTICE,
};

/// A setting.
pub static SWING: Limit<&'static str> = Limit {
    what: "greatest diameter over the lathe's bed",
    value: "the shop's `swing`; without it nothing is compared",
    source: "common practice: a lathe's makers state it",
};

/// A setting.
pub static BANDS: Limit<&'static str> = Limit {
    what: "rounds that band clamps hold",
    value: "the ranges of the shop's `band` lines; without any nothing is compared",
    source: "common practice: their makers state it",
};

/// A setting.
pub static NARROW_RIP: Limit<&'static str> = Limit {
    what: "narrowest strip that is ripped without a jig",
    value: "the shop's `narrow-rip`, 6 mm when not set",
    source: PRACTICE,
};

/// A setting.
pub static TILT: Limit<&'static str> = Limit {
    what: "how far the saw's blade tilts",
    value: "the shop's `tilt`, 45° when not set",
    source: "common practice: a saw's makers state it",
};

/// Settings.
pub static SAW_ERROR: Limit<&'static str> = Limit {
    what: "how far off the saw may be",
    value: "the shop's `angle-error`, 0.1° when not set, and `length-error`, 0.1 mm when not set",
    source: PRACTICE,
};

/// Of the glue's row.
pub static GLUE_COLD: Limit<&'static str> = Limit {
    what: "lowest temperature at which a glue sets",
    value: "the glue's own, in the table of glues",
    source: "table of glues: one read in a shop book's table, the rest from memory",
};

/// Of the table of lumber.
pub static SOLD_THICK: Limit<&'static str> = Limit {
    what: "thickest board that is usually sold",
    value: "the thickest of the table of lumber",
    source: "table of lumber: from memory",
};

/// A setting.
pub static BITS: Limit<&'static str> = Limit {
    what: "bits that holes are drilled with",
    value: "the shop's `bits`; when not set, every usual bit of the recipe's units",
    source: PRACTICE,
};

/// Of the glue's row.
pub static OPEN_TIME: Limit<&'static str> = Limit {
    what: "time from the first spread to the closed clamp",
    value: "the glue's own open time, in the table of glues",
    source: "table of glues: open times read in a shop book's table, the rest from memory",
};

// How fine a shop works.

/// Saw, planer, fence and rule.
pub static FINEST_SETTING: Limit<Length> =
    Limit { what: "difference that no saw, planer or rule shows", value: Length::from_mm(0.05), source: PRACTICE };

/// Caliper.
pub static CALIPER: Limit<Length> =
    Limit { what: "difference that no caliper in the shop shows", value: Length::from_mm(0.005), source: PRACTICE };

// The stack.

/// Between layers.
pub static JOINT_OVER_JOINT: Limit<Length> = Limit {
    what: "ends of two joints, at the outside, that count as one over the other",
    value: Length::from_mm(1.0),
    source: PRACTICE,
};

/// Of an open segment.
pub static BEARING_SHARE: Limit<Ratio> = Limit {
    what: "share of a segment's length that bears at either end, 10 to 15 %",
    value: Ratio::of(0.15),
    source: PRACTICE,
};

/// Of staves.
pub static STEEPEST_STAVE: Limit<Angle> =
    Limit { what: "farthest lean of staves from upright", value: Angle::from_degrees(60.0), source: PRACTICE };

/// Of a ring.
pub static FEWEST_SEGMENTS: Limit<Count> = Limit {
    what: "fewest segments of a ring",
    value: Count(3),
    source: "derived: two segments of half a circle each would be sawn at 90°, which no saw does",
};

/// Of a ring.
pub static MOST_SEGMENTS: Limit<Count> =
    Limit { what: "most segments of a ring", value: Count(1000), source: LANGUAGE };

/// Of a vessel: each is drawn, modeled and written down by itself, so that all of them have to find room in memory.
pub static MOST_SEGMENTS_OF_ALL: Limit<Count> =
    Limit { what: "most segments of all rings together", value: Count(100_000), source: LANGUAGE };

/// Of a pattern.
pub static LONGEST_MOTIF: Limit<Count> =
    Limit { what: "most woods of a pattern, written out", value: Count(10_000), source: LANGUAGE };

/// Of a recipe.
pub static MOST_TURNS: Limit<Count> =
    Limit { what: "most turns of all `repeat` and `fill` together", value: Count(100_000), source: LANGUAGE };

/// Of a board.
pub static FEWEST_PLIES: Limit<Count> =
    Limit { what: "fewest plies of a laminated board", value: Count(2), source: "derived: one ply is a plain board" };

/// Of brackets.
pub static DEEPEST_BRACKETS: Limit<Count> =
    Limit { what: "most brackets that stand open at once", value: Count(128), source: LANGUAGE };

// The shape.

/// Of a whole vessel, across or high.
pub static LARGEST_TURNED: Limit<Length> = Limit {
    what: "widest and tallest that lathes commonly take, turned outboard or on a long bed",
    value: Length::from_mm(1500.0),
    source: PRACTICE,
};

/// Of a whole vessel, across.
pub static SMALLEST_TURNED: Limit<Length> =
    Limit { what: "smallest across that is glued from segments", value: Length::from_mm(15.0), source: PRACTICE };

/// Of a standing vessel.
pub static TIPPING: Limit<Angle> = Limit {
    what: "least lean at which a vessel goes over",
    value: Angle::from_degrees(10.0),
    source: "IEC 60335-1, clause 20, stands appliances on a plane that is tilted by 10°: from memory",
};

/// Of a tool.
pub static HOLLOWING_SHAFT: Limit<Length> =
    Limit { what: "shaft of the tool that hollows", value: Length::from_mm(10.0), source: PRACTICE };

/// Of a tool.
pub static BENT_TOOL: Limit<Length> =
    Limit { what: "how far beside its shaft a bent tool cuts", value: Length::from_mm(25.0), source: PRACTICE };

/// Of a tool.
pub static SHAFT_IN_MOUTH: Limit<Ratio> = Limit {
    what: "most of the narrowest place that a shaft takes up, so that it can be moved and shavings come out",
    value: Ratio::of(0.5),
    source: PRACTICE,
};

/// Of a tool.
pub static DEEPEST_HOLLOW: Limit<Length> = Limit {
    what: "farthest that a bar of 19 to 25 mm, held by hand, hangs over the rest",
    value: Length::from_mm(300.0),
    source: PRACTICE,
};

// The lid's joint.

/// On either side.
pub static JOINT_WALL: Limit<Length> =
    Limit { what: "least wood on either side of a lid joint", value: Length::from_mm(3.0), source: PRACTICE };

/// Under an inset lid.
pub static JOINT_LEDGE: Limit<Length> = Limit {
    what: "least width of a ledge or shoulder that a lid bears on",
    value: Length::from_mm(2.0),
    source: PRACTICE,
};

/// Of its faces.
pub static JOINT_GLUE_MARGIN: Limit<Length> =
    Limit { what: "least distance of a joint's faces from a glue line", value: Length::from_mm(2.0), source: PRACTICE };

/// Of a thread.
pub static FEWEST_THREADS: Limit<Ratio> =
    Limit { what: "fewest threads in mesh that hold a lid", value: Ratio::of(1.0), source: PRACTICE };

/// Of a thread.
pub static MOST_TURNS_OF_LID: Limit<Ratio> =
    Limit { what: "most turns that anybody gives a lid", value: Ratio::of(4.0), source: PRACTICE };

/// Of a thread.
pub static THREAD_GRAVITY: Limit<Ratio> = Limit {
    what: "specific gravity at 12 % moisture from which a wood takes a chased thread",
    value: Ratio::of(0.63),
    source: PRACTICE,
};

/// Of a clearance.
pub static LOOSE_SHARE: Limit<Ratio> = Limit {
    what: "clearance in the loosest season over the one it was made with",
    value: Ratio::of(3.0),
    source: PRACTICE,
};

// Inserts.

/// Under a hole.
pub static LEAST_LEFT: Limit<Length> =
    Limit { what: "least wood under a hole", value: Length::from_mm(4.0), source: PRACTICE };

/// Beside a hole.
pub static HOLE_GLUE_MARGIN: Limit<Length> = Limit {
    what: "least distance of a hole's edge or floor from a glue line or joint",
    value: Length::from_mm(2.0),
    source: PRACTICE,
};

/// Of a bit.
pub static NEAR_BIT: Limit<Length> = Limit {
    what: "farthest that a bit may be from the tenon it is to make",
    value: Length::from_mm(0.2),
    source: PRACTICE,
};

/// Of a liner.
pub static LINER_GAP: Limit<Length> =
    Limit { what: "least room round a liner, on the radius", value: Length::from_mm(1.0), source: PRACTICE };

/// Of a tenon.
pub static LEAST_SHOULDER: Limit<Length> =
    Limit { what: "least shoulder round the tenon of an insert", value: Length::from_mm(2.0), source: PRACTICE };

/// Of a plug.
pub static WIDE_PLUG: Limit<Length> =
    Limit { what: "widest solid plug or medallion that is glued in", value: Length::from_mm(75.0), source: PRACTICE };

// Holding the work.

/// Waste block.
pub static LEAST_BLOCK: Limit<Length> =
    Limit { what: "least thickness of a waste block", value: Length::from_mm(20.0), source: PRACTICE };

/// Screws, jaws, plates.
pub static METAL_CLEARANCE: Limit<Length> =
    Limit { what: "least distance of a tool from metal", value: Length::from_mm(5.0), source: PRACTICE };

/// Waste block.
pub static BLOCK_OVER_FOOT: Limit<Length> = Limit {
    what: "how much wider than the foot a waste block is sawn",
    value: Length::from_mm(15.0),
    source: PRACTICE,
};

/// Waste block.
pub static NARROWEST_BLOCK: Limit<Length> =
    Limit { what: "narrowest waste block", value: Length::from_mm(75.0), source: PRACTICE };

/// Waste block.
pub static BLOCK_WIDER: Limit<Length> = Limit {
    what: "how much wider than it need be a waste block may be",
    value: Length::from_mm(1.0),
    source: PRACTICE,
};

/// Of a segment of a hollow ring.
pub static POINTED_EDGE: Limit<Length> = Limit {
    what: "shortest inner edge that neither breaks off at the saw nor in the clamp",
    value: Length::from_mm(3.0),
    source: PRACTICE,
};

/// Under a solid floor.
pub static WIDE_SOLID: Limit<Length> = Limit {
    what: "widest solid round that is glued into rings without further thought",
    value: Length::from_mm(100.0),
    source: PRACTICE,
};

/// Of stock, and of where the vessel lives.
pub static STOCK_MOISTURE_OFF: Limit<MoistureContent> = Limit {
    what: "how far the wood may be, when it is glued, from what it comes to over the year",
    value: MoistureContent::from_percent(2.0),
    source: "Wood Handbook (FPL-GTR-190), chapter 13, from memory: 8 % on the mean, single pieces 6 to 10 %",
};

/// Where nobody says where the vessel lives.
pub static HOUSE_MOISTURE: Limit<MoistureContent> = Limit {
    what: "what wood comes to in a heated house",
    value: MoistureContent::from_percent(8.0),
    source: "Wood Handbook (FPL-GTR-190), figure 13-1, most of the map; furniture stock of 6 to 8 % agrees",
};

/// Of a layer.
pub static CHIPS: Limit<Ratio> =
    Limit { what: "greatest share of a blank that usually ends as chips", value: Ratio::of(0.85), source: PRACTICE };

/// Of a layer, over the board that is thinner.
pub static NEAR_THICKNESS: Limit<Length> = Limit {
    what: "what a layer may be made thinner by without anyone seeing it",
    value: Length::from_mm(0.5),
    source: PRACTICE,
};

/// Of two stop settings.
pub static SHARED_EDGE: Limit<Length> = Limit {
    what: "difference of two long edges that may be cut at one setting",
    value: Length::from_mm(0.5),
    source: PRACTICE,
};

/// Of a ring that is cut at another's setting.
pub static SHARED_RADIUS: Limit<Length> = Limit {
    what: "change of a blank's radius that its turning allowance bears",
    value: Length::from_mm(0.5),
    source: PRACTICE,
};

/// Between solid wood or staves and what they are glued to.
pub static GLUED_MISMATCH: Limit<Length> = Limit {
    what: "how far two layers glued face on face may want to move apart, on the diameter, without further thought",
    value: Length::from_mm(0.7),
    source: "derived: solid floors up to about 100 mm (4 in) are glued in as a matter of course (common practice); in hard \
             maple that is 100 mm × 0.00353 × 2 points of moisture, half of a heated house's year: from the middle, where \
             it is glued, to either end",
};

/// At the open end of a miter.
pub static JOINT_OPENS: Limit<Length> = Limit {
    what: "how far a joint may want to open in another season before glue should not be asked to hold it shut",
    value: Length::from_mm(0.4),
    source: "common practice: a joint that stands open by 1/64 in when dry fitted is sawn again, not pulled shut by clamps",
};

/// Between segments of unlike woods.
pub static STEP_FELT: Limit<Length> = Limit {
    what: "step between two woods that a finger feels at once on a finished surface",
    value: Length::from_mm(0.15),
    source: "common practice: about 0.1 to 0.15 mm; the greater of the two",
};

/// Of a strip across its width.
pub static FLAT_TO_GLUE: Limit<Length> = Limit {
    what: "how far a strip may cup and still be flat enough to glue or to stay glued",
    value: Length::from_mm(0.2),
    source: "common practice: what clamps press out of a glue joint without leaving a thick line",
};

/// Of coefficients of movement.
pub static MOVEMENT_HOLDS_FROM: Limit<MoistureContent> = Limit {
    what: "driest wood for which the coefficients of movement hold",
    value: MoistureContent::from_percent(6.0),
    source: "Wood Handbook (FPL-GTR-190), chapter 13, equation 13-2",
};

/// Of coefficients of movement.
pub static MOVEMENT_HOLDS_TO: Limit<MoistureContent> = Limit {
    what: "dampest wood for which the coefficients of movement hold",
    value: MoistureContent::from_percent(14.0),
    source: "Wood Handbook (FPL-GTR-190), chapter 13, equation 13-2",
};

/// At the rim.
pub static KNOCK: Limit<Force> = Limit {
    what: "push across the rim that a vessel has to bear from a hand or a tool while its foot is held",
    value: Force::from_newtons(50.0),
    source: "common practice: about what 5 kg (11 lb) weigh",
};

/// Of glued layers.
pub static ACROSS_GRAIN: Limit<Stress> = Limit {
    what: "tension across the grain that the weaker of the usual hardwoods bear",
    value: Stress::from_n_per_mm2(3.0),
    source: "from memory: Wood Handbook (FPL-GTR-190) table 5-3, about 3 to 7 N/mm² at 12 % moisture",
};

/// Of stems.
pub static STEM_SAFETY: Limit<Ratio> = Limit {
    what: "by how much a stem should be stronger than it has to be",
    value: Ratio::of(2.0),
    source: "common practice, for wood that varies by half from board to board",
};

/// Beside a glue line.
pub static LEAST_SKIN: Limit<Length> = Limit {
    what: "thinnest skin of a layer that does not flake off its glue line",
    value: Length::from_mm(1.5),
    source: "common practice: thicker than shop-sawn veneer",
};

/// Between a surface and a glue line.
pub static FEATHER_ANGLE: Limit<Angle> = Limit {
    what: "flattest surface across a glue line that leaves an edge which does not chip",
    value: Angle::from_degrees(10.0),
    source: "common practice: platters of 13 to 15° are turned without trouble",
};

/// Beside a glue line.
pub static FEATHER_DEPTH: Limit<Length> = Limit {
    what: "thickness of the edge over which its angle is measured",
    value: Length::from_mm(0.5),
    source: "common practice: a thinner edge than that is sanded away",
};

/// Of a saw's blade.
pub static THIN_KERF: Limit<Length> = Limit {
    what: "least kerf of a usual blade, that of a narrow bandsaw",
    value: Length::from_mm(0.4),
    source: PRACTICE,
};

/// Of a saw's blade.
pub static WIDE_KERF: Limit<Length> =
    Limit { what: "greatest kerf of a usual blade", value: Length::from_mm(4.0), source: PRACTICE };

/// Over the table, upright; tilted, its cosine (57 mm at 45°).
pub static CUT_DEPTH: Limit<Length> = Limit {
    what: "depth that a 10 in blade cuts when it stands upright",
    value: Length::from_mm(80.0),
    source: PRACTICE,
};

/// Crosscut at a table saw.
pub static THIN_STOCK: Limit<Length> =
    Limit { what: "thinnest strip that is crosscut without a backing", value: Length::from_mm(3.0), source: PRACTICE };

/// What glue bridges.
pub static OPEN_JOINT: Limit<Length> = Limit {
    what: "thickest glue line that is still strong",
    value: Length::from_mm(0.15),
    source: "from memory: Wood Handbook, chapter on adhesive bonding, 0.003 to 0.006 in",
};

/// The lathe's rule, its slow end.
pub static ROUGHING_RULE: Limit<Ratio> = Limit {
    what: "diameter in inches times turns a minute, while a blank is roughed",
    value: Ratio::of(6000.0),
    source: PRACTICE,
};

/// The lathe's rule, its fast end.
pub static TRUED_RULE: Limit<Ratio> = Limit {
    what: "diameter in inches times turns a minute, once a blank is trued",
    value: Ratio::of(9000.0),
    source: PRACTICE,
};

/// What mounting leaves.
pub static OFF_CENTER: Limit<Length> = Limit {
    what: "how far a blank's center lies off the axis, however carefully it is mounted",
    value: Length::from_inches(1.0 / 16.0),
    source: PRACTICE,
};

/// At roughing speed; 1.6 mm at 600 rpm is also 100 mm/s, grade G 100.
pub static PULL_OF_UNBALANCE: Limit<Ratio> = Limit {
    what: "pull of an unbalanced blank, as a share of its weight",
    value: Ratio::of(0.6),
    source: "common practice: what a blank does at 600 rpm that was mounted 1/16 in off its center; by analogy grade \
             G 100 of ISO 21940-11, from memory",
};
