//! The outline of a recipe to its two curves and the heights between which there is a cavity.

use crate::finding::Finding;
use crate::quantity::Length;
use crate::resolve::{OutsideKind, Recipe};
use crate::workings::{Formula, Known, Ledger};

use super::findings;
use super::offset::inside_of;
use super::profile::{Profile, ProfilePoint};

/// Ten kilometers. Curve arithmetic stays exact far beyond any lathe, but not beyond all bounds.
const LARGEST: Length = Length::from_mm(1e7);

/// Thinner by less than this is not thinner; closed over less height than this is not closed.
const HAIR: Length = Length::from_mm(1e-3);

static UNDER_TOP: Formula =
    Formula { gives: "upper end of the cavity", words: "height − thickness of the top", inputs: &["height", "top"] };

/// Both curves and the cavity's range.
#[derive(Debug)]
pub(super) struct Shape {
    pub(super) outside: Profile,
    /// Between the cavity's ends; empty when there is no height between them.
    pub(super) inside: Profile,
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

/// The shape of a recipe; `None` when its outside is no shape at all.
pub(super) fn shape(recipe: &Recipe, ledger: &mut Ledger, found: &mut Vec<Finding>) -> Option<Shape> {
    let last = recipe.outside.points.last()?;
    if let Some(point) = recipe
        .outside
        .points
        .iter()
        .find(|point| point.height.value.abs() > LARGEST || point.diameter.value.across().abs() > LARGEST)
    {
        found.push(findings::shape_too_large(point, recipe.units));
        return None;
    }
    let outside = outside(recipe);
    if outside.is_empty() || outside.max_radius() <= Length::ZERO {
        found.push(findings::no_shape(recipe.outside.span));
        return None;
    }
    let height = last.height.map(|_| outside.top());
    let cavity_bottom = recipe.floor;
    let cavity_top = match recipe.top {
        Some(top) => ledger.work(&UNDER_TOP, (height, top), |(height, top)| height - top),
        None => height,
    };
    let inside = inside_of(&outside, recipe.wall.value, cavity_bottom.value, cavity_top.value);
    let shape = Shape { outside, inside, height, cavity_bottom, cavity_top, is_closed: recipe.top.is_some() };
    check_cavity(recipe, &shape, found);
    check_thickness(recipe, found);
    Some(shape)
}

fn outside(recipe: &Recipe) -> Profile {
    let mut reached = Length::from_mm(f64::NEG_INFINITY);
    let points: Vec<ProfilePoint> = recipe
        .outside
        .points
        .iter()
        .map(|point| {
            // Heights that fall were reported where they are read; here they only must do no harm.
            reached = reached.max(point.height.value);
            ProfilePoint { height: reached, radius: point.diameter.value.radius().max(Length::ZERO) }
        })
        .collect();
    match recipe.outside.kind {
        OutsideKind::Straight => Profile::straight(&points),
        OutsideKind::Smooth => Profile::smooth(&points),
    }
}

fn check_cavity(recipe: &Recipe, shape: &Shape, found: &mut Vec<Finding>) {
    let widest = shape.outside.max_radius();
    if recipe.wall.value >= widest {
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
    check("wall", recipe.wall);
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
