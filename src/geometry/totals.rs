//! Curves to the figures of the whole vessel.

use std::f64::consts::PI;

use crate::quantity::{Area, Length, Volume};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::parts::Parts;
use super::profile::Profile;
use super::ring::annulus;
use super::shape::Shape;

static MAX_RADIUS: Formula = Formula {
    gives: "greatest outside radius",
    words: "the greatest radius of the outside curve over its whole height",
    inputs: &["height"],
};
static MAX_DIAMETER: Formula =
    Formula { gives: "largest diameter", words: "2 × greatest outside radius", inputs: &["greatest outside radius"] };
static CAPACITY: Formula = Formula {
    gives: "capacity, brim full",
    words: "π ∫ inside radius² dz from the floor to the upper end of the cavity",
    inputs: &["floor", "upper end of the cavity", "wall"],
};
static CLOSED_CAPACITY: Formula = Formula {
    gives: "capacity of the closed vessel",
    words: "π ∫ inside radius² dz from the floor to the upper end of the cavity: the body's inside up to its end, its \
            tenon's bore among it, and over it the lid's",
    inputs: &["floor", "upper end of the cavity", "wall"],
};
static OUTSIDE_AREA: Formula = Formula {
    gives: "outside surface",
    words: "2π ∫ radius ds along the outside curve, steps included",
    inputs: &["height"],
};
static INSIDE_AREA: Formula = Formula {
    gives: "inside surface",
    words: "2π ∫ radius ds along the inside curve, steps included",
    inputs: &["floor", "upper end of the cavity", "wall"],
};
static OUTSIDE_RADIUS: Formula =
    Formula { gives: "outside radius", words: "radius of the outside curve there", inputs: &["height"] };
static INSIDE_RADIUS: Formula =
    Formula { gives: "inside radius", words: "radius of the inside curve there", inputs: &["height", "wall"] };
static ROUND: Formula = Formula { gives: "area of a round face", words: "π × radius²", inputs: &["radius"] };
static RIM: Formula = Formula {
    gives: "area of the rim",
    words: "π × (outside radius² − inside radius²)",
    inputs: &["outside radius", "inside radius"],
};
static UPPER_FACES: Formula = Formula {
    gives: "area of the top, over and under",
    words: "π × outside radius² + π × inside radius²",
    inputs: &["outside radius", "inside radius"],
};
static FINISH_AREA: Formula = Formula {
    gives: "surface that finish goes on",
    words: "outside + inside + foot + floor + rim (of a closed vessel: top, over and under)",
    inputs: &["outside surface", "inside surface", "foot", "floor", "rim"],
};

/// The figures of the whole vessel.
pub(super) struct Totals {
    pub(super) max_diameter: Known<Length>,
    pub(super) capacity: Known<Volume>,
    pub(super) finish_area: Known<Area>,
}

/// Computes the totals.
pub(super) fn totals(shape: &Shape, parts: &Parts, ledger: &mut Ledger) -> Totals {
    let cavity = (shape.cavity_bottom, shape.cavity_top, shape.wall);
    let max_radius = ledger.work(&MAX_RADIUS, (shape.height,), |_| shape.outside.max_radius());
    let max_diameter = ledger.work(&MAX_DIAMETER, (max_radius,), |(radius,)| radius * 2.0);
    let capacity = match parts.cavity(shape) {
        Some(inside) => ledger.work(&CLOSED_CAPACITY, cavity, |_| inside.volume(inside.bottom(), inside.top())),
        None => ledger.work(&CAPACITY, cavity, |(from, to, _)| shape.inside.volume(from, to)),
    };
    Totals { max_diameter, capacity, finish_area: finish_area(shape, &parts.seen(shape), ledger) }
}

/// `seen` is the outside of the closed vessel as it is turned.
fn finish_area(shape: &Shape, seen: &Profile, ledger: &mut Ledger) -> Known<Area> {
    let cavity = (shape.cavity_bottom, shape.cavity_top, shape.wall);
    let bench = Known::new(seen.bottom(), Origin::Default(&"the vessel stands on the bench"));
    let outside = ledger.work(&OUTSIDE_AREA, (shape.height,), |(to,)| seen.lateral_area(seen.bottom(), to));
    let inside = ledger.work(&INSIDE_AREA, cavity, |(from, to, _)| shape.inside.lateral_area(from, to));
    let foot = ledger.work(&OUTSIDE_RADIUS, (bench,), |(z,)| seen.above(z));
    let floor = ledger.work(&INSIDE_RADIUS, (shape.cavity_bottom, shape.wall), |(z, _)| shape.inside.above(z));
    let rim = ledger.work(&OUTSIDE_RADIUS, (shape.height,), |(z,)| seen.below(z));
    let mouth = ledger.work(&INSIDE_RADIUS, (shape.cavity_top, shape.wall), |(z, _)| shape.inside.below(z));
    let foot = ledger.work(&ROUND, (foot,), |(radius,)| round(radius));
    let floor = ledger.work(&ROUND, (floor,), |(radius,)| round(radius));
    let upper = if shape.is_closed {
        ledger.work(&UPPER_FACES, (rim, mouth), |(rim, mouth)| round(rim) + round(mouth))
    } else {
        ledger.work(&RIM, (rim, mouth), |(rim, mouth)| annulus(rim, mouth))
    };
    ledger.work(&FINISH_AREA, (outside, inside, foot, floor, upper), |(a, b, c, d, e)| a + b + c + d + e)
}

fn round(radius: Length) -> Area {
    radius.by(radius) * PI
}
