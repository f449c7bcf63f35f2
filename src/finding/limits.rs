//! The figures that checks compare with, each with who says so. A check never writes such a figure itself.

use crate::quantity::{Angle, Duration, Force, Length, MoistureContent, Ratio, Stress, System, show_angle, show_both};

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
    Length: |length| show_both(length, System::Millimeter);
    Angle: |angle| show_angle(angle);
    Ratio: |ratio| format!("{}", ratio.value());
    Duration: |time| format!("{} min", time.minutes());
    Force: |force| format!("{} N", force.newtons());
    Stress: |stress| format!("{} N/mm²", stress.n_per_mm2());
    MoistureContent: |moisture| format!("{} points of moisture content", moisture.percent());
    &'static str: |words| words.to_owned();
}

const PRACTICE: &str = "common practice";

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

/// Of a board and what is sawn from it.
pub static PLANER_SET: Limit<Length> = Limit {
    what: "difference in size that no planer and no fence is set to",
    value: Length::from_mm(0.05),
    source: PRACTICE,
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
    value: Length::from_mm(1.4),
    source: "derived: solid floors up to about 100 mm (4 in) are glued in as a matter of course (common practice); in hard \
             maple that is 100 mm × 0.00353 × 4 points of moisture, a heated house's year",
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
