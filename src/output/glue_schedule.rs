//! The bench's page: every glue-up in order of time, then what helps.

use std::fmt::Write as _;

use crate::geometry::LayerShape;
use crate::plan::{GlueStep, GlueWork, HalfRingCost, Preparation};
use crate::quantity::show_angle;

use super::sheet::{Sheet, clock, counted, stretch};
use super::table::Table;
use super::{inserts, safety};

/// The page as Markdown that reads well unrendered.
pub(super) fn page(sheet: &Sheet<'_>) -> String {
    let schedule = &sheet.plan.glue;
    let mut page = format!("# {}: glue schedule\n\n", sheet.title());
    for used in &sheet.recipe.glues {
        let glue = used.glue;
        let _ = writeln!(
            page,
            "**`{}`** ({}): open **{} min**, in clamps **{} min**, full strength after {} h, not under {}.",
            glue.key,
            glue.name,
            glue.open_assembly_min,
            glue.clamp_min,
            glue.full_cure_h,
            sheet.temperature(glue.min_use_temp_c),
        );
        let _ = writeln!(page, "{}\n", glue.notes);
    }
    let _ = writeln!(
        page,
        "**{}**, **{}** in clamps at once, **{} h** from first to last. Any order takes {} h or more.\n\
         Times are clamp times, counted from the first glue-up; the work of your hands and flattening come on top.\n",
        counted(schedule.steps.len(), "glue-up", "glue-ups"),
        schedule.clamps.value.0,
        clock(schedule.makespan),
        clock(schedule.bound),
    );
    if !schedule.steps.is_empty() {
        page.push_str(&steps(sheet).markdown());
        page.push('\n');
    }
    advice(&mut page, sheet);
    inserts::after_turning(&mut page, sheet);
    page.push_str("## With glue on the hands\n\n");
    for line in safety::GLUE {
        let _ = writeln!(page, "- {line}");
    }
    let _ = write!(page, "\n{}\n", safety::DEFER);
    page
}

fn steps(sheet: &Sheet<'_>) -> Table {
    let schedule = &sheet.plan.glue;
    // Steps are numbered in the order in which they are done.
    let mut numbers = vec![0_usize; schedule.steps.len()];
    for (number, step) in schedule.order.iter().enumerate() {
        numbers[*step] = number + 1;
    }
    let mut table =
        Table::new(&[">no.", ">start", "what", ">joints", ">to spread", ">open", ">clamp", ">ready", "needs"]);
    for step in schedule.order.iter().filter_map(|at| schedule.steps.get(*at).map(|step| (*at, step))) {
        let (at, step) = step;
        let late = if step.fits() { "" } else { " !" };
        table.row([
            format!("**{}**", numbers[at]),
            clock(step.start),
            what(sheet, step),
            match step.work {
                GlueWork::Stack { .. } => "face".to_owned(),
                GlueWork::Run { .. } | GlueWork::Half { .. } | GlueWork::Close | GlueWork::WholeRing { .. } => {
                    step.joints.value.0.to_string()
                }
            },
            format!("{}{late}", stretch(step.spread.value)),
            stretch(step.open.value),
            stretch(step.clamp.value),
            format!("**{}**", clock(step.ready())),
            step.after.iter().map(|before| numbers[*before].to_string()).collect::<Vec<_>>().join(", "),
        ]);
    }
    table
}

fn what(sheet: &Sheet<'_>, step: &GlueStep) -> String {
    let layer = sheet.layer(step.layer);
    match step.work {
        GlueWork::Run { first, segments, parts } => {
            format!("**{layer}** {}: {}", run(segments, parts), pieces(sheet, step.layer, first, segments))
        }
        GlueWork::Half { first, segments, .. } => {
            let which = if first == 0 { 1 } else { 2 };
            format!("**{layer}** half {which}: {}", pieces(sheet, step.layer, first, segments))
        }
        GlueWork::Close => match step.prepare {
            Preparation::FlattenHalfEnds => format!("**{layer}** flatten the ends of both halves, close the ring"),
            Preparation::DryFit | Preparation::FlattenFaces => {
                format!("**{layer}** dry-fit both parts, close the ring")
            }
        },
        GlueWork::WholeRing { segments } => {
            format!("**{layer}** whole ring: {}", pieces(sheet, step.layer, 0, segments))
        }
        GlueWork::Stack { onto } => {
            format!("**{layer}** onto **{}**: flatten both faces{}", sheet.layer(onto), turned(sheet, step.layer))
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

/// `segments 1-6: maple ×2, walnut, …`, as they follow round the ring.
fn pieces(sheet: &Sheet<'_>, layer: usize, first: u32, segments: u32) -> String {
    const SHOWN: usize = 6;
    let span = format!("segments {}–{}", first + 1, first + segments);
    let Some(LayerShape::Ring(ring)) = sheet.layers().get(layer).map(|layer| &layer.shape) else { return span };
    let woods = ring.woods.iter().skip(first as usize).take(segments as usize).collect::<Vec<_>>();
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

/// How a ring is turned when it goes on the stack.
fn turned(sheet: &Sheet<'_>, at: usize) -> String {
    let Some(layer) = sheet.layers().get(at) else { return String::new() };
    match &layer.shape {
        LayerShape::Ring(_) => format!(", its first joint at {}", show_angle(layer.rotation)),
        LayerShape::Disc { .. } | LayerShape::Slant(_) => String::new(),
    }
}

fn advice(page: &mut String, sheet: &Sheet<'_>) {
    page.push_str("## What helps\n\n");
    page.push_str(
        "- Half rings: glue the halves, leave the two joints between them dry (waxed paper keeps them so), then flatten \
         both ends of a half together on one plate. A small error of the saw goes away there.\n",
    );
    if let Some((layer, cost)) = dearest(sheet) {
        let _ = writeln!(
            page,
            "- What that costs: with every cut a tenth of a degree off, the halves of **{}** lose {} at each end, and the \
             largest circle that can be turned loses **{}** of its diameter. Set the saw, do not sand it right.",
            sheet.layer(layer),
            sheet.pair(cost.sanded.value),
            sheet.pair(cost.diameter_lost.value),
        );
    }
    let odd: Vec<&str> = sheet
        .plan
        .glue
        .rings
        .iter()
        .filter(|ring| ring.half_ring_cost.is_none())
        .map(|ring| sheet.layer(ring.layer))
        .collect();
    if !odd.is_empty() {
        let _ = writeln!(
            page,
            "- No flat halves in {}: its parts do not end in one plane. Test the miter on a whole dry ring.",
            super::sheet::listed(odd.into_iter().map(str::to_owned)),
        );
    }
    if sheet.plan.glue.steps.iter().any(|step| !step.fits()) {
        page.push_str(
            "- Marked **!**: spreading takes longer than the glue stays open, at 25 s a joint. Take a slower glue, or a second pair of hands.\n",
        );
    }
    page.push_str(
        "- The miters are part end grain and drink glue: a thin first coat, a minute's wait, then glue.\n\
         - Segments and angles are counted against the clock, seen from above. Carry one witness mark up through all layers.\n\
         - One layer at a time: center it, let it dry, true its face, then the next.\n\n",
    );
}

/// The ring in which flattening costs most.
fn dearest(sheet: &Sheet<'_>) -> Option<(usize, HalfRingCost)> {
    let costs = sheet.plan.glue.rings.iter().filter_map(|ring| Some((ring.layer, ring.half_ring_cost?)));
    costs.max_by(|a, b| a.1.diameter_lost.value.mm().total_cmp(&b.1.diameter_lost.value.mm()))
}
