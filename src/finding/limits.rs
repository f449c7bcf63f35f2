//! The figures that checks compare with, each with who says so. A check never writes such a figure itself.

use crate::quantity::{Angle, Duration, Length, MoistureContent, Ratio, System, show_angle, show_both};

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
