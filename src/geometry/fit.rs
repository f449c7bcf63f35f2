//! How tight a round part sits in a round hole, on the diameter; and what to turn so that a
//! reversed part can be held by its own joint.

use crate::quantity::{Diameter, Length};
use crate::resolve::Fit;
use crate::workings::Formula;

/// How [`clearance`] is told of a jam fit.
pub static JAM: Formula = Formula {
    gives: "clearance, on the diameter",
    words: "−0.025 mm, whatever the mortise: a jam fit grips by 0 to 0.05 mm (common practice)",
    inputs: &["mortise"],
};

/// How [`clearance`] is told of a slip fit.
pub static SLIP: Formula = Formula {
    gives: "clearance, on the diameter",
    words: "0.15 mm, from 50 mm of mortise rising in a straight line to 0.3 mm at 100 mm and no further (common practice)",
    inputs: &["mortise"],
};

/// How [`clearance`] is told of a loose fit.
pub static LOOSE: Formula = Formula {
    gives: "clearance, on the diameter",
    words: "0.4 mm, from 100 mm of mortise rising in a straight line to 0.8 mm at 200 mm and no further (common practice)",
    inputs: &["mortise"],
};

/// How the clearance of a fit is told; nothing is computed of one that the maker gave.
#[must_use]
pub fn formula(fit: Fit) -> Option<&'static Formula> {
    match fit {
        Fit::Jam => Some(&JAM),
        Fit::Slip => Some(&SLIP),
        Fit::Loose => Some(&LOOSE),
        Fit::Clearance(_) => None,
    }
}

/// The play between mortise and tenon, on the diameter; negative where one grips the other. Wider
/// joints need more: they are never quite round and move more from one season to the next.
#[must_use]
pub fn clearance(fit: Fit, mortise: Diameter) -> Length {
    let rising = |low: f64, high: f64, from: f64, to: f64| {
        let share = ((mortise.across().mm() - from) / (to - from)).clamp(0.0, 1.0);
        Length::from_mm(low + share * (high - low))
    };
    match fit {
        Fit::Jam => Length::from_mm(-0.025),
        Fit::Slip => rising(0.15, 0.3, 50.0, 100.0),
        Fit::Loose => rising(0.4, 0.8, 100.0, 200.0),
        Fit::Clearance(clearance) => clearance,
    }
}

/// How far a jam chuck grips, on the diameter: the middle of 0 to 0.05 mm.
pub const JAM_GRIP: Length = Length::from_mm(0.025);
/// Why [`JAM_GRIP`].
pub static JAM_GRIP_REASON: &str = "a jam chuck grips by 0 to 0.05 mm on the diameter: common practice";

/// How [`jam_spigot`] is told.
pub static JAM_SPIGOT: Formula = Formula {
    gives: "spigot to turn on the waste block",
    words: "hole that it holds + grip",
    inputs: &["hole", "grip"],
};

/// The spigot on the waste block that holds a part by its mouth or its mortise.
#[must_use]
pub fn jam_spigot(hole: Diameter, grip: Length) -> Diameter {
    hole + grip
}

/// How [`jam_recess`] is told.
pub static JAM_RECESS: Formula = Formula {
    gives: "recess to turn into the waste block",
    words: "tenon that it holds − grip",
    inputs: &["tenon", "grip"],
};

/// The recess in the waste block that holds a part by its tenon or its outside.
#[must_use]
pub fn jam_recess(tenon: Diameter, grip: Length) -> Diameter {
    tenon - grip
}

/// How [`jam_reach`] is told.
pub static JAM_REACH: Formula = Formula {
    gives: "how far the jam chuck reaches into the joint",
    words: "the lesser of 10 mm and the joint's own length less 1 mm: it must stop against the shoulder, not the end",
    inputs: &["length of the joint"],
};

/// How long a spigot, or how deep a recess, holds the part while its shoulder bears (common practice).
#[must_use]
pub fn jam_reach(joint: Length) -> Length {
    (joint - Length::from_mm(1.0)).min(Length::from_mm(10.0)).max(Length::ZERO)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{JAM_GRIP, clearance, formula, jam_reach, jam_recess, jam_spigot};
    use crate::quantity::{Diameter, Length};
    use crate::resolve::Fit;

    fn across(value: f64) -> Diameter {
        Diameter::new(Length::from_mm(value))
    }

    #[test]
    fn fits_lie_in_the_ranges_of_the_trade() {
        // Common practice, mm on the diameter: jam 0 to 0.05 of grip; one hand 0.15 to 0.30; jars of 100 mm and more 0.4 to 0.8.
        for mortise in [10.0, 40.0, 66.0, 99.0, 100.0, 150.0, 300.0] {
            let of = |fit| clearance(fit, across(mortise)).mm();
            assert!((-0.05..=0.0).contains(&of(Fit::Jam)), "{mortise}");
            assert!((0.15..=0.3).contains(&of(Fit::Slip)), "{mortise}");
            assert!((0.4..=0.8).contains(&of(Fit::Loose)), "{mortise}");
            assert!((of(Fit::Clearance(Length::from_mm(0.6))) - 0.6).abs() < 1e-12);
        }
        let slip = clearance(Fit::Slip, across(66.0)).mm();
        assert!((slip - (0.15 + 0.15 * 16.0 / 50.0)).abs() < 1e-12, "{slip}");
    }

    #[test]
    fn only_a_given_clearance_has_no_formula() {
        for fit in [Fit::Jam, Fit::Slip, Fit::Loose] {
            assert!(formula(fit).is_some());
        }
        assert!(formula(Fit::Clearance(Length::ZERO)).is_none());
    }

    #[test]
    fn a_jam_chuck_grips_from_within_and_from_without() {
        let (mortise, tenon) = (across(66.0), across(65.8));
        assert!((jam_spigot(mortise, JAM_GRIP) - mortise).mm() > 0.0);
        assert!((jam_recess(tenon, JAM_GRIP) - tenon).mm() < 0.0);
        for (joint, reach) in [(0.5, 0.0), (6.0, 5.0), (11.0, 10.0), (40.0, 10.0)] {
            assert!((jam_reach(Length::from_mm(joint)).mm() - reach).abs() < 1e-12, "{joint}");
        }
    }

    proptest! {
        #[test]
        fn a_wider_joint_never_gets_less_play(narrow in 1.0..400.0_f64, more in 0.0..200.0_f64) {
            for fit in [Fit::Jam, Fit::Slip, Fit::Loose] {
                prop_assert!(clearance(fit, across(narrow + more)) >= clearance(fit, across(narrow)));
            }
            prop_assert!(clearance(Fit::Jam, across(narrow)) < clearance(Fit::Slip, across(narrow)));
            prop_assert!(clearance(Fit::Slip, across(narrow)) < clearance(Fit::Loose, across(narrow)));
        }
    }
}
