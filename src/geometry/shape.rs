//! The outline of a recipe to its two curves and the heights between which there is a cavity.

use crate::finding::Finding;
use crate::quantity::Length;
use crate::resolve::{Outside, Recipe};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::inside::thinnest;
use super::offset::inside_tapered;
use super::outline::outline;
use super::profile::Profile;
use super::taper::STEEPEST;
use super::{findings, outline_findings};

/// Ten kilometers. Curve arithmetic stays exact far beyond any lathe, but not beyond all bounds.
const LARGEST: Length = Length::from_mm(1e7);

/// Thinner by less than this is not thinner; closed over less height than this is not closed.
const HAIR: Length = Length::from_mm(1e-3);

static UNDER_TOP: Formula =
    Formula { gives: "upper end of the cavity", words: "height − thickness of the top", inputs: &["height", "top"] };

static THINNER_END: Formula = Formula {
    gives: "wall",
    words: "from the base to the rim it goes evenly with height; the thinner end is shown",
    inputs: &["wall at the base", "wall at the rim"],
};
static WALL_LEFT: Formula = Formula {
    gives: "wall",
    words: "the least distance between the inside curve and the outside curve",
    inputs: &["floor", "upper end of the cavity", "height"],
};

/// Both curves and the cavity's range.
#[derive(Debug)]
pub(super) struct Shape {
    pub(super) outside: Profile,
    /// Between the cavity's ends; empty when there is no height between them.
    pub(super) inside: Profile,
    /// The wall that figures are made of: its one thickness, or where it is thinner.
    pub(super) wall: Known<Length>,
    pub(super) height: Known<Length>,
    pub(super) cavity_bottom: Known<Length>,
    pub(super) cavity_top: Known<Length>,
    /// Whether the cavity ends under a top.
    pub(super) is_closed: bool,
}

/// A stretch of the cavity that the wall takes all of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Closed {
    pub(super) from: Length,
    pub(super) to: Length,
}

/// The shape of a recipe; `None` when one of its curves is no curve at all.
pub(super) fn shape(recipe: &Recipe, ledger: &mut Ledger, found: &mut Vec<Finding>) -> Option<Shape> {
    let outside = curve(&recipe.outside, recipe, true, found)?;
    let height = match (recipe.outside.points.last(), &recipe.outside.path) {
        (Some(last), _) => last.height.map(|_| outside.top()),
        (None, path) => {
            let span = path.as_ref().map_or(recipe.outside.span, |path| path.text.span);
            Known::new(outside.top(), Origin::Written(span))
        }
    };
    let cavity_bottom = recipe.floor;
    let cavity_top = match recipe.top {
        Some(top) => ledger.work(&UNDER_TOP, (height, top), |(height, top)| height - top),
        None => height,
    };
    let mut shape = Shape {
        outside,
        inside: Profile::default(),
        wall: recipe.wall,
        height,
        cavity_bottom,
        cavity_top,
        is_closed: recipe.top.is_some(),
    };
    if let Some(inside) = &recipe.inside {
        shape.inside = curve(inside, recipe, false, found)?;
        shape.wall = wall_left(recipe, inside, &shape, ledger, found)?;
    } else {
        offset_inside(recipe, &mut shape, ledger, found);
    }
    check_thickness(recipe, found);
    Some(shape)
}

/// One curve; `None` when it is none, which is then among the findings.
fn curve(written: &Outside, recipe: &Recipe, stands_on_bench: bool, found: &mut Vec<Finding>) -> Option<Profile> {
    let is_too_large = |length: Length| length.abs() > LARGEST;
    let far = written
        .points
        .iter()
        .find(|point| is_too_large(point.height.value) || is_too_large(point.diameter.value.across()));
    if let Some(point) = far {
        found.push(findings::shape_too_large(point, recipe.units));
        return None;
    }
    let profile = outline(written, recipe.units, stands_on_bench, found)?;
    if profile.is_empty() || profile.max_radius() <= Length::ZERO {
        found.push(findings::no_shape(written.span));
        return None;
    }
    Some(profile)
}

/// The inside that the wall leaves, and its checks.
fn offset_inside(recipe: &Recipe, shape: &mut Shape, ledger: &mut Ledger, found: &mut Vec<Finding>) {
    let base = recipe.wall;
    let rim = recipe.wall_rim.unwrap_or(base);
    if recipe.wall_rim.is_some() {
        shape.wall = ledger.work(&THINNER_END, (base, rim), |(base, rim)| base.min(rim));
        if (rim.value - base.value).abs() >= shape.height.value * STEEPEST {
            found.push(outline_findings::taper_too_steep(recipe, rim, shape.height.value));
        }
    }
    let (from, to) = (shape.cavity_bottom.value, shape.cavity_top.value);
    shape.inside = inside_tapered(&shape.outside, base.value, rim.value, from, to);
    let widest = shape.outside.max_radius();
    if shape.wall.value >= widest {
        found.push(findings::wall_beyond_radius(recipe, widest));
    } else if shape.inside.is_empty() {
        found.push(findings::no_cavity_height(recipe, shape.height.value));
    } else {
        for closed in closed(&shape.inside) {
            let narrowest = shape.outside.extremes(closed.from, closed.to).least;
            found.push(findings::wall_closes_cavity(recipe, shape, closed, narrowest));
        }
    }
}

/// The wall that an inside of its own leaves; `None` when it leaves none or is not where it belongs.
fn wall_left(
    recipe: &Recipe,
    inside: &Outside,
    shape: &Shape,
    ledger: &mut Ledger,
    found: &mut Vec<Finding>,
) -> Option<Known<Length>> {
    let before = found.len();
    let (begins, ends) = (shape.inside.bottom(), shape.inside.top());
    if (begins - shape.cavity_bottom.value).abs() > HAIR {
        found.push(outline_findings::inside_off_floor(recipe, inside, begins));
    }
    if (ends - shape.cavity_top.value).abs() > HAIR {
        let height = shape.height.value;
        found.push(outline_findings::inside_off_rim(recipe, inside, ends, shape.cavity_top.value, height));
    }
    if found.len() > before {
        return None;
    }
    let thinnest = thinnest(&shape.outside, &shape.inside)?;
    if thinnest.wall <= HAIR {
        let z = thinnest.at.height;
        let outside = shape.outside.below(z).min(shape.outside.above(z));
        found.push(outline_findings::inside_crosses(recipe, inside, thinnest, outside));
        return None;
    }
    if thinnest.wall < recipe.shop.least_wall.value - HAIR {
        found.push(outline_findings::inside_leaves_thin_wall(recipe, inside, thinnest));
    }
    let inputs = (shape.cavity_bottom, shape.cavity_top, shape.height);
    Some(ledger.work(&WALL_LEFT, inputs, |_| thinnest.wall))
}

/// Where an inside has radius 0.
fn closed(inside: &Profile) -> Vec<Closed> {
    let mut runs: Vec<Closed> = Vec::new();
    for piece in inside.pieces().iter().filter(|piece| piece.controls().iter().all(|point| point.x <= 0.0)) {
        let (from, to) = (Length::from_mm(piece.start().y), Length::from_mm(piece.end().y));
        match runs.last_mut() {
            Some(run) if from - run.to < HAIR => run.to = to,
            Some(_) | None => runs.push(Closed { from, to }),
        }
    }
    runs.retain(|run| run.to - run.from > HAIR);
    runs
}

fn check_thickness(recipe: &Recipe, found: &mut Vec<Finding>) {
    let least = recipe.shop.least_wall;
    let mut check = |what: &'static str, thickness: Known<Length>| {
        if thickness.value < least.value - HAIR {
            found.push(findings::wall_thin(recipe, what, thickness));
        }
    };
    if recipe.inside.is_none() {
        let thinner = recipe.wall_rim.filter(|rim| rim.value < recipe.wall.value);
        check("wall", thinner.unwrap_or(recipe.wall));
    }
    // A floor that nobody wrote is as thick as the wall, a top as the floor: said once is enough.
    let mut said = vec![recipe.wall.origin];
    for (what, thickness) in [("floor", Some(recipe.floor)), ("top", recipe.top)] {
        let Some(thickness) = thickness else { continue };
        if thickness.origin.span().is_some() && !said.contains(&thickness.origin) {
            check(what, thickness);
            said.push(thickness.origin);
        }
    }
}
