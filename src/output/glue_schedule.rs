//! The bench's page: every glue-up in order of time, then what helps.

use std::fmt::Write as _;

use crate::geometry::{LayerShape, RingSet, RingShape};
use crate::plan::{GlueStep, GlueWork, HalfRingCost, Preparation};
use crate::quantity::{Angle, show_angle};

use super::sheet::{Sheet, clock, counted, listed, stretch};
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
                GlueWork::Board { plies, .. } => match plies.saturating_sub(1) {
                    1 => "face".to_owned(),
                    faces => format!("{faces} faces"),
                },
                GlueWork::SetOpen { .. } => "1 by 1".to_owned(),
                GlueWork::Run { .. }
                | GlueWork::Half { .. }
                | GlueWork::Close
                | GlueWork::WholeRing { .. }
                | GlueWork::Spacers { .. }
                | GlueWork::Plug => step.joints.value.0.to_string(),
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
            | Preparation::BoreHole => format!("**{layer}** dry-fit both parts, close the ring"),
        },
        GlueWork::Board { wood, plies } => {
            format!("board **{}**: {plies} plies face on face, before anything is ripped from it", sheet.wood(wood))
        }
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
                | Preparation::BoreHole => "flatten both faces",
            };
            format!("**{layer}** onto **{}**: {faces}{}", sheet.layer(onto), turned(sheet, step.layer))
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

fn ring_of<'a>(sheet: &Sheet<'a>, layer: usize) -> Option<&'a RingShape> {
    match &sheet.layers().get(layer)?.shape {
        LayerShape::Ring(ring) => Some(ring),
        LayerShape::Disc { .. } | LayerShape::Slant(_) => None,
    }
}

fn is_uneven(sheet: &Sheet<'_>, layer: usize) -> bool {
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

fn advice(page: &mut String, sheet: &Sheet<'_>) {
    page.push_str("## What helps\n\n");
    let rings = &sheet.plan.glue.rings;
    if rings.iter().any(|ring| ring.has_flat_halves) {
        page.push_str(
            "- Half rings: glue the halves, leave the two joints between them dry (waxed paper keeps them so), then flatten \
             both ends of a half together on one plate. A small error of the saw goes away there.\n",
        );
    }
    if let Some((layer, cost)) = dearest(sheet) {
        let _ = writeln!(
            page,
            "- What that costs: with every cut {} off, the halves of **{}** lose {} at each end, and the \
             largest circle that can be turned loses **{}** of its diameter. Set the saw, do not sand it right.",
            show_angle(sheet.recipe.shop.angle_error.value),
            sheet.layer(layer),
            sheet.pair(cost.sanded.value),
            sheet.pair(cost.diameter_lost.value),
        );
    }
    let unflat = rings.iter().filter(|ring| !ring.has_flat_halves).map(|ring| ring.layer);
    let (uneven, odd): (Vec<usize>, Vec<usize>) = unflat.partition(|layer| is_uneven(sheet, *layer));
    let named = |layers: Vec<usize>| listed(layers.into_iter().map(|layer| sheet.layer(layer).to_owned()));
    if !odd.is_empty() {
        let _ = writeln!(
            page,
            "- No flat halves in {}: its parts do not end in one plane. Test the miter on a whole dry ring.",
            named(odd),
        );
    }
    if !uneven.is_empty() {
        let _ = writeln!(
            page,
            "- No flat halves in {}: no two of its joints lie opposite, so its parts do not end in one plane. Lay the whole \
             ring dry, then close it from two parts with a band round it, its outside steps padded.",
            named(uneven),
        );
    }
    of_kinds(page, sheet);
    if sheet.plan.glue.steps.iter().any(|step| !step.fits()) {
        page.push_str(
            "- Marked **!**: spreading takes longer than the glue stays open, at 25 s a joint. Take a slower glue, or a second pair of hands.\n",
        );
    }
    let has_miters = |at: usize| ring_of(sheet, at).is_some_and(|ring| !matches!(ring.set, RingSet::Upright(_)));
    if (0..sheet.layers().len()).any(has_miters) {
        page.push_str(
            "- The miters are part end grain and drink glue: a thin first coat, a minute's wait, then glue.\n",
        );
    }
    page.push_str(
        "- Segments and angles are counted against the clock, seen from above. Carry one witness mark up through all layers.\n\
         - One layer at a time: center it, let it dry, true its face, then the next.\n\n",
    );
}

/// What the kinds of layers in this vessel ask for.
fn of_kinds(page: &mut String, sheet: &Sheet<'_>) {
    let rings = || (0..sheet.layers().len()).filter_map(|layer| ring_of(sheet, layer));
    let is = |works: fn(&GlueWork) -> bool| sheet.plan.glue.steps.iter().any(|step| works(&step.work));
    let lines = [
        (
            is(|work| matches!(work, GlueWork::Board { .. })),
            "Laminated boards: glue on both faces of a joint, pins or salt against creeping, cauls, even pressure all over. Rip when it is dry.",
        ),
        (
            rings().any(|ring| ring.spacer.is_some()),
            "Spacers: each is rubbed onto one end of its segment first, the end that the table tells, and left to grip; then the ring is glued as if it had none. \
             So no more joints are wet at once. Scrape what stands out at the faces before the next glue-up.",
        ),
        (
            rings().any(|ring| ring.gap.is_some()),
            "Open segments: no ring to close. An index wheel or a pin on a turntable spaces them; rub each down, wipe squeeze-out at once, for no tool reaches into the gap. \
             A row dries two hours before the next.",
        ),
        (
            rings().any(|ring| matches!(ring.set, RingSet::Upright(_))),
            "Staves: lay the half side by side, outside up, on tape; turn it over, glue in the V's, roll it up against a flat board, band it near both ends.",
        ),
        (
            sheet.layers().iter().any(|layer| matches!(layer.shape, LayerShape::Disc { is_sheet: true, .. })),
            "Sheets: two thin coats, a flat caul with waxed paper, or with the layer above in one go, so that it cannot curl.",
        ),
        (
            !sheet.design.vessel.cones.is_empty(),
            "Cone rings: set them by the line drawn across the board, so that the grain runs on. Center each on its own edge: the walls run through without a step.",
        ),
    ];
    for (_, line) in lines.iter().filter(|(holds, _)| *holds) {
        let _ = writeln!(page, "- {line}");
    }
}

/// The ring in which flattening costs most.
fn dearest(sheet: &Sheet<'_>) -> Option<(usize, HalfRingCost)> {
    let costs = sheet.plan.glue.rings.iter().filter_map(|ring| Some((ring.layer, ring.half_ring_cost?)));
    costs.max_by(|a, b| a.1.diameter_lost.value.mm().total_cmp(&b.1.diameter_lost.value.mm()))
}
