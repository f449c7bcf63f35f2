//! Bytes to a recipe that can be made: every choice is taken from the bytes, in the order in which a turner takes them, and
//! behind their end every choice is the plainest. So a generator of tests and a fuzzer share it, and both shrink.
//!
//! All sizes are in millimeters here, and written as the file's units ask. The stack is laid first; the outside is as
//! high as it comes out.

mod fittings;
mod layers;
mod outline;
mod shop;

use std::fmt::Write as _;

use super::script::Script;

use layers::Stack;

/// A recipe and the files it uses, the recipe first.
pub type Files = Vec<(String, String)>;

/// Woods of the table, and two that the recipe names.
const WOODS: [&str; 10] =
    ["maple", "walnut", "cherry", "white-ash", "teak", "olive", "dark", "pale", "purpleheart", "european-beech"];

/// What parting takes.
const KERF: f64 = 2.0;

/// How the two parts of a vessel meet, and how far they stand within each other.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Meets {
    None,
    Flat,
    TenonOnBody(f64),
    TenonOnLid(f64),
    Inset(f64),
    Over(f64),
    Thread(f64),
    /// Sawn off the body's stack, with a tenon or without one.
    Parted(Option<f64>),
}

impl Meets {
    fn choose(script: &mut Script<'_>) -> Self {
        let long = 7.0 + size(script, 2);
        match script.below(14) {
            7 => Self::Flat,
            8 => Self::TenonOnBody(long),
            9 => Self::TenonOnLid(long),
            10 => Self::Inset(long),
            11 => Self::Over(long),
            12 => Self::Thread(long),
            13 => Self::Parted((script.below(2) == 1).then_some(long)),
            _ => Self::None,
        }
    }

    /// By how much the closed vessel is lower than its layers.
    fn lost(self) -> f64 {
        match self {
            Self::None | Self::Flat => 0.0,
            Self::TenonOnBody(it) | Self::TenonOnLid(it) | Self::Inset(it) | Self::Over(it) | Self::Thread(it) => it,
            Self::Parted(tenon) => KERF + tenon.unwrap_or(0.0),
        }
    }

    /// Whether the two parts stand within each other.
    fn is_jointed(self) -> bool {
        !matches!(self, Self::None | Self::Flat | Self::Parted(None))
    }
}

/// What is settled before the first layer.
#[derive(Debug, Clone, Copy)]
struct Frame {
    is_inch: bool,
    lid: Meets,
    wall: f64,
    floor: f64,
    /// Over the cavity, under a lid.
    top: f64,
    /// At the foot.
    radius: f64,
}

impl Frame {
    fn choose(script: &mut Script<'_>) -> Self {
        let is_inch = script.below(4) == 3;
        let lid = Meets::choose(script);
        // A joint needs wood on both of its sides.
        let wall = if lid.is_jointed() { 13.0 } else { 7.0 } + size(script, 6);
        let floor = 10.0 + size(script, 8);
        let top = 12.0 + size(script, 8);
        let radius = 2.0 * wall + 16.0 + size(script, 50);
        Self { is_inch, lid, wall, floor, top, radius }
    }

    /// A length, to a hundredth of a millimeter; in a file in inches it has its unit.
    fn show(&self, mm: f64) -> String {
        let rounded = (mm * 100.0).round() / 100.0;
        if self.is_inch { format!("{rounded} mm") } else { rounded.to_string() }
    }
}

/// Writes the recipe.
pub fn recipe(script: &mut Script<'_>) -> Files {
    let frame = Frame::choose(script);
    let stack = Stack::lay(script, &frame);
    let high = stack.high - frame.lid.lost();
    let units = if frame.is_inch { "units in\n" } else { "units mm\n" };
    let woods = "wood dark { like black-walnut }\nwood pale { like hard-maple }\n";
    let shared = format!("{units}{woods}{}{}", shop::shop(script, &frame), stack.named);
    let is_apart = script.below(3) == 2;
    let mut text = if is_apart { format!("{units}use \"shared.vessel\"\n") } else { shared.clone() };
    text += &policy(script);
    let _ = writeln!(text, "vessel \"{}\" {{", title(script));
    text += &surroundings(script);
    text += &outline::outline(script, &frame, high);
    let _ = writeln!(text, "  floor {}", frame.show(frame.floor));
    if frame.lid != Meets::None {
        let _ = writeln!(text, "  top {}", frame.show(frame.top));
    }
    text += &stack.text;
    text += &fittings::joint(script, &frame, &stack);
    text += &fittings::inserts(script, &frame, &stack);
    text += &promises(script, &frame, high);
    text += "}\n";
    let mut files = vec![("made-up.vessel".to_owned(), text)];
    if is_apart {
        files.push(("shared.vessel".to_owned(), shared));
    }
    files
}

/// A size from nothing to `most` millimeters, in halves.
fn size(script: &mut Script<'_>, most: u16) -> f64 {
    let halves = script.below(2 * usize::from(most) + 1);
    f64::from(u16::try_from(halves).unwrap_or(most)) / 2.0
}

fn title(script: &mut Script<'_>) -> &'static str {
    script.one_of(&["Bowl", "A \\\"box\\\" of 3/4\\\"", "Dose für Knöpfe", "木の器", "<b>&amp;</b>", "- | * `x`"])
}

fn policy(script: &mut Script<'_>) -> String {
    let codes = ["movement", "saw", "pattern/does-not-close", "ring/joints-line-up", "economy", "shape/tips"];
    let (code, level) = (script.one_of(&codes), script.one_of(&["note", "warning", "off"]));
    if script.below(4) == 3 { format!("severity {code} {level}\n") } else { String::new() }
}

/// Where it stands, what for, and under what finish.
fn surroundings(script: &mut Script<'_>) -> String {
    let mut text = String::new();
    if script.below(3) == 2 {
        let _ = writeln!(text, "  lives {}%rh .. {}%rh", 30 + script.below(15), 50 + script.below(15));
    }
    if script.below(4) == 3 {
        let uses = ["display", "dry-goods", "dry-food", "food", "drink", "water"];
        let _ = writeln!(text, "  holds {}", script.one_of(&uses));
    }
    if script.below(4) == 3 {
        let finishes = ["shellac", "beeswax", "pure-tung-oil", "hard-wax-oil", "bare-wood"];
        let _ = writeln!(text, "  finish {}", script.one_of(&finishes));
    }
    text
}

fn promises(script: &mut Script<'_>, frame: &Frame, high: f64) -> String {
    let mut text = String::new();
    if script.below(3) == 2 {
        let _ = writeln!(text, "  expect height <= {}", frame.show(high + 1.0));
        text += "  expect pieces >= 1\n  expect mass > 1 g\n";
    }
    if script.below(4) == 3 {
        let code = script.one_of(&["movement", "saw", "economy/waste", "strength", "shape/tips"]);
        let _ = writeln!(text, "  accept {code} because \"it is known, and wanted\"");
    }
    text
}
