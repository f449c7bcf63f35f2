//! Each glue-up in words for the bench: what goes on what, which segments, of which woods.

use crate::geometry::{LayerShape, RingSet, RingShape};
use crate::plan::cutting::LaneKind;
use crate::plan::{GlueSchedule, GlueStep, GlueWork, Preparation};
use crate::quantity::{Angle, Duration, show_angle};

use super::hours::{Days, long};
use super::sheet::Sheet;

/// Whether an order of work could end sooner.
pub(super) fn how_good(schedule: &GlueSchedule) -> String {
    if schedule.is_optimal {
        return "No order of work can end sooner.".to_owned();
    }
    let least = schedule.begin + schedule.bound;
    let last = Days(&schedule.calendar).moment(least);
    // Of the two times as they are told, so that they add up.
    let gap = schedule.end.minutes().round() - least.minutes().round();
    let gap = if gap < 1.0 { "less than a minute".to_owned() } else { long(Duration::from_minutes(gap)) };
    format!("No order of work can end before {last}: {gap} may be there to save.")
}

/// What is glued to what, and what comes before.
pub(super) fn what(sheet: &Sheet<'_>, step: &GlueStep) -> String {
    let layer = sheet.layer(step.layer);
    match step.work {
        GlueWork::Run { first, segments, parts } => {
            format!("**{layer}** {}: {}", run(segments, parts), pieces(sheet, step.layer, first, segments))
        }
        GlueWork::Half { half, first, segments, .. } => {
            let is_part = is_uneven(sheet, step.layer) && !has_flat_halves(sheet, step.layer);
            let what = if is_part { "part" } else { "half" };
            format!("**{layer}** {what} {half}: {}", pieces(sheet, step.layer, first, segments))
        }
        GlueWork::Close => match step.prepare {
            Preparation::FlattenHalfEnds => {
                format!("**{layer}** flatten the ends of both halves, close the ring{}", line(sheet, step.layer))
            }
            _ if is_uneven(sheet, step.layer) => {
                format!("**{layer}** dry-fit both parts, close the ring with a band round it")
            }
            Preparation::DryFit
            | Preparation::FlattenFaces
            | Preparation::FlattenBelow
            | Preparation::FlattenAbove
            | Preparation::PlanePlies
            | Preparation::PlaneEdges
            | Preparation::BoreHole => format!("**{layer}** dry-fit both parts, close the ring"),
        },
        GlueWork::Board { wood, plies } => {
            format!("board **{}**: {plies} plies face on face, before anything is ripped from it", sheet.wood(wood))
        }
        GlueWork::Panel { is, parts } => panel(sheet, is, parts, layer),
        GlueWork::Spacers { first, segments, bare } => format!(
            "**{layer}** a spacer on the clockwise end of segments {}, one by one{}",
            span(sheet, step.layer, first, segments),
            bare.map_or(String::new(), |bare| bare_segment(sheet, step.layer, bare))
        ),
        GlueWork::Plug => format!("**{layer}** bore the middle, turn the plug to fit, glue it in"),
        GlueWork::SetOpen { segments, onto } => set_open(sheet, step.layer, segments, onto),
        GlueWork::WholeRing { segments } => {
            format!("**{layer}** whole ring: {}", pieces(sheet, step.layer, 0, segments))
        }
        GlueWork::Stack { onto } => {
            let faces = match step.prepare {
                Preparation::FlattenBelow => "flatten the face below, the sheet as it is",
                Preparation::FlattenAbove => "flatten the upper one's face, the sheet as it is",
                Preparation::DryFit => "both sheets as they are",
                Preparation::FlattenFaces
                | Preparation::FlattenHalfEnds
                | Preparation::PlanePlies
                | Preparation::PlaneEdges
                | Preparation::BoreHole => "flatten both faces",
            };
            format!("**{layer}** onto **{}**: {faces}{}", sheet.layer(onto), turned(sheet, step.layer))
        }
    }
}

fn panel(sheet: &Sheet<'_>, is: LaneKind, parts: u32, layer: &str) -> String {
    let edges = format!("{parts} boards edge to edge");
    match is {
        LaneKind::Ply { board, ply } => {
            let wood = sheet.plan.cut_list.boards.get(board).map_or("", |row| sheet.wood(row.wood));
            format!("ply {} of board **{wood}**: {edges}", ply + 1)
        }
        LaneKind::Cone(_) => format!("board for the cone from **{layer}** up: {edges}"),
        LaneKind::Round(_) | LaneKind::Strip(_) | LaneKind::Staves(_) | LaneKind::Insert(_) => {
            format!("blank of **{layer}**: {edges}, before the round is sawn")
        }
    }
}

fn run(segments: u32, parts: u32) -> String {
    match (segments, parts) {
        (2, _) => "pair".to_owned(),
        (3, 3) => "triplet".to_owned(),
        _ => format!("run of {segments}"),
    }
}

pub(super) fn ring_of<'a>(sheet: &Sheet<'a>, layer: usize) -> Option<&'a RingShape> {
    match &sheet.layers().get(layer)?.shape {
        LayerShape::Ring(ring) => Some(ring),
        LayerShape::Disc { .. } | LayerShape::Slant(_) => None,
    }
}

pub(super) fn is_uneven(sheet: &Sheet<'_>, layer: usize) -> bool {
    ring_of(sheet, layer).is_some_and(|ring| !ring.cut_of.is_empty())
}

fn has_flat_halves(sheet: &Sheet<'_>, layer: usize) -> bool {
    sheet.plan.glue.rings.iter().any(|ring| ring.layer == layer && ring.has_flat_halves)
}

/// Where unlike segments are divided: nobody sees it at a glance.
fn line(sheet: &Sheet<'_>, layer: usize) -> String {
    if !is_uneven(sheet, layer) {
        return String::new();
    }
    let steps = sheet.plan.glue.steps.iter().filter(|step| step.layer == layer);
    let first = steps.filter_map(|step| {
        let GlueWork::Half { first, .. } = step.work else { return None };
        Some((first + 1).to_string())
    });
    let before: Vec<String> = first.collect();
    format!(" at the joints before segments {}", before.join(" and "))
}

/// The spacer that goes on the other side of its joint.
fn bare_segment(sheet: &Sheet<'_>, layer: usize, bare: u32) -> String {
    let all = ring_of(sheet, layer).map_or(1, |ring| ring.woods.len().max(1));
    let before = (bare as usize + all - 1) % all + 1;
    format!(
        "; the one of segment {} goes on the far end of segment {before} instead, so that each half ends flat",
        bare + 1
    )
}

/// `1–6`; a run that goes on past the last segment reads `10–3`.
fn span(sheet: &Sheet<'_>, layer: usize, first: u32, segments: u32) -> String {
    let all = ring_of(sheet, layer).map_or(0, |ring| ring.woods.len());
    let last = (first as usize + segments as usize).saturating_sub(1) % all.max(1) + 1;
    format!("{}–{last}", first + 1)
}

/// `segments 1-6: maple ×2, walnut, …`, as they follow round the ring.
fn pieces(sheet: &Sheet<'_>, layer: usize, first: u32, segments: u32) -> String {
    // A dealt or drawn ring can be laid from nowhere else.
    const SHOWN: usize = 60;
    let Some(ring) = ring_of(sheet, layer) else { return String::new() };
    let name = if matches!(ring.set, RingSet::Upright(_)) { "staves" } else { "segments" };
    let span = format!("{name} {}", span(sheet, layer, first, segments));
    let woods = ring.woods.iter().cycle().skip(first as usize).take(segments as usize).collect::<Vec<_>>();
    let runs: Vec<String> = woods
        .chunk_by(|a, b| a == b)
        .map(|run| match run {
            [one] => sheet.wood(**one).to_owned(),
            _ => format!("{} ×{}", sheet.wood(*run[0]), run.len()),
        })
        .collect();
    let more = if runs.len() > SHOWN { ", …" } else { "" };
    format!("{span}, {}{more}", runs[..runs.len().min(SHOWN)].join(", "))
}

fn set_open(sheet: &Sheet<'_>, layer: usize, segments: u32, onto: Option<usize>) -> String {
    let on = onto.map_or("on a waxed plate".to_owned(), |onto| format!("onto **{}**", sheet.layer(onto)));
    let name = sheet.layer(layer);
    let Some((gap, ring)) = ring_of(sheet, layer).and_then(|ring| Some((ring.gap?.value, ring))) else {
        return format!("**{name}** {on}");
    };
    let pitch = gap + ring.cuts.first().map_or(Angle::ZERO, |cut| cut.sweep);
    format!(
        "**{name}** {on}: flatten the face below, set {segments} segments one by one, one every {}{}",
        show_angle(pitch),
        turned(sheet, layer)
    )
}

/// How a ring is turned when it goes on the stack.
fn turned(sheet: &Sheet<'_>, at: usize) -> String {
    let Some(layer) = sheet.layers().get(at) else { return String::new() };
    match &layer.shape {
        LayerShape::Ring(ring) if ring.gap.is_some() => {
            format!(", the middle of its first gap at {}", show_angle(layer.rotation))
        }
        LayerShape::Ring(_) => format!(", its first joint at {}", show_angle(layer.rotation)),
        LayerShape::Disc { .. } | LayerShape::Slant(_) => String::new(),
    }
}
