//! The figures that checks compare with, each with who says so. A check never writes such a figure itself.

use crate::quantity::{Angle, Count, Duration, Length, MoistureContent, Ratio, System, show_angle, show_both};

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
    MoistureContent: |moisture| format!("{} points of moisture content", moisture.percent());
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
