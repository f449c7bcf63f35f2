//! Wood that is damper or drier than where the vessel will live.

use crate::checks::climate::Climate;
use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog, limits};
use crate::quantity::MoistureContent;

pub(super) const DAMP: Check = Check { code: &catalog::STOCK_TOO_DAMP, run: damp };
pub(super) const DRY: Check = Check { code: &catalog::STOCK_TOO_DRY, run: dry };

/// How far the wood is from what it comes to.
struct Off {
    /// As the shop says it.
    made: MoistureContent,
    /// Over the year.
    lives: MoistureContent,
    /// Damper, in points; below zero it is drier.
    by: MoistureContent,
}

fn damp(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(off) = off(design).filter(|off| off.by > limits::STOCK_MOISTURE_OFF.get()) else { return };
    let help = format!(
        "let the boards stand in a room like that, stickered, until the meter reads {} or less; weigh one each week: it is ready when it loses no more",
        percent(off.lives + limits::STOCK_MOISTURE_OFF.get())
    );
    found.extend(told(design, &DAMP, &off, "each joint is pulled as it shrinks", help));
}

fn dry(design: Design<'_>, found: &mut Vec<Finding>) {
    let Some(off) = off(design).filter(|off| off.by * -1.0 > limits::STOCK_MOISTURE_OFF.get()) else { return };
    let help = format!(
        "let the boards stand in a room like that, stickered, until the meter reads {} or more",
        percent(off.lives - limits::STOCK_MOISTURE_OFF.get())
    );
    found.extend(told(design, &DRY, &off, "rounds and lids swell against what holds them", help));
}

/// Nothing where the shop does not say how dry its wood is.
fn off(design: Design<'_>) -> Option<Off> {
    let made = design.recipe.shop.moisture?.value;
    let climate = Climate::of(design.recipe)?;
    let lives = match climate.said {
        Some(_) => (climate.dry + climate.damp) * 0.5,
        None => limits::HOUSE_MOISTURE.get(),
    };
    Some(Off { made, lives, by: made - lives })
}

fn told(design: Design<'_>, check: &Check, off: &Off, then: &str, help: String) -> Option<Finding> {
    let place = design.recipe.shop.moisture?.origin.span()?;
    let lives = design.recipe.fittings.lives.map(|lives| lives.span);
    let room = if lives.is_some() { "where the vessel lives" } else { "in a heated house" };
    let message =
        format!("the wood is glued at {}, and comes to {} {room}: {then}", percent(off.made), percent(off.lives));
    Some(Finding::new(check.code, place, message).also_maybe(lives, "where it lives is said here").help(help))
}

fn percent(moisture: MoistureContent) -> String {
    let text = format!("{:.1}", moisture.percent());
    format!("{} %", text.trim_end_matches('0').trim_end_matches('.'))
}
