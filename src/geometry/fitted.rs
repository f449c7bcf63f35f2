//! What is fitted to the turned parts: the lid's joint and the inserts, with their numbers.

use crate::quantity::{Angle, Area, Length, MoistureContent, Ratio};
use crate::resolve::{Fit, JointKind, PartKind};
use crate::workings::Known;

/// How lid and body meet, in numbers.
#[derive(Debug, Clone)]
pub struct LidJoint {
    /// Which.
    pub kind: JointKind,
    /// The part with the tenon.
    pub on: PartKind,
    /// How tight it was asked to be.
    pub fit: Fit,
    /// Where the line shows: the shoulder, of an inset lid the rim.
    pub shoulder: Known<Length>,
    /// Where the tenon ends, above or below the shoulder.
    pub end: Known<Length>,
    /// How far the tenon goes in.
    pub long: Known<Length>,
    /// How deep the mortise is turned; deeper than the tenon is long, so that the shoulder closes.
    pub mortise_depth: Known<Length>,
    /// Across the tenon; of a thread, its major diameter.
    pub tenon: Known<Length>,
    /// Across the mortise; of a thread, its minor diameter.
    pub mortise: Known<Length>,
    /// Mortise less tenon.
    pub clearance: Known<Length>,
    /// Across the hole in the tenon; 0 when it is solid.
    pub bore: Known<Length>,
    /// Left outside the mortise.
    pub mortise_wall: Known<Length>,
    /// Left of the tenon; of a thread, under its root; of an inset lid, the ledge that it bears on, less half the play.
    pub tenon_wall: Known<Length>,
    /// Level width of the shoulder.
    pub shoulder_width: Known<Length>,
    /// What the seasons make of the clearance; `None` without `lives`, or where no source tells how the wood moves.
    pub seasons: Option<Seasons>,
    /// Of a threaded joint.
    pub thread: Option<ThreadShape>,
    /// Diameters to turn on waste wood, to hold body and lid by for reversing.
    pub jam: Vec<JamChuck>,
}

/// A joint's clearance through the year.
#[derive(Debug, Clone, Copy)]
pub struct Seasons {
    /// Of the wood when the joint is fitted.
    pub fitted: Known<MoistureContent>,
    /// In the driest and in the dampest weeks.
    pub moisture: [Known<MoistureContent>; 2],
    /// Then; below zero it sticks.
    pub clearance: [Known<Length>; 2],
}

/// A chased thread, in numbers.
#[derive(Debug, Clone, Copy)]
pub struct ThreadShape {
    /// From crest to crest.
    pub pitch: Known<Length>,
    /// How many run side by side.
    pub starts: u32,
    /// Until the lid sits.
    pub turns: Known<Ratio>,
    /// Of the tenon's thread.
    pub depth: Known<Length>,
    /// Across the roots of the tenon's thread.
    pub root: Known<Length>,
    /// Of the mortise's thread.
    pub depth_inside: Known<Length>,
    /// Across the roots of the mortise's thread, the nominal size of the thread.
    pub major: Known<Length>,
    /// How far along the axis both are in mesh.
    pub engagement: Known<Length>,
}

/// A chuck of waste wood that holds a part by friction.
#[derive(Debug, Clone, Copy)]
pub struct JamChuck {
    /// Which part it holds.
    pub part: PartKind,
    /// To turn.
    pub diameter: Known<Length>,
    /// How long a spigot, how deep a recess: the shoulder bears first.
    pub reach: Known<Length>,
    /// Whether it goes inside the part; else it is a hole that takes the part's tenon.
    pub is_inside: bool,
}

/// An insert, in numbers.
#[derive(Debug, Clone)]
pub struct BuiltInsert {
    /// Index into the recipe's inserts.
    pub said: usize,
    /// To drill or turn.
    pub hole_diameter: Known<Length>,
    /// From the face it goes in.
    pub hole_depth: Known<Length>,
    /// Whether a bit of the shop makes it; else it is turned.
    pub is_drilled: bool,
    /// Of tenon, plug, medallion or liner.
    pub diameter: Known<Length>,
    /// How far it goes in.
    pub length: Known<Length>,
    /// Wood left under or behind the hole; 0 or less when it goes through.
    pub left: Known<Length>,
    /// To glue.
    pub glue_area: Known<Area>,
    /// Width, thickness and length of its blank, the grain along the length; `None` for a liner.
    pub blank: Option<[Known<Length>; 3]>,
    /// Height of the hole's rim, on which a shoulder seats; of a side hole, of its middle.
    pub rim: Length,
    /// Of a side hole: how much shallower it is at the lowest point of its rim.
    pub rim_drop: Length,
    /// Left of the given blank for what is seen, when the blank is long enough to hold and part.
    pub seen: Option<Known<Length>>,
    /// Where a side hole faces, counterclockwise from above.
    pub facing: Option<Angle>,
}
