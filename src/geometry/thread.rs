//! The 60° thread of a screwed lid: how deep it is cut and what it leaves of the walls.
//!
//! The proportions are those of ISO 68-1: a sharp triangle of height H on each pitch, an eighth of it
//! taken off at the crest of the tenon, a quarter at the crest of the mortise.

use std::f64::consts::PI;

use crate::quantity::trig::sqrt;
use crate::quantity::{Area, Count, Diameter, Length, Ratio, ThreadCount};
use crate::workings::Formula;

/// H over the pitch: the height of an equilateral triangle.
const SHARP: f64 = 0.866_025_403_784_438_6;
/// Depth cut into the tenon: crest H/8 off, root H/6 off.
const EXTERNAL: f64 = 17.0 / 24.0 * SHARP;
/// Depth cut into the mortise: crest H/4 off, root H/8 off.
const INTERNAL: f64 = 5.0 / 8.0 * SHARP;
/// From the major to the pitch diameter, on the diameter.
const TO_PITCH_LINE: f64 = 0.75 * SHARP;

/// Turns that hold a lid.
pub const TURNS: Ratio = Ratio::of(3.5);
/// Why [`TURNS`].
pub static TURNS_REASON: &str = "three to four turns hold a lid and are soon undone: common practice";
/// Clearance of a wooden thread, on the diameter.
pub const CLEARANCE: Length = Length::from_mm(0.4);
/// Why [`CLEARANCE`].
pub static CLEARANCE_REASON: &str = "wooden threads run free with 0.3 to 0.5 mm on the diameter: common practice";

/// How [`pitch`] is told.
pub static PITCH: Formula =
    Formula { gives: "pitch", words: "1 / threads along a length", inputs: &["threads along a length"] };

/// From one thread to the next.
#[must_use]
pub fn pitch(threads: ThreadCount) -> Length {
    Length::from_mm(1.0 / threads.threads_per_mm())
}

/// How [`lead`] is told.
pub static LEAD: Formula = Formula { gives: "lead", words: "starts × pitch", inputs: &["starts", "pitch"] };

/// How far one turn carries the lid.
#[must_use]
pub fn lead(starts: Count, pitch: Length) -> Length {
    pitch * f64::from(starts.0)
}

/// How [`engagement`] is told.
pub static ENGAGEMENT: Formula =
    Formula { gives: "length of engagement", words: "turns × lead", inputs: &["turns", "lead"] };

/// How long the threaded part must be for so many turns.
#[must_use]
pub fn engagement(turns: Ratio, lead: Length) -> Length {
    lead * turns.value()
}

/// How [`external_depth`] is told.
pub static EXTERNAL_DEPTH: Formula = Formula {
    gives: "depth of the thread on the tenon",
    words: "0.613435 × pitch: 17/24 of the sharp triangle's height",
    inputs: &["pitch"],
};

/// How deep the tenon's thread is cut, from crest to root.
#[must_use]
pub fn external_depth(pitch: Length) -> Length {
    pitch * EXTERNAL
}

/// How [`internal_depth`] is told.
pub static INTERNAL_DEPTH: Formula = Formula {
    gives: "depth of the thread in the mortise",
    words: "0.541266 × pitch: 5/8 of the sharp triangle's height",
    inputs: &["pitch"],
};

/// How deep the mortise's thread is cut, from crest to root.
#[must_use]
pub fn internal_depth(pitch: Length) -> Length {
    pitch * INTERNAL
}

/// How [`pitch_diameter`] is told.
pub static PITCH_DIAMETER: Formula = Formula {
    gives: "pitch diameter",
    words: "major diameter − 0.649519 × pitch: where thread and groove are equally wide",
    inputs: &["major diameter", "pitch"],
};

/// Where thread and groove are equally wide.
#[must_use]
pub fn pitch_diameter(major: Diameter, pitch: Length) -> Diameter {
    major - pitch * TO_PITCH_LINE
}

/// How [`tenon_major`] is told.
pub static TENON_MAJOR: Formula = Formula {
    gives: "major diameter of the tenon",
    words: "major diameter of the thread − clearance",
    inputs: &["major diameter", "clearance"],
};

/// The tenon before its thread is cut.
#[must_use]
pub fn tenon_major(major: Diameter, clearance: Length) -> Diameter {
    major - clearance
}

/// How [`root_diameter`] is told.
pub static ROOT_DIAMETER: Formula = Formula {
    gives: "root diameter of the tenon",
    words: "major diameter of the tenon − 2 × depth of its thread",
    inputs: &["major diameter of the tenon", "pitch"],
};

/// What the thread leaves of the tenon.
#[must_use]
pub fn root_diameter(tenon_major: Diameter, pitch: Length) -> Diameter {
    tenon_major - external_depth(pitch) * 2.0
}

/// How [`minor_diameter`] is told.
pub static MINOR_DIAMETER: Formula = Formula {
    gives: "hole to turn before the thread is cut",
    words: "major diameter − 2 × depth of the thread in the mortise",
    inputs: &["major diameter", "pitch"],
};

/// The mortise before its thread is cut.
#[must_use]
pub fn minor_diameter(major: Diameter, pitch: Length) -> Diameter {
    major - internal_depth(pitch) * 2.0
}

/// How [`tenon_wall`] is told.
pub static TENON_WALL: Formula = Formula {
    gives: "wall of the tenon under the thread",
    words: "(major diameter of the tenon − 2 × 0.613435 × pitch − bore) / 2",
    inputs: &["major diameter of the tenon", "pitch", "bore"],
};

/// Wood between the thread's root and the bore.
#[must_use]
pub fn tenon_wall(tenon_major: Diameter, pitch: Length, bore: Diameter) -> Length {
    (root_diameter(tenon_major, pitch) - bore) / 2.0
}

/// How [`mortise_wall`] is told.
pub static MORTISE_WALL: Formula = Formula {
    gives: "wall of the mortise behind the thread",
    words: "(outside diameter − major diameter) / 2: the thread is cut out to the major diameter",
    inputs: &["outside diameter", "major diameter"],
};

/// Wood between the thread's root in the mortise and the outside.
#[must_use]
pub fn mortise_wall(outside: Diameter, major: Diameter) -> Length {
    (outside - major) / 2.0
}

/// How [`flank_contact`] is told.
pub static FLANK_CONTACT: Formula = Formula {
    gives: "flank contact",
    words: "0.541266 × pitch − clearance / 2: how far the threads overlap, on the radius",
    inputs: &["pitch", "clearance"],
};

/// How far the tenon's thread reaches into the mortise's; nothing when the clearance takes all of it.
#[must_use]
pub fn flank_contact(pitch: Length, clearance: Length) -> Length {
    (internal_depth(pitch) - clearance / 2.0).max(Length::ZERO)
}

/// How [`flank_area`] is told.
pub static FLANK_AREA: Formula = Formula {
    gives: "flanks that bear",
    words: "π × pitch diameter × flank contact / cos 30° × length of engagement / pitch: one side of every thread",
    inputs: &["pitch diameter", "flank contact", "length of engagement", "pitch"],
};

/// The flanks that pull when the lid is screwed tight: one side of each thread.
#[must_use]
pub fn flank_area(pitch_diameter: Diameter, contact: Length, engagement: Length, pitch: Length) -> Area {
    pitch_diameter.across().by(contact) * (PI * (engagement / pitch) * 2.0 / sqrt(3.0))
}

#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
#[cfg(test)]
mod tests {
    use super::{
        SHARP, engagement, external_depth, flank_area, flank_contact, internal_depth, lead, minor_diameter,
        mortise_wall, pitch, pitch_diameter, root_diameter, tenon_major, tenon_wall,
    };
    use crate::quantity::{Count, Diameter, Length, Ratio, ThreadCount};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn across(value: f64) -> Diameter {
        Diameter::new(mm(value))
    }

    #[track_caller]
    fn assert_figure(got: f64, wanted: f64) {
        assert!((got - wanted).abs() <= 1e-5 * wanted.abs(), "{got}, not {wanted}");
    }

    #[test]
    fn threads_as_standardized() {
        // ISO 724, basic dimensions: major, pitch, pitch diameter, minor diameter of the internal thread.
        for (major, p, on_pitch_line, minor) in [
            (50.0, 2.0, 48.701, 47.835),
            (10.0, 1.5, 9.026, 8.376),
            (24.0, 3.0, 22.051, 20.752),
            (36.0, 2.0, 34.701, 33.835),
            (64.0, 6.0, 60.103, 57.505),
        ] {
            assert!((pitch_diameter(across(major), mm(p)).across().mm() - on_pitch_line).abs() < 5.1e-4, "{major}");
            assert!((minor_diameter(across(major), mm(p)).across().mm() - minor).abs() < 5.1e-4, "{major}");
        }
        // DIN 13-1, root diameter of the external thread.
        for (major, p, root) in [(10.0, 1.5, 8.160), (24.0, 3.0, 20.319), (64.0, 6.0, 56.639)] {
            assert!((root_diameter(across(major), mm(p)).across().mm() - root).abs() < 5.1e-4, "{major}");
        }
        // ISO 68-1: 0.866 025 4, 0.541 265 9; DIN 13-19: 0.613 43.
        assert!((SHARP - 0.866_025_404).abs() < 1e-9 && (SHARP - 3.0_f64.sqrt() / 2.0).abs() < 1e-15);
        assert!((internal_depth(mm(1.0)).mm() - 0.541_265_9).abs() < 1e-7);
        assert!((external_depth(mm(1.0)).mm() - 0.613_43).abs() < 1e-5);
    }

    #[test]
    fn lids_as_tabled() {
        // Reference rows (closed form to six digits).
        for (major, p, bore, external, root, internal, minor, wall) in [
            (50.0, 2.0, 38.0, 1.226_87, 47.5463, 1.082_53, 47.8349, 4.773_13),
            (2.25, 0.0625, 1.75, 0.038_339_7, 2.173_32, 0.033_829_1, 2.182_34, 0.211_66),
            (65.0, 1.5, 54.0, 0.920_152, 63.1597, 0.811_899, 63.3762, 4.579_85),
        ] {
            assert_figure(external_depth(mm(p)).mm(), external);
            assert_figure(root_diameter(across(major), mm(p)).across().mm(), root);
            assert_figure(internal_depth(mm(p)).mm(), internal);
            assert_figure(minor_diameter(across(major), mm(p)).across().mm(), minor);
            assert_figure(tenon_wall(across(major), mm(p), across(bore)).mm(), wall);
        }
        assert_figure(mortise_wall(across(80.0), across(65.0)).mm(), 7.5);
        assert_figure(tenon_major(across(65.0), mm(0.4)).across().mm(), 64.6);
    }

    #[test]
    fn pitch_and_engagement() {
        // Usual chasers: 16 threads an inch is 1.588 mm, 20 is 1.270 mm.
        let sixteen = pitch(ThreadCount::per_inch(16.0));
        assert!((sixteen.mm() - 1.588).abs() < 5.1e-4);
        assert!((pitch(ThreadCount::per_inch(20.0)).mm() - 1.27).abs() < 1e-9);
        // Four turns of 16 an inch make a quarter of an inch; of a double start, half an inch.
        assert_figure(engagement(Ratio::of(4.0), lead(Count(1), sixteen)).inches(), 0.25);
        assert_figure(engagement(Ratio::of(4.0), lead(Count(2), sixteen)).inches(), 0.5);
    }

    /// Both profiles drawn on one axial section; where the mortise's space ends inside the tenon's
    /// wood when the lid is pulled against its thread, they touch.
    #[test]
    fn flanks_touch_as_drawn() {
        let (major, p) = (30.0, 2.0);
        let h = p * 3.0_f64.sqrt() / 2.0;
        for clearance in [0.0, 0.4, 1.2, 2.5] {
            // The sharp triangle at height y over the pitch line is p (1/2 − y/h) wide.
            let line = pitch_diameter(across(major), mm(p)).radius().mm();
            let crest = line + 0.375 * h - clearance / 2.0;
            let mortise_crest = line - 0.25 * h;
            let steps = 100_000;
            let mut touching = 0.0;
            for i in 0..steps {
                let radius = 10.0 + 10.0 * (f64::from(i) + 0.5) / f64::from(steps);
                let is_both = radius < crest && radius > mortise_crest;
                touching += if is_both { 10.0 / f64::from(steps) } else { 0.0 };
            }
            let contact = flank_contact(mm(p), mm(clearance));
            assert!((contact.mm() - touching).abs() < 2e-4, "{clearance}: {} {touching}", contact.mm());
        }
        // A full profile one turn long: the frustum between both radii, as slanted as the flank.
        let contact = flank_contact(mm(p), Length::ZERO);
        let mean = pitch_diameter(across(major), mm(p));
        let (inner, outer) = (mean.radius().mm() - contact.mm() / 2.0, mean.radius().mm() + contact.mm() / 2.0);
        let frustum = std::f64::consts::PI * (inner + outer) * contact.mm() / (30.0_f64).to_radians().cos();
        assert_figure(flank_area(mean, contact, mm(p), mm(p)).mm2(), frustum);
    }
}
