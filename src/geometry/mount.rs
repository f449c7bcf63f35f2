//! What holds the work on the lathe: the waste block, its screws, and the tenon for a chuck.

use std::f64::consts::FRAC_PI_4;

use crate::finding::limits;
use crate::quantity::{Area, Diameter, Length, Ratio};
use crate::workings::Formula;

/// Least thickness of a waste block.
pub const LEAST_BLOCK: Length = limits::LEAST_BLOCK.get();
/// Why [`LEAST_BLOCK`].
pub static LEAST_BLOCK_REASON: &str =
    "a waste block of 20 mm and more holds screws and lets a tool in: common practice";
/// How far screws must end before the work, and a tool stay from metal.
pub const METAL_CLEARANCE: Length = limits::METAL_CLEARANCE.get();
/// Why [`METAL_CLEARANCE`].
pub static METAL_CLEARANCE_REASON: &str = "no tool may come within 5 mm of a screw or a jaw: common practice";
/// Least wall round a recess that jaws spread in.
pub const LEAST_RECESS_WALL: Length = Length::from_mm(10.0);
/// Why [`LEAST_RECESS_WALL`].
pub static LEAST_RECESS_WALL_REASON: &str = "jaws that spread split a wall under 10 mm: common practice";
/// How long a tenon for a chuck is.
pub const CHUCK_TENON_LENGTH: Length = Length::from_mm(8.0);
/// Why [`CHUCK_TENON_LENGTH`].
pub static CHUCK_TENON_LENGTH_REASON: &str = "8 mm fills the jaws and stays clear of their floor: common practice";
/// How deep a recess for a chuck is.
pub const CHUCK_RECESS_DEPTH: Length = Length::from_mm(5.0);
/// Why [`CHUCK_RECESS_DEPTH`].
pub static CHUCK_RECESS_DEPTH_REASON: &str = "5 mm of spread jaws hold a recess: common practice";
/// A chuck's tenon over the vessel's greatest diameter.
pub const CHUCK_TENON_SHARE: Ratio = Ratio::of(0.365);
/// Why [`CHUCK_TENON_SHARE`].
pub static CHUCK_TENON_SHARE_REASON: &str = "a third to two fifths of the vessel's diameter holds it: common practice";

/// What one set of jaws holds from outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jaws {
    /// The narrowest tenon; below it only the jaws' corners bite.
    pub least: Diameter,
    /// Just over the closed circle: gripped all round.
    pub ideal: Diameter,
    /// The widest tenon; above it the jaws are near the end of their travel.
    pub most: Diameter,
}

/// The usual 50 mm jaws (common practice).
pub const JAWS_50: Jaws = Jaws {
    least: Diameter::new(Length::from_mm(40.0)),
    ideal: Diameter::new(Length::from_mm(48.0)),
    most: Diameter::new(Length::from_mm(62.0)),
};

impl Jaws {
    /// Whether they hold a tenon as they should.
    #[must_use]
    pub fn hold(self, tenon: Diameter) -> bool {
        self.least <= tenon && tenon <= self.most
    }
}

/// How [`chuck_tenon`] is told.
pub static CHUCK_TENON: Formula = Formula {
    gives: "tenon for the chuck",
    words: "share × greatest diameter, but no narrower and no wider than the jaws hold",
    inputs: &["greatest diameter", "share", "narrowest tenon of the jaws", "widest tenon of the jaws"],
};

/// The tenon to turn for a chuck.
#[must_use]
pub fn chuck_tenon(greatest: Diameter, share: Ratio, least: Diameter, most: Diameter) -> Diameter {
    Diameter::new((greatest.across() * share.value()).min(most.across()).max(least.across()))
}

/// How [`recess_wall`] is told.
pub static RECESS_WALL: Formula =
    Formula { gives: "wall round the recess", words: "(foot − recess) / 2", inputs: &["foot", "recess"] };

/// Wood round a recess that jaws spread in.
#[must_use]
pub fn recess_wall(foot: Diameter, recess: Diameter) -> Length {
    (foot - recess) / 2.0
}

/// How [`block_diameter`] is told.
pub static BLOCK_DIAMETER: Formula = Formula {
    gives: "waste block",
    words: "foot + 15 mm, at least 75 mm: as wide as the foot once it is trued (common practice)",
    inputs: &["foot"],
};

/// How wide a waste block is sawn for a foot.
#[must_use]
pub fn block_diameter(foot: Diameter) -> Diameter {
    Diameter::new((foot.across() + limits::BLOCK_OVER_FOOT.get()).max(limits::NARROWEST_BLOCK.get()))
}

/// How [`block_thickness`] is told.
pub static BLOCK_THICKNESS: Formula = Formula {
    gives: "thickness of the waste block",
    words: "screws in the block + clearance from metal + what is turned of it, at least 20 mm",
    inputs: &["screws in the block", "clearance from metal", "what is turned of it"],
};

/// How thick a waste block must be when `turned` of it becomes a spigot, a recess or a parting cut.
#[must_use]
pub fn block_thickness(screws: Length, clearance: Length, turned: Length) -> Length {
    (screws + clearance + turned).max(LEAST_BLOCK)
}

/// How [`screws_in_block`] is told.
pub static SCREWS_IN_BLOCK: Formula = Formula {
    gives: "screws in the block",
    words: "length of the screws − thickness of the faceplate",
    inputs: &["length of the screws", "thickness of the faceplate"],
};

/// How far screws reach into the waste block.
#[must_use]
pub fn screws_in_block(screw: Length, plate: Length) -> Length {
    (screw - plate).max(Length::ZERO)
}

/// How [`longest_screw`] is told.
pub static LONGEST_SCREW: Formula = Formula {
    gives: "longest screw",
    words: "thickness of the faceplate + thickness of the waste block − clearance from metal − what is turned of the block",
    inputs: &[
        "thickness of the faceplate",
        "thickness of the waste block",
        "clearance from metal",
        "what is turned of it",
    ],
};

/// The longest screw that stays clear of the work and of every tool.
#[must_use]
pub fn longest_screw(plate: Length, block: Length, clearance: Length, turned: Length) -> Length {
    (plate + block - clearance - turned).max(Length::ZERO)
}

/// How [`tool_clearance`] is told.
pub static TOOL_CLEARANCE: Formula = Formula {
    gives: "room between tool and metal",
    words: "thickness of the waste block − screws in the block − what is turned of it",
    inputs: &["thickness of the waste block", "screws in the block", "what is turned of it"],
};

/// How far a tool that cuts `turned` deep into the block's work side stays from the screws; negative
/// when it meets them.
#[must_use]
pub fn tool_clearance(block: Length, screws: Length, turned: Length) -> Length {
    block - screws - turned
}

/// How [`faceplate_for`] is told.
pub static FACEPLATE_FOR: Formula = Formula {
    gives: "faceplate",
    words: "the widest of those owned that stays within the waste block by the clearance from metal all round",
    inputs: &["waste block", "clearance from metal"],
};

/// The widest faceplate that a tool passing the block's rim will not meet.
#[must_use]
pub fn faceplate_for(block: Diameter, clearance: Length, owned: &[Diameter]) -> Option<Diameter> {
    let widest = block - clearance * 2.0;
    let fitting = owned.iter().copied().filter(|plate| *plate <= widest);
    fitting.max_by(|a, b| a.across().mm().total_cmp(&b.across().mm()))
}

/// How [`block_glue_area`] is told.
pub static BLOCK_GLUE_AREA: Formula = Formula {
    gives: "glued face of the waste block",
    words: "π/4 × (the smaller of waste block and foot² − hollow of the foot²)",
    inputs: &["waste block", "foot", "hollow of the foot"],
};

/// Where block and work touch: a round, or a ring under a hollow foot or on a rim.
#[must_use]
pub fn block_glue_area(block: Diameter, foot: Diameter, hollow: Diameter) -> Area {
    let outer = block.across().min(foot.across());
    let inner = hollow.across();
    if inner >= outer {
        return Area::default();
    }
    (outer + inner).by(outer - inner) * FRAC_PI_4
}

#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{
        CHUCK_TENON_SHARE, JAWS_50, LEAST_BLOCK, METAL_CLEARANCE, block_diameter, block_glue_area, block_thickness,
        chuck_tenon, faceplate_for, longest_screw, recess_wall, screws_in_block, tool_clearance,
    };
    use crate::quantity::{Diameter, Length};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn across(value: f64) -> Diameter {
        Diameter::new(mm(value))
    }

    #[track_caller]
    fn assert_figure(got: f64, wanted: f64) {
        assert!((got - wanted).abs() <= 1e-6 * wanted.abs(), "{got}, not {wanted}");
    }

    #[test]
    fn blocks_of_the_trade() {
        // Common practice: 75 mm for a foot up to 60 mm, never under 20 mm thick.
        assert_figure(block_diameter(across(60.0)).across().mm(), 75.0);
        assert_figure(block_diameter(across(35.0)).across().mm(), 75.0);
        assert_figure(block_diameter(across(110.0)).across().mm(), 125.0);
        assert_eq!(block_thickness(mm(5.0), METAL_CLEARANCE, mm(3.0)), LEAST_BLOCK);
        assert_figure(block_thickness(mm(16.0), METAL_CLEARANCE, mm(10.0)).mm(), 31.0);
    }

    #[test]
    fn chucks_hold_what_they_can() {
        // Common practice: 50 mm jaws hold 40 to 62 mm, best at 48; a third to two fifths of the vessel.
        for (vessel, tenon) in [(80.0, 40.0), (130.0, 47.45), (160.0, 58.4), (300.0, 62.0)] {
            let got = chuck_tenon(across(vessel), CHUCK_TENON_SHARE, JAWS_50.least, JAWS_50.most);
            assert_figure(got.across().mm(), tenon);
            assert!(JAWS_50.hold(got));
        }
        assert!(JAWS_50.hold(JAWS_50.ideal) && !JAWS_50.hold(across(39.0)) && !JAWS_50.hold(across(63.0)));
        assert!((1.0 / 3.0..=0.4).contains(&CHUCK_TENON_SHARE.value()));
        assert_figure(recess_wall(across(80.0), across(54.0)).mm(), 13.0);
    }

    #[test]
    fn a_faceplate_stays_within_its_block() {
        let owned = [76.0, 102.0, 152.0].map(across);
        assert_eq!(faceplate_for(across(125.0), METAL_CLEARANCE, &owned), Some(across(102.0)));
        assert_eq!(faceplate_for(across(111.0), METAL_CLEARANCE, &owned), Some(across(76.0)));
        assert_eq!(faceplate_for(across(75.0), METAL_CLEARANCE, &owned), None);
    }

    #[test]
    fn glue_under_a_block_as_summed_in_thin_rings() {
        for (block, foot, hollow) in [(75.0, 60.0, 0.0), (75.0, 90.0, 40.0), (80.0, 80.0, 66.0)] {
            let (from, to) = (hollow / 2.0, f64::min(block, foot) / 2.0);
            let steps = 20_000;
            let width = (to - from) / f64::from(steps);
            let sum: f64 =
                (0..steps).map(|i| std::f64::consts::TAU * (from + width * (f64::from(i) + 0.5)) * width).sum();
            assert_figure(block_glue_area(across(block), across(foot), across(hollow)).mm2(), sum);
        }
        assert!(block_glue_area(across(50.0), across(80.0), across(66.0)).mm2().abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn the_longest_screw_leaves_just_the_clearance(
            plate in 3.0..12.0_f64, screw in 12.0..60.0_f64, turned in 0.0..15.0_f64,
        ) {
            let reach = screws_in_block(mm(screw), mm(plate));
            let block = block_thickness(reach, METAL_CLEARANCE, mm(turned));
            prop_assert!(tool_clearance(block, reach, mm(turned)) >= METAL_CLEARANCE - mm(1e-9));
            let longest = longest_screw(mm(plate), block, METAL_CLEARANCE, mm(turned));
            prop_assert!(longest >= mm(screw - 1e-9));
            let left = tool_clearance(block, screws_in_block(longest, mm(plate)), mm(turned));
            prop_assert!(left >= METAL_CLEARANCE - mm(1e-9));
        }
    }
}
