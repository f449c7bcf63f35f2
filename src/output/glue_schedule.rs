//! The bench's page: every glue-up in order of time, day by day, then what helps.

use std::fmt::Write as _;

use crate::geometry::{LayerShape, RingSet};
use crate::plan::{ClampKind, Clamps, GlueStep, GlueWork, HalfRingCost};
use crate::quantity::{Duration, Mass, show_angle};

use super::glue_words::{how_good, is_uneven, ring_of, what};
use super::hours::{Days, long};
use super::page::Page;
use super::sheet::{Sheet, counted, listed, stretch};
use super::table::Table;
use super::{inserts, safety};

/// The page, from top to bottom.
pub(super) fn page(sheet: &Sheet<'_>) -> Page {
    let mut page = Page::titled(&format!("{}: glue schedule", sheet.title()));
    if !sheet.plan.glue.steps.is_empty() {
        head(&mut page, sheet);
    }
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
        "Times are for about {} and dry wood. The tables know no more of warmth than the least that a glue needs: in a \
         colder shop everything takes longer, and the maker's table holds.\n",
        sheet.temperature(ROOM_C),
    );
    days(&mut page, sheet);
    advice(&mut page, sheet);
    inserts::after_turning(&mut page, sheet);
    page.push_str("## With glue on the hands\n\n");
    for line in safety::GLUE {
        let _ = writeln!(page, "- {line}");
    }
    let _ = write!(page, "\n{}\n", safety::DEFER);
    page
}

/// What the tables' times are for.
const ROOM_C: f64 = 20.0;

/// From when to when, how good that is, what holds it up, what it takes.
fn head(page: &mut Page, sheet: &Sheet<'_>) {
    let schedule = &sheet.plan.glue;
    let days = Days(&schedule.calendar);
    let best = how_good(schedule);
    let _ = writeln!(
        page,
        "**{}**, begun **{}**; the last may come out of its clamp **{}**{meets}. {best}\n{}\n",
        counted(schedule.steps.len(), "glue-up", "glue-ups"),
        days.moment(schedule.begin),
        days.moment(schedule.end),
        held_up(sheet),
        meets = match days.at_work(schedule.end) {
            open if open == schedule.end => String::new(),
            open => format!(", when nobody is there: it is taken out **{}**", days.moment(open)),
        },
    );
    let has: Vec<String> = schedule.clamps.iter().map(|clamps| clamps_at_hand(sheet, clamps)).collect();
    let _ = writeln!(
        page,
        "One pair of hands at work {}. In clamps at once: {}. What stands in clamps goes on by night.\n",
        days.hours(),
        if has.is_empty() { "nothing".to_owned() } else { has.join(", ") },
    );
    for need in &schedule.glue_needed {
        let Some(glue) = sheet.glue(need.glue) else { continue };
        let cure = Duration::from_minutes(60.0 * glue.full_cure_h);
        let with_it = schedule.steps.iter().filter(|step| step.glue == need.glue).map(GlueStep::ready);
        let out = with_it.max_by(|a, b| a.minutes().total_cmp(&b.minutes())).unwrap_or_default();
        let _ = writeln!(
            page,
            "`{}`: **{}** on {} of joints, at {} g/m². Have a third more at hand: some stays in pot and brush, some is \
             squeezed out. It may come out of the last clamp {}; full strength {}.",
            glue.key,
            grams(need.mass.value),
            sheet.area(need.area.value),
            glue.spread_g_per_m2,
            days.moment(out),
            days.moment(out + cure),
        );
    }
    page.push('\n');
}

/// What the time goes into.
fn held_up(sheet: &Sheet<'_>) -> String {
    let schedule = &sheet.plan.glue;
    let named = |at: Option<&usize>| {
        let step = at.and_then(|at| schedule.steps.get(*at));
        step.map_or(String::new(), |step| sheet.step_in_words(step))
    };
    let chain = match schedule.critical.as_slice() {
        [] | [_] => format!("The longest single glue-up is {}.", named(schedule.critical.first())),
        chain => format!(
            "The longest chain, each waiting for the one before, has {} of them: from {} to {}.",
            chain.len(),
            named(chain.first()),
            named(chain.last()),
        ),
    };
    let longer = schedule.makespan - schedule.critical_path;
    if longer.seconds() == 0 {
        format!("{chain} It alone takes that long: more clamps or hands would not help.")
    } else {
        format!("{chain} Alone it would end {} sooner; the rest waits for hands or clamps.", long(longer))
    }
}

fn clamps_at_hand(sheet: &Sheet<'_>, clamps: &Clamps) -> String {
    let count = clamps.count.value.0;
    match clamps.kind {
        ClampKind::Band(_) => format!("{count} × {}", clamp_name(sheet, clamps.kind)),
        ClampKind::Cauls => format!("{count} × cauls"),
        ClampKind::Clamps => format!("{count} × clamps"),
    }
}

pub(super) fn clamp_name(sheet: &Sheet<'_>, kind: ClampKind) -> String {
    match kind {
        ClampKind::Band(at) => sheet.recipe.shop.bands.get(at).map_or("band".to_owned(), |band| {
            format!("band {} to {}", sheet.own(band.from.value.across()), sheet.own(band.to.value.across()))
        }),
        ClampKind::Cauls => "cauls".to_owned(),
        ClampKind::Clamps => "clamps".to_owned(),
    }
}

/// To the tenth of a gram where it matters.
fn grams(mass: Mass) -> String {
    if mass.grams() < 9.95 { format!("{:.1} g", mass.grams()) } else { format!("{:.0} g", mass.grams()) }
}

/// A table for each day on which the hands begin something.
fn days(page: &mut Page, sheet: &Sheet<'_>) {
    let schedule = &sheet.plan.glue;
    let days = Days(&schedule.calendar);
    // Steps are numbered in the order in which they are done.
    let mut numbers = vec![0_usize; schedule.steps.len()];
    for (number, step) in schedule.order.iter().enumerate() {
        if let Some(of) = numbers.get_mut(*step) {
            *of = number + 1;
        }
    }
    let steps: Vec<(usize, &GlueStep)> =
        schedule.order.iter().filter_map(|at| Some((*at, schedule.steps.get(*at)?))).collect();
    let day_of = |step: &GlueStep| Days::day(step.start);
    for of_day in steps.chunk_by(|a, b| day_of(a.1) == day_of(b.1)) {
        let Some(day) = of_day.first().map(|(_, step)| day_of(step)) else { continue };
        let _ = writeln!(page, "## {}\n", days.name(day));
        let mut table = Table::new(
            "glue-schedule",
            &[
                ">no.",
                ">start",
                "what",
                ">make ready",
                "glue",
                ">joints",
                ">to spread",
                ">open left",
                "clamp",
                ">in",
                ">out",
                "needs",
            ],
        );
        for (at, step) in of_day {
            let onto = if let GlueWork::Stack { onto } = step.work { Some(onto) } else { None };
            table.row_for([step.layer].into_iter().chain(onto).collect(), row(sheet, (*at, step), &numbers));
        }
        page.table(table);
        page.push('\n');
        overnight(page, sheet, day, of_day, &numbers);
    }
}

fn row(sheet: &Sheet<'_>, (at, step): (usize, &GlueStep), numbers: &[usize]) -> [String; 12] {
    let schedule = &sheet.plan.glue;
    let days = Days(&schedule.calendar);
    let number = |at: usize| numbers.get(at).map_or(String::new(), usize::to_string);
    let clamp = step.takes.and_then(|at| schedule.clamps.get(at));
    let left = if step.fits() {
        stretch(step.open_left())
    } else {
        format!("{} over !", stretch(step.wet.value - step.open.value))
    };
    [
        format!("**{}**", number(at)),
        Days::clock(step.start),
        what(sheet, step),
        stretch(step.hands.value),
        format!("`{}` {}", sheet.glue(step.glue).map_or("", |glue| &glue.key), grams(step.mass.value)),
        joints(step),
        stretch(step.spread.value),
        left,
        clamp.map_or("rubbed on".to_owned(), |clamp| clamp_name(sheet, clamp.kind)),
        Days::clock(step.clamped()),
        format!("**{}**", days.seen_from(Days::day(step.start), step.ready())),
        listed_numbers(step.after.iter().filter_map(|before| numbers.get(*before)).copied().collect()),
    ]
}

fn listed_numbers(mut numbers: Vec<usize>) -> String {
    numbers.sort_unstable();
    numbers.iter().map(usize::to_string).collect::<Vec<_>>().join(", ")
}

fn joints(step: &GlueStep) -> String {
    match step.work {
        GlueWork::Stack { .. } => "face".to_owned(),
        GlueWork::Board { plies, .. } => match plies.saturating_sub(1) {
            1 => "face".to_owned(),
            faces => format!("{faces} faces"),
        },
        GlueWork::Panel { parts, .. } => counted(parts.saturating_sub(1) as usize, "edge", "edges"),
        GlueWork::SetOpen { .. } => "1 by 1".to_owned(),
        GlueWork::Run { .. }
        | GlueWork::Half { .. }
        | GlueWork::Close
        | GlueWork::WholeRing { .. }
        | GlueWork::Spacers { .. }
        | GlueWork::Plug => step.joints.value.0.to_string(),
    }
}

/// What is still in clamps when the day's work ends, and when somebody is there to take it out.
fn overnight(page: &mut Page, sheet: &Sheet<'_>, day: u64, of_day: &[(usize, &GlueStep)], numbers: &[usize]) {
    let days = Days(&sheet.plan.glue.calendar);
    let closes = Duration::from_seconds(day * 86_400 + sheet.plan.glue.calendar.closes.seconds());
    let stays = of_day.iter().filter(|(_, step)| step.ready().seconds() > closes.seconds());
    let told = stays.map(|(at, step)| {
        let number = numbers.get(*at).copied().unwrap_or_default();
        format!("no. {number}, out {}", days.seen_from(day, days.at_work(step.ready())))
    });
    let told: Vec<String> = told.collect();
    if !told.is_empty() {
        let _ = writeln!(page, "Overnight: {}.\n", told.join("; "));
    }
}

fn advice(page: &mut Page, sheet: &Sheet<'_>) {
    page.push_str("## What helps\n\n");
    let rings = &sheet.plan.glue.rings;
    if rings.iter().any(|ring| ring.has_flat_halves) {
        page.push_str(
            "- Half rings: glue the halves, leave the two joints between them dry (waxed paper keeps them so), then flatten \
             both ends of a half together on one plate. A small error of the saw goes away there.\n",
        );
    }
    if sheet.plan.glue.clamps.iter().any(|clamps| matches!(clamps.kind, ClampKind::Band(_))) {
        page.push_str(
            "- In a band: lay the whole ring in it and glue only what the step names. The other segments stand dry in it as its \
             form, waxed paper between: a band folds what does not go all the way round.\n",
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
         - One layer at a time: center it, let it dry, true its face, then the next.\n",
    );
    if !sheet.plan.mounting.is_empty() {
        page.push_str(
            "- Not among the glue-ups above: the first layer onto its waste block, whose size is in `turning.md`. It comes before the \
             next layer goes on.\n",
        );
    }
    trued_on_the_lathe(page, sheet);
    page.push('\n');
}

/// What the times take for granted of a joint, and what it costs to spin each one.
fn trued_on_the_lathe(page: &mut Page, sheet: &Sheet<'_>) {
    let on_layers = || sheet.plan.glue.steps.iter().filter(|step| matches!(step.work, GlueWork::Stack { .. }));
    let cure = on_layers().filter_map(|step| sheet.glue(step.glue)).map(|glue| glue.full_cure_h).reduce(f64::max);
    if let Some(hours) = cure {
        let layers = counted(on_layers().count(), "such joint", "such joints");
        let _ = writeln!(
            page,
            "- The times above let a layer's face be flattened as soon as it is out of its clamp: on a flat board with abrasive, \
             not on the lathe. What spins needs the glue's full strength, {hours} h; who trues each face on the lathe waits so \
             long for each of {layers}.",
        );
    }
}

/// What the kinds of layers in this vessel ask for.
fn of_kinds(page: &mut Page, sheet: &Sheet<'_>) {
    let rings = || (0..sheet.layers().len()).filter_map(|layer| ring_of(sheet, layer));
    let is = |works: fn(&GlueWork) -> bool| sheet.plan.glue.steps.iter().any(|step| works(&step.work));
    let lines = [
        (
            is(|work| matches!(work, GlueWork::Board { .. })),
            "Laminated boards: glue on both faces of a joint, pins or salt against creeping, cauls, even pressure all over. Rip when it is dry.",
        ),
        (
            is(|work| matches!(work, GlueWork::Panel { .. })),
            "Panels: the grain of all parts one way, edges planed in pairs so that both angles add up flat, cauls across so that no part rides up. \
             Plane the panel to its thickness when it is dry.",
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
