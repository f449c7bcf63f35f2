//! Whether a lid's joint can be made and will hold: walls, lengths, glue lines, threads.

use crate::finding::{Finding, limits};
use crate::quantity::Length;
use crate::resolve::{JointKind, Layer, PartKind, Recipe};
use crate::workings::Origin;

use super::fitted::LidJoint;
use super::lid::Frame;
use super::lid_findings::{self, NearGlueLine, StackOff};
use super::lid_joint::{self, Face, Points, faces};
use super::parts::Parts;
use super::season_check::woods_of;
use super::shape::Shape;
use super::vessel::{BuiltLayer, Parting};

/// Differences that no caliper shows.
const HAIR: Length = Length::from_mm(1e-3);
/// Threads in mesh that hold a lid, and turns that are plenty.
const THREADS: (f64, f64) = (limits::FEWEST_THREADS.get().value(), limits::MOST_TURNS_OF_LID.get().value());
/// Specific gravity from which a wood takes a chased thread: of the usual woods box, rosewoods and the like, hard
/// maple and fruitwoods at the lower end.
const THREAD_GRAVITY: f64 = limits::THREAD_GRAVITY.get().value();

/// All checks of the joint alone.
pub(super) fn check(recipe: &Recipe, shape: &Shape, parts: &Parts, layers: &[BuiltLayer], found: &mut Vec<Finding>) {
    if let Some(joint) = &parts.joint {
        check_walls(recipe, shape, joint, found);
        check_thread(recipe, joint, layers, found);
    }
    check_glue_lines(recipe, parts, layers, found);
    check_made(recipe, layers, found);
}

/// Whether both parts are high enough for tenon and mortise.
pub(super) fn has_room(recipe: &Recipe, shape: &Shape, frame: &Frame, found: &mut Vec<Finding>) -> bool {
    let line = frame.shoulder.value;
    let (long, depth, floor) = (frame.joint.long.value, frame.depth.value, shape.cavity_bottom.value);
    let over = |from: Length| (shape.height.value - from).max(Length::ZERO);
    let mut is_roomy = true;
    let mut check = |part: PartKind, needs: Length, has: Length| {
        if needs > has + HAIR {
            is_roomy = false;
            found.push(lid_findings::too_long(recipe, &frame.joint, part, needs, has));
        }
    };
    if frame.joint.on.value == PartKind::Body {
        check(PartKind::Body, long + floor, frame.end.value);
        // What must stay over a mortise in the lid; under one in the body it is the floor.
        check(PartKind::Lid, depth + recipe.shop.least_wall.value, over(line));
    } else {
        check(PartKind::Body, depth + floor, line);
        let stack = recipe.parts.iter().find(|part| part.kind == PartKind::Lid);
        let lid = stack.map(|part| part.layers.iter().map(|layer| layer.thick.value).sum());
        check(PartKind::Lid, long, lid.unwrap_or(over(frame.end.value)));
    }
    is_roomy
}

/// Wood on both sides, and the shoulder.
fn check_walls(recipe: &Recipe, shape: &Shape, joint: &LidJoint, found: &mut Vec<Finding>) {
    let least = recipe.shop.least_wall.value.max(lid_joint::LEAST_WALL);
    let is_inset = joint.kind == JointKind::Inset;
    let mut sides = vec![(joint.mortise_wall.value, "the wall round the mortise")];
    if !is_inset {
        let what = if joint.thread.is_some() { "the tenon under its thread" } else { "the tenon's wall" };
        sides.push((joint.tenon_wall.value, what));
    }
    for (wall, what) in sides {
        if wall <= HAIR {
            let help = "make the vessel's wall thicker there, the tenon's `wall` another, or the joint shorter";
            found.push(lid_findings::no_wood(recipe, what, wall, least, help));
        } else if wall < least - HAIR {
            found.push(lid_findings::thin_wall(recipe, what, wall, least));
        }
    }
    let ledge = lid_joint::LEAST_LEDGE;
    let width = joint.shoulder_width.value;
    if is_inset && width <= HAIR {
        let help = "give the ledge a width with `wall`, or make the vessel's wall thicker there";
        found.push(lid_findings::no_wood(recipe, "the ledge under the lid", width, ledge, help));
    } else if width < ledge - HAIR && joint.mortise_wall.value > HAIR {
        found.push(lid_findings::narrow_shoulder(recipe, joint, ledge));
    }
    let rim = joint.shoulder.value;
    let over = shape.outside.above(rim) * 2.0;
    if is_inset && rim < shape.height.value - HAIR && over > joint.tenon.value + HAIR {
        found.push(lid_findings::inset_overhang(recipe, joint.tenon.value, over));
    }
}

fn check_thread(recipe: &Recipe, joint: &LidJoint, layers: &[BuiltLayer], found: &mut Vec<Finding>) {
    let Some(thread) = &joint.thread else { return };
    let turns = thread.turns.value.value();
    let in_mesh = thread.engagement.value / thread.pitch.value;
    if in_mesh < THREADS.0 || turns > THREADS.1 {
        found.push(lid_findings::engagement(recipe, thread, turns, THREADS));
    }
    let (low, high) = (joint.shoulder.value.min(joint.end.value), joint.shoulder.value.max(joint.end.value));
    for part in [PartKind::Body, PartKind::Lid] {
        let at_joint = |built: &BuiltLayer| {
            let lies = |from: Length, to: Length| from < high - HAIR && to > low + HAIR;
            built.slices.iter().any(|s| s.part == part && lies(s.from - s.raise, s.to - s.raise))
        };
        let woods = recipe.layers().zip(layers).filter(|(_, built)| at_joint(built));
        let rows = woods.flat_map(|((_, _, layer), _)| woods_of(layer)).filter_map(|wood| {
            let used = recipe.woods.get(wood)?;
            Some((used.name.as_str(), used.wood()?.specific_gravity_12pct))
        });
        if let Some((wood, gravity)) = rows.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|row| row.1 < THREAD_GRAVITY) {
            found.push(lid_findings::thread_wood(recipe, part, wood, gravity, THREAD_GRAVITY));
        }
    }
}

/// A glue line within a part, in heights of the closed vessel; index of the layer over it.
struct GlueLine {
    part: PartKind,
    at: Length,
    over: usize,
}

fn glue_lines(layers: &[BuiltLayer]) -> Vec<GlueLine> {
    let mut lines = Vec::new();
    for (over, pair) in layers.windows(2).enumerate() {
        for lower in &pair[0].slices {
            let meets =
                pair[1].slices.iter().any(|upper| upper.part == lower.part && (upper.from - lower.to).abs() < HAIR);
            if meets {
                lines.push(GlueLine { part: lower.part, at: lower.to - lower.raise, over: over + 1 });
            }
        }
    }
    lines
}

fn check_glue_lines(recipe: &Recipe, parts: &Parts, layers: &[BuiltLayer], found: &mut Vec<Finding>) {
    let least = lid_joint::GLUE_LINE_MARGIN;
    let lines = glue_lines(layers);
    let mut cuts: Vec<(Face, PartKind, Length)> = Vec::new();
    match (&parts.joint, &parts.parting) {
        (Some(joint), parting) => {
            let (points, other) = match joint.on {
                PartKind::Body => (Points::Up, PartKind::Lid),
                PartKind::Lid => (Points::Down, PartKind::Body),
            };
            for (face, at) in faces(joint.shoulder.value, points, joint.long.value, joint.mortise_depth.value) {
                match face {
                    Face::Shoulder => {
                        cuts.push((face, joint.on, at));
                        // The other part's end is its stack's, unless it was sawn there.
                        cuts.extend(parting.is_some().then_some((face, other, at)));
                    }
                    Face::MortiseEnd => cuts.push((face, other, at)),
                    // Where there are two stacks, the tenon ends where its stack does.
                    Face::TenonEnd if parting.is_some() => cuts.push((face, joint.on, at)),
                    Face::TenonEnd => {}
                }
            }
        }
        (None, Some(sawn)) => {
            cuts.extend([PartKind::Body, PartKind::Lid].map(|part| (Face::Shoulder, part, sawn.line.value)));
        }
        (None, None) => {}
    }
    let said: Vec<&Layer> = recipe.layers().map(|(_, _, layer)| layer).collect();
    for (face, part, at) in cuts {
        let of_part = lines.iter().filter(|line| line.part == part);
        let nearest = of_part.min_by(|a, b| (a.at - at).abs().mm().total_cmp(&(b.at - at).abs().mm()));
        let Some(line) = nearest.filter(|line| (line.at - at).abs() < least - HAIR) else { continue };
        let Some(layer) = said.get(line.over) else { continue };
        let case = NearGlueLine {
            face,
            off: (line.at - at).abs(),
            least,
            between: (&layers[line.over - 1].id, &layers[line.over].id),
            layer,
        };
        found.push(lid_findings::near_glue_line(recipe, recipe.fittings.joint.as_ref(), &case));
    }
}

/// Where one stack is sawn apart, with the layers that meet at the line.
pub(super) fn parting(
    recipe: &Recipe,
    parts: &Parts,
    layers: &[BuiltLayer],
    found: &mut Vec<Finding>,
) -> Option<Parting> {
    let sawn = parts.parting?;
    let line = sawn.line.value;
    let seen = |part: PartKind| {
        layers.iter().position(|built| {
            built.slices.iter().any(|slice| {
                let (from, to) = (slice.from - slice.raise, slice.to - slice.raise);
                slice.part == part
                    && if part == PartKind::Body {
                        from < line - HAIR && to > line - HAIR
                    } else {
                        from < line + HAIR && to > line + HAIR
                    }
            })
        })
    };
    let (under, over) = (seen(PartKind::Body)?, seen(PartKind::Lid)?);
    if let Some(parted) = recipe.fittings.parted {
        let names = (layers[under].id.as_str(), layers[over].id.as_str());
        found.push(lid_findings::pattern_break(recipe, parted.span, sawn.lost.value, names));
    }
    let Parts { stack_height, .. } = parts;
    Some(Parting {
        line: sawn.line,
        cut: sawn.cut,
        kerf: sawn.kerf,
        lost: sawn.lost,
        stack: *stack_height,
        under,
        over,
    })
}

/// Whether glued layers that were measured still hold the shape.
fn check_made(recipe: &Recipe, layers: &[BuiltLayer], found: &mut Vec<Finding>) {
    for made in &recipe.fittings.made {
        let built = layers.iter().find(|built| built.part == made.part && built.index == made.index);
        let Some(built) = built else { continue };
        let needs = built.outer_radius.value * 2.0;
        if made.diameter.value < needs - HAIR {
            found.push(lid_findings::made_too_small(recipe, made, needs, &built.id));
        }
    }
}

/// What to say of a stack that measured layers have put off; `None` when none is measured.
pub(super) fn stack_off(recipe: &Recipe, layers: &[BuiltLayer], stack: Length, height: Length) -> Option<Finding> {
    let all: Vec<(&Layer, &BuiltLayer)> = recipe.layers().map(|(_, _, layer)| layer).zip(layers).collect();
    let is_made = |layer: &Layer| matches!(layer.thick.origin, Origin::Made(_));
    let last = all.iter().rposition(|(layer, _)| is_made(layer))?;
    let measured = all.get(last)?.0.thick.origin.span()?;
    let after = all.iter().skip(last + 1).find(|(layer, _)| !is_made(layer));
    let next = after.or_else(|| all.iter().find(|(layer, _)| !is_made(layer)));
    let next = next.map(|(layer, built)| (*layer, built.id.as_str()));
    Some(lid_findings::stack_off(recipe, &StackOff { stack, height, measured, next }))
}
