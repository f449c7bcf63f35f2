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
